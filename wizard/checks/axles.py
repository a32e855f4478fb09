"""Which axle is askew: each end of it taped to a point of its own rail, left against right.

Common practice, no published source. The wheelbases alone say that something is askew; this says at
which end.
"""

from __future__ import annotations

from wizard.checks.case import Case
from wizard.checks.finding import Finding
from wizard.checks.notes import EITHER_SIDE
from wizard.library import marks
from wizard.library.places import NO_PLACE, SIDES, WHEELBASE, WhereId, prompt_id

RETURNS = (marks.AXLE,)

ENDS = ("front", "rear")
NEAR_MM = 50.0
"""An axle nearer than this to its point, by the layout's figures, may stand on either side of it."""


def check(case: Case) -> list[Finding]:
    """For each axle taped on both sides: how much further back its left end stands than its right,
    mm.

    Where it is not known on which side of its points the axle stands, left minus right, with the
    note EITHER_SIDE.
    """
    findings = []
    for end in ENDS:
        left, right = (
            case.taken(prompt_id(WHEELBASE, NO_PLACE, f"{end}-axle-{side}")) for side in SIDES
        )
        if left is None or right is None:
            continue
        way = _way(case, end)
        number = (left.number - right.number).scaled(float(way or 1))
        notes = () if way else (EITHER_SIDE,)
        ids = (*left.ids, *right.ids)
        findings.append(case.found(marks.AXLE, WhereId(end), number, ids, *notes))
    return findings


def _way(case: Case, end: str) -> int:
    """1 where the axle stands behind its points, -1 ahead of them, 0 where the figures do not tell."""
    pairs = sorted(p.x for p in case.layout.places if not p.horns and len(p.points) == 2)
    x = case.layout.figures.get(f"{end}_axle_x")
    if not pairs or x is None:
        return 0
    behind = x - (pairs[0] if end == "front" else pairs[-1])
    return 0 if abs(behind) < NEAR_MM else 1 if behind > 0 else -1
