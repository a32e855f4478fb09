"""What the frame stood on while the level was read: a twist is the supports' until three points say otherwise.

A fourth stand twists a frame by itself; springs and tyres lean it and can twist a soft one.
Source: common practice, no published source. Three points cannot twist what lies on them (geometry).
"""

from __future__ import annotations

from wizard.checks.finding import Finding
from wizard.checks.twist_supports import LEVEL, THREE
from wizard.survey.record import Survey
from wizard.survey.rows import Reading

__all__ = ["THREE", "is_stands_twist", "supports_of"]


def supports_of(finding: Finding, survey: Survey) -> str:
    """The supports while the level was read for a finding; empty where they are not known or were changed."""
    rows = (r for r in survey.table(Reading) if r.id in finding.readings and r.prompt.startswith(LEVEL))
    states = {r.state for r in rows if r.state}
    if not states:
        return survey.state().supports
    supports = {survey.state_of(s).supports for s in states}
    return supports.pop() if len(supports) == 1 else ""


def is_stands_twist(finding: Finding, survey: Survey) -> bool:
    """Whether it is a twist that was not read on three points, on which no conclusion may rest."""
    return finding.quantity == "twist" and supports_of(finding, survey) != THREE
