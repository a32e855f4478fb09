"""Tapes from a nose or a plate, against corners set out by hand in x and y (rearward, to the
right).
"""

from __future__ import annotations

import math

import pytest

from wizard.math.corners import nose_shift, plate_shift
from wizard.math.uncertain import Part, Uncertain

XY = tuple[float, float]


def nose(at: XY, left: XY, right: XY) -> tuple[float, float, float]:
    return math.dist(at, left), math.dist(at, right), math.dist(left, right)


def plate(
    at: XY, corners: tuple[XY, XY, XY, XY]
) -> tuple[tuple[float, float], tuple[float, float], float, float]:
    a, b, c, d = (math.dist(at, p) for p in corners)
    front_left, front_right, rear_left, rear_right = corners
    return (a, b), (c, d), math.dist(front_left, front_right), math.dist(rear_left, rear_right)


def box(
    back: float = 0.0, front: float = 680.0, rear: float = 880.0, length: float = 2950.0
) -> tuple[XY, XY, XY, XY]:
    """Corners of a box whose right rail sits so far back, its axis kept."""
    h = back / 2
    return (-h, -front / 2), (h, front / 2), (length - h, -rear / 2), (length + h, rear / 2)


@pytest.mark.parametrize("back", [-12.0, -3.0, 0.0, 3.0, 6.0, 12.0, 60.0])
def test_a_rail_that_slipped_is_read_off_exactly_from_the_nose(back: float) -> None:
    tapes = nose((0, 0), (2300 - back / 2, -430), (2300 + back / 2, 430))
    assert nose_shift(*tapes).value == pytest.approx(back, abs=1e-9)


def test_a_nose_pushed_to_the_left_shows_as_the_right_rail_back() -> None:
    """By hand: e·W/m, with e 8 mm, W 860 mm, m √(2300² + 8²) mm."""
    tapes = nose((0, -8), (2300, -430), (2300, 430))
    assert nose_shift(*tapes).value == pytest.approx(8 * 860 / math.hypot(2300, 8), abs=1e-9)


def test_the_twin_of_a_true_frame_is_not_called_true_when_the_tapes_are_changed_over() -> None:
    left, right, width = nose((0, 0), (2297, -430), (2303, 430))
    assert nose_shift(right, left, width).value == pytest.approx(-6.0, abs=1e-9)
    assert abs(nose_shift(left, right, width).value) > 5.9


@pytest.mark.parametrize(("left", "right", "width"), [(400, 400, 900), (450, 450, 900)])
def test_tapes_too_short_for_the_width_are_refused(left: float, right: float, width: float) -> None:
    with pytest.raises(ValueError, match="too short to reach both corners"):
        nose_shift(left, right, width)


@pytest.mark.parametrize("back", [-12.0, 0.0, 3.0, 8.0])
@pytest.mark.parametrize("off", [-15.0, 0.0, 6.0])
@pytest.mark.parametrize("along", [1100.0, 1550.0])
def test_a_plate_anywhere_between_the_rails_tells_shift_from_offset(
    back: float, off: float, along: float
) -> None:
    found = plate_shift(*plate((along, off), box(back)))
    assert found.shift.value == pytest.approx(back, abs=0.01)
    assert found.off.value == pytest.approx(off, abs=0.01)


def test_with_the_plate_on_the_crossing_it_is_the_diagonals_own_formula() -> None:
    """d1² - d2² = 4 L s, with d1 and d2 each in two halves: an identity."""
    front, rear, _, _ = plate((1250, 0), box(6.0, 762, 762, 2500))
    d1, d2 = front[0] + rear[1], front[1] + rear[0]
    assert plate_shift(front, rear, 762, 762).shift.value == pytest.approx(
        (d1 * d1 - d2 * d2) / 10000, abs=0.001
    )


def test_an_offset_plate_would_spoil_the_sum_of_two_tapes_but_not_this() -> None:
    """Why no diagonal is added up of two tapes: with the plate off the line they are longer than
    the diagonal.
    """
    front, rear, wide, broad = plate((1100, 40), box(0.0))
    d1, d2 = front[0] + rear[1], front[1] + rear[0]
    assert abs(d1 * d1 - d2 * d2) / (4 * 2950) > 1.0
    assert plate_shift(front, rear, wide, broad).shift.value == pytest.approx(0.0, abs=0.01)


def test_a_plate_out_of_reach_is_refused() -> None:
    with pytest.raises(ValueError, match="too short to reach both corners"):
        plate_shift((300, 300), (900, 900), 700, 700)


def test_what_one_tape_has_wrong_alike_drops_out_and_the_hand_does_not() -> None:
    def tape(value: float, hand: str) -> Uncertain:
        return Uncertain(value, (Part("tape", value * 1e-3, shared=True), Part(hand, 1.0)))

    shift = nose_shift(tape(2340, "a"), tape(2340, "b"), 860)
    assert {p.name for p in shift.parts if abs(p.size) > 1e-9} == {"a", "b"}
    # By hand: each millimeter counts l/m = 2340/√(2340² - 430²) = 1.0173, two of them by root of
    # squares.
    assert shift.u == pytest.approx(1.01733 * math.sqrt(2), rel=1e-4)


def test_the_sensitivities_are_those_of_small_steps() -> None:
    names = "abcdef"
    at = [1053.0, 1047.0, 1502.0, 1508.0, 650.0, 800.0]

    def value(n: list[float]) -> float:
        return plate_shift((n[0], n[1]), (n[2], n[3]), n[4], n[5]).shift.value

    marked = [Uncertain(v, (Part(name, 1.0),)) for v, name in zip(at, names, strict=True)]
    a, b, c, d, e, f = marked
    parts = {p.name: p.size for p in plate_shift((a, b), (c, d), e, f).shift.parts}
    for k, name in enumerate(names):
        up, down = ([v + (s if n == k else 0) for n, v in enumerate(at)] for s in (0.01, -0.01))
        assert parts[name] == pytest.approx((value(up) - value(down)) / 0.02, abs=1e-6)
