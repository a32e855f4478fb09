"""A loaded beam; identity, and the answer of a strength of materials exercise (second hand)."""

import pytest

from wizard.math.beam import Beam, deflection

# 8 m span, 70 kN at 3 m, I 2.8e4 cm⁴, E 210 GPa: 11.16 mm under the load, 11.68 mm most at 3.72 m.
BEAM = Beam(span=8000, load=70_000, place=3000, inertia=2.8e8, modulus=210_000)


def test_deflection_under_the_load_and_at_its_most() -> None:
    assert deflection(BEAM, 3000) == pytest.approx(11.16, abs=0.005)
    x = max(range(8001), key=lambda x: deflection(BEAM, x))
    most = deflection(BEAM, x)
    assert x == pytest.approx(3720, abs=5)
    assert most == pytest.approx(11.68, abs=0.005)


def test_deflection_under_the_load_is_p_a2_b2_over_3eil() -> None:
    assert deflection(BEAM, 3000) == pytest.approx(
        70_000 * 3000**2 * 5000**2 / (3 * 210_000 * 2.8e8 * 8000), rel=1e-12
    )


def test_the_load_from_the_other_end_misses_the_place() -> None:
    other = Beam(8000, 70_000, 5000, 2.8e8, 210_000)
    assert abs(max(range(8001), key=lambda x: deflection(other, x)) - 3720) > 500
    assert abs(deflection(other, 3000) - 11.16) > 0.5
