"""Caster by a dropped ball."""

import math
from collections.abc import Callable

import pytest
from uncertainties import umath

from wizard.math.caster import beam_end, caster_change, drop_on_engine, wheel_lean


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


@pytest.mark.parametrize(("left", "right"), [(8.0, 0.0), (-3.0, 5.0), (2.0, 2.0)])
def test_the_ends_of_a_beam_come_back_from_the_gaps_under_its_string(
    left: float, right: float
) -> None:
    """By vectors: a string between two points ahead of the ends, and the marks on a straight middle."""
    half, mark, block = 600.0, 380.0, 40.0
    start, end = (-half, left - block), (half, right - block)

    def gap(x: float) -> float:
        along = (x - start[0]) / (end[0] - start[0])
        return -(start[1] + along * (end[1] - start[1]))

    reach = (half - mark) / (2 * mark)
    assert beam_end(block, gap(-mark), gap(mark), reach).value == pytest.approx(left)
    assert beam_end(block, gap(mark), gap(-mark), reach).value == pytest.approx(right)


def test_an_end_of_a_beam_agrees_with_the_uncertainties_package(
    agrees: Callable[..., None],
) -> None:
    agrees(
        beam_end,
        lambda b, near, far, r: b - near - (near - far) * r,
        [(40.0, 0.2), (36.0, 0.3), (39.0, 0.3), (0.35, 0.1)],
    )


@pytest.mark.parametrize("floor", [-1.5, 0.0, 2.0])
def test_a_floor_that_leans_is_taken_out_of_both_wheels(floor: float) -> None:
    """Two wheels that lean 1 degree out, on a car turned about its own length by the floor: seen from
    behind, a left side that is higher turns everything clockwise.
    """
    turned = {"left": -1.0 + floor, "right": 1.0 + floor}  # of each wheel's top, clockwise
    read = {"left": -turned["left"], "right": turned["right"]}  # outward
    for side, lean in read.items():
        assert wheel_lean(lean, floor, left=side == "left").value == pytest.approx(1.0)
