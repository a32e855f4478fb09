"""What the model's readings are taken with, and how they are written down.

No noise: a perfect hand.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from wizard.readings.written import write_length
from wizard.survey.prompts import Prompt
from wizard.survey.record import Unit

SIXTEENTH, THIRTY_SECOND = Fraction(127, 80), Fraction(127, 160)


@dataclass(frozen=True, slots=True)
class Kit:
    """Blocks, string and level of a survey on the model."""

    block: float = 50.0
    """Height of both blocks under the string, mm."""
    string_below: bool = False
    """Whether the string runs below the rail."""
    string_g_per_m: float = 0.5
    """Mass of the string; it hangs by its weight."""
    string_newton: float = 30.0
    """Pull on the string, N."""
    level_own: float = 0.0
    """The level's own error as a slope; it turns with the level."""
    division: float = 0.006
    """Slope that moves the bubble by one division, a ratio."""


PERFECT = Kit()


def exact_text(value: float, prompt: Prompt, kit: Kit = PERFECT, places: int = 7) -> str:
    """A reading as it would be typed with that many decimals: `2314.1234567 mm`, `3.0000000 mm
    past`, `0.5 left`.

    value: mm, for an angle degrees, or for a bubble the slope, left high positive.
    """
    if prompt.kind.tilts:
        return _sided(value / kit.division, ("left", "right"), places)
    if prompt.kind.leans:
        return _sided(value, prompt.signs, places)
    if prompt.kind.offsets:
        return _sided(value, prompt.signs, places, " mm")
    return f"{value:.{places}f} mm"


def _sided(value: float, signs: tuple[str, ...], places: int, unit: str = "") -> str:
    size = f"{abs(value):.{places}f}{unit}"
    return (
        size
        if float(f"{abs(value):.{places}f}") == 0
        else f"{size} {signs[0] if value > 0 else signs[1]}"
    )


def scale_text(value: float, prompt: Prompt, unit: Unit, kit: Kit = PERFECT) -> str:
    """A reading as a person says it off the scale of an ordinary tool: `91 1/8`, `1/2 left`, `3
    past`.
    """
    if prompt.kind.tilts:
        return _marked(abs(value) / kit.division, Fraction(1, 4), value > 0, ("left", "right"))
    if prompt.kind.leans:
        return _sided(value, prompt.signs, 1, "°")
    if prompt.tool == "caliper":
        return f"{value:.1f} mm"
    fine = prompt.tool in ("ruler", "bar")
    division = (
        (THIRTY_SECOND if fine else SIXTEENTH)
        if unit == "in"
        else Fraction(1, 2)
        if fine
        else Fraction(1)
    )
    size = write_length(abs(value), unit, division)
    if not prompt.kind.offsets:
        return size
    return (
        "0"
        if not Fraction(_plain(size))
        else f"{size} {prompt.signs[0] if value > 0 else prompt.signs[1]}"
    )


def _marked(size: float, mark: Fraction, plus: bool, signs: tuple[str, str]) -> str:
    """Divisions of the vial in quarters, judged by eye."""
    text = write_length(size * 25.4, "in", mark * Fraction(127, 5))
    return "0" if text == "0" else f"{text} {signs[0] if plus else signs[1]}"


def _plain(size: str) -> str:
    return size.split()[-1]
