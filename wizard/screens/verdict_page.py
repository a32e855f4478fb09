"""The verdict as a page: its headline first and large, then the reasons with their pictures."""

from __future__ import annotations

from wizard.judgment.verdict import Verdict
from wizard.library.shapes import Library
from wizard.screens.paper import BLANK, Line, drawn, line, pad, wrap
from wizard.survey.guide import layout_of
from wizard.survey.record import Survey
from wizard.telling.canvas import Charset
from wizard.telling.drawing_where import where_view
from wizard.telling.judged_picture import picture_of
from wizard.telling.opinions import HEADING, opinion_lines
from wizard.telling.verdict_words import Section, headline, sections

REASONS = "The strongest reasons"
CAUSES = "What it comes from"
INDENT = "    "


def verdict_lines(
    verdict: Verdict,
    survey: Survey,
    library: Library,
    width: int,
    charset: Charset,
    since: Section | None = None,
) -> list[Line]:
    """The whole verdict, wrapped to the width; since: whether anything moved, under the headline."""
    lines = [line(" " * width, "headline")]
    lines += [
        line(pad("  " + _bare(part), width), "headline")
        for part in wrap(headline(verdict), width - 4)
    ]
    lines.append(line(" " * width, "headline"))
    for section in (*((since,) if since else ()), *sections(verdict, survey, library)):
        lines += [BLANK, line(section.heading, "strong")]
        lines += _section(section, verdict, survey, library, width, charset)
    return lines


def opinions(survey: Survey, width: int) -> list[Line]:
    """The signed opinions, beside the verdict and never in its place."""
    said = opinion_lines(survey)
    lines = [part for text in said for part in wrap(text, width, first="  - ")]
    return [BLANK, line(HEADING, "strong"), *lines] if said else []


def _bare(pieces: Line) -> str:
    return "".join(text for text, _ in pieces)


def _section(
    section: Section,
    verdict: Verdict,
    survey: Survey,
    library: Library,
    width: int,
    charset: Charset,
) -> list[Line]:
    lines: list[Line] = []
    reasons = verdict.reasons if section.heading == REASONS else ()
    for n, text in enumerate(section.lines):
        lines += wrap(text, width, first="  - ")
        if n < len(reasons):
            picture = picture_of(reasons[n], library, survey.unit, min(width - 8, 72), charset)
            lines += drawn(picture, INDENT)
            lines += [BLANK] if picture.lines else []
    if section.heading == CAUSES:
        layout = layout_of(survey, library)
        where = where_view(verdict.causes, layout, min(width - 8, 72), 7, charset)
        lines += [BLANK, *drawn(where, INDENT)] if where.lines else []
    return lines[:-1] if lines and lines[-1] == BLANK else lines
