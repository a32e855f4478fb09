"""All checks over one survey."""

from __future__ import annotations

from dataclasses import replace

from wizard.checks import (
    agreement,
    axles,
    bend,
    caster,
    corners,
    diagonals,
    front_box,
    hand,
    hints,
    hood_gap,
    horns,
    pitting,
    plan_findings,
    sag,
    sides,
    springing,
    twist,
    twist_sag,
    twist_shape,
    wheelbase,
)
from wizard.checks.case import Case, case_of
from wizard.checks.finding import Finding
from wizard.checks.plan import plan_of
from wizard.library.shapes import Library
from wizard.survey.record import Survey

CHECKS = (
    hand.check,
    sides.check,
    diagonals.check,
    corners.check,
    front_box.check,
    sag.check,
    twist.check,
    horns.check,
    wheelbase.check,
    axles.check,
    hints.check,
    hood_gap.check,
    pitting.check,
    twist_shape.check,
)


def findings_of(survey: Survey, library: Library) -> tuple[Finding, ...]:
    """Every finding that the survey's readings allow, in the order of the survey."""
    return case_of(survey, library).once(_found)


def _found(case: Case) -> tuple[Finding, ...]:
    findings = [finding for check in CHECKS for finding in check(case)]
    plan = plan_of(case)
    if plan is not None:
        findings = preferred(believed(plan_findings.check(case, plan), findings), findings)
    findings = twist_sag.check(case, _limited(findings))
    later = (caster.check, bend.check, springing.check, agreement.check)
    return (*findings, *(f for check in later for f in check(case, findings)))


def _limited(findings: list[Finding]) -> list[Finding]:
    """Where no plan says which rail is short, its own tapes are held against that limit."""
    by_plan = {f.where for f in findings if f.quantity == "mash"}
    return [
        replace(f, limit="rail-length")
        if f.quantity == "own-sides" and f.where != "horns" and f.where not in by_plan
        else f
        for f in findings
    ]


def believed(by_plan: list[Finding], plain: list[Finding]) -> list[Finding]:
    """Of the plan's findings those to be preferred to a plain one.

    Where the tapes disagree the whole plan is in doubt. A box whose own tapes close, and which none
    of the doubted readings touches, is known better by its own two diagonals.
    """
    doubted = {i for f in by_plan if f.quantity == "suspect" for i in f.readings}
    strained = {f.id for f in by_plan if f.disagrees}
    open_ = {f.where for f in plain if f.quantity == "closure" and abs(f.value) > 3 * f.number.u}
    sound = {
        f.id
        for f in plain
        if f.id in strained and not doubted & set(f.readings) and f.where not in open_
    }
    return [f for f in by_plan if f.id not in sound]


def preferred(better: list[Finding], plain: list[Finding]) -> list[Finding]:
    """The plan's findings in place of those that one pair of distances gave, at their place in the
    order.
    """
    new = {f.id: f for f in better}
    merged = [new.pop(f.id, f) for f in plain]
    return merged + list(new.values())
