"""Readings of the level on unlike supports: the bare frame on three points decides, nothing is
averaged.

What was read before is told beside it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import pytest

from tests.checks.surveys import BARE, DAY, add, case_of, findings, survey_of
from wizard.checks.case import Case
from wizard.checks.finding import Finding
from wizard.checks.foretell import against_level
from wizard.checks.notes import ReadOn
from wizard.checks.twist_supports import LOADED, THREE, all_supports, footing, is_bare
from wizard.library.places import StepId
from wizard.survey.record import Survey
from wizard.survey.rows import Reading, State

FLAT = {"front-crossmember": 0.0, "center": 0.0, "rear": 0.0}
TWISTED = {"front-crossmember": 0.0, "center": 0.5, "rear": 1.25}
"""Divisions of the carpenter's level, 6 mm in a meter each, left high plus; the rear points are 860
mm apart.
"""
STANDS = {LOADED: {"supports": THREE, "engine": "in"}}
"""Three points, and the engine still in."""
REAR = 0.860 * 6.0 * 1.25


def read(
    survey: Survey,
    supports: str,
    slopes: Mapping[str, float],
    ways: tuple[str, ...] = ("as-set", "turned"),
) -> Survey:
    """The survey with the level read once more on these supports."""
    state = State(
        id=survey.new_id(State), at=DAY, **{**BARE, **STANDS.get(supports, {"supports": supports})}
    )
    survey = survey.with_row(state)
    for place, slope in slopes.items():
        for way in ways:
            typed = f"{abs(slope):.2f} {'left' if slope > 0 else 'right'}" if slope else "0"
            row = Reading(
                id=survey.new_id(Reading),
                at=DAY,
                prompt=f"level/{place}/{way}",
                typed=typed,
                state=state.id,
            )
            survey = survey.with_row(row)
    return survey


def twist(survey: Survey) -> dict[str, Finding]:
    return {f.where: f for f in findings(survey).values() if f.quantity == "twist"}


def on(*series: tuple[str, Mapping[str, float]]) -> dict[str, Finding]:
    survey = survey_of({}, unit="mm")
    for supports, slopes in series:
        survey = read(survey, supports, slopes)
    return twist(survey)


def stood(found: Finding) -> tuple[str, float]:
    note = found.note(ReadOn)
    assert note
    return note.supports, round(note.mm, 1)


@pytest.mark.parametrize("order", [1, -1])
def test_three_points_decide_whether_they_came_first_or_last(order: int) -> None:
    series = [("stands-under-frame", TWISTED), ("three-points", FLAT)][::order]
    found = on(*series)["rear"]
    assert found.value == pytest.approx(0.0, abs=1e-9)
    assert stood(found) == ("stands-under-frame", round(REAR, 1))


@pytest.mark.parametrize("order", [1, -1])
@pytest.mark.parametrize("other", ["stands-under-frame", "stands-under-axles", "wheels"])
def test_three_points_under_a_car_are_never_preferred_to_another_series(
    other: str, order: int
) -> None:
    series = [(LOADED, TWISTED), (other, FLAT)][::order]
    found = on(*series)["rear"]
    last = series[-1]
    assert found.value == pytest.approx(REAR if last[1] is TWISTED else 0.0, rel=1e-3, abs=1e-9)
    assert stood(found)[0] == series[0][0]


@pytest.mark.parametrize("order", [1, -1])
def test_the_bare_frame_on_three_points_comes_before_the_car_on_them(order: int) -> None:
    found = on(*[(LOADED, TWISTED), (THREE, FLAT)][::order])["rear"]
    assert found.value == pytest.approx(0.0, abs=1e-9)
    assert stood(found) == (LOADED, round(REAR, 1))


@pytest.mark.parametrize("engine", ["in", "weight-off", "out", ""])
@pytest.mark.parametrize("body", ["bolted", "loosened", "off", ""])
def test_bare_is_no_engine_and_no_body_and_nothing_less(engine: str, body: str) -> None:
    state = State(id="s1", engine=engine, body=body, supports=THREE)
    bare = engine == "out" and body == "off"
    assert is_bare(state) is bare
    assert footing(state) == (THREE if bare else LOADED)
    assert footing(replace(state, supports="wheels")) == "wheels"


def test_a_twist_that_stays_on_three_points_is_no_mean_either() -> None:
    found = on(("wheels", FLAT), ("three-points", TWISTED))["rear"]
    assert found.value == pytest.approx(REAR, rel=1e-3)
    assert stood(found) == ("wheels", 0.0)


def test_without_three_points_the_latest_supports_decide() -> None:
    found = on(("stands-under-axles", TWISTED), ("wheels", FLAT))["rear"]
    assert found.value == pytest.approx(0.0, abs=1e-9)


def test_one_place_on_three_points_tells_no_twist_and_leaves_the_whole_series_standing() -> None:
    found = on(("stands-under-frame", TWISTED), ("three-points", {"rear": 0.0}))
    assert found["rear"].value == pytest.approx(REAR, rel=1e-3)


def test_a_place_not_read_on_three_points_is_not_held_against_one_that_was() -> None:
    found = on(
        ("stands-under-frame", TWISTED), ("three-points", {"front-crossmember": 0.0, "rear": 0.0})
    )
    assert set(found) == {"rear"}


def test_one_set_of_supports_averages_its_repeats_and_says_nothing_more() -> None:
    found = on(("three-points", TWISTED), ("three-points", FLAT))["rear"]
    assert found.value == pytest.approx(REAR / 2, rel=1e-3)
    assert found.note(ReadOn) is None


def test_the_doubt_is_that_of_one_series_and_not_of_the_jump_between_two() -> None:
    both = on(("stands-under-frame", TWISTED), ("three-points", FLAT))["rear"].number.u
    assert both == pytest.approx(on(("three-points", FLAT))["rear"].number.u)


def test_readings_without_a_state_stay() -> None:
    survey = add(
        read(survey_of({}, unit="mm"), "three-points", FLAT), "level/rear/as-set", "1.25 left"
    )
    assert all_supports(survey, StepId("level")) == ("three-points",)
    assert twist(survey)["rear"].value == pytest.approx(REAR / 4, rel=1e-3)


def test_readings_without_a_state_stay_beside_either_of_two() -> None:
    survey = read(survey_of({}, unit="mm"), "stands-under-frame", TWISTED)
    survey = add(read(survey, "three-points", FLAT), "level/rear/as-set", "1.25 left")
    assert twist(survey)["rear"].value == pytest.approx(REAR / 4, rel=1e-3)


def test_a_reading_turned_round_is_foretold_by_the_one_on_the_same_supports() -> None:
    """The frame leant otherwise on four stands; that is no slip of the reading on three points."""
    survey = read(survey_of({}, unit="mm"), "stands-under-frame", {**FLAT, "rear": 3.0})
    survey = read(survey, "three-points", {"rear": 0.0}, ways=("as-set",))
    case = Case(survey, case_of({}).library)
    prompt = case.prompts["level/rear/turned"]
    assert against_level(case, prompt, 0.0) == ""
    whole = Case(read(survey, "three-points", {"front-crossmember": 0.0}), case.library)
    assert against_level(whole, prompt, 0.0) == ""
    assert against_level(whole, prompt, 0.018) != ""
