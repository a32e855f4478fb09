"""What the frame stood on while the level was read: a twist is the supports' until the bare frame
says otherwise.

A fourth stand twists a frame by itself; springs and tires lean it and can twist a soft one; weight
to one side twists an open frame on three points. Source: common practice, no published source.
Three points cannot twist a bare frame (geometry).
"""

from __future__ import annotations

from wizard.checks.finding import Finding
from wizard.checks.twist_supports import LOADED, THREE, is_bare, supports_under
from wizard.library import marks
from wizard.survey.record import Survey

__all__ = ["LOADED", "THREE", "is_bare", "is_stands_twist", "supports_of"]


def supports_of(finding: Finding, survey: Survey) -> str:
    """The supports while the level was read for a finding; empty where they are not known or were
    changed.

    Each reading names the state it was taken in, and that one counts: the car may stand otherwise
    by now.
    """
    level = survey.read_on(finding.of.read_at, finding.readings)
    found = {supports_under(r, survey) for r in level}
    return found.pop() if len(found) == 1 else ""


def is_stands_twist(finding: Finding, survey: Survey) -> bool:
    """Whether it is a twist that was not read on the bare frame on three points: no conclusion may
    rest on it.
    """
    return finding.quantity == marks.TWIST and supports_of(finding, survey) != THREE
