"""Horns by their diagonals: one pair gives how far the two differ sideways, not which one moved.

Nothing taped tells which: a frame has no third horn to hold them against.

A tip moved inward by e shortens its diagonal by e W / d to first order (geometry); the plan is
exact.
"""

from __future__ import annotations

from dataclasses import replace

from wizard.checks.case import Case
from wizard.checks.finding import Finding
from wizard.checks.notes import FRONT_OPEN, OWN_SIDES_OPEN
from wizard.checks.sizes import pair, round_figure, side, width
from wizard.library import marks
from wizard.library.places import DIFFERENCE, FRONT_BOX, finding_id
from wizard.library.shapes import Box
from wizard.math.uncertain import Uncertain, combine

RETURNS = (marks.HORN_APART,)


def check(case: Case) -> list[Finding]:
    """How much further out the left tip stands than the right, mm, from the horns' crosses and own
    sides, as if the front end were square.

    Whether it is nobody can say from here, so no limit judges this one. The plan's figure takes its
    place as soon as there is a plan; else see `settled`.
    """
    box = case.layout.box_by_id.get(case.layout.horns)
    both = pair(case, box, (case.library.page[marks.HORN_TIPS],)) if box else None
    if box is None or both is None:
        return []
    number, ids = _difference(case, box, both[0].number, both[1].number)
    ids = (*both[0].ids, *both[1].ids, *ids)
    notes = () if side(case, box, "left") and side(case, box, "right") else (OWN_SIDES_OPEN,)
    found = case.found(marks.HORN_APART, DIFFERENCE, number, ids, *notes, FRONT_OPEN)
    return [replace(found, limit="")]


def settled(case: Case, findings: list[Finding]) -> list[Finding]:
    """The findings with the shift of the front pair out of the horns, and its doubt in them.

    A front pair that is shifted turns both horns with it. Where the box behind does not tell by how
    much, the horns stay without a limit.
    """
    by_id = {f.id: f for f in findings}
    shift = by_id.get(finding_id(marks.RAIL_SHIFT, FRONT_BOX)) or by_id.get(
        finding_id(marks.RAIL_SHIFT, marks.BY_BAR)
    )
    sides = by_id.get(finding_id(marks.OWN_SIDES, FRONT_BOX))
    if shift is None or sides is None or shift.disagrees:
        return findings
    return [_less(case, f, shift, sides) if f.has(FRONT_OPEN) else f for f in findings]


def _less(case: Case, horn: Finding, shift: Finding, sides: Finding) -> Finding:
    """The difference of the horns without what the front pair's shift makes of it.

    With the right front point back by h, square to the pair is no longer along the rails: tips L
    ahead of it seem to go to the left by L h / W each.
    """
    box = case.layout.box_by_id[case.layout.horns]
    # A box's shift is the mean of its two pairs', and the lengths of its rails tell them apart.
    back = shift.number + sides.number.scaled(0.5)
    (wide, ids), places = width(case, box.rear), case.layout
    ahead = places.place(box.rear).x - places.place(box.front).x
    long = round_figure(f"length:{box.id}", ahead)
    value = 2 * ahead * back.value / wide.value
    terms = [(2 * ahead / wide.value, back), (value / ahead, long), (-value / wide.value, wide)]
    number = horn.number - combine(value, terms)
    readings = tuple(dict.fromkeys((*horn.readings, *shift.readings, *sides.readings, *ids)))
    notes = tuple(n for n in horn.notes if n != FRONT_OPEN)
    return replace(horn, number=number, readings=readings, limit=horn.of.limit, notes=notes)


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
