"""Which points a network fixes, and which distances would complete it."""

from __future__ import annotations

import itertools

import numpy as np
import pytest

from tests.math.network_frames import (
    CLOSED,
    CORNERS,
    LAYOUT,
    diagonals,
    lengths,
    starts,
    taped,
    widths,
)
from wizard.math.network_solve import joins
from wizard.math.network_thin import completing, fixed_points, whole

SIDES = widths("front", "rear") + lengths("front", "rear")


def test_four_sides_fix_no_more_than_two_points_and_one_diagonal_fixes_all():
    places = starts(CORNERS)
    assert len(fixed_points(places, taped(LAYOUT, SIDES))) == 2
    assert fixed_points(places, taped(LAYOUT, CORNERS[:-1])) == tuple(places)


def test_nothing_taped_fixes_nothing():
    assert fixed_points(LAYOUT, []) == ()


def test_points_held_fix_what_two_distances_reach():
    held = ("front-left", "rear-left")
    ties = taped(
        LAYOUT,
        [("front-left", "rear-right"), ("rear-left", "rear-right"), ("front-left", "front-right")],
    )
    assert fixed_points(starts(CORNERS), ties, held) == ("front-left", "rear-left", "rear-right")


def test_one_diagonal_completes_four_sides():
    done = completing(starts(CORNERS), taped(LAYOUT, SIDES), diagonals("front", "rear"))
    assert done.pairs == (("front-left", "rear-right"),)
    assert done.loose == ()


def test_a_candidate_that_adds_nothing_is_not_asked_for():
    again = [("front-left", "rear-left"), *diagonals("front", "rear")]
    assert completing(starts(CORNERS), taped(LAYOUT, SIDES), again).pairs == (again[1],)


def test_what_no_candidate_reaches_is_said():
    done = completing(
        LAYOUT, taped(LAYOUT, CLOSED), [("tip-left", "front-left"), ("tip-left", "front-right")]
    )
    assert len(done.pairs) == 2
    assert done.loose == ("tip-right",)
    assert completing(LAYOUT, taped(LAYOUT, CLOSED), []).loose == ("tip-left", "tip-right")


def test_a_whole_network_needs_nothing():
    done = completing(starts(CLOSED), taped(LAYOUT, CLOSED), diagonals("front", "rear"))
    assert (done.pairs, done.loose) == ((), ())


@pytest.mark.parametrize("taken", range(6))
def test_completing_from_scratch_takes_just_enough(taken):
    """Fixing n points takes 2n - 3 distances (Laman), whatever was taped first if none of it is
    surplus.
    """
    places = starts(CLOSED)
    everything = list(itertools.combinations(places, 2))
    done = completing(places, taped(LAYOUT, everything[:taken]), everything)
    assert done.loose == ()
    assert len(done.pairs) == 2 * len(places) - 3 - taken


def test_the_quick_test_agrees_with_the_slow_one():
    rng = np.random.default_rng(6)
    places = starts(CLOSED)
    everything = list(itertools.combinations(places, 2))
    xy, answers = np.array(list(places.values())), set()
    names = list(places)
    for _ in range(60):
        pairs = [everything[k] for k in rng.permutation(len(everything))[: rng.integers(8, 13)]]
        ends = np.array([(names.index(a), names.index(b)) for a, b in pairs])
        quick = whole(xy, joins(ends, len(names)))
        assert quick == (fixed_points(places, taped(LAYOUT, pairs)) == tuple(names))
        answers.add(quick)
    assert answers == {True, False}
