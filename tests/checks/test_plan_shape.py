"""The shape of the plan: which way each point is off, and an ellipse that holds the truth 19 times
in 20.
"""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from tests.checks.surveys import LADDER, case_of, moved, taped
from wizard.checks.case import Case
from wizard.checks.plan import plan_of
from wizard.checks.plan_shape import Displaced, displaced, ellipse_factor, put_on
from wizard.library.places import Side, across


def shape_of(points: dict[str, tuple[float, float]]) -> dict[str, Displaced]:
    case: Case = case_of(taped(points))
    plan = plan_of(case)
    assert plan is not None
    return {p.point: p for p in displaced(plan)}


def test_a_square_frame_is_off_nowhere() -> None:
    assert max(math.hypot(p.dx, p.dy) for p in shape_of(dict(LADDER)).values()) < 0.01


def test_a_rail_pushed_back_points_back_and_its_twin_forward() -> None:
    back = {f"{place}_right": (8.0, 0.0) for place in ("tip", "front", "center", "rear")}
    found = shape_of(moved(LADDER, **back))
    assert all(found[f"{p}-right"].dx > 2.5 for p in ("tip", "front", "center", "rear"))
    assert all(
        found[f"{p}-left"].dx == pytest.approx(-found[f"{p}-right"].dx, abs=0.01)
        for p in ("tip", "rear")
    )


def test_both_horns_bent_to_the_right_point_to_the_right() -> None:
    found = shape_of(moved(LADDER, tip_left=(0.0, 12.0), tip_right=(0.0, 12.0)))
    assert found["tip-left"].dy == pytest.approx(found["tip-right"].dy, abs=0.01)
    assert found["tip-left"].dy > 5
    assert found["center-left"].dy < 0


def test_the_places_are_laid_on_the_axis() -> None:
    found = shape_of(dict(LADDER))
    assert found["tip-left"].x == pytest.approx(0.0, abs=0.01)
    assert found["rear-right"].x - found["front-right"].x == pytest.approx(2200.0, abs=0.3)
    assert found["rear-right"].y == pytest.approx(430.0, abs=0.3)


def test_every_ellipse_is_one() -> None:
    for point in shape_of(dict(LADDER)).values():
        assert 0 < point.minor <= point.major < 5


@pytest.mark.parametrize(
    ("dof", "factor", "source"),
    [
        (math.inf, 2.4477, "read: chi-squared 5.991 with two degrees of freedom, its root"),
        (10, 2.8653, "read: F(0.95; 2, 10) is 4.103 in any table, the root of twice it is 2.865"),
        (5, 3.4015, "read: F(0.95; 2, 5) is 5.786, the root of twice it is 3.402"),
    ],
)
def test_the_factor_of_an_ellipse(dof: float, factor: float, source: str) -> None:
    assert ellipse_factor(dof) == pytest.approx(factor, abs=2e-3), source
    assert ellipse_factor(dof) != pytest.approx(1.96, abs=0.1), (
        "the factor of a line is not that of a plane"
    )


def test_a_point_in_the_middle_is_its_own_twin() -> None:
    assert (across("nose"), across("front-left")) == ("nose", "front-right")


def test_too_few_pairs_give_no_shape() -> None:
    case = case_of(
        taped({k: v for k, v in LADDER.items() if not k.startswith(("tip", "center", "rear"))})
    )
    plan = plan_of(case)
    assert plan is None or displaced(plan) == ()


def test_what_twins_differ_by_stands_on_the_side_that_is_known_to_have_moved() -> None:
    back = {f"{place}_right": (8.0, 0.0) for place in ("tip", "front", "center", "rear")}
    found = shape_of(moved(LADDER, **back))
    held = {p.point: p for p in put_on(tuple(found.values()), Side.RIGHT, set(found))}
    for place in ("tip", "front", "center", "rear"):
        right, left = held[f"{place}-right"], held[f"{place}-left"]
        assert (right.dx, right.dy) == pytest.approx((8.0, 0.0), abs=0.05)
        assert (left.dx, left.dy) == pytest.approx((0.0, 0.0), abs=0.05)
        assert right.major >= found[right.point].major
    assert held["rear-right"].is_off
    assert not held["rear-left"].is_off
    assert put_on(tuple(found.values()), None, set(found)) == tuple(found.values())


def test_one_of_many_points_must_be_further_off_to_be_drawn_so() -> None:
    point = next(iter(shape_of(dict(LADDER)).values()))
    assert point.wider > 1.1
    just = replace(point, dx=1.05 * point.major, dy=0.0, angle=0.0)
    assert not just.is_off
    assert replace(just, wider=1.0).is_off
