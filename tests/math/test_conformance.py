"""Over, within, cannot tell; what would settle it."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wizard.math.conformance import (
    chance_outside,
    chance_over,
    guard,
    over,
    repeats_to_settle,
    u_to_settle,
    within,
)

INF = math.inf


@pytest.mark.parametrize(
    ("value", "u", "said"),
    [
        (2.0, 0.1, "within"),
        (4.0, 0.1, "over"),
        (3.1, 0.1, "open"),
        (2.9, 0.1, "open"),
        (3.0, 0.1, "open"),
        (-4.0, 0.1, "over"),
        (3.0, 0.0, "open"),
        (2.999, 0.0, "within"),
        (3.001, 0.0, "over"),
        (0.0, 3.0, "open"),
    ],
)
def test_verdict_on_one_value(value: float, u: float, said: str) -> None:
    is_over, is_within = over(value, u, 20, 3.0, -3.0), within(value, u, 20, 3.0, -3.0)
    assert not (is_over and is_within)
    assert ("over" if is_over else "within" if is_within else "open") == said


@pytest.mark.parametrize("dof", [3, 8, 50, INF])
def test_the_guard_band_is_where_the_verdict_turns(dof: float) -> None:
    edge = guard(0.4, dof)
    assert within(3 - edge * 1.001, 0.4, dof, 3)
    assert not within(3 - edge * 0.999, 0.4, dof, 3)
    assert over(3 + edge * 1.001, 0.4, dof, 3)
    assert not over(3 + edge * 0.999, 0.4, dof, 3)


def test_fewer_readings_make_the_same_value_less_sure() -> None:
    assert over(3.8, 0.4, INF, 3)
    assert not over(3.8, 0.4, 3, 3)


def test_within_is_impossible_once_u_passes_about_half_the_limit() -> None:
    assert within(0.0, 0.50 * 3, INF, 3, -3)
    assert not within(0.0, 0.52 * 3, INF, 3, -3)


def test_unequal_limits_take_the_greater_chance_and_the_sum() -> None:
    up, down = chance_over(1.0, 1.0, INF, 2.0), chance_over(-1.0, 1.0, INF, 1.5)
    assert chance_over(1.0, 1.0, INF, 2.0, -1.5) == max(
        up, chance_outside(1.0, 1.0, INF, INF, -1.5)
    )
    assert chance_outside(1.0, 1.0, INF, 2.0, -1.5) == pytest.approx(
        up + chance_over(-1.0, 1.0, INF, 1.5)
    )
    assert down > 0


@given(value=st.floats(-10, 10), u=st.floats(0, 5), dof=st.floats(1, 100))
def test_chances_are_chances(value: float, u: float, dof: float) -> None:
    greater, both = chance_over(value, u, dof, 3, -2), chance_outside(value, u, dof, 3, -2)
    assert 0 <= greater <= both <= 1


@given(value=st.floats(-10, 10), u=st.floats(0.01, 5), dof=st.floats(1, 100))
def test_turning_the_frame_over_changes_nothing(value: float, u: float, dof: float) -> None:
    assert chance_over(value, u, dof, 3, -2) == pytest.approx(
        chance_over(-value, u, dof, 2, -3), abs=1e-12
    )


@pytest.mark.parametrize(("value", "dof"), [(2.0, 8), (4.2, 8), (2.0, INF)])
def test_the_u_said_to_settle_settles_and_a_larger_does_not(value: float, dof: float) -> None:
    u = u_to_settle(value, 3.0, dof)
    assert over(value, u * 0.999, dof, 3) or within(value, u * 0.999, dof, 3)
    assert not over(value, u * 1.001, dof, 3)
    assert not within(value, u * 1.001, dof, 3)


def test_a_value_on_the_limit_is_never_settled() -> None:
    assert u_to_settle(3.0, 3.0, INF) == 0
    assert repeats_to_settle(3.0, 3.0, INF, one=0.1) is None


@pytest.mark.parametrize(("one", "fixed"), [(1.0, 0.0), (1.0, 0.5), (2.5, 0.3), (0.1, 0.0)])
def test_the_repeats_said_to_settle_are_the_fewest_that_do(one: float, fixed: float) -> None:
    n = repeats_to_settle(2.0, 3.0, INF, one, fixed)
    assert n is not None
    assert within(2.0, math.sqrt(one**2 / n + fixed**2) * (1 - 1e-9), INF, 3.0)
    if n > 1:
        assert not within(2.0, math.sqrt(one**2 / (n - 1) + fixed**2), INF, 3.0)


def test_repeats_that_cannot_settle_are_none() -> None:
    assert repeats_to_settle(2.0, 3.0, INF, one=0.1, fixed=0.7) is None
    assert repeats_to_settle(2.0, 3.0, INF, one=20.0) is None
    assert repeats_to_settle(2.0, 3.0, INF, one=20.0, most=2000) == 1083


def test_the_worst_of_several_is_given_its_share_of_the_five_percent() -> None:
    """Bonferroni: three values at a limit are called over, any of them, in at most 5 %; within needs
    no share, since each must be within for all to be.
    """
    just = 3.0 + 1.70  # 1.645 u for one, 2.128 u for one of three (normal)
    assert over(just, 1.0, math.inf, 3.0)
    assert not over(just, 1.0, math.inf, 3.0, among=3)
    assert over(3.0 + 2.2, 1.0, math.inf, 3.0, among=3)
