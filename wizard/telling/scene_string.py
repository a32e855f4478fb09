"""One rail from the side under (or over) its string: what was read at which station.

Made once from the readings; drawn here in cells, and by svg_charts.py on paper. The front is to the
left, whichever rail it is. The rail has its own kicks, as high as they are; a sag is drawn larger
than it is, and only as far as it is beyond its doubt.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

from wizard.library.marks import SAGS
from wizard.library.places import PlaceId, QuantityId, where_of
from wizard.library.shapes import Layout, Place, Station
from wizard.telling.canvas import BLOCK, DROP, RAIL, STRING, Canvas, Charset, Drawing
from wizard.telling.scene import Flat, drawn_words, enlargement, straightest

if TYPE_CHECKING:  # only types name it, and it loads numpy
    from wizard.judgment.bands import Judged

MARGIN = 11
"""Cells kept free on the left for the words "string" and "right rail"."""
SMALLEST = (34, 6)
"""Width and height in cells under which only the words are given."""
LEAST = 3
"""Rows that the picture has at least: the string, the rail, the numbers of the stations."""
NARROWEST = 16
"""Columns that it has at least."""
NEAR, FURTHER = 1.5, 2.5
"""Rows from the top to a straight rail, where the box is low and where it is not."""


class Sag(NamedTuple):
    """What was read at a station."""

    value: float
    """mm, positive down."""
    half: float = 0.0
    """The give or take, mm."""


@dataclass(frozen=True, slots=True)
class Rail:
    """A rail with its string, its stations and what was read at them."""

    layout: Layout
    side: str
    """left or right."""
    sags: Mapping[PlaceId, Sag]
    """By station id; what is not read yet is left out."""
    lit: PlaceId | None = None
    """The station asked for."""
    above: bool = True
    """True when the string runs above the rail."""
    times: int = 1
    """How many times too large a sag is drawn: the same for both rails of a survey."""

    @property
    def known(self) -> dict[PlaceId, Sag]:
        """The sags at the stations of the layout."""
        return {s.id: self.sags[s.id] for s in self.layout.stations if s.id in self.sags}

    @property
    def asked(self) -> Station | None:
        """The station asked for, where the layout has it."""
        return self.layout.station_by_id.get(self.lit) if self.lit else None

    @property
    def stations(self) -> list[Station]:
        """From front to rear: their numbers count so."""
        return sorted(self.layout.stations, key=lambda s: s.x)

    @property
    def bent(self) -> bool:
        """Whether anything is beyond its doubt, so that it is not drawn straight."""
        return len(self.curve()) > 2

    def curve(self) -> list[Flat]:
        """(x, sag) from block to block, as straight as what is read allows; at the blocks it is zero
        by definition.
        """
        first, last = self.layout.string
        known = self.known
        inner = [(s.x, *known[s.id]) for s in self.stations if s.id in known]
        within = [at for at in inner if first < at[0] < last]
        return straightest([(first, 0.0, 0.0), *within, (last, 0.0, 0.0)])

    def profile(self) -> list[Flat]:
        """(x, mm down) of the whole rail as it is drawn: its own kicks beyond the string as high as
        they are, the sag between the blocks so many times too large.
        """
        first, last = self.layout.string
        own = own_shape(self.layout).points
        ahead, behind = ([at for at in own if at[0] < first], [at for at in own if at[0] > last])
        return [*ahead, *((x, self.times * sag) for x, sag in self.curve()), *behind]

    def scale(self) -> str:
        """What is drawn how large; empty where the rail is straight as far as can be told."""
        if not self.bent:
            return ""
        deepest = max((sag.value for sag in self.known.values()), key=abs, default=0.0)
        return f"{'crown' if deepest < 0 else 'sag'} {drawn_words(self.times)}"

    def words(self) -> str:
        """The same thing said."""
        where = "above" if self.above else "below"
        seen = (
            f"The {self.side} rail from the side, front to the left, with the string {where} it on"
            " two equal blocks"
        )
        asked, scale = self.asked, self.scale()
        seen += f"; the gap is read at this station: {asked.name}." if asked else "."
        if scale:
            return f"{seen} {scale.capitalize()}."
        straight = " Straight, as far as what is read so far can show."
        return seen + straight if self.known else seen


Sags = Mapping[PlaceId, Sag]
"""What was read of one rail in one state, by station id."""


def sags_of(judged: Iterable[Judged]) -> dict[QuantityId, dict[str, dict[PlaceId, Sag]]]:
    """The sags of a survey, by what is read and by side."""
    found: dict[QuantityId, dict[str, dict[PlaceId, Sag]]] = {q: {} for q in SAGS}
    for j in judged:
        if j.finding.quantity in found:
            where = where_of(j.finding.where)
            side = found[j.finding.quantity].setdefault(where.side or "", {})
            side[where.place] = Sag(j.finding.value, j.told_half)
    return found


def times_of(found: Mapping[QuantityId, Mapping[str, Sags]], layout: Layout) -> int:
    """How many times too large the sags of a survey are drawn: alike for both rails, with the
    engine's weight and without, so that they can be compared.
    """
    sags = [sag for sides in found.values() for side in sides.values() for sag in side.values()]
    ends = [sag.value + sign * sag.half for sag in sags for sign in (-1.0, 1.0)]
    first, last = layout.string
    return enlargement(max([*ends, 0.0]) - min([*ends, 0.0]), last - first)


def _along(layout: Layout, side: str) -> list[Place]:
    """The places of one rail from front to rear; a nose in the middle belongs to both."""
    on = (p for p in layout.places if side in p.sides or (p.half_width == 0.0 and p.x < 0.0))
    return sorted(on, key=lambda p: p.x)


def own_shape(layout: Layout) -> _Between:
    """How many mm lower the rail lies than the line through the blocks as it was made: between the
    blocks, where it is read, that is nothing.
    """
    level = _level(layout)
    beyond = [(p.x, level(p.x) - p.z) for p in _along(layout, "left")]
    first, last = layout.string
    ahead, behind = ([at for at in beyond if at[0] < first], [at for at in beyond if at[0] > last])
    return _Between([*ahead, (first, 0.0), (last, 0.0), *behind])


def _level(layout: Layout) -> _Between:
    """How high the line lies that runs through the rail at both blocks."""
    shape = _Between([(p.x, p.z) for p in _along(layout, "left")] or [(0.0, 0.0)])
    return _Between([(x, shape(x)) for x in layout.string], beyond=True)


@dataclass(frozen=True, slots=True)
class _Between:
    """Heights between points by rising x."""

    points: Sequence[Flat]
    beyond: bool = False
    """Whether the last piece goes on beyond its end; else the height stays."""

    def __call__(self, x: float) -> float:
        """The height there."""
        for (x0, y0), (x1, y1) in pairwise(self.points):
            if x0 <= x <= x1 or self.beyond:
                return y0 + (y1 - y0) * (x - x0) / ((x1 - x0) or 1.0)
        return self.points[0 if x < self.points[0][0] else -1][1]


# In cells
# --------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Face:
    """Where the side of the rail falls on the page."""

    reach: Flat
    """First and last x of the rail, mm."""
    above: bool
    """True when the string runs above the rail."""
    room: int
    """Columns from the first x to the last."""
    height: int
    """Rows of the picture, without the words under it."""
    zero: float
    """Row of no sag, counted from the string."""

    def col(self, x: float) -> float:
        """Column of a place along the rail."""
        return MARGIN + 1.5 + self.room * (x - self.reach[0]) / (self.reach[1] - self.reach[0])

    def rows_of(self, mm: float) -> float:
        """Rows that so many mm take, drawn as large as they are along the rail; a cell is taken as
        twice as high as wide.
        """
        return mm * self.room / (2 * (self.reach[1] - self.reach[0]))

    def row(self, down: float) -> float:
        """Row of the rail where it is drawn so many mm lower."""
        return min(max(self.flip(self.zero) + self.rows_of(down), 0.5), self.height - 0.5)

    def flip(self, row: float) -> float:
        """A row counted from the string, on the page."""
        return row if self.above else self.height - row

    def holds(self, profile: Sequence[Flat], string: Flat) -> bool:
        """Whether the rail stays clear of the string and of the edges, a row left for numbers."""
        sign = 1 if self.above else -1
        for x, down in profile:
            row = self.zero + sign * self.rows_of(down)
            between = string[0] <= x <= string[1]
            if (
                not (1.5 if between else 0.5)
                <= row + 1e-9
                <= self.height - (1.5 if between else 0.5)
            ):
                return False
        return True


def side_view(rail: Rail, width: int, height: int, charset: Charset) -> Drawing:
    """The rail in a box of so many cells."""
    words = rail.words()
    if width < SMALLEST[0] or height < SMALLEST[1]:
        return Drawing((), (), words)
    told = _told(rail, width, height)
    face = face_of(rail, width, height - len(told))
    canvas = Canvas(width, height, charset)
    _string(canvas, face, rail)
    for (x0, down0), (x1, down1) in pairwise(rail.profile()):
        canvas.line(face.col(x0), face.row(down0), face.col(x1), face.row(down1), RAIL)
    _stations(canvas, face, rail)
    canvas.text(int(face.flip(0.5)), 0, "string")
    level = int(face.row(0.0))
    canvas.text(level, 0, f"{rail.side} rail")
    canvas.text(level + 1 if rail.above else level - 1, 0, "front")
    # Close under the picture: what a high box has to spare is left to the page.
    under = min(canvas.deepest + 2, height - len(told))
    for row, pieces in enumerate(told, start=under):
        col = 0
        for words_, lit in pieces:
            canvas.text(row, col, words_, lit)
            col += len(words_) + 2
    return canvas.drawing(words)


def face_of(rail: Rail, width: int, height: int) -> Face:
    """As wide as there is room for with the sag as large as it is said to be: in a low box the whole
    picture is narrower.
    """
    along = [*(x for x, _ in rail.profile()), *rail.layout.string]
    profile, full = rail.profile(), max(width - MARGIN - 3, NARROWEST)
    reach, last = (min(along), max(along)), height - 1.5
    zeros = [FURTHER, *(n + 0.5 for n in range(1, height - 1) if n + 0.5 != FURTHER)]
    faces = (
        Face(reach, rail.above, room, height, zero)
        for room in range(full, NARROWEST - 1, -1)
        for zero in zeros
        if zero <= last
    )
    found = next((face for face in faces if face.holds(profile, rail.layout.string)), None)
    return found or Face(reach, rail.above, full, height, min(NEAR, last))


def _string(canvas: Canvas, face: Face, rail: Rail) -> None:
    """The string from block to block, and each block between it and the rail."""
    first, last = (face.col(x) for x in rail.layout.string)
    string, metal = face.flip(0.5), face.row(0.0)
    if canvas.charset == "blocks":  # finer than a quadrant: the string is no second rail
        canvas.text(int(string), int(first) + 1, "─" * (int(last) - int(first) - 1))
    else:
        canvas.line(first, string, last, string, STRING)
    for col in (first, last):
        canvas.drop(min(string, metal), max(string, metal), col, BLOCK)


def _stations(canvas: Canvas, face: Face, rail: Rail) -> None:
    line = _Between(rail.profile())
    for n, station in sorted(enumerate(rail.stations, start=1), key=lambda s: s[1].id != rail.lit):
        col, row = face.col(station.x), face.row(line(station.x))
        lit = station.id == rail.lit
        if lit:
            string = face.flip(0.5)
            canvas.drop(min(string, row), max(string, row), col, DROP, lit=True)
        canvas.bead(col, row, "asked" if lit else "point", lit)
        # Brackets, since emphasis alone may not be seen.
        unread = "?" if rail.known and station.id not in rail.known and not lit else ""
        canvas.label(_under(face, row), int(col), f"[{n}]" if lit else f"{n}{unread}", lit, reach=1)


def _under(face: Face, row: float) -> list[int]:
    """Rows for a station's number: beside its bead on the side away from the string, then further."""
    if face.above:
        first = math.ceil(row + 0.5)
        return [first, first + 1, first + 2]
    first = math.floor(row - 0.5) - 1
    return [first, first - 1, first - 2]


Told = list[list[tuple[str, bool]]]
"""Lines of pieces, each with whether it is lit."""


def _told(rail: Rail, width: int, height: int) -> Told:
    """What stands under the picture: the stations by their numbers, or the one asked for alone where
    the box is too low for all of them; and how large a sag is drawn.
    """
    named = [
        (f"[{n} {s.name}]" if s.id == rail.lit else f"{n} {s.name}", s.id == rail.lit)
        for n, s in enumerate(rail.stations, start=1)
    ]
    scale = [(words, False) for words in (rail.scale(),) if words]
    whole = _flowing([*named, *scale], width)
    if len(whole) <= height - LEAST:
        return whole
    return _flowing([*(piece for piece in named if piece[1]), *scale], width)


def _flowing(pieces: Sequence[tuple[str, bool]], width: int) -> Told:
    """The pieces two blanks apart, on as many lines as they take; none is broken."""
    lines: Told = []
    for words, lit in pieces:
        used = sum(len(w) + 2 for w, _ in lines[-1]) if lines else width
        if used + len(words) > width:
            lines.append([])
        lines[-1].append((words, lit))
    return lines
