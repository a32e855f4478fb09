"""What of a survey can be held against another survey of the same frame: shapes, and every taped
distance itself.
"""

from __future__ import annotations

from wizard.checks import (
    corners,
    diagonals,
    front_box,
    horns,
    pitting,
    plan_findings,
    sag,
    sides,
    twist,
    wheelbase,
)
from wizard.checks.case import Case
from wizard.checks.finding import Finding
from wizard.checks.plan import plan_of
from wizard.checks.run import preferred

CHECKS = (
    *(sides.check, diagonals.check, corners.check, front_box.check),
    *(sag.check, twist.check, horns.check, wheelbase.check),
)
COMPARED = (
    *(
        "rail-shift",
        "own-sides",
        "sway",
        "nose-off",
        "horn",
        "horn-out",
        "horn-back",
        "horn-height",
    ),
    *("sag-loaded", "sag-unloaded", "twist", "wheelbase", "thickness"),
)
"""Quantities of the frame itself.

Closures, hints and what is only computed from these are no changes of their own.
"""


def comparable(case: Case) -> tuple[Finding, ...]:
    """Every finding that tells of the frame's shape, then each taped distance (`length/<prompt>`),
    mm.
    """
    findings = [f for check in (*CHECKS, pitting.check) for f in check(case)]
    plan = plan_of(case)
    if plan is not None:
        findings = preferred(plan_findings.check(case, plan), findings)
    return (*(f for f in findings if f.quantity in COMPARED), *_lengths(case))


def _lengths(case: Case) -> list[Finding]:
    """Distances between two points as taped, not reduced: then and now are taped at the same
    heights.
    """
    found = []
    for id, rows in case.by_prompt.items():
        prompt = case.prompts[id]
        taken = case.taken(id) if prompt.kind.spans and prompt.start and prompt.end else None
        if taken:
            found.append(
                Finding(
                    f"length/{id}",
                    "length",
                    "length",
                    id,
                    taken.number,
                    "mm",
                    tuple(r.id for r in rows),
                )
            )
    return found
