"""The loaded beam, also where no exercise goes: mirrored, beyond the supports, under a short
string.
"""

import numpy as np
import pytest

from wizard.math.beam import Beam, below_chord, deflection

RAIL = Beam(span=2400, load=1500, place=700, inertia=800_000)


def test_the_mirrored_beam_bends_alike() -> None:
    turned = Beam(2400, 1500, 1700, 800_000)
    for x in (-200, 0, 300, 700, 1500, 2400, 2600):
        assert deflection(RAIL, x) == pytest.approx(
            deflection(turned, 2400 - x), rel=1e-12, abs=1e-12
        )


def test_the_supports_do_not_move_and_the_load_end_is_continuous() -> None:
    assert deflection(RAIL, 0) == deflection(RAIL, 2400) == 0
    assert deflection(RAIL, 700 - 1e-6) == pytest.approx(deflection(RAIL, 700 + 1e-6), rel=1e-8)


def test_beyond_a_support_the_rail_is_straight_with_the_slope_at_the_support() -> None:
    inside = deflection(RAIL, 1e-3) / 1e-3
    assert deflection(RAIL, -100) == pytest.approx(-100 * inside, rel=1e-6)
    assert deflection(RAIL, -200) == pytest.approx(2 * deflection(RAIL, -100), rel=1e-12)


def test_bending_agrees_with_moment_over_stiffness_integrated() -> None:
    x = np.linspace(0, 2400, 24_001)
    moment = np.where(x <= 700, 1500 * 1700 / 2400 * x, 1500 * 700 / 2400 * (2400 - x))
    step = x[1] - x[0]
    slope = np.concatenate([[0], np.cumsum((moment[1:] + moment[:-1]) / 2 * step)])
    twice = np.concatenate([[0], np.cumsum((slope[1:] + slope[:-1]) / 2 * step)])
    down = (twice[-1] * x / 2400 - twice) / (210_000 * 800_000)
    for at in (300, 700, 1200, 2100):
        assert deflection(RAIL, at) == pytest.approx(down[at * 10], rel=1e-6)


def test_a_string_between_the_supports_sees_it_all_and_a_shorter_one_less() -> None:
    assert below_chord(RAIL, 900, 0, 2400) == pytest.approx(deflection(RAIL, 900), rel=1e-12)
    short = below_chord(RAIL, 900, 300, 1800)
    assert 0 < short < 0.8 * deflection(RAIL, 900)
    assert below_chord(RAIL, 300, 300, 1800) == pytest.approx(0, abs=1e-12)


@pytest.mark.parametrize("place", [-1, 2401])
def test_a_load_off_the_supports_is_refused(place: float) -> None:
    with pytest.raises(ValueError, match="between the supports"):
        Beam(2400, 1500, place, 800_000)
