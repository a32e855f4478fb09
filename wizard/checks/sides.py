"""Own-side lengths: one rail shorter than its twin (mash), compared before any diagonal is
believed.
"""

from __future__ import annotations

from wizard.checks.case import Case
from wizard.checks.finding import Finding
from wizard.checks.sizes import side
from wizard.library import marks

RETURNS = (marks.OWN_SIDES,)


def check(case: Case) -> list[Finding]:
    """Left minus right of every box taped on both sides; positive when the left rail is the longer."""
    findings = []
    for box in case.layout.boxes:
        left, right = side(case, box, "left"), side(case, box, "right")
        if left and right:
            number = left.number - right.number
            ids = (*left.ids, *right.ids)
            findings.append(case.found(marks.OWN_SIDES, box.id, number, ids))
    return findings
