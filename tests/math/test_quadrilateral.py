"""The fourth corner from five lengths."""

import math

import pytest

from wizard.math.quadrilateral import area, corners


def test_corners_are_in_order_and_keep_the_sides() -> None:
    places = corners(600, 2500, 900, 2510, 2600)
    sides = [math.dist(places[i], places[(i + 1) % 4]) for i in range(4)]
    assert sides == pytest.approx([600, 2500, 900, 2510], abs=1e-9)
    assert places[1][1] > 0 > places[3][1]


def test_area_of_a_rectangle() -> None:
    assert area(3, 4, 3, 4, 5) == pytest.approx(12, abs=1e-12)
    assert area(3, 4, 3, 4, 5.5) < 11.9
