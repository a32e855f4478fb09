"""A rail as a bent line in closed form: what stays bent, and what springs under the engine.

x rearward, mm; drop positive downward, mm. Source: the raised cosine as curvature, integrated twice
by hand; its limit for no length at all is a hinge. The springing is the beam of
wizard/math/beam.py.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from itertools import pairwise

from wizard.math.beam import STEEL_MPA, Beam, deflection
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


def bowed(curvature: float, held: Ends) -> Line:
    """A rail bent alike from end to end, up positive curvature in 1/mm, as drop from the line between
    the places where it is held: by the maker, or by a top that is warmer than the bottom.

    >>> bowed(1e-6, (0.0, 2000.0))(1000.0)
    -0.5
    """
    return lambda x: -curvature / 2 * (x - held[0]) * (held[1] - x)


def softened(
    newton: float, place: float, inertia: float, held: Ends, weak: tuple[float, float, float]
) -> Line:
    """What a rail gives more than a sound one where a stretch of it has lost stiffness.

    weak: where the stretch begins and ends, and the share of its inertia that is left. Source: the
    unit-load theorem, ∫ M m / (E I) dx, over the stretch alone (any text on the strength of
    materials); both moments are straight lines between load, place and supports, so Simpson's rule
    is exact.
    """
    if newton <= 0 or not held[0] < place < held[1] or weak[2] <= 0:
        return lambda x: 0.0
    first, span = held[0], held[1] - held[0]
    start, end = (min(max(at, held[0]), held[1]) - first for at in weak[:2])
    gain = (1 / weak[2] - 1) * newton / (STEEL_MPA * inertia)

    def moment(at: float, load: float) -> float:
        """At a place of the rail, of a load of one there or there."""
        return (span - load) * at / span if at <= load else load * (span - at) / span

    def more(x: float) -> float:
        own, spot = place - first, x - first
        cuts = sorted({start, end, *(c for c in (own, spot) if start < c < end)})
        pieces = ((a, (a + b) / 2, b, (b - a) / 6) for a, b in pairwise(cuts))
        return gain * sum(
            sixth
            * sum(w * moment(at, own) * moment(at, spot) for w, at in ((1, a), (4, m), (1, b)))
            for a, m, b, sixth in pieces
        )

    return more


def inertia_of(sort: str, depth: float, flange: float, thickness: float) -> float:
    """Second moment of a sound rail, mm⁴. sort: as a layout calls its rails' section."""
    return section_of(rail(sort, depth, flange, thickness)).inertia
