"""Diagonals of each box, against frames whose points were moved on purpose."""

from __future__ import annotations

import math

import pytest

from tests.checks.surveys import LADDER, case_of, moved, taped
from wizard.checks import diagonals
from wizard.checks.finding import Finding
from wizard.checks.notes import ROUND_FIGURES, OneOf

STEPS = ("long-diagonals", "box-diagonals", "own-sides", "widths")
WHOLE = (
    "long-diagonals/whole/front-left--rear-right",
    "long-diagonals/whole/front-right--rear-left",
)


def found(readings: dict[str, list[str]], unit: str = "mm") -> dict[str, Finding]:
    return {f.id: f for f in diagonals.check(case_of(readings, unit=unit))}


@pytest.mark.parametrize("s", [6.0, -6.0, 2.5])
def test_a_right_rail_further_back_is_a_shift_of_that_much_in_every_box(s: float) -> None:
    right = {p.replace("-", "_"): (s, 0.0) for p in LADDER if p.endswith("right")}
    result = found(taped(moved(LADDER, **right), STEPS))
    for box in ("whole", "front-box", "rear-box"):
        # d1² - d2² = 4 L s is exact; the widths, taped aslant of a slipped frame, are not quite.
        assert result[f"rail-shift/{box}"].value == pytest.approx(s, abs=0.002)
        assert result[f"closure/{box}"].value == pytest.approx(0.0, abs=0.002)


def test_the_left_rail_further_back_is_negative() -> None:
    left = {p.replace("-", "_"): (6.0, 0.0) for p in LADDER if p.endswith("left")}
    assert found(taped(moved(LADDER, **left), STEPS))["rail-shift/whole"].value == pytest.approx(
        -6.0, abs=0.002
    )


def test_a_published_free_diamond_by_identity() -> None:
    """d from L 2500, W 762 as taped, s 6 (identity); the box's own length comes from the own sides."""
    readings = {WHOLE[0]: ["2619.28311"], WHOLE[1]: ["2607.80444"]}
    readings |= {
        "own-sides/whole/front-left--rear-left": ["2500"],
        "own-sides/whole/front-right--rear-right": ["2500"],
    }
    readings |= {
        "widths/front/front-left--front-right": ["762"],
        "widths/rear/rear-left--rear-right": ["762"],
    }
    assert found(readings)["rail-shift/whole"].value == pytest.approx(6.0, abs=1e-4)


def test_the_shift_is_not_the_difference_of_the_diagonals() -> None:
    result = found(taped(moved(LADDER, front_right=(6, 0), rear_right=(6, 0)), STEPS))[
        "rail-shift/whole"
    ]
    readings = taped(moved(LADDER, front_right=(6, 0), rear_right=(6, 0)), STEPS)
    difference = float(readings[WHOLE[0]][0][:-3]) - float(readings[WHOLE[1]][0][:-3])
    assert difference == pytest.approx(11.4, abs=0.1)
    assert abs(result.value - difference) > 5


def test_a_box_needs_both_of_its_diagonals() -> None:
    assert found({WHOLE[0]: ["2300"]}) == {}


def test_a_half_taped_step_gives_way_to_one_that_has_both() -> None:
    below = [p.replace("long-diagonals", "diagonals-below") for p in WHOLE]
    result = found({WHOLE[0]: ["2400"], below[0]: ["2320"], below[1]: ["2320"]})["rail-shift/whole"]
    assert result.value == 0.0


def test_without_own_sides_the_diagonals_tell_the_length_over_a_round_width_and_it_says_so() -> (
    None
):
    rough = found({WHOLE[0]: ["2325"], WHOLE[1]: ["2317"]})["rail-shift/whole"]
    assert rough.notes == (ROUND_FIGURES,)
    long = math.sqrt((2325**2 + 2317**2) / 2 - 740**2)
    assert rough.value == pytest.approx(8 * (2325 + 2317) / (4 * long))
    part = next(p for p in rough.number.parts if p.name == "round:width:rear")
    assert part.size == pytest.approx(rough.value * 740 / long**2 * 0.08 * 860 / 2)


def test_a_frame_far_from_the_round_figures_is_read_as_it_is() -> None:
    """A box a fifth shorter than the layout's, its rear rail slipped by 10 mm (geometry)."""
    points = {"front-left": (0, -310), "front-right": (10, 310)}
    points |= {"rear-left": (1760, -430), "rear-right": (1770, 430)}
    d = [
        math.dist(points[a], points[b])
        for a, b in (("front-left", "rear-right"), ("front-right", "rear-left"))
    ]
    rough = found({WHOLE[0]: [f"{d[0]:.4f}"], WHOLE[1]: [f"{d[1]:.4f}"]})["rail-shift/whole"]
    assert rough.value == pytest.approx(10.0, abs=0.05)


@pytest.mark.parametrize(
    ("prompt", "shows"), [(WHOLE[0], 1.0), ("own-sides/whole/front-left--rear-left", -0.95)]
)
def test_a_slip_of_an_inch_shows_in_the_closure(prompt: str, shows: float) -> None:
    readings = taped(LADDER, STEPS)
    readings[prompt] = [f"{float(readings[prompt][0][:-3]) + 25.4} mm"]
    result = found(readings)["closure/whole"]
    assert result.value == pytest.approx(25.4 * shows, rel=0.02)
    assert abs(result.value) > 10 * result.number.u


def test_a_pure_slip_that_keeps_both_squares_does_not_show_in_the_closure() -> None:
    """Both diagonals changed over cannot be detected: the closure sums their squares."""
    readings = taped(moved(LADDER, front_right=(6, 0), rear_right=(6, 0)), STEPS)
    swapped = readings | {WHOLE[0]: readings[WHOLE[1]], WHOLE[1]: readings[WHOLE[0]]}
    assert found(swapped)["closure/whole"].value == pytest.approx(0.0, abs=0.002)
    assert found(swapped)["rail-shift/whole"].value == pytest.approx(-6.0, abs=0.002)


def test_one_tape_cancels_in_the_difference_and_two_do_not() -> None:
    one = found({WHOLE[0]: ["2321"], WHOLE[1]: ["2321"]})["rail-shift/whole"].number
    assert not [p for p in one.parts if p.name.startswith("tape:")]


def test_sides_too_short_for_the_widths_fall_back_on_the_round_figure() -> None:
    readings = taped(LADDER, STEPS)
    readings["own-sides/whole/front-left--rear-left"] = ["3"]
    readings["own-sides/whole/front-right--rear-right"] = ["3"]
    result = found(readings)["rail-shift/whole"]
    assert result.notes == (ROUND_FIGURES,)
    assert result.value == pytest.approx(0.0, abs=1e-4)


def test_of_several_closures_the_worst_is_asked_for_more() -> None:
    """Each opens by chance in one survey of two hundred: of three, one in seventy would cry wolf."""
    closures = [f for f in found(taped(LADDER)).values() if f.quantity == "closure"]
    assert len(closures) > 1
    assert [f.note(OneOf) for f in closures] == [OneOf(len(closures))] * len(closures)
