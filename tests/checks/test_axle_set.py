"""The front beam, caster, camber, toe, perches and shackles: what is found of them, with its doubt."""

from __future__ import annotations

import math

import pytest

from tests.checks.surveys import TOOLS, library, survey_of
from wizard.checks import axle_set
from wizard.checks.case import Case
from wizard.checks.finding import Finding
from wizard.checks.notes import FLOOR_OPEN

LEANS = {
    "caster-camber/caster-left": ["5 back", "5.2 back"],
    "caster-camber/caster-right": ["4 back", "4.2 back"],
    "caster-camber/camber-left": ["0.5 out", "0.5 out"],
    "caster-camber/camber-right": ["2.5 out", "2.5 out"],
}
FLOOR = {"caster-camber/floor": ["1 left", "1 left"]}


def found(
    readings: dict[str, list[str]], book: dict[str, str] | None = None, unit: str = "mm"
) -> dict[str, Finding]:
    answers = {f"axle-book/{k}": v for k, v in (book or {}).items()}
    survey = survey_of(readings, unit=unit, tools=(*TOOLS, "digital-gauge"), answers=answers)  # type: ignore[arg-type]
    return {f.id: f for f in axle_set.check(Case(survey, library()))}


def zero_of(finding: Finding) -> float:
    """How much of a gauge's own zero is left in it, degrees."""
    return sum(p.size for p in finding.number.parts if p.name.startswith("gauge:"))


def test_caster_of_each_side_and_of_one_against_the_other() -> None:
    made = found(LEANS)
    assert made["caster-side/left"].value == pytest.approx(5.1)
    assert made["caster-apart/difference"].value == pytest.approx(1.0)


def test_the_gauges_zero_and_the_cars_rake_drop_out_of_left_against_right() -> None:
    made = found(LEANS)
    assert zero_of(made["caster-side/left"]) == pytest.approx(0.2)
    assert zero_of(made["caster-apart/difference"]) == 0.0
    assert not [p for p in made["caster-apart/difference"].number.parts if "rake" in p.name]
    # What is left is the hand, by two readings on either side.
    hands = [p.size for p in made["caster-apart/difference"].number.parts]
    assert made["caster-apart/difference"].number.u == pytest.approx(math.hypot(*hands))


def test_the_floor_is_taken_out_of_the_camber_and_the_zero_with_it() -> None:
    made = found(LEANS | FLOOR)
    assert made["camber-side/left"].value == pytest.approx(1.5)
    assert made["camber-side/right"].value == pytest.approx(1.5)
    assert made["camber-apart/difference"].value == pytest.approx(0.0)
    for where in ("camber-side/left", "camber-side/right", "camber-apart/difference"):
        assert zero_of(made[where]) == pytest.approx(0.0), where
        assert not made[where].has(FLOOR_OPEN)


def test_a_floor_that_nobody_read_is_in_the_doubt_twice_over_and_is_said() -> None:
    made = found(LEANS)
    floor = [p.size for p in made["camber-apart/difference"].number.parts if "floor" in p.name]
    assert floor == pytest.approx([2 * axle_set.FLOOR_U])
    assert made["camber-apart/difference"].has(FLOOR_OPEN)


def test_the_book_is_what_each_side_is_held_against() -> None:
    made = found(LEANS, {"caster": "4", "camber": "-"})
    assert made["caster-book/left"].value == pytest.approx(1.1)
    assert made["caster-book/right"].value == pytest.approx(0.1)
    assert not [id for id in made if id.startswith("camber-book")]


@pytest.mark.parametrize("line", ["", "-", "what the book says", "5 mm", "99999"])
def test_a_book_that_gives_no_figure_judges_nothing(line: str) -> None:
    made = found(LEANS, {"caster": line})
    assert not [id for id in made if id.startswith("caster-book")]


def test_toe_is_what_the_tires_stand_further_apart_behind() -> None:
    tapes = {"toe-tapes/front": ["1300", "1301"], "toe-tapes/back": ["1304", "1303"]}
    made = found(tapes, {"toe": "1/8"})
    assert made["toe/difference"].value == pytest.approx(3.0)
    assert made["toe-book/difference"].value == pytest.approx(3.0 - 3.175)
    # One tape for both: what it has wrong is in both alike.
    left = {p.name.partition(":")[0]: p.size for p in made["toe/difference"].number.parts}
    assert abs(left.get("tape", 0.0)) < 0.05


def test_perches_and_shackles_are_held_left_against_right() -> None:
    made = found(
        {
            "spring-perches/left": ["170", "170"],
            "spring-perches/right": ["182", "182"],
            "spring-perches/shackle-left": ["31 away"],
            "spring-perches/shackle-right": ["2 toward"],
        }
    )
    assert made["perch-apart/difference"].value == pytest.approx(-12)
    assert made["shackle-apart/difference"].value == pytest.approx(33)


def test_one_end_of_the_beam_and_the_doubt_of_a_forging() -> None:
    made = found(
        {
            "beam-string/block": ["50"],
            "beam-string/left": ["43.6", "43.7"],
            "beam-string/right": ["48.3", "48.4"],
        }
    )
    assert made["beam-bend/left"].value == pytest.approx(8.0, abs=0.1)
    assert made["beam-bend/right"].value == pytest.approx(0.0, abs=0.1)
    forged = [p.size for p in made["beam-bend/left"].number.parts if p.name == "forged:beam"]
    assert forged == [axle_set.FORGED_U]


def test_one_side_alone_is_told_and_held_against_nothing() -> None:
    made = found({"caster-camber/caster-left": ["5 back"]})
    assert sorted(made) == ["caster-side/left"]
    assert found({"beam-string/left": ["40"], "beam-string/right": ["40"]}) == {}
