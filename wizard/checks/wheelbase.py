"""Wheelbase left against right: with a square frame it is the axle, a center bolt or a spring."""

from __future__ import annotations

from wizard.checks.case import Case
from wizard.checks.finding import Finding
from wizard.library import marks
from wizard.library.places import DIFFERENCE, NO_PLACE, SIDES, prompt_id

RETURNS = (marks.WHEELBASE,)


def check(case: Case) -> list[Finding]:
    """Left minus right, mm; positive when the left wheels stand further apart."""
    axles = case.library.page[marks.AXLES]
    left, right = (case.taken(prompt_id(axles, NO_PLACE, side)) for side in SIDES)
    if left is None or right is None:
        return []
    number = left.number - right.number
    ids = (*left.ids, *right.ids)
    return [case.found(marks.WHEELBASE, DIFFERENCE, number, ids)]
