"""The drill: what repeats of one distance say of the hand."""

from __future__ import annotations

import math

import pytest

from tests.checks.surveys import case_of
from wizard.checks import hand
from wizard.checks.finding import Finding
from wizard.checks.notes import ALL_ALIKE
from wizard.library import marks

DRILL = next(p.id for p in case_of({}).prompts.values() if p.reads == marks.DRILL)


def found(*typed: str) -> list[Finding]:
    return hand.check(case_of({DRILL: list(typed)}, unit="mm"))


def test_the_scatter_is_pooled_with_the_prior() -> None:
    """s² = (8 s₀² + Σ d²) / (8 + 4): five readings 2 mm apart in steps of 1 sum to 10."""
    (finding,) = found("2000", "2001", "2002", "2003", "2004")
    prior = case_of({DRILL: ["2000"]}, unit="mm")
    s0 = prior.prior("tape", prior.aim(prior.prompts[DRILL])).s
    assert finding.value == pytest.approx(math.sqrt((8 * s0**2 + 10) / 12))
    assert finding.number.u == pytest.approx(finding.value / math.sqrt(24))
    assert finding.notes == ()


def test_all_alike_looks_copied() -> None:
    assert found("2000", "2000", "2000", "2000")[0].notes == (ALL_ALIKE,)
    assert found("2000", "2000", "2000")[0].notes == ()


def test_two_readings_are_no_drill() -> None:
    assert found("2000", "2001") == []
