"""Before and after a correction: what was asked for and whether it was met; what came back, what is
left, what went too far, and what is newly out elsewhere.

A frame springs back when it is let go: what was pulled stays only in part (common practice, no
published source). This looks at figures only and says nothing of how such work is done.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

from wizard.checks.finding import Finding
from wizard.judgment.bands import Judged, judge, weight
from wizard.judgment.change import Change, Comparison
from wizard.judgment.sight import sight_of
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


# What was asked for -------------------------------------------------------------------------------

ASKED = "put-right"
"""The mildest band of which something is asked."""


class Wish(NamedTuple):
    """A figure that whoever works on the frame is asked to bring back to straight."""

    found: Judged
    sure: bool
    """Whether it is known to be out so far; else it is asked to be measured first."""
    within: float
    """How far from straight it may be afterward, in the finding's unit: the end of `leave it`."""


class WishMet(NamedTuple):
    """What became of a wish."""

    wish: Wish
    after: Judged | None
    """The figure as found after the work, by the limit it was asked by; None where it was not
    measured again.
    """
    says: str
    """met, not met, cannot tell, not measured"""


class Unasked(NamedTuple):
    """What became of the figures of which nothing was asked, which were to stay where they were."""

    stayed: tuple[Change, ...]
    moved: tuple[Change, ...]
    untold: tuple[Change, ...]


def wishes(survey: Survey, library: Library) -> tuple[Wish, ...]:
    """What is asked of whoever works on the frame, those that are known to be out first."""
    found = [
        Wish(j, j.established in WORK, _within(j))
        for j in sight_of(survey, library).judged
        if j.worst in WORK and not j.quiet and not j.is_beside
    ]
    return tuple(sorted(found, key=lambda w: (not w.sure, -weight(w.found.established))))


WORK = (ASKED, "specialist")
"""Bands in which somebody has to work on the frame itself."""


def _within(judged: Judged) -> float:
    first = judged.edges[0]
    low = judged.finding.value < 0 and first.low is not None
    upto = first.low if low else first.high
    return abs(upto or 0.0)


def met(then: Survey, now: Survey, library: Library) -> tuple[WishMet, ...]:
    """What was asked after one survey, as the survey after the work finds it.

    A figure is met where it is established to be within, at the same level as everything else here
    (JCGM 106: one-sided 95 %), and not met where it is established to be beyond.
    """
    asked = wishes(then, library)
    if not asked:
        return ()
    # By the limits of the survey that asked: an owner's own among them.
    limits = replace(now, rows={**now.rows, "limit": then.rows.get("limit", ())})
    found = {j.finding.id: j.finding for j in sight_of(now, library).judged}
    return tuple(_met(wish, found.get(wish.found.finding.id), limits, library) for wish in asked)


def _met(wish: Wish, after: Finding | None, limits: Survey, library: Library) -> WishMet:
    if after is None:
        return WishMet(wish, None, "not measured")
    judged = judge(after, limits, library)
    mildest = judged.edges[0].band
    if judged.bands == (mildest,):
        return WishMet(wish, judged, "met")
    return WishMet(wish, judged, "cannot tell" if mildest in judged.bands else "not met")


def unasked(comparison: Comparison, asked: Sequence[Wish]) -> Unasked:
    """The figures that have a limit and of which nothing was asked: whether they stayed.

    By the doubt of both surveys, without what both share.
    """
    wished = {w.found.finding.id for w in asked}
    others = [c for c in comparison.changes if c.old.limit and c.old.id not in wished]
    stayed, moved, untold = (
        tuple(c for c in others if c.says == says)
        for says in ("not changed", "changed", "cannot tell")
    )
    return Unasked(stayed, moved, untold)
