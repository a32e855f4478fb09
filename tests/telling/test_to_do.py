"""What the page says where loose joints, a rocking car, looks or places not seen hold the verdict
open.
"""

from __future__ import annotations

import json

import pytest

from tests.checks.surveys import DAY, library
from tests.judgment.test_held import DEEP, pushed, with_body
from tests.judgment.test_verdict import sound
from tests.judgment.test_voices import looked
from tests.telling.saying import tells
from tests.telling.test_report import SOURCE
from tests.telling.test_verdict_words import flat, told
from wizard.judgment.sight import verdict_of
from wizard.library import marks
from wizard.library.marks import VOICES
from wizard.survey.record import Survey
from wizard.survey.standing import ROCKING as WHY
from wizard.telling.answer_words import headline_of
from wizard.telling.json_out import as_json
from wizard.telling.not_driven import NOT_DRIVEN
from wizard.telling.report import report_of
from wizard.telling.tell import tell_text, verdict_page
from wizard.telling.text import PAPER, text_of
from wizard.telling.to_do import VOICES as WORDS
from wizard.telling.verdict_words import NONE_OUT, PROPPED

DO = "What to do"


def head(survey: Survey) -> str:
    return headline_of(verdict_of(survey, library(), DAY), survey, library())


def test_every_voice_and_every_joint_has_its_words() -> None:
    assert list(WORDS) == [marks.DEEP, *VOICES]
    steps = library().steps.values()
    loose = {s.id for s in steps for p in s.prompts for c in p.choices if c.loose}
    assert loose == {s.id for s in steps if s.joint} != set()


CASES = [
    (
        "rail-tops/left",
        "heavy-pitting",
        "nobody has measured what is left. Measure it with a caliper first. (The tops",
    ),
    ("rail-tops/left", "flaking", "nobody knows how much is left"),
    (
        "sectioned-rails/left",
        "seam-all-round",
        "a licensed welder says, not a tape. (A rail made from",
    ),
    (
        "rail-sides/left",
        "wrinkle-lower-flange",
        "wrinkled flange was once folded. Have somebody who knows",
    ),
    (
        "front-crossmember-rivets/left",
        "rust-ring",
        "may mean a loose rivet: oil it, tap it, answer again.",
    ),
    ("paint-cracks/left", "fresh-paint-crack", "something moves there now. See it bare."),
    ("heat-and-clamps/left", "heat-and-bites", "Somebody has used heat or clamps here."),
]


@pytest.mark.parametrize(("prompt", "answer", "says"), CASES)
def test_each_look_has_its_own_line(prompt: str, answer: str, says: str) -> None:
    survey = looked(prompt, answer)
    assert head(survey).endswith(NOT_DRIVEN) is prompt.startswith("paint-cracks/")
    tells(head(survey), "left", ".")
    assert says in flat(survey, DO)
    assert "Nothing to put right" not in verdict_page(survey, library(), DAY)
    assert says not in flat(sound(), DO)


def test_both_sides_of_one_page_are_one_place() -> None:
    survey = looked("rail-tops/left", "flaking", survey=looked("rail-tops/right", "flaking"))
    assert "(The tops of the rails, left and right.)" in flat(survey, DO)


def test_the_line_stands_beside_graver_numbers_too() -> None:
    survey = looked("rail-tops/left", "heavy-pitting", survey=sound(**DEEP))
    assert "take the frame to a specialist." in head(survey)
    assert "caliper first" in flat(survey, DO)


def test_places_not_seen_bare_are_named() -> None:
    survey = looked(
        "front-crossmember-rivets/left",
        "",
        "not-reached",
        looked("rail-sides/right", "", "not-reached"),
    )
    tells(head(survey), "Not seen bare yet", "rivets (left)", "Clean the ones that must be bare")
    tells(flat(survey, DO), "Clean to bare metal", "the front crossmember's rivets, left")
    tells(flat(survey, DO), "Get to see", "the sides of the rails, right")
    reached = looked("rail-sides/right", "", "not-reached")
    tells(head(reached), "Not seen yet", "the sides of the rails (right)", "be sure")
    assert "bare" not in head(reached)


def test_what_was_seen_comes_before_numbers_to_watch() -> None:
    watched = sound(sag_unloaded__engine_mount__left=["2 3/16"] * 6)
    tells(head(looked("rail-tops/left", "heavy-pitting", survey=watched)), "Deep pits", "left rail")


def test_the_joints_come_first_and_what_the_figures_would_say_is_said() -> None:
    survey = looked("front-crossmember-rivets/left", "loose-rivets", survey=sound(**DEEP))
    lines = told(survey)[DO]
    assert head(survey) == f"Front crossmember loose. {NOT_DRIVEN}"
    tells(lines[0], "The front crossmember is loose", "Until its joints are tight", "cannot be")
    assert lines[1] == "If they still read so then, the frame is a matter for a specialist."
    assert "still read so" not in flat(looked("front-crossmember-rivets/left", "loose-rivets"), DO)
    assert told(looked("front-crossmember-rivets/left", "loose-rivets"))["What is in order"][
        0
    ].startswith("As far as")
    assert told(sound())["What is in order"][0].startswith("Nothing needs doing here")


@pytest.mark.parametrize(
    ("prompt", "answer", "says"),
    [
        (
            "engine-mounts/left",
            "loose-mount",
            "The left engine mount is loose. Until it is tight",
        ),
        (
            "bracket-rivets/right",
            "loose-rivets",
            "A bracket on the right rail is loose. Until it is tight",
        ),
    ],
)
def test_what_is_loose_has_its_name(prompt: str, answer: str, says: str) -> None:
    assert told(looked(prompt, answer))[DO][0].startswith(says)
    two = looked("rear-crossmember/left", "rivet-gone", survey=looked(prompt, answer))
    assert "are loose. Until they are tight" in told(two)[DO][0]


def test_a_car_that_rocks_is_said_first_even_beside_a_stop_sign() -> None:
    survey = pushed(sound(), "rocks")
    tells(head(survey), "rocks", "set the supports again", "Nothing is known")
    assert told(survey)[DO][0].startswith(WHY)
    stopped = pushed(looked("rail-sides/left", "crack"), "rocks")
    assert told(stopped)[DO][0].startswith(WHY)
    assert head(stopped).startswith("Crack in the left rail")
    assert WHY not in flat(pushed(sound(), "still"), DO)


def test_under_a_bolted_body_the_sag_says_that_it_may_be_more() -> None:
    assert PROPPED in flat(with_body(sound(), "bolted"), "The strongest reasons")
    assert PROPPED in flat(
        with_body(sound(sag_unloaded__engine_mount__left=["2 15/64"]), "bolted"), OPEN
    )
    assert PROPPED not in verdict_page(with_body(sound(), "off"), library(), DAY)


OPEN = "What cannot be told yet"


def test_a_frame_with_no_figure_out_says_just_that() -> None:
    assert told(sound())["The strongest reasons"] == (NONE_OUT,)
    near = sound(sag_unloaded__engine_mount__left=["2 1/8"])
    assert NONE_OUT not in told(near)["The strongest reasons"]
    assert not any(line.endswith("Leave it.") for line in told(near)["The strongest reasons"])


@pytest.mark.parametrize(
    "survey",
    [
        looked("rail-tops/left", "heavy-pitting"),
        looked("rail-sides/right", "", "not-reached"),
        looked("front-crossmember-rivets/left", "loose-rivets"),
        pushed(sound(), "rocks"),
    ],
    ids=["seen", "unseen", "joints", "rocks"],
)
def test_tell_json_and_report_say_the_same(survey: Survey) -> None:
    data = json.loads(as_json(survey, library(), DAY))["verdict"]
    assert (data["action"], data["headline"]) == ("open", head(survey))
    assert head(survey) in " ".join(tell_text(survey, library(), DAY).split())
    assert head(survey) in " ".join(
        text_of(report_of(survey, library(), DAY, SOURCE), PAPER).split()
    )
