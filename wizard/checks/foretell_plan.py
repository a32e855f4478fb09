"""What the other tapes foretell of a new one: the plan adjusted without it.

The difference is held against its own doubt, in which what both share (the tape, the rivets) has
canceled.
"""

from __future__ import annotations

from dataclasses import dataclass

from wizard.checks.case import Case, Taken
from wizard.checks.plan import Plan, flat, plan_of
from wizard.math.network_doubt import derive, distance_between
from wizard.math.network_outliers import threshold
from wizard.math.network_slips import recognize_slip
from wizard.math.uncertain import Uncertain
from wizard.survey.prompts import Prompt


@dataclass(frozen=True, slots=True)
class Foretold:
    """A new distance beside what the rest foretells."""

    error_mm: float
    """How much too long it is."""
    u_mm: float
    """Standard uncertainty of that difference."""
    slip: str
    """Name of the slip it looks like, empty when none is recognized."""


def foretelling_plan(case: Case, prompt: Prompt) -> Plan | None:
    """The plan of the other tapes, where it fixes both points of the prompt to one another and
    agrees in itself.
    """
    plan = plan_of(case)
    return plan if plan and plan.places(prompt.start, prompt.end) and plan.strain <= 1.0 else None


def against_plan(case: Case, plan: Plan, prompt: Prompt, new: Taken) -> Foretold | None:
    """The new reading against the plan of all the others; None where it fits.

    case: the survey without the new reading. new: the reading as if taken alone.
    """
    foretold = derive(
        plan.adjustment,
        distance_between(plan.adjustment, prompt.start, prompt.end),
        plan.observations,
    )
    off: Uncertain = flat(case, new) - foretold
    if off.u == 0 or abs(off.value) <= threshold(1, off.dof) * off.u:
        return None
    slip = recognize_slip(off.value, off.u, new.number.value, case.survey.unit) or ""
    return Foretold(off.value, off.u, slip)
