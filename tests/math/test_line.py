"""Straight lines: weights, refusals, agreement with numpy and scipy."""

import math

import numpy as np
import pytest
from scipy.optimize import curve_fit

from wizard.math.line import fit_line

pytestmark = pytest.mark.quick

XS = [0.0, 120.0, 400.0, 735.0, 800.0]
YS = [3.1, 3.4, 4.0, 5.1, 4.9]
US = [0.2, 0.4, 0.3, 0.2, 0.5]


def test_weighted_line_agrees_with_scipy() -> None:
    best, cov = curve_fit(
        lambda x, a, b: a + b * x, XS, YS, p0=[3, 0.002], sigma=US, absolute_sigma=True
    )
    line = fit_line(XS, YS, US, dof=12)
    assert [line.intercept, line.slope] == pytest.approx(list(best), rel=1e-6)
    assert [line.intercept_u, line.slope_u] == pytest.approx(list(np.sqrt(np.diag(cov))), rel=1e-6)
    assert line.correlation == pytest.approx(cov[0, 1] / math.sqrt(cov[0, 0] * cov[1, 1]), rel=1e-6)
    assert line.dof == 12


def test_weights_matter() -> None:
    assert fit_line(XS, YS, US).slope != pytest.approx(fit_line(XS, YS).slope, rel=1e-3)


def test_equal_weights_give_the_unweighted_line_with_given_u() -> None:
    weighted, plain = fit_line(XS, YS, [0.3] * 5), fit_line(XS, YS)
    assert weighted.slope == pytest.approx(plain.slope, rel=1e-12)
    assert weighted.slope_u / plain.slope_u == pytest.approx(0.3 / plain.s, rel=1e-12)
    assert weighted.s == pytest.approx(plain.s / 0.3, rel=1e-12)


def test_foretold_doubt_is_least_at_the_weighted_middle() -> None:
    line = fit_line(XS, YS, US)
    weights = [1 / u**2 for u in US]
    middle = sum(w * x for w, x in zip(weights, XS, strict=True)) / sum(weights)
    assert line.at(middle)[1] == pytest.approx(1 / math.sqrt(sum(weights)), rel=1e-9)
    assert line.at(middle)[1] < line.at(middle + 200)[1] < line.at(middle + 400)[1]


def test_a_far_zero_of_x_costs_no_digits() -> None:
    near, far = fit_line(XS, YS, US), fit_line([x + 2_460_000 for x in XS], YS, US)
    assert far.slope == pytest.approx(near.slope, rel=1e-9)
    assert far.slope_u == pytest.approx(near.slope_u, rel=1e-9)


def test_two_points_with_u_make_a_line_without_scatter() -> None:
    line = fit_line([0, 100], [1.0, 3.0], [0.3, 0.4])
    assert line.slope == pytest.approx(0.02)
    assert line.slope_u == pytest.approx(0.005)
    assert line.s == 0.0


@pytest.mark.parametrize(
    ("xs", "ys", "us", "says"),
    [
        ([1, 1, 1], [1, 2, 3], None, "same x"),
        ([1, 2], [1, 2], None, "too few"),
        ([1], [1], [0.1], "too few"),
        ([1, 2, 3], [1, 2], None, "as many"),
        ([1, 2, 3], [1, 2, 3], [1, 1], "as many"),
        ([1, 2, 3], [1, 2, 3], [1, 0, 1], "above zero"),
    ],
)
def test_points_that_bear_no_line_are_refused(
    xs: list[float], ys: list[float], us: list[float] | None, says: str
) -> None:
    with pytest.raises(ValueError, match=says):
        fit_line(xs, ys, us)
