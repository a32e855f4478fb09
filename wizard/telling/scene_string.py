"""One rail from the side under (or over) its string: what was read at which station.

Made once from the readings; drawn here in cells, with the sag larger than it is and the scale said,
and by svg_charts.py on paper. The front is to the left, whichever rail it is.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from wizard.library.places import PlaceId
from wizard.library.shapes import Layout, Station
from wizard.telling.canvas import DROP, RAIL, SOLID, Canvas, Charset, Drawing
from wizard.telling.scene import TIMES, Flat

MARGIN = 11
"""Cells kept free on the left for the words "string" and "right rail"."""
SMALLEST = (34, 6)
"""Width and height in cells under which only the words are given."""


@dataclass(frozen=True, slots=True)
class Rail:
    """A rail with its string, its stations and what was read at them."""

    layout: Layout
    side: str
    """left or right."""
    sags: Mapping[PlaceId, float]
    """mm by station id, positive down; what is not read yet is left out."""
    lit: PlaceId | None = None
    """The station asked for."""
    above: bool = True
    """True when the string runs above the rail."""

    @property
    def known(self) -> dict[PlaceId, float]:
        """The sags at the stations of the layout."""
        return {s.id: self.sags[s.id] for s in self.layout.stations if s.id in self.sags}

    @property
    def asked(self) -> Station | None:
        """The station asked for, where the layout has it."""
        return self.layout.station_by_id.get(self.lit) if self.lit else None

    def curve(self) -> list[Flat]:
        """(x, sag) from block to block through the stations that are read; at the blocks it is zero
        by definition.
        """
        first, last = self.layout.string
        known = self.known
        inner = {s.x: known[s.id] for s in self.layout.stations if s.id in known}
        return sorted({first: 0.0, last: 0.0, **inner}.items())


@dataclass(frozen=True, slots=True)
class Face:
    """Where the side of the rail falls on the page."""

    string: tuple[float, float]
    """x of the two blocks, mm."""
    above: bool
    """True when the string runs above the rail."""
    width: int
    height: int
    zero: float
    """Row of no sag, counted away from the string."""
    times: int
    """Enlargement of the sag against the length."""

    def col(self, x: float) -> float:
        """Column of a place along the string."""
        room = self.width - MARGIN - 6
        return MARGIN + 3.5 + room * (x - self.string[0]) / (self.string[1] - self.string[0])

    def row(self, sag: float) -> float:
        """Row of the rail where it sags by so many mm; a cell is taken as twice as high as wide."""
        mm_per_row = 2 * (self.string[1] - self.string[0]) / (self.width - MARGIN - 6)
        down = self.times * sag / mm_per_row
        return min(max(self.flip(self.zero) + down, 0.25), self.height - 1.25)

    def flip(self, row: float) -> float:
        """A row counted from the string, on the page; the last row is kept for words."""
        return row if self.above else self.height - 1 - row


def side_view(rail: Rail, width: int, height: int, charset: Charset) -> Drawing:
    """The rail in a box of so many cells."""
    face = face_of(rail, width, height)
    words = _words(rail, face.times)
    if width < SMALLEST[0] or height < SMALLEST[1]:
        return Drawing((), (), words)
    canvas = Canvas(width, height, charset)
    _rail(canvas, face, rail.curve())
    _string(canvas, face)
    _stations(canvas, face, rail)
    canvas.text(int(face.flip(0.5)), 0, "string")
    canvas.text(int(face.row(0)), 0, f"{rail.side} rail")
    canvas.text(height - 1, 0, _foot(rail.known, face))
    return canvas.drawing(words)


def face_of(rail: Rail, width: int, height: int) -> Face:
    """Room shared between what goes toward the string and what goes away from it; one row kept for
    each block.
    """
    string, sign = rail.layout.string, 1 if rail.above else -1
    away = [sign * sag for sag in rail.sags.values()]
    far, near = max([*away, 0.0]), max([*(-v for v in away), 0.0])
    last = height - 2.25
    zero = 2.25 if not near else min(max(1.25 + (last - 1.25) * near / (far + near), 2.25), last)
    mm_per_row = 2 * (string[1] - string[0]) / max(width - MARGIN - 6, 1)
    most = [room * mm_per_row / v for room, v in ((last - zero, far), (zero - 1.25, near)) if v]
    times = max((t for t in TIMES if t <= min(most, default=1)), default=1)
    return Face(string, rail.above, width, height, zero, times)


def _sag_at(curve: Sequence[Flat], x: float) -> float:
    for (x0, s0), (x1, s1) in pairwise(curve):
        if x0 <= x <= x1:
            return s0 + (s1 - s0) * (x - x0) / (x1 - x0)
    return 0.0


def _rail(canvas: Canvas, face: Face, curve: Sequence[Flat]) -> None:
    for (x0, s0), (x1, s1) in pairwise(curve):
        canvas.line(face.col(x0), face.row(s0), face.col(x1), face.row(s1), RAIL)
    for x, step in ((face.string[0], -2), (face.string[1], 2)):
        canvas.line(face.col(x) + step, face.row(0), face.col(x), face.row(0), RAIL)


def _string(canvas: Canvas, face: Face) -> None:
    first, last = (int(face.col(x)) for x in face.string)
    line, block = ("-", "#") if canvas.charset == "ascii" else ("─", "█")
    canvas.text(int(face.flip(0.5)), first - 1, line * (last - first + 3))
    for away in range(1, int(face.zero)):
        for col in (first, last):
            canvas.text(int(face.flip(away + 0.5)), col, block)


def _stations(canvas: Canvas, face: Face, rail: Rail) -> None:
    curve, known, lit = rail.curve(), rail.known, rail.lit
    rows = [int(face.flip(face.height - away)) for away in (1.5, 2.5)]
    for station in sorted(rail.layout.stations, key=lambda s: s.id != lit):
        row, col = face.row(_sag_at(curve, station.x)), face.col(station.x)
        if station.id == lit:
            canvas.drop(face.flip(1.25), row, col, DROP, lit=True)
            canvas.text(int(row), int(col) - 1, SOLID[canvas.charset], lit=True)
        else:
            canvas.text(int(row), int(col), "?" if known and station.id not in known else "o")
        # Brackets, since emphasis alone may not be seen.
        name = f"[{station.name}]" if station.id == lit else station.name
        canvas.label(rows, int(col), name, station.id == lit, reach=8, apart=2)


def _foot(known: Mapping[PlaceId, float], face: Face) -> str:
    scale = _scale(known, face.times) if any(known.values()) else ""
    whole = f"front at the left; {scale}" if scale else "front at the left"
    return whole if len(whole) <= face.width else scale


def _scale(known: Mapping[PlaceId, float], times: int) -> str:
    deepest = max(known.values(), key=abs, default=0.0)
    size = f"{times} times too large" if times > 1 else "as large as it is"
    return f"{'crown' if deepest < 0 else 'sag'} drawn {size}"


def _words(rail: Rail, times: int) -> str:
    where = "above" if rail.above else "below"
    seen = (
        f"The {rail.side} rail from the side, front to the left, with the string {where} it on two"
        " equal blocks"
    )
    asked = rail.asked
    seen += f"; the gap is read at this station: {asked.name}." if asked else "."
    known = rail.known
    return f"{seen} {_scale(known, times).capitalize()}." if any(known.values()) else seen
