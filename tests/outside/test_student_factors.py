"""Student factors, reliability and effective degrees of freedom against published figures."""

import math

import pytest

from wizard.math.student import coverage_factor, t_quantile
from wizard.math.uncertain import Part, Uncertain

pytestmark = pytest.mark.quick

# JCGM 100:2008 Table G.2, 95 % column; second hand.
FREEDOM = (1, 2, 3, 4, 5, 10, 20, math.inf)
PRINTED = ("12.71", "4.30", "3.18", "2.78", "2.57", "2.23", "2.09", "1.960")
TABLE_G2 = list(zip(FREEDOM, PRINTED, strict=True))


@pytest.mark.parametrize(("dof", "printed"), TABLE_G2)
def test_coverage_factor_prints_as_in_table_g2(dof: float, printed: str) -> None:
    digits = len(printed.split(".")[1])
    assert f"{coverage_factor(dof):.{digits}f}" == printed


@pytest.mark.parametrize(("dof", "printed"), TABLE_G2[:-1])
def test_the_normal_factor_would_not_print_as_in_table_g2(dof: float, printed: str) -> None:
    assert f"{coverage_factor(math.inf):.2f}" != printed
    assert f"{coverage_factor(dof, level=0.90):.2f}" != printed


# JCGM 100:2008 G.4.2; second hand.


# JCGM 100:2008 H.1, end gauge; second hand: (u in nm, dof).
END_GAUGE = [(25.0, 18.0), (9.7, 25.6), (2.9, 50.0), (16.6, 2.0)]


def end_gauge() -> Uncertain:
    parts = tuple(Part(f"cause-{i}", size, dof) for i, (size, dof) in enumerate(END_GAUGE))
    return Uncertain(0.0, parts)


def test_end_gauge_combined_doubt_and_effective_freedom() -> None:
    gauge = end_gauge()
    assert gauge.u == pytest.approx(31.7, abs=0.05)
    # 16.7 is printed cut, not rounded: the inputs as printed give 16.76.
    assert math.floor(10 * gauge.dof) / 10 == 16.7
    assert math.floor(gauge.dof) == 16


def test_end_gauge_expanded_at_99_percent_lies_between_the_rounded_and_the_printed() -> None:
    expanded = coverage_factor(math.floor(end_gauge().dof), level=0.99) * end_gauge().u
    assert 92.4 <= expanded <= 93.5


def test_end_gauge_with_the_normal_factor_falls_short() -> None:
    assert coverage_factor(math.inf, level=0.99) * end_gauge().u < 92.4


# Baarda's data snooping, 0.1 % two-sided and power 80 %; memory.
def test_outlier_bounds_of_data_snooping() -> None:
    bound = t_quantile(1 - 0.001 / 2, math.inf)
    assert bound == pytest.approx(3.29, abs=0.005)
    assert bound + t_quantile(0.80, math.inf) == pytest.approx(4.13, abs=0.005)
    assert t_quantile(1 - 0.01 / 2, math.inf) < 3.0
