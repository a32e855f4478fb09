"""What can be done about what was found, in what order, what to ask a specialist, and what to look
at again after paint or assembly.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING

from wizard.judgment.bands import Judged
from wizard.judgment.choices import Choice, choices_of, in_turn
from wizard.judgment.claims import of_choice
from wizard.judgment.facts import Zone, is_out
from wizard.judgment.seen import Seen, bent_horn
from wizard.judgment.supports import is_stands_twist
from wizard.judgment.verdict import Verdict, is_open
from wizard.library import marks
from wizard.library.places import WHOLE_BOX, FindingId, QuantityId, Source, StepId, side_of
from wizard.library.shapes import Layout, Library, Step, Work
from wizard.readings.plain import and_, clean_line
from wizard.survey.guide import is_short_again, steps_of
from wizard.survey.meant import meant
from wizard.survey.record import Survey, Unit
from wizard.survey.rows import Answer as Row
from wizard.telling.amounts import about, size
from wizard.telling.axle_words import askew, beside
from wizard.telling.causes_words import place_name, zone_words
from wizard.telling.document import Item
from wizard.telling.fact_words import Tale, phrase
from wizard.telling.moved_words import (
    day_of,
    figures_of,
    look_bare,
    moved_words,
    then_and_now,
    until_then,
    what_now,
)
from wizard.telling.numbering import numbered_name
from wizard.telling.quantity_names import amount, cap, holds, name_of
from wizard.telling.sentences import sentence
from wizard.telling.supports_words import twist_move

if TYPE_CHECKING:  # what moved is given, and nothing is compared here
    from wizard.judgment.since import Moved, Since

TO_SPECIALIST = ("stop", "specialist", "put-right")


def order_lines(
    verdict: Verdict,
    survey: Survey,
    layout: Layout | None = None,
    since: Since | None = None,
) -> list[Item]:
    """What comes first, in the order of doing; nothing where there is nothing to do.

    layout: for the parts that this kind of frame has; without it they are named in general. since:
    what moved since last time, which comes before all but a stop.
    """
    lines: list[Item] = []
    if verdict.stops:
        ids = tuple(s.look.id for s in verdict.stops)
        lines.append(
            Item(
                "The places that stop you. Let them be seen before anything is changed there;"
                " measuring does no harm.",
                ids,
            )
        )
    if verdict.loose:
        ids = tuple(s.look.id for s in verdict.loose)
        lines.append(
            Item(
                "The loose joints. While they are loose, measurements mean nothing. Then measure again.",
                ids,
            )
        )
    lines += _moved_order(since)
    stands = tuple(
        j.finding.id for j in verdict.judged if is_stands_twist(j.finding, survey) and is_open(j)
    )
    if stands:
        lines.append(Item(f"The supports. {twist_move(survey.state())}", stands))
    lines += short_rail_lines(verdict, layout, survey.unit)
    lines += [] if is_short_again(survey) else _unseen(verdict)
    return _in_order([*lines, *_work(verdict, survey, layout)])


# What moved since last time -----------------------------------------------------------------------


def _alarming(since: Since | None) -> tuple[Moved, ...]:
    """What moved and was not meant to."""
    return since.alarming if since is not None else ()


def moved_lines(since: Since | None, layout: Layout, unit: Unit) -> list[Item]:
    """Each figure of what moved, then and now, and how the car is treated; nothing where none did."""
    if since is None or not since.alarming:
        return []
    lines = [
        Item(f"{cap(name_of(c.new, layout))}: {then_and_now(c, layout, unit)}.", (c.new.id,))
        for c in figures_of(since)
    ]
    return [*lines, Item(until_then(since), (since.alarming[0].finding.id,))]


def moved_rows(since: Since, layout: Layout, unit: Unit) -> list[tuple[str, ...]]:
    """Of each figure of what moved: what and where, then, now, by how much, give or take."""
    return [
        (
            cap(numbered_name(c.new, layout)),
            amount(c.old, unit),
            amount(c.new, unit),
            size(c.number.value, c.new.unit, unit),
            size(c.half_width, c.new.unit, unit),
        )
        for c in figures_of(since)
    ]


def moved_title(since: Since) -> str:
    """`What moved since 2026-06-01`."""
    return f"What moved {day_of(since)}"


def moved_first(since: Since) -> str:
    """What whoever knows frames is asked to do before anything else about what moved."""
    return (
        f"Before anything else, look at {_bare(since.alarming)} bare: say what gave way, and whether it may still be"
        " moving."
    )


def moved_to_do(since: Since | None, layout: Layout, unit: Unit) -> list[Item]:
    """What moved, and what to do about it at once; nothing where nothing did."""
    moved = _alarming(since)
    if since is None or not moved:
        return []
    what = cap("; ".join(moved_words(m, layout, unit) for m in moved))
    text = f"{what} {day_of(since)}. {what_now(moved[0])} {until_then(since)}"
    return [Item(text, tuple(m.finding.id for m in moved))]


def _moved_order(since: Since | None) -> list[Item]:
    """What moved, in the order of doing: before it is known why, nothing is put right."""
    moved = _alarming(since)
    if since is None or not moved:
        return []
    text = f"What moved {day_of(since)}. Look at {_bare(moved)} bare, and find out why."
    return [Item(text, tuple(m.finding.id for m in moved))]


def _bare(moved: tuple[Moved, ...]) -> str:
    """All that is looked at bare."""
    return and_(list(dict.fromkeys(map(look_bare, moved))))


def _in_order(lines: list[Item]) -> list[Item]:
    """First, then, last: so that it can be read aloud."""
    words = ["First", *["Then"] * (len(lines) - 2), "Last"] if len(lines) > 1 else ["First"]
    pairs = zip(words, lines, strict=False)
    return [
        Item(f"{word}: {one.text[:1].lower()}{one.text[1:]}", one.sources) for word, one in pairs
    ]


def _unseen(verdict: Verdict) -> list[Item]:
    """The looks that would settle a cause in doubt, where a sign made it doubtful."""
    doubtful = [c for c in verdict.causes.conclusions.values() if c.cannot_tell and c.signs]
    found: dict[str, tuple[Source, ...]] = {}
    for c in doubtful:
        step = c.unmet[0].settle
        found[step] = (
            *found.get(step, ()),
            *(i for e in c.signs for i in e.sources),
            f"step:{c.unmet[0].step}",
        )
    return [Item(f"{step}.", tuple(dict.fromkeys(ids))) for step, ids in found.items()]


def _work(verdict: Verdict, survey: Survey, layout: Layout | None) -> list[Item]:
    frame = tuple(
        j.finding.id for j in verdict.of_frame if j.established in ("put-right", "specialist")
    )
    axle = tuple(j.finding.id for j in verdict.of_frame if j.established == "axle-first")
    lines = []
    if frame:
        lines.append(Item("The frame, by somebody who does it for a living.", frame))
        lines += _beside(verdict, layout)
        lines.append(Item("The same points measured once more, before any paint.", frame))
    if axle:
        lines += _axle(verdict, survey, layout, axle)
    if frame or axle:
        lines.append(
            Item(
                "The brakes and their rods, put right before the car moves again.", (*frame, *axle)
            )
        )
        lines.append(Item("Toe and doors, once all the rest stands still.", (*frame, *axle)))
    return lines


def _beside(verdict: Verdict, layout: Layout | None) -> list[Item]:
    """A blow that bent the frame went through axle and steering first, or went on into them."""
    lines = []
    for corner in verdict.causes.struck:
        parts = beside(corner, layout)
        if parts:
            text = f"{parts}, looked at for bends and cracks by the same person."
            lines.append(Item(text[:1].upper() + text[1:], _gathered(verdict, corner)))
    return lines


def _gathered(verdict: Verdict, corner: Zone) -> tuple[Source, ...]:
    """What the signs at a corner rest on."""
    causes = verdict.causes
    hurt = [e for c in ("collision", "repair") if c in causes.conclusions for e in causes[c].signs]
    return tuple(dict.fromkeys(i for e in hurt if corner in e.zones for i in e.sources))


def _axle(
    verdict: Verdict, survey: Survey, layout: Layout | None, base: tuple[FindingId, ...]
) -> list[Item]:
    """The axle that stands askew, where its ends were taped; else either."""
    found = askew(verdict)
    if not found or layout is None:
        return [Item(f"The axle: {holds(layout)}. Tape it again.", base)]
    look = f" Look at {holds(layout)}, then tape again."
    return [Item(sentence(j, layout, survey.unit) + look, (*base, j.finding.id)) for j in found]


def own_question(survey: Survey, library: Library) -> list[Item]:
    """The person's own question for a specialist, before the program's."""
    which, ids = typed_to(marks.OWN_QUESTION, survey, library)
    if meant(survey, library, marks.WISH) != marks.ASK_SPECIALIST or not which:
        return []
    return [Item(as_question(which), ids)]


def typed_to(question: str, survey: Survey, library: Library) -> tuple[str, tuple[str, ...]]:
    """What was typed to a question that wants words, and the rows it stands in; else empty."""
    asked = library.asking(question)
    text = survey.answer_to(asked.prompt).strip(" -") if asked else ""
    rows = (r for r in survey.standing(Row) if asked and r.prompt == asked.prompt)
    return text, tuple(r.id for r in rows) if text else ()


def as_question(text: str) -> str:
    """A person's own question as it is put to somebody else: many type neither capital nor mark."""
    said = as_sentence(text)
    said = said[:1].upper() + said[1:]
    return said if said.endswith(("!", "?")) else f"{said.rstrip('.')}?"


def as_sentence(text: str) -> str:
    """Somebody's own words with a mark at their end."""
    text = clean_line(text, 200).strip()
    return text if text.endswith((".", "!", "?")) else f"{text}."


def question_lines(verdict: Verdict, layout: Layout, since: Since | None = None) -> list[Item]:
    """Questions to take along; none where nobody has to be asked."""
    named, moved = _named(verdict), _about_moved(since)
    if verdict.action not in TO_SPECIALIST and not named and not moved:
        return []
    lines = [*_about_stops(verdict), *moved, *_about_numbers(verdict)]
    if "collision" in named:
        lines.append(_about_blow(verdict))
    lines += _cracks_too(verdict)
    if "repair" in named:
        lines.append(Item("Is the old repair sound? Who may judge it?", _of(verdict, "repair")))
    rests: tuple[Source, ...] = tuple(j.finding.id for j in verdict.reasons) or tuple(
        i for line in lines for i in line.sources
    )
    lines.append(
        Item("From which points will you measure, and may I have your figures after that?", rests)
    )
    return lines


def _about_moved(since: Since | None) -> list[Item]:
    """What to ask about what moved since last time."""
    moved = _alarming(since)
    if since is None or not moved:
        return []
    ids = tuple(m.finding.id for m in moved)
    return [
        Item(f"What made it move {day_of(since)}? Please look at {_bare(moved)} bare.", ids),
        Item("May it still be moving, and what must be held or renewed before anything else?", ids),
    ]


def _about_stops(verdict: Verdict) -> list[Item]:
    ids = tuple(s.look.id for s in verdict.stops)
    return [Item("What made this place give way, and are there more like it?", ids)] if ids else []


def _about_blow(verdict: Verdict) -> Item:
    corner = verdict.causes.corner
    at = f" at the {zone_words(corner)}" if corner else ""
    return Item(f"Does what you see{at} fit one blow, or more than one?", _of(verdict, "collision"))


CRACKS = {
    "front": "Will you check axle, spindle and steering box mounting for cracks too?",
    "rear": "Will you check the rear axle and its spring seats for cracks too?",
}


def _cracks_too(verdict: Verdict) -> list[Item]:
    """At each end where it was hit, or where signs of a blow gather."""
    ids: dict[str, tuple[Source, ...]] = {}
    for corner in verdict.causes.struck:
        ids[corner[1]] = (*ids.get(corner[1], ()), *_gathered(verdict, corner))
    return [Item(CRACKS[end], rests) for end, rests in ids.items() if end in CRACKS and rests]


def _of(verdict: Verdict, cause: str) -> tuple[Source, ...]:
    return tuple(dict.fromkeys(i for e in verdict.causes[cause].signs for i in e.sources))


WHICH_HORN = "Which of the two horns is the one that moved?"
SAME_HORN = "The {bent} horn was seen bent and the {other} one not. Do you find the same?"
"""What is asked of two horns that differ; the other one where it is told which of them is bent."""
ABOUT = (
    ((marks.MASH,), "Where has the length gone: a fold, or a joint that slipped?"),
    (
        marks.SAGS,
        "How should the rails lie before the engine's weight comes on, so that they lie straight"
        " with it?",
    ),
    ((marks.TWIST,), "Can a twist like this be taken out at all?"),
    ((marks.HORN_APART,), WHICH_HORN),
)
"""Quantities, and what to ask about one that somebody else must put right."""


def _about_numbers(verdict: Verdict) -> list[Item]:
    grave: dict[QuantityId, Judged] = {}
    for j in verdict.judged:
        if j.established in ("put-right", "specialist"):
            grave.setdefault(j.finding.quantity, j)
    lines = _about_shift(grave[marks.RAIL_SHIFT]) if marks.RAIL_SHIFT in grave else []
    for quantities, text in ABOUT:
        ids = tuple(j.finding.id for q, j in grave.items() if q in quantities)
        if ids:
            lines.append(Item(_of_horn(text, verdict), ids))
    return lines


def _of_horn(text: str, verdict: Verdict) -> str:
    """A question; one about both horns names the one that was seen bent."""
    bent = side_of(bent_horn(verdict.seen)) if text == WHICH_HORN else None
    return SAME_HORN.format(bent=bent, other=bent.other) if bent else text


def _about_shift(shift: Judged) -> list[Item]:
    rail, other = ("right", "left") if shift.finding.value > 0 else ("left", "right")
    text = f"Did the {rail} rail go back, or the {other} one forward?"
    return [Item(text, (shift.finding.id,))]


def again_lines(verdict: Verdict) -> list[Item]:
    """What must be looked at again once there is paint, an engine, a body."""
    lines = []
    worked = tuple(
        j.finding.id for j in verdict.of_frame if j.established in ("put-right", "specialist")
    )
    if worked:
        lines.append(Item("Before paint: the same points, on the same supports.", worked))
    shape = tuple(
        j.finding.id for j in verdict.judged if _in(verdict, j.finding.id, ("equal-sag", "crown"))
    )
    if shape:
        lines.append(Item("With the engine in: the string at the engine mount, both rails.", shape))
        lines.append(
            Item(
                "With the body on, before the last turn of the bolts: the gaps of hood and doors.",
                shape,
            )
        )
    joints = _joints(verdict)
    if joints:
        text = "After paint, and whenever you measure again: the joints near what was found. "
        text += "A fresh crack in the paint shows what moves."
        lines.append(Item(text, tuple(dict.fromkeys(joints))))
    return lines


def _joints(verdict: Verdict) -> tuple[Source, ...]:
    """All near which a fresh crack would tell something."""
    seen = [s.look.id for s in verdict.loose]
    moving = [i for e in verdict.causes.moving for i in e.sources]
    stops = [s.look.id for s in verdict.stops]
    named = [i for c in _named(verdict) for i in _of(verdict, c)]
    return (*seen, *moving, *stops, *named, *(j.finding.id for j in verdict.of_frame if is_out(j)))


def _named(verdict: Verdict) -> list[str]:
    """The causes that somebody may be asked about."""
    causes = verdict.causes
    return [c for c in ("collision", "repair") if c in causes.conclusions and causes[c].named]


def _in(verdict: Verdict, finding: FindingId, conditions: tuple[str, ...]) -> bool:
    signs = [e for c in verdict.causes.conclusions.values() for e in c.signs]
    return any(finding in e.sources and e.sign.finding.startswith(conditions) for e in signs)


def short_rail(verdict: Verdict) -> Judged | None:
    """The rail that is surely shorter than its twin, in the smallest box that shows it; None where
    there is none.
    """
    short = [j for j in verdict.judged if j.finding.quantity == marks.MASH and is_out(j)]
    return next((j for j in short if j.finding.where != WHOLE_BOX), short[0] if short else None)


def short_rail_lines(verdict: Verdict, layout: Layout | None, unit: Unit) -> list[Item]:
    """What to do before a short rail is believed: steel leaves a trace where its length went."""
    short = short_rail(verdict)
    if short is None:
        return []
    side = "left" if short.finding.value > 0 else "right"
    rail = _looks(verdict, marks.RAIL_SIDE, side)
    if any(s.choice and not s.nothing for s in rail):
        return []
    ahead = [s for s in _looks(verdict, marks.HORN, side) if s.carries(marks.BENT)]
    if ahead:
        why = f"The bend seen at the {side} horn lies ahead of that box and does not explain it. "
    else:
        why = _nothing_to_see(rail, about(short.finding.value, "mm", unit))
    text = (
        f"{why}Tape it again from another rivet. If it stands, look for the"
        f" fold{_between(short, layout)}, "
    )
    text += "or for joints that slipped."
    return [Item(text, (short.finding.id, *(s.look.id for s in (*rail, *ahead))))]


def _looks(verdict: Verdict, mark: str, side: str) -> list[Seen]:
    """What was seen on one side at the steps that carry the mark."""
    return [s for s in verdict.seen if mark in s.step.marks and s.side == side]


def _nothing_to_see(rail: list[Seen], size: str) -> str:
    """What the steel says against the tape, where it was seen bare."""
    bare = any(s.look.seen == "bare" and s.choice for s in rail)
    return f"A rail cannot be {size} short with nothing to see. " if bare else ""


def _between(short: Judged, layout: Layout | None) -> str:
    box = layout.box_by_id.get(short.finding.where) if layout else None
    if layout is None or box is None:
        return ""
    return f" between {place_name(box.front, layout)} and {place_name(box.rear, layout)}"


# What can be done about it -----------------------------------------------------------------------

NOT_HOW = (
    "How it is done is for whoever does it to say, by the rules where you live. What these choices"
    " leave is common practice, with no published source."
)
PAGES = 4
"""Pages named in one line."""


def choice_lines(
    verdict: Verdict, survey: Survey, library: Library, since: Since | None = None
) -> list[Item]:
    """Nothing where nothing asks for anything; before it is known why something moved, no choice."""
    first = _not_yet(since)
    found = _but_moved(choices_of(verdict, survey, library), since)
    if not found:
        return first
    tale, titles = Tale(verdict, survey, library), steps_of(survey, library)
    works = in_turn(found)
    every = tuple(dict.fromkeys(s for choice in found for s in choice.fact.sources))
    lines = [
        Item(_choices_named(choice, tale), choice.fact.sources, claims=(of_choice(choice),))
        for choice in found
    ]
    lines += [Item(_work_words(work, found, titles), _sources(work, found)) for work in works]
    return [*first, *lines, *(Item(text, every) for text in (*_doing(works), NOT_HOW))]


def _but_moved(every: tuple[Choice, ...], since: Since | None) -> tuple[Choice, ...]:
    """The choices but for what moved: before it is known why, none is offered."""
    moved = {c.new.id for m in _alarming(since) for c in m.changes}
    return tuple(c for c in every if moved.isdisjoint(c.fact.sources))


def _not_yet(since: Since | None) -> list[Item]:
    """That nothing of it is done before it is known why something moved."""
    moved = _alarming(since)
    if since is None or not moved:
        return []
    text = f"Nothing there before it is known why it moved {day_of(since)}. {until_then(since)}"
    return [Item(text, tuple(m.finding.id for m in moved))]


def _choices_named(choice: Choice, tale: Tale) -> str:
    """`Left rail 7/16 in low at the rear engine mount: shim the body, or leave it.`; what whoever
    surveys does himself comes first.
    """
    first = " and ".join(_small(w.name) for w in choice.works if w.ours)
    rest = ", or ".join(_small(w.name) for w in choice.works if not w.ours)
    said = f"first {first}; then, if need be, {rest}" if first and rest else first or rest
    return f"{cap(phrase(choice.fact, tale))}: {said}."


def _small(name: str) -> str:
    return name[:1].lower() + name[1:]


def _work_words(work: Work, found: tuple[Choice, ...], titles: Mapping[StepId, Step]) -> str:
    """One choice with all that it asks and leaves."""
    again = _again(work, found, titles)
    label = "Found on these pages" if work.ours else "Measure or look again after it"
    after = f" {label}: {again}." if again else ""
    return f"{work.name}. {work.words} Who: {work.who}. It leaves: {work.leaves}.{after}"


def _again(work: Work, found: tuple[Choice, ...], titles: Mapping[StepId, Step]) -> str:
    """The pages on which it was found, and what else moves with it."""
    if work.turn == 0:
        return work.again
    here = [c for c in found if work in c.works]
    pages = dict.fromkeys(page for choice in here for page in choice.pages)
    # In quotes: the title of a page where one looks for a tear says of no tear that it was found.
    names = [f"“{titles[page].title}”" for page in pages]
    # One more page is named: that takes no more room than to count it.
    most = PAGES if len(names) > PAGES + 1 else PAGES + 1
    more = [f"{len(names) - most} more pages"] if len(names) > most else []
    where = and_([*names[:most], *more])
    return "; ".join(filter(None, (where, work.again)))


def _sources(work: Work, found: tuple[Choice, ...]) -> tuple[Source, ...]:
    here = (c for c in found if work in c.works)
    return tuple(dict.fromkeys(s for choice in here for s in choice.fact.sources))


def _doing(works: tuple[Work, ...]) -> Iterator[str]:
    """In what order, where there is more than one thing to do."""
    doing = [_small(w.name) for w in works if w.turn]
    if len(doing) > 1:
        yield (
            f"In this order, of what you choose: {', then '.join(doing)}."
            " What was changed is measured again before the next begins."
        )
