"""The same frame over time, in the report: since last time, since the first time, and a figure of
what moves.

Every number is that of `crosstape compare` over the same surveys.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from wizard.judgment.series import Series, in_order, series
from wizard.library.shapes import Layout, Library
from wizard.math.student import coverage_factor
from wizard.survey.guide import layout_of
from wizard.survey.record import Survey
from wizard.telling.amounts import BANDS
from wizard.telling.blocks import Block, Heading, Items, Para, Picture, Table
from wizard.telling.change_words import day
from wizard.telling.quantity_names import amount, distance, name_of, size
from wizard.telling.report_change import first_part, last_part
from wizard.telling.report_earlier import Earlier
from wizard.telling.report_shown import Shown, shown
from wizard.telling.svg_trend import trend_figure
from wizard.telling.trend_words import plot_of, trend_line, trend_lines

TITLE = "The same frame over time"
MOST = 6
"""Figures at most; what is left over is named."""


def trend_part(survey: Survey, library: Library, earlier: Earlier) -> list[Block]:
    """The section; empty for a first survey.

    What could not be had is said, and the rest goes on without it.
    """
    if not earlier.surveys and not earlier.missing:
        return []
    missing = [Para(line) for line in earlier.missing]
    if not earlier.surveys:
        return [Heading(2, TITLE), *missing]
    found = _series((*earlier.surveys, survey))
    two = len(found) == 2
    row = series(found, library)
    linked = all(b.follows == a.id for a, b in pairwise(found))
    if (
        not linked
    ):  # What was driven is said since the survey before: with one left out the sum is not known.
        row = replace(row, by_km=())
    blocks: list[Block] = [
        Heading(2, TITLE, new_page=not two),
        *missing,
        *last_part(row.comparisons[0], library),
    ]
    if two:
        return blocks
    return [
        *blocks,
        *first_part(row.comparisons[1], row.km if linked else None, library),
        *_trend(row, library),
    ]


def _series(surveys: Sequence[Survey]) -> tuple[Survey, ...]:
    """In the order of their days, every time without its zone: a file may have one and its neighbor
    none.
    """
    return in_order([replace(s, started=s.started.replace(tzinfo=None)) for s in surveys])


def _trend(found: Series, library: Library) -> list[Block]:
    surveys = found.surveys[found.start :]
    layout = layout_of(surveys[-1], library)
    heading = f"The trend over {len(surveys)} surveys, {day(surveys[0])} to {day(surveys[-1])}"
    blocks: list[Block] = [Heading(3, heading), Items(tuple(_lines(found, surveys, layout)))]
    every = shown(found, library)
    for n, one in enumerate(every[:MOST], start=1):
        blocks += _drawn(f"trend-{n}", one, surveys, layout)
    left = [name_of(s.trend.findings[-1], layout) for s in every[MOST:]]
    return [*blocks, Para(f"Not drawn, to keep this short: {'; '.join(left)}.")] if left else blocks


def _lines(found: Series, surveys: Sequence[Survey], layout: Layout) -> list[str]:
    """What `compare` says of the trend, sentence by sentence."""
    unit = surveys[-1].unit
    lines = ["It counts from the survey after the last correction."] if found.start else []
    for then, since in found.sprung:
        kind = since.new.unit
        lines.append(
            f"{_cap(name_of(since.new, layout))}: the work moved it by"
            f" {size(then.number.value, kind, unit)}, and it has gone back by"
            f" {size(since.number.value, kind, unit)} since. It springs back."
        )
    if len(surveys) < 3:
        return [*lines, "Three surveys are needed for a trend."]
    lines += [
        *trend_lines(found.by_days, "days", surveys, layout),
        *trend_lines(found.by_km, "km", surveys, layout),
    ]
    return lines or [
        "No figure was read alike in three surveys of different days, so there is no trend."
    ]


def _drawn(key: str, one: Shown, surveys: Sequence[Survey], layout: Layout) -> list[Block]:
    """The figure of one quantity, with its typed plot, and its values in a table beneath."""
    name = _cap(name_of(one.trend.findings[-1], layout))
    figure = trend_figure(
        key, name, one.trend, one.by, surveys, one.edges, _words(one, surveys, layout)
    )
    typed = plot_of(one.trend, one.by, surveys, layout).lines
    drawn: list[Block] = [Picture(figure, typed)] if figure else []
    return [*drawn, _table(name, one, surveys)]


def _words(one: Shown, surveys: Sequence[Survey], layout: Layout) -> str:
    """The trend in a sentence or two, its name left to the title; why it is here, where it has no
    trend.
    """
    if one.why in ("moving", "jumped"):
        name = _cap(name_of(one.trend.findings[-1], layout))
        return _cap(trend_line(one.trend, one.by, surveys, layout).removeprefix(name).lstrip(":, "))
    if one.why == "changed":
        return "It has changed, but no steady rate stands out."
    at = [BANDS.get(e.band, e.band) for e in one.edges if not e.is_over and not e.is_within]
    return "It goes neither way." + (f" Its give or take holds the end of “{at[0]}”." if at else "")


def _table(name: str, one: Shown, surveys: Sequence[Survey]) -> Table:
    unit, trend = surveys[-1].unit, one.trend
    driven = one.by == "km"
    rows = []
    for n, x, f in zip(trend.at, trend.xs, trend.findings, strict=True):
        half = size(coverage_factor(f.number.dof) * f.number.u, f.unit, unit)
        rows.append(
            (day(surveys[n]), *([distance(x, unit)] if driven else []), amount(f, unit), half)
        )
    head = ("Date", *(["Driven since the first"] if driven else []), "Value", "Give or take")
    return Table(name, head, tuple(rows), (25, 25, 25, 25) if driven else (34, 33, 33))


def _cap(text: str) -> str:
    return text[:1].upper() + text[1:]
