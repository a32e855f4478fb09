"""Rail ends ahead of the front crossmember: what a bent tip does to its tapes, and where a tip
lies. Lengths in mm.
"""

from __future__ import annotations

import math

from wizard.math.number import Number, uncertain
from wizard.math.uncertain import Uncertain, combine


def tip_effect(inward: float, width: float, diagonal: float) -> float:
    """Change of a tip's diagonal when the tip moves inward, to first order, mm: -e W / d.

    inward: towards the other horn, mm. width: from the tip across to the rail its diagonal ends on.
    diagonal: mm.

    >>> tip_effect(10, 600, 1000)
    -6.0
    """
    return -inward * width / diagonal


def tip_effect_exact(inward: float, width: float, diagonal: float) -> float:
    """The same change without the approximation, mm. Raises ValueError when the diagonal is shorter
    than the width.
    """
    if diagonal < width:
        raise ValueError("a diagonal cannot be shorter than the width it crosses")
    return math.sqrt(diagonal**2 - 2 * inward * width + inward**2) - diagonal


def tip_place(own: Number, cross: Number, width: Number) -> tuple[Uncertain, Uncertain]:
    """Where a tip lies, mm: (ahead of its own side's point, inward of it), from two tapes to one
    crossmember.

    own: tip to its own side's point. cross: tip to the other side's point. width: between the two
    points. Inward is measured towards the other point. Raises ValueError when the three lengths
    make no triangle.

    >>> ahead, inward = tip_place(500, 781.0249675906654, 600)
    >>> round(ahead.value, 6), round(inward.value, 6)
    (500.0, 0.0)
    """
    o, c, w = uncertain(own), uncertain(cross), uncertain(width)
    inward = (o.value**2 - c.value**2 + w.value**2) / (2 * w.value)
    square = o.value**2 - inward**2
    if square <= 0:
        raise ValueError("these three lengths make no triangle")
    ahead = math.sqrt(square)
    by_own, by_cross, by_width = o.value / w.value, -c.value / w.value, 1.0 - inward / w.value
    lean = -inward / ahead
    across = combine(inward, [(by_own, o), (by_cross, c), (by_width, w)])
    along = combine(
        ahead, [(o.value / ahead + lean * by_own, o), (lean * by_cross, c), (lean * by_width, w)]
    )
    return along, across
