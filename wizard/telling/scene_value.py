"""A value against its bands, with its doubt drawn as a width.

One line is the axis: a thick run from the low to the high end of what the value may be, a mark at
the value. Under it stands each bound's figure, and under that the bands, each with its figure, as
one line of text that is broken where it is too long: words squeezed between two bounds would stack
into towers. An arrow says that something goes on beyond the end of the axis.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import groupby, pairwise
from math import isfinite
from typing import NamedTuple

from wizard.telling.canvas import Canvas, Charset, Drawing

Bands = Sequence[tuple[float, str]]
"""(size up to which the band holds, its words), smallest first; the last may be infinite."""

SMALLEST = 24
"""Width in cells under which only the words are given."""
ROOM_BEYOND = 1.3
"""Part of the last bound that the axis reaches at least: the band beyond it needs room for its
words.
"""
FURTHEST = 1.6
"""Part of the last bound that the axis reaches at most; a value still further out becomes an arrow."""
UNJUDGED = 0.3
"""Share of the judged side that a negative side without bands gets at most."""
_STROKES = {"blocks": "─▒█│", "braille": "⠒⣶█│", "ascii": "-=#|"}
"""Axis, run of the doubt, mark of the value, bound."""


class Said(NamedTuple):
    """A band in words."""

    words: str
    lit: bool
    """Whether the answer means it."""


@dataclass(frozen=True, slots=True)
class Zone:
    """A stretch of the axis in one band."""

    low: float
    high: float
    word: str


def plain_mm(value: float) -> str:
    """A value in words when the caller has no better way of writing it."""
    return f"{value:.3g} mm"


@dataclass(frozen=True, slots=True)
class Value:
    """A value with its doubt and the bands that it is judged by."""

    value: float
    low: float
    """Low end of the 95 % interval."""
    high: float
    bounds: Bands
    below: Bands = ()
    """The bands of negative values by their size, empty where there are none."""
    ends: tuple[str, str] = ("", "")
    """Words for the negative and positive end, such as ("crown", "sag")."""
    say: Callable[[float], str] = plain_mm
    """Writes a value in the user's unit."""
    meant: Collection[str] = ()
    """The bands that the answer names, empty for the one the value lies in."""

    def zones(self) -> tuple[Zone, ...]:
        """The bands from the most negative to the most positive; the two that meet at zero are one
        if alike.
        """
        return _zones(tuple(self.bounds), tuple(self.below))

    def lights(self, zone: Zone) -> bool:
        """Whether the answer means this stretch: of those with its words the ones that the doubt
        reaches. Where the doubt reaches none of them, the one on the value's side.
        """
        if not self.meant:
            return zone.low <= self.value <= zone.high
        if zone.word not in self.meant:
            return False
        alike = [z for z in self.zones() if z.word == zone.word and self.reaches(z)]
        if alike:
            return zone in alike
        return zone.high > 0 if self.value >= 0 else zone.low < 0

    def reaches(self, zone: Zone) -> bool:
        """Whether the doubt goes into a band."""
        return zone.low < self.high and zone.high > self.low

    def axis(self) -> tuple[float, float]:
        """Ends of the axis. The side away from the value is shown only as far as the doubt goes, for
        the bands' words.
        """
        up, down = max(self.value, self.high, 0.0), max(-self.value, -self.low, 0.0)
        minus = _side(down, self.below, self.value < 0)
        plus = _side(up, self.bounds, self.value >= 0)
        if not self.below:
            minus = min(minus, UNJUDGED * plus or minus)
        return (-minus, plus) if minus + plus else (0.0, 1.0)

    def legend(self) -> list[Said]:
        """Each band with its figure, the mildest first. Where both sides are not judged alike: of
        those that the doubt reaches, each behind the word for it.
        """
        if not self.below or list(self.bounds) == list(self.below):
            return self._said("", self.bounds, (1.0, -1.0))
        plus, minus = self.high > 0 or self.value >= 0, self.low < 0
        return [
            *(self._said(self.ends[1], self.bounds, (1.0,)) if plus else ()),
            *(self._said(self.ends[0], self.below, (-1.0,)) if minus else ()),
        ]

    def every(self) -> list[str]:
        """Every band of both sides, whatever the doubt reaches."""
        if not self.below or list(self.bounds) == list(self.below):
            return [said.words for said in self.legend()]
        both = ((self.ends[1], self.bounds, (1.0,)), (self.ends[0], self.below, (-1.0,)))
        return [said.words for side in both for said in self._said(*side)]

    def _said(self, end: str, bands: Bands, signs: Sequence[float]) -> list[Said]:
        """The bands of one side, or of both."""
        found = []
        for start, stop, word in _stretches(bands):
            told = f"{word} up to {self.say(stop)}" if isfinite(stop) else f"beyond that {word}"
            lit = any(self._lights_stretch(sign * start, sign * stop) for sign in signs)
            found.append(Said(told, lit))
        first = f"{end}: {found[0].words}" if end and found else ""
        return [found[0]._replace(words=first), *found[1:]] if first else found

    def _lights_stretch(self, start: float, stop: float) -> bool:
        """Whether the answer means the band from one value to another."""
        low, high = min(start, stop), max(start, stop)
        zones = (z for z in self.zones() if z.low <= low and high <= z.high)
        return any(self.lights(zone) for zone in zones)

    def is_finite(self) -> bool:
        """Whether it can be drawn."""
        return all(isfinite(v) for v in (self.value, self.low, self.high))

    def words(self) -> str:
        """The same thing said."""
        mildest_first = sorted(self.zones(), key=lambda z: max(z.low, -z.high, 0.0))
        here = [z.word for z in mildest_first if z.low <= self.value <= z.high]
        open_to = list(dict.fromkeys(z.word for z in mildest_first if self.reaches(z)))
        between = f"the true one lies between {self.say(self.low)} and {self.say(self.high)}"
        told = f"The value is {self.say(self.value)}{_in_band(here)}; 19 times in 20 {between}"
        return told + (f", which takes in {_listed(open_to)}." if len(open_to) > 1 else ".")


@lru_cache(maxsize=64)  # a picture asks ten times, and each page draws the same limits
def _zones(
    bounds: tuple[tuple[float, str], ...], below: tuple[tuple[float, str], ...]
) -> tuple[Zone, ...]:
    """The bands of both sides, as `Value.zones` has them."""
    up = [Zone(a, b, word) for a, b, word in _stretches(bounds)]
    down = [Zone(-b, -a, word) for a, b, word in reversed(_stretches(below))]
    if up and down and up[0].word == down[-1].word:
        up[0] = Zone(down.pop().low, up[0].high, up[0].word)
    return (*down, *up)


def finite(bands: Bands) -> list[float]:
    """The bounds that lie somewhere."""
    return [bound for bound, _ in bands if isfinite(bound)]


def _in_band(here: list[str]) -> str:
    if not here:
        return ""
    return (
        f', in the band "{here[0]}"'
        if len(here) == 1
        else f", on the bound between {_listed(here)}"
    )


def _stretches(bands: Bands) -> list[tuple[float, float, str]]:
    """From which size to which each band holds, and its words."""
    starts = [0.0, *(bound for bound, _ in bands)]
    return [(start, end, word) for start, (end, word) in zip(starts, bands, strict=False)]


def _side(need: float, bands: Bands, whole: bool) -> float:
    uppers = finite(bands)
    if not uppers:
        return 1.1 * need
    last = uppers[-1]
    shown = last if whole else next((upper for upper in uppers if upper >= need), last)
    return min(max(shown * ROOM_BEYOND, 1.05 * need), last * FURTHEST)


def _listed(words: list[str]) -> str:
    quoted = [f'"{word}"' for word in words]
    return " and ".join([", ".join(quoted[:-1]), quoted[-1]])


# In cells
# --------------------------------------------------------------------------------------


def value_picture(scene: Value, width: int, charset: Charset, legend: bool = True) -> Drawing:
    """The axis, the figures of its bounds under it, and the bands in words under those.

    legend: False where one stands for several pictures.
    """
    left, right = (len(end) + bool(end) for end in scene.ends)
    if width - left - right < SMALLEST or not scene.is_finite():
        return Drawing((), (), scene.words())
    axis = Axis(*scene.axis(), left, width - 1 - right)
    bounds = [zone.high for zone, _ in pairwise(scene.zones())]
    shown = [bound for bound in bounds if axis.low < bound < axis.high]
    told = _legend(scene.legend(), width) if legend else []
    canvas = Canvas(width, 1 + bool(shown) + len(told), charset)
    _line(canvas, axis, scene.ends)
    _doubt(canvas, axis, scene.low, scene.high)
    _bounds(canvas, axis, shown)
    _figures(canvas, axis, shown, scene.say)
    _mark(canvas, axis, scene.value)
    for row, pieces in enumerate(told, start=1 + bool(shown)):
        _tell(canvas, row, pieces)
    return canvas.drawing(scene.words())


def _tell(canvas: Canvas, row: int, pieces: Sequence[Said]) -> None:
    """A line of words; blanks between two that are lit are lit as well."""
    col = 0
    for lit, words in groupby(pieces, lambda piece: piece.lit):
        run = " ".join(piece.words for piece in words)
        canvas.text(row, col, run, lit)
        col += len(run) + 1


def _legend(said: Sequence[Said], width: int) -> list[list[Said]]:
    """The bands one after another, broken between words where a line is full."""
    lines: list[list[Said]] = [[]]
    for word in _words(said):
        used = sum(len(w.words) + 1 for w in lines[-1])
        if lines[-1] and used + len(word.words) > width:
            lines.append([])
        lines[-1].append(word)
    return [line for line in lines if line]


def _words(said: Sequence[Said]) -> Iterator[Said]:
    """Each word of the bands; those that are meant stand in brackets, since emphasis alone may not
    be seen.
    """
    for n, band in enumerate(said):
        told = f"[{band.words}]" if band.lit else band.words
        told += "," if n + 1 < len(said) else ""
        yield from (Said(word, band.lit) for word in told.split())


@dataclass(frozen=True, slots=True)
class Axis:
    """Where values fall on the line."""

    low: float
    high: float
    first: int
    """Column of the low end."""
    last: int
    """Column of the high end."""

    def col(self, value: float) -> int:
        """Column of a value, held within the ends."""
        part = (min(max(value, self.low), self.high) - self.low) / (self.high - self.low)
        return self.first + round(part * (self.last - self.first))


def _line(canvas: Canvas, axis: Axis, ends: tuple[str, str]) -> None:
    canvas.text(0, axis.first, _STROKES[canvas.charset][0] * (axis.last - axis.first + 1))
    canvas.text(0, 0, ends[0])
    canvas.text(0, canvas.width - len(ends[1]), ends[1])


def _doubt(canvas: Canvas, axis: Axis, low: float, high: float) -> None:
    first, last = axis.col(low), axis.col(high)
    canvas.text(0, first, _STROKES[canvas.charset][1] * (last - first + 1), lit=True)
    if low < axis.low:
        canvas.text(0, axis.first, "<", lit=True)
    if high > axis.high:
        canvas.text(0, axis.last, ">", lit=True)


def _bounds(canvas: Canvas, axis: Axis, bounds: Sequence[float]) -> None:
    """Bounds and zero, over the doubt: where it crosses one is what the reader looks for."""
    for bound in bounds:
        canvas.text(0, axis.col(bound), _STROKES[canvas.charset][3])
    canvas.text(0, axis.col(0.0), "0")


def _figures(
    canvas: Canvas, axis: Axis, bounds: Sequence[float], say: Callable[[float], str]
) -> None:
    """Each bound's figure under it, those nearest to zero first; one that would touch another stands
    in the words below alone.
    """
    for bound in sorted(bounds, key=lambda b: (abs(b), b)):
        told = say(abs(bound))
        first = min(max(axis.col(bound) - len(told) // 2, 0), canvas.width - len(told))
        if canvas.free(1, first, len(told), apart=2 if len(told) + 4 <= canvas.width else 0):
            canvas.text(1, first, told)


def _mark(canvas: Canvas, axis: Axis, value: float) -> None:
    mark = _STROKES[canvas.charset][2]
    if value > axis.high:
        canvas.text(0, axis.last - 1, mark + ">", lit=True)
    elif value < axis.low:
        canvas.text(0, axis.first, "<" + mark, lit=True)
    else:
        canvas.text(0, axis.col(value), mark, lit=True)
