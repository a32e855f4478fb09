"""Signs that only tell, and what happened since the frame was measured last."""

from __future__ import annotations

from typing import Any

import pytest

from tests.checks.surveys import library
from tests.judgment.stories import causes, evidence_for, stories, survey
from wizard.judgment.shown import is_fitted
from wizard.judgment.signs import Evidence, evidence_of

pytestmark = pytest.mark.quick

LINES = [["die-marks", side, "", "bare", "marks-there"] for side in ("left", "right")]
FITTED = {"history/fitted": "yes"}


def story(name: str, **other: Any) -> dict[str, Any]:
    return {**stories()[name], **other}


def signs(of: dict[str, Any]) -> dict[str, Evidence]:
    return {e.sign.id: e for e in evidence_of(*evidence_for(of), library().signs)}


def test_press_lines_make_nothing_odd_and_nothing_made_so() -> None:
    found = causes(story("quiet-frame", looks=LINES))
    assert found["original"].answer == "none"
    assert {e.sign.id for e in found.untouched} == {"press-lines"}
    assert causes(stories()["quiet-frame"]).untouched == ()


def test_press_lines_weigh_on_no_cause() -> None:
    """Else passing them over would make a repair or a collision bolder."""
    for name in ("kink-alone", "heat-under-paint", "front-box-out-alone"):
        without = story(name)
        looked = {**without, "looks": [*without.get("looks", []), *LINES]}
        assert {c: f.strength for c, f in causes(looked).conclusions.items()} == {
            c: f.strength for c, f in causes(without).conclusions.items()
        }


@pytest.mark.parametrize(
    ("token", "sign", "weight"),
    [("ripple", "ripple", "medium"), ("kink", "kink", "strong"), ("buckle-6mm", "kink", "strong")],
)
def test_a_soft_wave_is_not_a_sharp_bend(token: str, sign: str, weight: str) -> None:
    found = signs(story("quiet-frame", looks=[["rail-sides", "left", "front", "bare", token]]))
    assert {k: e.weight for k, e in found.items()} == {sign: {"collision": weight}}


def test_a_knock_since_last_time_leans_to_a_collision_as_a_known_one_does() -> None:
    since = causes(story("quiet-frame", answers={"since-last-time/happened": "knock"}))["collision"]
    before = causes(story("quiet-frame", answers={"history/knocked": "yes"}))["collision"]
    assert (since.answer, before.answer) == ("hint", "hint")
    assert (
        [e.weight for e in since.signs]
        == [e.weight for e in before.signs]
        == [{"collision": "medium"}]
    )


@pytest.mark.parametrize("quiet", ["nothing", "rough", "lifted"])
def test_what_is_no_knock_leans_to_none(quiet: str) -> None:
    assert (
        causes(story("quiet-frame", answers={"since-last-time/happened": quiet}))[
            "collision"
        ].answer
        == "none"
    )


def test_a_knock_since_last_time_overtakes_a_past_without_a_hit() -> None:
    never = {"history/knocked": "no"}
    knock = never | {"since-last-time/happened": "knock"}
    assert causes(story("quiet-frame", answers=knock))["collision"].answer == "hint"
    dent = stories()["never-hit-one-smooth-dent"]
    assert (
        causes({**dent, "answers": never | {"since-last-time/happened": "rough"}})[
            "collision"
        ].answer
        == "none"
    )


def test_where_it_was_hit_since_is_its_own_answer_and_not_the_old_one() -> None:
    answers = {"since-last-time/happened": "knock", "history/where": "right-rear"}
    assert signs(story("quiet-frame", answers=answers))["told-of-a-knock-since"].zones == ()
    answers |= {"since-last-time/where": "left-front"}
    assert signs(story("quiet-frame", answers=answers))["told-of-a-knock-since"].zones == (
        ("left", "front"),
    )


@pytest.mark.parametrize(
    ("since", "older"),
    [
        ({}, True),
        ({"happened": "nothing", "corrected": "no"}, True),
        ({"happened": "knock"}, False),
        ({"happened": "rough"}, False),
        ({"happened": "lifted"}, False),
        ({"happened": "nothing", "corrected": "straightened"}, False),
    ],
)
def test_older_than_the_fitting_is_not_said_once_something_happened_since(
    since: dict[str, str], older: bool
) -> None:
    answers = FITTED | {f"since-last-time/{k}": v for k, v in since.items()}
    made = story("equal-sag-fitted", answers=answers)
    assert bool(causes(made).older) is older
    assert is_fitted(survey(made), library()) is older
