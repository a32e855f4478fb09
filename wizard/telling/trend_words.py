"""Three surveys or more of one frame, in words and plots: what goes on, what stands still, when a
limit is met.
"""

from __future__ import annotations

import math
from collections.abc import Container, Iterator, Sequence
from datetime import timedelta

from wizard.judgment.change import Comparison
from wizard.judgment.series import Series
from wizard.judgment.trend import Trend
from wizard.library import marks
from wizard.library.places import FindingId
from wizard.library.shapes import Layout, Library, Quantity
from wizard.survey.guide import layout_of
from wizard.survey.record import Survey, Unit
from wizard.telling.amounts import BANDS, day, size
from wizard.telling.canvas import Charset, Drawing
from wizard.telling.change_words import change_headline, compare_blocks, compare_text, title
from wizard.telling.document import Block, Heading, Paragraph, Quote, items
from wizard.telling.quantity_names import KM_IN_A_MILE, amount, distance, name_of
from wizard.telling.scene_trend import plot_of, trend_plot
from wizard.telling.text import lines_of

YEAR = 365.25
WIDTH, HEIGHT = 70, 12
PLOTS = 3
"""Plots at most: of what moves most surely."""
LEAST = 3
"""Surveys that a trend needs."""


def per_of(by: str, unit: Unit) -> tuple[float, str]:
    """What a slope is said per, in days or km, and its words: a year, or a thousand of the person's
    own distance.
    """
    if by == "days":
        return YEAR, "a year"
    return (1000.0 * KM_IN_A_MILE, "1000 miles") if unit == "in" else (1000.0, "1000 km")


def series_text(found: Series, library: Library) -> str:
    """Everything in plain text: since last time, since the first time, the trend."""
    if len(found.row) == 2:
        return compare_text(found.comparisons[0], library)
    return "\n".join(lines_of(_series_blocks(found, library)))


def _series_blocks(found: Series, library: Library) -> list[Block]:
    last, first = found.comparisons[0], found.comparisons[1]
    surveys = found.surveys[found.start :]
    layout = layout_of(surveys[-1], library)
    blocks = [
        Heading("since-last", "Since last time"),
        Paragraph(title(last), apart=True),
        *compare_blocks(last, library),
        Heading("since-first", "Since the first time"),
        Paragraph(title(first, found.km)),
        Paragraph(change_headline(first, library), strong=True),
        items(_moved(first, library)),
        Heading("trend", over(surveys)),
        items(trend_said(found, layout)),
    ]
    plotted = _plotted(found) if len(surveys) >= LEAST else []
    for n, (trend, by) in enumerate(plotted):
        name = _cap(name_of(trend.findings[-1], layout))
        drawing = typed_plot(trend, by, surveys, layout)
        blocks += [Heading(f"plot-{n}", name), Quote(drawing.lines)]
    return blocks


def over(surveys: Sequence[Survey]) -> str:
    """The heading of a trend: how many surveys, from when to when."""
    return f"The trend over {len(surveys)} surveys, {day(surveys[0])} to {day(surveys[-1])}"


def _moved(comparison: Comparison, library: Library) -> Iterator[str]:
    """What has changed since the first time."""
    now = comparison.now.survey
    layout, unit = layout_of(now, library), now.unit
    for c in comparison.of("changed"):
        yield (
            f"{_cap(name_of(c.new, layout))}: then {amount(c.old, unit)}, now"
            f" {amount(c.new, unit)}, moved by {size(c.number.value, c.new.unit, unit)}."
        )


def drawn_over(days: Trend | None, km: Trend | None) -> tuple[Trend, str]:
    """Over the distance driven, `km`, only where that makes a steady line and the date, `days`, does not.

    One of the two is there.
    """
    by_km = km is not None and (days is None or (km.says == "moving" and days.says != "moving"))
    trend = km if by_km else days
    assert trend is not None
    return trend, "km" if by_km else "days"


def _plotted(found: Series) -> list[tuple[Trend, str]]:
    moving = [
        t
        for t in found.by_days
        if t.says != "not moving" and t.findings[-1].quantity != marks.LENGTH
    ]
    sure = sorted(moving, key=lambda t: -abs(t.slope.number.value) / (t.slope.number.u or 1e-9))
    shown = sure or [t for t in found.by_days if t.findings[-1].limit][:1]
    km = {t.findings[-1].id: t for t in found.by_km}
    return [drawn_over(t, km.get(t.findings[-1].id)) for t in shown[:PLOTS]]


def trend_said(found: Series, layout: Layout, drawn: Container[Drawn] = ()) -> list[str]:
    """What a row of surveys says of its course, sentence by sentence.

    drawn: the trends under whose charts it is said already.
    """
    surveys = found.surveys[found.start :]
    unit = surveys[-1].unit
    lines = (
        ["The trend begins with the first survey after the frame was put right."]
        if found.start
        else []
    )
    for then, since in found.sprung:
        kind = since.new.unit
        lines.append(
            f"{_cap(name_of(since.new, layout))}: it springs back. The work moved it by"
            f" {size(then.number.value, kind, unit)}, and it has gone back by"
            f" {size(since.number.value, kind, unit)} since."
        )
    if len(surveys) < LEAST:
        return [*lines, "For a trend, three surveys are needed."]
    return [
        *lines,
        *trend_lines(_not_in(drawn, found.by_days, "days"), "days", surveys, layout),
        *trend_lines(_not_in(drawn, found.by_km, "km"), "km", surveys, layout),
    ]


Drawn = tuple[FindingId, str]
"""A figure that has a chart, and over what: days or km."""


def _not_in(drawn: Container[Drawn], found: Sequence[Trend], by: str) -> list[Trend]:
    """The trends that stand still, which are told in one line, and those without a chart."""
    return [t for t in found if t.says == "not moving" or (t.findings[-1].id, by) not in drawn]


def trend_lines(
    found: Sequence[Trend], by: str, surveys: Sequence[Survey], layout: Layout
) -> list[str]:
    """A sentence for each quantity that moves, and one for all that do not. by: days or km."""
    lines = [trend_line(t, by, surveys, layout) for t in found if t.says == "moving"]
    if by != "days":
        return lines
    jumped = _jumped([t for t in found if t.says == "jumped"], surveys, layout)
    return [*lines, *jumped, *_still([t for t in found if t.says == "not moving"], surveys)]


def _still(still: Sequence[Trend], surveys: Sequence[Survey]) -> list[str]:
    """One line for all that stand still, with the fastest that would not have shown."""
    last = [(t, t.findings[-1]) for t in still]
    shapes = [t for t, f in last if f.quantity != marks.LENGTH and f.unit == "mm"]
    if not shapes:
        return []
    unit = surveys[-1].unit
    per, words = per_of("days", unit)
    reach = size(max(t.slope.half_width * per for t in shapes), "mm", unit)
    flat = "figures show no steady movement: none surely moves by more than"
    return [f"{len(still)} {flat} {reach} in {words}."]


DRIVEN = "by the distance driven"


def trend_line(trend: Trend, by: str, surveys: Sequence[Survey], layout: Layout) -> str:
    """One quantity's trend in a sentence or two."""
    name = _cap(name_of(trend.findings[-1], layout))
    over = f", {DRIVEN}" if by == "km" and trend.says != "jumped" else ""
    return f"{name}{over}: {course_of(trend, by, surveys)}"


def course_of(trend: Trend, by: str, surveys: Sequence[Survey]) -> str:
    """The same without the name, beginning in small letters."""
    if trend.says == "jumped":
        return f"it moved, but not steadily, and most of it {_when(trend, surveys)}."
    f, unit = trend.findings[-1], surveys[-1].unit
    per, words = per_of(by, unit)
    rate, half = trend.slope.number.value * per, trend.slope.half_width * per
    said = (
        f"{size(rate, f.unit, unit)} in {words}, {_way(f.of, rate)}, 19"
        f" times in 20 between {size(abs(rate) - half, f.unit, unit)} and"
        f" {size(abs(rate) + half, f.unit, unit)}."
    )
    return said + _meets(trend, by, surveys, unit)


def _when(trend: Trend, surveys: Sequence[Survey]) -> str:
    """Between which two surveys most of a jump lies."""
    days = [f"{s.started:%Y-%m-%d}" for s in _those(trend, surveys)]
    return f"between {days[trend.slope.jump]} and {days[trend.slope.jump + 1]}"


def _jumped(found: Sequence[Trend], surveys: Sequence[Survey], layout: Layout) -> list[str]:
    """One line for all that jumped between the same two surveys: a line would not foretell any of
    them.
    """
    groups: dict[str, list[str]] = {}
    for trend in found:
        groups.setdefault(_when(trend, surveys), []).append(name_of(trend.findings[-1], layout))
    return [
        f"These moved, but not steadily, and most of it {when}: {'; '.join(names)}."
        for when, names in groups.items()
    ]


def _way(of: Quantity, rate: float) -> str:
    """Which way it goes, in a word or two."""
    way = of.way(rate)
    return f"toward “{way}”" if way else ("longer" if rate > 0 else "shorter")


def _those(trend: Trend, surveys: Sequence[Survey]) -> list[Survey]:
    """The surveys behind the trend's points."""
    return [surveys[n] for n in trend.at]


def _meets(trend: Trend, by: str, surveys: Sequence[Survey], unit: Unit) -> str:
    met = trend.meets
    if met is None:
        return ""
    f = trend.findings[-1]
    what = (
        f" If it goes on like this, it will reach {size(met.bound, f.unit, unit)}, the end of"
        f" “{BANDS.get(met.band, met.band)}”,"
    )
    if by == "km":
        ahead = [x - trend.xs[-1] for x in (met.x, met.earliest, met.latest)]
        late = distance(ahead[2], unit) if math.isfinite(ahead[2]) else "never"
        return (
            f"{what} in about {distance(ahead[0], unit)} (between {distance(ahead[1], unit)} and"
            f" {late})."
        )
    dates = [_date(surveys, x) for x in (met.x, met.earliest, met.latest)]
    between = f" (between {dates[1]} and {dates[2]})" if dates[1] != dates[2] else ""
    return f"{what} about {dates[0]}{between}."


def _date(surveys: Sequence[Survey], x: float) -> str:
    if not math.isfinite(x) or x > YEAR * 500:
        return "never"
    try:
        return f"{surveys[0].started + timedelta(days=x):%Y-%m}"
    except OverflowError:
        return "never"


def typed_plot(
    trend: Trend,
    by: str,
    surveys: Sequence[Survey],
    layout: Layout,
    width: int = WIDTH,
    height: int = HEIGHT,
    charset: Charset = "ascii",
) -> Drawing:
    """The plot of one quantity; its words are the trend's sentence."""
    unit, f = surveys[-1].unit, trend.findings[-1]
    plot = plot_of(trend, by, surveys)
    low, high = plot.limits()
    labels = (_signed(low, f.unit, unit), _signed(high, f.unit, unit))
    words = (
        trend_line(trend, by, surveys, layout)
        if trend.says != "not moving"
        else f"{name_of(f, layout)}: flat."
    )
    return trend_plot(plot, labels, words, width, height, charset)


def _signed(value: float, finding_unit: str, unit: Unit) -> str:
    return ("-" if value < 0 else "") + size(value, finding_unit, unit) if value else "0"


def _cap(text: str) -> str:
    return text[:1].upper() + text[1:]
