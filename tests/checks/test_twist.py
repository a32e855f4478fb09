"""Twist by level: signs, reversal, and what cancels."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from tests.checks.surveys import TOOLS, add, case_of, library, survey_of
from wizard.checks import twist
from wizard.checks.case import Case
from wizard.checks.finding import Finding
from wizard.checks.notes import Against
from wizard.survey.rows import Tool

pytestmark = pytest.mark.quick

PLACES = ("horns", "front-crossmember", "center", "rear")


def read(
    slopes: dict[str, float], own: float = 0.0, ways: tuple[str, ...] = ("as-set", "turned")
) -> dict[str, list[str]]:
    """Bubbles (divisions) that a level with that own error shows at frame slopes given in
    divisions, left high plus.
    """
    readings = {}
    for place, slope in slopes.items():
        for way, sign in (("as-set", 1), ("turned", -1)):
            if way in ways:
                value = slope + sign * own
                side = "left" if value > 0 else "right"
                readings[f"level/{place}/{way}"] = [f"{abs(value):.2f} {side}" if value else "0"]
    return readings


def found(readings: dict[str, list[str]], **more: object) -> dict[str, Finding]:
    return {f.id: f for f in twist.check(case_of(readings, unit="mm", **more))}


@pytest.mark.parametrize("own", [0.0, 1.5, -2.0])
def test_the_same_bubble_all_along_is_no_twist_whatever_the_level_is_out_by(own: float) -> None:
    result = found(read(dict.fromkeys(PLACES, 0.5), own))
    assert [result[f"twist/{p}"].value for p in ("center", "rear")] == pytest.approx(
        [0.0, 0.0], abs=1e-12
    )
    # One division of the carpenter's level is 6 mm in a meter.
    assert result["level-error/level"].value == pytest.approx(6 * own)


def test_left_higher_at_the_rear_than_in_front_is_plus_by_width_and_slope() -> None:
    result = found(read({"front-crossmember": -0.25, "rear": 0.25}))
    # Half a division is 3 mm in a meter; the rear points are 860 mm apart in the layout.
    assert result["twist/rear"].value == pytest.approx(0.860 * 3.0, rel=1e-4)
    turned = found(read({"front-crossmember": 0.25, "rear": -0.25}))
    assert turned["twist/rear"].value == pytest.approx(-0.860 * 3.0, rel=1e-4)


def test_the_taped_width_is_used() -> None:
    readings = read({"front-crossmember": 0.0, "rear": 0.5}) | {
        "widths/rear/rear-left--rear-right": ["500"]
    }
    assert found(readings)["twist/rear"].value == pytest.approx(1.5, rel=1e-4)


def test_horns_are_judged_as_horns_and_never_as_the_reference() -> None:
    result = found(read({"horns": 0.5, "front-crossmember": 0.0, "rear": 0.0}))
    assert result["horn-height/horns"].value == pytest.approx(0.590 * 3.0, rel=1e-4)
    assert (result["horn-height/horns"].limit, result["twist/rear"].limit) == ("horn", "twist")
    assert result["twist/rear"].value == 0.0


def test_without_the_front_crossmember_the_next_place_is_the_reference_and_is_named() -> None:
    result = found(read({"center": 0.5, "rear": 0.5, "horns": 0.5}))
    assert set(result) == {"horn-height/horns", "twist/rear", "level-error/level"}
    assert result["twist/rear"].notes == (Against("center"),)


def test_horns_alone_have_nothing_to_be_held_against() -> None:
    assert set(found(read({"horns": 0.5}))) == {"level-error/level"}


def test_one_way_round_carries_the_levels_own_error_as_doubt() -> None:
    both = found(read({"front-crossmember": 0.0, "rear": 0.5}))["twist/rear"].number
    mixed = read({"front-crossmember": 0.0}) | read({"rear": 0.5}, ways=("as-set",))
    one = found(mixed)["twist/rear"].number
    part = next(p for p in one.parts if p.name == "level:own-error")
    assert part.size == pytest.approx(0.860 * 2.0, rel=1e-4)
    assert one.u > 3 * both.u


def test_a_level_never_turned_round_has_the_same_error_everywhere_and_it_cancels() -> None:
    result = found(read({"front-crossmember": 0.0, "rear": 0.5}, ways=("as-set",)))
    assert "level:own-error" not in {p.name for p in result["twist/rear"].number.parts}
    assert "level-error/level" not in result


def test_one_place_as_set_and_the_other_turned_add_up() -> None:
    mixed = read({"front-crossmember": 0.0}, ways=("turned",)) | read(
        {"rear": 0.0}, ways=("as-set",)
    )
    part = next(p for p in found(mixed)["twist/rear"].number.parts if p.name == "level:own-error")
    assert part.size == pytest.approx(0.860 * 4.0, rel=1e-4)


def test_a_carpenters_level_tells_three_millimeters_and_not_one_and_a_half() -> None:
    """0.1 division of 6 mm/m, both ways round at two places 0.75 m wide: about 0.46 mm (measured by
    identity); worth 4 degrees of freedom, to which two places that agree add one of nothing.
    """
    number = found(read({"front-crossmember": 0.0, "center": 0.0}))["twist/center"].number
    assert number.u == pytest.approx(0.73 * 6 * 0.1 * math.sqrt(4 / 5), rel=0.01)
    assert 1.5 < 2 * 2.015 * number.u < 3.0  # t of 0.95 at 5 degrees of freedom


def test_back_at_the_horns_what_changed_is_the_closing() -> None:
    again = {"level/horns/again-as-set": ["1 left"], "level/horns/again-turned": ["1 left"]}
    result = found(read({"horns": 0.5, "front-crossmember": 0.5}) | again)
    assert result["level-closing/horns"].value == pytest.approx(0.590 * 3.0, rel=1e-4)


@pytest.mark.parametrize(
    ("tool", "typed", "slope"),
    [
        ("machinists-level", "2 left", 0.001),
        ("angle-gauge", "0.3° left", math.tan(math.radians(0.3))),
        ("level-with-shims", "1.5 mm left", 1.5 / 600),
        ("carpenters-level", "1/2 right", -0.003),
    ],
)
def test_every_kind_of_level_gives_a_slope_left_high_plus(
    tool: str, typed: str, slope: float
) -> None:
    tools = (*(t for t in TOOLS if t != "carpenters-level"), tool)
    case = case_of({"level/rear/as-set": [typed]}, unit="mm", tools=tools)
    taken = case.taken("level/rear/as-set")
    assert taken is not None
    assert taken.number.value == pytest.approx(slope)


def uneven(by: float) -> dict[str, list[str]]:
    """A level whose own error comes out by so many lines more or less from place to place."""
    made = read(dict.fromkeys(PLACES, 0.0), 1.0)
    for place, sign in zip(PLACES, (1, -1, 1, -1), strict=True):
        made[f"level/{place}/as-set"] = [f"{1 + sign * by:.2f} left"]
        made[f"level/{place}/turned"] = [f"{1 + sign * by:.2f} right"]
    return made


def test_a_hand_that_reads_the_levels_own_error_unevenly_is_known_less_well() -> None:
    """A hasty hand's intervals held 92 where 95 are promised: the level's own error is one and the
    same, so that four places say three times how the hand scatters, and nobody asked them.
    """
    even, hasty = (found(uneven(by))["twist/rear"].number for by in (0.0, 0.25))
    alone = found(read({"front-crossmember": 0.0}, 1.0) | read({"rear": 0.0}, 1.0))
    assert hasty.u > 1.5 * even.u
    assert even.u < alone["twist/rear"].number.u
    assert hasty.dof == pytest.approx(4 + 3, abs=0.5)  # what is known beforehand, and four places


def test_two_levels_have_two_errors_and_neither_scatters_for_that() -> None:
    """The error of each is its own: one of 1 line and one of 3 make nobody's hand hasty."""
    both = read({"horns": 0.0, "front-crossmember": 0.0}, 1.0)
    survey = survey_of(both | read({}), unit="mm", tools=(*TOOLS, "carpenters-level"))
    other = survey.standing(Tool)[-1].id
    first = next(t.id for t in survey.standing(Tool) if t.kind == "level")
    assert other != first
    for place in ("center", "rear"):
        for way, side in (("as-set", "left"), ("turned", "right")):
            survey = add(survey, f"level/{place}/{way}", f"3 {side}", tool=other)
    for prompt in both:
        survey = survey.with_replaced(replace(survey.readings_of(prompt)[0], tool=first))
    case = Case(survey, library())
    pooled = case.pooled["level", ""]
    assert pooled.s < 0.1
    assert pooled.dof == 4 + 1 + 1
