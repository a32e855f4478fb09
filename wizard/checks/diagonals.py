"""Diagonals of each box: how far one rail has moved along its twin, and whether the tapes close.

Source: d1² - d2² = 4 L s, exact for taper frames (geometry); the limit is on s, not on d1 - d2.
"""

from __future__ import annotations

from wizard.checks.case import Case, Taken
from wizard.checks.finding import Finding
from wizard.checks.notes import ROUND_FIGURES, OneOf
from wizard.checks.sizes import WIDTH_U, length, pair, side, width
from wizard.library import marks
from wizard.library.shapes import Box
from wizard.math.diagonals import closure, rail_shift
from wizard.math.uncertain import Uncertain, combine

RETURNS = (
    marks.RAIL_SHIFT,
    marks.CLOSURE,
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
        if not ids:
            along = _by_diagonals(case, box, both, along)
        findings.append(
            case.found(
                marks.RAIL_SHIFT,
                box.id,
                rail_shift(both[0].number, both[1].number, along),
                (*both[0].ids, *both[1].ids, *ids),
                *(() if ids else (ROUND_FIGURES,)),
            )
        )
        findings += _closure(case, box, both)
    boxes = sum(f.quantity == marks.CLOSURE for f in findings)
    # One box in two hundred opens by chance: of several the worst is asked for more.
    return [f.noted(OneOf(boxes)) if f.quantity == marks.CLOSURE else f for f in findings]


def _by_diagonals(
    case: Case, box: Box, both: tuple[Taken, Taken], otherwise: Uncertain
) -> Uncertain:
    """A length that nobody taped, from the diagonals and the mean width: L² = (d1² + d2²) / 2 - W².

    A width counts in it by W / L alone, so a round one does little.
    """
    wide = (width(case, box.front, WIDTH_U)[0] + width(case, box.rear, WIDTH_U)[0]).scaled(0.5)
    a, b = both[0].number, both[1].number
    square = (a.value**2 + b.value**2) / 2 - wide.value**2
    if square <= 0.0:
        return otherwise
    long = square**0.5
    terms = [(a.value / 2 / long, a), (b.value / 2 / long, b), (-wide.value / long, wide)]
    return combine(long, terms)


def _closure(case: Case, box: Box, both: tuple[Taken, Taken]) -> list[Finding]:
    left, right = side(case, box, "left"), side(case, box, "right")
    front, front_ids = width(case, box.front)
    rear, rear_ids = width(case, box.rear)
    if left is None or right is None or not front_ids or not rear_ids:
        return []
    number = closure(both[0].number, both[1].number, left.number, right.number, front, rear)
    ids = (*both[0].ids, *both[1].ids, *left.ids, *right.ids, *front_ids, *rear_ids)
    return [case.found(marks.CLOSURE, box.id, number, ids)]
