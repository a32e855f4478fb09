"""What a sagging frame does to what hangs on the engine: the radius rod's ball, and so the caster;
the fan. The front beam by a string, a wheel by a gauge. Lengths in mm, angles in degrees.
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


# The front beam and its wheels -----------------------------------------------------------------


def beam_end(block: Number, here: Number, other: Number, reach: Number) -> Uncertain:
    """How far one end of a beam lies behind the straight line through two marks on it, mm.

    A string runs ahead of the beam over two blocks, one on each end. block: their height, mm; here,
    other: string to metal at the mark on this half and at its twin on the other, mm; reach: how far
    the end lies outside its mark, as a part of the distance between the marks. Source: a straight
    line through two points, carried on to the end.

    An end 8 mm back, its twin straight: the string comes nearer to the marks, to this one more.

    >>> round(beam_end(50, 43.64705882, 48.35294118, 0.35).value, 5)
    8.0
    """
    b, near, far, r = (uncertain(number) for number in (block, here, other, reach))
    ahead = near.value + (near.value - far.value) * r.value
    terms = [(1.0, b), (-1.0 - r.value, near), (r.value, far), (far.value - near.value, r)]
    return combine(b.value - ahead, terms)


def wheel_lean(read: Number, floor: Number, *, left: bool) -> Uncertain:
    """Camber of one wheel against the floor on which both stand, degrees, positive with its top
    out.

    read: against plumb. floor: how much higher the left tire stands, degrees. Source: the car leans
    with its floor, to the right where the left side is higher, and both wheels with it.

    >>> wheel_lean(0.5, 1.0, left=True).value, wheel_lean(2.5, 1.0, left=False).value
    (1.5, 1.5)
    """
    r, f = uncertain(read), uncertain(floor)
    way = 1.0 if left else -1.0
    return combine(r.value + way * f.value, [(1.0, r), (way, f)])
