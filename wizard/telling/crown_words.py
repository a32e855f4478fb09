"""A rail that stands high on purpose: what weight it waits for."""

from __future__ import annotations

from wizard.checks.case import case_of
from wizard.checks.springing import expected
from wizard.judgment.verdict import Verdict
from wizard.library.places import quantity_of
from wizard.library.shapes import Library
from wizard.survey.record import Survey
from wizard.telling.amounts import about
from wizard.telling.document import Item as Line

LEAST_MM, MOST_MM = 0.4, 4.0
"""What a sound rail gives under an engine, by its depth (computed for common rails)."""


def crown_lines(verdict: Verdict, survey: Survey, library: Library) -> list[Line]:
    """What a crown without the engine's weight waits for; nothing where it stands high under the
    weight too.
    """
    ids = _high(verdict)
    if not ids or any(quantity_of(i) == "sag-loaded" for i in ids):
        return []
    case = case_of(survey, library)
    mass = case.layout.figures.get("engine_mass_kg", 0.0)
    known = f" (about {_mass(mass, survey)}, a round figure)" if mass else ""
    foretold = expected(case)
    down = f"about {about(foretold.value, 'mm', survey.unit)}" if foretold else _span(survey)
    text = (
        f"The rails stand high and wait for the engine's weight{known}. Under it a sound rail goes"
        f" down by {down}."
        " That may be just what was meant: let them stand, and read the string again with the"
        " engine in."
    )
    return [Line(text, (*ids, "sign:crown"))]


def _high(verdict: Verdict) -> tuple[str, ...]:
    """What says that the rails stand high."""
    signs = (e for c in verdict.causes.conclusions.values() for e in c.signs)
    high = (e for e in signs if e.sign.finding == "crown")
    return tuple(dict.fromkeys(i for e in high for i in e.sources))


def _mass(kg: float, survey: Survey) -> str:
    return f"{round(kg / 0.45359237, -1):.0f} lb" if survey.unit == "in" else f"{kg:.0f} kg"


def _span(survey: Survey) -> str:
    return f"{about(LEAST_MM, 'mm', survey.unit)} to {about(MOST_MM, 'mm', survey.unit)}"
