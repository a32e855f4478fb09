"""What a sitting knows beside the survey: whether the mentor looks on, and who reads just now.

Never saved.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from wizard.library.places import NO_STEP, PromptId, StepId
from wizard.survey.guide import Ask
from wizard.survey.record import Survey
from wizard.survey.rows import HIDDEN, SECOND, Reading

MENTOR_ON = "The mentor's view: results wait for a guess. F11, or /mentor off, ends it."


@dataclass(slots=True)
class Aside:
    """The one of a sitting."""

    mentor: bool = False
    """Whether the mentor's view is on."""
    shown: set[StepId] = field(default_factory=set)
    """Steps whose result was asked for without a guess."""
    held: StepId = NO_STEP
    """Step just finished whose result waits for a guess; empty for none."""
    second: tuple[PromptId, ...] = ()
    """Prompts that the second reader has still to read, the one in front first; empty while the
    first reads.
    """
    back: Ask | None = None
    """Where the first reader stood, None at the end."""
    blinded: tuple[Survey, tuple[PromptId, ...], Survey] | None = None
    """A survey, what was hidden of it, and what is left to be seen: looked at many times a line."""

    @property
    def reader(self) -> str:
        """Who reads just now; empty for the one who is named in the survey."""
        return SECOND if self.second else ""


def blind(survey: Survey, aside: Aside) -> Survey:
    """The survey as the second reader may see it: without what the first read at the prompts still
    to be read.
    """
    if not aside.second:
        return survey
    kept = aside.blinded
    if kept is None or kept[0] is not survey or kept[1] != aside.second:
        kept = aside.blinded = survey, aside.second, _without(survey, aside.second)
    return kept[2]


def _without(survey: Survey, prompts: tuple[PromptId, ...]) -> Survey:
    rows = survey.rows.get("reading", ())
    hidden = tuple(
        replace(r, struck=HIDDEN)
        if isinstance(r, Reading) and r.prompt in prompts and not r.struck
        else r
        for r in rows
    )
    return replace(survey, rows={**survey.rows, "reading": hidden})
