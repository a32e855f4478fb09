"""Twist along the frame: a steady change, one jump at one joint, or none that the level can see.

Source: least squares over the slopes; the threshold stands in wizard/math/level.py.
"""

from __future__ import annotations

import math
from dataclasses import replace

from wizard.checks.case import Case
from wizard.checks.finding import Finding
from wizard.checks.notes import Lean
from wizard.checks.sizes import width
from wizard.checks.twist import slope_at, strings_like
from wizard.library import marks
from wizard.library.places import SIDES, WhereId, where_id
from wizard.library.shapes import LevelPlace
from wizard.math.level import fit_twist, height_across
from wizard.math.uncertain import Uncertain

RETURNS = (marks.TWIST_SHAPE,)
SURE = 2.0
"""Standard uncertainties by which the rails may hang further apart than they were read."""
LEAST = 0.5
"""Share of a jump that rails hanging unlike must not come to: half of it could be theirs, and then it
is no joint's (this project's own figure).
"""


def check(case: Case) -> list[Finding]:
    """One finding for the rails (never the horns): height across the rear, mm, its kind as a note."""
    read = _read(case)
    if len(read) < 3:
        return []
    shape = fit_twist([x for x, *_ in read], [slope for _, _, slope, _ in read])
    number = height_across(width(case, read[-1][1].place)[0], shape.change)
    at_joint = shape.kind == "one-joint"
    between = tuple(p.id for x, p, *_ in read if at_joint and x in shape.between)
    ids = tuple(i for *_, readings in read for i in readings)
    return [case.found(marks.TWIST_SHAPE, WhereId("rails"), number, ids, Lean(shape.kind, between))]


def settled(case: Case, findings: list[Finding]) -> list[Finding]:
    """The findings; a lean that jumps at one joint is called so only where the string shows that no
    rail which hangs, is kinked or stands high makes that jump.
    """
    return [_with_the_string(case, f, findings) if f.quantity in RETURNS else f for f in findings]


def _with_the_string(case: Case, found: Finding, findings: list[Finding]) -> Finding:
    lean = found.note(Lean)
    if lean is None or lean.kind != "one-joint":
        return found
    apart = _apart(case, strings_like(case, found.readings, findings)[0])
    if apart is not None and apart < LEAST * abs(found.value):
        return found
    return replace(found, notes=(Lean("cannot-tell"),))


def _apart(case: Case, sags: dict[WhereId, Finding]) -> float | None:
    """By how much the rails may hang apart at any station, mm; None where no station was read on
    both.
    """
    pairs = ([sags.get(where_id(s.id, side)) for side in SIDES] for s in case.layout.stations)
    both = [(left, right) for left, right in pairs if left and right]
    sizes = (
        abs(left.value - right.value) + SURE * math.hypot(left.number.u, right.number.u)
        for left, right in both
    )
    return max(sizes, default=None)


def _read(case: Case) -> list[tuple[float, LevelPlace, Uncertain, tuple[str, ...]]]:
    """Where the level was read on the rails, mm, the place, its slope and the readings."""
    tips = case.layout.tips
    return [
        (case.layout.place(p.place).x, p, *s)
        for p in case.layout.levels
        if p.place != tips and (s := slope_at(case, p)) and s[0].u > 0
    ]
