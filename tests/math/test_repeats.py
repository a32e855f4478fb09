"""Pooled scatter and the doubt of a mean."""

import math
import random
import statistics

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wizard.math.repeats import mean, mean_u, pool

sizes = st.floats(min_value=0.0, max_value=10.0)
divisions = st.floats(min_value=0.0, max_value=10.0)


@given(s=sizes, n=st.integers(min_value=1, max_value=50), division=divisions)
def test_one_more_repeat_of_the_same_scatter_never_raises_the_doubt(
    s: float, n: int, division: float
) -> None:
    assert mean_u(s, n + 1, division) <= mean_u(s, n, division) * (1 + 1e-12) + 1e-150


@given(s=sizes, n=st.integers(min_value=1, max_value=50), division=divisions)
def test_doubt_never_falls_below_that_of_unrounded_readings(
    s: float, n: int, division: float
) -> None:
    assert mean_u(s, n, division) >= s / math.sqrt(n) * (1 - 1e-12) - 1e-150


def test_scatter_already_holds_the_rounding() -> None:
    assert mean_u(2.0, 1, 1.0) == 2.0
    assert mean_u(2.0, 1, 1.0) != math.hypot(2.0, 1 / math.sqrt(12))


def test_a_scatter_below_rounding_counts_as_rounding() -> None:
    assert mean_u(0.0, 1, 1.0) == pytest.approx(1 / math.sqrt(12), rel=1e-12)
    assert mean_u(0.1, 9, 1.0) == mean_u(0.0, 9, 1.0)


def test_identical_repeats_do_not_average_rounding_away() -> None:
    lasting = 1 / (2 * math.pi**2)
    assert mean_u(0.0, 10**6, 1.0) == pytest.approx(math.sqrt(lasting), rel=1e-4)
    assert mean_u(0.5, 10**6, 1.0) == pytest.approx(0.0005, rel=1e-4)


@pytest.mark.parametrize("hand", [0.1, 0.15, 0.25, 0.35, 0.6])
def test_doubt_of_a_mean_is_that_of_simulated_rounding_or_a_little_more(hand: float) -> None:
    """True places at random, five readings each rounded to 1; the hand scatters by `hand`
    divisions.
    """
    source, n = random.Random(3), 5
    errors, seen = [], []
    for _ in range(8000):
        place = source.uniform(0, 1)
        reads = [float(round(place + source.gauss(0, hand))) for _ in range(n)]
        errors.append(mean(reads) - place)
        seen.append(statistics.pvariance(reads, mean(reads)) * n / (n - 1))
    scatter = math.sqrt(mean(seen))
    true = math.sqrt(mean([e * e for e in errors]))
    assert 0.95 * true < mean_u(scatter, n, 1.0) < 1.25 * true


def test_dropping_the_lasting_part_would_fall_well_short() -> None:
    assert mean_u(0.0, 5, 1.0) > 1.6 * (1 / math.sqrt(12)) / math.sqrt(5)


def test_pool_weighs_groups_by_their_freedom() -> None:
    pooled = pool([[1.0, 3.0], [10.0, 10.0, 13.0]], prior_s=2.0, prior_dof=8)
    assert pooled.dof == 11
    assert pooled.s == pytest.approx(math.sqrt((2.0 + 6.0 + 8 * 4.0) / 11), rel=1e-12)


def test_pool_ignores_where_each_group_lies() -> None:
    near = pool([[1.0, 3.0], [2.0, 2.5]], 1.0, 8)
    far = pool([[1001.0, 1003.0], [-98.0, -97.5]], 1.0, 8)
    assert near.s == pytest.approx(far.s, rel=1e-12)


def test_single_readings_leave_the_prior_alone() -> None:
    assert pool([[5.0], [], [7.0]], 0.5, 8) == pool([], 0.5, 8)
    assert pool([], 0.5, 8).s == 0.5


def test_no_repeats_and_no_prior_is_refused() -> None:
    with pytest.raises(ValueError, match="scatter is unknown"):
        pool([[1.0], [2.0]], 0.5, 0)


@pytest.mark.parametrize("n", [0, -1])
def test_a_mean_of_nothing_is_refused(n: int) -> None:
    with pytest.raises(ValueError, match="fewer than one"):
        mean_u(1.0, n, 1.0)
    with pytest.raises(ValueError, match="no readings"):
        mean([])


# Worked by hand for a division of 1: s²/n, then 0.050661 exp(-39.478 (s² - 1/12)) (1 - 1/n) below s
# = 0.4.
@pytest.mark.parametrize(
    ("s", "n", "square"),
    [
        (0.35, 4, 0.030625 + 0.050661 * 0.21302 * 0.75),
        (0.3, 10, 0.009 + 0.050661 * 0.76862 * 0.9),
        (0.45, 4, 0.050625),
    ],
)
def test_doubt_of_a_mean_worked_by_hand(s: float, n: int, square: float) -> None:
    assert mean_u(s, n, 1.0) ** 2 == pytest.approx(square, rel=1e-4)
    assert mean_u(s * 25.4, n, 25.4) == pytest.approx(25.4 * math.sqrt(square), rel=1e-4)
