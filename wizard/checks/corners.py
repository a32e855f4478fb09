"""Boxes whose diagonals nobody can tape: from a nose to both rear corners, from a plate to all
four.

Source: plane geometry, see wizard/math/diagonals.py; the limit is on the shift of a rail, as for
diagonals.
"""

from __future__ import annotations

from wizard.checks.case import Case, Taken
from wizard.checks.finding import Finding
from wizard.checks.notes import ROUND_FIGURES
from wizard.checks.sizes import width
from wizard.library import marks
from wizard.library.places import QuantityId, pair_ids, prompt_id, tape_id
from wizard.library.shapes import Box
from wizard.math.diagonals import nose_shift, plate_shift

PLATE_OFF = QuantityId("plate-off")
RETURNS = (
    marks.RAIL_SHIFT,
    PLATE_OFF,
)


def check(case: Case) -> list[Finding]:
    """Rail shift of every box taped from a point in its middle line; for a plate also how far it
    lies off that line.
    """
    found = []
    for box in case.layout.boxes:
        found += (
            _nose(case, box) if box.role == marks.NOSE else _plate(case, box) if box.through else []
        )
    return found


def _nose(case: Case, box: Box) -> list[Finding]:
    tapes = _all(case, box, [tape_id(box.front, point) for point in pair_ids(box.rear)])
    if not tapes:
        return []
    across, ids = width(case, box.rear)
    try:
        number = nose_shift(tapes[0].number, tapes[1].number, across)
    except ValueError:  # Too short for the width: a slip, kept all the same. The plan will say so.
        return []
    notes = () if ids else (ROUND_FIGURES,)
    used = (*(i for t in tapes for i in t.ids), *ids)
    where = box.id
    return [case.found(marks.RAIL_SHIFT, where, number, used, *notes)]


def _plate(case: Case, box: Box) -> list[Finding]:
    corners = (*pair_ids(box.front), *pair_ids(box.rear))
    tapes = _all(case, box, [tape_id(box.through, corner) for corner in corners])
    if not tapes:
        return []
    a, b, c, d = tapes
    (front, front_ids), (rear, rear_ids) = width(case, box.front), width(case, box.rear)
    try:
        plate = plate_shift((a.number, b.number), (c.number, d.number), front, rear)
    except ValueError:
        return []
    notes = () if front_ids and rear_ids else (ROUND_FIGURES,)
    used = (*(i for t in tapes for i in t.ids), *front_ids, *rear_ids)
    where = box.id
    return [
        case.found(marks.RAIL_SHIFT, where, plate.shift, used, *notes),
        case.found(PLATE_OFF, where, plate.off, used, *notes),
    ]


def _all(case: Case, box: Box, tapes: list[str]) -> list[Taken]:
    """The readings of all of these tapes by one step, or none where one is missing."""
    for step in case.library.in_turn(marks.FROM_THE_MIDDLE):
        taken = [t for tape in tapes if (t := case.taken(prompt_id(step, box.id, tape)))]
        if len(taken) == len(tapes):
            return taken
    return []
