"""What of a survey can be held against another survey of the same frame: shapes, and every taped
distance itself.
"""

from __future__ import annotations

from wizard.checks import plan_findings
from wizard.checks.case import Case
from wizard.checks.finding import Finding
from wizard.checks.plan import plan_of
from wizard.checks.run import on_readings, preferred

RETURNS = ("length",)
FROM = "surveys"


def comparable(case: Case) -> tuple[Finding, ...]:
    """Every finding that tells of the frame's shape, then each taped distance (`length/<prompt>`),
    mm.
    """
    findings = on_readings(case, [q for q in case.library.quantities.values() if q.compared])
    plan = plan_of(case)
    if plan is not None:
        findings = preferred(plan_findings.check(case, plan), findings)
    return (*(f for f in findings if f.of.compared), *_lengths(case))


def _lengths(case: Case) -> list[Finding]:
    """Distances between two points as taped, not reduced: then and now are taped at the same
    heights.
    """
    found = []
    for id, rows in case.by_prompt.items():
        prompt = case.prompts[id]
        taken = case.taken(id) if prompt.kind.spans and prompt.start and prompt.end else None
        if taken:
            found.append(case.found("length", id, taken.number, tuple(r.id for r in rows)))
    return found
