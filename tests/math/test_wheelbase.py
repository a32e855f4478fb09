"""Axle askew."""

from wizard.math.uncertain import Part, Uncertain
from wizard.math.wheelbase import difference


def test_one_tapes_error_drops_out() -> None:
    one = [Uncertain(v, (Part("tape", 0.8),)) for v in (2510.0, 2500.0)]
    assert difference(*one).u == 0.0
    assert difference(one[0], Uncertain(2500.0, (Part("other", 0.8),))).u > 1
