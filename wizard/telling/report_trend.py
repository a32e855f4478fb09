"""The same frame over time, in the report: since last time, since the first time, and a figure of
what moves.

Every number is that of `crosstape compare` over the same surveys.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from wizard.judgment.bands import Edge, judge
from wizard.judgment.change import ONE_OF_MANY, Change, Comparison
from wizard.judgment.series import Series, in_order, series
from wizard.judgment.trend import Trend
from wizard.library import marks
from wizard.library.places import FindingId
from wizard.library.shapes import Layout, Library
from wizard.math.student import coverage_factor
from wizard.survey.guide import layout_of
from wizard.survey.record import Survey, Unit
from wizard.telling.amounts import BANDS, about, at_most, day, doubt_size, size
from wizard.telling.canvas import Charset, Drawing
from wizard.telling.change_words import change_headline, sections, title
from wizard.telling.document import (
    Block,
    Heading,
    Paragraph,
    Picture,
    Section,
    Table,
    items,
    set_out,
)
from wizard.telling.quantity_names import amount, distance, name_of
from wizard.telling.svg_charts import trend_figure
from wizard.telling.trend_words import (
    DRIVEN,
    HEIGHT,
    Drawn,
    course_of,
    drawn_over,
    over,
    trend_said,
    typed_plot,
)

TITLE = "The same frame over time"
SHARE = 78
"""Of the width of a sheet, what a chart takes, in percent."""
MOST = 6
"""Figures at most; what is left over is named."""
HEAD = ("Figure", "Then", "Now", "Difference", "Give or take", "What it says")
WIDTHS = (28, 14, 13, 9, 9, 27)
IN_TABLE = ("changed", "untold", "unchanged")
"""Sections of `compare` that are the rows of the table."""
RANKS = ("moving", "jumped", "changed", "near", "still")
"""Why a quantity is shown, what is most worth it first."""
BEFORE = ("otherwise",)
"""Told before the appendix."""

Rows = tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class Earlier:
    """What is known of the same frame from before, as whoever reads the files hands it over."""

    surveys: tuple[Survey, ...] = ()
    """Those that the survey follows, the oldest first, each with its id."""
    missing: tuple[str, ...] = ()
    """One sentence for each that could not be had, and why."""


NOTHING = Earlier()
"""A first survey."""


def trend_part(survey: Survey, library: Library, earlier: Earlier) -> list[Block]:
    """The section; empty for a first survey.

    What could not be had is said, and the rest goes on without it.
    """
    if not earlier.surveys and not earlier.missing:
        return []
    missing = [Paragraph(line) for line in earlier.missing]
    if not earlier.surveys:
        return [Heading("trend", TITLE), *missing]
    found = _series((*earlier.surveys, survey))
    two = len(found) == 2
    row = series(found, library)
    linked = all(b.follows == a.id for a, b in pairwise(found))
    if (
        not linked
    ):  # What was driven is said since the survey before: with one left out the sum is not known.
        row = replace(row, by_km=())
    blocks: list[Block] = [
        Heading("trend", TITLE),
        *missing,
        *_last_part(row.comparisons[0], library),
    ]
    if two:
        return blocks
    return [
        *blocks,
        *_first_part(row.comparisons[1], row.km if linked else None, library),
        *_trend(row, library),
    ]


def _series(surveys: Sequence[Survey]) -> tuple[Survey, ...]:
    """In the order of their days, every time without its zone: a file may have one and its neighbor
    none.
    """
    return in_order([replace(s, started=s.started.replace(tzinfo=None)) for s in surveys])


NO_TREND = (
    "No figure was read in the same state in three surveys of different days, so there is no trend."
)


def _trend(found: Series, library: Library) -> list[Block]:
    surveys = found.surveys[found.start :]
    layout = layout_of(surveys[-1], library)
    every = shown(found, library)
    charts: list[Block] = []
    drawn: set[Drawn] = set()
    for n, one in enumerate(every[:MOST], start=1):
        here = _drawn(f"trend-{n}", one, surveys, layout)
        charts += here
        if len(here) > 1:
            drawn.add((one.trend.findings[-1].id, one.by))
    said = trend_said(found, layout, drawn) or ([] if drawn else [NO_TREND])
    left = [name_of(s.trend.findings[-1], layout) for s in every[MOST:]]
    more = f"Not drawn, to keep this short: {'; '.join(left)}."
    blocks = [Heading("course", over(surveys), 3), *([items(said)] if said else []), *charts]
    return [*blocks, Paragraph(more)] if left else blocks


def _drawn(key: str, one: Shown, surveys: Sequence[Survey], layout: Layout) -> list[Block]:
    """The figure of one quantity, with its typed plot, and its values in a table beneath."""
    name = _cap(name_of(one.trend.findings[-1], layout))
    figure = trend_figure(key, name, one.trend, one.by, surveys, one.edges, _words(one, surveys))
    typed = typed_plot(one.trend, one.by, surveys, layout).lines

    def draw(width: int, charset: Charset) -> Drawing:
        return typed_plot(one.trend, one.by, surveys, layout, width, HEIGHT, charset)

    drawn: list[Block] = [Picture(figure, typed, draw, share=SHARE)] if figure else []
    return [*drawn, _table(name, one, surveys)]


def _words(one: Shown, surveys: Sequence[Survey]) -> str:
    """The trend in a sentence or two, its name left to the title; why it is here, where it has no
    trend.
    """
    if one.why in ("moving", "jumped"):
        over = f"{DRIVEN}: " if one.by == "km" and one.why == "moving" else ""
        return _cap(over + course_of(one.trend, one.by, surveys))
    if one.why == "changed":
        return "It has changed, but no steady rate stands out."
    at = [BANDS.get(e.band, e.band) for e in one.edges if _holds(e)]
    return "It goes neither way." + (f" Its give or take holds the end of “{at[0]}”." if at else "")


def _table(name: str, one: Shown, surveys: Sequence[Survey]) -> Table:
    unit, trend = surveys[-1].unit, one.trend
    driven = one.by == "km"
    rows = []
    for n, x, f in zip(trend.at, trend.xs, trend.findings, strict=True):
        half = doubt_size(coverage_factor(f.number.dof) * f.number.u, f.unit, unit)
        rows.append(
            (day(surveys[n]), *([distance(x, unit)] if driven else []), amount(f, unit), half)
        )
    head = ("Date", *(["Driven since the first"] if driven else []), "Value", "Give or take")
    return Table(name, head, tuple(rows), (25, 25, 25, 25) if driven else (34, 33, 33))


def _cap(text: str) -> str:
    return text[:1].upper() + text[1:]


def _last_part(comparison: Comparison, library: Library) -> list[Block]:
    """The survey against the one before it, whole."""
    rows = _rows(comparison, library, ("changed", "cannot tell", "not changed"))
    parts = sections(comparison, library)
    beside = (part for part in parts if part.id not in (*IN_TABLE, *BEFORE))
    within = [part for part in parts if part.id in IN_TABLE]
    what = _table_of(title(comparison), rows, within)
    return [*_part("since-last", "Since last time", comparison, library), what, *set_out(beside, 4)]


def _first_part(comparison: Comparison, km: float | None, library: Library) -> list[Block]:
    """The survey against the first of the row: only what has changed. km: driven in all, where that
    is known.
    """
    rows = _rows(comparison, library, ("changed",))
    within = [part for part in sections(comparison, library) if part.id == IN_TABLE[0]]
    what = _table_of(title(comparison, km), rows, within)
    return [*_part("since-first", "Since the first time", comparison, library), what]


def _part(id: str, heading: str, comparison: Comparison, library: Library) -> list[Block]:
    """Heading and answer."""
    return [Heading(id, heading, 3), Paragraph(change_headline(comparison, library), strong=True)]


def _table_of(said: str, rows: Rows, within: Sequence[Section]) -> Block:
    """The figures under the words which surveys they are; those alone where there are none.

    within: the same figures in sentences.
    """
    if not rows:
        return Paragraph(f"{said}.")
    return Table(said, HEAD, rows, WIDTHS, (Paragraph(said), *set_out(within, 4)))


def _rows(comparison: Comparison, library: Library, wanted: tuple[str, ...]) -> Rows:
    """One for each figure; taped distances that have not changed are one together, for they are
    many.
    """
    now = comparison.now.survey
    layout, unit = layout_of(now, library), now.unit
    found = [c for says in wanted for c in comparison.of(says)]
    tapes = [c for c in found if c.says == "not changed" and c.new.quantity == marks.LENGTH]
    rows = [_row(c, layout, unit) for c in found if c not in tapes]
    return (*rows, *([_tapes(tapes, unit)] if tapes else []))


def _row(change: Change, layout: Layout, unit: Unit) -> tuple[str, ...]:
    f, name = change.new, name_of(change.new, layout)
    # What is established is never said as zero; what is not may well be.
    say = size if change.says == "changed" else about
    return (
        name[:1].upper() + name[1:],
        amount(change.old, unit),
        amount(f, unit),
        say(change.number.value, f.unit, unit),
        doubt_size(change.half_width, f.unit, unit),
        _says(change, unit),
    )


def _says(change: Change, unit: Unit) -> str:
    kind = change.new.unit
    if change.says == "not changed":
        return f"not changed; {at_most(change.visible, kind, unit)} in this figure alone would have shown"
    if change.why == ONE_OF_MANY:
        return "cannot tell: among so many figures one such is to be expected; read again"
    if change.says == "cannot tell":
        most = size(abs(change.number.value) + change.half_width, kind, unit)
        return f"cannot tell: it may have moved by as much as {most}"
    return "changed"


def _tapes(tapes: list[Change], unit: Unit) -> tuple[str, ...]:
    low, high = (at_most(f(c.visible for c in tapes), "mm", unit) for f in (min, max))
    reach = high if low == high else f"{low} to {high}"
    name = "One taped distance" if len(tapes) == 1 else f"{len(tapes)} taped distances"
    return (name, "", "", "", "", f"not changed; {reach} in one alone would have shown")


@dataclass(frozen=True, slots=True)
class Shown:
    """A quantity to be drawn."""

    trend: Trend
    by: str
    """days or km"""
    why: str
    """moving (a steady slope), jumped (moved, but not steadily), changed (between two surveys, no
    slope stands out), near (its doubt holds the end of a band), still (nothing of these)
    """
    edges: tuple[Edge, ...]
    """The limit of the last value; empty where it has none."""


def shown(found: Series, library: Library) -> list[Shown]:
    """What moved, changed or lies at a limit, the surest first; where nothing does, one that stands
    still.

    Taped distances are left out: what they say of the frame is among the shapes.
    """
    changed = {c.new.id for comparison in found.comparisons for c in comparison.of("changed")}
    days, km = _by_id(found.by_days), _by_id(found.by_km)
    every = [
        _one(days.get(id), km.get(id), id in changed, found, library)
        for id in dict.fromkeys([*days, *km])
    ]
    worth = sorted(
        (s for s in every if s.why != "still"),
        key=lambda s: (RANKS.index(s.why), -_sureness(s.trend)),
    )
    return worth or [s for s in every if s.edges][:1]


def _by_id(trends: Sequence[Trend]) -> dict[FindingId, Trend]:
    return {t.findings[-1].id: t for t in trends if t.findings[-1].quantity != marks.LENGTH}


def _one(
    days: Trend | None, km: Trend | None, changed: bool, found: Series, library: Library
) -> Shown:
    trend, by = drawn_over(days, km)
    edges = judge(trend.findings[-1], found.surveys[-1], library).edges
    return Shown(trend, by, _why(trend, changed, edges), edges)


def _why(trend: Trend, changed: bool, edges: Sequence[Edge]) -> str:
    if trend.says != "not moving":
        return trend.says
    if changed:
        return "changed"
    return "near" if any(_holds(e) for e in edges) else "still"


def _holds(edge: Edge) -> bool:
    """Whether the doubt of a value holds the end of this band."""
    return not edge.is_over and not edge.is_within


def _sureness(trend: Trend) -> float:
    return abs(trend.slope.number.value) / (trend.slope.number.u or 1e-9)
