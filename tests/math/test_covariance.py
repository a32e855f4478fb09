"""Covariance from shared parts; chi-square bounds."""

import numpy as np
import pytest
from scipy import stats
from uncertainties import covariance_matrix, ufloat

from wizard.math.chisquare import chisquare_quantile
from wizard.math.covariance import covariance, fitted, misfit, whitener
from wizard.math.uncertain import Part, Uncertain

NUMBERS = [
    Uncertain(1.0, (Part("a", 0.5), Part("tape", 0.3))),
    Uncertain(2.0, (Part("b", 0.4), Part("tape", -0.2))),
    Uncertain(3.0, (Part("tape", 0.1), Part("a", 0.2), Part("c", 0.6))),
]


def test_covariance_agrees_with_the_uncertainties_package() -> None:
    a, b, c, tape = (ufloat(0, 1) for _ in range(4))
    expected = covariance_matrix(
        [0.5 * a + 0.3 * tape, 0.4 * b - 0.2 * tape, 0.1 * tape + 0.2 * a + 0.6 * c]
    )
    assert covariance(NUMBERS) == pytest.approx(np.array(expected), rel=1e-12)
    assert covariance(NUMBERS)[0, 1] < 0


def test_whitened_numbers_have_unit_covariance() -> None:
    white = whitener(NUMBERS)
    assert white @ covariance(NUMBERS) @ white.T == pytest.approx(np.eye(3), abs=1e-6)


def test_numbers_sharing_every_part_can_still_be_whitened() -> None:
    same = [Uncertain(float(i), (Part("tape", 0.3),)) for i in range(3)]
    assert np.all(np.isfinite(whitener(same)))


def test_a_number_without_doubt_is_refused() -> None:
    with pytest.raises(ValueError, match="doubt above zero"):
        whitener([*NUMBERS, Uncertain(4.0)])


def test_misfit_is_what_the_model_cannot_reach() -> None:
    seen = np.array([1.0, 2.0, 2.0])
    assert misfit(seen, np.zeros((3, 0))) == 9.0
    assert misfit(seen, np.ones((3, 1))) == pytest.approx(2 / 3)


@pytest.mark.parametrize("dof", [1, 2, 3, 4, 6, 10, 40])
@pytest.mark.parametrize("p", [0.9, 0.95, 0.98, 0.99])
def test_chisquare_quantile_is_within_1_percent(p: float, dof: float) -> None:
    assert chisquare_quantile(p, dof) == pytest.approx(stats.chi2.ppf(p, dof), rel=0.01)


def test_chisquare_of_nothing_is_nil() -> None:
    assert chisquare_quantile(0.98, 0) == 0.0


def test_a_cause_that_fits_is_left_and_one_that_does_not_is_excluded() -> None:
    """Four figures, each 0.5 give or take: 6 mm of the first shares, nothing of the second."""
    seen = [Uncertain(v, (Part(f"n{i}", 0.5),)) for i, v in enumerate((6.1, 5.8, 3.2, 0.2))]
    first = fitted(seen, [1.0, 1.0, 0.5, 0.0])
    assert first.amount == pytest.approx(6.0, abs=0.1)
    assert first.chance > 0.3
    assert fitted(seen, [0.0, 0.5, 1.0, 1.0]).chance < 0.001


def test_a_figure_that_follows_from_the_others_tests_nothing_twice() -> None:
    """The third is the sum of the first two, with their errors: it is no third witness."""
    a, b = Uncertain(6.0, (Part("a", 0.5),)), Uncertain(5.2, (Part("b", 0.5),))
    both = fitted([a, b], [1.0, 1.0])
    assert fitted([a, b, a + b], [1.0, 1.0, 2.0]).chance == pytest.approx(both.chance, abs=0.02)


def test_one_figure_alone_excludes_no_cause() -> None:
    assert fitted([Uncertain(6.0, (Part("a", 0.5),))], [1.0]).chance == 1.0
