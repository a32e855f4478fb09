"""The report: one page to hand over, then everything behind it, down to each reading and the file's
own checksum.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from wizard import __version__
from wizard.judgment.sight import verdict_of
from wizard.judgment.verdict import Verdict
from wizard.library.shapes import Library
from wizard.readings.plain import clean_line
from wizard.survey.record import Survey
from wizard.survey.rows import Verdict as ShownVerdict
from wizard.telling.document import Block, Document, Heading, Paragraph, Quote, items, set_out
from wizard.telling.not_driven import NO_SURVEY
from wizard.telling.report_figures import figures
from wizard.telling.report_first import first_page
from wizard.telling.report_tables import (
    findings_part,
    limits_part,
    looks_part,
    readings_part,
    remarks_part,
)
from wizard.telling.report_trend import NOTHING, Earlier, trend_part
from wizard.telling.verdict_words import verdict_blocks, verdict_page
from wizard.telling.written_down import left_out_section


@dataclass(frozen=True, slots=True)
class Source:
    """The file that the report speaks of."""

    name: str
    sha256: str
    """Of the file's bytes, in hexadecimal digits."""


def report_of(
    survey: Survey, library: Library, today: datetime, source: Source, earlier: Earlier = NOTHING
) -> Document:
    """The whole report as blocks: every number as `tell`, `tell --json` and `compare` have it.

    earlier: the surveys that this one follows; they are read by whoever calls.
    """
    verdict = verdict_of(survey, library, today)
    day = f", {survey.started:%Y-%m-%d}" if survey.started.year > 1 else ""
    name = clean_line(survey.car or survey.id, 200) or "A survey without a name"
    title = f"{name}{day}: survey of the frame"
    blocks: list[Block] = [
        *first_page(verdict, survey, library),
        Paragraph(_file_line(survey, source)),
        *_full(verdict, survey, library, today),
        Heading("drawn", "The frame drawn", new_page=True),
        *figures(verdict, survey, library),
        *trend_part(survey, library, earlier),
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


def _full(verdict: Verdict, survey: Survey, library: Library, today: datetime) -> list[Block]:
    return [
        Heading("verdict", "The whole verdict", new_page=True),
        *verdict_blocks(verdict, survey, library, 3),
        *_shown_before(survey, library, today),
    ]


def _shown_before(survey: Survey, library: Library, today: datetime) -> list[Block]:
    """The verdict that the file keeps, where the program would say it otherwise today."""
    kept = survey.standing(ShownVerdict)
    if not kept or kept[-1].text == verdict_page(survey, library, today):
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
