"""Which axle is askew: each end of it taped to a point of its own rail, left against right.

Common practice, no published source. The wheelbases alone say that something is askew; this says at
which end.
"""

from __future__ import annotations

import itertools
from collections.abc import Mapping

from wizard.checks.case import Case
from wizard.checks.finding import Finding
from wizard.checks.notes import EITHER_SIDE
from wizard.library import marks
from wizard.library.places import (
    NO_PLACE,
    SIDES,
    PromptId,
    StepId,
    WhereId,
    prompt_id,
)
from wizard.library.shapes import Place

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
    findings, page = [], case.library.page[marks.AXLES]
    for end in ENDS:
        left, right = (
            case.taken(prompt_id(page, NO_PLACE, f"{end}-axle-{side}")) for side in SIDES
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


def apart(case: Case, side: str, typed: Mapping[PromptId, float]) -> float | None:
    """By how much the wheelbase of one side is longer than its rail and its two axles make it, mm;
    None where one of the four was not taped.

    typed: a figure that does not stand yet, by prompt. Where it is not known on which side of its
    point an axle stands, the side that fits better counts.
    """
    three = _three(case.library.page[marks.AXLES], side)
    read = {p: t.number.value for p in three if (t := case.taken(p))} | dict(typed)
    rail = _rail(case, side)
    if rail is None or not set(three) <= set(read):
        return None
    base, front, rear = (read[p] for p in three)
    ways = itertools.product(*((w,) if (w := _way(case, end)) else (1, -1) for end in ENDS))
    return min((base - (rail + r * rear - f * front) for f, r in ways), key=abs)


def to_axles(page: StepId, side: str) -> tuple[PromptId, PromptId]:
    """Prompts of the front axle and of the rear axle of a side, each to its own rail's dot."""
    front, rear = (prompt_id(page, NO_PLACE, f"{end}-axle-{side}") for end in ENDS)
    return front, rear


def _three(page: StepId, side: str) -> tuple[PromptId, PromptId, PromptId]:
    """Prompts of the wheelbase, the front axle and the rear axle of a side."""
    return (prompt_id(page, NO_PLACE, side), *to_axles(page, side))


def _rail(case: Case, side: str) -> float | None:
    """How far the last point of a rail lies behind its first, mm, by its own tape and the layout's
    taper; None where nobody taped it.
    """
    pairs = sorted((p for p in case.layout.places if not p.horns and len(p.points) == 2), key=_x)
    if len(pairs) < 2:
        return None
    first, last = pairs[0], pairs[-1]
    nth = SIDES.index(side)
    ends = {first.points[nth], last.points[nth]}
    prompts = (p for p in case.prompts.values() if {p.start, p.end} == ends)
    taken = next((t for p in prompts if (t := case.taken(p.id))), None)
    if taken is None:
        return None
    aside, up = last.half_width - first.half_width, last.z - first.z
    return float((taken.number.value**2 - aside**2 - up**2) ** 0.5)


def _x(place: Place) -> float:
    return place.x
