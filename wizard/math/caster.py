"""What a sagging radius rod ball does to caster. Lengths in mm, angles in degrees."""

from __future__ import annotations

import math

from wizard.math.number import Number, uncertain
from wizard.math.uncertain import Uncertain, combine


def caster_change(drop: Number, rod: Number) -> Uncertain:
    """Change of caster in degrees when the rod's rear ball drops: atan(drop / rod), positive when
    it goes down.

    drop: of the ball, mm. rod: from axle to ball, mm; above 0. Source: the right-angled triangle.

    >>> round(caster_change(15.875, 914.4).value, 3)
    0.995
    """
    h, r = uncertain(drop), uncertain(rod)
    if r.value <= 0:
        raise ValueError("a rod length above zero is needed")
    square = h.value**2 + r.value**2
    by_drop, by_rod = math.degrees(r.value / square), -math.degrees(h.value / square)
    return combine(math.degrees(math.atan(h.value / r.value)), [(by_drop, h), (by_rod, r)])
