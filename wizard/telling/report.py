"""The report: a record of what was found on its first page; five pages at most that show and explain
it; then the appendix, by which a careful engineer could check it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime
from typing import NamedTuple

from wizard import __version__
from wizard.judgment.answer import Answer, answer_of
from wizard.judgment.facts import is_out
from wizard.judgment.verdict import Verdict
from wizard.library import marks
from wizard.library.places import name_of_prompt, step_of
from wizard.library.shapes import Library, PromptTemplate
from wizard.readings.plain import clean_line
from wizard.survey.prompts import need_met
from wizard.survey.record import Survey
from wizard.survey.rows import Answer as Row
from wizard.survey.rows import Verdict as ShownVerdict
from wizard.telling.document import (
    Block,
    Document,
    Heading,
    Paragraph,
    Section,
    Table,
    in_words,
    items,
    set_out,
)
from wizard.telling.front_page import front_page, title_of
from wizard.telling.not_driven import NO_SURVEY
from wizard.telling.photos import NO_PHOTOS, Photos, more_photos, photos_part
from wizard.telling.quantity_names import cap, wording
from wizard.telling.report_figures import figures
from wizard.telling.report_tables import (
    findings_part,
    limits_part,
    looks_part,
    readings_part,
    remarks_part,
)
from wizard.telling.report_trend import NOTHING, Earlier, trend_part
from wizard.telling.tell import verdict_page
from wizard.telling.verdict_words import sections
from wizard.telling.written_down import left_out_section


class Source(NamedTuple):
    """The file that the report speaks of."""

    name: str
    sha256: str
    """Of the file's bytes with every line ended as Crosstape writes it, in hexadecimal digits."""

    @property
    def checksum(self) -> str:
        """The first sixteen of its digits, as the foot of a sheet has them."""
        return self.sha256[:16]


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
    foot = foot_of(survey, source)
    front = front_page(answer, survey, library, f"{foot} {SUM}")
    blocks: list[Block] = [
        *front.blocks,
        *_behind(answer, survey, library, front.behind),
        *photos_part(photos, survey, library),
        Heading("appendix", "Appendix: every reading and every doubt", new_part=True, small=True),
        *trend_part(survey, library, earlier),
        *more_photos(photos),
        *findings_part(answer.verdict, survey, library),
        *limits_part(answer.verdict, survey, library),
        *readings_part(survey, library),
        *set_out([left_out_section(survey, library)], 3),
        *looks_part(answer.verdict, survey),
        *remarks_part(survey, library),
        *_shown_before(survey, library, today, before),
        *_asked_of_a_record(library),
        Heading("file", "The file"),
        items(_file_lines(survey, source, today)),
        Paragraph(NO_SURVEY, strong=True),
        Paragraph("This is the end of the record."),
    ]
    return Document(title_of(survey), in_words(blocks, wording(survey, library)), foot)


SUM = "The checksum is of the survey's file, as the appendix says."


def foot_of(survey: Survey, source: Source) -> str:
    """What stands at the foot of every sheet: the survey and the checksum of its file."""
    return f"Survey {clean_line(survey.id or source.name, 60)}, checksum {source.checksum}."


# The five pages -----------------------------------------------------------------------------------

ON_FRONT = ("decides", "not-seen", "scope")
"""Sections of the verdict that the first page has whole, or as many as it has room for."""
TO_ASK = ("questions",)


def _behind(
    answer: Answer, survey: Survey, library: Library, short: Sequence[str]
) -> Iterator[Block]:
    """Drawings, limits, causes with their evidence, what to ask. short: sections of which
    the first page has only the names.
    """
    verdict = answer.verdict
    parts = _once(sections(verdict, survey, library, answer.since), verdict)
    here = [p for p in parts if p.id not in ON_FRONT or p.id in short]
    yield Heading("drawn", "The frame drawn", new_page=True, new_part=True)
    yield from figures(verdict, survey, library, answer.facts)
    yield Heading("why", "Why, and what to do")
    yield from set_out((p for p in here if p.id not in TO_ASK), 3)
    yield from _known(survey, library)
    yield from set_out((p for p in here if p.id in TO_ASK), 3)


def _once(parts: Sequence[Section], verdict: Verdict) -> list[Section]:
    """The sections with what is open told once: where what would settle it stands. What is known to
    be out stands among the reasons even where it is open why.
    """
    told = {item.sources[:1] for p in parts if p.id == "untold" for item in p.items}
    open_ = told.intersection((j.finding.id,) for j in verdict.open if not is_out(j))
    return [
        p._replace(items=tuple(i for i in p.items if i.sources[:1] not in open_))
        if p.id == "reasons"
        else p
        for p in parts
    ]


def _known(survey: Survey, library: Library) -> Iterator[Block]:
    """What the car has been through, as it was answered."""
    last = {row.prompt: row for row in survey.standing(Row)}
    told = list(filter(None, (_answered(survey, row, library) for row in last.values())))
    if told:
        yield Heading("past", "What is known of it", 3)
        yield Paragraph(" ".join(told))


def _answered(survey: Survey, row: Row, library: Library) -> str:
    """`Was the car ever hit? Nobody knows.`: an answer of what it has been through in words; empty
    for another, and for one that nobody would be asked for any more.
    """
    at, last = step_of(row.prompt), name_of_prompt(row.prompt)
    asked = (p for step in library.marked(marks.PAST) if step.id == at for p in step.prompts)
    found = next((p for p in asked if p.last == last), None)
    if found is None or not all(need_met(survey, need) for need in found.needs):
        return ""
    return f"{found.ask} {cap(_in_words(row.answer, found))}."


def _in_words(answer: str, asked: PromptTemplate) -> str:
    """An answer as it is offered; as it was typed where it is none of those."""
    return next((c.words for c in asked.choices if c.token == answer), answer)


# The appendix -------------------------------------------------------------------------------------


def _shown_before(
    survey: Survey, library: Library, today: datetime, before: Survey | None
) -> list[Block]:
    """What of the verdict that the file keeps the program would say otherwise today."""
    kept = survey.standing(ShownVerdict)
    if not kept:
        return []
    now = set(_pieces(verdict_page(survey, library, today, before)))
    other = [piece for piece in _pieces(kept[-1].text) if piece not in now]
    if not other:
        return []
    said = (
        f"The file keeps the verdict as it was shown on {kept[-1].at:%Y-%m-%d}; today some of it"
        " reads otherwise. Where the two differ, it was:"
    )
    return [Heading("shown", "The verdict as it was shown then"), Paragraph(said), items(other)]


def _pieces(text: str) -> Iterator[str]:
    """The sentences and items of a verdict, each in one line with its heading, however it was set.

    >>> list(_pieces("Why\\n  - The left rail\\n    hangs low.\\n\\nFirst\\n  - It is old."))
    ['Why', 'Why: The left rail hangs low.', 'First', 'First: It is old.']
    """
    head, piece = "", ""
    for line in (*text.splitlines(), ""):
        bare = " ".join(clean_line(line, 400).split())
        if piece and line.startswith(FURTHER) and not bare.startswith("- "):
            piece = f"{piece} {bare}"
            continue
        if piece:
            yield f"{head}: {piece}" if head else piece
        piece = bare.removeprefix("- ") if line.startswith(" ") else ""
        if bare and not piece:
            head = bare
            yield bare


FURTHER = "    "
"""What the further lines of an item begin with at least."""


def _asked_of_a_record(library: Library) -> list[Block]:
    """What a laboratory's report has to hold, and where it stands here."""
    rows = tuple((c.clause, c.asks, c.stands or f"Not here: {c.why}") for c in library.clauses)
    head = ("Clause", "What it asks, in our words", "Where it stands here")
    return [
        Heading("clauses", "What a laboratory's report has to hold"),
        Paragraph(NO_LABORATORY),
        Table("ISO/IEC 17025:2017, 7.8.2.1 and 7.8.6", head, rows, (9, 36, 55)),
    ]


NO_LABORATORY = (
    "This is a home survey and no laboratory's report. What ISO/IEC 17025:2017 asks of"
    " one stands here, so that you can see what this record has of it and what it lacks."
)


def _file_lines(survey: Survey, source: Source, today: datetime) -> tuple[str, ...]:
    return (
        f"Survey: {survey.id or 'without an id'}"
        + (f", follows {survey.follows}" if survey.follows else ""),
        f"File: {source.name}, written by {survey.program or 'an unnamed program'}",
        f"Checksum (SHA-256): {source.sha256}; the first 16 digits stand at the foot of every sheet",
        (
            "The checksum is of the file's bytes, every line ended by a line feed alone, as Crosstape"
            " writes it. Any program for SHA-256 makes it again from the file."
        ),
        f"Report made on {today:%Y-%m-%d} by crosstape {__version__}",
        "Whoever has the file can make the same report again.",
    )
