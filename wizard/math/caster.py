"""What a sagging frame does to what hangs on the engine: the radius rod's ball, and so the caster;
the fan. Lengths in mm, angles in degrees.
"""

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


Support = tuple[Number, Number]
"""Where a support lies along the frame, and how far it went down there, both mm."""


def drop_on_engine(front: Support, mount: Support, x: Number) -> Uncertain:
    """How far a point of the engine goes down, mm: engine and gearbox are one stiff piece, held by
    its front support and by its rear mount.

    front, mount: place and drop of the two. x: place of the point, mm on the same scale; it may
    lie ahead of both or behind both. Raises ValueError where the two supports are one place.
    Source: a straight line through two points.

    >>> round(drop_on_engine((0, 0), (640, 6), 780).value, 4)
    7.3125
    """
    (xf, sf), (xm, sm) = (tuple(map(uncertain, support)) for support in (front, mount))
    at, apart = uncertain(x), xm.value - xf.value
    if not apart:
        raise ValueError("two supports at two places are needed")
    share, slope = (at.value - xf.value) / apart, (sm.value - sf.value) / apart
    terms = [(1.0 - share, sf), (share, sm)]
    terms += [(slope, at), (-slope * share, xm), (-slope * (1.0 - share), xf)]
    return combine(sf.value + (sm.value - sf.value) * share, terms)
