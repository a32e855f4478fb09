"""Sentences that only the full screen says."""

from __future__ import annotations

from wizard.library.shapes import Step
from wizard.readings.plain import clean_line
from wizard.sitting.shelf import last_worked
from wizard.sitting.sitting import Sitting
from wizard.survey.prompts import Prompt
from wizard.survey.record import number_of
from wizard.survey.rows import Reading

ABOUT = (
    "Crosstape walks you round an old car's frame with tape, string, level and bar, and says in plain words what "
    "the readings mean and how sure they are."
)
TOO_SMALL = (
    "This window is too small for the full screen, which wants 60 by 20. Make it larger, or leave with F10 and type "
    "crosstape ask {file} for the same survey line by line."
)
ENDED = "Every question is answered."


def resumed_words(sitting: Sitting) -> str:
    """Where a survey was left, when, and how much of it is in."""
    survey = sitting.survey
    rows = [r for r in survey.all_rows() if getattr(r, "prompt", "") and not r.struck]
    last = max(rows, key=lambda r: number_of(r.id), default=None)
    step = sitting.library.steps.get(str(getattr(last, "prompt", "")).split("/", 1)[0])
    where = f" at “{step.title}”" if step else ""
    count = len(survey.standing(Reading))
    readings = "1 reading is in" if count == 1 else f"{count} readings are in"
    return f"You stopped{where} on {last_worked(survey):%Y-%m-%d}; {readings}."


def taken_words(text: str, prompt: Prompt | None) -> str:
    """What was taken, said back beside what was asked."""
    said = clean_line(text, 60)
    if prompt is None or prompt.kind == "ack":
        return ""
    if not said:
        return f"Kept: {prompt.ask}"
    choice = next((c.words for c in prompt.choices if said.lower() in (c.letter, c.token)), "")
    if choice and prompt.kind == "choice":
        return f"{prompt.ask} {choice.rstrip('.')}."
    return f"{prompt.ask}: {said}"


def why_and_how(why: str, step: Step) -> str:
    """The text of F1: why the step matters, with all its moves, which the page may have had no room for."""
    first, _, rest = why.partition("\n\n")
    moves = "\n".join(f"{n}. {text}" for n, text in enumerate(step.how, start=1))
    return "\n\n".join(part for part in (first, moves, f"Good is: {step.good}", rest) if part)


def too_small(file: str) -> str:
    """The one sentence of a window below 60 by 20."""
    return TOO_SMALL.format(file=file or "FILE")
