"""The test of the variance factor, against scipy's F and chi square."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy import stats

from tests.math.network_frames import BRACED, CLOSED, CORNERS, LAYOUT, starts, taped
from wizard.math.network import adjust
from wizard.math.network_fit import f_tail, fit


@pytest.mark.parametrize("count", [1, 2, 3, 4, 7, 10, 25, 60])
@pytest.mark.parametrize("dof", [1, 2.5, 8, 30, 1000, 1e6])
def test_the_tail_of_f(count, dof):
    for ratio in (0.1, 0.9, 1.0, 2.0, 5.0, 40.0):
        assert f_tail(ratio, count, dof) == pytest.approx(stats.f.sf(ratio, count, dof), abs=1e-6)


@pytest.mark.parametrize("count", [1, 2, 3, 8, 31])
def test_the_tail_of_chi_square(count):
    for ratio in (0.2, 1.0, 2.0, 6.0):
        assert f_tail(ratio, count, math.inf) == pytest.approx(
            stats.chi2.sf(ratio * count, count), abs=1e-10
        )
        assert f_tail(ratio, count, 1e9) == pytest.approx(
            stats.chi2.sf(ratio * count, count), abs=1e-6
        )


def test_nothing_is_more_likely_than_not_less_than_nothing():
    assert f_tail(0.0, 3, 8) == 1.0
    assert f_tail(1.0, 3, 8) < 1.0


def test_sound_surveys_spread_evenly_over_the_chances():
    rng = np.random.default_rng(12)
    chances = [fit(adjust(LAYOUT, taped(LAYOUT, BRACED, rng=rng))).chance for _ in range(200)]
    assert stats.kstest(chances, "uniform").pvalue > 0.01


def test_a_slip_shows_and_finite_degrees_of_freedom_soften_it():
    plan = adjust(starts(CLOSED), taped(LAYOUT, CLOSED, slips={"front-left--rear-left": 10.0}))
    sharp, soft = fit(plan), fit(plan, dof=4.0)
    assert sharp.chance < 0.001 < soft.chance
    assert (sharp.redundancy, sharp.dof) == (6, math.inf)


def test_without_redundancy_there_is_nothing_to_test():
    nothing = fit(adjust(starts(CORNERS), taped(LAYOUT, CORNERS[:-1])))
    assert (nothing.redundancy, nothing.chance) == (0, 1.0)
    assert math.isnan(nothing.factor)
