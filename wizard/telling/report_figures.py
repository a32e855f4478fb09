"""The figures of the report: the plan, the string's profiles, twist, values against their limits."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import groupby

from wizard.checks.case import Case, case_of
from wizard.checks.plan import Plan, plan_of
from wizard.checks.plan_shape import Displaced, displaced, put_on
from wizard.judgment.answer import HELD, Answer
from wizard.judgment.bands import Judged
from wizard.judgment.fact import Fact
from wizard.judgment.facts import is_out
from wizard.judgment.verdict import Verdict
from wizard.library import marks
from wizard.library.places import DIFFERENCE, QuantityId, Side, WhereId, side_of, spoken, where_of
from wizard.library.shapes import Layout, Library
from wizard.survey.record import Survey
from wizard.telling.cells import painted
from wizard.telling.document import Block, Heading, Paragraph, Picture
from wizard.telling.fact_words import thing
from wizard.telling.judged_picture import value_of
from wizard.telling.numbering import numbers_of, station_numbers
from wizard.telling.print_height import BEHIND, picture_height
from wizard.telling.quantity_names import amount, name_of
from wizard.telling.scene_found import (
    Hung,
    Noted,
    OneMoved,
    found_figure,
    found_scene,
    off_words,
    plan_figure,
    zone_at,
)
from wizard.telling.scene_string import Rail, Sags, sags_of, side_view, times_of
from wizard.telling.scene_value import Value, value_picture
from wizard.telling.svg_charts import (
    NAMES,
    profile,
    reach_of,
    string_figure,
    twist_figure,
    twist_words,
    value_figure,
)
from wizard.telling.text import wrap
from wizard.telling.thin_picture import thin_pictures

WHOLE = 82
"""Share of the page's width from which down the marks of the small drawing are drawn larger in it, so
that they keep their size in print.
"""
TYPED = 76
"""Columns of a drawing in typed marks."""


def figures(
    verdict: Verdict, survey: Survey, library: Library, facts: Sequence[Fact] = ()
) -> list[Block]:
    """Every figure that the readings allow, each under its heading; what cannot be drawn says why.

    facts: by which the side is known that a difference of twins is drawn on.
    """
    layout = case_of(survey, library).layout
    drawn: list[Block] = [
        Heading("plan", "From above", 3),
        _plan(verdict, survey, library, moved_of(facts)),
        Heading("string", "Under the string", 3),
        *_strings(verdict, survey, layout),
        Heading("twist", "Across the rails", 3),
        _twist(verdict, survey, layout),
        *_thin(case_of(survey, library)),
        Heading("values", "Against the limits", 3),
    ]
    charts: list[Block] = [*packed(drawn, _values(verdict, survey, library, layout))]
    nothing = Paragraph("Nothing was measured that a limit judges.")
    return [*drawn, *(charts or [nothing])]


def moved_side(facts: Sequence[Fact]) -> Side | None:
    """The side that is known to have moved along the other; None where nothing tells it."""
    for fact in facts:
        if fact.kind == "corner":
            return fact.where.side
        if fact.kind in ("diamond", "box") and fact.struck is not None:
            return side_of(fact.struck[0])
    return None


def moved_of(facts: Sequence[Fact]) -> OneMoved:
    """Of twins the one that is known to have moved: a rail, or a horn that was seen bent."""
    horns = (f.where.side for f in facts if f.kind == "horn" and f.is_told and f.deed != "leave")
    return OneMoved(moved_side(facts), next(horns, None))


def _off(plan: Plan, moved: OneMoved, layout: Layout) -> tuple[Displaced, ...]:
    """How far each point is off."""
    rails = {id for place in layout.places if place.x >= 0 for id in place.points}
    return put_on(displaced(plan), moved.rail, rails, moved.horn)


def found_picture(answer: Answer, survey: Survey, library: Library, share: int) -> Picture:
    """The frame in small with its numbered points, and what was found beside them."""
    layout = case_of(survey, library).layout
    plan = plan_of(case_of(survey, library))
    points = _off(plan, moved_of(answer.facts), layout) if plan else ()
    noted = tuple(_noted_looks(answer.facts, layout))
    hung = _hung(answer.verdict, survey, layout)
    figure = found_figure(points, noted, hung, layout, survey.unit, WHOLE / share)
    marked = [one._replace(words="") for one in noted]
    typed = painted(found_scene(points, marked, (), layout, survey.unit), TYPED, 15, "ascii")
    return Picture(figure, typed.lines, share=share, told=f"{TYPED_ROUGHLY} {figure.words}")


TYPED_ROUGHLY = "Typed marks are too coarse to show how far a point is off; the words say it."


def _noted_looks(facts: Sequence[Fact], layout: Layout) -> Iterator[Noted]:
    """What was seen of which the corner is known."""
    for fact in facts:
        side = fact.where.side
        if side and fact.third and fact.seen and fact.deed in (*HELD, "see"):
            yield Noted(zone_at(layout, (str(side), fact.third)), thing(fact.seen[0]))


def _hung(verdict: Verdict, survey: Survey, layout: Layout) -> list[Hung]:
    """Every station at which the string says that a rail is out, with the state in which it is out
    the most; the left rail first, front to rear.
    """
    worst: dict[tuple[Side, WhereId], Judged] = {}
    for one in verdict.judged:
        where = where_of(one.finding.where)
        if where.side and one.finding.quantity in marks.SAGS and is_out(one):
            key = where.side, where.place
            worst[key] = max(one, worst.get(key, one), key=lambda j: abs(j.finding.value))
    numbers, unit = station_numbers(layout), survey.unit
    found = [
        Hung(side, station.x, numbers[id], amount(one.finding, unit), one.finding.value)
        for (side, id), one in worst.items()
        if (station := layout.station_by_id.get(id)) is not None
    ]
    return sorted(found, key=lambda one: (one.side.sign, one.at))


def _plan(verdict: Verdict, survey: Survey, library: Library, moved: OneMoved) -> Block:
    layout = case_of(survey, library).layout
    plan = plan_of(case_of(survey, library))
    points = _off(plan, moved, layout) if plan else ()
    if not points:
        lacking = "; ".join(verdict.completing)
        more = f" These measurements would do it: {lacking}." if lacking else ""
        return Paragraph("The taped distances are too few to draw the frame from them." + more)
    figure = plan_figure(points, layout, survey.unit, moved)
    return Picture(figure, told=off_words(points, layout, survey.unit))


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
            tuple(_typed_rails(side, sags, layout, times)),
        )
        for side, profiles in found.items()
        if profiles
    ]


def _typed_rails(
    side: str, sags: Mapping[QuantityId, Mapping[str, Sags]], layout: Layout, times: int
) -> Iterator[str]:
    """The same in typed marks, a drawing for each state that was read, under its name."""
    for quantity in (q for q in marks.SAGS if side in sags[q]):
        yield f"The {side} rail {NAMES[quantity]}:"
        yield from side_view(
            Rail(layout, side, sags[quantity][side], times=times), TYPED, 10, "ascii"
        ).lines


def _twist(verdict: Verdict, survey: Survey, layout: Layout) -> Block:
    figure = twist_figure(verdict.judged, layout, survey.unit)
    if figure is None:
        return Paragraph("No level was laid across the rails at two places.")
    return Picture(figure, told=twist_words(verdict.judged, layout, survey.unit))


def _thin(case: Case) -> list[Block]:
    """What thin metal has left of the rails; nothing where nobody measured how far it runs."""
    drawn = thin_pictures(case)
    return [Heading("thin", "Along the thin rails", 3), *drawn] if drawn else []


def _values(verdict: Verdict, survey: Survey, library: Library, layout: Layout) -> list[Picture]:
    names: dict[WhereId, str] = {
        x.id: x.name
        for group in (layout.boxes, layout.places, layout.stations, layout.levels)
        for x in group
    }

    def name(judged: Judged) -> str:
        where, numbers = where_of(judged.finding.where), numbers_of(judged.finding, layout)
        parts = [WhereId(str(p)) for p in (where.place, where.side) if p]
        said = [names.get(p, spoken(p)) for p in reversed(parts)]
        if judged.finding.where == DIFFERENCE:
            return "left against right"
        return f"{', '.join(said)} ({numbers})" if numbers else ", ".join(said)

    found: list[Picture] = []
    limited = sorted((j for j in verdict.judged if j.edges), key=lambda j: j.finding.quantity)
    for _, group in groupby(limited, key=lambda j: j.finding.quantity):
        rows = list(group)
        values = [(name(j), value_of(j, library, survey.unit)) for j in rows]
        what = rows[0].name if len(rows) > 1 else name_of(rows[0].finding, layout)
        figure = value_figure(what, rows, library, survey.unit, name)
        found.append(Picture(figure, tuple(_typed_values(values))))
    return found


SHEET = 250.0
"""Millimeters of a sheet of Letter that figures may take, the shorter paper."""
HEAD = 7.5
"""Millimeters that a heading takes."""


def _tall(block: Block) -> float:
    """About how many millimeters a block takes."""
    if isinstance(block, Picture):
        return picture_height(block, BEHIND)
    if isinstance(block, Paragraph):
        return BEHIND.lines(block.text, BEHIND.body) + BEHIND.under
    return HEAD


def packed(before: Sequence[Block], pictures: Sequence[Picture]) -> list[Picture]:
    """The pictures in an order that leaves no sheet with room for one of them: the tallest that still
    fits comes next. before: what stands before them, from the top of a sheet.
    """
    left = SHEET
    for block in before:
        left = _after(left, _tall(block))
    rest, found = sorted(pictures, key=_tall, reverse=True), []
    while rest:
        fitting = next((p for p in rest if _tall(p) <= left), rest[0])
        left = _after(left, _tall(fitting))
        rest.remove(fitting)
        found.append(fitting)
    return found


def _after(left: float, tall: float) -> float:
    """What is left of the sheet, or of the next one."""
    return left - tall if tall <= left else SHEET - tall


def _typed_values(values: Sequence[tuple[str, Value]]) -> Iterator[str]:
    """Each value on its axis in typed marks, and the bands once for all of them."""
    for name, value in values:
        yield name
        yield from value_picture(value, TYPED, "ascii", legend=False).lines
        yield ""
    yield from wrap(", ".join(values[0][1].every()), TYPED)
