"""Doubts that lean on the rest of the survey: the string's neighbors, the level's own error, the
other tapes.
"""

from __future__ import annotations

import pytest

from tests.checks.surveys import LADDER, library, survey_of, taped
from wizard.checks.case import Case
from wizard.checks.foretell import foretelling
from wizard.survey.record import Survey

ABOVE, BELOW = ({"string-set-up/where": w} for w in ("above", "below"))
SQUARE = ("widths", "own-sides", "long-diagonals", "box-diagonals")


def doubt(survey: Survey, prompt: str, typed: str) -> str:
    return foretelling(library())(survey, Case(survey, library()).prompts[prompt], typed)


# The string ---------------------------------------------------------------------------------------
# ------------------


@pytest.mark.parametrize(
    ("answers", "typed", "says"),
    [
        (ABOVE, "51", ""),
        (ABOVE, "48", ""),
        (ABOVE, "53", ""),  # 3 mm the wrong way is what a poor hand reads, once in fifty times
        (ABOVE, "65", "went down by 15 mm"),
        (ABOVE, "34", "rose by 16 mm"),
        (BELOW, "53", ""),
        (BELOW, "47", ""),
        (BELOW, "35", "went down by 15 mm"),
        (BELOW, "66", "rose by 16 mm"),
    ],
)
def test_when_the_weight_goes_the_rail_comes_up_towards_a_string_above_and_away_from_one_below(
    answers: dict[str, str], typed: str, says: str
) -> None:
    read = {"string-set-up/block": ["50"], "sag-loaded/center/left": ["50"]}
    survey = survey_of(read, unit="mm", answers=answers)
    told = doubt(survey, "sag-unloaded/center/left", typed)
    assert says in told
    assert bool(told) == bool(says)


STRAIGHT = {
    f"{step}/{station}/{side}": ["2"]
    for step in ("sag-loaded", "sag-unloaded")
    for station in ("front-crossmember", "mid-engine", "engine-mount", "center", "behind")
    for side in ("left", "right")
}


@pytest.mark.parametrize("step", ["sag-loaded", "sag-unloaded"])
@pytest.mark.parametrize(
    ("typed", "says"),
    [("3", "1 in too long, a whole inch"), ("1 1/2", "half an inch"), ("2 1/16", "")],
)
def test_a_gap_is_held_against_its_rail_its_twin_and_the_other_state_together(
    step: str, typed: str, says: str
) -> None:
    prompt = f"{step}/engine-mount/left"
    others = {"string-set-up/block": ["2"], **STRAIGHT}
    del others[prompt]
    told = doubt(survey_of(others), prompt, typed)
    assert says in told
    assert bool(told) == bool(says)


@pytest.mark.parametrize("typed", ["2 1/8", "1 15/16", "2 1/4"])
def test_the_first_gap_of_a_survey_is_seldom_doubted(typed: str) -> None:
    assert doubt(survey_of({"string-set-up/block": ["2"]}), "sag-loaded/center/left", typed) == ""


def test_a_second_reading_is_doubted_by_what_the_curve_says_and_not_by_3_mm() -> None:
    """The first of the two may be the slip: only the one that does not fit is doubted."""
    others = {"string-set-up/block": ["2"], **STRAIGHT, "sag-loaded/engine-mount/left": ["2 1/2"]}
    survey = survey_of(others)
    assert doubt(survey, "sag-loaded/engine-mount/left", "2") == ""
    assert "half an inch" in doubt(survey, "sag-loaded/engine-mount/right", "2 1/2")


@pytest.mark.parametrize("prompt", ["string-set-up/block", "sag-loaded/center/left"])
def test_a_rule_of_half_a_meter_is_another_unit(prompt: str) -> None:
    assert "Is it in mm?" in doubt(survey_of({}), prompt, "50")
    assert doubt(survey_of({}), prompt, "2") == ""


# No size of its kind
# ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("prompt", "sound", "far"),
    [
        ("panel-gaps/left/top", "1/4", "7"),
        ("panel-gaps/right/low", "6 mm", "60 mm"),
        ("pitting/left/clean", "0.125", "3"),
    ],
)
def test_a_first_reading_far_from_any_size_of_its_kind_is_doubted(
    prompt: str, sound: str, far: str
) -> None:
    assert doubt(survey_of({}), prompt, sound) == ""
    assert "on any car" in doubt(survey_of({}), prompt, far)
    assert "on any car" not in doubt(survey_of({prompt: [far]}), prompt, far)


# The level ----------------------------------------------------------------------------------------
# ------------------

BEFORE = {
    "level/front-crossmember/as-set": ["1 1/2 left"],
    "level/front-crossmember/turned": ["1/2 right"],
}
"""A level out by one division on a frame that leans half a division to the right: 1/2 + 1, 1/2 - 1."""


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("1 right", ""),
        ("1 left", "swap left and right?"),
        ("5 left", "Is it the same level"),
    ],
)
def test_turned_round_the_levels_own_error_is_the_one_of_before(typed: str, says: str) -> None:
    survey = survey_of(BEFORE | {"level/rear/as-set": ["1 left"]})
    told = doubt(survey, "level/rear/turned", typed)
    assert says in told
    assert bool(told) == bool(says)


@pytest.mark.parametrize(("typed", "doubted"), [("1 1/4 right", False), ("2 right", True)])
def test_a_whole_line_off_is_doubted_from_the_second_place_on_and_both_are_named(
    typed: str, doubted: bool
) -> None:
    """Either way round may be the one that was misread, at either place while there are but two."""
    here = {"level/rear/as-set": ["1 left"]}
    told = doubt(survey_of(BEFORE | here), "level/rear/turned", typed)
    assert ("One of the two here, or of the two before" in told) is doubted
    also = {"level/center/as-set": ["1 1/2 left"], "level/center/turned": ["1/2 right"]}
    told = doubt(survey_of(BEFORE | here | also), "level/rear/turned", typed)
    assert ("Either of the two readings here" in told) is doubted


def test_places_that_happen_to_agree_doubt_nobody_for_a_quarter_of_a_line_more() -> None:
    """Three places with one and the same own error make the hand look steadier than a quarter line can be read."""
    same = {
        f"level/{place}/{way}": [f"1 {side}"]
        for place in ("horns", "front-crossmember", "center")
        for way, side in (("as-set", "left"), ("turned", "right"))
    }
    survey = survey_of(same | {"level/rear/as-set": ["1 left"]})
    assert doubt(survey, "level/rear/turned", "1 1/2 right") == ""
    assert doubt(survey, "level/rear/turned", "2 right")


def test_at_the_first_place_nothing_is_known_of_the_level() -> None:
    assert doubt(survey_of({"level/rear/as-set": ["1 left"]}), "level/rear/turned", "7 right") == ""
    assert doubt(survey_of(BEFORE), "level/rear/turned", "7 right") == ""
    assert doubt(survey_of(BEFORE), "level/rear/as-set", "7 right") == ""


# The other tapes ----------------------------------------------------------------------------------
# ------------------

D1 = "long-diagonals/whole/front-left--rear-right"


def square_without(prompt: str) -> tuple[Survey, float]:
    readings = taped(LADDER, SQUARE)
    true = float(readings.pop(prompt)[0].removesuffix(" mm"))
    return survey_of(readings), true


def test_a_tape_that_the_others_foretell_is_taken() -> None:
    survey, true = square_without(D1)
    assert doubt(survey, D1, f"{true + 1:.1f} mm") == ""


@pytest.mark.parametrize(("off", "way"), [(25.4, "long"), (-25.4, "short")])
def test_a_tape_an_inch_off_all_the_others_is_doubted_with_its_slip(off: float, way: str) -> None:
    survey, true = square_without(D1)
    told = doubt(survey, D1, f"{true + off:.1f} mm")
    assert f"By all the other measurements this is 1 in too {way}. Did" in told


def test_an_odd_amount_off_is_doubted_without_a_slip() -> None:
    survey, true = square_without(D1)
    assert doubt(survey, D1, f"{true + 17.3:.1f} mm").endswith("Measure it once more.")


def test_tapes_that_disagree_among_themselves_foretell_nothing() -> None:
    readings = taped(LADDER, SQUARE)
    readings["box-diagonals/front-box/front-left--center-right"] = ["1300"]
    true = float(readings.pop(D1)[0].removesuffix(" mm"))
    assert "By all the other measurements" not in doubt(
        survey_of(readings, unit="mm"), D1, f"{true + 5:.1f}"
    )


@pytest.mark.parametrize(
    ("page", "left", "right", "doubted"),
    [
        ("beam-string", "1 3/4", "9 1/2", True),
        ("beam-string", "1 3/4", "2 5/8", False),
        ("spring-perches", "7 1/4", "11 1/4", True),
        ("spring-perches", "7 1/4", "8 1/4", False),
    ],
)
def test_a_gap_beside_the_axle_that_is_inches_off_its_twin_is_doubted(
    page: str, left: str, right: str, doubted: bool
) -> None:
    """A bent end or a sagged spring is not: only what no axle that still carries a car does."""
    survey = survey_of({f"{page}/left": [left]})
    assert ("off its twin on the other side" in doubt(survey, f"{page}/right", right)) is doubted
