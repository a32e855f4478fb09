"""Before and after a correction: what came back, what is left, what went too far, and what is newly
out elsewhere.

A frame springs back when it is let go: what was pulled stays only in part (common practice, no
published source). This looks at figures only and says nothing of how such work is done.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from wizard.checks.finding import Finding
from wizard.judgment.change import Change, Comparison
from wizard.library import marks
from wizard.library.shapes import Library
from wizard.math.student import coverage_factor
from wizard.survey.meant import meant
from wizard.survey.record import Survey

SHAPES = (marks.LENGTH,)
"""Quantities that have no zero to come back to."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """What a correction did to one quantity."""

    change: Change
    kind: str
    """came-back (nothing left that stands out), part-left, too-far (past zero), worse (further out
    than before), new (was true and is out now)
    """


def was_corrected(survey: Survey, library: Library) -> bool:
    """Whether something was put right since the survey before."""
    return meant(survey, library, marks.CORRECTED) == marks.YES


def is_out(finding: Finding) -> bool:
    """Whether a quantity that should be zero is not."""
    return abs(finding.value) > coverage_factor(finding.number.dof) * finding.number.u


def outcomes(comparison: Comparison) -> tuple[Outcome, ...]:
    """What is established to have changed, by what it means after a correction; taped distances are
    left out.
    """
    moved = (c for c in comparison.of("changed") if c.old.quantity not in SHAPES)
    return tuple(Outcome(c, _kind(c)) for c in moved)


def _kind(change: Change) -> str:
    old, new = change.old, change.new
    if abs(new.value) >= abs(old.value):
        if old.value * new.value < 0 and is_out(old):
            return "too-far"
        return "worse" if is_out(old) else "new"
    if not is_out(new):
        return "came-back"
    return "too-far" if old.value * new.value < 0 else "part-left"


def sprung_back(at_work: Comparison, since: Comparison) -> tuple[tuple[Change, Change], ...]:
    """What a correction had moved and what has gone part of the way back since: (then, since) of
    one quantity.

    at_work: before the correction against right after it. since: right after against a later
    survey.
    """
    moved = {c.old.id: c for c in at_work.of("changed")}
    later: Sequence[Change] = since.of("changed")
    return tuple(
        (moved[c.old.id], c)
        for c in later
        if c.old.id in moved and c.number.value * moved[c.old.id].number.value < 0
    )
