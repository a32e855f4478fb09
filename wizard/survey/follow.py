"""A survey that follows an earlier one: what is carried over, and what must be asked afresh.

What belongs to the frame and to the tools is carried over with the time it was set down; what was
read or seen is not, so that the old reading stays out of sight until the new one is in. The state
is asked after again.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from datetime import datetime

from wizard.library import marks
from wizard.library.places import NO_PLACE, PartId, PromptId, prompt_id, step_of
from wizard.library.shapes import CALLED, Library, PromptTemplate
from wizard.survey.guide import CARRIED, LENGTH_PROMPT, STEPS_PROMPT, called_topics
from wizard.survey.record import Survey
from wizard.survey.rows import SAME_AS as SAME_AS
from wizard.survey.rows import (
    Answer,
    CarNote,
    OwnFrame,
    OwnLimit,
    OwnPlace,
    PointNote,
    Reading,
    Remark,
    Row,
    Sister,
    SisterFigure,
    Size,
    Tool,
)
from wizard.survey.sizes import with_unit

ANEW = ("survey.unit", marks.HOW_MUCH, marks.MEASURED_BY)
"""What is kept or asked afresh, also where all else holds for ever."""
THEN = CARRIED
"""Key of a row carried over: the survey in which it was set down."""


def following(old: Survey, library: Library, at: datetime, steps: Iterable[PartId] = ()) -> Survey:
    """A new survey of the same car that follows `old`; its id is still empty.

    at: when it is begun. steps: ids of the steps worth taking again, or of parts of them such as
    `level/rear`, in any order; none takes the whole re-check.
    """
    at = at.replace(microsecond=0)
    new = Survey(car=old.car, started=at, layout=old.layout, unit=old.unit, follows=old.id)
    answers = [
        *_lost(old, library, at),
        *_called(old, library, at),
        Answer(id="", at=at, prompt=LENGTH_PROMPT, answer="recheck"),
        Answer(id="", at=at, prompt=STEPS_PROMPT, answer=" ".join(map(str, steps))),
    ]
    for row in (*(_then(a, old) for a in answers if a.answer), *_carried(old, library)):
        new = new.with_row(replace(row, id=new.new_id(type(row))))
    return new


def _for_ever(library: Library) -> Mapping[PromptId, PromptTemplate]:
    """Prompts, by id, of the pages whose answers hold for ever: the car is the same one, and what
    it had been through stays so.
    """
    asked = ((step, p) for step in library.marked(marks.FOR_EVER) for p in step.prompts)
    return {prompt_id(step.id, NO_PLACE, p.last): p for step, p in asked}


def _lost(old: Survey, library: Library, at: datetime) -> Iterator[Answer]:
    """A file may have lost the answers, or be older than the question; what they set is known all
    the same.
    """
    known = {"survey.car": old.car, "survey.layout": old.layout}
    for id, prompt in _for_ever(library).items():
        if prompt.keep in known and not old.answer_to(id):
            yield Answer(id="", at=at, prompt=id, answer=known[prompt.keep], keeps=prompt.keep)


def _called(old: Survey, library: Library, at: datetime) -> Iterator[Answer]:
    """What was called for then, by whom or what ever, belongs to what is measured again."""
    for also in called_topics(old, library):
        yield Answer(id="", at=at, prompt=also.call.prompt, answer=CALLED)


def _said_for_ever(old: Survey, library: Library) -> Iterator[Answer]:
    """The answers of those pages, but for what is asked afresh there."""
    pages = [step.id for step in library.marked(marks.FOR_EVER)]
    anew = [id for id, p in _for_ever(library).items() if p.keep in ANEW or p.asks in ANEW]
    for answer in old.standing(Answer):
        if step_of(answer.prompt) in pages and answer.prompt not in anew:
            yield answer


def _read_for_ever(old: Survey, library: Library) -> Iterator[Reading]:
    """What was read on those pages, each with its unit: of the frame as it was made, by any
    tool.
    """
    pages = [step.id for step in library.marked(marks.FOR_EVER)]
    for row in old.standing(Reading):
        if step_of(row.prompt) in pages:
            yield replace(row, typed=with_unit("", row.typed, old.unit), tool="", state="")


def _carried(old: Survey, library: Library) -> Iterator[Row]:
    yield from (_then(a, old) for a in _said_for_ever(old, library))
    yield from (replace(t, extra={**t.extra, SAME_AS: t.id}) for t in tools_then(old))
    yield from (_then(r, old) for r in _read_for_ever(old, library))
    for kind in (PointNote, CarNote, OwnFrame, OwnPlace, Sister, SisterFigure):
        yield from (_then(row, old) for row in old.standing(kind))
    yield from (_then(m, old) for m in old.standing(Remark) if m.photo)
    yield from (_then(_as_meant(z, old), old) for z in old.standing(Size))
    yield from (_then(o, old) for o in old.standing(OwnLimit))


def _as_meant(size: Size, old: Survey) -> Size:
    """A bare number with the unit of its own survey: the new one may be made in the other."""
    return replace(size, typed=with_unit(size.name, size.typed, old.unit))


def _then(row: Row, old: Survey) -> Row:
    """The row as it was, with the survey that first set it down."""
    return replace(row, extra={THEN: old.id, **row.extra})


def recalled_prompts(survey: Survey) -> frozenset[PromptId]:
    """Prompts whose standing answer was carried over and not given today."""
    return frozenset(a.prompt for a in survey.standing(Answer) if THEN in a.extra)


def is_begun(survey: Survey) -> bool:
    """Whether anything was set down beyond what was carried over."""
    return any(THEN not in r.extra and SAME_AS not in r.extra for r in survey.all_rows())


def tools_then(old: Survey) -> tuple[Tool, ...]:
    """The tool of each kind that was in hand last, in the order they were chosen."""
    kinds = dict.fromkeys(t.kind for t in old.standing(Tool))
    return tuple(t for kind in kinds if (t := old.tool(kind)) is not None)
