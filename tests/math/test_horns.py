"""Bent tips and where they lie."""

import math
from collections.abc import Callable

import pytest
from uncertainties import umath

from wizard.math.horns import tip_effect, tip_effect_exact, tip_place


@pytest.mark.parametrize("inward", [-10.0, 3.0, 10.0])
def test_first_order_is_within_0_05_mm_of_exact_at_10_mm(inward: float) -> None:
    across, along = 620.0, 1500.0
    diagonal = math.hypot(across, along)
    exact = math.hypot(across - inward, along) - diagonal
    assert tip_effect_exact(inward, across, diagonal) == pytest.approx(exact, abs=1e-9)
    assert tip_effect(inward, across, diagonal) == pytest.approx(exact, abs=0.05)
    assert math.copysign(1, tip_effect(inward, across, diagonal)) == -math.copysign(1, inward)


def test_first_order_is_not_exact() -> None:
    assert abs(tip_effect(100, 620, 1600) - tip_effect_exact(100, 620, 1600)) > 1


def test_a_diagonal_shorter_than_the_width_is_refused() -> None:
    with pytest.raises(ValueError, match="shorter than the width"):
        tip_effect_exact(5, 700, 600)


@pytest.mark.parametrize("inward", [-8.0, 0.0, 12.0])
def test_two_tapes_place_a_tip(inward: float) -> None:
    own, cross = math.hypot(480, inward), math.hypot(480, 600 - inward)
    ahead, across = tip_place(own, cross, 600)
    assert ahead.value == pytest.approx(480, abs=1e-9)
    assert across.value == pytest.approx(inward, abs=1e-9)


def test_a_slip_on_one_tape_moves_the_tip() -> None:
    own, cross = math.hypot(480, 5), math.hypot(480, 595)
    assert abs(tip_place(own, cross + 25.4, 600)[1].value - 5) > 20


def test_three_lengths_without_a_triangle_are_refused() -> None:
    with pytest.raises(ValueError, match="no triangle"):
        tip_place(100, 900, 600)


def test_tip_place_agrees_with_the_uncertainties_package(agrees: Callable[..., None]) -> None:
    inputs = [(485.0, 0.6), (760.0, 0.8), (600.0, 0.5)]

    def inward(o, c, w):  # type: ignore[no-untyped-def]
        return (o**2 - c**2 + w**2) / (2 * w)

    agrees(lambda o, c, w: tip_place(o, c, w)[1], inward, inputs)
    agrees(
        lambda o, c, w: tip_place(o, c, w)[0],
        lambda o, c, w: umath.sqrt(o**2 - inward(o, c, w) ** 2),
        inputs,
    )
