"""The figures of the report: the plan, the string's profiles, twist, values against their limits."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import groupby

from wizard.checks.case import case_of
from wizard.checks.plan import plan_of
from wizard.checks.plan_shape import displaced
from wizard.judgment.bands import Judged
from wizard.judgment.verdict import Verdict
from wizard.library import marks
from wizard.library.places import DIFFERENCE, QuantityId, WhereId, spoken, where_of
from wizard.library.shapes import Layout, Library
from wizard.survey.record import Survey
from wizard.telling.document import Block, Heading, Paragraph, Picture
from wizard.telling.judged_picture import value_of
from wizard.telling.scene_found import plan_figure
from wizard.telling.scene_string import Rail, Sags, sags_of, side_view, times_of
from wizard.telling.scene_value import Value, value_picture
from wizard.telling.svg_charts import (
    NAMES,
    profile,
    reach_of,
    string_figure,
    twist_figure,
    value_figure,
)
from wizard.telling.text import wrap

TYPED = 76
"""Columns of a drawing in typed marks."""


def figures(verdict: Verdict, survey: Survey, library: Library) -> list[Block]:
    """Every figure that the readings allow, each under its heading; what cannot be drawn says why."""
    layout = case_of(survey, library).layout
    return [
        Heading("plan", "From above", 3),
        _plan(verdict, survey, library, layout),
        Heading("string", "Under the string", 3),
        *_strings(verdict, survey, layout),
        Heading("twist", "Across the rails", 3),
        _twist(verdict, survey, layout),
        Heading("values", "Against the limits", 3),
        *_values(verdict, survey, library, layout),
    ]


def _plan(verdict: Verdict, survey: Survey, library: Library, layout: Layout) -> Block:
    plan = plan_of(case_of(survey, library))
    points = displaced(plan) if plan else ()
    if not points:
        lacking = "; ".join(verdict.completing)
        more = f" These measurements would do it: {lacking}." if lacking else ""
        return Paragraph("The taped distances are too few to draw the frame from them." + more)
    return Picture(plan_figure(points, layout, survey.unit))


def _strings(verdict: Verdict, survey: Survey, layout: Layout) -> list[Block]:
    found = {
        side: {q: p for q in NAMES if (p := profile(verdict.judged, layout, q, side))}
        for side in ("left", "right")
    }
    every = [p for profiles in found.values() for p in profiles.values()]
    if not every:
        return [Paragraph("No string was read.")]
    reach, sags = reach_of(every), sags_of(verdict.judged)
    times = times_of(sags, layout)
    return [
        Picture(
            string_figure(side, profiles, layout, survey.unit, reach, times),
            _typed_rail(side, sags, layout, times),
        )
        for side, profiles in found.items()
        if profiles
    ]


def _typed_rail(
    side: str, sags: Mapping[QuantityId, Mapping[str, Sags]], layout: Layout, times: int
) -> tuple[str, ...]:
    """The same in typed marks: without the engine's weight where that was read."""
    quantity = next(q for q in marks.SAGS if side in sags[q])
    rail = Rail(layout, side, sags[quantity][side], times=times)
    return (*side_view(rail, TYPED, 10, "ascii").lines, f"({NAMES[quantity]})")


def _twist(verdict: Verdict, survey: Survey, layout: Layout) -> Block:
    figure = twist_figure(verdict.judged, layout, survey.unit)
    return (
        Picture(figure)
        if figure
        else Paragraph("No level was laid across the rails at two places.")
    )


def _values(verdict: Verdict, survey: Survey, library: Library, layout: Layout) -> list[Block]:
    names: dict[WhereId, str] = {
        x.id: x.name
        for group in (layout.boxes, layout.places, layout.stations, layout.levels)
        for x in group
    }

    def name(judged: Judged) -> str:
        where = where_of(judged.finding.where)
        parts = [WhereId(str(p)) for p in (where.place, where.side) if p]
        said = [names.get(p, spoken(p)) for p in reversed(parts)]
        return ", ".join(said) if judged.finding.where != DIFFERENCE else "left against right"

    blocks: list[Block] = []
    limited = sorted((j for j in verdict.judged if j.edges), key=lambda j: j.finding.quantity)
    for quantity, group in groupby(limited, key=lambda j: j.finding.quantity):
        rows = list(group)
        values = [(name(j), value_of(j, library, survey.unit)) for j in rows]
        figure = value_figure(quantity, rows, library, survey.unit, name)
        blocks.append(Picture(figure, tuple(_typed_values(values))))
    return blocks or [Paragraph("Nothing was measured that a limit judges.")]


def _typed_values(values: Sequence[tuple[str, Value]]) -> Iterator[str]:
    """Each value on its axis in typed marks, and the bands once for all of them."""
    for name, value in values:
        yield name
        yield from value_picture(value, TYPED, "ascii", legend=False).lines
        yield ""
    yield from wrap(", ".join(values[0][1].every()), TYPED)
