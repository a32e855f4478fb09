"""What the rest of a survey foretells of a reading; the math is loaded when the first reading is
typed.
"""

from __future__ import annotations

from wizard.library.shapes import Library
from wizard.readings.refused import Refused
from wizard.survey.answer import Foretell, as_row
from wizard.survey.prompts import Prompt
from wizard.survey.record import Survey

TAPE = "tape"


def foretell_with(library: Library) -> Foretell:
    """Gives the sentence of doubt for a typed reading, empty when it is as the rest foretells.

    The other readings speak first; where none of them has anything to say, the model of a straight
    frame does.
    """

    def foretell(survey: Survey, prompt: Prompt, typed: str) -> str:
        from wizard.checks.foretell import foretelling
        from wizard.sitting.foretold_model import doubt_of

        return foretelling(library)(survey, prompt, typed) or doubt_of(
            survey, library, prompt, typed
        )

    return foretell


FAR = 10.0
"""mm off last time's mean from which a tape is doubted: many times what two hands differ by, and more
than a frame moves that nothing happened to (this project's own figure).
"""
NOT_AS_THEN = "That is far from what was read here last time. Look at the tape once more."
"""Without a figure or a way: the hand would find what it is told."""


def against_last_time(
    survey: Survey, earlier: Survey | None, library: Library, prompt: Prompt, typed: str
) -> str:
    """The sentence of doubt for the first reading of a tape that is nowhere near last time's; else
    empty. A second one is held against the first.
    """
    if earlier is None or not (prompt.start and prompt.tool == TAPE):
        return ""
    then = earlier.readings_of(prompt.id)
    if not then or survey.readings_of(prompt.id):
        return ""
    from wizard.checks.case import case_of

    old, row = case_of(earlier, library), as_row(survey, prompt, typed)
    try:
        found = case_of(survey, library).value(row)
        mean = sum(map(old.value, then)) / len(then)
    except (Refused, KeyError):
        return ""
    return NOT_AS_THEN if abs(found - mean) > FAR else ""
