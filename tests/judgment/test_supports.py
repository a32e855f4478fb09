"""What the level's readings stood on, whatever was taped before on other supports."""

from __future__ import annotations

import pytest

from tests.checks.surveys import found
from wizard.checks.finding import Finding
from wizard.judgment.supports import LOADED, is_stands_twist, supports_of
from wizard.math.uncertain import Uncertain
from wizard.survey.record import Survey
from wizard.survey.rows import Reading, State

pytestmark = pytest.mark.quick

SURVEY = (
    Survey(id="test")
    .with_row(State(id="s1", supports="wheels"))
    .with_row(State(id="s2", supports="three-points", engine="out", body="off"))
    .with_row(State(id="s6", supports="three-points", engine="in", body="off"))
    .with_row(State(id="s7", supports="three-points", engine="out", body="loosened"))
    .with_row(State(id="s10", supports="three-points", engine="out"))
    .with_row(Reading(id="r3", prompt="widths/rear/rear-left--rear-right", typed="860", state="s1"))
    .with_row(Reading(id="r4", prompt="level/rear/as-set", typed="0", state="s2"))
    .with_row(Reading(id="r5", prompt="level/center/as-set", typed="0", state="s1"))
    .with_row(Reading(id="r8", prompt="level/rear/as-set", typed="0", state="s6"))
    .with_row(Reading(id="r9", prompt="level/rear/as-set", typed="0", state="s7"))
    .with_row(Reading(id="r11", prompt="level/rear/as-set", typed="0", state="s10"))
    .with_row(Reading(id="r12", prompt="level/rear/as-set", typed="0"))
)


def twist(*readings: str, quantity: str = "twist") -> Finding:
    return found(quantity, "rear", Uncertain(0.0), readings=readings)


@pytest.mark.parametrize(
    ("readings", "supports", "held"),
    [
        (("r4",), "three-points", False),
        (("r3", "r4"), "three-points", False),
        (("r3", "r5"), "wheels", True),
        (("r4", "r5"), "", True),
        (("r8",), LOADED, True),
        (("r9",), LOADED, True),
        (("r11",), LOADED, True),
        (("r4", "r8"), "", True),
        (("r4", "r12"), "", True),
        (("r12",), "", True),
        ((), "", True),
    ],
)
def test_only_the_level_counts_and_what_is_mixed_or_unknown_settles_nothing(
    readings: tuple[str, ...], supports: str, held: bool
) -> None:
    assert supports_of(twist(*readings), SURVEY) == supports
    assert is_stands_twist(twist(*readings), SURVEY) is held


def test_the_state_of_the_readings_counts_and_not_the_state_now() -> None:
    bare_now = SURVEY.with_row(State(id="s13", supports="three-points", engine="out", body="off"))
    assert bare_now.state().id == "s13"
    assert is_stands_twist(twist("r8"), bare_now)
    whole_now = SURVEY.with_row(State(id="s13", supports="wheels", engine="in", body="bolted"))
    assert not is_stands_twist(twist("r4"), whole_now)


def test_what_is_no_twist_is_never_held_back() -> None:
    assert not is_stands_twist(twist("r5", quantity="horn-height"), SURVEY)
