"""The report: one page to hand over, then everything behind it, down to each reading and the file's
own checksum.

The first page says what was asked, found, how sure, not seen, to do, and a question for a
specialist.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from itertools import groupby

from wizard import __version__
from wizard.judgment.answer import Answer, answer_of
from wizard.library import marks
from wizard.library.places import name_of_prompt, step_of
from wizard.library.shapes import Library
from wizard.readings.plain import clean_line
from wizard.survey.prompts import need_met
from wizard.survey.record import Survey
from wizard.survey.rows import Answer as Row
from wizard.survey.rows import State
from wizard.survey.rows import Verdict as ShownVerdict
from wizard.telling.answer_words import Told, answer_blocks, told_of
from wizard.telling.document import (
    Block,
    Document,
    Heading,
    Item,
    Items,
    Paragraph,
    Quote,
    Terms,
    items,
    set_out,
)
from wizard.telling.not_driven import NO_SURVEY
from wizard.telling.photos import NO_PHOTOS, Photos, photo_blocks
from wizard.telling.report_figures import figures
from wizard.telling.report_tables import (
    findings_part,
    limits_part,
    looks_part,
    readings_part,
    remarks_part,
    state_words,
)
from wizard.telling.report_trend import NOTHING, Earlier, trend_part
from wizard.telling.tell import verdict_blocks, verdict_page
from wizard.telling.verdict_words import sections
from wizard.telling.written_down import left_out_section


@dataclass(frozen=True, slots=True)
class Source:
    """The file that the report speaks of."""

    name: str
    sha256: str
    """Of the file's bytes, in hexadecimal digits."""


def report_of(
    survey: Survey,
    library: Library,
    today: datetime,
    source: Source,
    earlier: Earlier = NOTHING,
    photos: Photos = NO_PHOTOS,
) -> Document:
    """The whole report as blocks: every number as `tell`, `tell --json` and `compare` have it.

    earlier: the surveys that this one follows, photos: those of the record; they are read by
    whoever calls.
    """
    before = earlier.surveys[-1] if earlier.surveys else None
    answer = answer_of(survey, library, today, before)
    verdict = answer.verdict
    day = f", {survey.started:%Y-%m-%d}" if survey.started.year > 1 else ""
    name = clean_line(survey.car or survey.id, 200) or "A survey without a name"
    title = f"{name}{day}: survey of the frame"
    blocks: list[Block] = [
        *first_page(answer, survey, library),
        Paragraph(_file_line(survey, source)),
        *_full(answer, survey, library, today, before),
        Heading("drawn", "The frame drawn", new_page=True),
        *figures(verdict, survey, library),
        *trend_part(survey, library, earlier),
        *photo_blocks(photos),
        *findings_part(verdict, survey, library),
        *limits_part(verdict, survey, library),
        *readings_part(survey, library),
        *set_out([left_out_section(survey, library)], 3),
        *looks_part(verdict, survey),
        *remarks_part(survey, library),
        Heading("file", "The file"),
        items(_file_lines(survey, source, today)),
        Paragraph(NO_SURVEY, strong=True),
    ]
    return Document(title, tuple(blocks))


def _full(
    answer: Answer, survey: Survey, library: Library, today: datetime, before: Survey | None
) -> list[Block]:
    return [
        Heading("verdict", "The whole verdict", new_page=True),
        *verdict_blocks(answer, survey, library, 3),
        *_shown_before(survey, library, today, before),
    ]


def _shown_before(
    survey: Survey, library: Library, today: datetime, before: Survey | None
) -> list[Block]:
    """The verdict that the file keeps, where the program would say it otherwise today."""
    kept = survey.standing(ShownVerdict)
    if not kept or kept[-1].text == verdict_page(survey, library, today, before):
        return []
    said = (
        f"The file keeps the verdict as it was shown on {kept[-1].at:%Y-%m-%d}; today it reads"
        " otherwise. It was:"
    )
    lines = tuple(kept[-1].text.splitlines())
    return [
        Heading("shown", "The verdict as it was shown then", 3),
        Paragraph(said),
        Quote(lines),
    ]


def _file_line(survey: Survey, source: Source) -> str:
    return (
        f"Survey {survey.id or source.name}, file checksum {source.sha256[:16]} (SHA-256, first 16"
        " digits)."
    )


def _file_lines(survey: Survey, source: Source, today: datetime) -> tuple[str, ...]:
    return (
        f"Survey: {survey.id or 'without an id'}"
        + (f", follows {survey.follows}" if survey.follows else ""),
        f"File: {source.name}, written by {survey.program or 'an unnamed program'}",
        f"SHA-256 of the file: {source.sha256}",
        f"Report made on {today:%Y-%m-%d} by crosstape {__version__}",
        (
            "Whoever has the file can make the same report again, and the same checksum says that"
            " it is the same file."
        ),
    )


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
    lead: Callable[[Told], tuple[Block, ...]] | None = None
    """What comes first in any case. Without either, a question with no lines is left out."""


QUESTIONS = (
    Question(
        "found",
        "What was found",
        ("decides", "reasons", "causes"),
        lead=answer_blocks,
    ),
    Question(
        "sure",
        "How sure this is",
        ("untold", "agreement"),
        none="Nothing that was measured is left open.",
        lead=lambda _: (Paragraph(SURE),),
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


def first_page(answer: Answer, survey: Survey, library: Library) -> list[Block]:
    """The page as blocks, no longer than a sheet; it follows whatever the verdict says."""
    told = told_of(answer, survey, library)
    said = {part.id: part.items for part in sections(answer.verdict, survey, library)}
    most = {id: min(MOST, len(said.get(id, ()))) for q in QUESTIONS for id in q.sections}
    lead: list[Block] = [Heading("asked", "What was asked")]
    lead += [Paragraph(line) for line in _asked(survey, library)]
    blocks = [*lead, *_answers(told, said, most)]
    while length(blocks) > ROOM and max(most.values()) > 1:
        longest = max(most, key=lambda id: most[id])
        most[longest] -= 1
        blocks = [*lead, *_answers(told, said, most)]
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
        elif isinstance(block, Terms):
            room = LETTERS - block.margin
            lines += sum(1.1 + len(item.text) // room for _, item in block.rows)
    return lines


def _answers(
    told: Told, said: Mapping[str, tuple[Item, ...]], most: Mapping[str, int]
) -> list[Block]:
    blocks: list[Block] = []
    for question in QUESTIONS:
        found = [i for id in question.sections for i in _few(said.get(id, ()), most[id])]
        answer: list[Block] = [*question.lead(told)] if question.lead else []
        if found:
            answer.append(Items(tuple(found)))
        elif question.none:
            answer.append(Paragraph(question.none))
        blocks += [Heading(question.id, question.title), *answer] if answer else []
    return blocks


def _few(said: Sequence[Item], most: int) -> list[Item]:
    """The first of the items; where each names what it speaks of, all of them in one breath."""
    more = len(said) - most
    if not more:
        return list(said)
    if all(item.names for item in said):
        names = "; ".join(name for item in said for name in item.names)
        return [Item(f"{names}. The reasons stand behind this page.")]
    last = said[most - 1]
    return [*said[: most - 1], Item(f"{last.text} (And {more} more, behind this page.)")]


def _asked(survey: Survey, library: Library) -> list[str]:
    """The question, what the car has been through, and how it stood."""
    car = clean_line(survey.car, 200) or "this car"
    lines = [
        f"Is the frame of {car} straight and sound, so far as it was seen and measured? If not,"
        " what has to be done, and in what order?"
    ]
    last = {row.prompt: row for row in survey.standing(Row)}
    told = [_answered(survey, row, library) for row in last.values()]
    if any(told):
        lines.append("What is known of it: " + " ".join(filter(None, told)))
    stood = [state_words(s, library, FIRST) for s in survey.standing(State)]
    if stood:
        lines.append("How it stood: " + "; then ".join(words for words, _ in groupby(stood)) + ".")
    return lines


def _answered(survey: Survey, row: Row, library: Library) -> str:
    """`Was the car ever hit? Nobody knows.`: an answer of what it has been through in words; empty
    for another, and for one that nobody would be asked for any more.
    """
    at, last = step_of(row.prompt), name_of_prompt(row.prompt)
    asked = (p for step in library.marked(marks.PAST) if step.id == at for p in step.prompts)
    found = next((p for p in asked if p.last == last), None)
    if found is None or not all(need_met(survey, need) for need in found.needs):
        return ""
    words = next((c.words for c in found.choices if c.token == row.answer), row.answer)
    return f"{found.ask} {words[:1].upper()}{words[1:]}."
