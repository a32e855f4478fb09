"""How far apart the readings of one prompt lie, as typed: what a mentor looks at first."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from wizard.library.kinds import bubble_of, length_of
from wizard.readings.refused import Refused
from wizard.survey.prompts import Prompt
from wizard.survey.record import Unit


def spread_of(prompt: Prompt, typed: Iterable[str], unit: Unit) -> tuple[Fraction, str] | None:
    """The largest reading less the smallest, and what it is in: mm, divisions, degrees, or mm for a
    shim.

    typed: the readings of that prompt. None for fewer than two, or where one cannot be read or is
    of another kind.
    """
    values: list[tuple[Fraction, str]] = []
    for text in typed:
        try:
            values.append(_value(prompt, text, unit))
        except Refused:
            return None
    if len(values) < 2 or len({kind for _, kind in values}) > 1:
        return None
    numbers = [number for number, _ in values]
    return max(numbers) - min(numbers), values[0][1]


def _value(prompt: Prompt, text: str, unit: Unit) -> tuple[Fraction, str]:
    """Raises Refused."""
    if not prompt.kind.tilts:
        return length_of(prompt, text, unit), "mm"
    bubble = bubble_of(text, unit)
    return bubble.value, "mm" if bubble.kind == "shim" else bubble.kind
