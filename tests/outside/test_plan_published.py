"""The plan against figures from outside, each with its label and with a twin that must fail."""

from __future__ import annotations

import math

import pytest

from wizard.math.network import Distance, adjust
from wizard.math.network_derived import diamond
from wizard.math.network_doubt import distance_between
from wizard.math.network_outliers import smallest_seen, threshold

CONTROL = {"A": (865.40, 4527.15), "B": (2432.55, 2047.25), "C": (2865.22, 27.15)}
MEASURED = {"A": 6049.00, "B": 4736.83, "C": 5446.49}


def three_distances(measured):
    """A point from distances to three known ones; feet, all of one weight."""
    start = {**CONTROL, "U": (6800.0, 3800.0)}
    return adjust(
        start, [Distance(p, p, "U", d, 1.0) for p, d in measured.items()], held=tuple(CONTROL)
    )


def test_three_distances():
    """Inputs read: Ghilani and Wolf, Adjustment Computations, chapter 14. Answer computed with
    scipy from them.
    """
    plan = three_distances(MEASURED)
    assert plan.place("U") == pytest.approx((6861.317, 3727.819), abs=0.001)
    assert math.sqrt(plan.variance_factor) == pytest.approx(0.098, abs=0.0005)
    assert plan.total_redundancy == 1


def test_three_distances_twin_with_a_misread_foot():
    plan = three_distances({**MEASURED, "B": 4737.83})
    assert plan.place("U") != pytest.approx((6861.317, 3727.819), abs=0.001)
    assert math.sqrt(plan.variance_factor) != pytest.approx(0.098, abs=0.0005)


def test_baarda():
    """3.29 at 0.1 % for one reading; 4.13 the shift found four times in five: memory, Baarda's data
    snooping.
    """
    assert threshold(1, math.inf, alpha_total=0.001) == pytest.approx(3.29, abs=0.005)
    assert threshold(1, math.inf, alpha_total=0.01) != pytest.approx(3.29, abs=0.005)
    plan = three_distances(MEASURED)
    for row, d in enumerate(plan.distances):
        assert smallest_seen(plan, row) * math.sqrt(plan.redundancy[row]) / d.u_mm == pytest.approx(
            4.13, abs=0.005
        )


def box(first: float, second: float, length: float = 2500.0, width: float = 762.0):
    places = {
        "fl": (0.0, -380.0),
        "fr": (0.0, 380.0),
        "rl": (2500.0, -380.0),
        "rr": (2500.0, 380.0),
    }
    taped = {
        "fl-fr": width,
        "rl-rr": width,
        "fl-rl": length,
        "fr-rr": length,
        "fl-rr": first,
        "fr-rl": second,
    }
    return adjust(places, [Distance(k, k[:2], k[3:], mm, 0.5) for k, mm in taped.items()])


def test_diamond_of_a_long_box():
    """L 2500, W 762 as taped, s 6: diagonals 2619.28311 and 2607.80444. Identity."""
    plan = box(2619.28311, 2607.80444)
    assert diamond(plan, ("fl", "fr"), ("rl", "rr")).value == pytest.approx(6.0, abs=1e-5)
    assert abs(plan.residuals).max() < 1e-4


def test_diamond_twin_with_diagonals_the_other_way_round():
    assert diamond(box(2607.80444, 2619.28311), ("fl", "fr"), ("rl", "rr")).value == pytest.approx(
        -6.0, abs=1e-5
    )
    assert diamond(box(2619.28311, 2608.80444), ("fl", "fr"), ("rl", "rr")).value < 5.9


SIDES = {"ab": 25.0, "bc": 39.0, "cd": 60.0, "da": 52.0}
CORNERS = {"a": (0.0, 0.0), "b": (17.0, -18.0), "c": (56.0, 0.0), "d": (20.0, 48.0)}


@pytest.mark.parametrize(
    ("known", "mm", "asked", "found"), [("ac", 56, "bd", 63), ("bd", 63, "ac", 56)]
)
def test_quadrilateral_with_whole_diagonals(known, mm, asked, found):
    """Sides 25 39 60 52 in order, diagonals 63 and 56: Brahmagupta's example, memory. One gives the
    other.
    """
    taped = [Distance(k, k[0], k[1], float(v), 0.1) for k, v in {**SIDES, known: mm}.items()]
    assert distance_between(adjust(CORNERS, taped), *asked).value == pytest.approx(found, abs=1e-6)


def test_quadrilateral_twin_with_two_sides_changed_about():
    taped = [
        Distance(k, k[0], k[1], v, 0.1)
        for k, v in {**SIDES, "ab": 39.0, "bc": 25.0, "ac": 56.0}.items()
    ]
    assert distance_between(adjust(CORNERS, taped), "b", "d").value != pytest.approx(63.0, abs=1.0)
