"""What an answer means to the question that its prompt asks."""

from __future__ import annotations

from wizard.library.places import NO_STEP, StepId
from wizard.library.shapes import Library
from wizard.survey.record import Survey


def meant(
    survey: Survey, library: Library, question: str, step: StepId = NO_STEP, side: str = ""
) -> str:
    """The meaning of the answer to a question of wizard/library/marks.py.

    Empty where nobody was asked or answered, and where the answer says nothing to the rule.
    """
    asked = library.asking(question, step, side)
    return asked.means(survey.answer_to(asked.prompt)) if asked else ""
