"""Doubts at the prompt: a new reading against its repeats, the plan of the rest, and its twin on
the other side.

Readings a good program doubts at once are common practice, no published source.
"""

from __future__ import annotations

from dataclasses import replace

from wizard.checks.case import Case, Taken, case_of
from wizard.checks.foretell_level import against_level
from wizard.checks.foretell_plan import against_plan, foretelling_plan
from wizard.checks.foretell_string import against_string
from wizard.checks.foretell_sums import against_sum
from wizard.library.places import mirrored
from wizard.library.shapes import Library
from wizard.readings.refused import Refused
from wizard.readings.written import write_fraction_about
from wizard.survey.answer import Foretell
from wizard.survey.prompts import Prompt
from wizard.survey.record import Survey
from wizard.survey.rows import Reading

SPREAD_MM = 3.0
"""Repeats of one distance further apart than this are done again (common practice, no published
source).
"""
NEAR_MM = 2.0
"""How near a difference must come to a recognized slip."""
SLIPS = {
    "in": (
        (25.4, "1 in", "did the tape start at its 1 in mark?"),
        (12.7, "1/2 in", "was the half inch read right?"),
        (254.0, "10 in", "was the start taken off this time too?"),
        (304.8, "1 ft", "was the foot read right?"),
    ),
    "mm": (
        (100.0, "100 mm", "was the start taken off this time too?"),
        (10.0, "10 mm", "was the centimeter read right?"),
    ),
}
"""By the survey's unit: an inch scale cannot be misread by 10 mm, and real damage is often about
that.
"""


def foretelling(library: Library) -> Foretell:
    """A function that compares a typed reading with what the rest foretells; empty text where it
    fits.
    """

    def foretell(survey: Survey, prompt: Prompt, typed: str) -> str:
        if not prompt.kind.measures:
            return ""
        tool = survey.tool(prompt.tool)
        row = Reading(id="new", prompt=prompt.id, typed=typed, tool=tool.id if tool else "")
        return _doubt(case_of(survey, library), prompt, row)

    return foretell


def _doubt(case: Case, prompt: Prompt, row: Reading) -> str:
    try:
        value = case.value(row)
    except Refused:
        return ""
    if prompt.kind.tilts:
        return against_level(case, prompt, value)
    if value <= 0 and prompt.tool == "tape":
        return (
            "That leaves no length: the tape starts at its mark here, so type all that the tape"
            " says."
        )
    before = case.taken(prompt.id)
    if before:
        return _against_before(before, prompt, value, case.survey)
    if prompt.kind.offsets:
        return ""
    if prompt.tool == "ruler":
        return against_string(case, prompt, value)
    return _against_rest(case, prompt, row, value)


def _against_before(before: Taken, prompt: Prompt, value: float, survey: Survey) -> str:
    """A repeat against what stands there; with all repeats taken it can only replace one."""
    off = value - before.number.value
    if abs(off) <= SPREAD_MM:
        return ""
    if len(before.rows) < prompt.repeats:
        return _slip(off, "the reading before", survey)
    size = write_fraction_about(abs(off), survey.unit)
    return (
        f"That is {size} off what stands here already. To put it in that one's place, type"
        " /strike first."
    )


def _against_rest(case: Case, prompt: Prompt, row: Reading, value: float) -> str:
    """A length against the plan of all tapes; where there is none, against rail and twin."""
    if prompt.start and prompt.end and (told := _against_plan(case, prompt, row)) is not None:
        return told
    return against_sum(case, prompt, value) or _against_twin(case, prompt, value)


def _against_twin(case: Case, prompt: Prompt, value: float) -> str:
    """A tape against the same one on the other side, where it is off by a known slip or by much."""
    twin = case.taken(mirrored(prompt.id))
    if twin is None or prompt.tool != "tape" or mirrored(prompt.id) == prompt.id:
        return ""
    off = value - twin.number.value
    return _slip(off, "its twin on the other side", case.survey, only_known=abs(off) < 60.0)


def _against_plan(case: Case, prompt: Prompt, row: Reading) -> str | None:
    """A doubt from the plan of all other tapes; empty where it fits, None where there is no plan to
    say so.
    """
    new = case.followed_by(case.survey.with_row(row)).taken(prompt.id)
    plan = foretelling_plan(case, prompt)
    if new is None or plan is None:
        return None
    found = against_plan(case, plan, prompt, new)
    if found is None:
        return ""
    size, way = (
        write_fraction_about(abs(found.error_mm), case.survey.unit),
        "long" if found.error_mm > 0 else "short",
    )
    if found.slip:
        question = QUESTIONS.get(found.slip, "was the figure read right?")
        return f"By all the other tapes that is {size} too {way}, as after a slip: {question}"
    return f"By all the other tapes that is {size} too {way}; measure once more."


QUESTIONS = {
    "digits-swapped": "were two digits changed over?",
    "sides-swapped": "were left and right changed over?",
    **{name: question for rows in SLIPS.values() for _, name, question in rows},
}


def _slip(off: float, what: str, survey: Survey, only_known: bool = False) -> str:
    size = write_fraction_about(abs(off), survey.unit)
    slip, _, question = min(SLIPS[survey.unit], key=lambda s: abs(abs(off) - s[0]))
    if abs(abs(off) - slip) <= NEAR_MM:
        return f"That is {size} off {what}: {question}"
    return (
        ""
        if only_known
        else f"That is {size} off {what}; measure once more, and go back if that one was wrong."
    )


def without(survey: Survey, row_id: str) -> Survey:
    """The survey as if one reading had not been taken, to ask what the rest foretells of it."""
    rows = {k: tuple(r for r in v if r.id != row_id) for k, v in survey.rows.items()}
    return replace(survey, rows=rows)
