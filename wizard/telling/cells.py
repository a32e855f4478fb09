"""The terminal's painter: a scene in cells, stretched to its box.

Few cells make a picture schematic: a tape that would lie on the metal is moved beside it by whole
cells, a point is one letter, and words stand where there is room for them.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

from wizard.telling.canvas import (
    BEADS,
    BRACE,
    DROP,
    FAINT,
    LOOKED,
    MEMBER,
    RAIL,
    TAPE,
    Canvas,
    Charset,
    Drawing,
)
from wizard.telling.scene import Flat, Label, Mark, Part, Scene, Stroke

MARGIN = 7
"""Cells kept free on the left for the words that say which side is which."""
SMALLEST = (24, 5)
"""Width and height in cells under which only the words are given."""
PENS = {
    "rail": RAIL,
    "looked": LOOKED,
    "member": MEMBER,
    "brace": BRACE,
    "tape": TAPE,
    "taped": FAINT,
    "skewed": TAPE,
}
EDGE = 0.75
"""Rows from the middle of a bead of quadrants to its edge."""
HAIR = 1e-6
"""Rows that the lowest rail lies above the middle of its row: its bead keeps to that row too."""
ASIDE = {"braille": 0.75, "blocks": 1.0, "ascii": 1.0}
"""Rows that a tape lies beside the rail along which it runs: just clear of it."""


@dataclass(frozen=True, slots=True)
class Ground:
    """Where millimeters of the frame fall on the page."""

    reach: Flat
    """mm at the first and last column of the frame."""
    half: float
    """mm from the center line to the outermost rail."""
    width: int
    height: int

    def col(self, x: float) -> float:
        """Column of a place, the middle of its cell."""
        room = self.width - MARGIN - 4
        return MARGIN + 1.5 + room * (x - self.reach[0]) / (self.reach[1] - self.reach[0])

    def row(self, y: float) -> float:
        """Row of a distance from the center line: the car's right is up; one row is kept for words
        at each edge, and the outermost rail lies in the middle of a row, so that it is one line.
        """
        return 1.5 + (self.height - 3.0 - HAIR) * (self.half - y) / (2 * self.half)

    def at(self, place: Flat) -> Flat:
        """Column and row of a place."""
        return self.col(place[0]), self.row(place[1])

    def cell(self, place: Flat) -> tuple[int, int]:
        """Row and column of the cell of a place."""
        return int(self.row(place[1])), int(self.col(place[0]))


def painted(
    scene: Scene, width: int, height: int, charset: Charset, smallest: tuple[int, int] = SMALLEST
) -> Drawing:
    """The scene in a box of so many cells; only its words where the box is too small."""
    small = width < smallest[0] or height < smallest[1]
    if small or scene.reach[0] >= scene.reach[1]:
        return Drawing((), (), scene.words)
    ground = Ground(scene.reach, scene.half, width, height)
    canvas = Canvas(width, height, charset)
    for part in scene.parts:
        _paint(canvas, ground, part)
    return canvas.drawing(scene.words)


def _paint(canvas: Canvas, ground: Ground, part: Part) -> None:
    """One part; those that cells are too coarse for are left out."""
    if isinstance(part, Stroke):
        _stroke(canvas, ground, part)
    elif isinstance(part, Mark):
        _mark(canvas, ground, part)
    elif isinstance(part, Label):
        _label(canvas, ground, part)


def _stroke(canvas: Canvas, ground: Ground, stroke: Stroke) -> None:
    pen = FAINT if stroke.pale else PENS[stroke.ink]
    ends = [ground.at(point) for point in stroke.points]
    if stroke.aside and stroke.points[0][0] == stroke.points[1][0]:
        (col, row0), (_, row1) = ends
        step = stroke.aside[0][0]
        aside = col + (step if col + 2 * step < canvas.width else -step)
        canvas.drop(row0, row1, aside, DROP if pen is TAPE else pen, stroke.lit)
        return
    if stroke.aside:
        by = ASIDE[canvas.charset]
        moved = zip(ends, stroke.aside, strict=True)
        free = (not stroke.aside[0][1], not stroke.aside[1][1])
        ends = [(col + back, row - by * right) for (col, row), (back, right) in moved]
        ends = _clear(canvas, ends, free)
    for a, b in pairwise(ends):
        canvas.line(*a, *b, pen, stroke.lit)


def _clear(canvas: Canvas, ends: list[Flat], free: tuple[bool, bool]) -> list[Flat]:
    """The ends of a tape that slants, where cells are too coarse for a dash beside a rail: in
    quadrants it begins at the edge of its point's bead, typed in the row beside the point's.

    free: which of the ends does not lie beside its point already.
    """
    (col0, row0), (col1, row1) = ends
    if canvas.charset == "braille" or abs(row1 - row0) < 2:
        return ends
    down = 1 if row1 > row0 else -1
    if canvas.charset == "blocks":
        near = (row0 + EDGE * down, row1 - EDGE * down)
    else:
        near = (int(row0) + 0.5 + down, int(row1) + 0.5 - down)
    return [(col0, near[0] if free[0] else row0), (col1, near[1] if free[1] else row1)]


def _mark(canvas: Canvas, ground: Ground, mark: Mark) -> None:
    if mark.kind in BEADS:
        col, row = ground.at(mark.at)
        canvas.bead(col, row, mark.kind, mark.lit)
    elif mark.kind == "number":
        row, col = ground.cell(mark.at)
        told = f"({mark.words})"
        canvas.text(row, min(col - 1, canvas.width - len(told)), told)


def _label(canvas: Canvas, ground: Ground, label: Label) -> None:
    row, col = ground.cell(label.at)
    if label.where == "margin":
        _margin(canvas, row, label)
    elif label.where == "beside":
        canvas.text(row, min(col + 3, canvas.width - len(label.words)), label.words, label.lit)
    elif label.where == "over":
        room = canvas.width - len(label.words)
        first = max(0, min(col - len(label.words) // 2, room))
        canvas.text(row, first, label.words, label.lit)
    elif label.where == "foot":
        middle, rows = (MARGIN + canvas.width) // 2, [canvas.height - 1, 0]
        canvas.label(rows, middle, label.words, label.lit, reach=canvas.width, apart=3)
    else:
        canvas.label(_beyond(ground, label.at), col, label.words, label.lit)


def _margin(canvas: Canvas, row: int, label: Label) -> None:
    """At the edge of the page; in a low box two of them may want one row, and the later one moves
    outward.
    """
    outward = 1 if label.at[1] < 0 else -1
    rows = sorted(range(canvas.height), key=lambda r: (abs(r - row), (r - row) * -outward))
    free = next((r for r in rows if not canvas.has_word(r, 0)), row)
    canvas.text(free, 0, label.words, label.lit)


def _beyond(ground: Ground, at: Flat) -> list[int]:
    """Rows for the words of a point, the best first: clear of its bead, outward, then inward, then
    wherever there is room.
    """
    row = ground.row(at[1])
    up, down = math.floor(row - 0.5) - 1, math.ceil(row + 0.5)
    first = [down, up] if at[1] < 0 else [up, down]
    return [*first, *sorted(range(ground.height), key=lambda r: abs(r - row))]
