"""Caster by a dropped ball."""

import math
from collections.abc import Callable

import pytest
from uncertainties import umath

from wizard.math.caster import caster_change


def test_a_ball_going_down_gives_more_caster_and_up_less() -> None:
    assert caster_change(6, 900).value == pytest.approx(0.382, abs=0.0005)
    assert caster_change(-6, 900).value == -caster_change(6, 900).value
    assert caster_change(16, 900).value == pytest.approx(1.0, abs=0.02)


def test_caster_agrees_with_the_uncertainties_package(agrees: Callable[..., None]) -> None:
    agrees(
        caster_change, lambda h, r: umath.atan(h / r) * 180 / math.pi, [(15.9, 0.8), (914.4, 3.0)]
    )
