"""A quantity over several surveys: its values with their doubt, the line, the limit that is near.

Made once from a trend; drawn here in cells, and by svg_charts.py on paper.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from wizard.judgment.trend import Slope, Trend
from wizard.library.marks import LENGTH
from wizard.math.student import coverage_factor
from wizard.survey.record import Survey, Unit
from wizard.telling.amounts import BANDS, day, size
from wizard.telling.canvas import BRACE, DROP, FAINT, Canvas, Charset, Drawing
from wizard.telling.quantity_names import distance

SMALLEST = (30, 6)
"""Cells under which only the words are given."""
STEPS = 12
"""Straight pieces of the band's edge."""


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
    short: str = ""
    """The same where there is little room."""


@dataclass(frozen=True, slots=True)
class Plot:
    """What is drawn of one quantity."""

    marks: tuple[Mark, ...]
    """By rising x."""
    course: tuple[tuple[float, float], ...]
    """The line through them, from corner to corner as (x, y)."""
    bound: float | None = None
    """A limit to draw, if it lies near."""
    bound_words: str = ""
    """Which band ends there, with the figure."""
    zero: bool = True
    """Whether the plot reaches to zero; a taped distance is far from it."""
    band: tuple[Mark, ...] = ()
    """The line with its doubt, where it moves steadily; else there is none."""
    downward: bool = False
    """Whether more is drawn lower: what is low is drawn low, as under the string."""

    def limits(self, *more: Mark) -> tuple[float, float]:
        """The least and the greatest y that the plot shows."""
        return limits_of((*self.marks, *more), self.bound, self.zero)

    def spreads(self) -> bool:
        """Whether there are two surveys or more, one after the other."""
        return len(self.marks) > 1 and self.marks[0].x < self.marks[-1].x


def plot_of(trend: Trend, by: str, surveys: Sequence[Survey]) -> Plot:
    """The plot of one trend. by: days or km."""
    unit = surveys[-1].unit
    marks = tuple(
        Mark(x, f.value, coverage_factor(f.number.dof) * f.number.u, *name)
        for x, f, name in zip(trend.xs, trend.findings, _names(trend, by, surveys), strict=True)
    )
    # A line that slopes through a jump would foretell what nobody saw.
    course = trend.step or tuple((x, trend.slope.line.at(x)[0]) for x in (marks[0].x, marks[-1].x))
    last, meets = trend.findings[-1], trend.meets
    bound = meets.bound if meets else None
    said = bound_words(meets.band, meets.bound, last.unit, unit) if meets else ""
    band = band_of(trend) if trend.says == "moving" else ()
    zero, downward = last.quantity != LENGTH, last.of.downward
    return Plot(marks, tuple(course), bound, said, zero, tuple(band), downward)


def _names(trend: Trend, by: str, surveys: Sequence[Survey]) -> list[tuple[str, str]]:
    """What stands under each mark, and the same where there is little room."""
    if by == "km":
        far = [distance(x, surveys[-1].unit) for x in trend.xs]
        return [(words, words) for words in far]
    return [(day(surveys[n]), f"{surveys[n].started:%Y-%m}") for n in trend.at]


def bound_words(band: str, bound: float, finding_unit: str, unit: Unit) -> str:
    """A band with the figure at which it ends.

    >>> bound_words("leave", 3.0, "mm", "mm")
    'leave it up to 3 mm'
    """
    return f"{BANDS.get(band, band)} up to {size(bound, finding_unit, unit)}"


def band_of(trend: Trend) -> list[Mark]:
    """The fitted line and half its 95 % interval from the first survey to the last.

    The slope's doubt is the whole one that is said in words; the height's, at the weighted middle
    of the surveys, is what they do not share.

    Source: the variance of a fitted line about its weighted middle, where height and slope are
    independent (JCGM 100:2008 H.3).
    """
    slope: Slope = trend.slope
    fit, k = slope.line, coverage_factor(slope.number.dof)
    middle = -fit.correlation * fit.intercept_u / fit.slope_u if fit.slope_u else 0.0
    height_u = fit.at(middle)[1]
    first, last = trend.xs[0], trend.xs[-1]
    xs = [first + (last - first) * n / STEPS for n in range(STEPS + 1)]
    return [
        Mark(x, fit.at(x)[0], k * math.hypot(height_u, (x - middle) * slope.number.u), "")
        for x in xs
    ]


def are_finite(marks: Iterable[Mark], course: Iterable[tuple[float, float]] = ()) -> bool:
    """Whether all of it can be drawn."""
    values = [v for m in marks for v in (m.x, m.y, m.half)]
    return all(map(math.isfinite, [*values, *(v for spot in course for v in spot)]))


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


# In cells
# --------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Scale:
    """Where values fall on the canvas."""

    x: tuple[float, float]
    y: tuple[float, float]
    left: int
    """Column of the first x."""
    right: int
    bottom: int
    """Row of the first y; the second is in row 0."""

    def col(self, x: float) -> float:
        """Column of an x."""
        return (
            self.left + (x - self.x[0]) / (self.x[1] - self.x[0]) * (self.right - self.left) + 0.5
        )

    def row(self, y: float) -> float:
        """Row of a y, from the top."""
        return (self.y[1] - y) / (self.y[1] - self.y[0]) * self.bottom + 0.5


def trend_plot(
    plot: Plot, labels: tuple[str, str], words: str, width: int, height: int, charset: Charset
) -> Drawing:
    """The plot, with what it shows in `words` for a reader who has no picture.

    labels: the least and the greatest y as they are to be written beside the axis.
    """
    small = width < SMALLEST[0] or height < SMALLEST[1]
    if small or not plot.spreads() or not are_finite(plot.marks, plot.course):
        return Drawing((), (), words)
    canvas = Canvas(width, height, charset)
    left = max(map(len, labels)) + 6
    along = (plot.marks[0].x, plot.marks[-1].x)
    low, high = plot.limits()
    if plot.downward:
        low, high, labels = high, low, labels[::-1]
    scale = Scale(along, (low, high), left, width - 6, height - 2)
    _axis(canvas, scale, labels)
    for (x0, y0), (x1, y1) in pairwise(plot.course):
        canvas.line(scale.col(x0), scale.row(y0), scale.col(x1), scale.row(y1), BRACE)
    for mark in plot.marks:
        _mark(canvas, scale, mark)
    _bound(canvas, scale, plot)
    return canvas.drawing(words)


def _bound(canvas: Canvas, scale: Scale, plot: Plot) -> None:
    """The limit across the plot, and which it is, where nothing else stands."""
    bound, said = plot.bound, plot.bound_words
    if bound is None or not min(scale.y) <= bound <= max(scale.y):
        return
    row = int(scale.row(bound))
    rows = [row - 1, row + 1, *sorted(range(scale.bottom), key=lambda r: abs(r - row))]
    canvas.label(rows, scale.left + 4 + len(said) // 2, said, reach=canvas.width)
    canvas.line(scale.left, scale.row(bound), scale.right, scale.row(bound), FAINT)


def _axis(canvas: Canvas, scale: Scale, labels: tuple[str, str]) -> None:
    canvas.text(0, 0, labels[1])
    canvas.text(scale.bottom, 0, labels[0])
    if min(scale.y) < 0.0 < max(scale.y):
        row = int(scale.row(0.0))
        if 0 < row < scale.bottom:
            canvas.text(row, max(map(len, labels)) - 1, "0")
    canvas.drop(0, scale.bottom + 0.9, max(map(len, labels)) + 1, DROP)


def _mark(canvas: Canvas, scale: Scale, mark: Mark) -> None:
    """The doubt as an upright line, the value on it, its name under the plot where there is room."""
    col = scale.col(mark.x)
    ends = sorted(scale.row(mark.y + sign * mark.half) for sign in (-1, 1))
    canvas.drop(ends[0], ends[1], col, DROP)
    canvas.bead(col, min(max(scale.row(mark.y), 0.5), scale.bottom + 0.5), "asked", lit=True)
    canvas.label((scale.bottom + 1,), int(col), mark.short, reach=6)
