"""Small angles: a second of arc on a level, a radius rod's ball going down."""

import pytest

from wizard.math.caster import caster_change

# JIS B 7510-1993, sensitivity of levels; read: 1 second of arc is 4.85 µm/m.


# Identity: atan(0.0005) in seconds.


# Identity: atan(0.625 / 36).
def test_ball_five_eighths_down_on_a_36_inch_rod() -> None:
    assert caster_change(15.875, 914.4).value == pytest.approx(0.995, abs=0.0005)
    assert abs(caster_change(15.875, 900).value - 0.995) > 0.01
