"""The sun on one side: what it adds to the doubt of string, level and tape, and to which of them not."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import timedelta

import pytest

from tests.checks.surveys import DAY, library, survey_of
from wizard.checks.case import case_of
from wizard.checks.finding import Finding
from wizard.checks.run import on_readings
from wizard.judgment.change import Change, compare
from wizard.library.places import part_of
from wizard.math.uncertain import Uncertain
from wizard.survey.record import Survey
from wizard.survey.rows import Reading, State

pytestmark = pytest.mark.quick

STRING = {"string-set-up/block": ["50"], "string-set-up/span": ["2180"]} | {
    f"{page}/{station}/{side}": ["50"]
    for page in ("sag-loaded", "sag-unloaded")
    for station in ("front-crossmember", "engine-mount", "center", "behind")
    for side in ("left", "right")
}
LEVEL = {
    f"level/{place}/{way}": ["0"]
    for place in ("front-crossmember", "center", "rear")
    for way in ("as-set", "turned")
}
TAPE = {
    "own-sides/whole/front-left--rear-left": ["2000"],
    "own-sides/whole/front-right--rear-right": ["2000"],
    "widths/front/front-left--front-right": ["600"],
    "long-diagonals/whole/front-left--rear-right": ["2100"],
    "long-diagonals/whole/front-right--rear-left": ["2100"],
}


def in_sun(words: str, readings: dict[str, list[str]]) -> Survey:
    survey = survey_of(readings, unit="mm", answers={"string-set-up/where": "above"})
    survey = survey.with_row(State(id="s900", at=DAY, temperature=words))
    for row in survey.table(Reading):
        survey = survey.with_replaced(replace(row, state="s900"))
    return survey


def found(words: str, readings: dict[str, list[str]]) -> dict[str, Finding]:
    case = case_of(in_sun(words, readings), library())
    return {f.id: f for f in on_readings(case, library().quantities.values())}


def of_sun(number: Uncertain) -> float:
    """Size of what the sun adds, the parts' squares added."""
    return math.hypot(*(p.size for p in number.parts if part_of(p.name).kind == "sun"))


def test_the_rail_in_the_sun_is_known_less_well_and_its_twin_as_well_as_ever() -> None:
    shade, sun = found("18 C", STRING), found("18 C, sun on the left", STRING)
    left, right = "sag-unloaded/center/left", "sag-unloaded/center/right"
    assert sun[left].value == shade[left].value, "how warm it was nobody measured: no figure moves"
    assert sun[left].number.u > shade[left].number.u
    assert sun[right].number == shade[right].number
    # The layout's rail is 100 mm deep and the string 2180 mm: the bow of 0.69 mm, rectangular, at
    # 1000 mm behind the front points, whose block stands 80 mm ahead of them.
    share = 1080 / 2180
    bow = 11.6e-6 * 10 * 2180**2 / 800
    assert of_sun(sun[left].number) == pytest.approx(
        4 * share * (1 - share) * bow / math.sqrt(3), rel=0.01
    )


def test_in_the_sun_what_springs_back_is_in_doubt_too_for_the_sun_moves_on() -> None:
    sun = found("18 C, sun on the left", STRING)
    assert of_sun(sun["elastic/center/left"].number) > of_sun(sun["sag-loaded/center/left"].number)
    assert of_sun(sun["elastic/center/right"].number) == 0


def test_both_sides_in_the_sun_tilt_no_level_and_lie_alike_under_the_string() -> None:
    both = found("18 C, both sides in the sun", STRING | LEVEL)
    assert of_sun(both["twist/center"].number) == 0
    apart = both["sag-loaded/center/left"].number - both["sag-loaded/center/right"].number
    assert of_sun(apart) == pytest.approx(0, abs=1e-12)
    assert of_sun(both["sag-loaded/center/left"].number) > 0


def test_a_level_is_in_doubt_by_the_bow_of_the_rail_under_its_one_end() -> None:
    one = found("18 C, sun on the right", LEVEL)
    # 0.69 mm, rectangular, in the middle of the string, less the little at the front crossmember.
    assert of_sun(one["twist/center"].number) == pytest.approx(0.4, abs=0.08)
    assert of_sun(found("18 C", LEVEL)["twist/center"].number) == 0


def test_a_tape_along_the_warm_rail_may_read_it_long_and_across_it_is_right() -> None:
    case = case_of(in_sun("18 C, sun on the left", TAPE), library())
    sizes = {str(id): of_sun(case.taken(id).number) for id in case.counted}
    length = abs(case.place_of("rear-left")[0] - case.place_of("front-left")[0])
    assert sizes["own-sides/whole/front-left--rear-left"] == pytest.approx(
        11.6e-6 * 10 * length / math.sqrt(3), rel=0.01
    )
    assert sizes["own-sides/whole/front-right--rear-right"] == 0
    assert sizes["widths/front/front-left--front-right"] == 0


def test_the_two_diagonals_carry_it_against_each_other() -> None:
    """One ends at the warm rail's front and one at its rear, and both lie as far from its middle."""
    sun = found("18 C, sun on the left", TAPE)
    shade = found("18 C", TAPE)
    assert sun["own-sides/whole"].number.u > shade["own-sides/whole"].number.u
    assert sun["rail-shift/whole"].value == shade["rail-shift/whole"].value


def test_what_was_read_before_anybody_said_so_counts_as_it_was_first_said() -> None:
    survey = in_sun("18 C, sun on the left", TAPE)
    survey = survey.with_row(State(id="s901", at=DAY))
    for row in survey.table(Reading):
        survey = survey.with_replaced(replace(row, state="s901"))
    assert set(case_of(survey, library()).suns.values()) == {"left"}


@pytest.mark.parametrize("words", ["", "18 C", "18 C, no sun", "warm", "sun"])
def test_without_a_side_in_the_sun_nothing_has_more_doubt(words: str) -> None:
    assert not case_of(in_sun(words, TAPE), library()).suns


def _center_since(words: str, low: float) -> Change:
    """What compare says of the left rail in the middle, so much lower than it was in the shade."""
    lower = {f"sag-unloaded/{s}/left": [f"{50 + low}"] * 2 for s in ("engine-mount", "center")}
    then, now = in_sun("18 C", STRING), in_sun(words, STRING | lower)
    now = replace(now, started=DAY + timedelta(days=180))
    changes = {str(c.new.id): c for c in compare(then, now, library()).changes}
    return changes["sag-unloaded/center/left"]


def test_what_the_sun_can_do_between_two_surveys_is_no_change_and_more_is_one() -> None:
    """By the bow of a rail whose top is 10 degrees warmer, 0.69 mm of 2,180 (held above): so much is in doubt between a day in the shade and one in the sun."""
    shade, sun = (_center_since(words, 1.5) for words in ("18 C", "18 C, sun on the left"))
    assert sun.half_width > shade.half_width + 0.05
    assert sun.visible > shade.visible
    assert sun.says == "not changed"
    assert _center_since("18 C, sun on the left", 4.0).says == "changed"
