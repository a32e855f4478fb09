"""The verdict in plain words: what to do, why, what is open, what was not seen, what to look at next."""

from __future__ import annotations

from dataclasses import dataclass

from wizard.judgement.bands import Judged
from wizard.judgement.seen import Gap, Seen
from wizard.judgement.verdict import Verdict, weight
from wizard.library.shapes import Layout, Library
from wizard.survey.record import Survey
from wizard.telling.amounts import bands_words
from wizard.telling.next_words import advice_words
from wizard.telling.sentences import sentence, sentence_and_band

HEADLINES = {
    "stop": "Stop here: take the frame to a specialist.",
    "specialist": "Take the frame to a specialist.",
    "put-right": "Something wants putting right.",
    "axle-first": "Look at the axle and its springs first.",
    "watch": "Use the frame as it is, and keep an eye on it.",
    "leave": "Use the frame as it is. There is nothing to put right.",
    "open": "It cannot be told yet.",
    "not-enough": "Not enough was seen to say.",
}
WHAT_TO_DO = {
    "stop": "What was seen outranks every number. Change nothing there, photograph it, and let somebody who is "
    "licensed for such work see it before anything else is done.",
    "specialist": "Change nothing by yourself. Show this sheet to somebody who straightens frames for a living, "
    "and measure the same points again afterwards.",
    "put-right": "Plan it before paint and assembly, with somebody who has done it. Measure the same points again "
    "afterwards. This program gives no instruction for pulling, heating or welding.",
    "axle-first": "The frame may be true and the axle askew. Look at centre bolt, springs and axle, then tape again.",
    "watch": "Nothing has to be put right now. Measure the same points again after a season.",
    "leave": "Go on with your work. Keep this record and measure the same points again after a season.",
    "open": "What is open is named below. More repeats of those readings, or a better tool, would settle it.",
    "not-enough": "What was not seen may be the very place that matters. The list below says what is missing.",
}
LACKING = {
    "rail-shift": "no diagonals over the whole frame",
    "sag": "no string along both rails",
    "twist": "no level across the rails",
    "looks": "fewer than half of the places were seen",
}


@dataclass(frozen=True, slots=True)
class Section:
    """A heading and its lines, each a sentence or two."""

    heading: str
    lines: tuple[str, ...]


def headline(verdict: Verdict) -> str:
    """The verdict in one sentence."""
    if verdict.action == "leave" and any("watch" in j.bands for j in verdict.reasons):
        return "Use the frame as it is. There is nothing to put right; one or two things are worth an eye."
    return HEADLINES[verdict.action]


def sections(verdict: Verdict, survey: Survey, library: Library) -> tuple[Section, ...]:
    """The verdict's parts in order, those with nothing to say left out."""
    layout = library.layouts.get(survey.layout) or next(iter(library.layouts.values()))
    parts = [
        Section("What to do", (WHAT_TO_DO[verdict.action], *_lacking(verdict))),
        Section("What was seen that decides", tuple(_stop(s) for s in verdict.stops)),
        Section("The strongest reasons", tuple(_reason(j, layout, survey) for j in verdict.reasons)),
        Section("What cannot be told yet", tuple(_open(j, verdict, layout, survey) for j in verdict.open)),
        Section("Do the readings agree?", tuple(_agreement(verdict, layout, survey))),
        Section("Worth a look because of it", _knock_on(verdict, layout, survey)),
        Section("What was not seen or not measured", _not_seen(verdict.not_seen)),
        Section(
            "What this does not say",
            ("It speaks of the places named here and of nothing else, and it is no opinion on the road. For that, "
             "local rules and a licensed professional come first.",),
        ),
    ]  # fmt: skip
    return tuple(p for p in parts if p.lines)


def _lacking(verdict: Verdict) -> tuple[str, ...]:
    if not verdict.lacking:
        return ()
    return ("Missing for a whole picture: " + "; ".join(LACKING[name] for name in verdict.lacking) + ".",)


def _stop(seen: Seen) -> str:
    words = seen.choice.words if seen.choice else ""
    side = f", {seen.side}" if seen.side else ""
    return f"{seen.title}{side}: {words} (the place was {seen.look.seen.replace('-', ' ')})."


def _reason(judged: Judged, layout: Layout, survey: Survey) -> str:
    edge = next((e for e in judged.edges if not e.is_over), judged.edges[-1])
    return f"{sentence_and_band(judged, layout, survey.unit)} (Limit: {edge.source}.)"


def _open(judged: Judged, verdict: Verdict, layout: Layout, survey: Survey) -> str:
    advice = next((a for a in verdict.advice if a.finding == judged.finding.id), None)
    more = " " + advice_words(advice, judged.finding.unit, survey.unit) if advice else ""
    return f"{sentence(judged, layout, survey.unit)} {bands_words(judged).capitalize()}.{more}"


def _agreement(verdict: Verdict, layout: Layout, survey: Survey) -> list[str]:
    """Closures that are out: they cast doubt on the readings, not on the frame."""
    out = [j for j in verdict.judged if j.finding.quantity in ("closure", "level-closing", "string-level")]
    said = [sentence(j, layout, survey.unit) for j in out if j.stands_out]
    said += [sentence(j, layout, survey.unit) for j in verdict.judged if _odd(j)]
    if verdict.completing:
        said.append(
            "The tapes are too few to check one another. These would do it: " + "; ".join(verdict.completing) + "."
        )
    return said


def _odd(judged: Judged) -> bool:
    """Whether the rise under the engine is not what a sound rail gives, or a rail seems kinked."""
    notes = judged.finding.notes
    if judged.finding.quantity in ("elastic-foretold", "suspect"):
        return bool(notes)
    return judged.finding.quantity == "bend" and notes[0] == "kink"


def _knock_on(verdict: Verdict, layout: Layout, survey: Survey) -> tuple[str, ...]:
    """What a deviation would have moved elsewhere, so that it can be checked."""
    found: dict[str, Judged] = {}
    for judged in sorted((j for j in verdict.judged if j.bands and j.worst != "leave"), key=lambda j: weight(j.worst)):
        found[judged.finding.quantity] = judged
    lines = []
    if "sag-unloaded" in found or "sag-loaded" in found:
        lines.append("A sag at the engine shows at the hood first: look whether its gap is even along the top.")
        if all(j.worst in ("leave", "watch") for q, j in found.items() if q.startswith("sag-")):
            lines.append("Then the doors: if they and the hood fit, the sag was there when they were fitted: leave it.")
        caster = next((j for j in verdict.judged if j.finding.quantity == "caster"), None)
        if caster:
            lines.append(sentence(caster, layout, survey.unit) + " Sag alone rarely explains a wobble.")
    if "rail-shift" in found:
        lines.append("A rail that has moved along its twin sets the axles askew: compare the wheelbase left and right.")
    if "horn" in found or "horn-height" in found:
        lines.append("A horn out of place shows at bumper irons, apron and radiator shell: hold them up before paint.")
    if "twist" in found:
        lines.append("Before you believe a twist, set the frame on three points and read the level again.")
    return tuple(lines)


def _not_seen(gaps: tuple[Gap, ...]) -> tuple[str, ...]:
    return tuple(f"{gap.what}: {gap.why}." if not gap.why.endswith(".") else f"{gap.what}: {gap.why}" for gap in gaps)
