"""Four corners from four sides and one diagonal: what the other diagonal and the area must then be."""

from __future__ import annotations

import math

Corner = tuple[float, float]


def corners(front: float, right: float, rear: float, left: float, d1: float) -> tuple[Corner, ...]:
    """Front left, front right, rear right, rear left as (x rearward, y to the right), any one unit.

    front, rear: widths; left, right: own-side lengths; d1: front left to rear right. The front left
    corner is the origin and d1 lies along x. Raises ValueError when the lengths cannot be joined.

    >>> corners(3, 4, 3, 4, 5)[2]
    (5.0, 0.0)
    >>> corners(1, 1, 3, 4, 5)
    Traceback (most recent call last):
    ...
    ValueError: sides 1 and 1 do not reach over a diagonal of 5
    """
    x, y = _apex(front, right, d1)
    x2, y2 = _apex(left, rear, d1)
    return (0.0, 0.0), (x, y), (float(d1), 0.0), (x2, -y2)


def area(front: float, right: float, rear: float, left: float, d1: float) -> float:
    """The area inside the four sides."""
    _, front_right, _, rear_left = corners(front, right, rear, left, d1)
    return d1 * (front_right[1] - rear_left[1]) / 2


def _apex(near: float, far: float, base: float) -> Corner:
    """Where two sides meet over a base: along it from the near end, and off it (never negative)."""
    along = (near * near - far * far + base * base) / (2 * base)
    square = near * near - along * along
    if square < 0:
        raise ValueError(f"sides {near} and {far} do not reach over a diagonal of {base}")
    return along, math.sqrt(square)
