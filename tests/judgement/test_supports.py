"""What the level's readings stood on, whatever was taped before on other supports."""

from __future__ import annotations

import pytest

from wizard.checks.finding import Finding
from wizard.judgement.supports import is_stands_twist, supports_of
from wizard.maths.uncertain import Uncertain
from wizard.survey.record import Survey
from wizard.survey.rows import Reading, State

SURVEY = (
    Survey(id="test")
    .with_row(State(id="s1", supports="wheels"))
    .with_row(State(id="s2", supports="three-points"))
    .with_row(Reading(id="r3", prompt="widths/rear/rear-left--rear-right", typed="860", state="s1"))
    .with_row(Reading(id="r4", prompt="level/rear/as-set", typed="0", state="s2"))
    .with_row(Reading(id="r5", prompt="level/centre/as-set", typed="0", state="s1"))
)


def twist(*readings: str, quantity: str = "twist") -> Finding:
    return Finding(f"{quantity}/rear", "twist", quantity, "rear", Uncertain(0.0), "mm", readings)


@pytest.mark.parametrize(
    ("readings", "supports", "held"),
    [
        (("r4",), "three-points", False),
        (("r3", "r4"), "three-points", False),
        (("r3", "r5"), "wheels", True),
        (("r4", "r5"), "", True),
        ((), "three-points", False),
    ],
)
def test_only_the_level_counts_and_what_is_mixed_or_unknown_settles_nothing(
    readings: tuple[str, ...], supports: str, held: bool
) -> None:
    assert supports_of(twist(*readings), SURVEY) == supports
    assert is_stands_twist(twist(*readings), SURVEY) is held


def test_what_is_no_twist_is_never_held_back() -> None:
    assert not is_stands_twist(twist("r5", quantity="horn-height"), SURVEY)
