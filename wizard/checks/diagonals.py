"""Diagonals of each box: how far one rail has moved along its twin, and whether the tapes close.

Source: d1² - d2² = 4 L s, exact for taper frames (geometry); the limit is on s, not on d1 - d2.
"""

from __future__ import annotations

from wizard.checks.case import Case, Taken
from wizard.checks.finding import Finding
from wizard.checks.notes import ROUND_FIGURES
from wizard.checks.sizes import length, pair, side, width
from wizard.library.shapes import Box
from wizard.math.diagonals import closure, rail_shift

RETURNS = (
    "rail-shift",
    "closure",
)


def check(case: Case) -> list[Finding]:
    """Rail shift of every box whose two diagonals were taped, and the closure where all six lengths
    were.
    """
    findings = []
    for box in case.layout.boxes:
        both = pair(case, box)
        if both is None:
            continue
        along, ids = length(case, box)
        findings.append(
            case.found(
                "rail-shift",
                box.id,
                rail_shift(both[0].number, both[1].number, along),
                (*both[0].ids, *both[1].ids, *ids),
                *(() if ids else (ROUND_FIGURES,)),
            )
        )
        findings += _closure(case, box, both)
    return findings


def _closure(case: Case, box: Box, both: tuple[Taken, Taken]) -> list[Finding]:
    left, right = side(case, box, "left"), side(case, box, "right")
    front, front_ids = width(case, box.front)
    rear, rear_ids = width(case, box.rear)
    if left is None or right is None or not front_ids or not rear_ids:
        return []
    number = closure(both[0].number, both[1].number, left.number, right.number, front, rear)
    ids = (*both[0].ids, *both[1].ids, *left.ids, *right.ids, *front_ids, *rear_ids)
    return [case.found("closure", box.id, number, ids)]
