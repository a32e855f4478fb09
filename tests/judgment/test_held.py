"""What outranks the numbers: a stop sign, then loose joints, then a car that rocks; and a body that
props the rails.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.checks.surveys import findings, library
from tests.judgment.test_verdict import sound, verdict
from tests.judgment.test_voices import looked
from wizard.judgment.bands import judge
from wizard.library.marks import PUSH_TEST as PUSH
from wizard.survey.record import Survey
from wizard.survey.rows import Answer, Reading, State

DEEP = {"sag_unloaded__engine_mount__left": ["2 1/2"]}
"""Sag for a specialist."""


def pushed(survey: Survey, said: str) -> Survey:
    return survey.with_row(Answer(id=survey.new_id(Answer), prompt=PUSH, answer=said))


@pytest.mark.parametrize(
    ("prompt", "answer"),
    [
        ("front-crossmember-rivets/left", "loose-rivets"),
        ("center-crossmember-rivets/right", "rivet-gone"),
        ("rear-crossmember/left", "loose-rivets"),
        ("engine-mounts/right", "loose-mount"),
        ("bracket-rivets/left", "loose-rivets"),
    ],
)
def test_loose_joints_come_before_every_number(prompt: str, answer: str) -> None:
    good, bad = (
        verdict(looked(prompt, answer)),
        verdict(looked(prompt, answer, survey=sound(**DEEP))),
    )
    assert (good.action, good.held, good.numbers) == ("open", "joints", "leave")
    assert (bad.action, bad.held, bad.numbers) == ("open", "joints", "specialist")
    assert [s.prompt.id for s in bad.loose] == [prompt]
    assert verdict(sound(**DEEP)).action == "specialist"


def test_a_stop_sign_comes_before_loose_joints_and_joints_before_rocking() -> None:
    loose = looked("front-crossmember-rivets/left", "loose-rivets")
    assert verdict(looked("rail-sides/left", "crack", survey=loose)).action == "stop"
    assert verdict(pushed(loose, "rocks")).held == "joints"


@pytest.mark.parametrize(
    ("said", "held"), [("rocks", "rocks"), ("still", ""), ("moved-then-set", "")]
)
def test_a_car_that_rocks_is_never_called_sound(said: str, held: str) -> None:
    result = verdict(pushed(sound(), said))
    assert (result.action, result.held) == ("open" if held else "leave", held)
    assert verdict(pushed(sound(**DEEP), said)).action == ("open" if held else "specialist")


def test_set_again_and_still_it_may_be_told() -> None:
    assert verdict(pushed(pushed(sound(), "rocks"), "moved-then-set")).action == "leave"


def with_body(survey: Survey, body: str) -> Survey:
    """The survey with every reading taken in that state of the body."""
    survey = survey.with_row(State(id="s900", body=body))
    for row in survey.standing(Reading):
        survey = survey.with_replaced(replace(row, state="s900"))
    return survey


def test_under_a_bolted_body_no_sag_is_left_for_certain() -> None:
    for body, bands in (
        ("bolted", ("leave", "watch")),
        ("loosened", ("leave",)),
        ("off", ("leave",)),
    ):
        survey = with_body(sound(), body)
        sag = judge(findings(survey)["sag-unloaded/engine-mount/left"], survey, library())
        assert sag.bands == bands, body
        assert verdict(survey).action == "leave"
        twist = judge(findings(survey)["twist/rear"], survey, library())
        assert ("leave" in twist.bands, twist.bands == ("leave", "watch")) == (True, False)


def test_it_is_the_state_of_the_string_that_counts_and_not_todays() -> None:
    survey = with_body(sound(), "bolted").with_row(State(id="s901", body="off"))
    assert judge(findings(survey)["sag-unloaded/engine-mount/left"], survey, library()).bands == (
        "leave",
        "watch",
    )


def test_a_graver_band_or_a_crown_is_not_touched_by_the_body() -> None:
    for gap, name in (("2 1/2", "specialist"), ("1 7/8", "leave")):
        survey = with_body(sound(sag_unloaded__engine_mount__left=[gap]), "bolted")
        found = judge(findings(survey)["sag-unloaded/engine-mount/left"], survey, library())
        assert found.bands == (name,), gap


def test_only_what_is_past_a_certain_leave_is_a_reason() -> None:
    assert verdict(sound()).reasons == ()
    near = verdict(sound(sag_unloaded__engine_mount__left=["2 1/8"]))
    assert [j.bands for j in near.reasons] == [("leave", "watch")]
