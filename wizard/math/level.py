"""A spirit level across the rails: slopes, its own error, and how the slope changes along the
frame.

Angles in radians; a slope is positive when the left side is higher; twist = slope at the rear -
slope at the front.
"""

from __future__ import annotations

import math

from wizard.math.number import Number, uncertain
from wizard.math.uncertain import Uncertain, combine


def slope(r1: Number, r2: Number) -> Uncertain:
    """The slope itself, from two readings with the level turned end for end: their mean, in the
    unit of r1.

    Both readings are written as the frame's slope, left high positive, so that the level's own
    error has opposite signs in the two and drops out.

    >>> slope(3, 1).value, own_error(3, 1).value
    (2.0, 1.0)
    """
    return (uncertain(r1) + uncertain(r2)).scaled(0.5)


def own_error(r1: Number, r2: Number) -> Uncertain:
    """The level's own error from the same two readings: half their difference."""
    return (uncertain(r1) - uncertain(r2)).scaled(0.5)


def height_across(width: Number, slope_change: Number) -> Uncertain:
    """Height difference across the rails that a change of slope makes, mm: W tan(change).

    width: between the rails at the place named, mm. slope_change: radians.

    >>> round(height_across(760, 0.002).value, 3)
    1.52
    """
    w, change = uncertain(width), uncertain(slope_change)
    tan = math.tan(change.value)
    return combine(w.value * tan, [(tan, w), (w.value * (1 + tan * tan), change)])
