"""All checks over one survey."""

from __future__ import annotations

from wizard.checks import caster, diagonals, front_box, hints, horns, sag, sides, twist, wheelbase
from wizard.checks.case import Case
from wizard.checks.finding import Finding
from wizard.library.shapes import Library
from wizard.survey.record import Survey

CHECKS = (
    sides.check,
    diagonals.check,
    front_box.check,
    sag.check,
    twist.check,
    horns.check,
    wheelbase.check,
    hints.check,
)


def findings_of(survey: Survey, library: Library) -> tuple[Finding, ...]:
    """Every finding that the survey's readings allow, in the order of the survey."""
    case = Case(survey, library)
    findings = [finding for check in CHECKS for finding in check(case)]
    return (*findings, *caster.check(case, findings))
