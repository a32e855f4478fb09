"""Axle askew."""

import math
from collections.abc import Callable

import pytest

from wizard.math.uncertain import Part, Uncertain
from wizard.math.wheelbase import axle_angle, difference


def test_angle_is_difference_over_track() -> None:
    assert axle_angle(2510, 2500, 1400).value == pytest.approx(math.degrees(10 / 1400), rel=1e-12)
    assert axle_angle(2500, 2510, 1400).value == -axle_angle(2510, 2500, 1400).value
    assert axle_angle(2510, 2500, 1300).value > axle_angle(2510, 2500, 1400).value


def test_one_tapes_error_drops_out() -> None:
    one = [Uncertain(v, (Part("tape", 0.8),)) for v in (2510.0, 2500.0)]
    assert difference(*one).u == 0.0
    assert difference(one[0], Uncertain(2500.0, (Part("other", 0.8),))).u > 1


def test_angle_agrees_with_the_uncertainties_package(agrees: Callable[..., None]) -> None:
    agrees(
        axle_angle,
        lambda a, b, t: (a - b) / t * 180 / math.pi,
        [(2510, 0.8), (2500, 0.7), (1400, 5.0)],
    )


def test_no_track_is_refused() -> None:
    with pytest.raises(ValueError, match="above zero"):
        axle_angle(2510, 2500, 0)
