"""What a pair of diagonals says: one rail ahead of the other, or one end pushed aside.

Lengths in mm; every function takes plain numbers or Uncertain ones and carries their doubt to first
order. d1 runs from front left to rear right, d2 from front right to rear left. Source: the cosine
rule; exact for tapering frames. One pair cannot tell the two kinds of damage apart: the formulas
say how large each would have to be alone.
"""

from __future__ import annotations

import math

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
