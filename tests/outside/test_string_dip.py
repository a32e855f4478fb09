"""The dip of a taut string; identity: w L² / (8 T)."""

import pytest

from wizard.math.thread import dip


@pytest.mark.parametrize(
    ("g_per_m", "span", "pull", "middle"), [(1.5, 3000, 20, 0.827), (0.5, 4000, 30, 0.327)]
)
def test_dip_in_the_middle(g_per_m: float, span: float, pull: float, middle: float) -> None:
    assert dip(span / 2, span, g_per_m, pull) == pytest.approx(middle, abs=0.0005)
    assert dip(span / 2, span, g_per_m, pull) == pytest.approx(
        g_per_m * 9.80665e-6 * span**2 / (8 * pull), rel=1e-12
    )


def test_a_string_pulled_twice_as_hard_misses_the_figure() -> None:
    assert abs(dip(1500, 3000, 1.5, 40) - 0.827) > 0.4
