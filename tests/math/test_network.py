"""The plan itself: what it finds, what it refuses, what it leaves out, and that it does so from
afar.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from tests.math.network_frames import (
    BRACED,
    CLOSED,
    CORNERS,
    LAYOUT,
    OPEN,
    box,
    moved,
    shaken,
    starts,
    taped,
    widths,
)
from wizard.math.network import Distance, TooThin, adjust


def adjusted_distances(plan) -> dict[tuple[str, str], float]:
    places = {p: plan.place(p) for p in plan.points}
    return {(a, b): math.dist(places[a], places[b]) for a in places for b in places if a < b}


def test_exact_distances_come_back_exactly():
    true = moved(front_right=(6.0, 0.0), rear_left=(-2.0, 5.0))
    plan = adjust(starts(CLOSED), taped(true, CLOSED))
    assert plan.converged
    for (a, b), found in adjusted_distances(plan).items():
        assert found == pytest.approx(math.dist(true[a], true[b]), abs=1e-6)
    assert np.abs(plan.residuals).max() < 1e-6


def test_a_distance_too_long_has_a_positive_residual():
    plan = adjust(starts(CLOSED), taped(LAYOUT, CLOSED, slips={"front-left--rear-right": 10.0}))
    row = [d.id for d in plan.distances].index("front-left--rear-right")
    assert plan.residuals[row] > 0
    assert plan.residuals[row] / plan.redundancy[row] == pytest.approx(10.0, abs=0.1)


def test_redundancy_adds_up_to_distances_less_unknowns():
    plan = adjust(LAYOUT, taped(LAYOUT, BRACED, rng=np.random.default_rng(2)))
    assert plan.redundancy.sum() == pytest.approx(len(BRACED) - (2 * len(LAYOUT) - 3), abs=1e-9)
    assert plan.total_redundancy == len(BRACED) - 13
    assert np.diagonal(plan.correlation) == pytest.approx(1.0)


def test_four_corners_have_one_check_and_every_reading_the_same_say():
    """With one redundancy all standardized residuals are one and the same number."""
    plan = adjust(starts(CORNERS), taped(LAYOUT, CORNERS, rng=np.random.default_rng(4)))
    assert plan.total_redundancy == 1
    assert np.abs(plan.correlation) == pytest.approx(1.0)
    assert np.abs(plan.standardized) == pytest.approx(np.abs(plan.standardized[0]), abs=1e-4)


def test_without_a_check_nothing_is_standardized():
    plan = adjust(starts(CORNERS), taped(LAYOUT, CORNERS[:-1], rng=np.random.default_rng(4)))
    assert plan.total_redundancy == 0
    assert not plan.standardized.any()
    assert math.isnan(plan.variance_factor)


def test_scatter_gives_a_variance_factor_near_one_and_halved_doubts_four():
    rng = np.random.default_rng(11)
    factors = [adjust(LAYOUT, taped(LAYOUT, BRACED, rng=rng)).variance_factor for _ in range(60)]
    assert np.mean(factors) == pytest.approx(1.0, abs=0.15)
    distances = taped(LAYOUT, BRACED, rng=rng)
    halved = [Distance(d.id, d.a, d.b, d.value_mm, d.u_mm / 2) for d in distances]
    assert adjust(LAYOUT, halved).variance_factor == pytest.approx(
        4 * adjust(LAYOUT, distances).variance_factor
    )


def test_the_start_places_do_not_matter_to_what_is_taped():
    distances = taped(moved(rear_right=(9, -4)), CLOSED, rng=np.random.default_rng(5))
    here = adjust(starts(CLOSED), distances)
    turned = {p: (700 - y, x - 1200) for p, (x, y) in starts(CLOSED).items()}
    there = adjust(turned, distances)
    assert there.residuals == pytest.approx(here.residuals, abs=1e-7)
    assert there.standardized == pytest.approx(here.standardized, abs=1e-6)


@pytest.mark.parametrize(
    "pairs", [CORNERS, OPEN, CLOSED, BRACED], ids=["corners", "open", "closed", "braced"]
)
def test_from_100_mm_the_right_plan_is_always_found(pairs):
    rng = np.random.default_rng(8)
    for k in range(60):
        true = shaken(rng, 10.0, starts(pairs))
        slipped = pairs[k % len(pairs)]
        distances = taped(true, pairs, rng=rng, slips={"--".join(slipped): 25.4})
        near = adjust(true, distances)
        far = adjust(shaken(rng, 100.0, true), distances)
        assert far.converged
        assert far.residuals == pytest.approx(near.residuals, abs=1e-5)


def test_a_start_on_the_wrong_side_shows_in_the_residuals():
    """A point started far across its neighbors settles there: the plan is at rest, but does not
    fit.
    """
    wrong = {**starts(CORNERS), "rear-right": (2500.0, -1900.0)}
    distances = taped(LAYOUT, CORNERS)
    assert adjust(wrong, distances).variance_factor > 1000
    assert adjust(starts(CORNERS), distances).variance_factor < 1e-6


def test_a_point_with_too_few_distances_is_left_out_and_named():
    pairs = [*CLOSED, ("front-left", "tip-left")]
    plan = adjust(LAYOUT, taped(LAYOUT, pairs))
    assert plan.dropped == ("tip-left", "tip-right")
    assert plan.unused == ("front-left--tip-left",)
    assert plan.total_redundancy == len(CLOSED) - 9


def test_a_point_taped_only_along_a_straight_rail_is_left_out():
    straight = {
        "a-left": (0, -300),
        "a-right": (0, 300),
        "c-left": (2000, -300),
        "c-right": (2000, 300),
    }
    straight["b-left"] = (900, -300)
    along = [("a-left", "b-left"), ("b-left", "c-left")]
    frame = widths("a", "c") + box("a", "c")
    assert adjust(straight, taped(straight, frame + along)).dropped == ("b-left",)
    assert adjust(straight, taped(straight, [*frame, *along, ("b-left", "a-right")])).dropped == ()


def test_two_bodies_joined_at_one_point_keep_the_larger():
    places = {**LAYOUT, "far-1": (5000.0, 0.0), "far-2": (5000.0, 700.0)}
    pairs = [*CLOSED, ("rear-right", "far-1"), ("rear-right", "far-2"), ("far-1", "far-2")]
    assert set(adjust(places, taped(places, pairs)).dropped) == {
        "tip-left",
        "tip-right",
        "far-1",
        "far-2",
    }


def test_held_points_stay_and_distances_between_them_count_for_nothing():
    held = ("front-left", "front-right", "rear-left")
    distances = taped(LAYOUT, CORNERS, rng=np.random.default_rng(1))
    plan = adjust(starts(CORNERS), distances, held)
    for p in held:
        assert plan.place(p) == LAYOUT[p]
    assert set(plan.unused) == {
        "front-left--front-right",
        "front-left--rear-left",
        "front-right--rear-left",
    }
    assert plan.total_redundancy == 1
    assert not plan.covariance[:2].any()


def test_the_pool_of_unlike_degrees_of_freedom_never_claims_more_than_their_mean():
    distances = [Distance(d.id, d.a, d.b, d.value_mm, d.u_mm, 8.0) for d in taped(LAYOUT, CLOSED)]
    assert adjust(starts(CLOSED), distances).dof == pytest.approx(8.0)
    mixed = [*distances[:-1], Distance("last", *CLOSED[-1], distances[-1].value_mm, 0.7, 2.0)]
    assert 2.0 < adjust(starts(CLOSED), mixed).dof < 8.0
    assert adjust(starts(CLOSED), taped(LAYOUT, CLOSED)).dof == math.inf


GOOD = Distance("d", "front-left", "rear-left", 2500.0, 0.7)


@pytest.mark.parametrize(
    ("distances", "held", "says"),
    [
        ([GOOD, GOOD], (), "same id"),
        (
            [Distance("d", "front-left", "nowhere", 100.0, 0.7)],
            (),
            "front-left to nowhere are not two points",
        ),
        ([Distance("d", "front-left", "front-left", 100.0, 0.7)], (), "not two points"),
        ([Distance("d", "front-left", "rear-left", math.nan, 0.7)], (), "above 0 mm"),
        ([Distance("d", "front-left", "rear-left", 2500.0, 0.0)], (), "above 0 mm"),
        ([Distance("d", "front-left", "rear-left", math.inf, 0.7)], (), "above 0 mm"),
        ([GOOD], ("front-left",), "two or more"),
        ([GOOD], ("front-left", "nowhere"), "two or more"),
    ],
)
def test_nonsense_is_refused_in_words(distances, held, says):
    with pytest.raises(ValueError, match=says):
        adjust(LAYOUT, distances, held)


def test_two_points_started_from_one_place_are_refused():
    with pytest.raises(ValueError, match="front-left and rear-left start from one place"):
        adjust({**LAYOUT, "rear-left": LAYOUT["front-left"]}, [GOOD])


@pytest.mark.parametrize(
    "distances", [[], [GOOD], taped(LAYOUT, CORNERS[:3])], ids=["none", "one", "an open chain"]
)
def test_a_network_of_no_shape_is_too_thin(distances):
    with pytest.raises(TooThin, match="do not fix any three points"):
        adjust(LAYOUT, distances)
