"""Wheelbase left against right: with a square box it is the axle or a spring that is askew, not the
frame.
"""

from __future__ import annotations

from wizard.math.number import Number, uncertain
from wizard.math.uncertain import Uncertain


def difference(left: Number, right: Number) -> Uncertain:
    """Wheelbase left minus right, mm; positive when the left wheels stand further apart."""
    return uncertain(left) - uncertain(right)
