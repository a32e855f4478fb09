"""Blade sag and temperature."""

import math

import pytest

from wizard.math.tape import blade_sag, reads_short_warm


def test_blade_sag_is_the_parabolas_extra_length() -> None:
    """Against the exact arc of a parabola with the same mid dip."""
    span, g_per_m, pull = 30_000.0, 40.0, 30.0
    slope = 9.80665e-6 * g_per_m * span / (2 * pull)
    arc = span / 2 * (math.sqrt(1 + slope**2) + math.asinh(slope) / slope)
    assert blade_sag(span, g_per_m, pull) == pytest.approx(arc - span, rel=0.03)


def test_a_warm_tape_reads_short_and_a_cold_one_long() -> None:
    assert reads_short_warm(2500, 10) == pytest.approx(0.29)
    assert reads_short_warm(2500, -10) == pytest.approx(-0.29)
    assert reads_short_warm(2500, 0) == 0


def test_no_pull_is_refused() -> None:
    with pytest.raises(ValueError, match="above zero"):
        blade_sag(2000, 12, 0)
