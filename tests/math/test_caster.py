"""Caster by a dropped ball."""

import math
from collections.abc import Callable

import pytest
from uncertainties import umath

from wizard.math.caster import ball_drop, caster_change


def test_a_ball_going_down_gives_more_caster_and_up_less() -> None:
    assert caster_change(6, 900).value == pytest.approx(0.382, abs=0.0005)
    assert caster_change(-6, 900).value == -caster_change(6, 900).value
    assert caster_change(16, 900).value == pytest.approx(1.0, abs=0.02)


def test_the_ball_lies_on_the_line_through_the_engines_supports() -> None:
    assert ball_drop(2, 5, 400, 1100, 400).value == 2
    assert ball_drop(2, 5, 400, 1100, 1100).value == 5
    assert ball_drop(2, 5, 400, 1100, 1800).value == pytest.approx(8)
    assert ball_drop(2, 5, 400, 1100, 1800).value != pytest.approx(5)


def test_caster_agrees_with_the_uncertainties_package(agrees: Callable[..., None]) -> None:
    agrees(
        caster_change, lambda h, r: umath.atan(h / r) * 180 / math.pi, [(15.9, 0.8), (914.4, 3.0)]
    )
    agrees(
        lambda f, m: ball_drop(f, m, 400, 1100, 1800),
        lambda f, m: f + (m - f) * 2,
        [(2.0, 0.3), (5.0, 0.4)],
    )


def test_no_rod_and_no_engine_length_are_refused() -> None:
    with pytest.raises(ValueError, match="rod length"):
        caster_change(5, 0)
    with pytest.raises(ValueError, match="one place"):
        ball_drop(1, 2, 500, 500, 900)
