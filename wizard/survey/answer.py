"""What an answer does: one pure function from a survey and a typed text to the next survey, a
refusal or a doubt.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import datetime
from fractions import Fraction
from functools import lru_cache

from wizard.library.shapes import SEEN, UNSURE, Choice
from wizard.readings.bubbles import read_bubble
from wizard.readings.lengths import read_length
from wizard.readings.plain import clean_line
from wizard.readings.quantities import read_quantity
from wizard.readings.refused import Refused
from wizard.survey.guide import known_met, offered
from wizard.survey.prompts import Prompt
from wizard.survey.record import Survey, Unit
from wizard.survey.rows import AFTER_ALL, Ack, Answer, Doubt, Look, Reading, Skip
from wizard.survey.standing import is_push, standing_of
from wizard.survey.state import settle, with_tool, with_tool_start

ACK_WORD = "understood"
NOTE_LIMIT = 500
NOTHING_TO_SAY = "nothing to say here"
"""Reason of a prompt passed over by '-'."""
NOTHING = ("n", "no", "none", "nothing", "nothing to say")
"""What people type where a few words are asked and there are none."""
NOT_SURE = Choice("u", UNSURE, "not sure")
FIXED: dict[str, Callable[[Survey], str]] = {
    "survey.unit": lambda s: s.unit,
    "survey.layout": lambda s: s.layout,
}
"""What may not change once a reading is down: every typed number would mean something else."""
Foretell = Callable[[Survey, Prompt, str], str]
"""(survey, prompt, typed text) -> a sentence of doubt, or empty when the reading is as the rest
foretells.
"""


@dataclass(frozen=True, slots=True)
class Refusal:
    """The text cannot be taken."""

    says: str
    """What is wrong and an example of what would do, in one sentence."""


@dataclass(frozen=True, slots=True)
class Doubted:
    """The text can be read but is not what the rest foretells."""

    says: str
    kept: Survey
    """The next survey, should the person keep the reading: it carries the doubt on record."""
    then: str = ""
    """What is said once it is kept, where it is no answer to the question in front, which stays;
    empty for one.
    """


@dataclass(frozen=True, slots=True)
class Context:
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
        return Refusal("Nothing was typed; " + example(offered(survey, prompt), survey.unit) + ".")
    context = Context(at.replace(microsecond=0), by, tool)
    survey = _unskipped(survey, prompt)
    if prompt.optional and line == "-" and prompt.kind not in ("choice", "note"):
        row = Skip(
            id=survey.new_id(Skip), at=context.at, by=by, prompt=prompt.id, why=NOTHING_TO_SAY
        )
        return survey.with_row(row)
    try:
        if prompt.kind in ("length", "gap", "bubble"):
            return _reading(survey, prompt, line, context, foretell)
        if prompt.kind == "look":
            return _look(survey, prompt, line, context)
        if prompt.kind == "choice":
            return _choice(survey, prompt, line, context)
        if prompt.kind == "ack":
            return _ack(survey, prompt, line, context)
        return _note(survey, prompt, line, context)
    except Refused as refused:
        return Refusal(str(refused))


def _unskipped(survey: Survey, prompt: Prompt) -> Survey:
    """A prompt that is answered after all is no longer skipped."""
    for skip in survey.standing(Skip):
        if skip.prompt == prompt.id:
            survey = survey.with_struck(skip.id, AFTER_ALL)
    return survey


def example(prompt: Prompt, unit: Unit) -> str:
    """What would do here, as half a sentence."""
    if prompt.kind == "length":
        return (
            "type a length like 25 7/8 or 657 mm"
            if unit == "in"
            else "type a length like 657 or 25 7/8 in"
        )
    if prompt.kind == "gap":
        number = "1/8" if unit == "in" else "3"
        return (
            f"type how much and which way, like {number} {prompt.signs[0]} or {number}"
            f" {prompt.signs[1]}, or 0"
        )
    if prompt.kind == "bubble":
        return (
            "type how many lines the bubble is off and the high side, like 1/2 left or 2 right,"
            " or 0"
        )
    if prompt.kind == "look":
        return (
            "type two letters, how well you saw it and what you saw, like b"
            f" {prompt.choices[0].letter}"
        )
    if prompt.kind == "choice":
        words = "type one letter: " + ", ".join(f"{c.letter} {c.words}" for c in prompt.choices)
        return (
            words
            if len(words) <= 140
            else "type one letter: " + ", ".join(c.letter for c in prompt.choices)
        )
    if prompt.kind == "ack":
        return f"read it, then type {ACK_WORD}"
    return "type a few words" + (", or - for nothing to say" if prompt.optional else "")


def value_of(prompt: Prompt, typed: str, unit: Unit) -> Fraction:
    """The exact number behind a typed length or gap, in mm. Raises Refused."""
    return _length(typed, unit, (prompt.signs[0], prompt.signs[1]) if prompt.signs else ())


_length = lru_cache(maxsize=8192)(read_length)
"""One survey after another holds the same few thousand figures."""


def _reading(
    survey: Survey, prompt: Prompt, line: str, context: Context, foretell: Foretell | None
) -> Survey | Doubted:
    typed = line.rstrip("!").rstrip()
    in_advance = line.endswith("!")
    if prompt.kind == "bubble":
        read_bubble(typed, survey.unit)
    elif value_of(prompt, typed, survey.unit) and prompt.kind == "gap":
        _with_way(prompt, typed, survey.unit)
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
    return Doubted(doubt, after.with_row(replace(note, kept="asked")))


def _with_way(prompt: Prompt, typed: str, unit: Unit) -> None:
    """A gap that says no way would be taken for one of the two. Raises Refused."""
    try:
        read_length(typed, unit)
    except Refused:
        return
    plus, minus = prompt.signs[0], prompt.signs[1]
    raise Refused(f"Say which way it is, {typed} {plus} or {typed} {minus}")


def _pick(choices: tuple[Choice, ...], word: str) -> Choice | None:
    word = word.lower()
    return next((c for c in choices if word in (c.letter, c.token, c.words.lower())), None)


def _choice(survey: Survey, prompt: Prompt, line: str, context: Context) -> Survey:
    picked = _pick(prompt.choices, line)
    if prompt.optional and line == "-":
        picked = Choice("-", "-", "nothing to say")
    if picked is None:
        raise Refused(
            f"That is none of the answers here; {example(offered(survey, prompt), survey.unit)}"
        )
    if not all(known_met(survey, n) for n in picked.needs):
        raise Refused(picked.instead.rstrip("."))
    if (
        prompt.keep in FIXED
        and survey.table(Reading)
        and picked.token != FIXED[prompt.keep](survey)
    ):
        raise Refused(
            "Readings are written down already, so this stays; a number may carry its own unit,"
            " like 12 mm"
        )
    return _answer(survey, prompt, picked.token, context)


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
    if prompt.keep == "tool.tape.start":
        return with_tool_start(after, token, context.at, context.by)
    if prompt.keep.startswith("tool."):
        tool = next((t for t in prompt.tools if t.id == token), None)
        return with_tool(after, tool, context.at, context.by) if tool else after
    return settle(after, prompt.keep, context.at, context.by)


def _note(survey: Survey, prompt: Prompt, line: str, context: Context) -> Survey:
    if len(line) > NOTE_LIMIT:
        raise Refused(f"That is {len(line)} characters and {NOTE_LIMIT} are kept; say it shorter")
    if prompt.optional:
        line = "-" if line.lower().rstrip(".") in NOTHING else line
        if len(line) == 1 and line.isalpha():
            raise Refused("One letter says too little; type a few words, or - for nothing to say")
    if prompt.keep == "survey.car" and not any(c.isalnum() for c in line):
        raise Refused("The car needs a name with a letter in it, like Bramble")
    if prompt.keep == "trip.distance" and line != "-":
        read_quantity(line, "distance")
    return _answer(survey, prompt, line, context)


def _look(survey: Survey, prompt: Prompt, line: str, context: Context) -> Survey:
    """Letters in any order, together or apart: how well it was seen and what was seen; `n` stands
    alone.

    One row for each thing seen, so that a rail may be pitted and kinked at once.
    """
    offered = (*prompt.choices, NOT_SURE)
    known = {*SEEN.values(), *(c.token for c in offered), *(c.words.lower() for c in offered)}
    letters = {*SEEN, *(c.letter for c in offered)}
    words: list[str] = []
    for word in line.lower().split():
        words += word if word not in known and letters.issuperset(word) else [word]
    seen = [SEEN.get(w, w) for w in words if w in SEEN or w in SEEN.values()]
    picked = [c for w in words if (c := _pick(offered, w))]
    if (
        len(seen) + len(picked) != len(words)
        or len(seen) > 1
        or len({c.token for c in picked}) != len(picked)
    ):
        raise Refused(
            f"That is not an answer here; {example(prompt, survey.unit)}, or n when you cannot"
            " reach it"
        )
    if not seen:
        raise Refused(
            f"Say how well you saw it too: b bare, p painted, d dirty, like b {picked[0].letter}"
        )
    if seen == ["not-reached"]:
        if picked:
            raise Refused(
                "Not reached and something seen cannot both be; type n alone, or how well you"
                " saw it"
            )
        survey = _looked_again(survey, prompt)
        return survey.with_row(_look_row(survey, prompt, seen[0], "", context))
    if not picked:
        raise Refused(
            f"Say what you saw there too, like {line.lower()[0]} {prompt.choices[0].letter}"
        )
    if len(picked) > 1 and any(c.nothing or c is NOT_SURE for c in picked):
        raise Refused(
            "Nothing found, or not sure, stands alone; leave it out or leave out the rest"
        )
    survey = _looked_again(survey, prompt)
    for choice in picked:
        survey = survey.with_row(_look_row(survey, prompt, seen[0], choice.token, context))
    return survey


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


def _ack(survey: Survey, prompt: Prompt, line: str, context: Context) -> Survey:
    if line.lower().rstrip(".!") != ACK_WORD:
        raise Refused(f"Read the caution; when it is clear, type {ACK_WORD}")
    row = Ack(
        id=survey.new_id(Ack),
        at=context.at,
        by=context.by,
        caution=prompt.caution,
        standing=standing_of(survey.state()),
    )
    return survey.with_row(row)
