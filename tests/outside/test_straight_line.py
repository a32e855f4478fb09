"""Straight lines against the thermometer of the guide to uncertainty and two certified data sets."""

import pytest

from wizard.math.line import fit_line

pytestmark = pytest.mark.quick

# JCGM 100:2008 H.3, calibration of a thermometer, t0 = 20 °C; second hand.
READ = [21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.010, 26.511]
CORRECTION = [
    -0.171,
    -0.169,
    -0.166,
    -0.159,
    -0.164,
    -0.165,
    -0.156,
    -0.157,
    -0.159,
    -0.161,
    -0.160,
]


def test_thermometer_line() -> None:
    line = fit_line([t - 20 for t in READ], CORRECTION)
    assert line.intercept == pytest.approx(-0.1712, abs=0.00005)
    assert line.intercept_u == pytest.approx(0.0029, abs=0.00005)
    assert line.slope == pytest.approx(0.00218, abs=0.000005)
    assert line.slope_u == pytest.approx(0.00067, abs=0.000005)
    assert line.correlation == pytest.approx(-0.930, abs=0.0005)
    assert line.dof == 9


def test_thermometer_foretold_at_30() -> None:
    value, u = fit_line([t - 20 for t in READ], CORRECTION).at(10)
    assert value == pytest.approx(-0.1494, abs=0.00005)
    assert u == pytest.approx(0.0041, abs=0.00005)


def test_thermometer_with_another_zero_gives_another_intercept_but_foretells_the_same() -> None:
    line = fit_line(READ, CORRECTION)
    assert abs(line.intercept - -0.1712) > 0.01
    assert abs(line.correlation) > 0.99
    assert line.at(30)[0] == pytest.approx(-0.1494, abs=0.00005)
    assert line.at(30)[1] == pytest.approx(0.0041, abs=0.00005)


# NIST Statistical Reference Datasets NoInt1 and NoInt2; read in a copy. (x, y, slope, its u, s)
Data = tuple[list[float], list[float]]
NOINT1: Data = ([float(x) for x in range(60, 71)], [float(y) for y in range(130, 141)])
NOINT2: Data = ([4.0, 5.0, 6.0], [3.0, 4.0, 4.0])


@pytest.mark.parametrize(
    ("data", "certified"), [(NOINT1, 2.07438016528926), (NOINT2, 0.727272727272727)]
)
def test_a_line_with_intercept_misses_the_certified_slope(data: Data, certified: float) -> None:
    assert abs(fit_line(*data).slope - certified) > 0.1
