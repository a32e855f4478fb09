"""Caster by a dropped ball."""

import math
from collections.abc import Callable

import pytest
from uncertainties import umath

from wizard.math.caster import caster_change, drop_on_engine


def test_a_ball_going_down_gives_more_caster_and_up_less() -> None:
    assert caster_change(6, 900).value == pytest.approx(0.382, abs=0.0005)
    assert caster_change(-6, 900).value == -caster_change(6, 900).value
    assert caster_change(16, 900).value == pytest.approx(1.0, abs=0.02)


def test_caster_agrees_with_the_uncertainties_package(agrees: Callable[..., None]) -> None:
    agrees(
        caster_change, lambda h, r: umath.atan(h / r) * 180 / math.pi, [(15.9, 0.8), (914.4, 3.0)]
    )


def test_a_point_of_the_engine_agrees_with_the_uncertainties_package(
    agrees: Callable[..., None],
) -> None:
    agrees(
        lambda xf, sf, xm, sm, x: drop_on_engine((xf, sf), (xm, sm), x),
        lambda xf, sf, xm, sm, x: sf + (sm - sf) * (x - xf) / (xm - xf),
        [(100.0, 4.0), (1.2, 0.4), (640.0, 25.0), (9.0, 0.5), (780.0, 30.0)],
    )


def test_a_point_of_the_engine_lies_on_the_line_through_its_supports() -> None:
    """The formula of measurement of the caster by a gearbox ball: s_f + (s_m - s_f)(x - x_f)/(x_m - x_f)."""
    held = (100, 2.0), (600, 7.0)
    assert drop_on_engine(*held, 100).value == 2.0
    assert drop_on_engine(*held, 600).value == 7.0
    assert drop_on_engine(*held, 800).value == pytest.approx(9.0)
    assert drop_on_engine(*held, 0).value == pytest.approx(1.0)
    with pytest.raises(ValueError, match="two places"):
        drop_on_engine((5, 1), (5, 2), 9)
