"""A rail as a bent line in closed form: what stays bent, and what springs under the engine.

x rearward, mm; drop positive downward, mm. Source: the raised cosine as curvature, integrated twice
by hand; its limit for no length at all is a hinge. The springing is the beam of
wizard/math/beam.py.
"""

from __future__ import annotations

import math
from collections.abc import Callable

from wizard.math.beam import Beam, deflection
from wizard.math.tube import rail, section_of
from wizard.model.bent import Sag

Ends = tuple[float, float]
Line = Callable[[float], float]
"""Drop at x."""
GRAVITY = 9.80665
"""Standard acceleration of free fall, m/s² (exact, 3rd CGPM)."""


def turned(u: float, spread: float) -> float:
    """A line bent by one radian in all within `spread` of u = 0, lowest and level there: mm upward
    at u.

    Curvature (1 + cos(πu/s)) / 2s within |u| < s, none outside. A spread of 0 is a hinge of half a
    radian each way.

    >>> turned(100.0, 0.0), round(turned(600.0, 600.0), 3)
    (50.0, 210.793)
    """
    away = abs(u)
    if away >= spread:
        return spread * (0.25 + 1 / math.pi**2) + (away - spread) / 2
    turn = math.pi * u / spread
    return (u * u / 2 + (spread / math.pi) ** 2 * (1.0 - math.cos(turn))) / (2 * spread)


def below(line: Line, x: float, ends: Ends) -> float:
    """How far a line lies below the straight one through two of its places, at x.

    >>> below(lambda x: x * x, 1.0, (0.0, 2.0))
    -1.0
    """
    share = (x - ends[0]) / (ends[1] - ends[0])
    return line(x) - line(ends[0]) * (1.0 - share) - line(ends[1]) * share


def settled(sag: Sag, string: Ends, held: Ends) -> Line:
    """A bend that stays, as drop from the line between the places where the rail is held.

    It lies `depth` below the string's own line at its place. Raises ValueError for a place not
    between the blocks.
    """
    if not string[0] < sag.x < string[1]:
        raise ValueError("a bend must lie between the string's blocks to be seen by it")

    def bent(x: float) -> float:
        return -turned(x - sag.x, sag.spread)

    times = sag.depth / below(bent, sag.x, string)
    return lambda x: times * below(bent, x, held)


def sprung(newton: float, place: float, inertia: float, held: Ends) -> Line:
    """What a sound rail gives under one load between the places where it is held; nothing where it
    is not between.
    """
    if newton <= 0 or not held[0] < place < held[1]:
        return lambda x: 0.0
    beam = Beam(held[1] - held[0], newton, place - held[0], inertia)
    return lambda x: deflection(beam, x - held[0])


def inertia_of(sort: str, depth: float, flange: float, thickness: float) -> float:
    """Second moment of a sound rail, mm⁴. sort: as a layout calls its rails' section."""
    return section_of(rail(sort, depth, flange, thickness)).inertia
