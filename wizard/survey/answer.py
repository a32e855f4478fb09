"""What an answer does: one pure function from a survey and a typed text to the next survey, a
refusal or a doubt.
"""

from collections.abc import Callable, Collection, Sequence
from dataclasses import replace
from datetime import datetime
from functools import partial
from typing import NamedTuple

from wizard.library.kinds import (
    AckKind,
    ChoiceKind,
    LookKind,
    Measured,
    NoteKind,
    PlaceKind,
    Seen,
    not_reached,
)
from wizard.library.places import PromptId, tool_kind
from wizard.library.set_up import KEYS, NONE, contradiction, taken
from wizard.library.shapes import SEEN, Choice
from wizard.readings.plain import clean_line
from wizard.readings.refused import Refused
from wizard.readings.warmth import read_sun, read_warmth
from wizard.survey.own_frame import said_of
from wizard.survey.prompts import (
    Part,
    Prompt,
    covered_by,
    found_at,
    known_met,
    offered,
    told_of,
    wanting,
)
from wizard.survey.record import Survey, Unit
from wizard.survey.rows import (
    AFTER_ALL,
    NOTHING_TO_SAY,
    Ack,
    Answer,
    Doubt,
    Look,
    OwnFrame,
    Reading,
    Skip,
)
from wizard.survey.standing import is_push, standing_of
from wizard.survey.state import TAPE_START, said_last, settle, with_tool, with_tool_start

FIXED: dict[str, Callable[[Survey], str]] = {
    "survey.unit": lambda s: s.unit,
    "survey.layout": lambda s: s.layout,
    **{key: partial(said_last, keeps=key) for key in KEYS},
}
"""What may not change once a reading is down: every typed number would mean something else, or would
be of another place.
"""
STAYS = "You have written readings down already, so this must stay"
Foretell = Callable[[Survey, Prompt, str], str]
"""(survey, prompt, typed text) -> a sentence of doubt, or empty when the reading is as the rest
foretells.
"""


class Refusal(NamedTuple):
    """The text cannot be taken."""

    says: str
    """What is wrong and an example of what would do, in one sentence."""


class Disagreement(str):
    """A sentence of doubt that knows which other readings it is about."""

    others: tuple[PromptId, ...] = ()
    then_others: bool = False

    @classmethod
    def with_others(
        cls, says: str, others: Sequence[PromptId], *, then_others: bool = False
    ) -> "Disagreement":
        """The sentence, and the prompts whose readings may be wrong in place of the new one.

        then_others: whether they surely are once the new one is kept, and are asked again.
        """
        made = cls(says)
        made.others, made.then_others = tuple(others), then_others
        return made


class Doubted(NamedTuple):
    """The text can be read but is not what the rest foretells."""

    says: str
    kept: Survey
    """The next survey, should the person keep the reading: it carries the doubt on record."""
    then: str = ""
    """What is said once it is kept, where it is no answer to the question in front, which stays;
    empty for one.
    """
    third: bool = False
    """Whether it contradicts a reading before it, and what is typed next is a third beside them."""
    others: tuple[PromptId, ...] = ()
    """Prompts whose readings may be wrong in its place."""
    then_others: bool = False
    """Whether those are asked again once this one is kept; what is read then counts in their place."""


class Context(NamedTuple):
    """Who answers, when, with what."""

    at: datetime
    by: str
    tool: str = ""
    """Id of the tool's row; empty takes the tool of the prompt's kind chosen last."""


def answer(
    survey: Survey,
    prompt: Prompt,
    text: str,
    *,
    at: datetime,
    by: str,
    tool: str = "",
    foretell: Foretell | None = None,
) -> Survey | Refusal | Doubted:
    """The next survey, a Refusal or a Doubted.

    text: one answer, as typed; `!` behind a reading keeps it in advance of any doubt. at, by, tool:
    who answers, when, with which tool (a [[tool]] row's id; empty takes the one chosen last).
    foretell: compares the reading with what the rest foretells; given by the caller because it
    knows the math.
    """
    line = clean_line(text, 20_000)
    if not line:
        return Refusal("You typed nothing: " + example(offered(survey, prompt), survey.unit) + ".")
    context = Context(at.replace(microsecond=0), by, tool)
    survey = _unskipped(survey, prompt)
    if prompt.optional and line == "-" and prompt.kind.passes:
        row = Skip(
            id=survey.new_id(Skip), at=context.at, by=by, prompt=prompt.id, why=NOTHING_TO_SAY
        )
        return survey.with_row(row)
    try:
        return _taken(survey, prompt, line, context, foretell)
    except Refused as refused:
        return Refusal(str(refused))


def _taken(
    survey: Survey, prompt: Prompt, line: str, context: Context, foretell: Foretell | None
) -> Survey | Doubted:
    """The survey with the rows that an answer becomes. Raises Refused."""
    match prompt.kind:
        case Measured() as read:
            return _reading(survey, prompt, read, line, context, foretell)
        case LookKind() as look:
            return _look(survey, prompt, look.read(prompt, line), context)
        case PlaceKind() as place:
            return _place(survey, prompt, _seen_at(prompt, place, line), context)
        case ChoiceKind() as choice:
            return _choice(survey, prompt, choice.read(prompt, line), line, context)
        case NoteKind() as note:
            return _note(survey, prompt, note.read(prompt, line), context)
        case AckKind() as ack:
            ack.read(prompt, line)
            return _ack(survey, prompt, context)
    raise TypeError(f"no row is made of a {prompt.kind.id}")


def _seen_at(prompt: Prompt, place: PlaceKind, line: str) -> Seen:
    """What an entry for a place says."""
    letters = {p.letter: p.name for p in prompt.parts}
    choices = {p.letter: p.look.choices for p in prompt.parts}
    sides = {str(p.look.item) for p in prompt.parts}
    side = next(iter(sides)) if len(sides) == 1 else ""
    return place.seen(letters, line, choices, side)


def _unskipped(survey: Survey, prompt: Prompt) -> Survey:
    """A prompt that is answered after all is no longer skipped."""
    for skip in survey.standing(Skip):
        if skip.prompt == prompt.id:
            survey = survey.with_struck(skip.id, AFTER_ALL)
    return survey


def example(prompt: Prompt, unit: Unit) -> str:
    """What would do here, as half a sentence."""
    return prompt.kind.example(prompt, unit)


def _reading(
    survey: Survey,
    prompt: Prompt,
    kind: Measured,
    line: str,
    context: Context,
    foretell: Foretell | None,
) -> Survey | Doubted:
    typed = line.rstrip("!").rstrip()
    in_advance = line.endswith("!")
    if not_reached(typed):
        raise Refused("Cannot reach it? Type /skip and why")
    kind.check(prompt, typed, survey.unit)
    chosen = survey.tool(prompt.tool) if prompt.tool else None
    row = Reading(
        id=survey.new_id(Reading),
        at=context.at,
        by=context.by,
        prompt=prompt.id,
        typed=typed,
        tool=context.tool or (chosen.id if chosen else ""),
        state=survey.state().id,
    )
    after = survey.with_row(row)
    doubt = foretell(survey, prompt, typed) if foretell else ""
    if not doubt:
        return after
    note = Doubt(id=after.new_id(Doubt), at=context.at, by=context.by, reading=row.id, text=doubt)
    if in_advance:
        return after.with_row(replace(note, kept="in-advance"))
    kept = after.with_row(replace(note, kept="asked"))
    if not isinstance(doubt, Disagreement):
        return Doubted(doubt, kept)
    return Doubted(doubt, kept, others=doubt.others, then_others=doubt.then_others)


def as_row(survey: Survey, prompt: Prompt, typed: str) -> Reading:
    """What was typed as the reading that it would become."""
    tool = survey.tool(prompt.tool)
    return Reading(id="new", prompt=prompt.id, typed=typed, tool=tool.id if tool else "")


def _choice(
    survey: Survey, prompt: Prompt, picked: Choice | None, line: str, context: Context
) -> Survey:
    if picked is None:
        raise Refused(
            f"“{clean_line(line, 20)}” is not an answer here:"
            f" {example(offered(survey, prompt), survey.unit)}"
        )
    if not all(known_met(survey, n) for n in picked.needs):
        raise Refused(picked.instead.rstrip("."))
    if (
        prompt.keep in FIXED
        and survey.table(Reading)
        and picked.token != FIXED[prompt.keep](survey)
    ):
        raise Refused(f"{STAYS}: type another unit after each number, like 12 mm")
    survey = _answer(survey, prompt, picked.token, context)
    return _with_frame(survey, picked, context) if picked.brings else survey


def _with_frame(survey: Survey, picked: Choice, context: Context) -> Survey:
    """The survey with the layout that an answer brings: it needs no other file from here on."""
    row = OwnFrame(
        id=survey.new_id(OwnFrame),
        at=context.at,
        by=context.by,
        layout=picked.token,
        text=picked.brings,
    )
    return survey.with_row(row)


WARMTH = "state.temperature"
"""Keeps how warm the garage is."""
COLDEST, WARMEST = -15.0, 45.0
"""°C between which somebody measures a car in a garage (this project's own figures)."""


def _note(survey: Survey, prompt: Prompt, said: str, context: Context) -> Survey | Doubted:
    """A few words; a number for how warm it is gets its unit, and is doubted where no garage is so.

    Raises Refused where the sun is named, and no side on which it stands.
    """
    if prompt.keep in KEYS:
        return _answer(survey, prompt, _of_frame(survey, prompt.keep, said), context)
    if prompt.keep != WARMTH:
        return _answer(survey, prompt, said, context)
    read_sun(said)
    typed, celsius = read_warmth(said, survey.unit)
    after = _answer(survey, prompt, typed, context)
    if celsius is None or COLDEST <= celsius <= WARMEST:
        return after
    much = "hot" if celsius > WARMEST else "cold"
    return Doubted(f"{clean_line(typed, 20)} is very {much} for a garage. Is it F or C?", after)


def _of_frame(survey: Survey, key: str, said: str) -> str:
    """What an owner says of his own frame, as it is kept. Raises Refused where it can be no frame's,
    alone or beside the rest.
    """
    kept = said if said == NONE else taken(key, said, survey.unit)
    there = said_of(survey)
    if survey.table(Reading) and kept != there.get(key, ""):
        raise Refused(STAYS)
    if kept != NONE and (why := contradiction({**there, key: kept}, key, survey.unit)):
        raise Refused(why)
    return kept


def _answer(survey: Survey, prompt: Prompt, token: str, context: Context) -> Survey:
    row = Answer(
        id=survey.new_id(Answer),
        at=context.at,
        by=context.by,
        prompt=prompt.id,
        answer=token,
        keeps=prompt.keep,
        standing=standing_of(survey.state()) if is_push(prompt) else "",
    )
    after = survey.with_row(row)
    if prompt.keep == TAPE_START:
        return with_tool_start(after, token, context.at, context.by)
    if tool_kind(prompt.keep):
        tool = next((t for t in prompt.tools if t.id == token), None)
        return with_tool(after, tool, context.at, context.by) if tool else after
    return settle(after, prompt.keep, context.at, context.by)


def _look(
    survey: Survey, prompt: Prompt, read: tuple[str, tuple[Choice, ...]], context: Context
) -> Survey:
    """One row for each thing seen, so that a rail may be pitted and kinked at once."""
    seen, picked = read
    survey = _looked_again(survey, prompt)
    for token in [c.token for c in picked] or [""]:
        survey = survey.with_row(_look_row(survey, prompt, seen, token, context))
    return survey


NOTHING_TOLD = "-"
"""The row of an entry for a place at which there is nothing to tell."""


def _place(survey: Survey, prompt: Prompt, seen: Seen, context: Context) -> Survey:
    """One row for each look of which there is nothing to tell, as if it were answered by itself.

    Before them a row says at which looks there is: those are asked by themselves, also another day.
    """
    otherwise = _lettered(prompt, seen.but)
    _nothing_wiped_out(survey, otherwise)
    tell = [p.look for p in _lettered(prompt, seen.tell)]
    covered = [p.letter for p in covered_by(survey, prompt) if p.letter not in seen.tell]
    asked = [*tell, *_still_to_tell(survey, prompt, {*seen.but, *seen.tell})]
    survey = survey.with_row(
        Answer(
            id=survey.new_id(Answer),
            at=context.at,
            by=context.by,
            prompt=prompt.id,
            answer=" ".join(str(p.id) for p in asked) or NOTHING_TOLD,
        )
    )
    for look in tell:
        survey = _looked_again(_unskipped(survey, look), look)
    for part in _lettered(prompt, {*covered, *seen.but}):
        read = _nothing(part.look, seen.but.get(part.letter, seen.how))
        survey = _look(_unskipped(survey, part.look), part.look, read, context)
    return survey


def _lettered(place: Prompt, letters: Collection[str]) -> list[Part]:
    """The looks of these letters, in the order of the list."""
    return [p for p in place.parts if p.letter in letters]


def _nothing_wiped_out(survey: Survey, parts: Sequence[Part]) -> None:
    """What was found at a look is not written over by an entry for its place. Raises Refused."""
    found = next((p for p in parts if found_at(survey, p.look)), None)
    if found is not None:
        raise Refused(
            f"Something is written down of {found.name}; type {found.letter} before the ; to tell"
            " it again"
        )


def _still_to_tell(survey: Survey, place: Prompt, said: Collection[str]) -> list[Prompt]:
    """Looks that an entry before has named and that are not told yet. said: letters of this one."""
    told = told_of(survey, place)
    named = [p.look for p in place.parts if str(p.look.id) in told and p.letter not in said]
    return [look for look in named if wanting(survey, look)]


def _nothing(look: Prompt, how: str) -> tuple[str, tuple[Choice, ...]]:
    """What stands for nothing found there; no answer at all where it was not reached."""
    return how, () if how == SEEN["n"] else tuple(c for c in look.choices if c.nothing)


def _looked_again(survey: Survey, prompt: Prompt) -> Survey:
    """Looking again takes the place of the look before: `nothing found` and a crack cannot both
    stand.
    """
    for look in survey.looks_at(prompt.id):
        survey = survey.with_struck(look.id, "looked again")
    return survey


def _look_row(survey: Survey, prompt: Prompt, seen: str, token: str, context: Context) -> Look:
    return Look(
        id=survey.new_id(Look),
        at=context.at,
        by=context.by,
        prompt=prompt.id,
        seen=seen,
        answer=token,
        state=survey.state().id,
    )


def _ack(survey: Survey, prompt: Prompt, context: Context) -> Survey:
    row = Ack(
        id=survey.new_id(Ack),
        at=context.at,
        by=context.by,
        caution=prompt.caution,
        standing=standing_of(survey.state()),
    )
    return survey.with_row(row)
