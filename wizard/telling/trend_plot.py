"""A quantity over several surveys as a plot in plain characters: points with their doubt, the line,
the next limit.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import isfinite

from wizard.telling.canvas import BRACE, DROP, FAINT, SOLID, Canvas, Charset, Drawing

SMALLEST = (30, 6)
"""Cells under which only the words are given."""


@dataclass(frozen=True, slots=True)
class Mark:
    """One survey's value."""

    x: float
    """Days or km."""
    y: float
    half: float
    """Half its 95 % interval."""
    name: str
    """Written under it, such as the date."""


@dataclass(frozen=True, slots=True)
class Scale:
    """Where values fall on the canvas."""

    x: tuple[float, float]
    y: tuple[float, float]
    left: int
    """Column of the first x."""
    right: int
    bottom: int
    """Row of the least y; the greatest is in row 0."""

    def col(self, x: float) -> float:
        """Column of an x."""
        return (
            self.left + (x - self.x[0]) / (self.x[1] - self.x[0]) * (self.right - self.left) + 0.5
        )

    def row(self, y: float) -> float:
        """Row of a y, from the top."""
        return (self.y[1] - y) / (self.y[1] - self.y[0]) * self.bottom + 0.5


def trend_plot(
    marks: Sequence[Mark],
    course: Sequence[tuple[float, float]],
    bound: float | None,
    labels: tuple[str, str],
    words: str,
    width: int,
    height: int,
    charset: Charset,
    zero: bool = True,
) -> Drawing:
    """The plot, with what it shows in `words` for a reader who has no picture.

    marks: at least two, by rising x. course: the line through them, from corner to corner as (x,
    y). bound: a limit to draw, if it lies near. labels: the least and the greatest y as they are to
    be written beside the axis. zero: whether the plot reaches to zero; a taped distance is far from
    it.
    """
    values = [v for m in marks for v in (m.x, m.y, m.half)] + [v for spot in course for v in spot]
    if (
        width < SMALLEST[0]
        or height < SMALLEST[1]
        or len(marks) < 2
        or not all(isfinite(v) for v in values)
    ):
        return Drawing((), (), words)
    if marks[-1].x <= marks[0].x:
        return Drawing((), (), words)
    canvas = Canvas(width, height, charset)
    left = max(map(len, labels)) + 6
    scale = Scale(
        (marks[0].x, marks[-1].x), limits_of(marks, bound, zero), left, width - 6, height - 2
    )
    _axis(canvas, scale, labels)
    if bound is not None and scale.y[0] <= bound <= scale.y[1]:
        canvas.line(scale.left, scale.row(bound), scale.right, scale.row(bound), FAINT)
        canvas.text(int(scale.row(bound)), scale.right - 4, "limit")
    for (x0, y0), (x1, y1) in pairwise(course):
        canvas.line(scale.col(x0), scale.row(y0), scale.col(x1), scale.row(y1), BRACE)
    for mark in marks:
        _mark(canvas, scale, mark)
    return canvas.drawing(words)


def limits_of(marks: Sequence[Mark], bound: float | None, zero: bool = True) -> tuple[float, float]:
    """The least and the greatest y that the plot shows: every doubt, zero, and the limit where it
    is not far off.
    """
    least = (0.0,) if zero else ()
    low = min(*least, *(m.y - m.half for m in marks))
    high = max(*least, *(m.y + m.half for m in marks))
    span = (high - low) or 1.0
    if bound is not None and low - 2 * span <= bound <= high + 2 * span:
        low, high = min(low, bound), max(high, bound)
    return low, high if high > low else low + 1.0


def _axis(canvas: Canvas, scale: Scale, labels: tuple[str, str]) -> None:
    canvas.text(0, 0, labels[1])
    canvas.text(scale.bottom, 0, labels[0])
    if scale.y[0] < 0.0 < scale.y[1]:
        row = int(scale.row(0.0))
        if 0 < row < scale.bottom:
            canvas.text(row, max(map(len, labels)) - 1, "0")
    canvas.drop(0, scale.bottom + 0.9, max(map(len, labels)) + 1, DROP)


def _mark(canvas: Canvas, scale: Scale, mark: Mark) -> None:
    """The doubt as an upright line, the value on it, its name under the plot where there is room."""
    col = scale.col(mark.x)
    canvas.drop(scale.row(mark.y + mark.half), scale.row(mark.y - mark.half), col, DROP)
    canvas.text(
        min(max(int(scale.row(mark.y)), 0), scale.bottom),
        int(col) - 1,
        SOLID[canvas.charset],
        lit=True,
    )
    canvas.label((scale.bottom + 1,), int(col), mark.name, reach=6)
