"""What warmth does to steel: how much longer it gets, and how far a rail bows that is warmer on top
than below.

Lengths in mm, temperatures in °C. Source: linear expansion; a beam of depth h whose top is warmer than
its bottom by ΔT, evenly between, bends in a circle of curvature α ΔT / h.
"""

from __future__ import annotations

STEEL = 11.6e-6
"""What plain steel grows per °C, as a share of its length: 6.45e-6 per °F, of the 6.45e-6 to 6.5e-6 of
handbooks of surveying (from memory).
"""


def expansion(length: float, warmer: float, per_degree: float = STEEL) -> float:
    """By how much a piece of steel is longer, mm, that is warmer by so much; negative where colder.

    A tape that is colder than the one temperature at which it is right reads long by as much.

    >>> round(expansion(3000, 10), 3)
    0.348
    """
    return per_degree * warmer * length


def bow(span: float, depth: float, warmer: float, per_degree: float = STEEL) -> float:
    """How far a rail stands up in the middle, mm, whose top is warmer than its bottom: α ΔT L² / 8h.

    span: between the ends from which it is seen. depth: of the rail, above 0. Raises ValueError for a
    depth of nothing.

    >>> round(bow(2180, 100, 10), 1)
    0.7
    """
    if depth <= 0:
        raise ValueError("a depth above zero is needed")
    return per_degree * warmer * span * span / (8.0 * depth)


def bow_at(share: float) -> float:
    """Of that bow what stands at a share of the span: 0 at its ends, 1 in the middle, and below 0 beyond
    them.
    """
    return 4.0 * share * (1.0 - share)
