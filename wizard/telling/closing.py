"""The verdict as one page of plain text, and as the row that keeps it as it was shown."""

from __future__ import annotations

import textwrap
from dataclasses import replace
from datetime import datetime

from wizard.judgment.verdict import Verdict as Judgment
from wizard.judgment.verdict import verdict_of
from wizard.library.shapes import Library
from wizard.survey.record import Survey
from wizard.survey.rows import Verdict
from wizard.telling.verdict_words import headline, sections

WIDTH = 76


def wrap(text: str, width: int = WIDTH, first: str = "", rest: str | None = None) -> list[str]:
    """Lines of at most `width`, with a hanging indent."""
    return textwrap.wrap(
        text, width, initial_indent=first, subsequent_indent=first if rest is None else rest
    ) or [""]


def verdict_lines(
    verdict: Judgment,
    survey: Survey,
    library: Library,
    width: int = WIDTH,
    *,
    sources: bool = False,
) -> list[str]:
    """The whole verdict, wrapped; with `sources` each line is followed by the ids it rests on."""
    lines = wrap(headline(verdict), width)
    for section in sections(verdict, survey, library):
        lines += ["", section.heading]
        for n, line in enumerate(section.lines):
            lines += wrap(line, width, "  - ", "    ")
            if sources and n < len(section.sources):
                lines += wrap(
                    "from " + "; ".join(section.sources[n]), width, "      ", "           "
                )
    return lines


def verdict_page(survey: Survey, library: Library, today: datetime, width: int = WIDTH) -> str:
    """The verdict over what is set down so far, as plain text."""
    return "\n".join(verdict_lines(verdict_of(survey, library, today), survey, library, width))


def with_verdict(survey: Survey, library: Library, at: datetime, by: str) -> Survey:
    """The survey with the verdict as shown now; unchanged when it already says just that."""
    text = verdict_page(survey, library, at)
    kept = survey.standing(Verdict)
    if kept and kept[-1].text == text:
        return survey
    row = Verdict(id=survey.new_id(Verdict), at=at.replace(microsecond=0), by=by, text=text)
    return replace(survey.with_row(row))
