"""Wheelbase left against right."""

from __future__ import annotations

import pytest

from tests.checks.surveys import case_of
from wizard.checks import wheelbase


@pytest.mark.parametrize(
    ("left", "right", "value"), [("2630", "2620", 10.0), ("2620", "2630", -10.0)]
)
def test_left_minus_right(left: str, right: str, value: float) -> None:
    (finding,) = wheelbase.check(
        case_of({"wheelbase/left": [left], "wheelbase/right": [right]}, unit="mm")
    )
    assert (finding.value, finding.limit) == (value, "wheelbase")


def test_repeats_are_averaged() -> None:
    readings = {"wheelbase/left": ["2621", "2623"], "wheelbase/right": ["2620"]}
    (finding,) = wheelbase.check(case_of(readings, unit="mm"))
    assert finding.value == 2.0
    assert len(finding.readings) == 3


def test_what_one_tape_does_to_both_drops_out() -> None:
    readings = {"wheelbase/left": ["2620"], "wheelbase/right": ["2620"]}
    (finding,) = wheelbase.check(case_of(readings, unit="mm"))
    assert sum(abs(p.size) for p in finding.number.parts if p.shared) == 0.0


def test_one_side_says_nothing() -> None:
    assert wheelbase.check(case_of({"wheelbase/left": ["2620"]}, unit="mm")) == []
