"""The string: its dip, sag above and below, elastic part, chord; a blade's sag and temperature."""

import math
from collections.abc import Callable

import pytest

from wizard.math.thread import blade_sag, dip, elastic, sag_above, sag_below
from wizard.math.uncertain import Part, Uncertain


def test_dip_is_nil_at_the_ends_and_alike_from_either() -> None:
    assert dip(0, 3000, 1.5, 20) == dip(3000, 3000, 1.5, 20) == 0
    assert dip(700, 3000, 1.5, 20) == pytest.approx(dip(2300, 3000, 1.5, 20), rel=1e-12)
    assert dip(1500, 3000, 1.5, 20) > dip(700, 3000, 1.5, 20)


def test_doubling_the_pull_halves_the_dip() -> None:
    assert dip(1000, 3000, 1.5, 40) == pytest.approx(dip(1000, 3000, 1.5, 20) / 2, rel=1e-12)


@pytest.mark.parametrize("sag", [-4.0, 0.0, 6.5])
def test_sag_comes_back_from_either_side_of_the_rail(sag: float) -> None:
    """Blocks of 50 stand the string off; hanging, it is lower than a straight line by its dip."""
    hang = 0.8
    line_above, metal = 50.0 - hang, -sag
    assert sag_above(line_above - metal, 50, hang).value == pytest.approx(sag)
    line_below, under = -50.0 - hang, -sag
    assert sag_below(under - line_below, 50, hang).value == pytest.approx(sag)


def test_forgetting_the_dip_hides_sag() -> None:
    assert sag_above(52, 50, 0.8).value > sag_above(52, 50, 0).value
    assert sag_below(48, 50, 0.8).value > sag_below(48, 50, 0).value


def test_blocks_and_dip_cancel_in_the_elastic_part() -> None:
    block, hang = Uncertain(50.0, (Part("blocks", 0.3),)), Uncertain(0.8, (Part("dip", 0.2),))
    loaded = sag_above(Uncertain(56.0, (Part("r1", 0.4),)), block, hang)
    unloaded = sag_above(Uncertain(54.0, (Part("r2", 0.3),)), block, hang)
    assert elastic(loaded, unloaded).value == pytest.approx(2.0)
    assert elastic(loaded, unloaded).u == pytest.approx(0.5)
    assert loaded.u > 0.5


@pytest.mark.parametrize(
    ("x", "pull", "says"), [(-1, 20, "between"), (3001, 20, "between"), (100, 0, "above zero")]
)
def test_a_place_off_the_string_or_no_pull_is_refused(x: float, pull: float, says: str) -> None:
    with pytest.raises(ValueError, match=says):
        dip(x, 3000, 1.5, pull)


def test_string_formulas_agree_with_the_uncertainties_package(agrees: Callable[..., None]) -> None:
    inputs = [(56.0, 0.4), (50.0, 0.2), (0.8, 0.1)]
    agrees(sag_above, lambda g, b, d: g + d - b, inputs)
    agrees(sag_below, lambda g, b, d: b - g + d, inputs)


def test_blade_sag_is_the_parabolas_extra_length() -> None:
    """Against the exact arc of a parabola with the same mid dip."""
    span, g_per_m, pull = 30_000.0, 40.0, 30.0
    slope = 9.80665e-6 * g_per_m * span / (2 * pull)
    arc = span / 2 * (math.sqrt(1 + slope**2) + math.asinh(slope) / slope)
    assert blade_sag(span, g_per_m, pull) == pytest.approx(arc - span, rel=0.03)


def test_no_pull_is_refused() -> None:
    with pytest.raises(ValueError, match="above zero"):
        blade_sag(2000, 12, 0)
