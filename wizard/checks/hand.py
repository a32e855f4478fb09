"""The drill: one distance five times, and what it says of the hand that held the tape.

Source: standard deviation pooled over repeats with the content's prior (JCGM 100:2008 H.5.2); its
own relative doubt is 1/sqrt(2 dof).
"""

from __future__ import annotations

from wizard.checks.case import Case
from wizard.checks.finding import Finding
from wizard.checks.notes import ALL_ALIKE
from wizard.library import marks
from wizard.library.places import QuantityId, WhereId
from wizard.math.uncertain import Part, Uncertain

HAND = QuantityId("hand")
RETURNS = (HAND,)

ENOUGH = 4
"""Readings alike to the last mark from which they look copied rather than read."""


def check(case: Case) -> list[Finding]:
    """Scatter of one tape reading in mm, from all repeats in the survey; only once the drill was
    done.
    """
    drill = next(filter(None, (case.taken(p.id) for p in case.reading(marks.DRILL))), None)
    if drill is None or len(drill.values) < 3:
        return []
    pooled = case.pooled[("tape", case.aim(drill.prompt))]
    why = "learned from this survey's repeats and the prior"
    number = Uncertain(
        pooled.s, (Part("scatter", pooled.s / (2 * pooled.dof) ** 0.5, pooled.dof, False, why),)
    )
    alike = len(set(drill.values)) == 1 and len(drill.values) >= ENOUGH
    notes = (ALL_ALIKE,) if alike else ()
    return [case.found(HAND, WhereId("tape"), number, drill.ids, *notes)]
