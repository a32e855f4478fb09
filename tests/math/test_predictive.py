"""The chance that the rest of a list leaves an answer as it is: against the textbook's conditional
power, and against lists that are read to their end.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy import stats

from wizard.math.conformance import within
from wizard.math.predictive import (
    CURTAILED,
    Ahead,
    foreseen,
    region_within,
    spent,
    stays_over,
    stays_within,
)


@pytest.mark.parametrize("share", [0.25, 0.5, 0.8])
@pytest.mark.parametrize("z", [0.5, 2.0, 3.5])
def test_it_is_the_conditional_power_of_a_test_when_the_scatter_is_known(share, z):
    # Lan and Wittes, The B-value: a tool for monitoring data, 1988, from memory: with B = z sqrt(t),
    # power 1 - Phi((1.645 - B) / sqrt(1 - t)) at no drift. Here the limit is the null hypothesis.
    now = 1.0
    ahead = Ahead(-z * now, now, now * math.sqrt(share), math.inf)
    b = z * math.sqrt(share)
    power = stats.norm.sf((stats.norm.ppf(0.95) - b) / math.sqrt(1 - share))
    assert stays_within(ahead, upper=0.0) == pytest.approx(power, abs=1e-9)
    assert stays_over(ahead._replace(value=z * now), upper=0.0) == pytest.approx(power, abs=1e-9)


def test_what_is_still_to_come_spreads_as_students_t():
    # Gelman and others, Bayesian Data Analysis: a further mean is t(n - 1) about what is expected.
    ahead = Ahead(0.0, 1.0, math.sqrt(0.5), 10.0)
    g = stats.t.ppf(0.95, 10) * ahead.u_then
    expected = stats.t.cdf((4.0 - g - 2.0) / 0.5, 10)
    assert stays_within(ahead, upper=4.0) == pytest.approx(expected, abs=1e-9)


def test_nothing_still_to_come_leaves_everything_as_it_is():
    for value, stays in ((0.0, 1.0), (2.9, 0.0)):
        ahead = Ahead(value, 0.5, 0.5, 12.0)
        assert stays_within(ahead, 3.0, -3.0) == stays
        assert foreseen(ahead, 3.0, -3.0).within == stays


def test_the_region_is_where_conformance_finds_it_within():
    low, high = region_within(0.8, 9.0, 3.0, -2.0)
    assert within(high - 1e-6, 0.8, 9.0, 3.0, -2.0)
    assert not within(high + 1e-6, 0.8, 9.0, 3.0, -2.0)
    assert within(low + 1e-6, 0.8, 9.0, 3.0, -2.0)
    assert not within(low - 1e-6, 0.8, 9.0, 3.0, -2.0)


def test_the_three_ends_are_all_there_are():
    for value in (-4.0, 0.0, 1.0, 3.0, 8.0):
        ends = foreseen(Ahead(value, 1.0, 0.7, 12.0), 3.0, -3.0)
        assert sum(ends) == pytest.approx(1.0)
        assert min(ends) >= 0.0


def test_the_side_that_is_asked_about_is_the_values_own():
    high, low = Ahead(6.0, 1.0, 0.7, 12.0), Ahead(-6.0, 1.0, 0.7, 12.0)
    assert stays_over(high, 3.0, -3.0) == pytest.approx(stays_over(low, 3.0, -3.0))
    assert (
        stays_over(Ahead(-6.0, 1.0, 0.7, 12.0), 3.0) < 0.01
    )  # no lower limit is none to be beyond


def test_of_several_it_must_be_surer():
    ahead = Ahead(6.0, 1.0, 0.7, 12.0)
    assert stays_over(ahead, 3.0, among=5) < stays_over(ahead, 3.0)


def test_what_comes_out_is_foreseen_as_often_as_it_comes_out():
    # 40,000 truths about one estimate, the rest of the list read each time.
    rng = np.random.default_rng(1)
    value, u, then = 1.2, 1.0, 0.6
    truth = value + u * rng.standard_normal(40_000)
    more = 1 / math.sqrt(1 / then**2 - 1 / u**2)
    new = truth + more * rng.standard_normal(truth.size)
    end = then**2 * (value / u**2 + new / more**2)
    ends = foreseen(Ahead(value, u, then, math.inf), 3.0, -3.0)
    low, high = region_within(then, math.inf, 3.0, -3.0)
    assert np.mean((end > low) & (end < high)) == pytest.approx(ends.within, abs=0.01)
    assert np.mean(end > 3.0 + 1.645 * then) == pytest.approx(ends.over, abs=0.01)


@pytest.mark.parametrize("fixed", [0.0, 0.6])
@pytest.mark.parametrize("planned", [2, 4, 6])
def test_who_stops_so_errs_at_most_so_much_more(planned, fixed):
    """A true value just at its limit, read up to `planned` times by a hand whose scatter ten degrees
    of freedom tell; looked at after every reading. fixed: what no repeat shows or divides.
    """
    rng, surveys, dof = np.random.default_rng(planned), 6000, 10
    early = whole = 0
    for _ in range(surveys):
        s = math.sqrt(rng.chisquare(dof) / dof)
        read = rng.standard_normal(planned) + fixed * rng.standard_normal()
        u = [math.sqrt(s * s / n + fixed**2) for n in range(1, planned + 1)]
        means = np.cumsum(read) / np.arange(1, planned + 1)
        # Doubt that no repeat divides is known for certain; here all of it is reckoned by ten.
        at_end = within(float(means[-1]), u[-1], dof, 0.0)
        whole += at_end
        looks = [Ahead(float(m), u[n], u[-1], dof) for n, m in enumerate(means[:-1])]
        early += at_end or any(stays_within(a, 0.0) >= CURTAILED for a in looks)
    error = 3 * math.sqrt(0.05 / surveys)
    assert whole / surveys <= 0.05 + error
    assert early / surveys <= 0.05 / CURTAILED + error
    assert early > whole  # it is a bound, and something was stopped


def test_looking_by_the_rule_itself_would_err_oftener():
    # What the chance of nine in ten is for: three looks at the 5 % rule itself.
    rng = np.random.default_rng(5)
    read = rng.standard_normal((20_000, 4))
    means = np.cumsum(read, axis=1) / np.arange(1, 5)
    z = means * np.sqrt(np.arange(1, 5))
    assert np.mean((z < -1.645).any(axis=1)) > 0.10


def test_a_claim_of_one_in_a_hundred_spends_less():
    assert spent(0.01) / CURTAILED == pytest.approx(0.01)
