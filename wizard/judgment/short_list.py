"""What a re-check takes again in about half an hour: what was found last time, and what matters most
on any frame; and which prompts tell a finding again, without the sizes known from last time.

Written as a re-check keeps them: the id of a step for all of it, or of a part of it, such as
`level/rear`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Set
from dataclasses import replace
from datetime import datetime

from wizard.checks.case import Case, case_of
from wizard.checks.finding import Finding
from wizard.checks.notes import OffPlan
from wizard.checks.section_left import LEFT
from wizard.judgment.bands import Judged
from wizard.judgment.change import compare
from wizard.judgment.facts import mount_of
from wizard.judgment.seen import Seen, loose_joints, stops
from wizard.judgment.sight import verdict_of
from wizard.judgment.verdict import Verdict, is_open, weight
from wizard.library import marks
from wizard.library.places import (
    FRONT_BOX,
    NO_PLACE,
    SIDES,
    FindingId,
    PartId,
    PlaceId,
    PromptId,
    StepId,
    WhereId,
    asked_of,
    finding_id,
    part_of_step,
    prompt_id,
    step_of,
    within,
)
from wizard.library.shapes import Box, Layout, Library
from wizard.survey.follow import following
from wizard.survey.guide import guide_of, pages
from wizard.survey.minutes import minutes_of
from wizard.survey.prompts import answered
from wizard.survey.record import Survey
from wizard.survey.rows import Reading


def _alike(library: Library) -> tuple[StepId, ...]:
    """The same diagonals from above and from below; which of them can be taken is the body's affair
    on the day.
    """
    across = library.in_turn(marks.DIAGONALS)
    pairs = ((id, library.steps[id].stand_in) for id in across)
    return next((pair for pair in pairs if pair[1] in across), ())


def compared_as(finding: Finding) -> FindingId:
    """Id of the finding that is held against last time's in its place: a rail's length by the two
    sides as taped.
    """
    told_by_sides = finding.quantity == marks.MASH
    return finding_id(marks.OWN_SIDES, finding.where) if told_by_sides else finding.id


def retold(finding: Finding, case: Case) -> set[PartId]:
    """What to read again so that the finding can be held against itself."""
    sides = part_of_step(case.library.page[marks.RAIL_LENGTHS], finding.where)
    if finding.quantity == marks.MASH and any(within(id, sides) for id in case.by_prompt):
        return {sides}
    if finding.quantity == marks.RAIL_SHIFT:
        return _box(finding, case)
    if finding.note(OffPlan):
        return _off_the_plan(finding, case)
    prompts = _read_for(finding, case)
    if called := _called_with(prompts, case.library):
        return called
    if finding.quantity in marks.SAGS:
        return _string(prompts, case.library)
    page = case.library.page
    # The width at a level or a horn only scales what was read; it was known well enough the first
    # time.
    return {_whole(p, page[marks.SLOPES]) for p in prompts if step_of(p) != page[marks.WIDTHS]}


def _called_with(prompts: set[PromptId], library: Library) -> set[PartId]:
    """All pages that are called for together with these readings: they ask more than readings, such as
    how the bolts are and how many mounts there are.
    """
    called = {library.steps[step_of(p)].called for p in prompts} - {""}
    return {PartId(str(id)) for id, step in library.steps.items() if step.called in called}


def _read_for(finding: Finding, case: Case) -> set[PromptId]:
    """The prompts whose readings a finding leans on."""
    ids = set(finding.readings)
    return {r.prompt for r in case.survey.standing(Reading) if r.id in ids}


def _whole(prompt: PromptId, level: StepId) -> PartId:
    """The level is always turned round: its place stands for both ways."""
    return asked_of(prompt).page if step_of(prompt) == level else prompt


def _string(prompts: set[PromptId], library: Library) -> set[PartId]:
    """Both rails at each station: that one hangs lower than its twin is half of what a string
    tells.
    """
    page = library.page
    along = {p for p in prompts if step_of(p) in [page[m] for m in marks.STRING]}
    found: set[PartId] = {page[marks.STRING_BLOCKS], *(asked_of(p).page for p in along)}
    if any(step_of(p) == page[marks.STRING_UNLOADED] for p in along):
        found.update(library.in_turn(marks.ENGINE_WEIGHT))
    return found


def _box(finding: Finding, case: Case) -> set[PartId]:
    """A box by its own diagonals and sides; the front one by the bar only where no tape got across."""
    where = FRONT_BOX if finding.where == marks.BY_BAR else finding.where
    page = case.library.page
    sides, bar = part_of_step(page[marks.RAIL_LENGTHS], where), page[marks.CARRIED_BAR]
    read = {(a.step, a.item) for a in map(asked_of, case.by_prompt)}
    alike = _alike(case.library)
    for step in case.library.in_turn(marks.DIAGONALS):
        if (step, where) in read:
            boxes = alike if step in alike else (part_of_step(step, where),)
            return {*boxes, sides}
    if where == FRONT_BOX and any(step == bar for step, _ in read):
        return {bar, sides}
    return _by_corners(where, read, case) or {*_plan(case)}


def _by_corners(where: WhereId, read: Set[tuple[StepId, WhereId]], case: Case) -> set[PartId]:
    """A box by what stands in for its diagonals; nothing where neither was read."""
    step = next(
        (s for s in case.library.in_turn(marks.FROM_THE_MIDDLE) if (s, where) in read), None
    )
    box = case.layout.box_by_id.get(where)
    if step is None or box is None:
        return set()
    widths = case.library.page[marks.WIDTHS]
    across = (part_of_step(widths, place) for place in (box.front, box.rear))
    return {part_of_step(step, where), *across}


def _off_the_plan(finding: Finding, case: Case) -> set[PartId]:
    """A plan leans on every tape. A bow wants them all, a horn its own page and the box behind it.

    That box says which way the rails run on, and halves what the horns' tapes alone leave in doubt
    [computed]. On a frame with kicks the second pair is tied by several boxes, so it wants all.
    """
    if finding.quantity not in marks.HORNS:
        return {*_plan(case)}
    tips = case.library.page[marks.HORN_TIPS]
    if marks.KICKS in case.layout.traits:
        return {tips, *_plan(case)}
    behind = [part_of_step(step, FRONT_BOX) for step in case.library.in_turn(marks.DIAGONALS)]
    return {tips, *(b for b in behind if any(within(id, b) for id in case.by_prompt))}


def _plan(case: Case) -> set[StepId]:
    """Steps of the plan, but for the horns and the wheels."""
    along = (marks.RAIL_LENGTHS, marks.WIDTHS)
    tapes = case.library.in_turn(*along, marks.DIAGONALS, marks.FROM_THE_MIDDLE)
    return {step_of(id) for id in case.by_prompt} & set(tapes)


ABOUT_HALF_AN_HOUR = 32.25
"""Minutes up to which the list is filled with what need not be on it (this project's own figure): with
the two at the metal under jack and stands, the level's way back still is.
"""


def steps_worth(old: Survey, library: Library, today: datetime) -> tuple[PartId, ...]:
    """The short list of a re-check of `old`, in the order of its course: ids of steps, or of a part
    of one.

    Always on it: a pair of diagonals, sag at the middle of the string as the car stood, twist from
    end to end; whatever was over its limit, to be watched or could not be told; the places of looks
    that said stop or loose. As far as half an hour goes then: what lay nearest to a limit, the
    level's way back, what else was found, what could not be seen.
    """
    case, verdict = case_of(old, library), verdict_of(old, library, today)
    # What every reading stands on, and the one look that shows a joint at work since last time.
    wanted = {s.id for s in library.marked(marks.AGAIN)} | _always(case)
    for judged in wanting(verdict, old, library):
        wanted |= retold(judged.finding, case)
    wanted |= {s.prompt.id for s in (*stops(verdict.seen), *loose_joints(verdict.seen))}
    wanted |= {s.prompt.id for voice in verdict.voices for s in voice.seen}
    wanted |= _thin_places(verdict, case) | _all_of(case)
    for more in _worth_having(verdict, case):
        longer = _in_order(wanted | more, old, library)
        if _minutes(longer, old, library, today) <= ABOUT_HALF_AN_HOUR:
            wanted |= more
    return _in_order(wanted, old, library)


def _all_of(case: Case) -> set[StepId]:
    """The pages that are taken again as a whole, where anything of them was looked at."""
    looked = {p.step for p in case.prompts.values() if answered(case.survey, p)}
    return {s.id for s in case.library.marked(marks.ALL_AGAIN) if s.id in looked}


def _thin_places(verdict: Verdict, case: Case) -> set[PromptId]:
    """All that was read and said of a rail whose section was reckoned, or that is thin at one place:
    whether it rusts on is what a re-check is for.
    """
    pages = {case.library.page[mark] for mark in (marks.METAL, marks.THIN_PLACES)}
    told = [j for j in verdict.judged if j.finding.quantity in LEFT]
    sides = {str(j.finding.where) for j in (*told, *verdict.deep)}
    asked = (p for p in case.prompts.values() if p.step in pages and str(p.item) in sides)
    return {p.id for p in asked if answered(case.survey, p)}


def wanting(verdict: Verdict, old: Survey, library: Library) -> tuple[Judged, ...]:
    """What was over its limit, to be watched, or could not be told, the gravest first.

    What could not be told for the doubt of its own tapes, and would not be by the same tapes again,
    is not worth them.
    """
    found = [j for j in worst(verdict) if is_open(j) or j.established != "leave"]
    if all(j.established != "leave" for j in found):
        return tuple(found)
    again = compare(old, replace(old, id=f"{old.id}-again", follows=old.id), library)
    fine = {c.new.id for c in again.of("not changed")}
    return tuple(j for j in found if j.established != "leave" or compared_as(j.finding) in fine)


def _minutes(entries: tuple[PartId, ...], old: Survey, library: Library, today: datetime) -> float:
    new = following(old, library, today, entries)
    return minutes_of(new, pages(new, library, today))


def _in_order(wanted: set[PartId], old: Survey, library: Library) -> tuple[PartId, ...]:
    """The wanted in the order of the course, a step in whole or else its parts, nothing twice."""
    course = library.courses.get("recheck", library.courses["whole"])
    found = list[PartId]()
    for step in course:
        parts = [w for w in wanted if within(w, step)]
        if step in wanted:
            found.append(step)
        elif parts:
            order = [p.id for p in guide_of(old, library).questions.of(library.steps[step])]
            found += sorted(_outermost(parts), key=lambda part: _place(part, order))
    return tuple(found)


def _outermost(parts: list[PartId]) -> list[PartId]:
    """The parts that lie in no other of them."""
    return [p for p in parts if not any(p != q and within(p, q) for q in parts)]


def _place(part: PartId, order: list[PromptId]) -> int:
    return next((n for n, id in enumerate(order) if within(id, part)), len(order))


# What is always on it
# ---------------------------------------------------------------------------------------------


def _always(case: Case) -> set[PartId]:
    read = {step_of(id) for id in case.by_prompt}
    return {*_diagonals(case, read), *_sag(case, read), *_ends(case)}


def _diagonals(case: Case, read: set[StepId]) -> set[PartId]:
    turns = case.library.in_turn(marks.DIAGONALS, marks.FROM_THE_MIDDLE)
    step, alike = next((d for d in turns if d in read), turns[0]), _alike(case.library)
    if step in alike:
        return set(alike)
    if step in case.library.in_turn(marks.DIAGONALS):
        return {step}
    where = {asked_of(id).item for id in case.by_prompt if step_of(id) == step}
    longest = _longest(where, case.layout)
    return {part_of_step(step, longest)}


def _longest(ids: set[PlaceId], layout: Layout) -> PlaceId:
    """Id of the longest of these boxes, the last among equals; empty where the layout has none."""
    boxes = sorted((b for b in layout.boxes if b.id in ids), key=lambda b: _length(b, layout))
    return boxes[-1].id if boxes else NO_PLACE


def _length(box: Box, layout: Layout) -> float:
    return layout.place(box.rear).x - layout.place(box.front).x


def _sag(case: Case, read: set[StepId]) -> set[PartId]:
    """The stations at the middle, with the weight where that was read: it needs no lifting."""
    loaded, unloaded = (case.library.page[m] for m in marks.STRING)
    step = unloaded if loaded not in read and unloaded in read else loaded
    stations = _read_at(case, step) or [s.id for s in case.layout.stations]
    mount = mount_of(case.layout) if "engine_mount_x" in case.layout.figures else NO_PLACE
    middle = stations.index(mount) if mount in stations else len(stations) // 2
    set_up = case.library.page[marks.STRING_BLOCKS]
    return {set_up, *(part_of_step(step, s) for s in stations[max(middle - 1, 0) : middle + 2])}


def _read_at(case: Case, step: StepId) -> list[PlaceId]:
    """The stations at which that string was read, of either rail."""
    ids = (s.id for s in case.layout.stations)
    return [id for id in ids if any(prompt_id(step, id, s) in case.by_prompt for s in SIDES)]


def _ends(case: Case) -> set[PartId]:
    """The level at the front and the rear of the rails, where it was laid last time; everywhere, if
    it never was.
    """
    level = case.library.page[marks.SLOPES]
    laid = [
        p
        for p in case.layout.levels
        if prompt_id(level, p.id, "as-set") in case.by_prompt and p.place != case.layout.tips
    ]
    ends = (laid[0], laid[-1]) if len(laid) > 1 else ()
    return {part_of_step(level, p.id) for p in ends} or {level}


# What is on it as far as half an hour goes
# ------------------------------------------------------------------------


def _worth_having(verdict: Verdict, case: Case) -> Iterator[set[PartId]]:
    yield from (retold(j.finding, case) for j in worst(verdict) if j.worst != "leave")
    level = case.library.page[marks.SLOPES]
    yield from (
        {part_of_step(level, p.id)}
        for p in case.layout.levels
        if prompt_id(level, p.id, "again-as-set") in case.by_prompt
    )
    yield from _looks(s for s in verdict.seen if s.choice and not s.nothing)
    yield from _looks(s for s in verdict.seen if not s.counts)


def _looks(seen: Iterable[Seen]) -> list[set[PartId]]:
    """The looks of one page together: whoever lies under one rail sees the other."""
    found: dict[StepId, set[PartId]] = {}
    for s in seen:
        found.setdefault(s.prompt.step, set()).add(s.prompt.id)
    return list(found.values())


def worst(verdict: Verdict) -> list[Judged]:
    """The findings with a limit, the gravest first: the worst band not excluded, then how near to
    its next bound.
    """
    limited: Iterable[Judged] = (j for j in verdict.judged if j.bands)
    return sorted(
        limited, key=lambda j: (weight(j.worst), weight(j.established), _nearness(j)), reverse=True
    )


def _nearness(judged: Judged) -> float:
    """How much of the way to the first bound that it is not surely over, doubt included; 1 is
    there.
    """
    value = judged.finding.value
    edge = next((e for e in judged.edges if not e.is_over), judged.edges[-1])
    bound = edge.high if value >= 0 or edge.low is None else -edge.low
    return (abs(value) + judged.half_width) / bound if bound else 0.0
