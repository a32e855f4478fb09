"""Rail shift, sway, closure and center length on boxes laid out as points; tapes from a nose or a
plate, against corners set out by hand in x and y.
"""

import math
from collections.abc import Callable
from typing import NamedTuple

import pytest
from hypothesis import given
from hypothesis import strategies as st
from uncertainties import umath

from wizard.math.diagonals import center_length, closure, nose_shift, plate_shift, rail_shift, sway
from wizard.math.uncertain import Part, Uncertain

pytestmark = pytest.mark.quick


class Box(NamedTuple):
    d1: float
    d2: float
    left: float
    right: float
    front: float
    rear: float


def taped(length: float, front: float, rear: float, slip: float = 0.0, aside: float = 0.0) -> Box:
    """All six distances of a box: x rearward, y right; right rail back by slip, rear to the right
    by aside.
    """
    fl, fr = (0.0, -front / 2), (slip, front / 2)
    rl, rr = (length, -rear / 2 + aside), (length + slip, rear / 2 + aside)
    d = math.dist
    return Box(d(fl, rr), d(fr, rl), d(fl, rl), d(fr, rr), d(fl, fr), d(rl, rr))


@pytest.mark.parametrize("slip", [-12.0, -3.0, 0.0, 0.5, 6.0, 12.0])
@pytest.mark.parametrize(("front", "rear"), [(700, 700), (600, 900)])
def test_rail_shift_is_exact_for_square_and_taper_frames(
    slip: float, front: float, rear: float
) -> None:
    box = taped(2500, front, rear, slip=slip)
    assert rail_shift(box.d1, box.d2, 2500).value == pytest.approx(slip, abs=1e-9)


def test_sway_by_one_width_of_a_taper_frame_is_wrong() -> None:
    box = taped(2500, 600, 900, aside=10)
    assert abs(sway(box.d1, box.d2, 900).value - 10) > 1


def test_a_long_box_shows_about_1_9_of_the_shift_in_its_diagonals() -> None:
    box = taped(2500, 762, 762, slip=6)
    assert (box.d1 - box.d2) / 6 == pytest.approx(1.9, abs=0.05)
    short = taped(700, 620, 620, slip=6)
    assert (short.d1 - short.d2) / 6 == pytest.approx(1.5, abs=0.05)


def test_a_rail_shortened_shows_as_half_of_it() -> None:
    fl, fr, rl, rr = (0.0, -350.0), (0.0, 350.0), (2500.0, -350.0), (2492.0, 350.0)
    shift = rail_shift(math.dist(fl, rr), math.dist(fr, rl), 2496).value
    assert shift == pytest.approx(-4.0, abs=0.02)


@given(d1=st.floats(500, 5000), d2=st.floats(500, 5000), base=st.floats(300, 5000))
def test_left_for_right_flips_the_sign_of_shift_and_sway(d1: float, d2: float, base: float) -> None:
    assert rail_shift(d1, d2, base).value == -rail_shift(d2, d1, base).value
    assert sway(d1, d2, base).value == -sway(d2, d1, base).value


@pytest.mark.parametrize(("slip", "aside"), [(0, 0), (6, 0), (0, 8), (6, 8), (-12, 5)])
def test_closure_is_nil_for_any_honest_box(slip: float, aside: float) -> None:
    for front, rear, allow in ((700, 700, 1e-9), (600, 900, 0.05)):
        assert closure(*taped(2500, front, rear, slip, aside)).value == pytest.approx(
            0.0, abs=allow
        )


@pytest.mark.parametrize(
    ("slot", "share"),
    [("d1", 1.0), ("d2", 1.0), ("left", -0.96), ("right", -0.96), ("front", -0.27)],
)
def test_closure_shows_an_inch_too_much_in_one_reading(slot: str, share: float) -> None:
    box = taped(2500, 700, 700)
    slipped = box._replace(**{slot: getattr(box, slot) + 25.4})
    assert closure(*slipped).value == pytest.approx(25.4 * share, rel=0.02)


def test_closure_cannot_see_both_diagonals_swapped() -> None:
    box = taped(2500, 600, 900, slip=8)
    swapped = box._replace(d1=box.d2, d2=box.d1)
    assert closure(*swapped).value == pytest.approx(closure(*box).value, abs=1e-9)


@pytest.mark.parametrize("slip", [0.0, 9.0])
def test_center_length_undoes_the_taper(slip: float) -> None:
    box = taped(2500, 600, 900, slip=slip)
    assert center_length(box.left, box.right, 600, 900).value == pytest.approx(2500, abs=1e-9)
    assert center_length(box.left, box.right, 750, 750).value > 2504


def test_center_length_of_sides_too_short_is_refused() -> None:
    with pytest.raises(ValueError, match="too short"):
        center_length(100, 100, 600, 900)


@pytest.mark.parametrize("base", [0, -5])
def test_a_base_of_nothing_is_refused(base: float) -> None:
    with pytest.raises(ValueError, match="above zero"):
        rail_shift(2000, 2001, base)
    with pytest.raises(ValueError, match="above zero"):
        sway(2000, 2001, base)


def test_one_tapes_scale_all_but_drops_out_of_the_shift_and_two_tapes_do_not() -> None:
    def numbers(second: str) -> tuple[Uncertain, Uncertain]:
        return Uncertain(2610.0, (Part("tape-1", 0.5),)), Uncertain(2609.0, (Part(second, 0.5),))

    assert rail_shift(*numbers("tape-1"), 2500).u < 0.001
    assert rail_shift(*numbers("tape-2"), 2500).u > 0.3


def test_shift_and_sway_agree_with_the_uncertainties_package(agrees: Callable[..., None]) -> None:
    inputs = [(2619.3, 0.6), (2607.8, 0.8), (2500.0, 1.5)]
    agrees(rail_shift, lambda a, b, c: (a**2 - b**2) / (4 * c), inputs)
    agrees(sway, lambda a, b, c: (a**2 - b**2) / (4 * c), [*inputs[:2], (762.0, 2.0)])


def test_closure_agrees_with_the_uncertainties_package(agrees: Callable[..., None]) -> None:
    inputs = [(2619.3, 0.6), (2601.8, 0.8), (2500, 0.7), (2503, 0.9), (600, 0.5), (900, 0.4)]
    agrees(
        closure,
        lambda a, b, le, r, f, w: (a**2 + b**2 - le**2 - r**2 - 2 * f * w) / (a + b),
        inputs,
    )


def test_center_length_agrees_with_the_uncertainties_package(agrees: Callable[..., None]) -> None:
    inputs = [(2500, 0.7), (2503, 0.9), (600, 0.5), (900, 0.4)]
    agrees(
        center_length,
        lambda le, r, f, w: umath.sqrt(((le + r) / 2) ** 2 - ((w - f) / 2) ** 2),
        inputs,
    )


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
