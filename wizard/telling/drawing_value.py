"""A value against its bands, with its doubt drawn as a width.

One line is the axis: a thick run from the low to the high end of what the value may be, a mark at
the value. Under it stand the bands by their words. An arrow says that something goes on beyond the
end of the axis.
"""

from __future__ import annotations

import textwrap
from collections.abc import Callable, Collection, Iterator, Sequence
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


def plain_mm(value: float) -> str:
    """A value in words when the caller has no better way of writing it."""
    return f"{value:.3g} mm"


def value_picture(
    value: float,
    low: float,
    high: float,
    bounds: Bands,
    width: int,
    charset: Charset,
    below: Bands = (),
    ends: tuple[str, str] = ("", ""),
    say: Callable[[float], str] = plain_mm,
    meant: Collection[str] = (),
) -> Drawing:
    """The axis with its bands, two to five lines, and one for each band that is meant and too
    narrow for its words.

    Args: low, high the 95 % interval; below the bands of negative values by their size, empty where
    there are none; meant the bands that the answer names, empty for the one the value lies in; ends
    words for the negative and positive end, such as ("crown", "sag"); say writes a value in the
    user's unit.
    """
    zones = list(_zones(bounds, below))
    words = _words(value, low, high, zones, say)
    names = [len(end) + 1 if end else 0 for end in ends]
    if width - sum(names) < SMALLEST or not all(isfinite(v) for v in (value, low, high)):
        return Drawing((), (), words)
    reach = _reach(value, low, high, bounds, below)
    axis = Axis(*reach, names[0], width - 1 - names[1])
    rows = [_wrapped(axis, zone) for zone in zones]
    lit = [_lit(zone, (low, value, high), meant, zones) for zone in zones]
    below_all = [
        z
        for z, lines, on in zip(zones, rows, lit, strict=True)
        if on and not lines and _shows(axis, z)
    ]
    depth = 1 + max((len(r) for r in rows), default=0)
    canvas = Canvas(width, depth + len(below_all), charset)
    _line(canvas, axis, ends)
    _doubt(canvas, axis, low, high)
    _bounds(canvas, axis, zones, depth)
    _mark(canvas, axis, value)
    for zone, lines, on in zip(zones, rows, lit, strict=True):
        _band(canvas, axis, zone, lines, on)
    for row, zone in enumerate(below_all, start=depth):
        # Too narrow for its words, and yet it is what the answer says: they stand below, beginning
        # under it.
        canvas.text(row, min(_cols(axis, zone)[0], width - len(zone.word)), zone.word, lit=True)
    return canvas.drawing(words)


def _lit(
    zone: Zone, spread: tuple[float, float, float], meant: Collection[str], zones: Sequence[Zone]
) -> bool:
    """Whether the answer means this stretch: of those with its words the ones that the doubt
    reaches.

    spread: low end, value and high end. Where the doubt reaches none of them, the one on the
    value's side.
    """
    low, value, high = spread
    if not meant:
        return zone.low <= value <= zone.high
    if zone.word not in meant:
        return False
    if any(z.low < high and z.high > low for z in zones if z.word == zone.word):
        return zone.low < high and zone.high > low
    return zone.high > 0 if value >= 0 else zone.low < 0


def _shows(axis: Axis, zone: Zone) -> bool:
    return zone.low < axis.high and zone.high > axis.low


def _zones(bounds: Bands, below: Bands) -> Iterator[Zone]:
    """The bands from the most negative to the most positive; the two that meet at zero are one if
    alike.
    """
    up = [
        Zone(a, b, word)
        for a, (b, word) in zip([0.0, *(b for b, _ in bounds)], bounds, strict=False)
    ]
    down = [
        Zone(-b, -a, word)
        for a, (b, word) in zip([0.0, *(b for b, _ in below)], below, strict=False)
    ][::-1]
    if up and down and up[0].word == down[-1].word:
        up[0] = Zone(down.pop().low, up[0].high, up[0].word)
    yield from down + up


def _reach(
    value: float, low: float, high: float, bounds: Bands, below: Bands
) -> tuple[float, float]:
    """Ends of the axis.

    The side away from the value is shown only as far as the doubt goes, for the bands' words.
    """
    up, down = max(value, high, 0.0), max(-value, -low, 0.0)
    minus, plus = _side(down, below, value < 0), _side(up, bounds, value >= 0)
    if not below:
        minus = min(minus, UNJUDGED * plus or minus)
    return (-minus, plus) if minus + plus else (0.0, 1.0)


def _side(need: float, bands: Bands, whole: bool) -> float:
    finite = [upper for upper, _ in bands if isfinite(upper)]
    if not finite:
        return 1.1 * need
    last = finite[-1]
    shown = last if whole else next((upper for upper in finite if upper >= need), last)
    return min(max(shown * ROOM_BEYOND, 1.05 * need), last * FURTHEST)


def _cols(axis: Axis, zone: Zone) -> tuple[int, int]:
    """First and after-last column between the bounds of a zone."""
    first = axis.col(zone.low) + 1 if zone.low > axis.low else axis.first
    return first, axis.col(zone.high) if zone.high < axis.high else axis.last + 1


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


def _words(
    value: float, low: float, high: float, zones: list[Zone], say: Callable[[float], str]
) -> str:
    mildest_first = sorted(zones, key=lambda z: max(z.low, -z.high, 0.0))
    here = [z.word for z in mildest_first if z.low <= value <= z.high]
    told = f"The value is {say(value)}"
    if here:
        told += (
            f', in the band "{here[0]}"'
            if len(here) == 1
            else f", on the bound between {_listed(here)}"
        )
    told += f"; 19 times in 20 the true one lies between {say(low)} and {say(high)}"
    open_bands = list(dict.fromkeys(z.word for z in mildest_first if z.low < high and z.high > low))
    return told + (f", which takes in {_listed(open_bands)}." if len(open_bands) > 1 else ".")


def _listed(words: list[str]) -> str:
    quoted = [f'"{word}"' for word in words]
    return " and ".join([", ".join(quoted[:-1]), quoted[-1]])
