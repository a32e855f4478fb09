"""The model's page in words: what is bent, what each check would say of it, and what a driver would
feel.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from wizard.checks.finding import Finding
from wizard.judgment.bands import Judged
from wizard.judgment.blind import Bench, Heard
from wizard.library.kinds import length_of
from wizard.library.places import StepId, where_of
from wizard.math.caster import caster_change
from wizard.model.bending import said
from wizard.model.bent import Bent
from wizard.model.kit import scale_text
from wizard.model.readings import engine_off, reading
from wizard.readings.written import write_fraction_about
from wizard.survey.record import Unit
from wizard.telling.amounts import about
from wizard.telling.sentences import sentence

MARKS = {"sees": "+", "misled": "!", "faint": "~", "blind": "-", "silent": " "}
KINDS = {
    "sees": "sees it",
    "misled": "misled",
    "faint": "faint",
    "blind": "blind",
    "silent": "not on this frame",
}
HOW = "+ sees  ! misled  ~ faint  - blind"
SUPPORTS = {
    "wheels": "on its wheels",
    "stands-under-axles": "on stands under the axles",
    "stands-under-frame": "on four stands",
    "three-points": "bare, on three points",
}


@dataclass(frozen=True, slots=True)
class VoiceRow:
    """One check in one line."""

    mark: str
    name: str
    says: str
    """By how much and which way: of which rail."""
    kind: str
    tapes: str = ""
    """The two lengths that it rests on, and how far apart they are; empty where it rests on others."""


@dataclass(frozen=True, slots=True)
class ModelPage:
    """Everything that the page says. Plain text, never markup."""

    title: str
    stands: str
    """What it rests on and whether the engine's weight is on."""
    bent: tuple[str, ...]
    """The sliders that are not at zero."""
    rows: tuple[VoiceRow, ...]
    notes: tuple[tuple[str, str], ...]
    """Heading and text of each paragraph below."""


def model_page(bench: Bench, bent: Bent, unit: Unit, fault: str = "") -> ModelPage:
    """The page for one bent frame. fault: id of the authored fault that it is, where it is one."""
    heard = bench.hear(bent, fault)
    sliders = said(bent, bench.layout, lambda mm: write_fraction_about(mm, unit))
    known = bench.library.model.faults.get(fault)
    title = (
        known.words[:1].upper() + known.words[1:] if known else "Bent" if sliders else "Straight"
    )
    word = bench.layout.worded
    rows = (_row(h, unit) for h in heard if h.kind != "silent")
    notes = _notes(bench, bent, unit, heard, fault)
    return ModelPage(
        title=word(title),
        stands=word(_stands(bent)),
        bent=tuple(map(word, sliders)),
        rows=tuple(replace(row, name=word(row.name), says=word(row.says)) for row in rows),
        notes=tuple((word(heading), word(text)) for heading, text in notes),
    )


def _stands(bent: Bent) -> str:
    engine = "on" if bent.engine == "in" else "off"
    string = ", string below the rail" if bent.string == "below" else ""
    return f"{SUPPORTS[bent.supports]}, engine's weight {engine}{string}"


def _row(heard: Heard, unit: Unit) -> VoiceRow:
    says = KINDS[heard.kind]
    if heard.kind != "blind" and heard.finding:
        faint = ", faint" if heard.kind == "faint" else ""
        size = about(heard.change, heard.finding.unit, unit)
        says = f"{_which(heard.finding, heard.change)}{size}{faint}"
    kind = "misled" if heard.misled else heard.kind
    return VoiceRow(MARKS[kind], heard.voice.name, says, kind, _tapes(heard, unit))


def _which(finding: Finding, change: float) -> str:
    """Which rail it is of and which way it went, before the size: `right back `, `left low `."""
    side = where_of(finding.where).side
    return "".join(f"{word} " for word in (side, finding.of.end(change)) if word)


def _tapes(heard: Heard, unit: Unit) -> str:
    """Both lengths as the tape reads them, and how far apart those two figures are."""
    if len(heard.twins) != 2:
        return ""
    read = [(prompt, scale_text(value, prompt, unit)) for prompt, value in heard.twins]
    one, other = (float(length_of(prompt, text, unit)) for prompt, text in read)
    return f"{read[0][1]} and {read[1][1]}, {about(one - other, 'mm', unit)} apart"


def why_text(page: ModelPage) -> str:
    """Every paragraph of the page under its heading."""
    return "\n\n".join(f"{heading}: {text}" for heading, text in page.notes)


def heard_text(page: ModelPage) -> str:
    """Which checks see it and which do not, in three sentences: for a screen reader."""
    parts = []
    for kind, head in (
        ("sees", "These checks see it"),
        ("misled", "By these alone it looks like another, and it is not"),
        ("faint", "These hardly see it"),
        ("blind", "These are blind to it"),
    ):
        rows = [row for row in page.rows if row.kind == kind]
        names = [_heard_words(row) if kind in ("sees", "misled") else row.name for row in rows]
        if names:
            parts.append(f"{head}: {'; '.join(names)}.")
    return "\n".join(parts)


def _heard_words(row: VoiceRow) -> str:
    """A check that sees it, with what its lengths read and what that comes to."""
    return f"{row.name} ({': '.join(part for part in (row.tapes, row.says) if part)})"


def _notes(
    bench: Bench, bent: Bent, unit: Unit, heard: tuple[Heard, ...], fault: str
) -> list[tuple[str, str]]:
    known = bench.library.model.faults.get(fault)
    notes = []
    if known:
        notes.append(
            ("What a driver would feel", f"{known.feel} (Common practice, no published source.)")
        )
    notes.append(("Pulley", pulley_words(bench, bent, unit)))
    caster = caster_words(bench, bent, unit)
    if caster:
        notes.append(("Caster", caster))
    notes += [
        (f"{MARKS['misled' if h.misled else h.kind]} {h.voice.name}", _says(bench, h, unit))
        for h in heard
        if h.kind == "sees"
    ]
    notes += [
        (f"{MARKS[h.kind]} {h.voice.name}", h.why) for h in heard if h.kind in ("faint", "blind")
    ]
    return notes


def _says(bench: Bench, heard: Heard, unit: Unit) -> str:
    """What the check's own sentence would be, and what it takes the fault for where that is
    another.
    """
    assert heard.finding is not None
    told = sentence(Judged(heard.finding, (), ()), bench.layout, unit)
    why = heard.why or (FALSE if heard.misled else "")
    return f"{told} {why}".strip()


FALSE = "That is false: all measurements together show otherwise."


def pulley_words(bench: Bench, bent: Bent, unit: Unit) -> str:
    """The crank pulley against its crossmember."""
    off = engine_off(bench.frame(bent), "pulley")
    size = write_fraction_about(abs(off), unit)
    if size.startswith("0 "):
        return (
            "The crank pulley hangs over the middle of the front crossmember. This is a hint only:"
            " mounts can move it too, and some came off center from the maker."
        )
    way = "right" if off > 0 else "left"
    return (
        f"The crank pulley hangs {size} to the {way} of the crossmember's middle. This is a hint"
        " only: mounts can do that too, and some came off center from the maker."
    )


def caster_words(bench: Bench, bent: Bent, unit: Unit) -> str:
    """What the set of the rails does to caster; empty on a frame without such a rod."""
    drop = bench.drop_of_ball(bent)
    if drop is None:
        return ""
    degrees = caster_change(drop, bench.layout.figures["rod"]).value
    if abs(degrees) < 0.05:
        return "The ball of the axle's rod is where it was, so the caster has not changed."
    way, more = ("lower", "more") if drop > 0 else ("higher", "less")
    size = write_fraction_about(abs(drop), unit)
    text = f"The ball of the axle's rod is {size} {way}: {abs(degrees):.1f} degrees {more} caster."
    if drop > 0:
        felt = (
            "That is too little to make a wheel shake."
            if degrees < 1.0
            else "From one or two degrees on, the wheels can start to shake."
        )
        return f"{text} {felt}"
    return text + " With too little caster a car wanders."


def readings_text(bench: Bench, bent: Bent, step: StepId, unit: Unit) -> str:
    """Every reading of one step off the bent frame, with the straight frame's beside it where it
    differs.
    """
    lines = []
    for prompt in (p for p in bench.prompts.values() if p.step == step):
        now, then = (reading(bench.frame(b), prompt) for b in (bent, Bent(engine=bent.engine)))
        if now is None or then is None:
            continue
        here, straight = (scale_text(v, prompt, unit) for v in (now, then))
        lines.append(
            f"{prompt.ask}: {here}" + (f"   (straight: {straight})" if here != straight else "")
        )
    return "\n".join(lines)
