"""Student's t against scipy."""

import math

import pytest
from scipy import stats

from wizard.math import student
from wizard.math.student import coverage_factor, t_cdf, t_quantile

pytestmark = pytest.mark.quick

FREEDOM = [1, 1.3, 2, 2.5, 3, 5, 8, 16.7, 30, 79, 81, 100, 1e3, 9.9e4, 1.1e5, 1e6, 1e8, math.inf]


@pytest.mark.parametrize("dof", FREEDOM)
@pytest.mark.parametrize("x", [-40, -5, -2, -1, -0.3, 0, 1e-3, 0.5, 1, 1.7, 2.5, 4, 9, 100])
def test_cdf_agrees_with_scipy(x: float, dof: float) -> None:
    assert t_cdf(x, dof) == pytest.approx(stats.t.cdf(x, dof), abs=1e-10)


@pytest.mark.parametrize("dof", FREEDOM)
@pytest.mark.parametrize(
    "p", [1e-5, 0.001, 0.025, 0.2, 0.4999, 0.5, 0.51, 0.9, 0.95, 0.975, 0.995, 0.9995]
)
def test_quantile_agrees_with_scipy(p: float, dof: float) -> None:
    assert t_quantile(p, dof) == pytest.approx(stats.t.ppf(p, dof), rel=1e-10, abs=1e-10)


def test_cdf_of_one_degree_of_freedom_is_the_arc_tangent() -> None:
    for x in (1e-6, 0.1, 1.0, 30.0, 1e5):
        assert t_cdf(x, 1) == pytest.approx(0.5 + math.atan(x) / math.pi, abs=1e-15)


def test_far_tail_keeps_its_digits() -> None:
    assert t_cdf(-1e5, 1) == pytest.approx(math.atan(1e-5) / math.pi, rel=1e-12)


@pytest.mark.parametrize("dof", [0.999, 0.2, 0.0, -3.0])
def test_fewer_than_one_degree_of_freedom_counts_as_one(dof: float) -> None:
    assert coverage_factor(dof) == coverage_factor(1)
    assert t_cdf(1.0, dof) == pytest.approx(0.75, abs=1e-12)


def test_the_factor_falls_as_readings_are_added() -> None:
    factors = [coverage_factor(dof) for dof in FREEDOM]
    assert factors == sorted(factors, reverse=True)
    assert len(set(factors)) == len(factors)


def test_infinite_x_is_certain() -> None:
    assert t_cdf(math.inf, 5) == 1.0
    assert t_cdf(-math.inf, 5) == 0.0


@pytest.mark.parametrize("p", [0.0, 1.0, -0.1, math.nan])
def test_impossible_probability_is_refused(p: float) -> None:
    with pytest.raises(ValueError, match="strictly between 0 and 1"):
        t_quantile(p, 10)


@pytest.mark.parametrize("dof", [1.0, 8.0, 1e3, 9e3, 9.9e4])
@pytest.mark.parametrize("p", [0.6, 0.975, 0.9995])
def test_a_quantile_is_found_in_a_few_steps(
    monkeypatch: pytest.MonkeyPatch, p: float, dof: float
) -> None:
    asked: list[float] = []
    tail = student._upper_tail
    monkeypatch.setattr(student, "_upper_tail", lambda x, dof: asked.append(x) or tail(x, dof))
    student.t_quantile.__wrapped__(p, dof)
    assert 0 < len(asked) <= 20
