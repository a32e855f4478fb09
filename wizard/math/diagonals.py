"""What a pair of diagonals says: one rail ahead of the other, or one end pushed aside. And what tapes
from one point in the middle say in their place: a nose to both rear corners, or a plate to the four
corners of its box.

Lengths in mm; every function takes plain numbers or Uncertain ones and carries their doubt to first
order. d1 runs from front left to rear right, d2 from front right to rear left. A shift is positive
when the right rail sits further back, sideways is positive to the right. Source: the cosine rule;
exact for tapering frames; for a point in the middle plane geometry (the median of a triangle,
Apollonius). One pair, or one box, cannot tell a rail that slipped from an end that was pushed
aside: the formulas say how large each would have to be alone.
"""

import math
from collections.abc import Callable, Sequence
from typing import NamedTuple

from wizard.math.number import Number, uncertain
from wizard.math.uncertain import Uncertain, combine


def rail_shift(d1: Number, d2: Number, length: Number) -> Uncertain:
    """How far the right rail sits further back than the left, mm: (d1² - d2²) / (4 L).

    length: along the center line between the two stations, mm; above 0.

    >>> round(rail_shift(2619.28311, 2607.80444, 2500).value, 3)
    6.0
    """
    return _difference_of_squares(d1, d2, length)


def sway(d1: Number, d2: Number, width: Number) -> Uncertain:
    """How far the rear sits to the right of the front, mm: (d1² - d2²) / (4 W).

    width: mean of the widths at the two stations, mm; above 0.
    """
    return _difference_of_squares(d1, d2, width)


def closure(
    d1: Number, d2: Number, left: Number, right: Number, front_width: Number, rear_width: Number
) -> Uncertain:
    """By how much one diagonal would have to be too long for the six readings to disagree as they
    do, mm.

    (d1² + d2² - left² - right² - 2·front·rear) / (d1 + d2): an error e in one diagonal shows as
    about e, in both alike as 2e, in one side length as -e·side/diagonal. Zero for a box whose front
    and rear are parallel, tapering, slipped or swayed as it may be. All lengths as taped.
    """
    a, b, le, ri, f, r = (uncertain(n) for n in (d1, d2, left, right, front_width, rear_width))
    both = a.value + b.value
    lack = a.value**2 + b.value**2 - le.value**2 - ri.value**2 - 2 * f.value * r.value
    gap = lack / both
    terms = [
        ((2 * a.value - gap) / both, a),
        ((2 * b.value - gap) / both, b),
        (-2 * le.value / both, le),
        (-2 * ri.value / both, ri),
        (-2 * r.value / both, f),
        (-2 * f.value / both, r),
    ]
    return combine(gap, terms)


def center_length(
    left: Number, right: Number, front_width: Number, rear_width: Number
) -> Uncertain:
    """Length along the center line between two stations, mm, from own-side lengths taped along the
    rails.

    √(mean² - ((rear - front)/2)²). Raises ValueError when the sides are too short for the taper.

    >>> round(center_length(1000, 1000, 600, 800).value, 2)
    994.99
    """
    le, ri, f, r = (uncertain(n) for n in (left, right, front_width, rear_width))
    mean = (le.value + ri.value) / 2
    slant = (r.value - f.value) / 2
    if mean <= abs(slant):
        raise ValueError("the sides are too short to join these two widths")
    length = math.sqrt(mean * mean - slant * slant)
    along, across = mean / (2 * length), slant / (2 * length)
    return combine(length, [(along, le), (along, ri), (across, f), (-across, r)])


def _difference_of_squares(d1: Number, d2: Number, base: Number) -> Uncertain:
    a, b, c = uncertain(d1), uncertain(d2), uncertain(base)
    if c.value <= 0:
        raise ValueError("a length or width above zero is needed")
    shift = (a.value - b.value) * (a.value + b.value) / (4 * c.value)
    terms = [(a.value / (2 * c.value), a), (-b.value / (2 * c.value), b), (-shift / c.value, c)]
    return combine(shift, terms)


TINY = 1e-20
"""Complex step: small enough that its square is nothing beside one."""


class Plate(NamedTuple):
    """A plate taped to the four corners of its box."""

    shift: Uncertain
    """How far the right rail sits further back, mm."""
    off: Uncertain
    """How far the plate lies to the right of the middle line, mm."""


def nose_shift(left: Number, right: Number, width: Number) -> Uncertain:
    """How far the right rear corner sits further back than the left, seen from the nose, mm; exact.

    (right² - left²) / (2 m) with m the median from the nose to the middle between the corners,
    `width` apart. A nose pushed aside by e shows as -e·width/m. Raises ValueError when the two
    tapes are too short for the width.

    >>> round(nose_shift(2000, 2006, 900).value, 3)
    6.157
    """
    return _carried(_nose, (left, right, width))


def plate_shift(
    front: tuple[Number, Number],
    rear: tuple[Number, Number],
    front_width: Number,
    rear_width: Number,
) -> Plate:
    """What four tapes from the plate to the corners say, wherever between the rails the plate sits.

    front, rear: from the plate to the left corner and to the right one. With p and r the medians
    from the plate to the front and to the rear pair, F and R the widths there, f and b the
    differences of squares, left less right in front and right less left behind: shift = (R·f + F·b)
    / (2 (p·R + r·F)), off = (r·f - p·b) / (2 (p·R + r·F)). Both are exact but for the medians,
    which a shift or an offset of 10 mm changes by less than 0.1 mm. Raises ValueError when two
    tapes are too short for the width between their corners.

    >>> at = plate_shift((1053, 1047), (1047, 1053), 650, 650)
    >>> round(at.shift.value, 2), round(at.off.value, 2)
    (6.31, 0.0)
    """
    numbers = (*front, *rear, front_width, rear_width)
    return Plate(
        _carried(lambda n: _plate(n)[0], numbers), _carried(lambda n: _plate(n)[1], numbers)
    )


def _nose(n: Sequence[complex]) -> complex:
    left, right, width = n
    return (right**2 - left**2) / (2 * _median(left, right, width))


def _plate(n: Sequence[complex]) -> tuple[complex, complex]:
    front_left, front_right, rear_left, rear_right, front, rear = n
    p, r = _median(front_left, front_right, front), _median(rear_left, rear_right, rear)
    f, b = front_left**2 - front_right**2, rear_right**2 - rear_left**2
    below = 2 * (p * rear + r * front)
    return (rear * f + front * b) / below, (r * f - p * b) / below


def _median(a: complex, b: complex, base: complex) -> complex:
    square = (a**2 + b**2) / 2 - base**2 / 4
    if square.real <= 0:
        raise ValueError("the two tapes are too short to reach both corners")
    return complex(square**0.5)


def _carried(
    formula: Callable[[Sequence[complex]], complex], inputs: Sequence[Number]
) -> Uncertain:
    """A formula's value with the doubts of its inputs; sensitivities by complex steps, exact to
    rounding.
    """
    numbers = [uncertain(n) for n in inputs]
    at = [complex(n.value) for n in numbers]
    steps = [[v + (TINY * 1j if k == n else 0) for k, v in enumerate(at)] for n in range(len(at))]
    return combine(
        formula(at).real, [(formula(s).imag / TINY, n) for s, n in zip(steps, numbers, strict=True)]
    )
