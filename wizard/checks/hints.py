"""Pulley and gearbox against the center of their crossmember: hints, judged by no limit."""

from __future__ import annotations

from wizard.checks.case import Case
from wizard.checks.finding import Finding
from wizard.library import marks
from wizard.library.places import WhereId

RETURNS = (marks.HINT,)


def check(case: Case) -> list[Finding]:
    """How far each stands to the right of the center, mm."""
    findings = []
    for prompt in case.reading(marks.ENGINE_ENDS):
        if prompt.kind.offsets and (taken := case.taken(prompt.id)):
            where = WhereId(prompt.name)
            findings.append(case.found(marks.HINT, where, taken.number, taken.ids))
    return findings
