"""How far a sound rail bends under the engine: a straight beam on two supports, one load between
them.

Lengths in mm, load in N, modulus of elasticity in MPa (N/mm²), moment of inertia in mm⁴. Deflection
positive down.
Source: the beam's differential equation; the formula is in any text on the strength of materials.
"""

from __future__ import annotations

from wizard.frozen import Frozen

STEEL_MPA = 210_000.0
"""Modulus of elasticity of structural steel (EN 1993-1-1, 3.2.6, from memory)."""


class Beam(Frozen):
    """A rail on two supports, loaded at one place."""

    span: float
    """Between the supports, mm; the first one is at x = 0."""
    load: float
    """The load, N, positive down."""
    place: float
    """Where the load acts, mm from the first support; within the span."""
    inertia: float
    """Second moment of area of the section, mm⁴."""
    modulus: float = STEEL_MPA
    """Modulus of elasticity, MPa."""

    def __post_init__(self) -> None:
        """Raises ValueError when the load is not between the supports."""
        if not 0 <= self.place <= self.span:
            raise ValueError("the load must act between the supports")


def deflection(beam: Beam, x: float) -> float:
    """How far the beam goes down at x, mm: P b x (L² - b² - x²) / (6 E I L) up to the load,
    mirrored beyond.

    Past a support the beam is straight and rises with the slope it has there.

    >>> rail = Beam(span=2000, load=1000, place=1000, inertia=500_000)
    >>> round(deflection(rail, 1000), 3), round(deflection(rail, -500), 3)
    (1.587, -1.19)
    """
    if x > beam.place:
        turned = Beam(beam.span, beam.load, beam.span - beam.place, beam.inertia, beam.modulus)
        return _ahead_of_load(turned, beam.span - x)
    return _ahead_of_load(beam, x)


def below_chord(beam: Beam, x: float, start: float, end: float) -> float:
    """What a string from `start` to `end` sees of the deflection at x, mm: less the straight line
    between its ends.
    """
    part = (x - start) / (end - start)
    chord = deflection(beam, start) * (1 - part) + deflection(beam, end) * part
    return deflection(beam, x) - chord


def _ahead_of_load(beam: Beam, x: float) -> float:
    b = beam.span - beam.place
    bent = max(x, 0.0)
    stiff = 6 * beam.modulus * beam.inertia * beam.span
    square = beam.span**2 - b**2
    return beam.load * b * (x * square - bent**3) / stiff
