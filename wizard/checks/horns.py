"""Horns by their diagonals: one pair gives how far the two differ sideways, not which one moved.

A tip moved inward by e shortens its diagonal by e W / d to first order (geometry); the plan is
exact.
"""

from __future__ import annotations

from wizard.checks.case import Case
from wizard.checks.finding import Finding
from wizard.checks.notes import OWN_SIDES_OPEN
from wizard.checks.sizes import pair, side, width
from wizard.library.shapes import Box
from wizard.math.uncertain import Uncertain, combine

RETURNS = ("horn",)


def check(case: Case) -> list[Finding]:
    """How much further out the left tip stands than the right, mm, from the horns' crosses and own
    sides.
    """
    box = case.layout.box_by_id.get("horns")
    both = pair(case, box, ("horns",)) if box else None
    if box is None or both is None:
        return []
    number, ids = _difference(case, box, both[0].number, both[1].number)
    ids = (*both[0].ids, *both[1].ids, *ids)
    notes = () if side(case, box, "left") and side(case, box, "right") else (OWN_SIDES_OPEN,)
    return [case.found("horn", "difference", number, ids, *notes)]


def _difference(
    case: Case, box: Box, left: Uncertain, right: Uncertain
) -> tuple[Uncertain, tuple[str, ...]]:
    """Each tip's distance from the other rail's front point across the car, from cross and own
    side.

    The base of both triangles is the width between the two front points, at the rear of this box;
    it hardly counts in the difference, so a round figure will do.
    """
    base, base_ids = width(case, box.rear)
    own_left, own_right = side(case, box, "left"), side(case, box, "right")
    if own_left and own_right:
        a, b = _across(left, own_left.number, base), _across(right, own_right.number, base)
        return a - b, (*own_left.ids, *own_right.ids, *base_ids)
    mean = (left.value + right.value) / 2
    layout = case.layout
    reach = (layout.place(box.front).half_width + layout.place(box.rear).half_width) / mean
    number = (left - right).scaled(1.0 / reach)
    return number, ()


def _across(cross: Uncertain, own: Uncertain, base: Uncertain) -> Uncertain:
    """Sideways distance of a tip from the opposite front point: (cross² - own² + base²) / 2 base."""
    d, k, w = cross.value, own.value, base.value
    value = (d * d - k * k + w * w) / (2 * w)
    return combine(value, [(d / w, cross), (-k / w, own), (1.0 - value / w, base)])
