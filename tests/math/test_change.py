"""Changed or not, one by one and together."""

import math
import random

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats
from scipy.optimize import brentq

from wizard.math.change import changed, holm, p_value, smallest_visible
from wizard.math.student import coverage_factor

chances = st.lists(st.floats(0, 1), max_size=12)


@pytest.mark.parametrize(
    ("d", "u", "dof", "said"), [(2.0, 1.0, math.inf, True), (-2.0, 1.0, math.inf, True)]
)
def test_beyond_k_u_is_a_change(d: float, u: float, dof: float, said: bool) -> None:
    assert changed(d, u, dof) is said
    assert changed(d, u, 5) is not said
    assert changed(d * 0.97, u, dof) is not said


def test_without_doubt_any_difference_is_a_change() -> None:
    assert changed(1e-9, 0.0, math.inf)
    assert not changed(0.0, 0.0, math.inf)
    assert p_value(1e-9, 0.0, 5) == 0.0
    assert p_value(0.0, 0.0, 5) == 1.0


@given(d=st.floats(-10, 10), dof=st.floats(1, 100))
def test_changed_and_p_value_say_the_same(d: float, dof: float) -> None:
    chance = p_value(d, 1.0, dof)
    assert chance == pytest.approx(2 * stats.t.sf(abs(d), dof), abs=1e-7)
    if abs(chance - 0.05) > 1e-9:
        assert changed(d, 1.0, dof) == (chance < 0.05)


# Worked by hand: with m = 4 the bounds are 0.0125, 0.01667, 0.025, 0.05 in rising order.
@pytest.mark.parametrize(
    ("ps", "stands"),
    [
        ([0.01, 0.04, 0.03, 0.005], [True, False, False, True]),
        ([0.04, 0.012, 0.016, 0.024], [True, True, True, True]),
        ([0.04, 0.013, 0.016, 0.024], [False, False, False, False]),
        ([0.05], [True]),
        ([0.051], [False]),
        ([], []),
    ],
)
def test_holm_steps_down(ps: list[float], stands: list[bool]) -> None:
    assert holm(ps) == stands


@given(ps=chances)
def test_holm_stands_between_bonferroni_and_none(ps: list[float]) -> None:
    for p, stands in zip(ps, holm(ps), strict=True):
        assert stands or p > 0.05 / len(ps)
        assert not stands or p <= 0.05


def test_holm_holds_the_false_alarm_over_a_whole_recheck() -> None:
    source = random.Random(11)
    together = alone = 0
    for _ in range(2000):
        ps = [source.random() for _ in range(12)]
        together += any(holm(ps))
        alone += any(p <= 0.05 for p in ps)
    assert together < 130
    assert alone > 800


def test_smallest_visible_is_about_3_6_u() -> None:
    assert smallest_visible(0.5, math.inf) == pytest.approx(0.5 * (1.959964 + 1.644854), rel=1e-6)


@pytest.mark.parametrize("dof", [3, 5, 8, 20, 200])
def test_smallest_visible_is_seen_19_times_in_20(dof: float) -> None:
    k = coverage_factor(dof)
    exact = brentq(lambda d: stats.nct.sf(k, dof, d) - 0.95, 1, 3 * k)
    assert smallest_visible(1.0, dof) == pytest.approx(exact, rel=0.01)
    assert k + stats.norm.ppf(0.95) < exact or dof > 100


@pytest.mark.parametrize("dof", [8, 20, 200])
@pytest.mark.parametrize("among", [20, 60])
def test_among_many_a_change_must_be_larger_to_be_seen(among: int, dof: float) -> None:
    k = coverage_factor(dof, 1 - 0.05 / among)
    exact = brentq(lambda d: stats.nct.sf(k, dof, d) - 0.95, 1, 3 * k)
    assert smallest_visible(1.0, dof, 0.05 / among) == pytest.approx(exact, rel=0.03)
    assert exact > 1.2 * smallest_visible(1.0, dof)
