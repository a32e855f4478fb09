"""One quantity over the surveys: points with their doubt, the line with its band where it holds,
the limits in view.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from wizard.judgment.bands import Edge
from wizard.judgment.trend import Trend
from wizard.survey.record import Survey, Unit
from wizard.telling.amounts import BANDS
from wizard.telling.quantity_names import size
from wizard.telling.scene_trend import Mark, Plot, are_finite, plot_of
from wizard.telling.svg import (
    WIDTH,
    Figure,
    Scale,
    area,
    bar,
    dot,
    element,
    line,
    number,
    path,
    picture,
    text,
    upright,
)

LEFT, RIGHT, TOP, BOTTOM = 156.0, WIDTH - 140.0, 30.0, 148.0
INSET = 36.0
"""Units between the frame of the plot and its first and last point."""
APART = 26.0
"""Units that the words of a limit take up and down."""
NAMES_APART = 66.0
"""Units that a date takes along."""
DOTS = line(0, 14, 28, 14, 1.0, "1.5 4")
DASHES = line(0, 14, 28, 14, 1.6, "9 4")


def trend_figure(
    key: str,
    title: str,
    trend: Trend,
    by: str,
    surveys: Sequence[Survey],
    edges: Sequence[Edge],
    words: str,
) -> Figure | None:
    """The figure of one trend; None where a value or a doubt is no finite number.

    by: days or km. surveys: those that the trend is taken from, `trend.at` counts them. edges: the
    limit of the last value; empty where it has none. words: the trend in a sentence; how it is
    drawn is said after it.
    """
    f, unit = trend.findings[-1], surveys[-1].unit
    plot = plot_of(trend, by, surveys)
    if not are_finite((*plot.marks, *plot.band)):
        return None
    low, high = plot.limits(*plot.band)
    spare = 0.06 * (high - low)
    # Low is drawn low, as under the string.
    ends = (TOP, BOTTOM) if f.of.downward else (BOTTOM, TOP)
    x = Scale(trend.xs[0], trend.xs[-1], LEFT + INSET, RIGHT - INSET)
    y = Scale(low - spare, high + spare, *ends)
    limits = in_view(edges, y, f.value)
    dates, rows = _names(plot.marks, x)
    parts = [
        _band(plot.band, x, y),
        # Short strokes: lines all across would hide the limits.
        upright(y, LEFT, LEFT + 8, unit, (f.of.minus, f.of.plus), f.unit),
        path([(LEFT, TOP), (LEFT, BOTTOM), (RIGHT, BOTTOM)], 1.0),
        line(LEFT, y(0.0), RIGHT, y(0.0), 0.6) if y.low <= 0.0 <= y.high else "",
        *_limits(limits, y, f.unit, unit),
        _course(trend, plot, x, y),
        *(bar(x(m.x), y, m.y, m.half, 1.4) + dot(x(m.x), y(m.y)) for m in plot.marks),
        *dates,
        _key(bool(plot.band), bool(limits)),
    ]
    told = f"{words} {_scale(by, limits, f.unit, unit)}"
    return picture(key, title, told, BOTTOM + 12 + 14 * rows, *parts)


def in_view(edges: Sequence[Edge], y: Scale, value: float) -> list[tuple[str, float]]:
    """(band, where it ends) of the limits that lie within the plot, those nearest to the value
    first.
    """
    bounds = [
        (e.band, b)
        for e in edges
        for b in (e.high, e.low)
        if b is not None and y.low <= b <= y.high
    ]
    return sorted(bounds, key=lambda found: abs(found[1] - value))


def _limits(limits: Sequence[tuple[str, float]], y: Scale, kind: str, unit: Unit) -> Iterator[str]:
    """A dashed line at each; words beside those that have room, so that none touches another."""
    taken: list[float] = []
    for band, bound in limits:
        at = y(bound)
        yield line(LEFT, at, RIGHT, at, 1.6, "9 4")
        if all(abs(at - t) >= APART for t in taken):
            taken.append(at)
            yield text(RIGHT + 6, at - 2, f"“{BANDS.get(band, band)}”", font_size=10.5)
            yield text(RIGHT + 6, at + 10, f"up to {size(bound, kind, unit)}", font_size=10.5)


def _band(band: Sequence[Mark], x: Scale, y: Scale) -> str:
    upper = [(x(m.x), y(m.y + m.half)) for m in band]
    lower = [(x(m.x), y(m.y - m.half)) for m in band]
    return area([*upper, *reversed(lower)], "#ddd") if band else ""


def _course(trend: Trend, plot: Plot, x: Scale, y: Scale) -> str:
    """The fitted line where it holds; a jump as a step; else the points joined by dots, which
    foretell nothing.
    """
    steady = bool(plot.band) and not trend.step
    line_of = plot.course if steady or trend.step else [(m.x, m.y) for m in plot.marks]
    spots = [(x(a), y(b)) for a, b in line_of]
    return path(spots, 2.0) if steady else path(spots, 1.0, "1.5 4")


def _names(marks: Sequence[Mark], x: Scale) -> tuple[list[str], int]:
    """A stroke and the date under each point, on one line or two; how many lines were used.

    The last date always, others where there is room: every one stands in the table under the
    figure.
    """
    parts: list[str] = []
    taken: dict[int, list[float]] = {0: [], 1: []}
    for mark in (marks[-1], *marks[:-1]):
        at = x(mark.x)
        parts.append(line(at, BOTTOM, at, BOTTOM + 5, 1.0))
        row = next(
            (r for r, used in taken.items() if all(abs(at - t) >= NAMES_APART for t in used)), None
        )
        if row is not None:
            taken[row].append(at)
            parts.append(text(at, BOTTOM + 18 + 14 * row, mark.name, "middle", font_size=11))
    return parts, 2 if taken[1] else 1


def _key(band: bool, limits: bool) -> str:
    """What the strokes mean, over the plot."""
    bar = line(14, 7, 14, 21, 1.4) + line(8, 7, 20, 7, 1.4) + line(8, 21, 20, 21, 1.4)
    gray = area([(0, 7), (28, 7), (28, 21), (0, 21)], "#ddd") + line(0, 14, 28, 14, 2.0)
    course = (
        (gray, "the line, and its give or take", 216.0) if band else (DOTS, "no steady line", 140.0)
    )
    found = [(bar, "give or take", 120.0), course, *([(DASHES, "limit", 0.0)] if limits else [])]
    parts, at = [], LEFT
    for drawn, told, room in found:
        parts.append(
            element(
                "g",
                drawn + text(34, 18, told, font_size=11),
                transform=f"translate({number(at)} 0)",
            )
        )
        at += room
    return "".join(parts)


def _scale(by: str, limits: Sequence[tuple[str, float]], kind: str, unit: Unit) -> str:
    """What it is drawn against, and the limits in view: true of the typed plot as well."""
    along = (
        "the distance driven since the first survey" if by == "km" else "the date, days to scale"
    )
    said = f"Drawn over {along}; the upright bars are the give or take, 19 times in 20."
    near = sorted(limits, key=lambda found: abs(found[1]))
    ends = dict.fromkeys(
        f"“{BANDS.get(name, name)}” ends at {size(b, kind, unit)}" for name, b in near
    )
    return f"{said} Limits in view: {', '.join(ends)}." if ends else said
