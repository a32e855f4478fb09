"""The tables of the report: every finding, limit, reading, look and remark, with where each comes
from.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import groupby

from wizard.checks.case import case_of
from wizard.judgment.bands import Judged, own_bounds
from wizard.judgment.seen import Seen, bent_horn
from wizard.judgment.sister import Beside, beside
from wizard.judgment.verdict import Verdict
from wizard.library.places import PromptId, StepId, part_of, spoken, step_of
from wizard.library.shapes import Bound, Library, Limit, Step
from wizard.survey.guide import layout_of, steps_of
from wizard.survey.prompts import Prompt
from wizard.survey.record import Survey, Unit
from wizard.survey.rows import (
    NEVER,
    SAME_AS,
    STRUCK,
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
from wizard.telling.amounts import BANDS, NOT_KNOWN, OUT, SOURCE_KINDS, UNITS, about, bound
from wizard.telling.document import Block, Heading, Paragraph, Table, items
from wizard.telling.enough_words import pages_of
from wizard.telling.sentences import sentence_and_band
from wizard.telling.sister_words import beside_line
from wizard.telling.state_words import state_words
from wizard.telling.written_down import guess_lines

BESIDE = "Opinions stand beside the program's verdict, never in its place."
MANY = 3
"""Readings named one by one behind a finding; more are counted, with the first and the last."""
RULE = (
    (
        "Give or take is U, the expanded doubt: k times the standard doubt, where k is Student's"
        " factor for the degrees of freedom beside it (freedom). The true value lies within U of the value 19"
        " times in 20 (JCGM 100:2008). Of the worst of several places, and of what is told because"
        " it may be out, k is larger, so that this holds of those too."
    ),
    (
        "The band is decided by the chance that the true value is beyond a limit, one side at a time"
        " (JCGM 106:2012, one-sided, 95 %). At 95 % or more it is beyond; where several places were"
        " looked at for the worst, at 100 % less 5 % shared among them. It is within where the chances"
        " on both sides together are 5 % or less. Between the two it is open, and both bands are named."
    ),
    (
        "So a figure whose true value lies right at a limit is called beyond it at most once in 20, and"
        " within it at most once in 20, as far as the doubts are known."
    ),
)
"""How bands are decided, in words: what wizard/judgment/bands.py does."""


def findings_part(verdict: Verdict, survey: Survey, library: Library) -> list[Block]:
    """Every finding with its value, doubt, limit and readings."""
    layout, bent = layout_of(survey, library), bent_horn(verdict.seen)
    sister = beside(survey, library)
    rows = tuple(
        (
            str(j.finding.id),
            sentence_and_band(j, layout, survey.unit, bent) + _by_sister(sister, j, survey.unit),
            _value(j, survey.unit),
            "none" if j.finding.is_unknown else f"{j.k:.2f}, {_freedom(j)}",
            _chances(j, survey.unit),
            _doubts(j),
            _readings(j.finding.readings),
        )
        for j in verdict.judged
    )
    head = (
        *("Finding", "In words", "Value ± U", "k, freedom"),
        *("Chance that it is beyond", "Doubt by", "Rests on"),
    )
    return [
        Heading("findings", "Every finding and its doubt"),
        Heading("rule", "How a figure is judged", 3),
        *map(Paragraph, (*RULE, DOUBTS)),
        *_filled(Table("Findings", head, rows, (15, 41, 7, 7, 11, 12, 7)), "Nothing was computed."),
    ]


def _filled(table: Table, nothing: str) -> tuple[Block, ...]:
    """A table; where it has no rows, what is said in its place."""
    return (table if table.rows else Paragraph(nothing),)


def _by_sister(sister: Beside | None, judged: Judged, unit: Unit) -> str:
    """What the sister frame says of it, behind its sentence; empty where it says nothing."""
    line = beside_line(sister, judged.finding.id, unit) if sister else ""
    return f" {line}" if line else ""


def _value(judged: Judged, unit: Unit) -> str:
    """The value and U, with as many decimals as they deserve; never the standard doubt, which is
    less than anybody may rely on.
    """
    found = judged.finding
    if found.is_unknown:
        return NOT_KNOWN
    return UNITS[found.unit].exact(found.value, judged.told_half, unit)


def _freedom(judged: Judged) -> str:
    dof = judged.finding.number.dof
    return f"{dof:.0f}" if math.isfinite(dof) and dof < 1000 else "endless"


def _chances(judged: Judged, unit: Unit) -> str:
    """`3 mm: 3.1 %`: the chance that it is beyond the end of each band, as far as there is one; the
    ends further out are less likely still.
    """
    said = []
    for edge in judged.edges:
        end = edge.high if judged.finding.value >= 0 or edge.low is None else -edge.low
        at = about(end, judged.finding.unit, unit) if end is not None else BANDS[edge.band]
        said.append(f"{at}: {chance_words(edge.chance)}")
        if edge.chance < LEAST:
            break
    return "; ".join(said) or "no limit"


LEAST = 0.001
"""A chance that is told as one, and no number."""


def chance_words(chance: float) -> str:
    """A chance in percent; never 0 or 100, for no reading shows that.

    >>> chance_words(0.0312), chance_words(0.99999), chance_words(1e-9)
    ('3.1 %', 'over 99.9 %', 'under 0.1 %')
    """
    if chance > 1 - LEAST:
        return "over 99.9 %"
    return "under 0.1 %" if chance < LEAST else f"{100 * chance:.1f} %"


PARTS = {
    "hand": "hand",
    "scatter": "hand",
    "tape": "tape",
    "hang": "hang",
    "point": "spot",
    "round": "sizes",
    "string": "string",
    "blocks": "blocks",
    "station": "station",
    "level": "level",
    "gauge": "gauge",
    "floor": "floor",
    "forged": "forged",
    "bend": "few",
    "crown": "few",
    "height": "height",
    "bar": "bar",
    "foretold": "sizes",
}
"""Kinds of parts of a doubt, in a word."""
DOUBTS = (
    "What a doubt comes from, by its share of the square: hand is the hand and the scale, tape the"
    " tape's class, hang the blade that hangs, spot which spot is the point, sizes the round sizes"
    " of the frame, string the string's dip, blocks the string's blocks, station the flange and the"
    " station, level the level's division, few that there are few stations, height the height of a"
    " point, bar the bar, gauge the angle gauge's own zero, floor the floor and how the car stands"
    " on it, forged the beam as it was forged."
)
"""What those words mean."""
TOLD = 3
"""Kinds of parts told of one doubt."""


def _doubts(judged: Judged) -> str:
    """The kinds of parts of a doubt by their share of its square, the greatest first."""
    shares: dict[str, float] = {}
    for part in judged.finding.number.parts:
        kind = part_of(part.name).kind
        name = PARTS.get(kind, spoken(kind))
        shares[name] = shares.get(name, 0.0) + part.size**2
    whole = sum(shares.values())
    if whole <= 0.0:
        return ""
    ranked = sorted(shares.items(), key=lambda pair: -pair[1])
    great = [pair for pair in ranked[:TOLD] if pair[1] >= 0.005 * whole]
    said = [f"{name} {100 * share / whole:.0f} %" for name, share in great]
    rest = 100 * sum(share for _, share in ranked[len(great) :]) / whole
    return "; ".join([*said, f"else {rest:.0f} %"] if rest >= 0.5 else said)


def _readings(ids: Iterable[str]) -> str:
    names = list(dict.fromkeys(ids))
    return ", ".join(names) if len(names) <= MANY else f"{len(names)}, {names[0]} to {names[-1]}"


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
        *_filled(
            Table("Limits", ("Limit", "Bands", "Source"), tuple(rows), (20, 46, 34)), NO_LIMIT
        ),
    ]
    return [*blocks, items(notes)] if notes else blocks


NO_LIMIT = "Nothing was measured that a limit judges."


def _limit(limit: Limit, unit: Unit) -> Iterator[tuple[str, ...]]:
    """A row for each source, with the bounds that come from it one after another."""
    rows = [(b, "") for b in limit.above]
    rows += [(b, " (below zero)") for b in limit.below if limit.below != limit.above]
    for (source, mark), some in groupby(rows, key=lambda row: (row[0].source, row[0].mark)):
        ends = [
            f"{BANDS[b.band]}{way} up to {bound(b.upto_mm, limit.unit, unit)}" for b, way in some
        ]
        beyond = [f"beyond that {BANDS[limit.beyond]}"] if (source, mark) == _last(rows) else []
        yield (
            limit.name,
            "; ".join([*ends, *beyond]),
            _of_kind(source, SOURCE_KINDS.get(mark, mark)),
        )


def _of_kind(source: str, kind: str) -> str:
    """A source with its kind, where its own words do not say it."""
    return source if source.startswith(kind) else f"{source} ({kind})"


def _last(rows: Sequence[tuple[Bound, str]]) -> tuple[str, str]:
    """The source of the last bound."""
    return rows[-1][0].source, rows[-1][0].mark


def readings_part(survey: Survey, library: Library) -> list[Block]:
    """Every reading as typed, the struck ones too, then tools and states."""
    count = len(survey.table(Reading))
    many = "1 reading" if count == 1 else f"{count} readings"
    bare = f"A number alone is in {'inches' if survey.unit == 'in' else 'millimeters'}."
    return [
        Heading("typed", "Every reading as it was typed"),
        Paragraph(f"{bare} {many}, those struck out with them. {IN_ORDER}"),
        *_filled(_read(survey, library), "Nothing was read."),
        *_tools(survey),
        *_states(survey, library),
    ]


def _read(survey: Survey, library: Library) -> Table:
    rows = tuple(_reading_rows(survey, library))
    return Table("Readings", ("What was read", "Readings, as typed"), rows, (38, 62), narrow=True)


IN_ORDER = (
    "What they share stands over them: the page, tool, state, reader and day. Their numbers say in"
    " which order they were taken."
)


def _reading_rows(survey: Survey, library: Library) -> Iterator[tuple[str, str]]:
    """A row for each thing that was read, under a row that says what they share."""
    prompts, notes = case_of(survey, library).prompts, _notes(survey, library)
    titles = steps_of(survey, library)
    for (step, *alike), some in groupby(survey.table(Reading), key=_alike):
        yield ", ".join(filter(None, [_title(StepId(step), titles), *alike])), ""
        by_prompt: dict[PromptId, list[str]] = {}
        for row in some:
            by_prompt.setdefault(row.prompt, []).append(_reading(row, notes.get(row.id, "")))
        for id, said in by_prompt.items():
            yield prompts[id].ask if id in prompts else str(id), "; ".join(said)


def _alike(row: Reading) -> tuple[str, ...]:
    """What readings of one group share: page, tool, state, reader, day."""
    day = f"{row.at:%Y-%m-%d}" if row.at != NEVER else ""
    return str(step_of(row.prompt)), row.tool, row.state, row.by, day


def _title(step: StepId, titles: Mapping[StepId, Step]) -> str:
    return titles[step].title if step in titles else str(step)


def _reading(row: Reading, note: str) -> str:
    """`r12 25 7/8 at 09:35 (struck: undone)`."""
    at = f" at {row.at:%H:%M}" if row.at != NEVER else ""
    return f"{row.id} {row.typed}{at}{f' ({note})' if note else ''}"


def _notes(survey: Survey, library: Library) -> dict[str, str]:
    """By id of a reading, what else is to be said of it."""
    out = {r.id for r in case_of(survey, library).slips.values()}
    doubts = {d.reading: d for d in survey.standing(Doubt)}
    notes: dict[str, list[str]] = {}
    for row in survey.table(Reading):
        why = "struck" if row.struck == STRUCK else f"struck: {row.struck}"
        said = [why] if row.struck else []
        if row.id in doubts:
            said.append(f"kept although doubted ({doubts[row.id].kept}): {doubts[row.id].text}")
        notes[row.id] = [*said, *([OUT] if row.id in out else [])]
    return {id: "; ".join(said) for id, said in notes.items() if said}


def _place(id: PromptId, prompts: Mapping[PromptId, Prompt], titles: Mapping[StepId, Step]) -> str:
    """The step and the words of a prompt; its id where the content has it no more."""
    found = prompts.get(id)
    return f"{titles[found.step].title}: {found.ask}" if found else str(id)


def _when(row: Row) -> str:
    when = f"{row.at:%Y-%m-%d %H:%M}" if row.at != NEVER else ""
    return ", ".join(w for w in (row.by, when) if w)


def _tools(survey: Survey) -> list[Block]:
    tools = survey.table(Tool)
    struck = any(t.struck for t in tools)
    rows = [(t.id, t.kind, t.called, _figures(t), t.struck) for t in tools]
    if not rows:
        return []
    # A column for what nobody did would stand empty.
    head, most = ("Id", "Kind", "Name", "Figures", "Struck"), 5 if struck else 4
    widths = (7, 10, 33, 40, 10) if struck else (7, 10, 38, 45)
    return [Table("Tools", head[:most], tuple(row[:most] for row in rows), widths)]


def _figures(tool: Tool) -> str:
    """What is known of it, as the record has it."""
    said = [f"{k} {v}" for k, v in tool.extra.items() if k != SAME_AS]
    return "; ".join([*said, *(["the same as last time"] if SAME_AS in tool.extra else [])])


def _states(survey: Survey, library: Library) -> list[Block]:
    rows = tuple((s.id, state_words(s, library), _when(s)) for s in survey.table(State))
    return (
        [Table("States of the car", ("Id", "State", "By, when"), rows, (7, 73, 20))] if rows else []
    )


def looks_part(verdict: Verdict, survey: Survey) -> list[Block]:
    """Every look: how well it was seen, what was there, and all the places of which that is true."""
    groups: dict[tuple[str, ...], list[str]] = {}
    for seen in verdict.seen:
        place = f"{seen.title}{f', {seen.side}' if seen.side else ''}"
        at = f" at {seen.look.at:%H:%M}" if seen.look.at != NEVER else ""
        groups.setdefault(_seen_alike(seen), []).append(f"{seen.look.id} {place}{at}")
    rows = tuple((*alike, "; ".join(places)) for alike, places in groups.items())
    struck = tuple(
        f"{k.id} {k.prompt}: {k.answer or k.seen}, struck: {k.struck}"
        for k in survey.table(Look)
        if k.struck
    )
    heading = Heading("looks", "Every place that was looked at")
    table = _filled(
        _once_said(Table("Looks", LOOKS, rows, (9, 18, 13, 60))), "No place was looked at."
    )
    return [heading, *_all_by(rows), *table, *([items(struck)] if struck else [])]


LOOKS = ("How seen", "What was there", "By, on", "Where")


def _all_by(rows: Sequence[tuple[str, ...]]) -> list[Block]:
    """By whom and when all was seen, where that is the same in each row and so stands in none."""
    who = {row[2] for row in rows}
    return [Paragraph(f"All of it: {said}.") for said in who if said and len(who) == 1]


def _once_said(table: Table) -> Table:
    """The table of looks without its column of who and when, where all its rows say the same."""
    if len({row[2] for row in table.rows}) != 1:
        return table
    rows = tuple((how, what, where) for how, what, _, where in table.rows)
    return Table(table.caption, (*LOOKS[:2], LOOKS[3]), rows, (9, 21, 70))


def _seen_alike(seen: Seen) -> tuple[str, str, str]:
    """How well, what, and by whom on which day."""
    look = seen.look
    what = seen.choice.words if seen.choice else spoken(look.answer)
    day = f"{look.at:%Y-%m-%d}" if look.at != NEVER else ""
    who = ", ".join(filter(None, (look.by, day)))
    return spoken(look.seen), what or "nothing, it was not reached", who


def _guesses(survey: Survey, library: Library) -> list[Block]:
    """What was expected of each page, beside what it came to."""
    lines = guess_lines(survey, library)
    return (
        [Heading("guesses", "Guesses, each beside what it came to", 3), items(lines)]
        if lines
        else []
    )


def remarks_part(survey: Survey, library: Library) -> list[Block]:
    """Remarks, photos, what was skipped and the signed opinions, each with who and when."""
    prompts = case_of(survey, library).prompts

    def at(row: Remark | Answer | Skip) -> str:
        return _place(row.prompt, prompts, steps_of(survey, library))

    said = [(m.id, at(m), _remark(m), _when(m)) for m in survey.standing(Remark)]
    said += [(a.id, at(a), a.answer, _when(a)) for a in _own_words(survey, prompts)]
    skips = _by_reason((s.why, what, _when(s)) for s, what in _skipped(survey, prompts, library))
    folds = [(f.why, f"{f.id} {pages_of(f, library)}", _when(f)) for f in survey.folds()]
    signed = [
        (o.id, o.text, f"signed {o.by or 'by nobody'}", _when(o)) for o in survey.standing(Opinion)
    ]
    blocks = [
        *_table("Remarks and photos", ("At", "Words"), said, (38, 37, 18)),
        *([Paragraph(BESIDE)] if signed else []),
        *_table("Signed opinions", ("Opinion", "Signed"), signed, (53, 20, 20)),
        *_guesses(survey, library),
        *_reasons("Skipped", skips),
        *_reasons("Not needed", _by_reason(folds)),
    ]
    nothing = Paragraph("None were written down.")
    return [Heading("remarks", "Remarks, opinions and what was skipped"), *(blocks or [nothing])]


def _skipped(
    survey: Survey, prompts: Mapping[PromptId, Prompt], library: Library
) -> Iterator[tuple[Skip, str]]:
    """Each with what was skipped; the page is named at the first of those that follow one another."""
    before, titles = ("", ""), steps_of(survey, library)
    for row in survey.standing(Skip):
        found = prompts.get(row.prompt)
        here = (row.why, str(found.step)) if found else ("", "")
        said = found.ask if found and here == before else _place(row.prompt, prompts, titles)
        yield row, f"{row.id} {said}"
        before = here


def _by_reason(rows: Iterable[tuple[str, str, str]]) -> list[tuple[str, str, str]]:
    """Of (why, what, by and when): what was left out for one reason, in one row."""
    groups: dict[str, list[tuple[str, str]]] = {}
    for why, what, when in rows:
        groups.setdefault(why, []).append((what, when))
    return [
        (why, "; ".join(what for what, _ in some), "; ".join(dict.fromkeys(w for _, w in some)))
        for why, some in groups.items()
    ]


def _reasons(caption: str, rows: Sequence[tuple[str, str, str]]) -> list[Block]:
    head = ("Why", "What", "By, when")
    return [Table(caption, head, tuple(rows), (27, 56, 17))] if rows else []


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
