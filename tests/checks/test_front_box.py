"""The front box by a bar, against a box whose corner was moved on purpose."""

from __future__ import annotations

import math

import pytest

from tests.checks.surveys import LADDER, case_of, moved, taped
from wizard.checks import front_box
from wizard.checks.finding import Finding

GAP, CLOSING = "front-box-bar/front-right--center-left", "front-box-bar/closing"


def found(readings: dict[str, list[str]], unit: str = "mm") -> Finding:
    (finding,) = front_box.check(case_of(readings, unit=unit))
    return finding


def diagonal(points: dict[str, tuple[float, float]], a: str, b: str) -> float:
    return math.dist(points[a], points[b])


@pytest.mark.parametrize("s", [5.0, -5.0])
def test_the_gap_past_the_dot_is_the_first_diagonal_longer_and_the_right_rail_back(
    s: float,
) -> None:
    points = moved(LADDER, front_right=(s, 0), center_right=(s, 0), rear_right=(s, 0))
    gap = diagonal(points, "front-left", "center-right") - diagonal(
        points, "front-right", "center-left"
    )
    typed = f"{abs(gap):.4f} mm {'past' if gap > 0 else 'short'}"
    readings = {GAP: [typed]} | taped(points, ("own-sides", "widths"))
    assert found(readings).value == pytest.approx(s, abs=0.02)


def test_past_is_plus_and_short_is_minus() -> None:
    assert found({GAP: ["3 past"]}).value == -found({GAP: ["3 short"]}).value > 0


def test_a_short_front_box_shows_about_one_and_a_half_times_the_shift() -> None:
    """s = gap × d / 2L with d 1206, L 1000: a gap of 3 mm is 1.81 mm of shift."""
    assert found({GAP: ["3 past"]}).value == pytest.approx(
        3 * math.hypot(1000, 675) / 2000, rel=1e-6
    )


def test_the_tape_and_its_error_stay_out() -> None:
    assert not [
        p for p in found({GAP: ["3 past"]}).number.parts if p.name.startswith(("tape:", "ruler:"))
    ]


def test_all_four_points_and_not_two_are_in_doubt() -> None:
    names = {
        p.name.split(":")[1]
        for p in found({GAP: ["3 past"]}).number.parts
        if p.name.startswith("point:")
    }
    assert names == {"front-left", "front-right", "center-left", "center-right"}
    # Four rivets of 0.3 mm, each seen in full along one diagonal, times d / 2L.
    points = [p.size for p in found({GAP: ["0"]}).number.parts if p.name.startswith("point:")]
    assert math.hypot(*points) == pytest.approx(0.3 * 2 * math.hypot(1000, 675) / 2000, rel=0.02)


def test_three_gaps_halve_nothing_but_the_hand() -> None:
    once, thrice = found({GAP: ["3 past"]}).number, found({GAP: ["3 past"] * 3}).number
    assert thrice.u < once.u
    point = [[p.size for p in n.parts if p.name.startswith("point:")] for n in (once, thrice)]
    assert point[0] == pytest.approx(point[1])


@pytest.mark.parametrize("closing", ["2 past", "2 short"])
def test_a_bar_that_does_not_come_back_adds_its_slip_to_the_doubt_alone(closing: str) -> None:
    still, slipped = (
        found({GAP: ["3 past"], CLOSING: ["0"]}),
        found({GAP: ["3 past"], CLOSING: [closing]}),
    )
    assert slipped.value == still.value
    slip = next(p for p in slipped.number.parts if p.name == "bar:slip")
    # One-sided and rectangular, not corrected for: 2/√3 mm, times d / 2L.
    assert slip.size == pytest.approx(2 / math.sqrt(3) * math.hypot(1000, 675) / 2000, rel=1e-6)


def test_no_bar_no_finding() -> None:
    assert front_box.check(case_of({CLOSING: ["0"]})) == []


def test_longer_pointers_lean_more() -> None:
    """A pointer leaning by the same angle reads wrong in proportion to its length (geometry)."""
    tools = ("ordinary-tape", "steel-ruler")
    sizes = []
    for bar in ("home-made-bar", "long-pointer-bar"):
        (finding,) = front_box.check(case_of({GAP: ["3 past"]}, unit="mm", tools=(*tools, bar)))
        sizes.append(next(p.size for p in finding.number.parts if p.name == "bar:lean"))
    assert sizes[1] / sizes[0] == pytest.approx(200 / 60)
