"""The level turned round, shims and heights."""

import math
from collections.abc import Callable

import pytest
from uncertainties import umath

from wizard.math.level import height_across, own_error, slope
from wizard.math.uncertain import Part, Uncertain


@pytest.mark.parametrize(("true", "error"), [(2.0, 0.0), (0.0, 1.5), (-1.0, 0.5)])
def test_turning_the_level_parts_the_slope_from_its_own_error(true: float, error: float) -> None:
    assert slope(true + error, true - error).value == pytest.approx(true)
    assert own_error(true + error, true - error).value == pytest.approx(error)


def test_an_error_in_both_readings_alike_stays_in_the_slope_and_leaves_the_own_error() -> None:
    first, second = (Uncertain(v, (Part("sensitivity", 0.1),)) for v in (3.0, 1.0))
    assert slope(first, second).u == pytest.approx(0.1)
    assert own_error(first, second).u == 0.0


def test_height_across_has_the_sign_of_the_change() -> None:
    assert height_across(760, 0.002).value == pytest.approx(1.52, abs=1e-4)
    assert height_across(760, -0.002).value == pytest.approx(-1.52, abs=1e-4)


def test_level_formulas_agree_with_the_uncertainties_package(agrees: Callable[..., None]) -> None:
    agrees(slope, lambda a, b: (a + b) / 2, [(3.0, 0.2), (1.0, 0.3)])
    agrees(own_error, lambda a, b: (a - b) / 2, [(3.0, 0.2), (1.0, 0.3)])
    agrees(
        lambda w, d: height_across(w, d.scaled(0.001)),
        lambda w, d: w * umath.tan(d / 1000),
        [(760, 3), (40, 0.4)],
    )


def test_tan_and_not_the_bare_angle() -> None:
    assert height_across(760, 0.1).value == pytest.approx(760 * math.tan(0.1), rel=1e-12)
    assert abs(height_across(760, 0.1).value - 76) > 0.2
