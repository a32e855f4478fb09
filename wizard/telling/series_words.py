"""`crosstape compare` in words: two surveys of one frame, or the row of them with its trend."""

from __future__ import annotations

from wizard.judgment.series import Series
from wizard.judgment.trend import Trend
from wizard.library.shapes import Library
from wizard.survey.guide import layout_of
from wizard.telling.change_words import compare_text, day, headline, title
from wizard.telling.closing import wrap
from wizard.telling.quantity_names import amount, name_of, size
from wizard.telling.trend_words import plot_of, trend_lines

PLOTS = 3
"""Plots at most: of what moves most surely."""


def series_text(found: Series, library: Library) -> str:
    """Everything in plain text: since last time, since the first time, the trend."""
    if len(found.row) == 2:
        return compare_text(found.comparisons[0], library)
    first, since_first = found.comparisons[0], found.comparisons[1]
    lines = [
        "Since last time",
        *compare_text(first, library).splitlines(),
        "",
        "Since the first time",
    ]
    lines += [*wrap(title(since_first, found.km)), *wrap(headline(since_first))]
    lines += _moved(found, library)
    lines += ["", *_trend(found, library)]
    return "\n".join(lines)


def _moved(found: Series, library: Library) -> list[str]:
    comparison = found.comparisons[1]
    layout, unit = layout_of(comparison.now.survey, library), comparison.now.survey.unit
    lines: list[str] = []
    for c in comparison.of("changed"):
        said = (
            f"{name_of(c.new, layout)}: then {amount(c.old, unit)}, now {amount(c.new, unit)},"
            " moved by "
        )
        said = said[:1].upper() + said[1:] + size(c.number.value, c.new.unit, unit) + "."
        lines += wrap(said, first="  - ", rest="    ")
    return lines


def _trend(found: Series, library: Library) -> list[str]:
    surveys = found.surveys[found.start :]
    layout, unit = layout_of(surveys[-1], library), surveys[-1].unit
    lines = [f"The trend over {len(surveys)} surveys, {day(surveys[0])} to {day(surveys[-1])}"]
    if found.start:
        lines += wrap(
            "It counts from the survey after the last correction.", first="  - ", rest="    "
        )
    for then, since in found.sprung:
        said = (
            f"{name_of(since.new, layout)}: the work moved it by"
            f" {size(then.number.value, since.new.unit, unit)}, and it has gone back by"
            f" {size(since.number.value, since.new.unit, unit)} since. It springs back."
        )
        lines += wrap(said[:1].upper() + said[1:], first="  - ", rest="    ")
    if len(surveys) < 3:
        return [*lines, *wrap("Three surveys are needed for a trend.", first="  - ", rest="    ")]
    for by, trends in (("days", found.by_days), ("km", found.by_km)):
        for line in trend_lines(trends, by, surveys, layout):
            lines += wrap(line, first="  - ", rest="    ")
    for trend in _plotted(found):
        drawing = plot_of(trend, "days", surveys, layout)
        name = name_of(trend.findings[-1], layout)
        lines += ["", name[:1].upper() + name[1:], *drawing.lines]
    return lines


def _plotted(found: Series) -> list[Trend]:
    moving = [
        t for t in found.by_days if t.says != "not moving" and t.findings[-1].quantity != "length"
    ]
    sure = sorted(moving, key=lambda t: -abs(t.slope.number.value) / (t.slope.number.u or 1e-9))
    shown = sure or [t for t in found.by_days if t.findings[-1].limit][:1]
    return shown[:PLOTS]
