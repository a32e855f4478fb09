"""One quantity over the surveys: points with their doubt, the line with its band where it holds,
the limits in view.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from wizard.judgment.bands import Edge
from wizard.judgment.trend import Slope, Trend
from wizard.math.student import coverage_factor
from wizard.survey.record import Survey, Unit
from wizard.telling.amounts import BANDS
from wizard.telling.change_words import day
from wizard.telling.quantity_names import distance, size
from wizard.telling.svg import (
    WIDTH,
    Figure,
    Scale,
    area,
    element,
    line,
    number,
    path,
    picture,
    text,
)
from wizard.telling.svg_axis import upright
from wizard.telling.trend_plot import Mark, limits_of

LEFT, RIGHT, TOP, BOTTOM = 156.0, WIDTH - 140.0, 30.0, 148.0
INSET = 36.0
"""Units between the frame of the plot and its first and last point."""
STEPS = 12
"""Straight pieces of the band's edge."""
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
    those = [surveys[n] for n in trend.at]
    marks = [
        Mark(
            x,
            g.value,
            coverage_factor(g.number.dof) * g.number.u,
            distance(x, unit) if by == "km" else day(s),
        )
        for x, g, s in zip(trend.xs, trend.findings, those, strict=True)
    ]
    band = band_of(trend) if trend.says == "moving" else []
    if not all(math.isfinite(v) for m in (*marks, *band) for v in (m.x, m.y, m.half)):
        return None
    low, high = limits_of(
        [*marks, *band], trend.meets.bound if trend.meets else None, f.quantity != "length"
    )
    spare = 0.06 * (high - low)
    # Low is drawn low, as under the string.
    ends = (TOP, BOTTOM) if f.of.downward else (BOTTOM, TOP)
    x, y = (
        Scale(trend.xs[0], trend.xs[-1], LEFT + INSET, RIGHT - INSET),
        Scale(low - spare, high + spare, *ends),
    )
    limits = in_view(edges, y, f.value)
    dates, rows = _names(marks, x)
    parts = [
        _band(band, x, y),
        # Short strokes: lines all across would hide the limits.
        upright(y, LEFT, LEFT + 8, unit, (f.of.minus, f.of.plus), f.unit),
        path([(LEFT, TOP), (LEFT, BOTTOM), (RIGHT, BOTTOM)], 1.0),
        line(LEFT, y(0.0), RIGHT, y(0.0), 0.6) if y.low <= 0.0 <= y.high else "",
        *_limits(limits, y, f.unit, unit),
        _course(trend, marks, x, y),
        *(_mark(m, x, y) for m in marks),
        *dates,
        _key(bool(band), bool(limits)),
    ]
    told = f"{words} {_scale(by, limits, f.unit, unit)}"
    return picture(key, title, told, BOTTOM + 12 + 14 * rows, *parts)


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


def _course(trend: Trend, marks: Sequence[Mark], x: Scale, y: Scale) -> str:
    """The fitted line where it holds; a jump as a step; else the points joined by dots, which
    foretell nothing.
    """
    if trend.step:
        return path([(x(a), y(b)) for a, b in trend.step], 1.0, "1.5 4")
    if trend.says != "moving":
        return path([(x(m.x), y(m.y)) for m in marks], 1.0, "1.5 4")
    ends = (trend.xs[0], trend.xs[-1])
    return path([(x(e), y(trend.slope.line.at(e)[0])) for e in ends], 2.0)


def _mark(mark: Mark, x: Scale, y: Scale) -> str:
    at, low, high = x(mark.x), y(mark.y - mark.half), y(mark.y + mark.half)
    bar = (
        line(at, low, at, high, 1.4)
        + line(at - 6, low, at + 6, low, 1.4)
        + line(at - 6, high, at + 6, high, 1.4)
    )
    return bar + element("circle", cx=at, cy=y(mark.y), r=4.5, fill="#000")


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
