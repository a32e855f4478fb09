"""What to measure next: the reading that would best settle a finding that cannot be told yet.

Source: u at which the question is settled, ISO 14253-1:2017 guard band; gain of one more distance
in a plan, update of an inverse for one more row (Sherman and Morrison, from memory).
"""

import math
from collections.abc import Collection, Iterable, Sequence
from datetime import datetime
from typing import NamedTuple

from wizard.checks.case import Case, case_of
from wizard.checks.edge import is_unknown
from wizard.checks.notes import OffPlan
from wizard.checks.plan import Plan, own_part, plan_of
from wizard.checks.plan_findings import horn_difference, main_pairs, shift_of
from wizard.judgment.bands import ORDER, Edge, Judged
from wizard.library import marks
from wizard.library.places import NO_PROMPT, FindingId, PromptId, Tape, asked_of, part_of
from wizard.library.shapes import Library
from wizard.math.conformance import u_to_settle
from wizard.math.network_derived import sway
from wizard.math.network_doubt import Candidate, Derived, best_next
from wizard.math.predictive import Ahead, foreseen
from wizard.survey.guide import pages
from wizard.survey.prompts import Prompt
from wizard.survey.record import Survey

MOST_REPEATS = 12
"""More repeats than this in all nobody takes: then the tool is the answer."""


class Advice(NamedTuple):
    """What would help one finding."""

    finding: FindingId
    kind: str
    """repeat (the same again), measure (a distance not taped yet), tool (a finer one), points
    (others beside them), at-limit (nothing would), shape (how the maker shaped an edge), sister
    (another frame of the make, where neither edge was made straight).
    """
    prompt: PromptId
    """Prompt id to answer, empty for a tool or other points."""
    label: str
    """Its words, or the name of the largest part of the doubt."""
    times: int
    """How many readings more of each; 0 for a tool or other points."""
    u_now: float
    u_then: float
    """Standard uncertainty with it, in the finding's unit."""
    settles: bool
    """Whether that would settle it, were the value to stay where it is."""


def can_change(judged: Judged, action: str) -> bool:
    """Whether settling an open finding could make the verdict graver: only then is a reading more
    worth asking for.

    Were it to turn out milder, nothing changes: the verdict rests on what is established elsewhere.
    """
    if action == "stop":
        return False
    now = ORDER.index(action) if action in ("axle-first", "put-right", "specialist") else 0
    return ORDER.index(judged.worst) > now


def advise(
    judged: Judged, survey: Survey, library: Library, today: datetime, action: str = ""
) -> Advice | None:
    """The best next reading for an open finding; None where nothing is open.

    action: what the verdict says already. A reading that could not change it is not asked for.
    """
    found = _advice(judged, survey, library, today)
    if found is not None and found.kind in ("repeat", "measure") and not can_change(judged, action):
        return None
    return found


def _advice(judged: Judged, survey: Survey, library: Library, today: datetime) -> Advice | None:
    edge = _open_edge(judged)
    if len(judged.bands) < 2 or edge is None or judged.finding.disagrees:
        return None  # where the tapes contradict one another, that comes first
    number = judged.finding.number
    if is_unknown(number):  # More readings do nothing for it, wherever the value lies.
        kind = "shape" if _may_be_known(case_of(survey, library)) else "sister"
        asked = judged.finding.id, kind, NO_PROMPT, "", 0, number.u, number.u, False
        return Advice(*asked)
    limit = _limit_at(edge, number.value)
    wanted = u_to_settle(number.value, limit, number.dof)
    near = abs(abs(number.value) - abs(limit)) < 0.2 * abs(limit)
    if near and wanted < 0.1 * number.u:
        return Advice(
            judged.finding.id, "at-limit", NO_PROMPT, judged.name, 0, number.u, number.u, False
        )
    case = case_of(survey, library)
    open_prompts = _open_prompts(case, survey, library, today)
    return (
        _round_figure(judged, case, open_prompts, wanted)
        or _from_plan(judged, case, open_prompts, wanted)
        or _repeats(judged, case, wanted)
        or _tool(judged)
    )


def _may_be_known(case: Case) -> bool:
    """Whether the maker's shape of the edge may still be found out: it is not that the maker made
    neither edge straight.
    """
    return case.meant(marks.EDGES) != marks.NEITHER


def _open_edge(judged: Judged) -> Edge | None:
    """The first bound of which nobody can say yet on which side of it the value lies."""
    return next((e for e in judged.edges if not e.is_over and not e.is_within), None)


def _limit_at(edge: Edge, value: float) -> float:
    """The end of the band on the value's own side of zero."""
    limit = edge.high if value >= 0 or edge.low is None else edge.low
    return limit or 0.0


def _open_prompts(
    case: Case, survey: Survey, library: Library, today: datetime
) -> dict[PromptId, Prompt]:
    """Lengths that the car's state lets a person take and that have no reading yet."""
    found = (p for page in pages(survey, library, today) for p in page.prompts if p.kind.spans)
    return {p.id: p for p in found if p.id not in case.by_prompt and not survey.skipped(p.id)}


def _round_figure(
    judged: Judged, case: Case, open_prompts: dict[PromptId, Prompt], wanted: float
) -> Advice | None:
    """A size that came from the layout and carries most of the doubt: tape it."""
    number = judged.finding.number
    largest = max(number.parts, key=lambda p: abs(p.size), default=None)
    if largest is None or part_of(largest.name).kind != "round":
        return None
    sizes = [case.library.page[m] for m in (marks.RAIL_LENGTHS, marks.WIDTHS)]
    prompt = next((p for p in open_prompts.values() if p.step in sizes), None)
    if prompt is None:
        return None
    u_then = math.sqrt(max(0.0, number.u**2 - largest.size**2))
    return Advice(
        judged.finding.id, "measure", prompt.id, prompt.ask, 1, number.u, u_then, u_then <= wanted
    )


def _from_plan(
    judged: Judged, case: Case, open_prompts: dict[PromptId, Prompt], wanted: float
) -> Advice | None:
    """The distance not taped yet that brings the doubt down most, if it beats half of what is
    wanted.
    """
    if not judged.finding.note(OffPlan):
        return None
    plan = plan_of(case)
    quantity = _quantity(judged, case, plan) if plan else None
    if plan is None or quantity is None:
        return None
    by_pair = _untaped(plan, open_prompts)
    usual = _usual_doubt(plan)
    best = best_next(plan.adjustment, quantity, [Candidate(a, b, usual) for a, b in by_pair])
    if best is None:
        return None
    number = judged.finding.number
    u_then = math.sqrt(max(0.0, number.u**2 - best.variance_fall))
    if u_then > wanted and u_then > 0.8 * number.u:
        return None
    prompt = by_pair[(best.candidate.a, best.candidate.b)]
    return Advice(
        judged.finding.id, "measure", prompt.id, prompt.ask, 1, number.u, u_then, u_then <= wanted
    )


def _untaped(plan: Plan, open_prompts: dict[PromptId, Prompt]) -> dict[tuple[str, str], Prompt]:
    """The prompts between two points that the plan places, by their points."""
    prompts = open_prompts.values()
    return {(str(p.start), str(p.end)): p for p in prompts if plan.places(p.start, p.end)}


def _usual_doubt(plan: Plan) -> float:
    """The doubt of its own of the middle one of the plan's tapes."""
    doubts = sorted(own_part(o)[0] for o in plan.observations.values())
    return doubts[len(doubts) // 2]


def _quantity(judged: Judged, case: Case, plan: Plan) -> Derived | None:
    """The finding as something read off the plan, to ask what would sharpen it."""
    f = judged.finding
    if f.quantity == marks.RAIL_SHIFT:
        return shift_of(case, plan, case.layout.box_by_id[f.where])
    pairs = main_pairs(case, plan, own=True)
    if f.quantity == marks.SWAY:
        left, right = case.layout.place(f.where).pair
        return sway(plan.adjustment, (pairs[0], pairs[-1]), (str(left), str(right)))
    return horn_difference(case, plan) if f.quantity == marks.HORN_APART else None


def _repeats(judged: Judged, case: Case, wanted: float) -> Advice | None:
    """The readings behind the finding once or more again: only the hand's share of the doubt goes
    down with them.
    """
    number = judged.finding.number
    hands = [p for p in number.parts if part_of(p.name).kind == "hand"]
    hand = sum(p.size**2 for p in hands)
    if not hands or hand < 0.25 * number.u**2:
        return None
    fixed = number.u**2 - hand
    largest = part_of(max(hands, key=lambda p: abs(p.size)).name).prompt
    have = len(case.by_prompt.get(largest, ())) or 1
    factor = hand / (wanted**2 - fixed) if wanted**2 > fixed else math.inf
    settles = factor * have <= MOST_REPEATS
    times = max(1, math.ceil(factor * have) - have) if settles else 3
    u_then = math.sqrt(fixed + hand * have / (have + times))
    label = case.prompts[largest].ask if largest in case.prompts else str(largest)
    return Advice(judged.finding.id, "repeat", largest, label, times, number.u, u_then, settles)


def _tool(judged: Judged) -> Advice:
    """No repeat helps: what carries the doubt is the tool or, where it is not known which spot of a
    rivet is meant, the points.
    """
    number = judged.finding.number
    largest = max(number.parts, key=lambda p: abs(p.size))
    u_then = math.sqrt(max(0.0, number.u**2 - largest.size**2))
    return Advice(
        judged.finding.id,
        "points" if part_of(largest.name).kind == "point" else "tool",
        NO_PROMPT,
        largest.source or largest.name,
        0,
        number.u,
        u_then,
        False,
    )


# What the answer asks for -------------------------------------------------------------------------


def to_read_again(
    advice: Sequence[Advice], judged: Collection[Judged], case: Case
) -> list[PromptId]:
    """The measurements that the answer asks for: those of the first thing that is open, of a tape
    both ways across. Empty where it asks for none.
    """
    first = next((a for a in advice if a.kind in ("repeat", "measure")), None)
    if first is None:
        return []
    behind = {id for j in judged if j.finding.id == first.finding for id in j.finding.readings}
    read = (p for p, rows in case.by_prompt.items() if behind.intersection([r.id for r in rows]))
    twins = _twins_of(asked_of(first.prompt).tape, read)
    return list(dict.fromkeys([first.prompt, *twins]))


def _twins_of(tape: Tape | None, read: Iterable[PromptId]) -> list[PromptId]:
    """Of these prompts that of the same distance across the frame."""
    ends = set(tape.other.ends) if tape else set()
    return [p for p in read if (one := asked_of(p).tape) is not None and set(one.ends) == ends]


def chance_to_settle(judged: Judged, advice: Advice) -> float:
    """How likely it is that the reading settles what is open: the figure moves with it, by as much
    as its doubt goes down (wizard/math/predictive.py).
    """
    number, edge = judged.finding.number, _open_edge(judged)
    if edge is None or edge.high is None or advice.u_then >= advice.u_now:
        return 0.0
    ahead = Ahead(number.value, advice.u_now, advice.u_then, number.dof)
    return 1.0 - foreseen(ahead, edge.high, edge.low).open
