"""What the rest of a survey foretells of a reading; the math is loaded when the first reading is
typed.
"""

from __future__ import annotations

from wizard.library.shapes import Library
from wizard.survey.answer import Foretell
from wizard.survey.prompts import Prompt
from wizard.survey.record import Survey


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
