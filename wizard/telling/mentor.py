"""What a mentor looks at: the pairs as they were typed, one step with its raw readings, doubts and
limits, and what stands behind a number and a cause.
"""

from __future__ import annotations

import math
import textwrap
from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import groupby, zip_longest

from wizard.checks.case import Case, case_of
from wizard.judgment.bands import Judged, own_bounds
from wizard.judgment.seen import bent_horn
from wizard.judgment.sight import sight_of
from wizard.judgment.signs import POINTS, Evidence
from wizard.judgment.sister import beside
from wizard.judgment.verdict import Verdict
from wizard.library import marks
from wizard.library.kinds import bubble_of, length_of
from wizard.library.places import (
    DIFFERENCE,
    NO_PLACE,
    NO_STEP,
    SIDES,
    WHOLE_BOX,
    FindingId,
    PointId,
    PromptId,
    StepId,
    asked_of,
    finding_id,
    prompt_id,
    spoken,
    step_of,
    where_id,
)
from wizard.library.shapes import Bound, Box, Library, Step
from wizard.library.shapes_signs import CAUSES
from wizard.math.student import coverage_factor
from wizard.math.uncertain import Part, Uncertain
from wizard.readings.plain import clean_line
from wizard.readings.refused import Refused
from wizard.readings.written import number_about, write_fraction_about
from wizard.survey.guide import guide_of, layout_of, steps_of
from wizard.survey.prompts import Prompt, wanting
from wizard.survey.record import Survey, Unit
from wizard.survey.rows import HIDDEN, SECOND, STRUCK, Guess, Reading, Remark
from wizard.telling.amounts import BANDS, OUT, SOURCE_KINDS, bound, exact, sides, whole_steps
from wizard.telling.asking import not_needed
from wizard.telling.causes_words import zone_words
from wizard.telling.document import Block, Heading, Item, Quote, Section, Table, section, told
from wizard.telling.part_words import part_words, prompt_words
from wizard.telling.sentences import sentence_and_band
from wizard.telling.sister_words import beside_line
from wizard.telling.written_down import opinions

CAME_TO = ("result", "limits")
"""Ids of the sections that say what a step came to."""
SIGN = 4
"""Columns by which a sign stands in below its cause."""
NO_SIGN = "no sign of it"
NOT_KNOWN = "not known yet"
NAMES = {points: name for name, points in POINTS.items()}
ENTRY = (
    (
        "If one of you reads and the other types, put several readings on one line with ; between"
        " them, like 91 1/8; 91; 91 1/16."
    ),
    (
        "To let a second reader take this reading without seeing the first, type /second; for the"
        " whole page, type /second page. He types one reading at a time."
    ),
)
ASK_FOR_A_GUESS = (
    "Before the result shows, ask him what he expects: type /guess and a few words. To see it without"
    " a guess, type /show."
)
NO_RESULT = "These readings give no result yet. It shows once enough is measured."


def mentor_parts(
    survey: Survey,
    library: Library,
    step: Step,
    results: tuple[Judged, ...],
    verdict: Verdict | None,
    hidden: bool,
) -> tuple[Section, ...]:
    """The page, part by part.

    results: what the step's readings say; verdict: for the causes, None leaves them out; hidden:
    True while the newcomer's guess is waited for, so that nothing computed shows.
    """
    step = step.on(layout_of(survey, library))
    asked = section("ask", "To ask the newcomer", _questions(survey, step, hidden))
    moves = section("moves", "The moves", (f"{n}. {m}" for n, m in enumerate(step.how, start=1)))
    read = section("readings", "The readings as typed", _readings(survey, library, step))
    remarks = section("remarks", "Remarks on this page", _remarks(survey, step))
    signed = opinions(survey)._replace(heading="Signed opinions")
    two = section("two", "Two at the car", ENTRY)
    if hidden:
        return told([asked, moves, read, remarks, signed, two])
    came_to = section(
        "result",
        "The result, and where its doubt comes from",
        _results(survey, library, step, results),
    )
    limits = section(
        "limits", "Its limits, and where they come from", _limits(survey, library, results)
    )
    causes = section(
        "causes",
        "What speaks for each cause, over the whole survey",
        cause_rows(verdict, library) if verdict else (),
    )
    return told([asked, moves, read, came_to, limits, remarks, causes, signed, two])


def _questions(survey: Survey, step: Step, hidden: bool) -> Iterator[str]:
    if step.mentor:
        yield step.mentor
    guesses = guesses_at(survey, step.id)
    for guess in guesses:
        yield (
            f"Guessed by {clean_line(guess.by or 'nobody named', 60)}:"
            f" {clean_line(guess.text, 500)}"
        )
    if hidden:
        yield ASK_FOR_A_GUESS
    elif not guesses and step.check:
        yield "What does he expect? To write his guess down, type /guess and a few words."


def guesses_at(survey: Survey, step: StepId) -> tuple[Guess, ...]:
    """The guesses that were set down at a step."""
    return tuple(g for g in survey.standing(Guess) if step_of(g.prompt) == step)


def _readings(survey: Survey, library: Library, step: Step) -> Iterator[str]:
    slips = case_of(survey, library).slips
    for prompt in guide_of(survey, library).questions.of(step):
        rows = survey.readings_of(prompt.id)
        if rows and prompt.reads == marks.DRILL and wanting(survey, prompt):
            yield f"{prompt.ask}: {len(rows)} of {prompt.repeats} taken, hidden until all are in"
        elif rows:
            out = slips.get(prompt.id)
            typed = "; ".join(_typed(row) + (f" ({OUT})" if row is out else "") for row in rows)
            yield f"{prompt.ask}: {typed}{_spread(prompt, rows, survey)}"
        if why := survey.folded(prompt.id):
            yield f"{prompt.ask}{', more of it' if rows else ''}: {not_needed(why)}"
        yield from _struck(prompt, survey)


def _struck(prompt: Prompt, survey: Survey) -> Iterator[str]:
    """What no longer counts; the first reader's, while the second reads blind, is not told."""
    struck = [r for r in survey.table(Reading) if r.prompt == prompt.id and r.struck]
    if any(r.struck == HIDDEN for r in struck):
        yield f"{prompt.ask}: hidden until both are in"
    for row in (r for r in struck if r.struck != HIDDEN):
        why = "" if row.struck == STRUCK else f": {clean_line(row.struck, 120)}"
        yield f"{prompt.ask}: {_typed(row)}, struck out{why}"


def _typed(row: Reading) -> str:
    by = f" by {clean_line(row.by, 40)}" if row.by and row.by != "owner" else ""
    return clean_line(row.typed, 60) + by


def _spread_of(prompt: Prompt, typed: Iterable[str], unit: Unit) -> tuple[Fraction, str] | None:
    """The largest reading less the smallest, and what it is in: mm, divisions, degrees, or mm for a
    shim.

    typed: the readings of that prompt. None for fewer than two, or where one cannot be read or is
    of another kind.
    """
    values: list[tuple[Fraction, str]] = []
    for text in typed:
        try:
            values.append(_as_typed(prompt, text, unit))
        except Refused:
            return None
    if len(values) < 2 or len({kind for _, kind in values}) > 1:
        return None
    numbers = [number for number, _ in values]
    return max(numbers) - min(numbers), values[0][1]


def _as_typed(prompt: Prompt, text: str, unit: Unit) -> tuple[Fraction, str]:
    """Raises Refused."""
    if not prompt.kind.tilts:
        return length_of(prompt, text, unit), "mm"
    bubble = bubble_of(text, unit)
    return bubble.value, "mm" if bubble.kind == "shim" else bubble.kind


def _spread(prompt: Prompt, rows: tuple[Reading, ...], survey: Survey) -> str:
    found = _spread_of(prompt, (r.typed for r in rows), survey.unit)
    if found is None:
        return ""
    size, kind = found
    said = write_fraction_about(size, survey.unit) if kind == "mm" else f"{float(size):.3g} {kind}"
    return f" (spread {said})"


def _results(
    survey: Survey, library: Library, step: Step, results: tuple[Judged, ...]
) -> Iterator[str | Item]:
    layout, bent = layout_of(survey, library), bent_horn(sight_of(survey, library).seen)
    if not results and step.check:
        yield NO_RESULT
    for judged in results:
        yield sentence_and_band(judged, layout, survey.unit, bent)
        yield from doubt_items(judged, survey, library)


def _limits(survey: Survey, library: Library, results: tuple[Judged, ...]) -> Iterator[str | Item]:
    """Each limit from both sides, and where its figures come from."""
    for id in dict.fromkeys(j.finding.limit for j in results if j.edges):
        table = library.limits[id]
        limit = own_bounds(survey, table)
        yield f"{limit.name}: {sides(limit, survey.unit)}."
        for own, old in zip(limit.above, table.above, strict=True):
            upto, was = (bound(b.upto_mm, limit.unit, survey.unit) for b in (own, old))
            yield Item(f"{upto}: {_provenance(own, old, was)}", inset=SIGN)
        if limit.note:
            yield f"{limit.name}: {limit.note}"


def _provenance(own: Bound, old: Bound, was: str) -> str:
    """was: the table's own end of the band, in words."""
    source = clean_line(own.source, 300).rstrip(".")
    if own.mark == "owner":
        return f"changed for this survey, {source}; the table says {was}, {old.source.rstrip('.')}."
    if own.upto_mm != old.upto_mm:
        return f"moved from {was} to make room for the changed one; {source}."
    kind = SOURCE_KINDS.get(own.mark, own.mark)
    return f"{source}." if kind in source else f"{source} ({kind})."


def _remarks(survey: Survey, step: Step) -> Iterator[str]:
    for row in survey.standing(Remark):
        if step_of(row.prompt) == step.id:
            photo = f"photo {row.photo}" if row.photo else ""
            yield (
                clean_line("; ".join(w for w in (row.text, photo) if w), 600)
                + f" ({clean_line(row.by, 60)})"
            )


def cause_rows(verdict: Verdict, library: Library) -> Iterator[str | Item]:
    """A line for each cause, and under it one for each sign."""
    for cause in CAUSES:
        found = verdict.causes.conclusions.get(cause)
        if found is None:
            continue
        answer = NO_SIGN if found.answer == "none" else spoken(found.answer)
        answer = NOT_KNOWN if found.cannot_tell else answer
        yield f"{library.signs.causes[cause].name}: {answer}"
        rows = [f"for, {_row(e, e.points.get(cause, 0))}" for e in found.signs]
        rows += [f"against, {_row(e, e.against.get(cause, 0))}" for e in found.against]
        if found.unmet:
            still = "; ".join(dict.fromkeys(library.steps[w.step].title for w in found.unmet))
            rows.append(f"still open (not seen bare on both sides, or not measured): {still}")
        yield from (Item(row, inset=SIGN) for row in rows)


def _row(e: Evidence, points: int) -> str:
    where = ", ".join(zone_words(z) for z in e.zones)
    seen = f", seen {spoken(e.seen)}" if e.seen else ""
    return f"{NAMES.get(points, 'weak')}: {e.sign.words}{f' ({where})' if where else ''}{seen}"


UNDER, DEEPER = 6, 8
"""Columns by which what is behind a finding stands in below it."""


def doubt_items(judged: Judged, survey: Survey, library: Library) -> Iterator[Item]:
    """The uncertainty table of one finding and the readings behind it."""
    number, unit = judged.finding.number, judged.finding.unit
    dof = f"{number.dof:.0f}" if math.isfinite(number.dof) else "infinite"
    if judged.finding.is_unknown:
        yield Item(f"{exact(judged, survey.unit)}, from these readings:", inset=UNDER)
    else:
        k = f"k {judged.k:.2f}{_why_larger(judged)}"
        value = f"{exact(judged, survey.unit)} (u), degrees of freedom {dof}, {k}"
        yield Item(value, inset=UNDER)
        yield Item(f"parts of u in {unit}, the greatest first:", inset=UNDER)
        yield from _parts(number)
    rows = {r.id: r for r in survey.table(Reading)}
    for row in (rows[id] for id in judged.finding.readings if id in rows):
        read = f"{asked_at(row.prompt, survey, library)}: {row.typed} ({row.id})"
        yield Item(clean_line(read, 300), inset=DEEPER, hang=2)
    yield from _edge_items(judged, survey.unit)


def _edge_items(judged: Judged, to: Unit) -> Iterator[Item]:
    """Each band's end, and the chance that the true value is beyond it."""
    unit = judged.finding.unit
    for edge in judged.edges:
        ends = [bound(abs(e), unit, to) for e in (edge.low, edge.high) if e is not None]
        span = ends[0] if len(set(ends)) == 1 else " one way, ".join(ends) + " the other"
        beyond = f"chance of being beyond that {_chance(edge.chance)} (limit: {edge.source})"
        yield Item(f"{BANDS[edge.band]}: up to {span}; {beyond}.", inset=UNDER)


def _why_larger(judged: Judged) -> str:
    """Why k is larger than its degrees of freedom alone make it; empty where it is not."""
    plain = coverage_factor(judged.finding.number.dof)
    return f", more than the usual {plain:.2f}: {LARGER}" if judged.k > plain + 0.005 else ""


def _chance(chance: float) -> str:
    """In percent; never as if nothing, or everything, were certain."""
    said = f"{chance:.1%}"
    return {"0.0%": "under 0.1%", "100.0%": "over 99.9%"}.get(said, said)


LARGER = "it is the worst of several places, or is told because it may be out"
"""Why one finding's interval is wider than its degrees of freedom alone make it."""


def sister_items(
    judged: Judged, survey: Survey, library: Library, *, parts: bool
) -> Iterator[Item]:
    """What a sister frame says of one finding; parts: and where the doubt of that comes from."""
    found = beside(survey, library)
    change = found.of(judged.finding.id) if found else None
    if found is None or change is None:
        return
    yield Item(beside_line(found, judged.finding.id, survey.unit), inset=UNDER)
    if parts:
        number, unit = change.number, judged.finding.unit
        yield Item(f"here less there {number.value:.3f} ± {number.u:.3f} {unit} (u)", inset=DEEPER)
        yield from _parts(number)


FOLDED = 1 / 20
"""Share of the whole doubt under which a part is told with the others like it: they change nothing
that a mentor would do.
"""


def asked_at(prompt: PromptId, survey: Survey, library: Library) -> str:
    """What was read, as its page asks for it; by its id where no page does any more."""
    asked = case_of(survey, library).prompts.get(prompt)
    return (
        f"{steps_of(survey, library)[asked.step].title}, {asked.ask}"
        if asked
        else prompt_words(prompt)
    )


def _parts(number: Uncertain) -> Iterator[Item]:
    """The parts of a doubt, those of one size and source together; the small ones in one line."""
    ranked = sorted(number.parts, key=lambda p: -abs(p.size))
    great = [p for p in ranked if abs(p.size) >= FOLDED * number.u]
    small = ranked[len(great) :]
    if len(small) == 1:  # its own line is no longer than the one for many
        great, small = ranked, []
    for (size, shared, source), alike in groupby(great, _kind_of):
        names = "; ".join(part_words(p.name) for p in alike)
        each = "each, " if ";" in names else ""
        said = f"{size}  {names} ({each}{'shared' if shared else 'own'}): {source}"
        yield Item(said, inset=UNDER, hang=12)
    if small:
        together = math.hypot(*(p.size for p in small))
        names = "; ".join(part_words(p.name) for p in small)
        said = f"{together:8.3f}  {len(small)} more together, each under a twentieth of u: {names}"
        yield Item(said, inset=UNDER, hang=12)


def _kind_of(part: Part) -> tuple[str, bool, str]:
    """What parts that are told in one line have in common."""
    return (
        f"{abs(part.size):8.3f}",
        part.shared,
        part.source + (f" ({part.whose})" if part.whose else ""),
    )


# The pairs, as typed
# --------------------------------------------------------------------------------------
HEADING = "The pairs, as typed"
WIDTHS = (15, 13, 13, 6, 6, 21)
HEAD = ("pair", "left or 1st", "right or 2nd", "spread", "apart", "result")

ZERO = number_about(0.0, "in")
FINEST: dict[Unit, float] = {"in": 25.4 / 32, "mm": 0.5}
"""The least size that is said, in mm."""


@dataclass(frozen=True, slots=True)
class _Pair:
    """A row of the table before it is written."""

    name: str
    left: tuple[PromptId, ...]
    """Prompt ids."""
    right: tuple[PromptId, ...]
    results: tuple[FindingId, ...]
    """Ids of findings: the first that there is."""
    both: bool = False
    """Whether every one of them is told, a rail each."""


def pairs(verdict: Verdict, survey: Survey, library: Library) -> tuple[Block, ...]:
    """The table, at most 80 columns; empty where no pair was read."""
    case = case_of(survey, library)
    rows = [row for pair in _pairs(case) if (row := _pair_row(pair, case, verdict, survey.unit))]
    lines = (line for row in (HEAD, *rows) for line in _laid(row))
    table = Table("", HEAD, tuple(rows), WIDTHS)
    return (Heading("pairs", HEADING), Quote((*lines, *ADJUSTED, ""), table)) if rows else ()


ADJUSTED = (
    "Apart is of the two alone. The result is by all that was taped together, so it",
    "may differ from that by what the others correct.",
)


def _pairs(case: Case) -> Iterator[_Pair]:
    whole = [b for b in case.layout.boxes if not b.through]
    boxes = [b for b in whole if b.id != case.layout.horns]
    yield from (_crosswise(box, case) for box in boxes)
    yield from (_sides(box, case) for box in boxes if _has_sides(box, len(whole)))
    yield _bar(case)
    # Of the horns only the diagonals are a pair.
    for horns in (b for b in whole if b.id == case.layout.horns):
        tips = _crosswise(horns, case)
        yield replace(
            tips,
            name=f"{horns.name} crosswise",
            results=(finding_id(marks.HORN_APART, DIFFERENCE),),
        )
    axles = case.library.page[marks.AXLES]
    left, right = ((prompt_id(axles, NO_PLACE, side),) for side in SIDES)
    results = (finding_id(marks.WHEELBASE, DIFFERENCE),)
    yield _Pair(spoken(marks.WHEELBASE), left, right, results)
    yield from _heights(case)


def _bar(case: Case) -> _Pair:
    """The front box by the bar, whose tapes have no twin."""
    asked = (case.prompts[id] for id in case.by_prompt if id in case.prompts)
    carried = (prompt.id for prompt in asked if prompt.reads == marks.CARRIED_BAR)
    tapes = tuple(id for id in carried if asked_of(id).tape)
    return _Pair("front box, bar", tapes, (), (finding_id(marks.RAIL_SHIFT, marks.BY_BAR),))


def _crosswise(box: Box, case: Case) -> _Pair:
    front, rear = case.layout.place(box.front).pair, case.layout.place(box.rear).pair
    ends = rear[::-1] if front[0] != front[1] else rear
    left, right = (_taped(case, a, b) for a, b in zip(front, ends, strict=True))
    return _Pair(f"{_short(box)} diag.", left, right, (finding_id(marks.RAIL_SHIFT, box.id),))


def _sides(box: Box, case: Case) -> _Pair:
    front, rear = case.layout.place(box.front).pair, case.layout.place(box.rear).pair
    left, right = (_taped(case, a, b) for a, b in zip(front, rear, strict=True))
    return _Pair(
        f"{_short(box)} sides",
        left,
        right,
        (finding_id(marks.MASH, box.id), finding_id(marks.OWN_SIDES, box.id)),
    )


def _has_sides(box: Box, boxes: int) -> bool:
    """Not the nose, and not the whole frame where its parts tell it."""
    return box.role != marks.NOSE and not (box.id == WHOLE_BOX and boxes > 2)


def _short(box: Box) -> str:
    return "whole" if box.id == WHOLE_BOX else box.name


def _heights(case: Case) -> Iterator[_Pair]:
    """Under the string at the engine mount, and the level at the first place and the last."""
    yield from _sags(case)
    page, levels = case.library.page[marks.SLOPES], case.layout.levels
    for level in (levels[0], levels[-1]) if levels else ():
        left, right = ((prompt_id(page, level.id, way),) for way in ("as-set", "turned"))
        results = (finding_id(marks.HORN_HEIGHT, level.id), finding_id(marks.TWIST, level.id))
        yield _Pair(f"level, {level.id}", left, right, results)


def _sags(case: Case) -> Iterator[_Pair]:
    x = case.layout.figures.get("engine_mount_x")
    if x is None or not case.layout.stations:
        return
    mount = min(case.layout.stations, key=lambda s: abs(s.x - x)).id
    for quantity, name in ((marks.SAG_UNLOADED, "engine off"), (marks.SAG_LOADED, "engine on")):
        page = case.library.quantities[quantity].read_at or NO_STEP
        left, right = ((prompt_id(page, mount, side),) for side in SIDES)
        results = tuple(finding_id(quantity, where_id(mount, side)) for side in SIDES)
        yield _Pair(f"sag, {name}", left, right, results, both=True)


def _taped(case: Case, a: PointId, b: PointId) -> tuple[PromptId, ...]:
    """Prompts that tape the distance between two points; the hand's own exercise is not one of
    them.
    """
    between = {a, b}
    return tuple(
        id
        for id, prompt in case.prompts.items()
        if {prompt.start, prompt.end} == between
        and prompt.reads not in (marks.DRILL, marks.CARRIED_BAR)
    )


def _pair_row(pair: _Pair, case: Case, verdict: Verdict, unit: Unit) -> tuple[str, ...] | None:
    left, right = ([id for id in ids if id in case.by_prompt] for ids in (pair.left, pair.right))
    if not left or (pair.right and not right):
        return None
    typed = (_typed_side(side, case) for side in (left, right))
    apart = _apart(left[0], right[0], case, unit) if right else ""
    spread = _greatest([*left, *right], case, unit)
    return pair.name, *typed, spread, apart, _pair_result(pair, verdict, unit)


def _typed_side(side: Sequence[PromptId], case: Case) -> str:
    rows = (row for id in side for row in case.by_prompt[id])
    out = {r.id for r in case.slips.values()}
    return "; ".join(_once([clean_line(row.typed, 40) + _aside(row, out) for row in rows]))


def _aside(row: Reading, out: Collection[str]) -> str:
    """What is said beside a reading: that a second reader took it, that it does not count."""
    return (" (2nd reader)" if row.by == SECOND else "") + (" (out)" if row.id in out else "")


def _greatest(ids: Sequence[PromptId], case: Case, unit: Unit) -> str:
    """The greatest spread of any prompt that was read more than once."""
    found = (_spread_of(case.prompts[i], (r.typed for r in case.by_prompt[i]), unit) for i in ids)
    most = max((spread for spread in found if spread is not None), default=None)
    if most is None:
        return ""
    size, kind = most
    return number_about(abs(size), unit) if kind == "mm" else f"{float(size):.2g}"


def _once(typed: Sequence[str]) -> list[str]:
    """Equal readings in a row once, with their number."""
    counted = [(text, len(list(same))) for text, same in groupby(typed)]
    return [f"{text} x{n}" if n > 1 else text for text, n in counted]


def _apart(left: PromptId, right: PromptId, case: Case, unit: Unit) -> str:
    """How far apart the means of two prompts are; nothing of bubbles, which are turned round."""
    one, other = case.taken(left), case.taken(right)
    if one is None or other is None or one.prompt.kind.tilts:
        return ""
    return number_about(abs(one.number.value - other.number.value), unit)


def _pair_result(pair: _Pair, verdict: Verdict, unit: Unit) -> str:
    found = {j.finding.id: j for j in verdict.judged}
    there = [found[i] for i in pair.results if i in found]
    if not there:
        return "none yet"
    if not pair.both:
        return _one(there[0], unit)
    sizes = "; ".join(_signed(j.finding.value, unit) for j in there)
    return f"{sizes} low ± {_doubt(max(there, key=lambda j: j.told_half), unit)}"


def _signed(value: float, unit: Unit) -> str:
    return ("-" if value < 0 else "") + number_about(abs(value), unit)


def _one(judged: Judged, unit: Unit) -> str:
    value, size = judged.finding.value, number_about(abs(judged.finding.value), unit)
    way = judged.finding.of.end(value)
    return f"{way + ' ' if size != ZERO else ''}{size} ± {_doubt(judged, unit)}"


def _doubt(judged: Judged, unit: Unit) -> str:
    """Never zero, as in every sentence."""
    if number_about(judged.told_half, unit) == ZERO:
        return f"<{number_about(FINEST[unit], unit)}"
    return number_about(whole_steps(judged.told_half, "mm", unit), unit)


def _laid(row: Sequence[str]) -> list[str]:
    """The cells side by side, each wrapped in its column."""
    widths = list(WIDTHS)
    if not row[2]:  # What has no twin may take its room.
        row, widths = (*row[:2], *row[3:]), [*widths[:1], widths[1] + 1 + widths[2], *widths[3:]]
    cells = [textwrap.wrap(text, width) or [""] for text, width in zip(row, widths, strict=True)]
    lines = zip_longest(*cells, fillvalue="")
    return [
        " ".join(p.ljust(w) for p, w in zip(line, widths, strict=True)).rstrip() for line in lines
    ]
