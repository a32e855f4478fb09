"""A value against its bands, with its doubt drawn as a width.

One line is the axis: a thick run from the low to the high end of what the value may be, a mark at
the value. Under it stand the bands by their words. An arrow says that something goes on beyond the
end of the axis.
"""

from __future__ import annotations

import textwrap
from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import isfinite

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
DEEPEST = 4
"""Rows at most that the words of a band may take."""

_STROKES = {"blocks": "─▒█│", "braille": "⠒⣶█│", "ascii": "-=#|"}
"""Axis, run of the doubt, mark of the value, bound."""


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

    def zones(self) -> list[Zone]:
        """The bands from the most negative to the most positive; the two that meet at zero are one
        if alike.
        """
        up = [Zone(a, b, word) for a, b, word in _stretches(self.bounds)]
        down = [Zone(-b, -a, word) for a, b, word in reversed(_stretches(self.below))]
        if up and down and up[0].word == down[-1].word:
            up[0] = Zone(down.pop().low, up[0].high, up[0].word)
        return down + up

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


def value_picture(scene: Value, width: int, charset: Charset) -> Drawing:
    """The axis with its bands, two to five lines, and one for each band that is meant and too
    narrow for its words.
    """
    left, right = (len(end) + bool(end) for end in scene.ends)
    if width - left - right < SMALLEST or not scene.is_finite():
        return Drawing((), (), scene.words())
    axis = Axis(*scene.axis(), left, width - 1 - right)
    zones = scene.zones()
    rows = {zone: _wrapped(axis, zone) for zone in zones}
    under = [z for z in zones if scene.lights(z) and _lacks_room(axis, z)]
    depth = 1 + max(map(len, rows.values()), default=0)
    canvas = Canvas(width, depth + len(under), charset)
    _line(canvas, axis, scene.ends)
    _doubt(canvas, axis, scene.low, scene.high)
    _bounds(canvas, axis, zones, depth)
    _mark(canvas, axis, scene.value)
    for zone, lines in rows.items():
        _band(canvas, axis, zone, lines, scene.lights(zone))
    for row, zone in enumerate(under, start=depth):
        # Too narrow for its words, and yet it is what the answer says: they stand below, beginning
        # under it.
        canvas.text(row, min(_cols(axis, zone)[0], width - len(zone.word)), zone.word, lit=True)
    return canvas.drawing(scene.words())


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


def _shows(axis: Axis, zone: Zone) -> bool:
    return zone.low < axis.high and zone.high > axis.low


def _cols(axis: Axis, zone: Zone) -> tuple[int, int]:
    """First and after-last column between the bounds of a zone."""
    first = axis.col(zone.low) + 1 if zone.low > axis.low else axis.first
    return first, axis.col(zone.high) if zone.high < axis.high else axis.last + 1


def _lacks_room(axis: Axis, zone: Zone) -> bool:
    """Whether a band is on the axis, and too narrow there for its words."""
    return _shows(axis, zone) and not _wrapped(axis, zone)


def _wrapped(axis: Axis, zone: Zone) -> list[str]:
    """The words of a band broken to its width; none when they cannot be fitted in."""
    first, after = _cols(axis, zone)
    longest = max(map(len, zone.word.split()), default=0)
    if longest > after - first or zone.low >= axis.high or zone.high <= axis.low:
        return []
    indent = " " if first > axis.first and longest < after - first else ""
    lines = textwrap.wrap(zone.word, after - first, initial_indent=indent, subsequent_indent=indent)
    return lines if len(lines) <= DEEPEST else []


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


def _bounds(canvas: Canvas, axis: Axis, zones: list[Zone], rows: int) -> None:
    """Bounds and zero, over the doubt: where it crosses one is what the reader looks for."""
    for zone, _ in pairwise(zones):
        if axis.low < zone.high < axis.high:
            for row in range(rows):
                canvas.text(row, axis.col(zone.high), _STROKES[canvas.charset][3])
    canvas.text(0, axis.col(0.0), "0")


def _mark(canvas: Canvas, axis: Axis, value: float) -> None:
    mark = _STROKES[canvas.charset][2]
    if value > axis.high:
        canvas.text(0, axis.last - 1, mark + ">", lit=True)
    elif value < axis.low:
        canvas.text(0, axis.first, "<" + mark, lit=True)
    else:
        canvas.text(0, axis.col(value), mark, lit=True)


def _band(canvas: Canvas, axis: Axis, zone: Zone, lines: list[str], lit: bool) -> None:
    first, _ = _cols(axis, zone)
    for row, line in enumerate(lines, start=1):
        text = line.lstrip()
        canvas.text(row, first + len(line) - len(text), text, lit)
