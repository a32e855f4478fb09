"""The first page of the report: what was asked, found, how sure, not seen, to do, and a question
for a specialist.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby

from wizard.judgment.verdict import Verdict
from wizard.library.places import name_of_prompt, state_field, step_of
from wizard.library.shapes import Library
from wizard.readings.plain import clean_line
from wizard.survey.record import Survey
from wizard.survey.rows import Answer, State
from wizard.survey.state import STATE_FIELDS
from wizard.telling.document import Block, Heading, Item, Items, Paragraph
from wizard.telling.verdict_words import headline, sections

MOST = 4
"""Lines under one of the verdict's headings on the first page at most; the rest stands in the full
verdict behind.
"""
ROOM = 58
"""Lines that one sheet of Letter, the shorter paper, takes in the first page's type (measured by
printing).
"""
LETTERS = 112
"""Letters on a line of it."""
FIRST = ("engine", "body", "supports")
"""What of a state the first page tells: the load, what props the frame, what it rests on."""
SURE = (
    "Every figure carries its doubt: the true value lies within the give or take 19 times in 20, so"
    " far as the doubts are known."
)


@dataclass(frozen=True, slots=True)
class Question:
    """One of the questions that the page answers."""

    id: str
    title: str
    sections: tuple[str, ...]
    """Ids of the verdict's own sections whose lines stand under it."""
    none: str = ""
    """What stands there where they say nothing."""
    lead: Callable[[Verdict], Paragraph] | None = None
    """What comes first in any case. Without either, a question with no lines is left out."""


QUESTIONS = (
    Question(
        "found",
        "What was found",
        ("decides", "reasons", "causes"),
        lead=lambda verdict: Paragraph(headline(verdict), strong=True),
    ),
    Question(
        "sure",
        "How sure this is",
        ("untold", "agreement"),
        none="Nothing that was measured is left open.",
        lead=lambda _: Paragraph(SURE),
    ),
    Question(
        "unseen",
        "What was not seen",
        ("not-seen",),
        none="Nothing that this survey asks for was left out.",
    ),
    Question("deed", "What to do", ("to-do", "order")),
    Question("ask", "A question for the specialist", ("questions",)),
)


def first_page(verdict: Verdict, survey: Survey, library: Library) -> list[Block]:
    """The page as blocks, no longer than a sheet; it follows whatever the verdict says."""
    said = {part.id: part.items for part in sections(verdict, survey, library)}
    most = {id: min(MOST, len(said.get(id, ()))) for q in QUESTIONS for id in q.sections}
    lead: list[Block] = [Heading("asked", "What was asked")]
    lead += [Paragraph(line) for line in asked(survey, library)]
    blocks = [*lead, *_answers(verdict, said, most)]
    while length(blocks) > ROOM and max(most.values()) > 1:
        longest = max(most, key=lambda id: most[id])
        most[longest] -= 1
        blocks = [*lead, *_answers(verdict, said, most)]
    return blocks


def length(blocks: Sequence[Block]) -> float:
    """About how many lines the blocks take in print."""
    lines = 0.0
    for block in blocks:
        if isinstance(block, Heading):
            lines += 1.9
        elif isinstance(block, Paragraph):
            lines += 1.1 + len(block.text) // LETTERS
        elif isinstance(block, Items):
            lines += sum(1.1 + len(item.text) // LETTERS for item in block.items)
    return lines


def _answers(
    verdict: Verdict, said: Mapping[str, tuple[Item, ...]], most: Mapping[str, int]
) -> list[Block]:
    blocks: list[Block] = []
    for question in QUESTIONS:
        found = [i for id in question.sections for i in few(said.get(id, ()), most[id])]
        answer: list[Block] = [question.lead(verdict)] if question.lead else []
        if found:
            answer.append(Items(tuple(found)))
        elif question.none:
            answer.append(Paragraph(question.none))
        blocks += [Heading(question.id, question.title), *answer] if answer else []
    return blocks


def few(said: Sequence[Item], most: int) -> list[Item]:
    """The first of the items; where each names what it speaks of, all of them in one breath."""
    more = len(said) - most
    if not more:
        return list(said)
    if all(item.names for item in said):
        names = "; ".join(name for item in said for name in item.names)
        return [Item(f"{names}. The reasons stand behind this page.")]
    last = said[most - 1]
    return [*said[: most - 1], Item(f"{last.text} (And {more} more, behind this page.)")]


def asked(survey: Survey, library: Library) -> list[str]:
    """The question, what the car has been through, and how it stood."""
    car = clean_line(survey.car, 200) or "this car"
    lines = [
        f"Is the frame of {car} straight and sound, so far as it was seen and measured? If not,"
        " what has to be done, and in what order?"
    ]
    history = [
        told for row in survey.standing(Answer) if (told := answered(row, library, "history"))
    ]
    if history:
        lines.append("What is known of it: " + " ".join(history))
    stood = [state_words(s, library, FIRST) for s in survey.standing(State)]
    if stood:
        lines.append("How it stood: " + "; then ".join(words for words, _ in groupby(stood)) + ".")
    return lines


def answered(row: Answer, library: Library, step: str) -> str:
    """`Was the car ever hit? Nobody knows.`: an answer of one step in words; empty for one of
    another step.
    """
    at, last = step_of(row.prompt), name_of_prompt(row.prompt)
    found = (
        next((p for p in library.steps[step].prompts if p.id == last), None)
        if step in library.steps
        else None
    )
    if at != step or found is None:
        return ""
    words = next((c.words for c in found.choices if c.token == row.answer), row.answer)
    return f"{found.ask} {words[:1].upper()}{words[1:]}."


def state_words(state: State, library: Library, fields: tuple[str, ...] = STATE_FIELDS) -> str:
    """A state of the car in the words of the questions that set it."""
    words = {}
    for step in library.steps.values():
        for prompt in step.prompts:
            if field := state_field(prompt.keep):
                words.update({(field, c.token): c.words for c in prompt.choices})
    said = []
    for field in fields:
        value = str(getattr(state, field))
        if value and value != "-":
            said.append(f"{field} {words.get((field, value), value)}")
    return ", ".join(said) or "not said"
