"""What the frame stood on while it was read: a twist on four stands is the stands' until three points say otherwise.

Source: common practice, no published source. Three points cannot twist what lies on them (geometry).
"""

from __future__ import annotations

from wizard.checks.finding import Finding
from wizard.survey.record import Survey
from wizard.survey.rows import Reading

FOUR, THREE = "stands-under-frame", "three-points"


def supports_of(finding: Finding, survey: Survey) -> str:
    """The supports when the finding's readings were taken; empty where they are not known or were changed."""
    states = {r.state for r in survey.table(Reading) if r.id in finding.readings and r.state}
    if not states:
        return survey.state().supports
    supports = {survey.state_of(s).supports for s in states}
    return supports.pop() if len(supports) == 1 else ""


def is_stands_twist(finding: Finding, survey: Survey) -> bool:
    """Whether it is a twist read on four stands, which no conclusion may rest on."""
    return finding.quantity == "twist" and supports_of(finding, survey) == FOUR
