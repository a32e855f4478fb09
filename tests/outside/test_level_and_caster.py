"""Small angles: a second of arc on a level, a radius rod's ball going down."""

import math

import pytest

from wizard.math.caster import caster_change
from wizard.math.level import from_mm_per_m, to_mm_per_m


# JIS B 7510-1993, sensitivity of levels; read: 1 second of arc is 4.85 µm/m.
def test_one_second_of_arc() -> None:
    assert 1000 * to_mm_per_m(math.radians(1 / 3600)) == pytest.approx(4.85, abs=0.005)
    assert 1000 * to_mm_per_m(math.radians(1 / 60)) > 290


# Identity: atan(0.0005) in seconds.
def test_half_a_millimeter_per_meter_is_103_seconds() -> None:
    assert math.degrees(from_mm_per_m(0.5).value) * 3600 == pytest.approx(103, abs=0.5)
    assert math.degrees(from_mm_per_m(0.6).value) * 3600 > 120


# Identity: atan(0.625 / 36).
def test_ball_five_eighths_down_on_a_36_inch_rod() -> None:
    assert caster_change(15.875, 914.4).value == pytest.approx(0.995, abs=0.0005)
    assert abs(caster_change(15.875, 900).value - 0.995) > 0.01
