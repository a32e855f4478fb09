"""Twist along the frame: a steady change, one jump at one joint, or none that the level can see.

Source: least squares over the slopes; the threshold stands in wizard/math/level.py.
"""

from __future__ import annotations

from wizard.checks.case import Case
from wizard.checks.finding import Finding
from wizard.checks.notes import Lean
from wizard.checks.sizes import width
from wizard.checks.twist import slope_at
from wizard.library.shapes import LevelPlace
from wizard.math.level import fit_twist, height_across
from wizard.math.uncertain import Uncertain

RETURNS = ("twist-shape",)


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
    return [case.found("twist-shape", "rails", number, ids, Lean(shape.kind, between))]


def _read(case: Case) -> list[tuple[float, LevelPlace, Uncertain, tuple[str, ...]]]:
    """Where the level was read on the rails, mm, the place, its slope and the readings."""
    tips = case.layout.tips
    return [
        (case.layout.place(p.place).x, p, *s)
        for p in case.layout.levels
        if p.place != tips and (s := slope_at(case, p)) and s[0].u > 0
    ]
