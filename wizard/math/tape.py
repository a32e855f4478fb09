"""What bends and warms a steel tape: blade sag and temperature. Lengths in mm."""

from __future__ import annotations

from wizard.math.thread import GRAVITY

STEEL = 11.6e-6
"""Thermal expansion of a steel tape, per °C (as used for surveyors' tapes, from memory)."""


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


def reads_short_warm(length: float, tape_minus_frame: float, expansion: float = STEEL) -> float:
    """By how much a tape warmer than the frame reads short, mm; to be added to the reading.
    Negative when colder.

    tape_minus_frame: difference of temperature, °C. expansion: per °C. Nil for steel on steel at
    one temperature.

    >>> round(reads_short_warm(2500, 10), 3)
    0.29
    """
    return expansion * tape_minus_frame * length
