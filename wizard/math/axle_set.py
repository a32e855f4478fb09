"""The front beam by a string, and a wheel by a gauge. Lengths in mm, angles in degrees."""

from __future__ import annotations

from wizard.math.number import Number, uncertain
from wizard.math.uncertain import Uncertain, combine


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
    """Camber of one wheel against the floor on which both stand, degrees, positive with its top out.

    read: against plumb. floor: how much higher the left tire stands, degrees. Source: the car leans
    with its floor, to the right where the left side is higher, and both wheels with it.

    >>> wheel_lean(0.5, 1.0, left=True).value, wheel_lean(2.5, 1.0, left=False).value
    (1.5, 1.5)
    """
    r, f = uncertain(read), uncertain(floor)
    way = 1.0 if left else -1.0
    return combine(r.value + way * f.value, [(1.0, r), (way, f)])
