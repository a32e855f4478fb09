"""The fourth corner from five lengths."""

import math

import pytest

from wizard.math.quadrilateral import area, corners, other_diagonal


def test_five_lengths_of_a_laid_out_box_give_its_sixth() -> None:
    fl, fr, rr, rl = (0.0, -300.0), (5.0, 310.0), (2507.0, 460.0), (2498.0, -440.0)
    front, right, rear, left = (
        math.dist(fl, fr),
        math.dist(fr, rr),
        math.dist(rr, rl),
        math.dist(rl, fl),
    )
    found = other_diagonal(front, right, rear, left, math.dist(fl, rr))
    assert found == pytest.approx(math.dist(fr, rl), abs=1e-9)
    assert other_diagonal(front, right, rear, left + 25.4, math.dist(fl, rr)) != pytest.approx(
        found, abs=5
    )


def test_corners_are_in_order_and_keep_the_sides() -> None:
    places = corners(600, 2500, 900, 2510, 2600)
    sides = [math.dist(places[i], places[(i + 1) % 4]) for i in range(4)]
    assert sides == pytest.approx([600, 2500, 900, 2510], abs=1e-9)
    assert places[1][1] > 0 > places[3][1]


def test_area_of_a_rectangle() -> None:
    assert area(3, 4, 3, 4, 5) == pytest.approx(12, abs=1e-12)
    assert area(3, 4, 3, 4, 5.5) < 11.9


def test_lengths_that_cannot_meet_are_refused() -> None:
    with pytest.raises(ValueError, match="do not reach"):
        other_diagonal(100, 100, 900, 2500, 2600)
