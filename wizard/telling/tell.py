"""`crosstape tell`: the verdict, then every finding in words; for the mentor also where each number
comes from.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import datetime

from wizard.judgment.bands import Judged
from wizard.judgment.sight import verdict_of
from wizard.judgment.verdict import Verdict
from wizard.library.shapes import Library
from wizard.readings.plain import clean_line
from wizard.survey.guide import layout_of
from wizard.survey.record import Survey
from wizard.telling.document import Block, Document, Item, Section, section, set_out
from wizard.telling.sentences import sentence_and_band
from wizard.telling.sources import opened
from wizard.telling.text import CLOSE, OPENED, text_of
from wizard.telling.verdict_words import sections, verdict_blocks
from wizard.telling.written_down import left_out_section


def tell_text(survey: Survey, library: Library, today: datetime, *, mentor: bool = False) -> str:
    """The whole result as plain text."""
    told = told_document(survey, library, today, mentor=mentor)
    return text_of(told, OPENED if mentor else CLOSE)


def told_document(
    survey: Survey, library: Library, today: datetime, *, mentor: bool = False
) -> Document:
    """The whole result."""
    verdict = verdict_of(survey, library, today)
    day = f", {survey.started:%Y-%m-%d}" if survey.started.year > 1 else ""
    name = clean_line(survey.car or survey.id or "A survey without a name", 200)
    before = _pairs(verdict, survey, library) if mentor else ()
    behind = [_rests(verdict, survey, library)] if mentor else []
    blocks: tuple[Block, ...] = (
        *before,
        *verdict_blocks(verdict, survey, library),
        *set_out([left_out_section(survey, library), *behind]),
        *set_out([_findings(verdict, survey, library, mentor)]),
    )
    return Document(name + day, blocks)


def _pairs(verdict: Verdict, survey: Survey, library: Library) -> Sequence[Block]:
    from wizard.telling.mentor import pairs  # most who ask for the result are no mentors

    return pairs(verdict, survey, library)


def _rests(verdict: Verdict, survey: Survey, library: Library) -> Section:
    """Every id that a line of the verdict rests on, once, in words."""
    parts = sections(verdict, survey, library)
    ids = dict.fromkeys(id for part in parts for item in part.items for id in item.sources)
    words = (clean_line(said, 600) for said in opened(ids, verdict, survey, library))
    return section("rests", "What the lines rest on", words)


def _findings(verdict: Verdict, survey: Survey, library: Library, mentor: bool) -> Section:
    layout = layout_of(survey, library)
    items: list[Item] = []
    for judged in verdict.judged:
        items.append(Item(sentence_and_band(judged, layout, survey.unit)))
        items += _doubts(judged, survey) if mentor else []
    return Section("findings", "Every finding", tuple(items))


def _doubts(judged: Judged, survey: Survey) -> Iterable[Item]:
    from wizard.telling.mentor import doubt_items

    return doubt_items(judged, survey)
