"""Doubts at the prompt."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.checks.surveys import add, library, survey_of
from wizard.checks.case import Case
from wizard.checks.foretell import foretelling, without
from wizard.library.places import mirrored
from wizard.survey.record import Survey

pytestmark = pytest.mark.quick

D1, D2 = (
    "long-diagonals/whole/front-left--rear-right",
    "long-diagonals/whole/front-right--rear-left",
)
LEFT, RIGHT = "wheelbase/left", "wheelbase/right"


def doubt(survey: Survey, prompt: str, typed: str) -> str:
    return foretelling(library())(survey, Case(survey, library()).prompts[prompt], typed)


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("81", "You read 80 before and 81 now, 1 in apart"),
        ("80 1/2", "1/2 in apart"),
        ("70", "10 in apart"),
        ("92", "12 in apart"),
    ],
)
def test_a_recognized_slip_against_the_reading_before(typed: str, says: str) -> None:
    assert says in doubt(survey_of({D1: ["80"]}), D1, typed)


@pytest.mark.parametrize("typed", ["80", "80 1/16", "79 15/16", "80 1/8"])
def test_a_repeat_as_the_hand_scatters_is_taken(typed: str) -> None:
    assert doubt(survey_of({D1: ["80"]}), D1, typed) == ""


def test_a_repeat_further_off_accuses_neither_of_the_two() -> None:
    assert "either of the two may be wrong" in doubt(survey_of({D1: ["80"]}), D1, "80 1/4")


def test_a_coarse_hand_is_learned_and_not_asked_again_and_again() -> None:
    """Pairs 4 mm apart say that this hand scatters by almost 3 mm; a hand of 0.8 mm would not."""
    widths = [f"widths/{p}/{p}-left--{p}-right" for p in ("front", "center", "rear")]
    coarse = {width: ["600 mm", "604 mm"] for width in widths} | {LEFT: ["2600 mm", "2604 mm"]}
    assert doubt(survey_of({D1: ["80"]}), D1, "80 1/4")
    assert doubt(survey_of({D1: ["80"], **coarse}), D1, "80 1/4") == ""


def test_the_nearest_slip_is_named() -> None:
    """Half an inch is nobody's slip on a metric tape, and 11 mm is nobody's on one in inches."""
    assert "11 mm apart. Did you read the centimeter" in doubt(
        survey_of({LEFT: ["2600"]}, unit="mm"), LEFT, "2611"
    )
    assert "1/2 in apart" in doubt(survey_of({LEFT: ["103"]}), LEFT, "103 1/2")
    assert "inch" not in doubt(survey_of({LEFT: ["103"]}), LEFT, "103 3/4")


def test_a_twin_an_inch_off_is_doubted_and_one_a_quarter_inch_off_is_a_finding() -> None:
    survey = survey_of({LEFT: ["103"]})
    assert "its twin on the other side" in doubt(survey, RIGHT, "104")
    assert doubt(survey, RIGHT, "103 1/4") == ""


def test_half_an_inch_that_will_be_taped_again_is_no_doubt_yet() -> None:
    """A real half inch between the sides is a finding; a slip shows at the second reading."""
    single = "wheelbase/rear-axle-left", "wheelbase/rear-axle-right"
    assert doubt(survey_of({LEFT: ["103"]}), RIGHT, "103 1/2") == ""
    assert "1/2 in off its twin" in doubt(survey_of({single[0]: ["8"]}), single[1], "8 1/2")


def test_a_twin_hopelessly_off_is_doubted_though_no_slip_is_known() -> None:
    assert "Measure it once more" in doubt(survey_of({LEFT: ["103"]}), RIGHT, "99 1/4")


def test_an_eighty_inch_frame_is_no_odd_one() -> None:
    """The layout's round figure for this diagonal is 91 in: smaller frames of the kind must pass."""
    assert doubt(survey_of({}), D1, "80") == ""


def test_a_figure_not_past_the_mark_is_asked_about() -> None:
    survey = survey_of({})
    tape = survey.tool("tape")
    assert tape is not None
    survey = survey.with_replaced(replace(tape, extra={**tape.extra, "start": "mark"}))
    assert "all that the tape says" in doubt(survey, LEFT, "9")
    assert doubt(survey, LEFT, "113") == ""


def test_only_lengths_and_bubbles_are_foretold() -> None:
    assert doubt(survey_of({}), "front-box-bar/closing", "9 past") == ""


def test_what_cannot_be_read_is_not_doubted_here() -> None:
    assert doubt(survey_of({}), "level/rear/as-set", "far left") == ""


def test_the_survey_without_one_reading() -> None:
    survey = survey_of({D1: ["80", "81"]})
    last = survey.readings_of(D1)[-1]
    assert [r.typed for r in without(survey, last.id).readings_of(D1)] == ["80"]
    assert [r.typed for r in survey.readings_of(D1)] == ["80", "81"]


@pytest.mark.parametrize(
    ("prompt", "twin"),
    [
        (D1, D2),
        ("wheelbase/left", "wheelbase/right"),
        ("sag-loaded/front-crossmember/left", "sag-loaded/front-crossmember/right"),
        ("string-set-up/span", "string-set-up/span"),
    ],
)
def test_the_twin_of_a_prompt(prompt: str, twin: str) -> None:
    assert mirrored(prompt) == twin
    assert mirrored(twin) == prompt


def test_a_doubt_needs_no_other_reading_of_the_same_prompt_to_be_gone() -> None:
    survey = add(survey_of({}), D1, "80")
    assert doubt(survey, D2, "80 1/8") == ""
