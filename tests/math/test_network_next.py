"""What to tape next: the promise made for a distance is what comes true once it is taped."""

from __future__ import annotations

import math

import numpy as np
import pytest

from tests.math.network_frames import LAYOUT, OPEN, diagonals, pair, starts, taped
from wizard.math.network import Distance, adjust
from wizard.math.network_derived import center_line, diamond, off_line
from wizard.math.network_next import Candidate, best_next, gain

PLAN = adjust(starts(OPEN), taped(LAYOUT, OPEN))


def u_of(plan, quantity) -> float:
    return math.sqrt(quantity.gradient @ plan.covariance @ quantity.gradient)


def wanted(plan):
    return diamond(plan, pair("center"), pair("rear"))


@pytest.mark.parametrize(("a", "b"), [*diagonals("center", "rear"), ("front-left", "rear-right")])
def test_the_promise_comes_true(a, b):
    promised = gain(PLAN, wanted(PLAN), Candidate(a, b, 0.4))
    more = adjust(
        starts(OPEN),
        [*taped(LAYOUT, OPEN), Distance("more", a, b, math.dist(LAYOUT[a], LAYOUT[b]), 0.4)],
    )
    assert u_of(more, wanted(more)) == pytest.approx(promised.u_after, rel=1e-6)
    assert promised.u_before == pytest.approx(u_of(PLAN, wanted(PLAN)))
    assert promised.variance_fall == pytest.approx(promised.u_before**2 - promised.u_after**2)
    assert promised.u_after < 0.999 * promised.u_before


def test_the_rear_box_s_own_diagonal_beats_a_width():
    reach = [Candidate(*pair("front"), 0.7), Candidate(*diagonals("center", "rear")[0], 0.7)]
    best = best_next(PLAN, wanted(PLAN), reach)
    assert best is not None
    assert best.candidate == reach[1]


def test_a_finer_reading_helps_more():
    coarse, fine = (
        gain(PLAN, wanted(PLAN), Candidate("center-left", "rear-right", s)) for s in (2.0, 0.2)
    )
    assert fine.u_after < coarse.u_after


def test_nothing_in_reach_is_said_and_points_not_placed_are_passed_over():
    assert best_next(PLAN, wanted(PLAN), []) is None
    assert best_next(PLAN, wanted(PLAN), [Candidate("tip-left", "front-left", 0.5)]) is None
    with pytest.raises(ValueError, match="tip-left is not placed"):
        gain(PLAN, wanted(PLAN), Candidate("tip-left", "front-left", 0.5))
    with pytest.raises(ValueError, match="without doubt"):
        gain(PLAN, wanted(PLAN), Candidate("front-left", "rear-right", 0.0))


def test_the_best_is_never_worse_than_any_other():
    quantity = off_line(PLAN, center_line(PLAN, [pair("front"), pair("rear")]), pair("center"))
    names = list(PLAN.points)
    reach = [Candidate(a, b, 0.7) for k, a in enumerate(names) for b in names[k + 1 :]]
    best = best_next(PLAN, quantity, reach)
    assert best is not None
    assert best.u_after == pytest.approx(np.min([gain(PLAN, quantity, c).u_after for c in reach]))
