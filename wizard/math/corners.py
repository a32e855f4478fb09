"""What tapes from one point in the middle say: a nose to both rear corners, or a plate to the four
corners of its box.

Lengths in mm; every function takes plain numbers or Uncertain ones and carries their doubt to first
order. Signs: a shift is positive when the right rail sits further back, sideways is positive to the
right. Plane geometry (the median of a triangle, Apollonius) throughout. As with diagonals, one box
alone cannot tell a rail that slipped from an end that was pushed aside: the formulas say how large
each would have to be alone.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from wizard.math.number import Number, uncertain
from wizard.math.uncertain import Uncertain, combine

TINY = 1e-20
"""Complex step: small enough that its square is nothing beside one."""


@dataclass(frozen=True, slots=True)
class Plate:
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
