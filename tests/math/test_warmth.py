"""Steel that gets longer, and a rail that bows because its top is warmer than its bottom."""

import math

import pytest

from wizard.math.thread import bow, bow_at, expansion

pytestmark = pytest.mark.quick


def test_a_rail_bows_as_an_arc_whose_top_is_longer_than_its_bottom() -> None:
    """Identity: an arc of angle a whose top is longer by h a; its rise is R (1 - cos a/2)."""
    span, depth, warmer, per_degree = 2180.0, 100.0, 10.0, 11.6e-6
    angle = span * per_degree * warmer / depth
    radius = span / angle
    assert bow(span, depth, warmer, per_degree) == pytest.approx(
        radius * (1 - math.cos(angle / 2)), rel=1e-4
    )


def test_the_bow_is_that_of_the_trade_s_own_figure() -> None:
    """A computed figure of the project: 0.7 mm for 100 mm over 2.18 m at 10 °C."""
    assert bow(2180, 100, 10) == pytest.approx(0.7, abs=0.05)


def test_a_rail_twice_as_deep_bows_half_as_far_and_one_twice_as_long_four_times() -> None:
    assert bow(2180, 200, 10) == pytest.approx(bow(2180, 100, 10) / 2)
    assert bow(4360, 100, 10) == pytest.approx(bow(2180, 100, 10) * 4)


@pytest.mark.parametrize("depth", [0.0, -1.0])
def test_a_rail_without_depth_is_none(depth: float) -> None:
    with pytest.raises(ValueError, match="depth"):
        bow(2000, depth, 10)


def test_the_bow_is_a_parabola_from_end_to_end() -> None:
    assert [bow_at(s) for s in (0.0, 0.25, 0.5, 1.0)] == [0.0, 0.75, 1.0, 0.0]


def test_what_is_colder_is_shorter() -> None:
    assert expansion(1000, -10) == -expansion(1000, 10)
    assert expansion(1000, 0) == 0
