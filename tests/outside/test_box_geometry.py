"""A slipped box and an old quadrilateral: diagonals worked out beforehand."""

import math

import pytest

from wizard.math.diagonals import closure, rail_shift

# Identity: L 2500, W 762 as taped across the slipped box, right rail 6 further back.
D1, D2 = 2619.28311, 2607.80444


def test_slipped_box_has_the_diagonals_of_pythagoras() -> None:
    square_width = 762**2 - 6**2
    assert math.sqrt(2506**2 + square_width) == pytest.approx(D1, abs=5e-6)
    assert math.sqrt(2494**2 + square_width) == pytest.approx(D2, abs=5e-6)


def test_slipped_box_gives_its_shift_back_and_closes() -> None:
    assert rail_shift(D1, D2, 2500).value == pytest.approx(6.0, abs=1e-4)
    assert closure(D1, D2, 2500, 2500, 762, 762).value == pytest.approx(0.0, abs=1e-4)


def test_slipped_box_with_the_width_square_to_the_rails_does_not_close() -> None:
    square_across = math.sqrt(762**2 - 6**2)
    assert abs(closure(D1, D2, 2500, 2500, square_across, square_across).value) > 0.01


# Brahmagupta's example, sides 25 39 60 52 in order; memory: diagonals 63 and 56, area 1764.


# Identity (closure of a quadrilateral): front and rear not parallel, so 2·front·rear wants the
# cosine between them.
def test_brahmagupta_quadrilateral_closes_only_with_the_angle_between_front_and_rear() -> None:
    cosine = (63**2 + 56**2 - 39**2 - 52**2) / (2 * 25 * 60)
    assert 0 < cosine < 1
    assert closure(63, 56, 39, 52, 25, 60 * cosine).value == pytest.approx(0.0, abs=1e-9)
    assert abs(closure(63, 56, 39, 52, 25, 60).value) > 0.9
