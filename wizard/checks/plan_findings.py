"""What the plan says of the frame: diamond and mash of each box, sway, and the horns against each
other.

Signs: rail shift positive when the right rail is further back; mash positive when the right rail is
the longer; sway positive when the middle bows to the right; horns positive when the left one stands
further out.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import chain

from wizard.checks.case import Case
from wizard.checks.finding import Finding
from wizard.checks.notes import Slip
from wizard.checks.plan import Plan, one_diagonal, plan_finding
from wizard.library import marks
from wizard.library.places import (
    DIFFERENCE,
    PlaceId,
    PointId,
    PromptId,
    WhereId,
    is_own,
    pair_ids,
    point_of,
)
from wizard.library.shapes import Box, Place
from wizard.math.network_derived import (
    CenterLine,
    Pair,
    back_beyond,
    center_line,
    diamonds_and_mashes,
    fore_and_aft,
    horn_sideways,
    off_line,
    sway,
)
from wizard.math.network_doubt import Derived
from wizard.math.network_slips import recognize_slip
from wizard.math.uncertain import Part, Uncertain

RETURNS = (
    marks.RAIL_SHIFT,
    marks.MASH,
    marks.SWAY,
    marks.NOSE_OFF,
    marks.HORN_APART,
    marks.HORN_OUT,
    marks.HORN_BACK,
    marks.SUSPECT,
)
FROM = "plan"


def _suspects(case: Case, plan: Plan) -> list[Finding]:
    """The reading that is probably wrong, or the set in which nothing can say which; never left out
    silently.
    """
    found = plan.suspects
    if found is None:
        return []
    worst = found.readings[0]
    value = plan.observations[worst.id].value
    slip = ""
    if found.named:
        # Not against the twin: on a frame alike on both sides any slip of one reading looks like
        # sides changed over.
        slip = recognize_slip(worst.error_mm, worst.u_mm, value, case.survey.unit) or ""
    ids = tuple(i for s in found.readings for i in plan.taken[PromptId(s.id)].ids)
    asks = tuple(plan.taken[PromptId(s.id)].prompt.ask for s in found.readings)
    notes = (Slip(found.named is not None, slip, asks),)
    number = Uncertain(worst.error_mm, (Part("suspect", worst.u_mm, plan.adjustment.dof),))
    return [case.found(marks.SUSPECT, WhereId("plan"), number, ids, *notes)]


def _pair(place: PlaceId) -> Pair:
    left, right = pair_ids(place)
    return str(left), str(right)


def check(case: Case, plan: Plan) -> list[Finding]:
    """Every quantity that the plan's placed points allow."""
    return [
        *_boxes(case, plan),
        *_sway(case, plan),
        *_noses(case, plan),
        *_horns(case, plan),
        *_suspects(case, plan),
    ]


def _boxes(case: Case, plan: Plan) -> list[Finding]:
    half = one_diagonal(case)
    there = (box for box in case.layout.boxes if box.front != case.layout.tips)
    boxes = [box for box in there if box.id not in half]
    return [
        plan_finding(case, plan, quantity, box.id, plan.number(number))
        for box, read in zip(boxes, _read_off(case, plan, boxes), strict=True)
        for quantity, number in zip((marks.RAIL_SHIFT, marks.MASH), read, strict=False)
    ]


def shift_of(case: Case, plan: Plan, box: Box) -> Derived | None:
    """Rail shift of a box, read off the plan; None where the plan does not place its corners."""
    return next(iter(_read_off(case, plan, [box])[0]), None)


def _read_off(case: Case, plan: Plan, boxes: Sequence[Box]) -> list[tuple[Derived, ...]]:
    """Of each box its rail shift and how much longer its right rail is; nothing where the plan does
    not place its corners.

    From a nose it is how much further back the right corner lies, along the line from the nose to
    their middle, and no more.
    """
    corners = {box.id: _corners(case, box) for box in boxes}
    placed = [box for box in boxes if plan.places(*chain(*corners[box.id]))]
    plain = [box.id for box in placed if box.role != marks.NOSE]
    both = diamonds_and_mashes(plan.adjustment, [corners[id] for id in plain])
    found: dict[PlaceId, tuple[Derived, ...]] = dict(zip(plain, both, strict=True))
    for box in placed:
        if box.role == marks.NOSE:
            line = CenterLine(corners[box.id], (1.0, 1.0))
            found[box.id] = (fore_and_aft(plan.adjustment, line, line.pairs[1]),)
    return [found.get(box.id, ()) for box in boxes]


def _corners(case: Case, box: Box) -> tuple[Pair, Pair]:
    """Its front pair and its rear one."""
    front, rear = (case.layout.place(id).pair for id in (box.front, box.rear))
    return (str(front[0]), str(front[1])), (str(rear[0]), str(rear[1]))


def main_pairs(case: Case, plan: Plan, own: bool = False) -> list[Pair]:
    """Pairs of the main box, front to rear, that the plan places; never the horns, which are what
    gets bent.

    own: the owner's own pairs too, between the first and the last of the layout's. They never end
    the box, nor stand in for a pair of the layout's, or a quantity of one name would be another
    with them than without.
    """
    return [_pair(p.id) for p in _main_places(case, own) if plan.places(*_pair(p.id))]


def _main_places(case: Case, own: bool) -> list[Place]:
    """Places of the main box with a point on either side, front to rear."""
    places = [p for p in case.layout.places if not p.horns and p.sides == ("left", "right")]
    authored = [p.x for p in places if not is_own(p.id)]
    ends = min(authored, default=0.0), max(authored, default=0.0)
    places = [p for p in places if not is_own(p.id) or (own and ends[0] < p.x < ends[1])]
    return sorted(places, key=lambda p: p.x)


def _sway(case: Case, plan: Plan) -> list[Finding]:
    """Sideways bow of the frame at each pair between the first and the last; with two pairs it
    cannot be told, nor at the end of a box of which one diagonal alone was taped.
    """
    pairs = main_pairs(case, plan, own=True)
    half = one_diagonal(case)
    boxes = [box for box in case.layout.boxes if box.id in half]
    unsure = {end for box in boxes for end in (box.front, box.rear)}
    findings = []
    for pair in pairs[1:-1]:
        where = point_of(PointId(pair[0])).place
        if where in unsure:
            continue
        number = plan.number(sway(plan.adjustment, (pairs[0], pairs[-1]), pair))
        findings.append(plan_finding(case, plan, marks.SWAY, where, number))
    return findings


def _noses(case: Case, plan: Plan) -> list[Finding]:
    """Where both rails meet in one point: how far to the right of the middle line of all else it
    lies.
    """
    pairs = main_pairs(case, plan)
    findings = []
    for nose in dict.fromkeys(b.front for b in case.layout.boxes if b.role == marks.NOSE):
        if len(pairs) >= 2 and plan.places(nose):
            line = center_line(plan.adjustment, pairs)
            number = plan.number(off_line(plan.adjustment, line, (str(nose), str(nose))))
            findings.append(plan_finding(case, plan, marks.NOSE_OFF, nose, number))
    return findings


def horn_difference(case: Case, plan: Plan) -> Derived | None:
    """How much further out the left horn stands than the right, each against its own rail carried
    straight on.
    """
    pairs = main_pairs(case, plan)
    tips = _pair(case.layout.tips)
    if len(pairs) < 2 or not plan.places(*tips):
        return None
    behind = _carried_from(case, pairs)
    left, right = (_out(plan, tips, (pairs[0], behind), n) for n in (0, 1))
    return left - right


CARRIED = 1.5
"""So many times as long as the horns is what carries their rails on (this project's own figure): of
a shorter piece the doubt grows on its way to the tips.
"""


def _carried_from(case: Case, pairs: list[Pair]) -> Pair:
    """The pair from which the rails are carried on over the front one: the first that is far enough
    behind it.
    """
    places = {p.id: p.x for p in case.layout.places}
    ahead, *behind = pairs
    front = places[point_of(PointId(ahead[0])).place]
    least = front + CARRIED * (front - places[case.layout.tips])
    far = (pair for pair in behind if places[point_of(PointId(pair[0])).place] >= least)
    return next(far, behind[-1])


def _out(plan: Plan, tips: Pair, pairs: tuple[Pair, Pair], n: int) -> Derived:
    quantity = horn_sideways(plan.adjustment, tips[n], pairs[0][n], pairs[1][n])
    return quantity.scaled(-1.0 if n == 0 else 1.0)


def _horns(case: Case, plan: Plan) -> list[Finding]:
    """The horns against their own rails carried straight on, and against each other as in a mirror.

    A horn may be made to stand off its rail's line, so one alone is judged by no limit: their
    difference is.
    """
    pairs = main_pairs(case, plan)
    tips = _pair(case.layout.tips)
    if len(pairs) < 2 or not plan.places(*tips):
        return []
    rails = pairs[0], _carried_from(case, pairs)
    out = {side: _out(plan, tips, rails, n) for n, side in enumerate(("left", "right"))}
    line = center_line(plan.adjustment, pairs)
    # Beside its own front crossmember: where a rail has moved along its twin, its horn went with it
    # and is not bent.
    back = back_beyond(plan.adjustment, line, tips, pairs[0])
    difference = plan.number(out["left"] - out["right"])
    return [
        plan_finding(case, plan, marks.HORN_APART, DIFFERENCE, difference),
        *(
            plan_finding(case, plan, marks.HORN_OUT, WhereId(side), plan.number(q))
            for side, q in out.items()
        ),
        plan_finding(case, plan, marks.HORN_BACK, DIFFERENCE, plan.number(back)),
    ]
