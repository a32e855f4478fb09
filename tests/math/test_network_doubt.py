"""Doubt carried from the taped distances into what is read off the plan; and what to tape next: the
promise made for a distance is what comes true once it is taped.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from tests.math.network_frames import CLOSED, CORNERS, LAYOUT, OPEN, diagonals, pair, starts, taped
from wizard.math.network import Distance, adjust
from wizard.math.network_derived import center_line, diamond, half_width, horn_sideways, off_line
from wizard.math.network_doubt import (
    Candidate,
    Derived,
    best_next,
    derive,
    distance_between,
    gain,
    point_parts,
    read_off,
    reduce_to_plan,
    sensitivities,
)
from wizard.math.uncertain import Part, Uncertain


@pytest.fixture(name="plan")
def a_plan():
    return adjust(starts(CLOSED), taped(LAYOUT, CLOSED, rng=np.random.default_rng(3)))


def own_parts(plan) -> dict[str, Uncertain]:
    return {d.id: Uncertain(d.value_mm, (Part(d.id, d.u_mm, d.dof),)) for d in plan.distances}


def with_points(plan, u: dict[str, float]) -> dict[str, Uncertain]:
    return {
        d.id: Uncertain(
            d.value_mm, point_parts(d.a, d.b, *plan.place(d.a), *plan.place(d.b), u[d.a], u[d.b])
        )
        for d in plan.distances
    }


def test_unshared_parts_give_the_covariance_of_the_plan(plan):
    shift = diamond(plan, pair("front"), pair("rear"))
    expected = math.sqrt(shift.gradient @ plan.covariance @ shift.gradient)
    assert derive(plan, shift, own_parts(plan)).u == pytest.approx(expected, rel=1e-9)
    assert expected > 0.1


def test_a_distance_just_needed_counts_in_full():
    """Without redundancy an adjusted distance is the reading, and leans on no other."""
    plan = adjust(starts(CORNERS), taped(LAYOUT, CORNERS[:-1]))
    width = distance_between(plan, "front-left", "front-right")
    slopes = width.gradient @ sensitivities(plan)
    assert slopes == pytest.approx([1.0, 0, 0, 0, 0], abs=1e-9)


def test_a_point_s_definition_moves_the_point_and_nothing_else(plan):
    """With exact readings, the doubt of a width is that of its own two points across, whatever else
    is taped.
    """
    u = dict.fromkeys(plan.points, 0.5) | {"rear-right": 2.0}
    exact = {k: Uncertain(o.value, o.parts) for k, o in with_points(plan, u).items()}
    width = derive(plan, distance_between(plan, *pair("rear")), exact)
    assert width.u == pytest.approx(math.hypot(0.5, 2.0), rel=1e-6)
    half = derive(
        plan,
        half_width(plan, center_line(plan, [pair("front"), pair("rear")]), pair("front")),
        exact,
    )
    assert half.u == pytest.approx(math.hypot(0.5, 0.5) / 2, rel=1e-3)


def test_point_definition_taken_for_scatter_would_come_out_too_small(plan):
    """The twin: the same sizes under names of their own average out, as no point's definition does."""
    shared = with_points(plan, dict.fromkeys(plan.points, 1.0))
    apart = {
        k: Uncertain(o.value, tuple(Part(f"{k}/{p.name}", p.size) for p in o.parts))
        for k, o in shared.items()
    }
    shift = diamond(plan, pair("front"), pair("rear"))
    assert derive(plan, shift, apart).u < 0.9 * derive(plan, shift, shared).u


def test_one_tape_s_scale_drops_out_of_a_difference_and_not_of_a_width(plan):
    scale = {
        d.id: Uncertain(d.value_mm, (Part("tape-1", 0.001 * d.value_mm, shared=True),))
        for d in plan.distances
    }
    width = distance_between(plan, *pair("rear"))
    assert derive(plan, width, scale).u == pytest.approx(0.001 * width.value, rel=1e-3)
    assert derive(plan, diamond(plan, pair("front"), pair("rear")), scale).u < 0.01


def test_two_tapes_do_not_cancel(plan):
    def tape(k: str) -> str:
        return "tape-2" if k == "front-left--rear-right" else "tape-1"

    one = {d.id: Uncertain(d.value_mm, (Part("tape-1", 0.5, shared=True),)) for d in plan.distances}
    two = {
        d.id: Uncertain(d.value_mm, (Part(tape(d.id), 0.5, shared=True),)) for d in plan.distances
    }
    shift = diamond(plan, pair("front"), pair("rear"))
    assert derive(plan, shift, two).u > 5 * derive(plan, shift, one).u


def test_degrees_of_freedom_come_through(plan):
    few = {
        k: Uncertain(o.value, (Part(k, o.parts[0].size, 4.0),)) for k, o in own_parts(plan).items()
    }
    result = derive(plan, diamond(plan, pair("front"), pair("rear")), few)
    assert 4.0 < result.dof < 4.0 * len(few)
    assert derive(plan, diamond(plan, pair("front"), pair("rear")), own_parts(plan)).dof == math.inf


def test_a_distance_without_an_observation_is_an_error(plan):
    seen = own_parts(plan)
    seen.pop("front-left--rear-right")
    with pytest.raises(KeyError, match="front-left--rear-right"):
        derive(plan, distance_between(plan, *pair("rear")), seen)


def test_a_point_not_placed_is_named(plan):
    with pytest.raises(ValueError, match="tip-left is not placed"):
        horn_sideways(plan, "tip-left", "front-left", "center-left")


def test_the_gradient_is_that_of_small_differences(plan):
    shift = diamond(plan, pair("front"), pair("rear"))
    for k in range(plan.xy.size):
        ends = []
        for step in (-1e-3, 1e-3):
            xy = plan.xy.copy()
            xy.ravel()[k] += step
            f, r = (
                (xy[plan.points.index(a)], xy[plan.points.index(b)])
                for a, b in (pair("front"), pair("rear"))
            )
            axis = (r[0] + r[1] - f[0] - f[1]) / np.linalg.norm(r[0] + r[1] - f[0] - f[1])
            ends.append(((f[1] - f[0]) @ axis + (r[1] - r[0]) @ axis) / 2)
        assert shift.gradient[k] == pytest.approx((ends[1] - ends[0]) / 2e-3, abs=1e-8)


def test_a_point_named_twice_gets_both_slopes(plan):
    twice = read_off(plan, ("rear-left", "rear-left"), lambda at: at[..., 0, 0] + 2 * at[..., 1, 0])
    assert twice.gradient[2 * plan.points.index("rear-left")] == 3.0


def test_derived_quantities_add_and_scale():
    a, b = Derived(1.0, np.array([1.0, 0.0])), Derived(5.0, np.array([0.0, 2.0]))
    assert (b - a).value == 4.0
    assert (a + b).scaled(2.0).gradient.tolist() == [2.0, 4.0]
    assert (b - a).gradient.tolist() == [-1.0, 2.0]


@pytest.mark.parametrize(
    ("slope", "rise", "level"), [(500, 300, 400), (500, -300, 400), (1300, 0, 1300)]
)
def test_heights_are_taken_out(slope, rise, level):
    """3-4-5: identity."""
    assert reduce_to_plan(Uncertain(slope), Uncertain(rise)).value == pytest.approx(level)


def test_a_horn_100_mm_lower_lengthens_its_diagonal_by_millimeters():
    """Identity: 1450 mm in plan, 100 mm of drop."""
    taped_mm = math.hypot(1450.0, 100.0)
    assert taped_mm - 1450.0 == pytest.approx(3.44, abs=0.01)
    assert reduce_to_plan(
        Uncertain(taped_mm), Uncertain(100.0, (Part("z", 5.0),))
    ).u == pytest.approx(0.345, abs=0.001)


def test_a_distance_no_longer_than_its_rise_is_refused():
    with pytest.raises(ValueError, match="cannot rise by -500 mm"):
        reduce_to_plan(Uncertain(400.0), Uncertain(-500.0))


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
