"""A taut string along a rail: its own dip, the sag it shows, and what is left of a sag without
load. And what bends a steel tape, and what the warmth does to steel.

Lengths in mm. Sag is positive downward, a crown is negative.
"""

from __future__ import annotations

from wizard.math.number import Number, uncertain
from wizard.math.uncertain import Uncertain, combine

GRAVITY = 9.80665
"""Standard acceleration of free fall, m/s² (exact, 3rd CGPM)."""


def dip(x: float, span: float, mass_per_length: float, pull: float) -> float:
    """How far the string hangs below its own ends, mm: w x (span - x) / (2 T), a parabola.

    x: from one end, mm. span: between the ends, mm. mass_per_length: g/m. pull: N.
    Raises ValueError when the pull is not above zero or x is off the string.

    >>> round(dip(1500, 3000, 1.5, 20), 3)
    0.827
    """
    if pull <= 0:
        raise ValueError("a pull above zero is needed")
    if not 0 <= x <= span:
        raise ValueError(f"{x} mm is not between the string's ends")
    weight = mass_per_length * GRAVITY * 1e-6  # g/m to N/mm
    return weight * x * (span - x) / (2 * pull)


def sag_above(gap: Number, block: Number, dip: Number) -> Uncertain:
    """Sag under a string that runs above the rail, mm: gap + dip - block.

    gap: from string to metal at the station. block: height of the equal blocks at the ends. dip:
    the string's own. The dip is added because a hanging string hides sag.
    """
    g, d, b = uncertain(gap), uncertain(dip), uncertain(block)
    return combine(g.value + d.value - b.value, [(1.0, g), (1.0, d), (-1.0, b)])


def sag_below(gap: Number, block: Number, dip: Number) -> Uncertain:
    """Sag over a string that runs below the rail, mm: block - gap + dip."""
    b, g, d = uncertain(block), uncertain(gap), uncertain(dip)
    return combine(b.value - g.value + d.value, [(1.0, b), (-1.0, g), (1.0, d)])


def elastic(loaded: Number, unloaded: Number) -> Uncertain:
    """What comes back when the load goes, mm: loaded - unloaded.

    The string's dip and blocks cancel.
    """
    return uncertain(loaded) - uncertain(unloaded)


def blade_sag(span: float, mass_per_length: float, pull: float) -> float:
    """By how much a blade hanging free over a span reads long, mm: w² L³ / (24 P²).

    span: mm. mass_per_length: g/m. pull: N, above 0. Source: the parabola's arc length, second
    order.

    >>> round(blade_sag(3000, 12, 40), 4)
    0.0097
    """
    if pull <= 0:
        raise ValueError("a pull above zero is needed")
    weight = mass_per_length * GRAVITY * 1e-6  # g/m to N/mm
    return weight**2 * span**3 / (24 * pull**2)


# Warmth -------------------------------------------------------------------------------------------

STEEL = 11.6e-6
"""What plain steel grows per °C, as a share of its length: 6.45e-6 per °F, of the 6.45e-6 to 6.5e-6
of handbooks of surveying (from memory).
"""


def expansion(length: float, warmer: float, per_degree: float = STEEL) -> float:
    """By how much a piece of steel is longer, mm, that is warmer by so much; negative where colder.

    A tape that is colder than the one temperature at which it is right reads long by as much.

    >>> round(expansion(3000, 10), 3)
    0.348
    """
    return per_degree * warmer * length


def bow(span: float, depth: float, warmer: float, per_degree: float = STEEL) -> float:
    """How far a rail stands up in the middle, mm, whose top is warmer than its bottom: α ΔT L² /
    8h.

    Source: a beam of depth h, evenly warmer from bottom to top, bends to a curvature of α ΔT / h.
    span: between the ends from which it is seen. depth: of the rail, above 0. Raises ValueError for
    a depth of nothing.

    >>> round(bow(2180, 100, 10), 1)
    0.7
    """
    if depth <= 0:
        raise ValueError("a depth above zero is needed")
    return per_degree * warmer * span * span / (8.0 * depth)


def bow_at(share: float) -> float:
    """Of that bow what stands at a share of the span: 0 at its ends, 1 in the middle, and below 0
    beyond them.
    """
    return 4.0 * share * (1.0 - share)
