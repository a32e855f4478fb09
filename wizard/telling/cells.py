"""The terminal's painter: a scene in cells, stretched to its box.

Few cells make a picture schematic: a tape that would lie on the metal is moved beside it by whole
cells, a point is one letter, and words stand where there is room for them.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from wizard.telling.canvas import (
    BRACE,
    DROP,
    FAINT,
    MEMBER,
    RAIL,
    SOLID,
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
    "member": MEMBER,
    "brace": BRACE,
    "tape": TAPE,
    "taped": FAINT,
    "skewed": TAPE,
}


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
        at each edge.
        """
        return 1.25 + (self.height - 2.5) * (self.half - y) / (2 * self.half)

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
        moved = zip(ends, stroke.aside, strict=True)
        ends = [(col + back, row - right) for (col, row), (back, right) in moved]
    for a, b in pairwise(ends):
        canvas.line(*a, *b, pen, stroke.lit)


def _mark(canvas: Canvas, ground: Ground, mark: Mark) -> None:
    row, col = ground.cell(mark.at)
    if mark.kind == "point":
        canvas.text(row, col, "o")
    elif mark.kind == "asked":
        canvas.text(row, col - 1, SOLID[canvas.charset], mark.lit)
    elif mark.kind == "number":
        told = f"({mark.words})"
        canvas.text(row, min(col - 1, canvas.width - len(told)), told)


def _label(canvas: Canvas, ground: Ground, label: Label) -> None:
    row, col = ground.cell(label.at)
    if label.where == "margin":
        if not canvas.has_word(
            row, 0
        ):  # in a low box two of them may want one row: the first has it
            canvas.text(row, 0, label.words, label.lit)
    elif label.where == "beside":
        canvas.text(row, col + 3, label.words, label.lit)
    elif label.where == "over":
        room = canvas.width - len(label.words)
        first = max(0, min(col - len(label.words) // 2, room))
        canvas.text(row, first, label.words, label.lit)
    elif label.where == "foot":
        middle = (MARGIN + canvas.width) // 2
        canvas.label([canvas.height - 1], middle, label.words, label.lit, reach=20, apart=3)
    else:
        outward = {1: [row - 1], -1: [row + 1], 0: [row - 1, row + 1]}
        across = label.at[1]
        canvas.label(outward[(across > 0) - (across < 0)], col, label.words, label.lit)
