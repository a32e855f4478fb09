"""`crosstape tell`: the verdict, then every finding in words; for the mentor also where each number
comes from.
"""

from __future__ import annotations

import math
from datetime import datetime

from wizard.judgment.bands import Judged
from wizard.judgment.verdict import Verdict, verdict_of
from wizard.library.shapes import Library
from wizard.readings.plain import clean_line
from wizard.survey.guide import layout_of
from wizard.survey.record import Survey
from wizard.survey.rows import Reading
from wizard.telling.amounts import exact
from wizard.telling.closing import verdict_lines, wrap
from wizard.telling.mentor_pairs import pair_rows
from wizard.telling.opened import opened
from wizard.telling.part_words import part_words, prompt_words
from wizard.telling.sentences import sentence_and_band
from wizard.telling.verdict_words import sections
from wizard.telling.written_down import left_out_lines


def tell_text(survey: Survey, library: Library, today: datetime, *, mentor: bool = False) -> str:
    """The whole result as plain text."""
    verdict = verdict_of(survey, library, today)
    layout = layout_of(survey, library)
    day = f", {survey.started:%Y-%m-%d}" if survey.started.year > 1 else ""
    lines = [
        *wrap(clean_line(survey.car or survey.id or "A survey without a name", 200) + day, 76),
        "",
    ]
    if mentor:
        lines += [*pair_rows(verdict, survey, library)[1:], ""]
    lines += verdict_lines(verdict, survey, library, sources=mentor)
    if bad := left_out_lines(survey, library):
        lines += ["", *bad]
    if mentor:
        lines += _rests(verdict, survey, library)
    lines += ["", "Every finding"]
    for judged in verdict.judged:
        lines += wrap(sentence_and_band(judged, layout, survey.unit), 76, "  - ", "    ")
        if mentor:
            lines += table_lines(judged, survey)
    return "\n".join(lines)


def _rests(verdict: Verdict, survey: Survey, library: Library) -> list[str]:
    """Every id that a line of the verdict rests on, once, in words."""
    parts = sections(verdict, survey, library)
    ids = dict.fromkeys(id for part in parts for sources in part.sources for id in sources)
    lines = ["", "What the lines rest on"]
    for id in ids:
        for words in opened([id], verdict, survey, library):
            lines += wrap(clean_line(words, 600), 76, "  - ", "    ")
    return lines


def table_lines(judged: Judged, survey: Survey) -> list[str]:
    """The uncertainty table of one finding and the readings behind it."""
    number = judged.finding.number
    dof = f"{number.dof:.0f}" if math.isfinite(number.dof) else "infinite"
    lines = [f"      {exact(judged, survey.unit)} (u), degrees of freedom {dof}, k {judged.k:.2f}"]
    lines.append(f"      parts of u in {judged.finding.unit}, the greatest first:")
    for part in sorted(number.parts, key=lambda p: -abs(p.size)):
        shared = "shared" if part.shared else "own"
        lines += wrap(
            f"{abs(part.size):8.3f}  {part_words(part.name)} ({shared}): {part.source}",
            76,
            "      ",
            " " * 18,
        )
    rows = {r.id: r for r in survey.table(Reading)}
    for id in judged.finding.readings:
        if id in rows:
            read = clean_line(f"{id}  {prompt_words(rows[id].prompt)}  {rows[id].typed}", 300)
            lines += wrap(read, 76, "        ", " " * 13)
    for edge in judged.edges:
        span = f"up to {edge.high:g}" if edge.low is None else f"{edge.low:g} to {edge.high:g}"
        where = f"{span} {judged.finding.unit}, chance of being beyond {edge.chance:.1%}"
        lines += wrap(f"{edge.band}: {where} (limit: {edge.source}).", 76, "      ")
    return lines
