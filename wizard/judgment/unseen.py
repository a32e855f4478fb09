"""Places where frames crack: until they were seen, true numbers alone call no frame sound.

Source: common practice, no published source. A crack under paint is no crack seen, and a tape does
not see it at all.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from wizard.judgment.seen import BARE, Seen
from wizard.library.shapes import Library
from wizard.library.templates import misfit
from wizard.survey.guide import layout_of, pages
from wizard.survey.prompts import Prompt, expand
from wizard.survey.record import Survey

EVERY = ("paint-cracks",)
"""Looks that every short list has, whatever was found."""
REACHED = ("engine-mounts", "rear-crossmember", "rail-sides")
"""Steps whose places must at least have been looked at, by somebody who was sure."""


@dataclass(frozen=True, slots=True)
class Unseen:
    """One page of such places."""

    step: str
    title: str
    sides: tuple[str, ...]
    """Of the places left open: left, right."""
    bare: bool
    """Whether it must be seen bare."""


def unseen(
    survey: Survey, seen: tuple[Seen, ...], library: Library, today: datetime
) -> tuple[Unseen, ...]:
    """What was not seen as it must be; of a re-check only what its own list asks."""
    layout = layout_of(survey, library)
    asked = (
        {p.id for page in pages(survey, library, today) for p in page.prompts}
        if survey.follows
        else None
    )
    found = []
    # What a short list asks again was found the last time: it stays open until somebody has looked.
    looks = (s.id for s in library.steps.values() if s.part == "look" and s.id not in EVERY)
    listed = tuple(looks) if asked is not None else ()
    for id in dict.fromkeys((*BARE, *REACHED, *listed)):
        step = library.steps.get(id)
        if (
            step is None
            or misfit(step.needs, layout)
            or (step.layouts and layout.id not in step.layouts)
        ):
            continue
        prompts = [
            p for p in expand(step, layout) if p.kind == "look" and (asked is None or p.id in asked)
        ]
        sides = tuple(p.item for p in prompts if not _was_seen(p, seen, id in BARE))
        if sides:
            found.append(Unseen(id, step.title, sides, id in BARE))
    return tuple(found)


def _was_seen(prompt: Prompt, seen: tuple[Seen, ...], bare: bool) -> bool:
    rows = (s for s in seen if s.prompt.id == prompt.id and s.counts)
    return any(s.look.seen == "bare" or not bare for s in rows)
