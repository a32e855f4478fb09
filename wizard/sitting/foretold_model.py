"""The model's doubt of a reading that nothing else in the survey checks yet, in words.

A reading is asked about, never refused: it lies outside what any frame worth taping reads there.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Iterator, Sequence

from wizard.checks.case import Case, case_of
from wizard.library import marks
from wizard.library.places import PromptId, asked_of, mirrored
from wizard.library.shapes import Library
from wizard.model.bending import MOST
from wizard.model.foretell import Foretold, Seen, foretell
from wizard.model.sizing import Sizing, Taped, ends
from wizard.readings.plain import clean_line
from wizard.readings.refused import Refused
from wizard.readings.written import write_fraction_about
from wizard.survey.answer import as_row
from wizard.survey.guide import layout_of
from wizard.survey.prompts import Prompt
from wizard.survey.record import Survey
from wizard.survey.rows import Doubt, Reading
from wizard.survey.sizes import sizes_of

ODD = 3
"""From so many doubted tapes that were kept, at least as many as all others, the frame is none of
this kind.
"""
FAR_TIMES, FAR_MM = 2.5, 400.0
"""A tape so many times the round figure, and so far off it, tells nothing of the sizes."""
SIZED = "This frame"
UNIT_SAID = {"in": "inches", "mm": "mm"}
"""What a unit is called in a sentence."""
BLOCK, AS_SET, CALIPER = "block", "as-set", "caliper"
"""What a block's height is read at, the first of a level's two ways, what metal's thickness is read
with.
"""


def doubt_of(survey: Survey, library: Library, prompt: Prompt, typed: str) -> str:
    """One sentence for a reading that no frame worth taping gives; empty where the model has
    nothing to say.
    """
    if not prompt.kind.measures or survey.readings_of(prompt.id):
        return ""
    row = as_row(survey, prompt, typed)
    case = case_of(survey, library)
    try:
        value = case.value(row)
    except (Refused, KeyError):
        return ""
    if _is_checked(case, prompt, value):
        return ""
    sound, odd = _taped(case)
    if prompt.tool == "tape" and len(odd) >= max(ODD, len(sound)):
        return ""
    given = sizes_of(layout_of(survey, library), survey).given
    found = foretell(Sizing(case.layout, sound, given), prompt, _seen(case, prompt))
    if found is None or found.holds(value):
        return ""
    return _words(case, prompt, row, value, found, SIZED if sound else "A frame of this kind")


def _is_checked(case: Case, prompt: Prompt, value: float) -> bool:
    """Whether another reading has been asked already and had nothing against it: its twin, its
    neighbors.
    """
    if prompt.reads in marks.STRING:
        return _is_beside_the_string(case, prompt)
    twin = mirrored(prompt.id)
    values = _values(case, twin) if twin != prompt.id and prompt.tool == "tape" else []
    return any(abs(v - value) <= MOST for v in values)


def _is_beside_the_string(case: Case, prompt: Prompt) -> bool:
    """Whether the string was read on that rail before: with the engine's weight on, or, without it,
    either way.
    """
    alike = marks.STRING if prompt.reads == marks.STRING_UNLOADED else (marks.STRING_LOADED,)
    read = [p for id, p in case.prompts.items() if id in case.by_prompt]
    return any(p.name == prompt.name and p.reads in alike for p in read)


def _values(case: Case, prompt: PromptId) -> list[float]:
    return [case.value(r) for r in case.by_prompt.get(prompt, ())]


def _taped(case: Case) -> tuple[tuple[Taped, ...], tuple[Taped, ...]]:
    """Every taped distance of the survey; those that were doubted when they were typed come apart."""
    doubted = {d.reading for d in case.survey.standing(Doubt)}
    plain = Sizing(case.layout)
    sound: list[Taped] = []
    odd: list[Taped] = []
    for id, rows in case.by_prompt.items():
        between = ends(case.layout, case.prompts[id]) if case.prompts[id].tool == "tape" else None
        if between is None:
            continue
        fine = [r for r in rows if r.id not in doubted]
        mm = _mean(case, fine or rows)
        far = _is_far(mm, plain.distance(*between))
        (sound if fine and not far else odd).append(Taped(*between, mm))
    return tuple(sound), tuple(odd)


def _mean(case: Case, rows: Sequence[Reading]) -> float:
    return sum(case.value(r) for r in rows) / len(rows)


def _is_far(mm: float, round_mm: float) -> bool:
    """Whether a tape lies so far off the round figure that it tells nothing of the sizes."""
    near = round_mm / FAR_TIMES <= mm <= round_mm * FAR_TIMES
    return not near and abs(mm - round_mm) > FAR_MM


def _seen(case: Case, prompt: Prompt) -> Seen:
    """What else was read that a reading at that prompt leans on."""
    blocks = _read_at(case, (p for p in case.prompts.values() if p.point == BLOCK))
    metal = _values(case, asked_of(prompt.id).named("clean")) if prompt.tool == CALIPER else []
    return Seen(
        block=sum(blocks) / len(blocks) if blocks else None,
        string_below=case.meant(marks.STRING_SIDE) == marks.BELOW,
        slopes=tuple(_read_at(case, _laid_elsewhere(case, prompt))),
        metal=metal[-1] if metal else None,
    )


def _laid_elsewhere(case: Case, prompt: Prompt) -> Iterator[Prompt]:
    """The level as set, at each other place."""
    for other in case.prompts.values():
        if other.kind.tilts and other.name == AS_SET and other.item != prompt.item:
            yield other


def _read_at(case: Case, prompts: Iterable[Prompt]) -> list[float]:
    return [value for prompt in prompts for value in _values(case, prompt.id)]


# Words --------------------------------------------------------------------------------------------
# ----------------


def _words(
    case: Case, prompt: Prompt, row: Reading, value: float, found: Foretold, what: str
) -> str:
    if prompt.kind.tilts:
        lean = max(round(math.degrees(math.atan(abs(value)))), 1)
        return (
            f"That is a lean of about {lean}°, more than any car or frame has. Read it once more."
        )
    unit = case.survey.unit
    asks = _question(case, row, found)
    if prompt.kind.offsets:
        most = write_fraction_about(_plain(found.high, unit), unit)
        return f"{clean_line(row.typed, 20)} is too much: at most about {most} fits here. {asks}"
    # As the tape says it, which may start at its mark.
    start = float(case.start_of(row, prompt))
    says = write_fraction_about(_plain(found.value + start, unit), unit)
    typed = write_fraction_about(abs(value) + start, unit)
    off = write_fraction_about(_plain(abs(abs(value) - found.value), unit), unit)
    way = "more" if abs(value) > found.value else "less"
    leans_on = "What you measured so far gives" if what == SIZED else f"{what} has"
    return f"{typed} is {off} {way} than expected. {leans_on} about {says} here. {asks}"


def _plain(mm: float, unit: str) -> float:
    """As roughly as it is known: whole inches or 10 mm, and finer only for what is small."""
    step = 25.4 if unit == "in" else 10.0
    if abs(mm) < 10 * step:
        step /= 4 if abs(mm) > step else 32
    return round(mm / step) * step


def _question(case: Case, row: Reading, found: Foretold) -> str:
    """The slip it looks like: another unit, a figure left out or one too many."""
    other = "mm" if case.survey.unit == "in" else "in"
    if _fits(case, row, found, [re.sub(r"^[\d ./]*\d", rf"\g<0> {other}", row.typed)]):
        return f"Is it in {UNIT_SAID[other]}? Then type {other} after it."
    if _fits(case, row, found, _longer(row.typed)):
        return "Did you leave out a digit?"
    if _fits(case, row, found, _shorter(row.typed)):
        return "Did you type a digit too many?"
    return "Measure it once more."


def _fits(case: Case, row: Reading, found: Foretold, texts: Iterable[str]) -> bool:
    for text in texts:
        try:
            if found.holds(
                case.value(Reading(id="new", prompt=row.prompt, typed=text, tool=row.tool))
            ):
                return True
        except Refused:
            continue
    return False


def _longer(typed: str) -> Iterator[str]:
    """The typed text with one more figure in its first number."""
    figures = _first(typed)
    for at in range(len(figures) + 1):
        yield from (f"{figures[:at]}{figure}{typed[at:]}" for figure in "0123456789")


def _shorter(typed: str) -> Iterator[str]:
    """The typed text with one figure less in its first number."""
    figures = _first(typed)
    if len(figures) > 1:
        yield from (typed[:at] + typed[at + 1 :] for at in range(len(figures)))


def _first(typed: str) -> str:
    match = re.match(r"\d+", typed)
    return match.group() if match else ""
