"""The verdict in plain words: what to do, why, what is open, what was not seen, what to look at
next.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from wizard.judgment.bands import Judged
from wizard.judgment.body import is_propped
from wizard.judgment.claims import of_finding
from wizard.judgment.fact import Fact, facts_of
from wizard.judgment.next import Advice
from wizard.judgment.seen import Gap, Seen
from wizard.judgment.supports import is_stands_twist, supports_of
from wizard.judgment.verdict import Verdict
from wizard.library import marks
from wizard.library.places import (
    side_of,
    spoken,
    step_of,
)
from wizard.library.shapes import Layout, Library
from wizard.survey.guide import CARRIED, layout_of, steps_of
from wizard.survey.meant import meant
from wizard.survey.record import Survey, Unit
from wizard.survey.rows import Answer as Row
from wizard.survey.rows import Remark
from wizard.telling.amounts import about, bands_words
from wizard.telling.causes_words import cause_lines
from wizard.telling.consequences_words import axle_sections, consequence_lines
from wizard.telling.document import Item, Section, section, told
from wizard.telling.enough_words import needless
from wizard.telling.fact_words import BY_A_SISTER, COUNT, told_apart_by
from wizard.telling.not_driven import NO_SURVEY
from wizard.telling.sentences import asks_for, sentence, with_band
from wizard.telling.sound_words import horns_alike, sound_lines
from wizard.telling.supports_words import twist_advice, twist_doubt
from wizard.telling.to_do import SUSPECTS, what_to_do
from wizard.telling.trust_words import trust_sections
from wizard.telling.work_order import (
    again_lines,
    as_question,
    as_sentence,
    choice_lines,
    moved_lines,
    moved_to_do,
    order_lines,
    own_question,
    question_lines,
    typed_to,
)

if TYPE_CHECKING:  # what moved is given, and nothing is compared here
    from wizard.judgment.since import Since

ALONE = 3
"""So many places not seen for one reason are named each in a line of its own."""
NONE_OUT = "No figure is out."
PROPPED = "The body is bolted and props the rails: the true sag may be more."
DOES_NOT_SAY = f"It speaks of the places named here and of nothing else. {NO_SURVEY}"


def sections(
    verdict: Verdict, survey: Survey, library: Library, since: Since | None = None
) -> tuple[Section, ...]:
    """The verdict's parts in order, those with nothing to say left out. since: this survey held
    against the one that it follows, where it follows one.
    """
    layout = layout_of(survey, library)
    order = order_lines(verdict, survey, layout, since)
    asked = question_lines(verdict, layout, since)
    worth = consequence_lines(verdict, layout, survey.unit, survey)
    sound = [*sound_lines(verdict, layout, library), *horns_alike(verdict)]
    unit = survey.unit
    then = f"{since.then:%Y-%m-%d}" if since is not None and since.then.year > 1 else ""
    now = moved_to_do(since, layout, unit)
    parts = [
        section("moved", "What has moved", moved_lines(since, layout, unit)),
        section("to-do", "What to do", what_to_do(verdict, survey, library, now)),
        section(
            "decides",
            "What was seen that decides",
            [*_decides(verdict), *_deep(verdict, layout, survey)],
        ),
        section("suspects", "First, measure this again", _suspects(verdict, layout, survey)),
        section("reasons", "The strongest reasons", _reasons(verdict, layout, survey, library)),
        section("sound", "What is in order", sound),
        section("causes", "What it comes from", cause_lines(verdict, library, survey, then)),
        section(
            "choices", "What can be done about it", choice_lines(verdict, survey, library, since)
        ),
        section("order", "In what order", order),
        section("untold", "What cannot be told yet", _untold(verdict, layout, survey)),
        *trust_sections(verdict, layout, survey, library),
        section("worth-a-look", "Worth a look because of it", worth),
        *axle_sections(verdict, survey, library),
        section("questions", "What to ask a specialist", [*own_question(survey, library), *asked]),
        section("again", "Look again before paint, and after", again_lines(verdict)),
        section("noted", "What you noted", _noted(survey, library)),
        section("not-seen", "What was not seen or not measured", _not_seen(verdict.not_seen)),
        section(
            "not-needed", "What was not read because it need not be", _needless(survey, library)
        ),
        section("scope", "What this does not say", [Item(DOES_NOT_SAY, ("rule:scope",))]),
    ]
    return told(parts)


def _suspects(verdict: Verdict, layout: Layout, survey: Survey) -> list[Item]:
    """The tape that contradicts the others comes before everything that was reckoned with it."""
    found = [j for j in verdict.judged if j.finding.quantity in SUSPECTS]
    return [
        Item(
            sentence(j, layout, survey.unit),
            (j.finding.id, *j.finding.readings),
            claims=of_finding(j),
        )
        for j in found
    ]


def _decides(verdict: Verdict) -> Iterator[Item]:
    """The looks behind the answer: stop signs, loose joints, and what is no stop sign and yet no sound
    metal.
    """
    yield from (_look(s, "rule:stop") for s in verdict.stops)
    rest = (*verdict.loose, *(s for v in verdict.voices for s in v.seen))
    by_row = {s.look.id: s for s in rest if s not in verdict.stops}
    yield from map(_look, by_row.values())


def _deep(verdict: Verdict, layout: Layout, survey: Survey) -> list[Item]:
    """What a caliper found at one place that somebody who knows must look at."""
    return [
        Item(sentence(j, layout, survey.unit), (j.finding.id,), claims=of_finding(j))
        for j in verdict.deep
    ]


def _look(seen: Seen, *rules: str) -> Item:
    words = seen.choice.words if seen.choice else ""
    side = f", {seen.side}" if seen.side else ""
    part = f", {seen.prompt.short}" if not side and seen.prompt.short else ""
    text = f"{seen.title}{side}{part}: {words} (the place was {spoken(seen.look.seen)})."
    return Item(text, (seen.look.id, *rules))


def _said(judged: Judged, verdict: Verdict, layout: Layout, unit: Unit) -> str:
    """The finding; of two horns the one that was seen bent."""
    return sentence(judged, layout, unit, verdict.bent)


REASONS = 3
"""Figures told as reasons."""


def _strongest(verdict: Verdict, survey: Survey, library: Library) -> list[Judged]:
    """The figures by which the answer tells its facts; then the other reasons, one for each quantity."""
    facts = facts_of(verdict, survey, library)
    firsts = (_limited(f) for f in facts if f.worst not in ("", "leave"))
    found = list(filter(None, firsts))[:REASONS]
    told = {j.finding.quantity for j in found}
    return [*found, *(j for j in verdict.reasons if j.finding.quantity not in told)]


def _limited(fact: Fact) -> Judged | None:
    """The first of its figures that a limit judges: a corner is told by one that has none."""
    return next((j for j in fact.judged if j.bands and not j.finding.disagrees), None)


def _reasons(verdict: Verdict, layout: Layout, survey: Survey, library: Library) -> list[Item]:
    """The figures past a certain `leave`, those of the answer first; where there are none, and no tape
    is in doubt, that is said.
    """
    found = [_reason(j, verdict, layout, survey) for j in _strongest(verdict, survey, library)]
    left = _twist_left(verdict)
    if left is not None and not is_stands_twist(left.finding, survey):
        found.append(
            _reason(left, verdict, layout, survey)
        )  # crowded out by graver ones, and yet it was read
    limited = any(j.bands for j in verdict.of_frame)
    if found or _doubted(verdict) or not limited or verdict.is_out_beside:
        return found
    return [Item(NONE_OUT, ("rule:leave",))]


def _doubted(verdict: Verdict) -> bool:
    """Whether any tape is in doubt."""
    return any(j.finding.quantity in SUSPECTS or j.finding.disagrees for j in verdict.judged)


def _propped(judged: Judged, survey: Survey) -> str:
    return f" {PROPPED}" if is_propped(judged.finding, survey) else ""


def _reason(judged: Judged, verdict: Verdict, layout: Layout, survey: Survey) -> Item:
    edge = next((e for e in judged.edges if not e.is_over), judged.edges[-1])
    said = with_band(_said(judged, verdict, layout, survey.unit), asks_for(judged, survey.unit))
    text = f"{said}{_propped(judged, survey)} (Limit: {edge.source}.)"
    return _about(judged, verdict, text)


def _about(judged: Judged, verdict: Verdict, text: str) -> Item:
    """A line of one finding and its limit, with what it claims."""
    rests = (judged.finding.id, f"limit:{judged.finding.limit}")
    return Item(text, rests, claims=of_finding(judged, side_of(verdict.bent)))


def _untold(verdict: Verdict, layout: Layout, survey: Survey) -> list[Item]:
    """Every figure that is open; and a twist that was read on what may twist a frame by itself."""
    found = list(verdict.open)
    left = _twist_left(verdict)
    if left is not None and is_stands_twist(left.finding, survey):
        found.append(left)
    first = next((j for j in found if is_stands_twist(j.finding, survey)), None)
    open_ = (_open(j, verdict, layout, survey, whole=j is first) for j in found)
    return [*_not_told_apart(verdict, layout), *open_]


OUT_OF_SQUARE = (
    "The diagonals say that it is out of square, but not why: a rail that slipped, a corner that"
    " went back and an end bent over sideways all read the same."
)


def _not_told_apart(verdict: Verdict, layout: Layout) -> list[Item]:
    """What a frame out of square may be, and the tapes that would tell."""
    signs = [e for c in verdict.causes.conclusions.values() for e in c.signs]
    ids = tuple(i for e in signs if e.sign.finding == "out-of-square" for i in e.sources)
    if not ids:
        return []
    return [
        Item(f"{OUT_OF_SQUARE} {told_apart_by(verdict.judged, layout)}", tuple(dict.fromkeys(ids)))
    ]


def _twist_left(verdict: Verdict) -> Judged | None:
    """The twist that is neither in order nor told as open or among the reasons; None where there is
    none.
    """
    twists = [j for j in verdict.judged if j.finding.quantity == marks.TWIST]
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
    more = f" {_how_on(judged, advice, survey)}" if advice else ""
    if is_stands_twist(judged.finding, survey):
        read_on = supports_of(judged.finding, survey)
        more = f" {twist_advice(read_on, survey.state()) if whole else twist_doubt(read_on)}"
    if judged.finding.disagrees:
        return _about(judged, verdict, sentence(judged, layout, survey.unit))
    said = f"{_said(judged, verdict, layout, survey.unit)} {bands_words(judged).capitalize()}."
    return _about(judged, verdict, f"{said}{_propped(judged, survey)}{more}")


def _how_on(judged: Judged, advice: Advice, survey: Survey) -> str:
    """What to read next: as the headline asks for it, where the quantity says what tells most."""
    said = judged.finding.of.says.get("again")
    return said or advice_words(advice, judged.finding.unit, survey.unit, judged.k)


def _needless(survey: Survey, library: Library) -> list[Item]:
    """A line for each rest of a list."""
    return [
        Item(f"{said}.", tuple(fold.readings.split())) for fold, said in needless(survey, library)
    ]


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


def advice_words(advice: Advice, finding_unit: str, unit: Unit, k: float = 2.0) -> str:
    """How to go on, and how much it would help; k is the factor from the standard doubt to that of
    95 %.
    """
    if advice.kind == "at-limit":
        return "It lies right at the limit: more readings will hardly move it to one side."
    if advice.kind == "shape":
        return "To find out, see how the maker shaped that edge: /also calls for that page."
    if advice.kind == "sister":
        return f"To find out, {BY_A_SISTER}."
    now, then = (about(k * u, finding_unit, unit) for u in (advice.u_now, advice.u_then))
    helps = f"The doubt would go from {now} to {then}" + (
        ", probably enough to tell." if advice.settles else "."
    )
    if now == then:
        helps = (
            "That would probably be enough to tell."
            if advice.settles
            else "That would help a little."
        )
    if advice.kind == "measure":
        return f"Next, tape this one too: {advice.label}. {helps}"
    if advice.kind == "repeat":
        times = COUNT[advice.times] if advice.times < len(COUNT) else f"{advice.times} times"
        return f"Next, read {advice.label} and what it is compared with {times} more. {helps}"
    other = "A second set of holes or rivets" if advice.kind == "points" else "A finer tool"
    return f"More repeats will not help: most of the doubt is {advice.label}. {other} would."


WISHES = {
    marks.MEASURE_AGAIN: "Before you put this away you wanted to look at something again.",
    marks.ASK_MENTOR: "You have a question for a mentor.",
    marks.ASK_SPECIALIST: "You have a question for a specialist.",
}
MOST = 8
"""Remarks said here; the report has them all."""


def _noted(survey: Survey, library: Library) -> list[Item]:
    """The last page's words and wish, then the remarks made on the way, each with its place."""
    lines = [*_last(survey, library), *_remarks(survey, library)]
    if len(lines) > MOST:
        more = Item(f"And {len(lines) - MOST} more; the report has them all.", lines[MOST].sources)
        return [*lines[:MOST], more]
    return lines


def _last(survey: Survey, library: Library) -> Iterator[Item]:
    asked, last = library.asking(marks.WISH), library.asking(marks.LAST_WORD)
    wish = WISHES.get(meant(survey, library, marks.WISH), "")
    for row in survey.standing(Row):
        if last and row.prompt == last.prompt and row.answer.strip(" -"):
            yield Item(as_sentence(row.answer), (row.id,))
        elif asked and row.prompt == asked.prompt and wish:
            which, _ = typed_to(marks.OWN_QUESTION, survey, library)
            yield Item(
                f"{wish.rstrip('.')}: {as_question(which)}" if which else wish,
                (row.id,),
            )


def _remarks(survey: Survey, library: Library) -> Iterator[Item]:
    for row in survey.standing(Remark):
        if row.text.strip() and CARRIED not in row.extra:
            step = steps_of(survey, library).get(step_of(row.prompt))
            yield Item(
                f"{step.title}: {as_sentence(row.text)}" if step else as_sentence(row.text),
                (row.id,),
            )
