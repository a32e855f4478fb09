"""Chances against limits: two worked examples and the printed risks of guard bands."""

import math

import pytest

from wizard.math.conformance import chance_outside, chance_over, guard

INF = math.inf


# After JCGM 106:2012 7.3.3, one upper limit; memory.
def test_one_sided_conformance() -> None:
    assert 1 - chance_over(-5.47, 0.05, INF, upper=-5.40) == pytest.approx(0.92, abs=0.005)
    assert abs(1 - chance_over(-5.47, 0.10, INF, upper=-5.40) - 0.92) > 0.05


# After JCGM 106:2012 7.4, an interval; memory.
def test_two_sided_conformance() -> None:
    assert 1 - chance_outside(13.6, 1.8, INF, upper=16.3, lower=12.5) == pytest.approx(
        0.66, abs=0.005
    )
    assert abs(1 - chance_over(13.6, 1.8, INF, upper=16.3, lower=12.5) - 0.66) > 0.05


# ILAC-G8:09/2019, risk of a value at the edge of the guard band, U = 2u; second hand: printed 2.5,
# 5 and 50 %.
# Exact figures from the normal curve; identity.
@pytest.mark.parametrize(
    ("width_in_big_u", "printed", "exact"), [(1.0, 2.5, 2.28), (0.83, 5, 4.85), (0.0, 50, 50.0)]
)
def test_risk_at_the_edge_of_the_guard_band(
    width_in_big_u: float, printed: float, exact: float
) -> None:
    u, limit = 0.7, 3.0
    risk = 100 * chance_over(limit - width_in_big_u * 2 * u, u, INF, limit)
    assert risk == pytest.approx(exact, abs=0.005)
    assert risk == pytest.approx(printed, abs=0.25)


def test_a_guard_band_of_the_wrong_width_carries_another_risk() -> None:
    assert 100 * chance_over(3.0 - 0.5 * 2 * 0.7, 0.7, INF, 3.0) > 15


# ISO 14253-1:2017 and ILAC-G8:09/2019, one-sided 5 %; second hand.
def test_guard_band_is_1_645_u_for_many_readings_and_wider_for_few() -> None:
    assert guard(1.0, INF) == pytest.approx(1.645, abs=0.0005)
    assert guard(1.0, 4) > 2.1
