"""The plan: all taped distances of the survey in one free network, and what does not agree in it.

Weights come from the unshared parts alone; point definition and each tape's own error are carried
afterwards as correlated parts, so that one tape's error stays out of differences (JCGM 100:2008
5.2).
"""

from __future__ import annotations

import math
from collections.abc import Mapping

from wizard.checks.case import Case, Taken
from wizard.checks.finding import Finding
from wizard.checks.notes import OffPlan
from wizard.frozen import Frozen, cached_property
from wizard.library.places import PlaceId, PointId, PromptId, QuantityId, WhereId
from wizard.math.network import Adjustment, Distance, TooThin, adjust
from wizard.math.network_doubt import Carried, Derived, carried, reduce_to_plan
from wizard.math.network_outliers import Suspects, fit, suspect
from wizard.math.network_thin import Completion, completing
from wizard.math.uncertain import Part, Uncertain

HEIGHT = "height:"
"""Name of what the height of a place adds to a tape, before the place."""
HEIGHT_U = 10.0
"""mm; how well a layout's round figure for a height is known (this project's own guess)."""
ACCUSED = 0.01
"""Chance of accusing a reading of a sound survey. Where the rest of a list was left out, what may be
said early spends less of it (`wizard.math.predictive`).
"""
STRAINED = 0.01
"""Chance of so bad a fit below which the readings are said not to agree."""


class Plan(Frozen):
    """The adjusted plan with what it was made from."""

    adjustment: Adjustment
    taken: Mapping[PromptId, Taken]
    """The readings by prompt."""
    observations: Mapping[str, Uncertain]
    """The same by what the plan calls each, reduced to the plan, with every part of their doubt."""
    strain: float
    """Factor by which the doubts must be too small for the residuals; 1 where the readings agree."""
    suspects: Suspects | None
    """The reading that is probably wrong, or the set within which nothing can say which."""

    def places(self, *points: PointId | str) -> bool:
        """Whether all of these points are placed by the plan."""
        return set(points) <= set(self.adjustment.points)

    def number(self, quantity: Derived) -> Uncertain:
        """A quantity read off the plan with its doubt; where the readings disagree the doubt says
        so.
        """
        number = self._carried.into(quantity)
        if self.strain <= 1.0 or number.u == 0.0:
            return number
        why = "the measured distances agree less well than their doubts say"
        more = Part(
            "plan:disagreement",
            number.u * math.sqrt(self.strain**2 - 1.0),
            self.adjustment.dof,
            False,
            why,
        )
        return number.with_parts(more)

    @cached_property
    def _carried(self) -> Carried:
        return carried(self.adjustment, self.observations)

    @cached_property
    def used(self) -> tuple[str, ...]:
        """Ids of all readings in the plan."""
        return tuple(i for d in self.adjustment.distances for i in self.taken[PromptId(d.id)].ids)


def taped(case: Case) -> dict[PromptId, Taken]:
    """Every distance between two points of the layout that has a reading, by prompt."""
    found = {prompt.id: case.taken(prompt.id) for prompt in case.ground.tapes}
    return {id: taken for id, taken in found.items() if taken and taken.number.value > 1.0}


def one_diagonal(case: Case) -> Mapping[PlaceId, frozenset[PointId]]:
    """Boxes of which just one of the two diagonals was taped, each with the ends of the other.

    The sides and one diagonal do fix four corners, but then nothing checks that diagonal: an inch
    misread is a rail moved.
    """
    return case.once(_half_crossed)


def _half_crossed(case: Case) -> dict[PlaceId, frozenset[PointId]]:
    asked = {frozenset((p.start, p.end)) for p in case.ground.tapes}
    read = {frozenset((t.prompt.start, t.prompt.end)) for t in case.once(taped).values()}
    found = {}
    for box in case.layout.boxes:
        front, rear = (case.layout.place(end).pair for end in (box.front, box.rear))
        both = {frozenset(tape) for tape in zip(front, reversed(rear), strict=True)}
        if both <= asked and len(both & read) == 1:
            (found[box.id],) = both - read
    return found


def flat(case: Case, taken: Taken) -> Uncertain:
    """A taped distance as it lies in the plan: points at unlike heights lengthen the tape."""
    places = case.layout.place_by_point
    start, end = places[taken.prompt.start], places[taken.prompt.end]
    rise = start.z - end.z
    if rise == 0.0 or abs(rise) >= taken.number.value:
        return taken.number
    why = "the height of the point is a round figure"
    doubts = tuple(
        Part(f"{HEIGHT}{place.id}", sign * HEIGHT_U, shared=True, source=why)
        for place, sign in ((start, 1.0), (end, -1.0))
        if place.z
    )
    return reduce_to_plan(taken.number, Uncertain(rise, doubts))


def own_part(number: Uncertain, *, heights: bool = False) -> tuple[float, float]:
    """Size and degrees of freedom of what the reading shares with no other.

    heights: what its ends' heights may do to it counts as its own, and twice: a box's two sides and
    two diagonals share it, and four errors that are one weigh as four times its square.
    """
    sources = number.sources
    own = [name for name in number.sizes if not sources[name].shared]
    if len(own) == 1 and not heights:
        return abs(number.sizes[own[0]]), sources[own[0]].dof
    alone = Uncertain(number.value, tuple([p for p in number.parts if not p.shared]))
    if not heights:
        return alone.u, alone.dof
    height = Uncertain(0.0, tuple(p for p in number.parts if p.name.startswith(HEIGHT)))
    return math.hypot(alone.u, 2.0 * height.u), alone.dof


def plan_of(case: Case) -> Plan | None:
    """The plan of everything taped; None where the distances fix no three points to one another."""
    return case.once(_adjusted)


def _adjusted(case: Case) -> Plan | None:
    taken = case.once(taped)
    observations = {str(id): flat(case, t) for id, t in taken.items()}
    plan = _plan_by(case, taken, observations, heights=False)
    if plan is None or (plan.strain <= 1.0 and plan.suspects is None):
        return plan
    # A rail that hangs low between its kicks lies deeper than the layout has it, and every tape
    # down to it is long: no reading is accused of what the heights may do.
    if not any(name.startswith(HEIGHT) for o in observations.values() for name in o.sizes):
        return plan
    lower = _plan_by(case, taken, observations, heights=True)
    return plan if lower is None or lower.strain > 1.0 or lower.suspects else lower


def _plan_by(
    case: Case,
    taken: Mapping[PromptId, Taken],
    observations: Mapping[str, Uncertain],
    *,
    heights: bool,
) -> Plan | None:
    """The plan by what each reading shares with no other, or by that and its ends' heights."""
    distances = [
        Distance(
            *(id, str(t.prompt.start), str(t.prompt.end)),
            *(observations[id].value, *own_part(observations[id], heights=heights)),
        )
        for id, t in zip(observations, taken.values(), strict=True)
    ]
    try:
        adjustment = adjust(case.ground.places, distances)
    except (TooThin, ValueError):
        return None
    if not adjustment.converged:
        return None
    test = fit(adjustment)
    strain = math.sqrt(test.factor) if test.chance < STRAINED else 1.0
    alpha = ACCUSED
    if case.survey.folds():
        from wizard.math.predictive import spent

        alpha = spent(ACCUSED)
    found = suspect(adjustment, alpha) if adjustment.total_redundancy else None
    return Plan(adjustment, taken, observations, max(1.0, strain), found)


def missing(case: Case) -> Completion:
    """The distances, among those that the steps ask for, that would complete a plan that is too
    thin.
    """
    plan = plan_of(case)
    if plan is not None and not plan.adjustment.dropped:
        return Completion((), ())
    have = case.once(taped)
    ties = [
        Distance(str(id), str(t.prompt.start), str(t.prompt.end), 1.0, 1.0)
        for id, t in have.items()
    ]
    asked = (p for p in case.ground.tapes if p.id not in have)
    pairs = dict.fromkeys((str(p.start), str(p.end)) for p in asked)
    return completing(case.ground.places, ties, list(pairs))


def plan_finding(
    case: Case, plan: Plan, quantity: QuantityId, where: WhereId, number: Uncertain
) -> Finding:
    """A finding read off the plan; it leans on every reading in it."""
    return case.found(quantity, where, number, plan.used, OffPlan(disagrees=plan.strain > 1.0))
