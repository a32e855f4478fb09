"""Two surveys of one frame, in words: what changed, what did not, what cannot be told, what was not
compared.
"""

from __future__ import annotations

import calendar
from collections.abc import Iterator, Sequence
from datetime import datetime

from wizard.judgment.answer import answer_of
from wizard.judgment.change import EDGE, ONE_OF_MANY, Apart, Change, Comparison
from wizard.judgment.correction import (
    Outcome,
    WishMet,
    met,
    outcomes,
    unasked,
    was_corrected,
    wishes,
)
from wizard.judgment.driven import driven, incidents
from wizard.judgment.seen import Seen
from wizard.judgment.sight import sight_of
from wizard.judgment.since import Since, since_from
from wizard.judgment.states import OWN_WORDS, WARMTH, Unlike
from wizard.library import marks
from wizard.library.places import QuantityId
from wizard.library.shapes import Layout, Library
from wizard.readings.plain import clean_line
from wizard.survey.guide import layout_of
from wizard.survey.meant import meant
from wizard.survey.record import Survey, Unit
from wizard.telling.amounts import at_most, day, doubt, doubt_size, size
from wizard.telling.document import (
    Block,
    Document,
    Paragraph,
    Section,
    in_words,
    section,
    set_out,
    told,
)
from wizard.telling.fact_words import Tale, phrase
from wizard.telling.moved_words import (
    OTHERWISE,
    change_sentence,
    otherwise_lines,
    until_then,
    what_now,
)
from wizard.telling.quantity_names import amount, distance, name_of, wording
from wizard.telling.state_words import field_words, is_asked
from wizard.telling.text import text_of

MONTHS = {marks.MONTH: 1, marks.SEASON: 6, marks.YEAR: 12, marks.TWO_YEARS: 24}
FIELDS = {
    "engine": "the engine",
    "body": "the body",
    "supports": "the supports",
    "panels": "hood and fenders",
    "stood": "where the supports stood",
    "tires": "the tires",
    "fuel": "the fuel",
    WARMTH: "what stood in the sun",
}
KINDS = {
    "came-back": "it came back; nothing of it stands out any more",
    "part-left": "it came part of the way; metal springs back when it is let go, and {now} is left",
    "too-far": "it went past zero, and {now} the other way is there now",
    "worse": "it is further out than before",
    "new": (
        "it was true before and is out now: new since the work, so look at what carried the pull"
    ),
}
"""What became of a quantity after a correction."""


def compare_text(comparison: Comparison, library: Library) -> str:
    """The whole comparison as plain text, the answer first."""
    return text_of(Document(title(comparison), compare_blocks(comparison, library)))


def compare_blocks(comparison: Comparison, library: Library) -> tuple[Block, ...]:
    """The answer, then part after part."""
    answer = Paragraph(change_headline(comparison, library), strong=True)
    word = wording(comparison.now.survey, library)
    return in_words((answer, *set_out(sections(comparison, library))), word)


def title(comparison: Comparison, km: float | None = None) -> str:
    """Car, both dates and what lies between. km: driven in all, where other surveys lie between the
    two.
    """
    then, now = comparison.then.survey, comparison.now.survey
    car = clean_line(now.car or then.car or "A frame without a name", 120)
    return f"{car}: {day(then)} against {day(now)}{between(then, now, km)}"


def between(then: Survey, now: Survey, km: float | None = None) -> str:
    """` (182 days, 900 km)`, as far as it is known."""
    parts = []
    if then.started.year > 1 and now.started.year > 1:
        parts.append(
            f"{(now.started.replace(tzinfo=None) - then.started.replace(tzinfo=None)).days} days"
        )
    km = driven(now) if km is None and now.follows == then.id else km
    if km is not None:
        parts.append(distance(km, now.unit))
    return f" ({', '.join(parts)})" if parts else ""


def change_headline(comparison: Comparison, library: Library) -> str:
    """The answer in one or two sentences."""
    now = comparison.now.survey
    since = since_from(comparison, library)
    said = change_sentence(since, layout_of(now, library), now.unit)
    count, untold = len(comparison.changes), len(since.untold)
    if not count:
        return said
    among = f"{count} figures were compared together"
    if since.beside and not since.moved:
        return f"{said} {among}."
    if since.moved:
        first = since.moved[0]
        doubt = "" if first.is_read_again else "The frame moved, or the way it was measured did."
        parts = (said, what_now(first), until_then(since), doubt, f"{among}.")
        return " ".join(filter(None, parts))
    return f"{said} {among}" + (
        f"; of {untold} it cannot be told." if untold else ", and none of them stands out."
    )


def sections(comparison: Comparison, library: Library) -> tuple[Section, ...]:
    """The parts in order, those with nothing to say left out."""
    now = comparison.now.survey
    layout, unit = layout_of(now, library), now.unit
    corrected = outcomes(comparison) if was_corrected(now, library) else ()
    since = since_from(comparison, library)
    worked = (outcome_line(o, layout, unit) for o in corrected)
    untold = (_untold(c, layout, unit) for c in since.untold)
    unlike = (unlike_line(u, library) for u in comparison.said)
    happened = clean_line(incidents(now), 300)
    again = next_line(now, library, alarmed=bool(since.alarming))
    parts = [
        section("changed", "What has changed", _all_changed(since, layout, unit)),
        section("otherwise", OTHERWISE, otherwise_lines(since, library)),
        asked_section(comparison, library),
        section("worked", "What the work between did", worked),
        section("untold", "What cannot be told", untold),
        section("unchanged", "What has not changed", _unchanged(comparison, layout, unit)),
        section("apart", "What was not compared, and why", _apart(comparison, library, layout)),
        section("unlike", "What else was unlike", unlike),
        section("kind", "What nothing here tells of this kind of frame", layout.cannot),
        section("happened", "What happened in between", [happened] if happened else []),
        section("again", "The next time", [again] if again else []),
    ]
    return told(parts)


def _all_changed(since: Since, layout: Layout, unit: Unit) -> Iterator[str]:
    """A line for each figure that changed; of what is part of another movement that is said."""
    seen = {c.new.id for m in since.moved for c in m.explains}
    for change in since.comparison.of("changed"):
        yield _changed(change, layout, unit) + (SEEN_BY_LEVEL if change.new.id in seen else "")
    for moved in since.moved:
        for change in moved.along:
            yield f"{_then_and_now(change, layout, unit)}. {PART_OF_IT}"


def _changed(change: Change, layout: Layout, unit: Unit) -> str:
    f = change.new
    return (
        f"{_cap(name_of(f, layout))}: then {amount(change.old, unit)}, now {amount(f, unit)}. It"
        f" moved by {size(change.number.value, f.unit, unit)}, give or take"
        f" {doubt_size(change.half_width, f.unit, unit)}."
    )


def outcome_line(outcome: Outcome, layout: Layout, unit: Unit) -> str:
    """What a correction did to one figure."""
    new = outcome.change.new
    return f"{_cap(name_of(new, layout))}: {KINDS[outcome.kind].format(now=amount(new, unit))}."


MET = {
    "met": "Met.",
    "not met": "Not met.",
    "cannot tell": "Cannot tell: it may be on either side of that. Read more there, or with a finer tool.",
    "not measured": "It was not measured again, so nobody knows.",
}
"""What became of a wish."""
COUNTED = {
    "met": "{} met",
    "not met": "{} not met",
    "cannot tell": "of {} it cannot be told",
    "not measured": "{} not measured again",
}
"""How many of them."""


def asked_section(comparison: Comparison, library: Library) -> Section:
    """What the brief of the survey before asked for, and what the survey after the work finds; with
    no line where nothing was put right, or nothing asked.
    """
    then, now = comparison.then.survey, comparison.now.survey
    lines: list[str] = []
    found = met(then, now, library) if was_corrected(now, library) else ()
    if found:
        layout = layout_of(now, library)
        lines = [met_line(found, layout), *(_wish_line(one, layout, now.unit) for one in found)]
        lines += _stayed(comparison, library, layout)
        lines += _looked_at(then, now, library)
    return section("asked", "What was asked for, and what was met", lines)


def met_line(found: Sequence[WishMet], layout: Layout) -> str:
    """`Of 5 figures asked for: 4 met; of 1 it cannot be told (horns, sideways).`: each that is not
    shown to be met by its name.
    """
    said = []
    for says, words in COUNTED.items():
        some = [one.wish.found.finding for one in found if one.says == says]
        names = "; ".join(name_of(f, layout) for f in some)
        named = f" ({names})" if says != "met" else ""
        said += [f"{words.format(len(some))}{named}"] if some else []
    figures = "figure" if len(found) == 1 else "figures"
    return f"Of {len(found)} {figures} asked for: {'; '.join(said)}."


def _looked_at(then: Survey, now: Survey, library: Library) -> Iterator[str]:
    """What was seen at the metal then and was to be looked at or made tight, and what the looks at
    the same places say now.
    """
    answer = answer_of(then, library, now.started)
    tale = Tale(answer.verdict, then, library)
    again = {seen.look.prompt: seen for seen in sight_of(now, library).seen}
    for fact in answer.facts:
        if fact.seen and fact.deed not in ("leave", "watch"):
            found = dict.fromkeys(_seen_now(again.get(s.look.prompt)) for s in fact.seen)
            yield f"{_cap(phrase(fact, tale))}, seen then; now {'; '.join(found)}."


def _seen_now(seen: Seen | None) -> str:
    """`all tight, nothing found (the place was bare)`."""
    if seen is None:
        return "not looked at again"
    if seen.choice is None:
        return "not reached" if seen.look.seen == "not-reached" else "not sure"
    return f"{seen.choice.words} (the place was {seen.look.seen})"


def _wish_line(one: WishMet, layout: Layout, unit: Unit) -> str:
    wish, after = one.wish, one.after
    finding = wish.found.finding
    before = f"{amount(finding, unit)}, {doubt(wish.found, unit)}"
    found = f"; found after {amount(after.finding, unit)}, {doubt(after, unit)}" if after else ""
    within = size(wish.within, finding.unit, unit)
    return (
        f"{_cap(name_of(finding, layout))}: wanted straight, to within {within}; found before"
        f" {before}{found}. {MET[one.says]}"
    )


def _stayed(comparison: Comparison, library: Library, layout: Layout) -> Iterator[str]:
    """What nobody asked to move."""
    others = unasked(comparison, wishes(comparison.then.survey, library))
    moved = "; ".join(name_of(c.new, layout) for c in others.moved)
    if moved:
        yield f"Moved, though nobody asked for it: {moved}."
    elif others.stayed:
        yield f"Nothing else moved, as far as can be told: {len(others.stayed)} figures were compared."
    untold = "; ".join(name_of(c.new, layout) for c in others.untold)
    if untold:
        yield f"Of these it cannot be told whether they stayed: {untold}."


def _untold(change: Change, layout: Layout, unit: Unit) -> str:
    f, said = change.new, _then_and_now(change, layout, unit)
    if change.why == ONE_OF_MANY:
        return (
            f"{said}. Alone it would look like a change; among so many figures one such is to be"
            " expected. Read again."
        )
    most = size(abs(change.number.value) + change.half_width, f.unit, unit)
    return f"{said}. It may have moved by as much as {most}; to find out, read more or with a finer tool."


def _then_and_now(change: Change, layout: Layout, unit: Unit) -> str:
    f = change.new
    return f"{_cap(name_of(f, layout))}: then {amount(change.old, unit)}, now {amount(f, unit)}"


SEEN_BY_LEVEL = " That is what the rail that moved does to the level there, and no twist."
PART_OF_IT = (
    "By itself that would not be sure; the same rail moved the same way right beside it, so it is part"
    " of that."
)


def _unchanged(comparison: Comparison, layout: Layout, unit: Unit) -> Iterator[str]:
    """One line a figure; the taped distances in one line together, for they are many."""
    still = comparison.of("not changed")
    for c in still:
        if c.new.quantity != marks.LENGTH:
            seen = at_most(c.visible, c.new.unit, unit)
            values = f"then {amount(c.old, unit)}, now {amount(c.new, unit)}"
            yield f"{_cap(name_of(c.new, layout))}: {values}; a change of {seen} in this figure alone would have shown."
    tapes = [c for c in still if c.new.quantity == marks.LENGTH]
    if tapes:
        low, high = (at_most(f(c.visible for c in tapes), "mm", unit) for f in (min, max))
        reach = high if low == high else f"{low} to {high}"
        what = "One taped distance" if len(tapes) == 1 else f"{len(tapes)} taped distances"
        yield f"{what}: a change of {reach} in one of them alone would have shown."


def _apart(comparison: Comparison, library: Library, layout: Layout) -> Iterator[str]:
    """One line for each reason and kind of figure."""
    groups: dict[tuple[str, QuantityId], list[Apart]] = {}
    for a in comparison.apart:
        groups.setdefault((why_apart(a, library), a.finding.quantity), []).append(a)
    for (why, _), found in groups.items():
        what = found[0].finding.of.plural if len(found) > 1 else name_of(found[0].finding, layout)
        count = f"{len(found)} " if len(found) > 1 else ""
        yield f"{_cap(count + what)}: {why}."


def why_apart(apart: Apart, library: Library) -> str:
    """Why a figure was not compared, without a mark at its end."""
    why = "; ".join(unlike_line(u, library) for u in apart.unlike) or WHY[apart.why]
    return why.rstrip(".")


WHY = {
    "not-now": "not read this time",
    "not-then": "not read last time",
    EDGE: "the string ran along another edge of the rail, or its depths were known only once",
}


def unlike_line(unlike: Unlike, library: Library) -> str:
    """What was another state then."""
    what = FIELDS.get(unlike.field, unlike.field)
    then, now = (_values(unlike.field, token, library) for token in (unlike.then, unlike.now))
    if unlike.field in OWN_WORDS:
        return f"{what}: you wrote “{then}” then and “{now}” now. See whether that is the same."
    if unlike.field == WARMTH:
        return f"{what}: then “{then}”, now “{now}”. What the sun may do is in the doubt."
    return f"{what}: then {then}, now {now}"


def _values(field: str, tokens: str, library: Library) -> str:
    """One value of the state or several, in words."""
    if not is_asked(field, library):  # a person's own words, with commas of his own
        return clean_line(tokens, 200)
    return " and ".join(field_words(field, token, library) for token in tokens.split(", "))


def _cap(text: str) -> str:
    return text[:1].upper() + text[1:]


def next_date(survey: Survey, library: Library) -> datetime | None:
    """The day for the next survey, as the person chose; None for no date."""
    months = MONTHS.get(meant(survey, library, marks.WHEN_AGAIN))
    return _after(survey, months) if months is not None else None


def _after(survey: Survey, months: int) -> datetime | None:
    """The day so many months after a survey; None for one without a day."""
    if survey.started.year == 1:
        return None
    year, month = divmod(survey.started.year * 12 + survey.started.month - 1 + months, 12)
    last = calendar.monthrange(year, month + 1)[1]
    return survey.started.replace(year=year, month=month + 1, day=min(survey.started.day, last))


def next_line(survey: Survey, library: Library, *, alarmed: bool = False) -> str:
    """`Measure the same points again about 2027-04-10.`; empty without a date.

    alarmed: whether something moved that was not meant to: then it is a month at most.
    """
    if meant(survey, library, marks.WHEN_AGAIN) == marks.MENDED:
        return "Measure the same points again as soon as it is put right."
    if alarmed:
        date = _after(survey, MONTHS[marks.MONTH])
        by = f"by {date:%Y-%m-%d}" if date else "in a month"
        return f"Something has moved: measure the same points again {by} and no later."
    date = next_date(survey, library)
    return (
        f"Measure the same points again about {date:%Y-%m-%d}, and at once after a knock."
        if date
        else ""
    )
