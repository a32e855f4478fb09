"""Pulley and gearbox: to the right is plus, and no limit judges them."""

from __future__ import annotations

import pytest

from tests.checks.surveys import case_of
from wizard.checks import hints


@pytest.mark.parametrize(("typed", "value"), [("1/4 right", 6.35), ("1/4 left", -6.35), ("0", 0.0)])
def test_right_is_plus(typed: str, value: float) -> None:
    (finding,) = hints.check(case_of({"pulley-hint/pulley": [typed]}))
    assert finding.value == pytest.approx(value)
    assert (finding.id, finding.limit) == ("hint/pulley", "")


def test_both_hints_stand_apart() -> None:
    readings = {"pulley-hint/pulley": ["1/8 right"], "pulley-hint/gearbox-tail": ["1/8 left"]}
    assert [f.id for f in hints.check(case_of(readings))] == ["hint/pulley", "hint/gearbox-tail"]


def test_nothing_read_nothing_said() -> None:
    assert hints.check(case_of({})) == []
