"""The mentor's view of one step: what to ask the newcomer, raw readings with their spread, doubts,
limits, causes.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from wizard.checks.spread import spread_of
from wizard.judgment.bands import Judged, own_bounds
from wizard.judgment.signs import POINTS, Evidence
from wizard.judgment.verdict import Verdict
from wizard.library.places import spoken, step_of
from wizard.library.shapes import Bound, Library, Step
from wizard.library.shapes_signs import CAUSES
from wizard.readings.plain import clean_line
from wizard.readings.written import write_fraction_about
from wizard.survey.guide import guide_of, layout_of
from wizard.survey.prompts import Prompt
from wizard.survey.record import Survey
from wizard.survey.rows import HIDDEN, Guess, Reading, Remark
from wizard.telling.amounts import BANDS, bound
from wizard.telling.causes_words import zone_words
from wizard.telling.document import Item, Section, section, told
from wizard.telling.report_tables import MARKS
from wizard.telling.sentences import sentence_and_band
from wizard.telling.tell import doubt_items
from wizard.telling.written_down import opinions

CAME_TO = ("result", "limits")
"""Ids of the sections that say what a step came to."""
SIGN = 4
"""Columns by which a sign stands in below its cause."""
NO_SIGN = "no sign of it"
NAMES = {points: name for name, points in POINTS.items()}
ENTRY = (
    (
        "One calls, one writes: several readings go on one line with ; between them, like 91 1/8;"
        " 91; 91 1/16."
    ),
    (
        "/second lets a second reader take the reading in front once more, blind to the first;"
        " /second step takes all. He types one reading at a time."
    ),
)
ASK_FOR_A_GUESS = (
    "Before the result shows, he says what he expects: /guess and a few words. /show shows it"
    " without."
)
NO_RESULT = "These readings give no result yet; it shows as soon as they allow."


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
    asked = section("ask", "To ask the newcomer", _questions(survey, step, hidden))
    read = section("readings", "The readings as typed", _readings(survey, library, step))
    remarks = section("remarks", "Remarks at this step", _remarks(survey, step))
    signed = replace(opinions(survey), heading="Signed opinions")
    two = section("two", "Two at the car", ENTRY)
    if hidden:
        return told([asked, read, remarks, signed, two])
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
    return told([asked, read, came_to, limits, remarks, causes, signed, two])


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
        yield "What will it come to? /guess and a few words sets his guess down."


def guesses_at(survey: Survey, step: str) -> tuple[Guess, ...]:
    """The guesses that were set down at a step."""
    return tuple(g for g in survey.standing(Guess) if step_of(g.prompt) == step)


def _readings(survey: Survey, library: Library, step: Step) -> Iterator[str]:
    for prompt in guide_of(survey, library).questions.of(step):
        if rows := survey.readings_of(prompt.id):
            typed = "; ".join(_typed(row) for row in rows)
            yield f"{prompt.ask}: {typed}{_spread(prompt, rows, survey)}"
        yield from _struck(prompt, survey)


def _struck(prompt: Prompt, survey: Survey) -> Iterator[str]:
    """What no longer counts; the first reader's, while the second reads blind, is not told."""
    struck = [r for r in survey.table(Reading) if r.prompt == prompt.id and r.struck]
    if any(r.struck == HIDDEN for r in struck):
        yield f"{prompt.ask}: hidden until both are in"
    for row in (r for r in struck if r.struck != HIDDEN):
        yield f"{prompt.ask}: {_typed(row)}, struck out: {clean_line(row.struck, 120)}"


def _typed(row: Reading) -> str:
    by = f" by {clean_line(row.by, 40)}" if row.by and row.by != "owner" else ""
    return clean_line(row.typed, 60) + by


def _spread(prompt: Prompt, rows: tuple[Reading, ...], survey: Survey) -> str:
    found = spread_of(prompt, (r.typed for r in rows), survey.unit)
    if found is None:
        return ""
    size, kind = found
    said = write_fraction_about(size, survey.unit) if kind == "mm" else f"{float(size):.3g} {kind}"
    return f" (spread {said})"


def _results(
    survey: Survey, library: Library, step: Step, results: tuple[Judged, ...]
) -> Iterator[str | Item]:
    layout = layout_of(survey, library)
    if not results and step.check:
        yield NO_RESULT
    for judged in results:
        yield sentence_and_band(judged, layout, survey.unit)
        yield from doubt_items(judged, survey)


def _limits(survey: Survey, library: Library, results: tuple[Judged, ...]) -> Iterator[str]:
    for id in dict.fromkeys(j.finding.limit for j in results if j.edges):
        table = library.limits[id]
        limit = own_bounds(survey, table)
        for own, old in zip(limit.above, table.above, strict=True):
            upto, was = (bound(b.upto_mm, limit.unit, survey.unit) for b in (own, old))
            yield f"{limit.name}: {BANDS[own.band]} up to {upto}; {_provenance(own, old, was)}"
        yield f"{limit.name}: beyond that {BANDS[limit.beyond]}."
        if limit.note:
            yield f"{limit.name}: {limit.note}"


def _provenance(own: Bound, old: Bound, was: str) -> str:
    """was: the table's own end of the band, in words."""
    source = clean_line(own.source, 300).rstrip(".")
    if own.mark == "owner":
        return (
            f"changed for this survey, {source}; the table has {was} from {old.source.rstrip('.')}."
        )
    if own.upto_mm != old.upto_mm:
        return f"moved from {was} to make room for a changed one; {source}."
    kind = MARKS.get(own.mark, own.mark)
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
        yield f"{library.signs.causes[cause].name}: {answer}"
        rows = [f"for, {_row(e, e.points.get(cause, 0))}" for e in found.signs]
        rows += [f"against, {_row(e, e.against.get(cause, 0))}" for e in found.against]
        if found.unmet:
            still = ", ".join(dict.fromkeys(w.step for w in found.unmet))
            rows.append(f"still open (not seen bare on both sides, or not measured): {still}")
        yield from (Item(row, inset=SIGN) for row in rows)


def _row(e: Evidence, points: int) -> str:
    where = ", ".join(zone_words(z) for z in e.zones)
    seen = f", seen {spoken(e.seen)}" if e.seen else ""
    return (
        f"{NAMES.get(points, 'weak')}: {e.sign.words}{f' ({where})' if where else ''}{seen}"
        f" [{', '.join(e.sources)}]"
    )
