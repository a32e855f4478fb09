"""The verdict in plain words: what to do, why, what is open, what was not seen, what to look at
next.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from wizard.checks.notes import Bend, Rises
from wizard.judgment.bands import Judged
from wizard.judgment.body import is_propped
from wizard.judgment.seen import Gap, Seen
from wizard.judgment.sight import verdict_of
from wizard.judgment.supports import is_stands_twist, supports_of
from wizard.judgment.verdict import Verdict
from wizard.library.places import spoken
from wizard.library.shapes import Layout, Library
from wizard.survey.guide import layout_of
from wizard.survey.record import Survey, Unit
from wizard.survey.rows import Verdict as Shown
from wizard.telling.amounts import bands_words, few
from wizard.telling.axle_words import axle_advice
from wizard.telling.causes_words import cause_lines
from wizard.telling.consequences_words import consequence_lines
from wizard.telling.corner_words import horns_alike_lines
from wizard.telling.crown_words import crown_lines
from wizard.telling.document import Block, Item, Paragraph, Section, section, set_out, told
from wizard.telling.held_words import held_headline, held_lines, look_lines
from wizard.telling.next_words import advice_words
from wizard.telling.not_driven import NO_SURVEY, NOT_DRIVEN, must_not_move
from wizard.telling.noted_words import noted_lines, own_question
from wizard.telling.plan_words import again_lines, order_lines, question_lines
from wizard.telling.sentences import sentence
from wizard.telling.sound_words import sound_lines
from wizard.telling.supports_words import tip_lines, twist_advice, twist_doubt, twist_move
from wizard.telling.text import lines_of

ALONE = 3
"""So many places not seen for one reason are named each in a line of its own."""
HEADLINES = {
    "stop": "Stop here.",
    "specialist": "Take the frame to a specialist.",
    "put-right": "Something wants putting right.",
    "axle-first": "Look at the axle and what holds it first.",
    "watch": (
        "Nothing to put right on what was seen and measured. Keep an eye on what is named below."
    ),
    "leave": "Nothing to put right on what was seen and measured.",
    "open": "It cannot be told yet.",
    "not-enough": "Not enough was seen to say.",
}
WHAT_TO_DO = {
    "stop": (
        "What was seen outranks every number. Change nothing there; measuring does no harm. Take a"
        " photo of it, and show it to somebody who is licensed for such work."
    ),
    "specialist": (
        "Change nothing by yourself. Show this in writing to somebody who straightens frames for a"
        " living, and measure the same points again afterwards."
    ),
    "put-right": (
        "Plan it before paint and assembly, with somebody who has done it. Measure the same points"
        " again afterwards. This program gives no instruction for pulling, heating or welding."
    ),
    "axle-first": (
        "The frame may be true and the axle askew. Look at center bolt, springs and axle, then tape"
        " again."
    ),
    "watch": "Nothing has to be put right now. Measure the same points again in half a year.",
    "leave": "Keep this record and measure the same points again in half a year.",
    "open": (
        "What is open is named below. More repeats of those readings, or a better tool, would"
        " settle it."
    ),
    "not-enough": (
        "What was not seen may be the very place that matters. The list below says what is missing."
    ),
}
CONTRADICT = (
    "Some tapes contradict one another, so nothing that leans on them can be told. Measure those"
    " again before anything else; they are named next."
)
TWIST_OPEN = "The numbers leave open only whether it is twisted."
NONE_OUT = "No figure is out."
PROPPED = "The body is bolted and props the rails: the true sag may be more."
DOES_NOT_SAY = f"It speaks of the places named here and of nothing else. {NO_SURVEY}"
LACKING = {
    "rail-shift": "no diagonals over the whole frame",
    "sag": "no string along both rails",
    "twist": "no level across the rails",
    "looks": "fewer than half of the places were seen",
}


def headline(verdict: Verdict) -> str:
    """The verdict in one sentence, and whatever forbids to drive the car."""
    said = _headline(verdict)
    return f"{said} {NOT_DRIVEN}" if must_not_move(verdict) else said


def _headline(verdict: Verdict) -> str:
    if verdict.held:
        return held_headline(verdict)
    if verdict.action == "leave" and any("watch" in j.bands for j in verdict.reasons):
        return f"{HEADLINES['leave']} One or two things are worth an eye."
    out = any(j.established not in ("", "leave") for j in verdict.judged)
    if verdict.action == "open" and out:
        return "Something is out. How much it matters cannot be told yet."
    return HEADLINES[verdict.action]


def sections(verdict: Verdict, survey: Survey, library: Library) -> tuple[Section, ...]:
    """The verdict's parts in order, those with nothing to say left out."""
    layout = layout_of(survey, library)
    order, asked = order_lines(verdict, survey, layout), question_lines(verdict, layout)
    worth = consequence_lines(verdict, layout, survey.unit, survey)
    sound = [*sound_lines(verdict, layout, library), *horns_alike_lines(verdict)]
    parts = [
        section("to-do", "What to do", _what_to_do(verdict, survey, library)),
        section("decides", "What was seen that decides", (_stop(s) for s in verdict.stops)),
        section("suspects", "First, measure this again", _suspects(verdict, layout, survey)),
        section("reasons", "The strongest reasons", _reasons(verdict, layout, survey)),
        section("sound", "What is in order", sound),
        section("causes", "What it comes from", cause_lines(verdict, library, survey)),
        section("order", "In what order", order),
        section("untold", "What cannot be told yet", _untold(verdict, layout, survey)),
        section("agreement", "Do the readings agree?", _agreement(verdict, layout, survey)),
        section("worth-a-look", "Worth a look because of it", worth),
        section("questions", "What to ask a specialist", [*own_question(survey, library), *asked]),
        section("again", "Look again before paint, and after", again_lines(verdict)),
        section("noted", "What you noted", noted_lines(survey, library)),
        section("not-seen", "What was not seen or not measured", _not_seen(verdict.not_seen)),
        section("scope", "What this does not say", [Item(DOES_NOT_SAY, ("rule:scope",))]),
    ]
    return told(parts)


def verdict_blocks(
    verdict: Verdict, survey: Survey, library: Library, level: int = 2
) -> tuple[Block, ...]:
    """The whole verdict: its headline, then part after part under headings of a level."""
    parts = set_out(sections(verdict, survey, library), level)
    return Paragraph(headline(verdict), strong=True), *parts


def verdict_page(survey: Survey, library: Library, today: datetime) -> str:
    """The verdict over what is set down so far, as plain text."""
    verdict = verdict_of(survey, library, today)
    return "\n".join(lines_of(verdict_blocks(verdict, survey, library)))


def with_verdict(survey: Survey, library: Library, at: datetime, by: str) -> Survey:
    """The survey with the verdict as shown now; unchanged when it already says just that."""
    text = verdict_page(survey, library, at)
    kept = survey.standing(Shown)
    if kept and kept[-1].text == text:
        return survey
    row = Shown(id=survey.new_id(Shown), at=at.replace(microsecond=0), by=by, text=text)
    return survey.with_row(row)


def _what_to_do(verdict: Verdict, survey: Survey, library: Library) -> list[Item]:
    rests = tuple(s.look.id for s in (*verdict.stops, *verdict.loose))
    rests += tuple(i for j in verdict.reasons for i in (j.finding.id, f"limit:{j.finding.limit}"))
    text = _deed(verdict, survey, library)
    lines = [*tip_lines(survey.state()), *_again_first(verdict), *held_lines(verdict)]
    if not verdict.held or text == CONTRADICT:
        lines.append(Item(text, (*rests, f"rule:{verdict.action}")))
    return [
        *lines,
        *look_lines(verdict),
        *_fitted_to_sag(verdict),
        *crown_lines(verdict, survey, library),
        *_lacking(verdict),
    ]


def _fitted_to_sag(verdict: Verdict) -> list[Item]:
    """Why a sag to keep an eye on is left as it is."""
    if verdict.action != "leave" or not any(j.established == "watch" for j in verdict.reasons):
        return []
    ids = tuple(i for e in verdict.causes.older for i in e.sources)
    text = (
        "Hood and doors were fitted to the sag as it is. Leave it, or they would no longer close."
    )
    return [Item(text, (*ids, "limit:sag-unloaded"))]


def _deed(verdict: Verdict, survey: Survey, library: Library) -> str:
    """What to do about the frame, by the verdict and by what keeps it open."""
    if verdict.action == "axle-first":
        return axle_advice(verdict, layout_of(survey, library))
    if verdict.action != "open":
        return WHAT_TO_DO[verdict.action]
    if any(j.finding.quantity == "suspect" for j in verdict.judged):
        return CONTRADICT
    if _rests_on_supports(verdict, survey):
        return f"{TWIST_OPEN} {twist_move(survey.state())}"
    return WHAT_TO_DO["open"]


def _rests_on_supports(verdict: Verdict, survey: Survey) -> bool:
    """Whether all that is open is a twist that the supports may make: no repeat and no better tool
    settles that.
    """
    return bool(verdict.open) and all(is_stands_twist(j.finding, survey) for j in verdict.open)


AGAIN_FIRST = (
    "Before anything else tape the front box again. A corner that far back should take its axle"
    " with it, and the wheelbases are alike."
)


def _again_first(verdict: Verdict) -> list[Item]:
    """Where the car contradicts the tape, the tape comes first."""
    if verdict.stops or verdict.loose or verdict.rocks:
        return []
    found = (p for p in verdict.foretold if p.id == "wheelbase" and p.outcome == "contradicts")
    at_front = (p for p in found if (p.kind, p.end) == ("corner", "front"))
    return [Item(AGAIN_FIRST, (*p.sources, "rule:foretold")) for p in at_front]


def _lacking(verdict: Verdict) -> list[Item]:
    if not verdict.lacking:
        return []
    text = (
        "Missing for a whole picture: " + "; ".join(LACKING[name] for name in verdict.lacking) + "."
    )
    return [Item(text, tuple(f"rule:lacking-{name}" for name in verdict.lacking))]


def _suspects(verdict: Verdict, layout: Layout, survey: Survey) -> list[Item]:
    """The tape that contradicts the others comes before everything that was reckoned with it."""
    found = [j for j in verdict.judged if j.finding.quantity == "suspect"]
    return [
        Item(sentence(j, layout, survey.unit), (j.finding.id, *j.finding.readings)) for j in found
    ]


def _stop(seen: Seen) -> Item:
    words = seen.choice.words if seen.choice else ""
    side = f", {seen.side}" if seen.side else ""
    text = f"{seen.title}{side}: {words} (the place was {spoken(seen.look.seen)})."
    return Item(text, (seen.look.id, "rule:stop"))


def _said(judged: Judged, verdict: Verdict, layout: Layout, unit: Unit) -> str:
    """The finding, of two horns from the side at which the signs gather."""
    corner = verdict.causes.corner
    return sentence(judged, layout, unit, corner[0] if corner else "")


def _reasons(verdict: Verdict, layout: Layout, survey: Survey) -> list[Item]:
    """The figures past a certain `leave`; where there are none, and no tape is in doubt, that is
    said.
    """
    found = [_reason(j, verdict, layout, survey) for j in verdict.reasons]
    left = _twist_left(verdict)
    if left is not None and not is_stands_twist(left.finding, survey):
        found.append(
            _reason(left, verdict, layout, survey)
        )  # crowded out by graver ones, and yet it was read
    limited = any(j.bands for j in verdict.judged)
    if found or _doubted(verdict) or not limited:
        return found
    return [Item(NONE_OUT, ("rule:leave",))]


def _doubted(verdict: Verdict) -> bool:
    """Whether any tape is in doubt."""
    return any(j.finding.quantity == "suspect" or j.finding.disagrees for j in verdict.judged)


def _propped(judged: Judged, survey: Survey) -> str:
    return f" {PROPPED}" if is_propped(judged.finding, survey) else ""


def _reason(judged: Judged, verdict: Verdict, layout: Layout, survey: Survey) -> Item:
    edge = next((e for e in judged.edges if not e.is_over), judged.edges[-1])
    words = "" if judged.finding.disagrees else f" {bands_words(judged).capitalize()}."
    text = (
        f"{_said(judged, verdict, layout, survey.unit)}{words}{_propped(judged, survey)} (Limit:"
        f" {edge.source}.)"
    )
    return Item(text, (judged.finding.id, f"limit:{judged.finding.limit}"))


def _untold(verdict: Verdict, layout: Layout, survey: Survey) -> list[Item]:
    """Every figure that is open; and a twist that was read on what may twist a frame by itself."""
    found = list(verdict.open)
    left = _twist_left(verdict)
    if left is not None and is_stands_twist(left.finding, survey):
        found.append(left)
    first = next((j for j in found if is_stands_twist(j.finding, survey)), None)
    return [_open(j, verdict, layout, survey, whole=j is first) for j in found]


def _twist_left(verdict: Verdict) -> Judged | None:
    """The twist that is neither in order nor told as open or among the reasons; None where there is
    none.
    """
    twists = [j for j in verdict.judged if j.finding.quantity == "twist"]
    told = {j.finding.id for j in (*verdict.open, *verdict.reasons)}
    left = [j for j in twists if j.bands != ("leave",)]
    if any(j.finding.id in told for j in twists) or not left:
        return None
    return max(left, key=lambda j: abs(j.finding.value))


def _open(judged: Judged, verdict: Verdict, layout: Layout, survey: Survey, *, whole: bool) -> Item:
    """One open figure and what would settle it; of several twists only one is told the whole of
    that.
    """
    advice = next((a for a in verdict.advice if a.finding == judged.finding.id), None)
    more = " " + advice_words(advice, judged.finding.unit, survey.unit, judged.k) if advice else ""
    if is_stands_twist(judged.finding, survey):
        read_on = supports_of(judged.finding, survey)
        more = f" {twist_advice(read_on, survey.state()) if whole else twist_doubt(read_on)}"
    if judged.finding.disagrees:
        return Item(
            sentence(judged, layout, survey.unit),
            (judged.finding.id, f"limit:{judged.finding.limit}"),
        )
    said = f"{_said(judged, verdict, layout, survey.unit)} {bands_words(judged).capitalize()}."
    text = f"{said}{_propped(judged, survey)}{more}"
    return Item(text, (judged.finding.id, f"limit:{judged.finding.limit}"))


def _agreement(verdict: Verdict, layout: Layout, survey: Survey) -> list[Item]:
    """Closures that are out: they cast doubt on the readings, not on the frame."""
    out = [
        j
        for j in verdict.judged
        if j.finding.quantity in ("closure", "level-closing", "string-level")
    ]
    out = [j for j in out if j.stands_out] + [j for j in verdict.judged if _odd(j)]
    said = [Item(sentence(j, layout, survey.unit), (j.finding.id,)) for j in out]
    if verdict.completing:
        text = (
            "The tapes are too few to check one another. These would do it: "
            + few(verdict.completing)
            + "."
        )
        said.append(Item(text, ("rule:plan",)))
    return said


def _odd(judged: Judged) -> bool:
    """Whether the rise under the engine is not what a sound rail gives, or a rail seems kinked."""
    bend = judged.finding.note(Bend)
    return judged.finding.note(Rises) is not None or (bend is not None and bend.kind == "kink")


def _not_seen(gaps: tuple[Gap, ...]) -> list[Item]:
    """A line for each, but one for all that have the same reason, as what a short list leaves out."""
    same: dict[str, list[Gap]] = {}
    for gap in gaps:
        same.setdefault(gap.why.rstrip("."), []).append(gap)
    return [line for why, here in same.items() for line in _unseen(why, here)]


def _unseen(why: str, here: Sequence[Gap]) -> list[Item]:
    """What was not seen for one reason."""
    if len(here) > ALONE:
        text = f"{why[:1].upper()}{why[1:]}: {'. '.join(gap.what for gap in here)}."
        steps = tuple(f"step:{gap.step}" for gap in here)
        return [Item(text, steps, names=tuple(gap.what for gap in here))]
    return [Item(f"{g.what}: {why}.", (f"step:{g.step}",), names=(g.what,)) for g in here]
