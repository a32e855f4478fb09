"""What the level's own error, known from the places before, foretells of a reading turned round."""

from __future__ import annotations

import math
from dataclasses import replace

from wizard.checks.case import Case
from wizard.checks.twist_supports import all_supports, footing
from wizard.library.places import asked_of
from wizard.survey.prompts import Prompt

AS_SET, TURNED = "as-set", "turned"
FAR = 5.0
"""Standard uncertainties from which a reading is doubted: with four places a survey sees no false
alarm.
"""


def against_level(case: Case, prompt: Prompt, value: float) -> str:
    """A turned reading against the one as set and the level's own error; empty where it fits or
    nothing is known.

    value: the slope just typed, a ratio, left high positive.
    """
    if prompt.name != TURNED:
        return ""
    if len(all_supports(case.survey)) > 1:
        case = replace(case, supports=footing(case.survey.state()))
    as_set = case.taken(asked_of(prompt.id).named(AS_SET))
    errors = _errors_elsewhere(case, prompt.item)
    if as_set is None or not errors:
        return ""
    mean = sum(e for e, _ in errors) / len(errors)
    u = as_set.number.u * math.sqrt(2 + 2 / len(errors))
    foretold = as_set.number.value - 2 * mean
    if abs(value - foretold) <= FAR * u:
        return ""
    if abs(-value - foretold) <= FAR * u:
        return (
            "Turned round, the level was out the other way before: were left and right changed"
            " over?"
        )
    return (
        "The level's own error was another at the places before: is it the same level, and did it"
        " rest?"
    )


def _errors_elsewhere(case: Case, here: str) -> list[tuple[float, float]]:
    """The level's own error at every other place, each with the doubt of one reading."""
    others = (place.id for place in case.layout.levels if place.id != here)
    return [e for place in others if (e := _own_error(case, place))]


def _own_error(case: Case, place: str) -> tuple[float, float] | None:
    a, b = case.taken(f"level/{place}/as-set"), case.taken(f"level/{place}/turned")
    return ((a.number.value - b.number.value) / 2, a.number.u) if a and b else None
