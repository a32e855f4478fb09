"""The first page of the report: what was asked, found, how sure, not seen, to do, and a question
for a specialist.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import groupby

from wizard.judgment.verdict import Verdict
from wizard.library.shapes import Library
from wizard.readings.plain import clean_line
from wizard.survey.record import Survey
from wizard.survey.rows import Answer, State
from wizard.survey.state import STATE_FIELDS
from wizard.telling.blocks import Block, Heading, Items, Para
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
PARTS: Mapping[str, tuple[str, ...]] = {
    "What was found": ("What was seen that decides", "The strongest reasons", "What it comes from"),
    "How sure this is": ("What cannot be told yet", "Do the readings agree?"),
    "What was not seen": ("What was not seen or not measured",),
    "What to do": ("What to do", "In what order"),
    "A question for the specialist": ("What to ask a specialist",),
}
"""Headings of the first page and the verdict's own headings whose lines stand under them."""
FIRST = ("engine", "body", "supports")
"""What of a state the first page tells: the load, what props the frame, what it rests on."""
SURE = (
    "Every figure carries its doubt: the true value lies within the give or take 19 times in 20, so"
    " far as the doubts are known."
)
NONE = {
    "How sure this is": "Nothing that was measured is left open.",
    "What was not seen": "Nothing that this survey asks for was left out.",
}


def first_page(verdict: Verdict, survey: Survey, library: Library) -> list[Block]:
    """The page as blocks, no longer than a sheet; it follows whatever the verdict says."""
    said = {s.heading: s.lines for s in sections(verdict, survey, library)}
    most = {
        heading: min(MOST, len(said.get(heading, ())))
        for headings in PARTS.values()
        for heading in headings
    }
    lead: list[Block] = [
        Heading(2, "What was asked"),
        *(Para(line) for line in asked(survey, library)),
    ]
    blocks = _page(verdict, said, most, lead)
    while length(blocks) > ROOM and max(most.values()) > 1:
        longest = max(most, key=lambda heading: most[heading])
        most[longest] -= 1
        blocks = _page(verdict, said, most, lead)
    return blocks


def length(blocks: Sequence[Block]) -> float:
    """About how many lines the blocks take in print."""
    lines = 0.0
    for block in blocks:
        if isinstance(block, Heading):
            lines += 1.9
        elif isinstance(block, Para):
            lines += 1.1 + len(block.text) // LETTERS
        elif isinstance(block, Items):
            lines += sum(1.1 + len(line) // LETTERS for line in block.lines)
    return lines


def _page(
    verdict: Verdict,
    said: Mapping[str, tuple[str, ...]],
    most: Mapping[str, int],
    lead: Sequence[Block],
) -> list[Block]:
    blocks = list(lead)
    for title, headings in PARTS.items():
        lines = tuple(
            line
            for heading in headings
            for line in _few(heading, said.get(heading, ()), most[heading])
        )
        if title == "A question for the specialist" and not lines:
            continue
        blocks.append(Heading(2, title))
        if title == "What was found":
            blocks.append(Para(headline(verdict), strong=True))
        elif title == "How sure this is":
            blocks.append(Para(SURE))
        blocks += [Items(lines)] if lines else [Para(NONE[title])] if title in NONE else []
    return blocks


def _few(heading: str, lines: tuple[str, ...], most: int) -> list[str]:
    """The first of the lines; what is not seen is named in one breath, since each place counts."""
    more = len(lines) - most
    if not more:
        return list(lines)
    if heading == "What was not seen or not measured":
        return [
            "; ".join(line.split(":")[0] for line in lines)
            + ". The reasons stand behind this page."
        ]
    return [*lines[: most - 1], f"{lines[most - 1]} (And {more} more, behind this page.)"]


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
    at, _, last = row.prompt.partition("/")
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
            if prompt.keep.startswith("state."):
                words.update({(prompt.keep[6:], c.token): c.words for c in prompt.choices})
    said = []
    for field in fields:
        value = str(getattr(state, field))
        if value and value != "-":
            said.append(f"{field} {words.get((field, value), value)}")
    return ", ".join(said) or "not said"
