"""How far a car was driven from one survey to the next, as its owner said."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from wizard.readings.figures import read_quantity
from wizard.readings.refused import Refused
from wizard.survey.record import Survey
from wizard.survey.rows import Trip


def driven(survey: Survey) -> float | None:
    """km since the survey before; None where nobody said or it cannot be read."""
    typed = [t.distance for t in survey.standing(Trip) if t.distance and "then" not in t.extra]
    try:
        return sum(read_quantity(t, "distance") for t in typed) if typed else None
    except Refused:
        return None


def distances(surveys: Sequence[Survey]) -> list[float] | None:
    """km driven from the first survey to each; None unless it was driven at all and every later one
    says how far.

    What one says counts from the survey that it follows: with one left out the distance to the next
    is not known.
    """
    found = [0.0]
    for before, survey in pairwise(surveys):
        more = driven(survey) if survey.follows == before.id else None
        if more is None:
            return None
        found.append(found[-1] + more)
    return found if found[-1] > 0 else None


def incidents(survey: Survey) -> str:
    """What happened in between, in the owner's words; empty for nothing."""
    return "; ".join(t.incidents for t in survey.standing(Trip) if t.incidents)
