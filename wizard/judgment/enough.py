"""Enough is enough: which readings of a list are not needed, since they would not change what to do.

The list is the course, fixed before the first reading; its order follows from doubts and never from
values: of a page every distance once, then every distance again. Its rest may go where the chance
that it leaves what to do as it is, the truth being just at the limit, is nine in ten
(`wizard.math.predictive`), the scatter of what is still to come is known with ten degrees of freedom
or more, nothing that was read is in doubt, and a slip of half an inch in what was read once would
still be found. It goes of a frame alone on which nothing is to be put right: what is out is read to
the last. Once the plan is taped, what is open keeps those repeats alone that are something to it.

What hangs under the string is read to the last: its hand is known by nothing but its repeats, and
what is said of a rail's shape hangs on how many there are. The first reading of anything is never
left out, but for three: a distance that another page has taped already; the bar, which reads again
what the tape has read of the front box; and the sag without the engine's weight where every station
is true with it, and stays so by as much as that rail springs: nothing is foretold there of readings
to come, for a rail that loses a weight comes up. What explains a find (what the car has been
through, how it steers) is left out once everything is read and seen and there is nothing to
explain.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from datetime import datetime
from typing import NamedTuple

from wizard.checks.case import HAND, Case, case_of
from wizard.checks.gaps import POINT
from wizard.checks.notes import OffPlan, OneOf
from wizard.checks.plan import Plan, own_part
from wizard.checks.run import comparable
from wizard.judgment.bands import Edge, Judged
from wizard.judgment.next import Advice
from wizard.judgment.sight import Sight
from wizard.judgment.sound import within_without
from wizard.library import marks
from wizard.library.places import (
    FRONT_BOX,
    PointId,
    PromptId,
    part_of,
    step_of,
    tool_named,
)
from wizard.library.shapes import Library
from wizard.math.network import Adjustment, Distance, TooThin, adjust
from wizard.math.network_outliers import SEPARABLE, smallest_seen
from wizard.math.predictive import CURTAILED, Ahead, stays_over, stays_within
from wizard.survey.guide import Page, course_name, stop_of
from wizard.survey.prompts import Prompt, answered, wanting
from wizard.survey.record import Survey
from wizard.survey.rows import NO_LONGER, WANTED, Doubt, Fold, Reading

SLIGHT = 0.02
"""Share of the squared doubt of a finding that a rest may take off and still be nothing to it: its u
falls by less than a hundredth (this project's own figure).
"""
KNOWN = 10.0
"""Degrees of freedom with which a scatter is known: to about a fifth (JCGM 100:2008 G.4.2)."""
DRILLED = 3
"""Readings of one distance after which no other page tapes it anew (this project's own figure)."""
SLIP_MM = 12.7
"""Half an inch: a slip of that size must be found in whatever is read but once."""
BY_BAR = 0.5
"""Share that the bar is taken to leave of the doubt of the tape: less than it does, so that it is
credited with more say than it has."""
FINE = frozenset({"leave", "watch"})
"""Bands that ask for nothing to be put right."""
Pair = frozenset[PointId]
Settled = tuple[Judged, float]
"""A finding, and the limit within which it is known to lie."""


class Enough(NamedTuple):
    """The rest of a list that is not needed."""

    kind: str
    """hand: the scatter is known; taped: another page has taped it; settled: what to do is; weight:
    what the engine's weight bends is; plain: nothing was found that it would explain.
    """
    prompts: tuple[PromptId, ...]
    readings: tuple[str, ...]
    """Ids of those that it rests on."""
    judged: tuple[Judged, ...] = ()
    """What is settled, first what the page tells of it."""
    upto: float = 0.0
    """The limit within which that is known to lie, in its unit."""


def enough(sight: Sight, now: datetime, asked: Prompt) -> Enough | None:
    """The rest of a list that is not needed once a reading of `asked` is in; None where all is."""
    survey = sight.survey
    if survey.follows or survey.takes_all or course_name(survey) != marks.WHOLE:
        return None
    walk = sight.walk(now)
    page = stop_of(walk, asked)
    if page is None or page.gone:
        return None
    found = _drill(sight, page) if page.step.reads == marks.DRILL else _again(sight, walk, page)
    return found or _elsewhere(sight, walk) or _plain(sight, now, walk)


def _elsewhere(sight: Sight, walk: tuple[Page, ...]) -> Enough | None:
    """What another page asks, and what is known without it."""
    return _taped(sight, walk) or _bar(sight, walk) or _weight(sight, walk)


def apart(sight: Sight, earlier: Survey, field: str, now: datetime) -> tuple[PromptId, ...]:
    """What a re-check reads for nothing but figures that cannot be compared with last time's, for that
    field of the state is another one today; with whatever serves these readings alone. What was called
    for stays: it tells of today as well.
    """
    walk, (alone, others) = sight.walk(now), _read_for(earlier, field, sight.library)
    asked = (page for page in walk if not (page.gone or page.step.called))
    parts = (_of_page(page, alone, others) for page in asked)
    left = [p for part in parts for p in part if not answered(sight.survey, p)]
    tools = _tools(walk, [p for p in left if p.kind.measures])
    gaps = _along(sight, marks.STRING_UNLOADED)
    lifting = _lifting(walk) if alone.issuperset(_ids(gaps)) else []
    return (*_ids(left), *tools, *_ids(lifting))


def _read_for(earlier: Survey, field: str, library: Library) -> tuple[set[PromptId], set[PromptId]]:
    """What was read last time for nothing but figures that hang on that field, and what for others."""
    then = {r.id: r.prompt for r in earlier.standing(Reading)}
    alone, others = set[PromptId](), set[PromptId]()
    for found in comparable(case_of(earlier, library)):
        read = alone if field in found.of.hangs_on else others
        read.update(then[id] for id in found.readings if id in then)
    return alone - others, others


def _of_page(page: Page, alone: set[PromptId], others: set[PromptId]) -> tuple[Prompt, ...]:
    """What of a page is read for these figures alone: all of it, where nothing else is read there."""
    here = tuple(p for p in page.prompts if p.id in alone)
    return page.prompts if here and others.isdisjoint(_ids(page.prompts)) else here


def no_longer(sight: Sight, asked: Prompt, now: datetime) -> tuple[Fold, ...]:
    """What was left out and is wanted after all: the tapes do not agree with it, what was settled
    is open again, or there is something to explain. asked: what was read or looked at last.
    """
    folds = [f for f in sight.survey.folds() if _explains(sight, f) or _may_change(f, asked)]
    torn = sight.plan if folds and asked.start and _is_torn(sight.plan) else None
    return tuple(f for f in folds if _is_lost(sight, f, torn, now))


def _explains(sight: Sight, fold: Fold) -> bool:
    """Whether what was left out would explain a find."""
    step = sight.library.steps.get(step_of(PromptId(fold.prompts.split()[0])))
    return step is not None and marks.EXPLAINS in step.marks


def _may_change(fold: Fold, asked: Prompt) -> bool:
    """Whether a reading can open what was settled: a tape the plan, a gap what hangs on the
    string.
    """
    return bool(fold.settled) and bool(asked.start or asked.point == POINT)


def _is_lost(sight: Sight, fold: Fold, torn: Plan | None, now: datetime) -> bool:
    if _explains(sight, fold):
        return not sight.verdict(now).explains_itself
    if torn is not None and any(PromptId(id) in torn.taken for id in fold.prompts.split()):
        return True
    settled = fold.settled.split()
    held = (j for j in sight.judged if str(j.finding.id) in settled)
    return any(j.finding.disagrees or not set(j.bands) <= FINE for j in held)


# The ways to leave something out ------------------------------------------------------------------


def _drill(sight: Sight, page: Page) -> Enough | None:
    """Of the drill, what is left once the scatter of the hand is known."""
    left = _open(sight.survey, page.prompts)
    if not left or not _may_rest(sight, left):
        return None
    return Enough("hand", _ids(left), _read(sight.case, left))


def _taped(sight: Sight, walk: tuple[Page, ...]) -> Enough | None:
    """Distances that the drill has taped, and that no page needs to tape anew."""
    done = {_pair(p): p for p in _drilled(sight, walk)}
    left = [p for p in _unread(sight.survey, walk) if _pair(p) in done] if done else []
    if not left:
        return None
    return Enough("taped", _ids(left), _read(sight.case, [done[_pair(p)] for p in left]))


def _drilled(sight: Sight, walk: tuple[Page, ...]) -> list[Prompt]:
    """What the drill has taped to its end."""
    drills = (page for page in walk if page.step.reads == marks.DRILL)
    return [p for page in drills for p in page.prompts if _is_drilled(sight, p)]


def _unread(survey: Survey, walk: tuple[Page, ...]) -> list[Prompt]:
    """The distances of which no reading is in yet."""
    asked = _open(survey, (p for page in walk if not page.gone for p in page.prompts))
    return [p for p in asked if p.kind.spans and not answered(survey, p)]


def _is_drilled(sight: Sight, drill: Prompt) -> bool:
    times, more = answered(sight.survey, drill), wanting(sight.survey, drill)
    return times >= DRILLED and not more and _is_sound(sight, drill)


def _again(sight: Sight, walk: tuple[Page, ...], page: Page) -> Enough | None:
    """Of a page that reads everything twice, the second time; with it goes what only tells more of a
    difference that there is not.
    """
    left = _open(sight.survey, page.prompts)
    rest = [p for p in left if not p.optional]
    if not _are_repeats(sight, rest):
        return None
    found = _settling(sight, walk, page, left, _leaning(sight, _more(sight.survey, rest)))
    if found or _is_taped_on(sight, walk):
        return found
    aside = _aside(sight, rest)
    more = _more(sight.survey, aside)
    touched = [j for j in _leaning(sight, more) if _falls(sight, j, more)]
    return _settling(sight, walk, page, aside, touched) if aside else None


def _settling(
    sight: Sight,
    walk: tuple[Page, ...],
    page: Page,
    left: list[Prompt],
    leaning: list[Judged],
) -> Enough | None:
    """These repeats of a page, where all that leans on them is settled without."""
    rest = [p for p in left if not p.optional]
    limits = _limits(sight, _more(sight.survey, rest), leaning)
    if not limits or not _slips_show(sight, walk, rest):
        return None
    told, upto = _told(page, rest, limits)
    judged = (told, *(j for j, _ in limits if j is not told))
    return Enough("settled", _ids(left), _read(sight.case, page.prompts), judged, upto)


def _more(survey: Survey, rest: Iterable[Prompt]) -> dict[PromptId, int]:
    """How many readings of each are still to come."""
    return {p.id: p.repeats - answered(survey, p) for p in rest}


def _is_taped_on(sight: Sight, walk: tuple[Page, ...]) -> bool:
    """Whether the plan is still to be taped for the first time somewhere: what a repeat is worth to it
    is not known before.
    """
    along = (marks.RAIL_LENGTHS, marks.WIDTHS, marks.DIAGONALS, marks.FROM_THE_MIDDLE)
    plan = sight.library.in_turn(*along)
    return any(p.step in plan for p in _unread(sight.survey, walk))


def _aside(sight: Sight, rest: list[Prompt]) -> list[Prompt]:
    """Of these repeats those that are nothing to any finding that is open: another box is."""
    more = _more(sight.survey, rest)
    ahead = [(j, _ahead(sight.case, j, more)) for j in _leaning(sight, more) if j.edges]
    undone = [j for j, then in ahead if not _settled(j, then)]
    aside = [p for p in rest if not any(_falls(sight, j, {p.id: more[p.id]}) for j in undone)]
    return aside if len(aside) < len(rest) else []


def _are_repeats(sight: Sight, rest: list[Prompt]) -> bool:
    """Whether all that is left was read before, by a hand that is known, and nothing of it doubted."""
    if not rest or not all(answered(sight.survey, p) and p.point != POINT for p in rest):
        return False
    return _may_rest(sight, rest)


def _bar(sight: Sight, walk: tuple[Page, ...]) -> Enough | None:
    """The bar, once the tape has settled the front box."""
    survey = sight.survey
    page = next((p for p in walk if p.step.reads == marks.CARRIED_BAR and not p.gone), None)
    left = _open(survey, page.prompts) if page else []
    if not left or any(answered(survey, p) for p in left):
        return None
    taped = _diagonals(walk)
    box, upto = _box_by_tape(sight, taped)
    if box is None or not upto:
        return None
    prompts = (*_ids(left), *_tools(walk, left))
    return Enough("settled", prompts, _read(sight.case, taped), (box,), upto)


def _box_by_tape(sight: Sight, taped: list[Prompt]) -> tuple[Judged | None, float]:
    """The front box once its diagonals are taped, and the limit within which it is settled."""
    survey = sight.survey
    if not taped or any(wanting(survey, p) or not answered(survey, p) for p in taped):
        return None, 0.0
    box = next((j for j in sight.judged if _is_front_box(j)), None)
    if box is None or not _may_rest(sight, taped):
        return None, 0.0
    number = box.finding.number
    return box, _settled(box, Ahead(number.value, number.u, number.u * BY_BAR, number.dof))


def _is_front_box(judged: Judged) -> bool:
    found = judged.finding
    by_tape = found.note(OffPlan) is not None and not found.disagrees
    return by_tape and (found.quantity, found.where) == (marks.RAIL_SHIFT, FRONT_BOX)


def _diagonals(walk: tuple[Page, ...]) -> list[Prompt]:
    """The diagonals of the front box as the tape reads them."""
    pages = (page for page in walk if marks.DIAGONALS in page.step.marks and not page.gone)
    return [p for page in pages for p in page.prompts if p.item == FRONT_BOX and p.kind.spans]


def _weight(sight: Sight, walk: tuple[Page, ...]) -> Enough | None:
    """Taking the engine's weight off and reading the string again, once every station is true with
    the weight on and would be without it.
    """
    lifting = _lifting(walk)
    loaded, gaps = (_along(sight, reads) for reads in (marks.STRING_LOADED, marks.STRING_UNLOADED))
    gaps = _open(sight.survey, gaps)
    if not lifting or not gaps or any(answered(sight.survey, p) for p in (*lifting, *gaps)):
        return None
    upto = within_without(sight.case, sight.judged, len(gaps)) if _is_read(sight, loaded) else 0.0
    if not upto:
        return None
    judged = tuple(j for j in sight.judged if j.finding.quantity == marks.SAG_LOADED)
    return Enough("weight", _ids([*lifting, *gaps]), _read(sight.case, loaded), judged, upto)


def _lifting(walk: tuple[Page, ...]) -> list[Prompt]:
    """What is asked where the engine's weight goes off."""
    pages = (page for page in walk if marks.ENGINE_WEIGHT in page.step.marks)
    return [p for page in pages for p in page.prompts if not p.kind.acknowledges]


def _along(sight: Sight, reads: str) -> list[Prompt]:
    """The gaps along the string in that state, whether or not the car is in it."""
    return [p for p in sight.case.prompts.values() if p.reads == reads and p.point == POINT]


def _is_read(sight: Sight, prompts: list[Prompt]) -> bool:
    """Whether these were read to the last, and nothing of them is doubted."""
    survey = sight.survey
    return all(answered(survey, p) and not wanting(survey, p) for p in prompts) and all(
        _is_sound(sight, p) for p in prompts
    )


def _plain(sight: Sight, now: datetime, walk: tuple[Page, ...]) -> Enough | None:
    """What would explain a find, once all is read and seen and there is none."""
    survey, there = sight.survey, [page for page in walk if not page.gone]
    left = _open_of(survey, filter(_is_to_explain, there))
    if not left or _is_left(survey, there) or not sight.verdict(now).explains_itself:
        return None
    return Enough("plain", _ids(left), tuple(r.id for r in survey.standing(Reading)))


def _is_left(survey: Survey, there: list[Page]) -> bool:
    """Whether anything is still to be read or looked at that does not explain."""
    rest = _open_of(survey, (page for page in there if not _is_to_explain(page)))
    return any(p.kind.counts and not p.optional for p in rest)


def _open_of(survey: Survey, pages: Iterable[Page]) -> list[Prompt]:
    """What is still asked on these pages, but for what was left out once and is wanted after
    all.
    """
    asked = (p for page in pages for p in page.prompts if not p.kind.acknowledges)
    back = _called_back(survey)
    return [p for p in asked if wanting(survey, p) and p.id not in back]


def _is_to_explain(page: Page) -> bool:
    return marks.EXPLAINS in page.step.marks


def _tools(walk: tuple[Page, ...], left: list[Prompt]) -> tuple[PromptId, ...]:
    """What asks for a tool with which nothing but this is read."""
    here, tools = set(_ids(left)), {p.tool for p in left}
    asked = [p for page in walk for p in page.prompts]
    used = {p.tool for p in asked if p.kind.measures and p.id not in here}
    return _ids([p for p in asked if tool_named(p.keep) in tools - used])


# Whether it may -----------------------------------------------------------------------------------


def _open(survey: Survey, prompts: Iterable[Prompt]) -> list[Prompt]:
    """The readings still wanted, but for those that were left out once and are wanted after all."""
    kept = _called_back(survey)
    return [p for p in prompts if p.kind.measures and p.id not in kept and wanting(survey, p)]


def _called_back(survey: Survey) -> set[PromptId]:
    """What was left out once and is wanted after all."""
    back = (f for f in survey.table(Fold) if f.struck in (WANTED, NO_LONGER))
    return {PromptId(id) for f in back for id in f.prompts.split()}


def _may_rest(sight: Sight, prompts: Iterable[Prompt]) -> bool:
    """Whether these were read by a hand that is known, and nothing of them is doubted."""
    return all(_is_sound(sight, p) and _is_known(sight.case, p) for p in prompts)


def _is_sound(sight: Sight, prompt: Prompt) -> bool:
    """Whether none of its readings was doubted when it was typed, or is proved a slip, and the tapes
    agree with one another.
    """
    ids = {r.id for r in sight.survey.readings_of(prompt.id)}
    doubted = any(d.reading in ids for d in sight.survey.standing(Doubt))
    return not doubted and prompt.id not in sight.case.slips and not _is_torn(sight.plan)


def _is_torn(plan: Plan | None) -> bool:
    return plan is not None and (plan.strain > 1.0 or plan.suspects is not None)


def _is_known(case: Case, prompt: Prompt) -> bool:
    """Whether the scatter of the hand with that tool is known, from whatever kind of point."""
    pools = (pooled.dof for (tool, _), pooled in case.pooled.items() if tool == prompt.tool)
    return max(pools, default=0.0) >= KNOWN


def _limits(sight: Sight, more: Mapping[PromptId, int], leaning: list[Judged]) -> list[Settled]:
    """Each finding that leans on these readings with the limit within which it is settled; nothing
    where one of them is not. more: how many readings of each are still to come.
    """
    if any(j.finding.quantity == marks.CLOSURE and j.stands_out for j in leaning):
        return []
    judged = [j for j in leaning if j.edges]
    found = [(j, _settled(j, _ahead(sight.case, j, more))) for j in judged]
    return found if all(upto for _, upto in found) else []


def _leaning(sight: Sight, ids: Iterable[PromptId]) -> list[Judged]:
    """The findings that the hand's part of these readings goes into."""
    wanted = set(ids)
    return [j for j in sight.judged if wanted & set(_hands(j))]


def _falls(sight: Sight, judged: Judged, more: Mapping[PromptId, int]) -> bool:
    """Whether these readings would take anything worth naming off the doubt of a finding."""
    ahead = _ahead(sight.case, judged, more)
    return ahead.kept < 1.0 - SLIGHT


def _hands(judged: Judged) -> dict[PromptId, float]:
    """By prompt, how much of a finding's doubt is the hand's."""
    sizes = judged.finding.number.sizes.items()
    return {part_of(name).prompt: size for name, size in sizes if part_of(name).kind == HAND}


def _ahead(case: Case, judged: Judged, more: Mapping[PromptId, int]) -> Ahead:
    """The finding, and what its doubt would be with these readings."""
    number, fall = judged.finding.number, 0.0
    for id, size in _hands(judged).items():
        times = more.get(id, 0)
        fall += size * size * times / (times + len(case.counted.get(id, ())) or 1)
    dofs = (case.pooled[key].dof for key in case.pooled if key[0] in _used(case, more))
    then = math.sqrt(max(0.0, number.u**2 - fall))
    return Ahead(number.value, number.u, then, min(number.dof, max(dofs, default=math.inf)))


def _used(case: Case, more: Mapping[PromptId, int]) -> set[str]:
    return {case.prompts[id].tool for id in more}


def _settled(judged: Judged, ahead: Ahead) -> float:
    """The limit within which a finding is settled, whatever its list still reads; 0 where what to do
    may yet change.
    """
    if judged.established != "leave" or not set(judged.bands) <= FINE:
        return 0.0
    first, note = judged.edges[0], judged.finding.note(OneOf)
    if first.high is None:
        return 0.0
    among = note.judged if note else 1
    if 1.0 - stays_over(ahead, first.high, first.low, among) < CURTAILED:
        return 0.0
    return next((e.high or 0.0 for e in judged.edges[:2] if _stays(ahead, e)), 0.0)


def _stays(ahead: Ahead, edge: Edge) -> bool:
    return edge.high is not None and stays_within(ahead, edge.high, edge.low) >= CURTAILED


# Slips --------------------------------------------------------------------------------------------


def _slips_show(sight: Sight, walk: tuple[Page, ...], rest: list[Prompt]) -> bool:
    """Whether a slip of half an inch in any of these, read as often as they are, would be found and
    named once the first reading of all else is in. What is no part of the plan is a difference of
    two: there a slip stands in the difference itself, which then is not settled.
    """
    spots = sight.case.ground.spots
    ours = [p for p in rest if p.start in spots and p.end in spots]
    plan = _as_it_will_be(sight, walk) if ours else None
    if plan is None:
        return not ours
    rows = {d.id: n for n, d in enumerate(plan.distances)}
    return all(str(p.id) in rows and _shows(plan, rows[str(p.id)]) for p in ours)


def _shows(plan: Adjustment, row: int) -> bool:
    others = (abs(float(c)) for n, c in enumerate(plan.correlation[row]) if n != row)
    return smallest_seen(plan, row) <= SLIP_MM and max(others, default=0.0) < SEPARABLE


def _as_it_will_be(sight: Sight, walk: tuple[Page, ...]) -> Adjustment | None:
    """The plan of all that the course tapes, in the round places: what is still to be taped once."""
    plan, points = sight.plan, sight.case.ground.places
    doubts = {id: own_part(o)[0] for id, o in plan.observations.items()} if plan else {}
    usual = sorted(doubts.values())[len(doubts) // 2] if doubts else 1.0
    distances = [
        Distance(
            *(str(p.id), str(p.start), str(p.end)),
            math.dist(points[str(p.start)], points[str(p.end)]),
            doubts.get(str(p.id), usual),
        )
        for p in _spans(sight, walk)
    ]
    try:
        found = adjust(points, distances)
    except (TooThin, ValueError):
        return None
    return found if found.converged else None


def _spans(sight: Sight, walk: tuple[Page, ...]) -> list[Prompt]:
    """The distances between two points that are taped, or will be."""
    points = sight.case.ground.spots
    asked = {p.id: p for page in walk if not page.gone for p in page.prompts}
    spans = (p for p in asked.values() if p.kind.spans and {p.start, p.end} <= points.keys())
    return [p for p in spans if p.id in sight.case.by_prompt or _will_be(sight.survey, p)]


def _will_be(survey: Survey, prompt: Prompt) -> bool:
    return wanting(survey, prompt) and not prompt.optional


# What is told of it -------------------------------------------------------------------------------


def _told(page: Page, rest: list[Prompt], limits: list[Settled]) -> Settled:
    """Of what is settled, what the page itself tells first, the least known of it."""
    shown = [(j, upto) for j, upto in limits if page.step.check in j.finding.of.shown]
    items = {p.item for p in rest}
    here = [(j, upto) for j, upto in shown if j.finding.where in items] or shown or limits
    first = here[0][0].finding.quantity
    alike = ((j, upto) for j, upto in here if j.finding.quantity == first)
    return max(alike, key=lambda found: found[1])


def _pair(prompt: Prompt) -> Pair:
    return frozenset((prompt.start, prompt.end))


def _ids(prompts: Iterable[Prompt]) -> tuple[PromptId, ...]:
    return tuple(p.id for p in prompts)


def _read(case: Case, prompts: Iterable[Prompt]) -> tuple[str, ...]:
    return tuple(r.id for p in prompts for r in case.by_prompt.get(p.id, ()))


# What would settle what is open -------------------------------------------------------------------


class Offer(NamedTuple):
    """One reading more, or a few, that would settle something that is open."""

    advice: Advice
    judged: Judged
    minutes: float


def best_offer(sight: Sight, now: datetime, *, string: bool = False) -> Offer | None:
    """Of all readings that this car still allows, and that the course will not ask for by itself, the
    one that brings the doubt down most for the minutes that it takes; None where none would settle
    anything that matters. string: whether it still hangs; nobody sets it up for one reading.
    """
    judged = {j.finding.id: j for j in sight.judged}
    asks = {a.prompt.id: page for page in sight.walk(now) if not page.gone for a in page.asks}
    prompts = sight.case.prompts
    offers = [
        Offer(advice, judged[advice.finding], _minutes(asks[advice.prompt], advice.times))
        for advice in sight.verdict(now).advice
        if advice.settles and advice.prompt in asks
        if _may_be_offered(sight.survey, prompts[advice.prompt], string)
    ]
    return max(offers, key=_gain, default=None)


def _may_be_offered(survey: Survey, prompt: Prompt, string: bool) -> bool:
    at_hand = string or prompt.point != POINT
    return at_hand and answered(survey, prompt) > 0 and not wanting(survey, prompt)


def _minutes(page: Page, times: int) -> float:
    return max(1.0, times * page.step.minutes / max(page.of, len(page.asks), 1))


def _gain(offer: Offer) -> float:
    """The share of the doubt that goes, a minute."""
    return (1.0 - offer.advice.u_then / offer.advice.u_now) / offer.minutes
