"""The tables of the report: every finding, limit, reading, look and remark, with where each comes
from.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence

from wizard.checks.case import case_of
from wizard.judgment.bands import Judged, own_bounds
from wizard.judgment.seen import bent_horn
from wizard.judgment.verdict import Verdict
from wizard.library.places import PromptId, spoken, state_field
from wizard.library.shapes import Library, Limit
from wizard.survey.guide import layout_of
from wizard.survey.prompts import Prompt
from wizard.survey.record import Survey, Unit
from wizard.survey.rows import (
    NEVER,
    Answer,
    Doubt,
    Look,
    Opinion,
    Reading,
    Remark,
    Row,
    Skip,
    State,
    Tool,
)
from wizard.survey.state import STATE_FIELDS
from wizard.telling.amounts import BANDS, OUT, SOURCE_KINDS, bound, exact
from wizard.telling.document import Block, Heading, Paragraph, Table, items
from wizard.telling.enough_words import pages_of
from wizard.telling.sentences import sentence_and_band

BESIDE = "Opinions stand beside the program's verdict, never in its place."
MANY = 8
"""Readings named one by one behind a finding; more are counted, with the first and the last."""


def findings_part(verdict: Verdict, survey: Survey, library: Library) -> list[Block]:
    """Every finding with its value, doubt, limit and readings."""
    layout, bent = layout_of(survey, library), bent_horn(verdict.seen)
    rows = tuple(
        (
            str(j.finding.id),
            sentence_and_band(j, layout, survey.unit, bent),
            exact(j, survey.unit),
            f"{j.k:.2f}, {_freedom(j)}",
            _chances(j),
            _readings(j.finding.readings),
        )
        for j in verdict.judged
    )
    head = ("Finding", "In words", "Value ± u", "k, freedom", "Chance of being beyond", "Readings")
    intro = (
        "u is the standard uncertainty. The give or take is k times u: it holds the true value 19"
        " times in 20, and bands are decided with it (JCGM 100:2008). Freedom is u's own degrees of"
        " freedom."
    )
    return [
        Heading("findings", "Every finding", new_page=True),
        Paragraph(intro),
        Table("Findings", head, rows, (17, 39, 11, 8, 14, 11)),
    ]


def _freedom(judged: Judged) -> str:
    dof = judged.finding.number.dof
    return f"{dof:.0f}" if math.isfinite(dof) and dof < 1000 else "endless"


def _chances(judged: Judged) -> str:
    return "; ".join(f"{BANDS[e.band]}: {e.chance:.1%}" for e in judged.edges) or "no limit"


def _readings(ids: Iterable[str]) -> str:
    names = list(dict.fromkeys(ids))
    return (
        ", ".join(names)
        if len(names) <= MANY
        else f"{len(names)} readings, {names[0]} to {names[-1]}"
    )


def limits_part(verdict: Verdict, survey: Survey, library: Library) -> list[Block]:
    """The limits that were used, bound by bound, with their sources."""
    used = dict.fromkeys(j.finding.limit for j in verdict.judged if j.edges)
    rows = [
        row for id in used for row in _limit(own_bounds(survey, library.limits[id]), survey.unit)
    ]
    notes = tuple(
        f"{library.limits[id].name}: {library.limits[id].note}"
        for id in used
        if library.limits[id].note
    )
    blocks: list[Block] = [
        Heading("limits", "The limits and where they come from"),
        Table(
            "Limits",
            ("Limit", "Band", "Holds up to", "Source", "Kind of source"),
            tuple(rows),
            (26, 18, 12, 28, 16),
        ),
    ]
    return [*blocks, items(notes)] if notes else blocks


def _limit(limit: Limit, unit: Unit) -> list[tuple[str, ...]]:
    rows = [(limit.name, b, "above") for b in limit.above]
    rows += [(limit.name, b, "below zero") for b in limit.below if limit.below != limit.above]
    told = [
        (
            name,
            BANDS[b.band] + ("" if way == "above" else f" ({way})"),
            bound(b.upto_mm, limit.unit, unit),
            b.source,
            SOURCE_KINDS.get(b.mark, b.mark),
        )
        for name, b, way in rows
    ]
    return [*told, (limit.name, BANDS[limit.beyond], "beyond that", "", "")]


def readings_part(survey: Survey, library: Library) -> list[Block]:
    """Every reading as typed, the struck ones too, then tools and states."""
    case = case_of(survey, library)
    prompts, out = case.prompts, {r.id for r in case.slips.values()}
    doubts = {d.reading: d for d in survey.standing(Doubt)}
    rows = []
    for r in survey.table(Reading):
        notes = [f"struck: {r.struck}"] if r.struck else []
        if r.id in doubts:
            notes.append(f"kept although doubted ({doubts[r.id].kept}): {doubts[r.id].text}")
        notes += [OUT] if r.id in out else []
        rows.append(
            (
                r.id,
                _place(r.prompt, prompts, library),
                r.typed,
                r.tool,
                r.state,
                _when(r),
                "; ".join(notes),
            )
        )
    head = ("Id", "What was read", "As typed", "Tool", "State", "By, when", "Notes")
    bare = f"A number alone is in {'inches' if survey.unit == 'in' else 'millimeters'}."
    blocks: list[Block] = [
        Heading("typed", "Every reading as it was typed", new_page=True),
        Paragraph(bare),
    ]
    return [
        *blocks,
        Table("Readings", head, tuple(rows), (7, 37, 12, 7, 7, 15, 15)),
        *_tools(survey),
        *_states(survey, library),
    ]


def _place(id: PromptId, prompts: Mapping[PromptId, Prompt], library: Library) -> str:
    """The step and the words of a prompt; its id where the content has it no more."""
    found = prompts.get(id)
    return f"{library.steps[found.step].title}: {found.ask}" if found else str(id)


def _when(row: Row) -> str:
    when = f"{row.at:%Y-%m-%d %H:%M}" if row.at != NEVER else ""
    return ", ".join(w for w in (row.by, when) if w)


def _tools(survey: Survey) -> list[Block]:
    rows = tuple(
        (t.id, t.kind, t.name, "; ".join(f"{k} {v}" for k, v in t.extra.items()), t.struck)
        for t in survey.table(Tool)
    )
    return (
        [Table("Tools", ("Id", "Kind", "Name", "Figures", "Struck"), rows, (7, 10, 33, 40, 10))]
        if rows
        else []
    )


def _states(survey: Survey, library: Library) -> list[Block]:
    rows = tuple((s.id, state_words(s, library), _when(s)) for s in survey.table(State))
    return (
        [Table("States of the car", ("Id", "State", "By, when"), rows, (7, 73, 20))] if rows else []
    )


def looks_part(verdict: Verdict, survey: Survey) -> list[Block]:
    """Every look: where, how well it was seen, what was there."""
    rows = []
    for seen in verdict.seen:
        what = (
            seen.choice.words
            if seen.choice
            else spoken(seen.look.answer) or "nothing, it was not reached"
        )
        place = f"{seen.title}{f', {seen.side}' if seen.side else ''}"
        rows.append((seen.look.id, place, spoken(seen.look.seen), what, _when(seen.look)))
    struck = tuple(
        f"{k.id} {k.prompt}: {k.answer or k.seen}, struck: {k.struck}"
        for k in survey.table(Look)
        if k.struck
    )
    head = ("Id", "Place", "How seen", "What was there", "By, when")
    blocks: list[Block] = [
        Heading("looks", "Every place that was looked at"),
        Table("Looks", head, tuple(rows), (7, 40, 12, 23, 18)),
    ]
    return [*blocks, *([items(struck)] if struck else [])]


def remarks_part(survey: Survey, library: Library) -> list[Block]:
    """Remarks, photos, what was skipped and the signed opinions, each with who and when."""
    prompts = case_of(survey, library).prompts

    def at(row: Remark | Answer | Skip) -> str:
        return _place(row.prompt, prompts, library)

    said = [(m.id, at(m), _remark(m), _when(m)) for m in survey.standing(Remark)]
    said += [(a.id, at(a), a.answer, _when(a)) for a in _own_words(survey, prompts)]
    skips = [(s.id, at(s), s.why, _when(s)) for s in survey.standing(Skip)]
    left = [(f.id, pages_of(f, library), f.why, _when(f)) for f in survey.folds()]
    signed = [
        (o.id, o.text, f"signed {o.by or 'by nobody'}", _when(o)) for o in survey.standing(Opinion)
    ]
    blocks = [
        *_table("Remarks and photos", ("At", "Words"), said, (38, 37, 18)),
        *([Paragraph(BESIDE)] if signed else []),
        *_table("Signed opinions", ("Opinion", "Signed"), signed, (53, 20, 20)),
        *_table("Skipped", ("What", "Why"), skips, (38, 37, 18)),
        *_table("Not needed", ("What", "Why"), left, (38, 37, 18)),
    ]
    nothing = Paragraph("None were written down.")
    return [Heading("remarks", "Remarks, photos and opinions"), *(blocks or [nothing])]


def _remark(row: Remark) -> str:
    return " ".join(w for w in (row.text, f"photo {row.photo}" if row.photo else "") if w)


def _own_words(survey: Survey, prompts: Mapping[PromptId, Prompt]) -> Iterator[Answer]:
    """Answers in a person's own words that set nothing else."""
    for row in survey.standing(Answer):
        asked = prompts.get(row.prompt)
        if asked and asked.kind.tells and not asked.keep and row.answer != "-":
            yield row


def _table(
    caption: str,
    head: tuple[str, str],
    rows: Sequence[tuple[str, ...]],
    widths: tuple[int, int, int],
) -> list[Block]:
    """Rows with their ids before, and who and when behind; nothing where there are none."""
    whole = ("Id", *head, "By, when")
    return [Table(caption, whole, tuple(rows), (7, *widths))] if rows else []


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
