"""Mean, scatter and a shared cause against the worked examples of the guide to uncertainty."""

import math

import pytest

from wizard.math.repeats import mean, mean_u, pool
from wizard.math.uncertain import Part, Uncertain, combine

# JCGM 100:2008 4.4.3, twenty temperatures in °C; second hand: mean 100.145, s 1.489, s/√n 0.333, ν
# 19.
TEMPERATURES = [
    *(96.90, 98.18, 98.25, 98.61, 99.03, 99.49, 99.56, 99.74, 99.89, 100.07),
    *(100.33, 100.42, 100.68, 100.95, 101.11, 101.20, 101.57, 101.84, 102.36, 102.72),
]


def test_twenty_temperatures() -> None:
    pooled = pool([TEMPERATURES], prior_s=0.0, prior_dof=0)
    assert mean(TEMPERATURES) == pytest.approx(100.145, abs=0.0005)
    assert pooled.s == pytest.approx(1.489, abs=0.0005)
    assert pooled.dof == 19
    assert mean_u(pooled.s, 20, division=0.01) == pytest.approx(0.333, abs=0.0005)


def test_twenty_temperatures_without_the_last_do_not_agree() -> None:
    short = TEMPERATURES[:-1]
    pooled = pool([short], prior_s=0.0, prior_dof=0)
    assert abs(mean(short) - 100.145) > 0.05
    assert abs(pooled.s - 1.489) > 0.05
    assert abs(mean_u(pooled.s, 19, division=0.01) - 0.333) > 0.005


def in_series(names: list[str]) -> Uncertain:
    resistors = [Uncertain(1000.0, (Part(name, 0.1),)) for name in names]
    return combine(sum(r.value for r in resistors), [(1.0, r) for r in resistors])


# JCGM 100:2008 5.2.2, ten resistors of 1000 Ω compared with one standard, u 0.1 Ω each; memory.
def test_ten_resistors_of_one_standard_add_their_errors() -> None:
    assert in_series(["standard"] * 10).value == 10_000.0
    assert in_series(["standard"] * 10).u == pytest.approx(1.0, rel=1e-12)


def test_ten_resistors_of_ten_standards_do_not() -> None:
    assert in_series([f"standard-{i}" for i in range(10)]).u == pytest.approx(
        math.sqrt(10) * 0.1, rel=1e-12
    )
