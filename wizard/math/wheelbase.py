"""Wheelbase left against right: with a square box it is the axle or a spring that is askew, not the
frame.
"""

from __future__ import annotations

import math

from wizard.math.number import Number, uncertain
from wizard.math.uncertain import Uncertain, combine


def difference(left: Number, right: Number) -> Uncertain:
    """Wheelbase left minus right, mm; positive when the left wheels stand further apart."""
    return uncertain(left) - uncertain(right)


def axle_angle(left: Number, right: Number, track: Number) -> Uncertain:
    """The angle between the two axles seen from above, degrees: (left - right) / track.

    track: between the two places where the wheelbases were taped, mm; above 0.

    >>> round(axle_angle(2510, 2500, 1400).value, 3)
    0.409
    """
    gap, base = difference(left, right), uncertain(track)
    if base.value <= 0:
        raise ValueError("a track above zero is needed")
    angle = math.degrees(gap.value / base.value)
    return combine(angle, [(math.degrees(1.0 / base.value), gap), (-angle / base.value, base)])
