"""Places where frames crack: until they were seen, true numbers alone call no frame sound.

Source: common practice, no published source. A crack under paint is no crack seen, and a tape does
not see it at all.
"""

from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import NamedTuple

from wizard.judgment.seen import Seen
from wizard.library import marks
from wizard.library.places import PromptId, StepId
from wizard.library.shapes import Library, Step
from wizard.library.templates import fits
from wizard.survey.guide import guide_of, layout_of, pages
from wizard.survey.record import Survey


class Unseen(NamedTuple):
    """One page of such places."""

    step: StepId
    title: str
    sides: tuple[str, ...]
    """Of the places left open: left, right."""
    bare: bool
    """Whether it must be seen bare."""


def unseen(
    survey: Survey, seen: tuple[Seen, ...], library: Library, today: datetime
) -> tuple[Unseen, ...]:
    """What was not seen as it must be; of a re-check only what its own list asks."""
    layout, guide = layout_of(survey, library), guide_of(survey, library)
    rows = _by_prompt(seen)
    asked = asked_again(survey, library, today)
    found = []
    steps = _places(library, guide.questions.steps, again=asked is not None)
    for step in (s for s in steps if s.id not in guide.uncalled):
        bare = marks.BARE in step.marks
        prompts = guide.questions.of(step) if fits(step, layout) else ()
        looks = (p for p in prompts if p.kind.looks and (asked is None or p.id in asked))
        sides = tuple(str(p.item) for p in looks if not _was_seen(rows.get(p.id, ()), bare))
        if sides:
            found.append(Unseen(step.id, step.title, sides, bare))
    return tuple(found)


def _by_prompt(seen: tuple[Seen, ...]) -> dict[PromptId, list[Seen]]:
    rows: dict[PromptId, list[Seen]] = {}
    for one in seen:
        rows.setdefault(one.prompt.id, []).append(one)
    return rows


def asked_again(survey: Survey, library: Library, today: datetime) -> set[PromptId] | None:
    """The prompts that a re-check asks; None for a survey that follows none."""
    if not survey.follows:
        return None
    return {p.id for page in pages(survey, library, today) for p in page.prompts}


def _places(library: Library, steps: Mapping[StepId, Step], *, again: bool) -> list[Step]:
    """The pages that must be seen bare, then those where frames crack, from the last of the walk
    to the first: what comes last is what was most likely not reached.

    again: what a short list asks was found the last time, and stays open until somebody has looked.
    """
    walk = [steps[id] for id in reversed(library.courses["whole"])]
    wanted = [s for mark in (marks.BARE, marks.CRACK_PLACE) for s in walk if mark in s.marks]
    looks = (s for s in steps.values() if s.part == "look" and marks.AGAIN not in s.marks)
    return list({s.id: s for s in (*wanted, *(looks if again else ()))}.values())


def _was_seen(rows: Sequence[Seen], bare: bool) -> bool:
    if any(s.cleared for s in rows):
        return True
    return any(s.look.seen == "bare" or not bare for s in rows if s.counts)
