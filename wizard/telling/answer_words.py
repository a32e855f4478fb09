"""The answer in words: a headline that names the part, the side, the amount and what to do, and at
most five lines under it.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from datetime import datetime
from itertools import groupby
from typing import TYPE_CHECKING, NamedTuple

from wizard.checks.case import case_of
from wizard.checks.notes import EDGE_NOT_KNOWN
from wizard.checks.plan import one_diagonal
from wizard.judgment.answer import CALM, HELD, Answer, Collision, answer_of, answered
from wizard.judgment.body import is_propped
from wizard.judgment.fact import Fact, remarks_at
from wizard.judgment.least import DOWN, TWISTED
from wizard.judgment.seen import LATER, Gap
from wizard.judgment.supports import is_stands_twist, supports_of
from wizard.judgment.verdict import Verdict
from wizard.library import marks
from wizard.library.places import Source, StepId
from wizard.library.shapes import Layout, Library, Step
from wizard.readings.plain import and_, clean_line
from wizard.survey.guide import guide_of, is_short_again
from wizard.survey.record import Survey
from wizard.survey.rows import NEVER, Opinion
from wizard.telling.amounts import clauses, is_inside
from wizard.telling.axle_words import beside_words, wobble_brief
from wizard.telling.document import Block, Item, Paragraph, Terms, in_words
from wizard.telling.fact_words import (
    LACKING,
    Tale,
    between,
    deed,
    find_out,
    named_places,
    one_of,
    phrase,
    phrases,
    sentence_of,
    thing,
    told_apart_by,
    would_tell,
)
from wizard.telling.moved_words import (
    HEADED,
    blind_words,
    change_sentence,
    day_of,
    least_moved_words,
    least_words,
    moved_words,
    until_then,
    what_now,
)
from wizard.telling.not_driven import NOT_DRIVEN, must_not_move
from wizard.telling.quantity_names import cap, name_of
from wizard.telling.sound_words import in_order
from wizard.telling.supports_words import twist_left_open
from wizard.telling.to_do import when_again

if TYPE_CHECKING:
    from wizard.judgment.since import Since

MOST = 5
"""Lines under the headline."""
NAMED = 4
"""Facts named in one line; the rest is opened."""
FINE = "Nothing to put right on what was seen and measured."
FRAME_FINE = "Nothing to put right in the frame on what was seen and measured."
"""Where something beside the frame was found that is not as it should be."""
AGAIN = "Measure the same points again {when}."
CONTRADICT = (
    "Some measurements cannot all be right, so nothing that depends on them is known yet. Measure"
    " them again first."
)
GO_ON = "/whole"
"""The word that goes on with the whole survey."""
OPEN = "What was measured leaves open what to do. To find out, read more, or with a finer tool."


class Told(NamedTuple):
    """An answer with what its words are found by."""

    answer: Answer
    tale: Tale

    def said(self, facts: Sequence[Fact]) -> str:
        """Facts and what to do about each, a sentence for each deed."""
        parts = []
        for _, some in groupby(facts[:NAMED], lambda f: one_of(deed(f, self.tale))):
            parts.append(sentence_of(list(some), self.tale))
        more = len(facts) - NAMED
        return " ".join([*parts, *([f"And {more} more."] if more > 0 else [])])


def told_of(answer: Answer, survey: Survey, library: Library) -> Told:
    """The answer, ready to be told."""
    return Told(answer, Tale(answer.verdict, survey, library))


# The headline -------------------------------------------------------------------------------------


def headline_of(
    verdict: Verdict, survey: Survey, library: Library, since: "Since | None" = None
) -> str:
    """The answer of a verdict in one sentence or two."""
    return headline(told_of(answered(verdict, survey, library, since), survey, library))


def headline(told: Told) -> str:
    """The answer in one sentence or two, and whatever forbids to drive the car."""
    return told.tale.word(_headline(told))


def _headline(told: Told) -> str:
    said = HEADLINES[told.answer.kind](told)
    since = told.answer.since
    if since is not None and told.answer.kind not in (*HELD, "rocks", "moved"):
        said = f"{_since(told)} {said}"
    if must_not_move(told.answer.verdict) and NOT_DRIVEN not in said:
        said = f"{said} {NOT_DRIVEN}"
    return said


def _since(told: Told) -> str:
    since = told.answer.since
    assert since is not None
    return change_sentence(since, told.tale.layout, told.tale.survey.unit)


def _held(told: Told) -> str:
    head = told.answer.head
    return f"{cap(phrases(head, told.tale))}. {NOT_DRIVEN}"


def _moved(told: Told) -> str:
    since = told.answer.since
    assert since is not None
    return f"{_since(told)} {what_now(since.moved[0])}"


def _out(told: Told) -> str:
    return told.said(told.answer.head)


def _again(told: Told) -> str:
    if not told.answer.head:
        return CONTRADICT
    return f"{told.said(told.answer.head)} Until then nothing that depends on it is known."


def _seen(told: Told) -> str:
    return told.said(told.answer.head)


def _unseen(told: Told) -> str:
    fact = told.answer.head[0]
    return f"{cap(phrase(fact, told.tale))}. {cap(deed(fact, told.tale))}: no tape finds a crack."


def _open(told: Told) -> str:
    if not told.answer.head:
        return CONTRADICT if _contradicts(told) else OPEN
    fact = told.answer.head[0]
    which = between(fact)
    if not which:
        return sentence_of([fact], told.tale)
    if not fact.is_told:
        return f"{_rough(fact)} {find_out(fact, told.tale)}"
    said = cap(phrase(fact, told.tale))
    return f"{said}. It is not known yet {which}. {find_out(fact, told.tale)}"


def _rough(fact: Fact) -> str:
    """What is open though no difference stands out of its doubt."""
    first = fact.judged[0]
    return f"{cap(first.name)}: {SHAPED if first.finding.has(EDGE_NOT_KNOWN) else ROUGH}."


ROUGH = "none shows so far, but these readings are too rough to be sure"
SHAPED = "a string does not tell it from the maker's own shape of that edge"


def _contradicts(told: Told) -> bool:
    return any(j.finding.disagrees for j in told.answer.verdict.judged)


def _little(told: Told) -> str:
    missing = [LACKING[f.way] for f in told.answer.head if f.kind == "lacking"]
    known = and_([what for what, _ in missing])
    return f"It is not known yet whether the frame is {known}. First, {missing[0][1]}."


def _short(told: Told) -> str:
    """Whether the engine may leave: what a short survey is for."""
    short = told.answer.short
    assert short is not None
    if not short.on_paper:
        return "Sag is not on paper yet. Read the string first, then let the engine leave."
    leaves = "; the engine may leave" if short.engine_in else ""
    lost = and_([topic.name for topic in short.lost])
    gone = f" What was not read leaves with it: {lost}." if lost and leaves else ""
    return f"Sag is on paper{leaves}.{gone}"


def _engine(told: Told) -> str:
    """The same in a line, where the headline is another one; nothing where nobody works on it."""
    if told.answer.short is None or told.answer.kind in ("short", *HELD, "rocks"):
        return ""
    return _short(told)


def _another_day(told: Told) -> str:
    """What a short survey leaves for another day, and how to go on with it."""
    short = told.answer.short
    if short is None or not short.another_day:
        return ""
    from wizard.telling.asking import duration

    names = cap(and_([topic.name for topic in short.another_day]))
    took = duration(max(round(short.minutes), 1))
    return f"{names}: about {took}. Type {GO_ON} to go on with it now; what is done stays."


def _watch(told: Told) -> str:
    facts = told.answer.head[:EYED]
    eye = told.said(facts) if facts else _struck(told)
    return f"{eye} {_fine(told)}{_aside(told)}"


EYED = 2
"""Things worth an eye that are named at once."""


def _struck(told: Told) -> str:
    """Where a blow left its traces though no figure is out."""
    corner = told.answer.verdict.causes.corner
    at = f"the {' '.join(corner)}" if corner else "the places where it was hit"
    return f"Keep an eye on {at}: the signs of a collision meet there."


def _straight(told: Told) -> str:
    when = when_again(told.tale.survey, told.tale.library)
    return f"{_fine(told)}{_aside(told)} {AGAIN.format(when=when)}"


def _fine(told: Told) -> str:
    """That nothing of it is to be put right: of all that was seen, or of the frame alone."""
    return FRAME_FINE if _beside(told) else FINE


def _beside(told: Told) -> str:
    """What was found of the axle set, which is no part of the frame."""
    tale = told.tale
    return beside_words(told.answer.verdict, tale.survey, tale.library)


def _wobble(told: Told) -> str:
    """Where to look first for a wobble that somebody remembers."""
    return wobble_brief(told.tale.survey, told.tale.library)


def _aside(told: Told) -> str:
    """The one thing that is not settled, named behind what is, with what would settle it."""
    aside = told.answer.verdict.aside
    if not aside:
        return ""
    names = and_(list(dict.fromkeys(j.sound for j in aside)))
    facts = [f for f in told.answer.untold if _is_aside(f, told)]
    would = would_tell(facts[0], told.tale) if facts else ""
    return f" Only {names} {ARE_OPEN}{f': {would}' if would else ''}."


def _is_aside(fact: Fact, told: Told) -> bool:
    """Whether it is the one thing that the headline leaves open and asks for."""
    aside = {j.finding.id for j in told.answer.verdict.aside}
    return any(j.finding.id in aside for j in fact.judged)


ARE_OPEN = "are still open"


HEADLINES: Mapping[str, Callable[[Told], str]] = {
    "stop": _held,
    "loose": _held,
    "moves": _held,
    "rocks": lambda told: f"{told.said(told.answer.head)} Nothing is known until it stands still.",
    "moved": _moved,
    "specialist": _out,
    "put-right": _out,
    "axle-first": _out,
    "again": _again,
    "seen": _seen,
    "unseen": _unseen,
    "open": _open,
    "short": _short,
    "little": _little,
    "watch": _watch,
    "straight": _straight,
}
"""Each kind of headline; what its parts are stands in wizard/judgment/answer.py."""


# The lines under it -------------------------------------------------------------------------------


class Line(NamedTuple):
    """One kind of line."""

    label: str
    say: Callable[[Told], str]
    sources: Callable[[Answer], Sequence[Fact]]
    """What it speaks of."""
    keep: int
    """Where there are too many, the one with the smallest number goes first."""


def _moving(told: Told) -> str:
    since = told.answer.since
    if told.answer.kind != "moved" or since is None:
        return ""
    return until_then(since)


def _still(told: Told) -> str:
    """What else moved, and how little of the rest would have been seen."""
    since, tale = told.answer.since, told.tale
    if since is None or not since.compared or (told.answer.kind not in (*HELD, "rocks", "moved")):
        return ""
    behind = since.moved[HEADED:] if told.answer.kind == "moved" else since.moved
    also = [moved_words(m, tale.layout, tale.survey.unit) for m in behind]
    seen = least_moved_words(since.least, tale.survey.unit)
    said = [f"{cap('; '.join(also))}."] if also else []
    if seen:
        shown = f"that these readings can show ({seen} would have been seen)"
        said.append(f"{_rest(since)} {shown}.")
    return " ".join(said)


def _rest(since: "Since") -> str:
    """That nothing has moved beside what was told, of what can be compared."""
    of = " of the frame" if since.beside else ""
    if since.moved:
        return f"Nothing else{of} has moved"
    nothing = f"Nothing{of}" if not since.apart else "Of what can be compared nothing"
    return f"{nothing} has moved {day_of(since)}"


def _not_compared(told: Told) -> str:
    """What both surveys have and could not be held against each other, why, and how it could be."""
    since = told.answer.since
    if since is None or not since.apart:
        return ""
    from wizard.telling.change_words import why_apart  # few surveys are read in another state

    by_why: dict[str, list[str]] = {}
    for one in since.apart:
        by_why.setdefault(why_apart(one, told.tale.library), []).append(one.finding.of.together)
    said = (f"{cap(and_(list(dict.fromkeys(n))))}: {why}." for why, n in by_why.items())
    return f"{' '.join(said)} {TO_COMPARE}"


TO_COMPARE = "To compare them, have it as it was then and read them again."


def _reads(told: Told) -> str:
    return told.said(told.answer.reads)


FIRST = {
    "stop": "Change nothing there and take a photo of it; measuring does no harm.",
    "loose": "Once {it_is} tight, measure the same points again.",
}
"""What comes before all else, by the kind of headline."""
FITTED = "hood and doors were fitted to it, so leave it as it is"


def _then(told: Told) -> str:
    """What else must be done, the gravest first; what is worth an eye comes last."""
    answer = told.answer
    many = sum(f.deed == "loose" for f in answer.head) > 1
    first = FIRST.get(answer.kind, "").format(it_is="they are" if many else "it is")
    eye = _eyed(answer, "watch")
    return " ".join(filter(None, (first, told.said(answer.then), told.said(eye))))


def _eyed(answer: Answer, deed: str) -> list[Fact]:
    """What is worth an eye, or may stay, and is not in the headline."""
    head = answer.head[:EYED] if answer.kind == "watch" else ()
    return [f for f in answer.eye if f.deed == deed and f not in head][:EYED]


def _may_stay(told: Told) -> str:
    """What stands out of its doubt, and still nothing needs doing about it."""
    unit = told.tale.survey.unit
    facts = [
        f for f in _eyed(told.answer, "leave") if not f.judged or not is_inside(f.judged[0], unit)
    ]
    fitted = [f for f in facts if f.judged[0].established == "watch"]
    rest = [f for f in facts if f not in fitted]
    said = [f"{cap(phrases(rest, told.tale))}."] if rest else []
    if fitted:
        said.append(f"{cap(phrases(fitted, told.tale))}: {FITTED}.")
    return " ".join(said)


def _untold(told: Told) -> str:
    """What could not be told, and the one thing that would tell what matters most of it."""
    since = told.answer.since
    if any(f.kind == "square" and f.is_told and f.deed != "leave" for f in told.answer.facts):
        return f"Why it is out of square. {told_apart_by(told.answer.verdict.judged, told.tale.layout)}"
    facts = _not_asked(told)
    if not facts:
        return _unsure(since, told.tale.layout) if since is not None else ""
    more = len(facts) - 1
    also = f" {COUNT_OPEN.get(more, f'{more} more things are')} open too." if more else ""
    return f"{_open_words(facts[0], told.tale)}{also}"


UNSURE_NAMED = 3
"""Figures that are named where it is not known whether they changed; more are counted."""


def _unsure(since: "Since", layout: Layout) -> str:
    """Of which figures it is not known whether they changed; empty where it is of all."""
    names = [name_of(c.new, layout) for c in since.untold]
    if not names:
        return ""
    rest = len(names) - UNSURE_NAMED
    more = [f"{rest} more"] if rest > 0 else []
    it, them = ("it", "it") if len(names) == 1 else ("they", "them")
    return (
        f"Whether {it} changed: {'; '.join([*names[:UNSURE_NAMED], *more])}. Read {them} once more."
    )


def _not_asked(told: Told) -> list[Fact]:
    """What could not be told, but for what the headline tells or asks for already."""
    return [f for f in _not_told(told.answer) if not _asked(f, told)]


COUNT_OPEN = {1: "One more thing is", 2: "Two more things are", 3: "Three more things are"}


def _asked(fact: Fact, told: Told) -> bool:
    """Whether the headline asks for what would tell it, and no more is known of it."""
    return told.answer.kind in CALM and not fact.is_told and _is_aside(fact, told)


def _not_told(answer: Answer) -> list[Fact]:
    """What could not be told; what a short survey does not ask is named by another line."""
    left = [f for f in answer.untold if f not in answer.head[:1]]
    return [f for f in left if f.kind != "lacking"] if answer.short else left


def _open_words(fact: Fact, tale: Tale) -> str:
    """One thing that is open, and what would tell it."""
    which = between(fact)
    if not which:
        return f"{cap(phrase(fact, tale))}: {deed(fact, tale)}."
    if not fact.is_told:
        return f"{_rough(fact)} {find_out(fact, tale)}"
    return f"{cap(phrase(fact, tale))}: {which}. {find_out(fact, tale)}"


def _not_seen(told: Told) -> str:
    """What nobody looked at or measured; nothing where the line on the collision says it."""
    answer = told.answer
    if answer.short or (answer.collision and answer.collision.shows_nothing):
        return ""
    named = _named_places(answer)
    gaps = [g for g in answer.verdict.not_seen if g.step not in named]
    if is_short_again(told.tale.survey):
        return _as_of_then(gaps, told)
    said = gaps_words(gaps, told.tale)
    return f"{cap(said)}." if said else ""


def _named_places(answer: Answer) -> set[StepId]:
    """The pages of the places that the answer names already as not seen bare."""
    told_of_it = (*(answer.head if answer.kind == "unseen" else ()), *answer.then)
    return {u.step for f in told_of_it for u in named_places(f)}


def _as_of_then(gaps: Sequence[Gap], told: Told) -> str:
    """The same of a re-check: what its list left out by itself nobody missed."""
    missed = gaps_words([g for g in gaps if not g.why.startswith(LATER)], told.tale)
    left_out = any(g.why.startswith(LATER) for g in gaps)
    stands = f"What this re-check left out stands as found {_day_found(told)}." if left_out else ""
    return " ".join(filter(None, (f"{cap(missed)}." if missed else "", stands)))


def _day_found(told: Told) -> str:
    """`on 2026-06-01`; `last time` where the day is not known."""
    since = told.answer.since
    known = since is not None and since.then.year > 1
    return f"on {since.then:%Y-%m-%d}" if since is not None and known else "last time"


def gaps_words(gaps: Sequence[Gap], tale: Tale) -> str:
    """What was not covered: where frames crack first, and nothing that tells no fault."""
    steps = tale.library.steps
    weighty = [g for g in gaps if not _tells_nothing(steps[g.step])]
    first = sorted(
        weighty, key=lambda g: not {marks.BARE, marks.CRACK_PLACE} & {*steps[g.step].marks}
    )
    names = [_one_diagonal(g, tale) or g.what[:1].lower() + g.what[1:] for g in first]
    more = [f"{len(names) - 3} more"] if len(names) > 3 else []
    return and_([*names[:3], *more])


def _one_diagonal(gap: Gap, tale: Tale) -> str:
    """The diagonals that a page lacks, where of each of their boxes it has the other: one alone
    tells nothing.
    """
    survey, library, step = tale.survey, tale.library, tale.library.steps[gap.step]
    if not marks.CROSSED & {*step.marks}:
        return ""
    half = {*one_diagonal(case_of(survey, library)).values()}
    asked = (p for p in guide_of(survey, library).questions.of(step) if p.kind.spans)
    lacks = [p for p in asked if p.id not in survey.read()]
    if not lacks or not half >= {frozenset((p.start, p.end)) for p in lacks}:
        return ""
    return and_([f"the diagonal “{p.ask}”" for p in lacks])


def _tells_nothing(step: Step) -> bool:
    return marks.TELLS_NO_FAULT in step.marks or step.reads == marks.DRILL


def _sound(told: Told) -> str:
    verdict, tale = told.answer.verdict, told.tale
    names = [words for words, _ in in_order(verdict, tale.layout, tale.library)]
    if not names:
        return ""
    trust = verdict.held in ("joints", "rocks")
    lead = "as far as these figures can be trusted: " if trust else ""
    return f"{cap(lead + clauses(names))}."


def _would(told: Told) -> str:
    """The smallest damages that would have been seen; nothing where another line says it."""
    answer = told.answer
    if answer.kind not in CALM or answer.collision or answer.since:
        return ""
    seen = least_words(answer.least, told.tale.survey.unit)
    return f"{CALLED_OUT} {seen}." if seen else ""


CALLED_OUT = "19 times in 20 these readings would call out"
"""Before the sizes that would be told as out: less is seen too, and left."""


def _noted(told: Told) -> str:
    """The notes that somebody left at the place that the headline speaks of."""
    answer, survey = told.answer, told.tale.survey
    facts = (*answer.head, *answer.reads, *answer.then)
    rows = {r.id: r for f in facts for r in remarks_at(f, survey)}
    said = [clean_line(r.text, 200).strip().rstrip(".") for r in rows.values()]
    return f"{cap('; '.join(said[:2]))}." if said else ""


def _collision(told: Told) -> str:
    found = told.answer.collision
    return collision_words(found, told) if found else ""


SECOND_SET = (
    "Tape the diagonals of a second set of holes too. Nothing else speaks of a blow, and points set unequally"
    " measure like a diamond."
)


def _second_set(told: Told) -> str:
    """What tells a diamond from points that were never alike, where only the tape speaks."""
    answer = told.answer
    bare = answer.kind in ("put-right", "specialist") and answer.verdict.causes.unexplained
    return SECOND_SET if bare else ""


LINES = (
    Line("First", _second_set, lambda a: a.head, 8),
    Line("Until then", _moving, lambda a: a.head, 9),
    Line("Not compared", _not_compared, lambda a: (), 9),
    Line("As it reads now", _reads, lambda a: a.reads, 8),
    Line("The engine", _engine, lambda a: (), 9),
    Line("Beside the frame", _beside, lambda a: (), 8),
    Line("Then", _then, lambda a: (*a.then, *a.eye), 7),
    Line("The wobble", _wobble, lambda a: (), 4),
    Line("What else", _still, lambda a: (), 6),
    Line("The collision", _collision, lambda a: a.collision.facts if a.collision else (), 5),
    Line("Not known yet", _untold, lambda a: a.untold, 4),
    Line("Sure to tell", _would, lambda a: (), 3),
    Line("May stay", _may_stay, lambda a: a.eye, 2),
    Line("Not covered", _not_seen, lambda a: (), 1),
    Line("Another day", _another_day, lambda a: (), 6),
    Line("You noted there", _noted, lambda a: a.head, 3),
    Line("In order", _sound, lambda a: (), 2),
)
"""Every kind of line, in the order of telling."""


def lines(told: Told) -> tuple[tuple[str, Item], ...]:
    """At most five lines, each with its label."""
    said = [(one, one.say(told)) for one in LINES]
    there = [(one, text) for one, text in said if text]
    kept = sorted(there, key=lambda pair: -pair[0].keep)[:MOST]
    return tuple(
        (one.label, Item(text, _sources(one.sources(told.answer))))
        for one, text in there
        if (one, text) in kept
    )


def _sources(facts: Sequence[Fact]) -> tuple[Source, ...]:
    return tuple(dict.fromkeys(i for f in facts for i in f.sources))


# The collision ------------------------------------------------------------------------------------

SHOWS = {
    "strong": "The frame shows it",
    "likely": "The frame probably shows it",
}


def collision_words(found: Collision, told: Told) -> str:
    """Whether the frame shows anything of the hit that is known; what no reading covered."""
    parts = list(_shown(found, told))
    if found.older and parts:
        parts.append("Hood and doors fit what is there now, so that is older.")
    return " ".join(parts)


def _shown(found: Collision, told: Told) -> Iterator[str]:
    said = SHOWS.get(found.conclusion.strength)
    if said:
        words = [e.sign.words for e in found.conclusion.signs if e.sign.kind != "history"]
        corner = told.answer.verdict.causes.corner
        at = f" at the {' '.join(corner)}" if corner else ""
        yield f"{said}{at}: {'; '.join(list(dict.fromkeys(words))[:2])}."
    else:
        yield from _not_named(found, told)


def _not_named(found: Collision, told: Told) -> Iterator[str]:
    """What is told of a hit where the signs of it are too few, or none."""
    if found.hints and not found.conclusion.cannot_tell:
        yield f"{HINTED}: {'; '.join(found.hints[:2])}."
        return
    out = told.answer.of_frame
    if out and found.conclusion.cannot_tell:
        yield (
            "It is not known yet whether what is out comes from it. To find out,"
            f" {found.conclusion.unmet[0].settle}."
        )
        return
    if out:
        yield "The frame is out, but nothing ties it to the corner that was hit."
        return
    if found.conclusion.cannot_tell:
        yield _not_looked_for(found, told)
        return
    yield from _nothing(found, told)


def _not_looked_for(found: Collision, told: Told) -> str:
    """That nothing can be said of it; in a re-check, whose list leaves it out, what was found stands."""
    if is_short_again(told.tale.survey):
        return (
            f"This re-check does not look for it again: what was found {_day_found(told)} stands."
        )
    return (
        "Nothing of it was found yet, but not enough was looked at. To find out,"
        f" {found.conclusion.unmet[0].settle}."
    )


HINTED = "A sign of it was seen, too little alone to say so"


def _nothing(found: Collision, told: Told) -> Iterator[str]:
    """That nothing of it was found, how much would have been, and what no reading covered."""
    seen = least_words(told.answer.least, told.tale.survey.unit)
    shown = f", and 19 times in 20 they would have called out {seen}" if seen else ""
    yield f"The readings show nothing of it{shown}."
    open_ = _settles_nothing(told)
    none = [one for one in told.answer.least if one.mm is None]
    yield from (open_[one.kind] for one in none if one.kind in open_)
    blind = blind_words([one for one in none if one.kind not in open_])
    names = gaps_words(found.uncovered, told.tale)
    if blind or names:
        yield f"Not covered: {', '.join(filter(None, (blind, names)))}."


PROPS = "The bolted body props the rails, so the string cannot rule out a rail bent down."


def _settles_nothing(told: Told) -> Mapping[str, str]:
    """Kinds of damage of which something was read that rules none out, and why."""
    survey, judged = told.tale.survey, told.answer.verdict.judged
    twist = next((j.finding for j in judged if is_stands_twist(j.finding, survey)), None)
    said = {TWISTED: twist_left_open(supports_of(twist, survey))} if twist else {}
    propped = any(is_propped(j.finding, survey) for j in judged)
    return {**said, **({DOWN: PROPS} if propped else {})}


# The whole ----------------------------------------------------------------------------------------


def opinion_lines(survey: Survey) -> tuple[str, ...]:
    """What a mentor signed, beside the program's answer and never in its place."""
    return tuple(_opinion(row) for row in survey.standing(Opinion))


def _opinion(row: Opinion) -> str:
    when = f", {row.at:%Y-%m-%d}" if row.at != NEVER else ""
    who = clean_line(row.by, 60) or "nobody"
    return f"{clean_line(row.text, 500)} (signed by {who}{when})"


def answer_blocks(told: Told) -> tuple[Block, ...]:
    """The headline, the signed opinions, and the lines."""
    opinions = tuple(("Signed beside it", Item(o)) for o in opinion_lines(told.tale.survey))
    return _set(told, (*opinions, *lines(told)))


def own_blocks(told: Told) -> tuple[Block, ...]:
    """The program's own answer, as the file keeps it."""
    return _set(told, lines(told))


def _set(told: Told, rows: tuple[tuple[str, Item], ...]) -> tuple[Block, ...]:
    behind = in_words((Terms(rows),) if rows else (), told.tale.word)
    return Paragraph(headline(told), strong=True), *behind


def answer_words(
    survey: Survey, library: Library, today: datetime, earlier: Survey | None = None
) -> tuple[Block, ...]:
    """The answer of a survey; earlier: the one that it follows."""
    return answer_blocks(told_of(answer_of(survey, library, today, earlier), survey, library))


# In a few words -----------------------------------------------------------------------------------

NOT_KNOWN = "not known yet"
BRIEF = {
    "straight": "nothing to put right",
    "unseen": "places not seen yet",
    "short": "the short survey alone",
    "little": "too little measured yet",
    "again": "readings to take again",
    "rocks": "it rocks",
}


def brief(told: Told) -> str:
    """The answer in a few words, for a list: `crack and loose joint`, `nothing has moved`."""
    return told.tale.word(_brief(told))


def _brief(told: Told) -> str:
    answer, tale = told.answer, told.tale
    if answer.kind == "moved" and answer.since:
        said = moved_words(answer.since.moved[0], tale.layout, tale.survey.unit)
        return said.partition(" (")[0]
    if answer.kind in (*HELD, "seen"):
        return _first_two(list(dict.fromkeys(_named(fact, tale) for fact in answer.head)))
    if answer.kind in CALM and _is_still(answer):
        return "nothing has moved"
    if answer.kind in BRIEF or not answer.head or not answer.head[0].is_told:
        return BRIEF.get(answer.kind, NOT_KNOWN)
    return phrase(answer.head[0], tale)


def _first_two(names: Sequence[str]) -> str:
    """`crack and loose joint`; that there is more is said without naming it."""
    if len(names) < 3:
        return " and ".join(names)
    return f"{names[0]}, {names[1]} and more"


def _named(fact: Fact, tale: Tale) -> str:
    if fact.deed == "loose":
        return "loose joint"
    if fact.kind == "kink":
        return "perhaps a kink"
    return thing(fact.seen[0]) if fact.seen else phrase(fact, tale)


def _is_still(answer: Answer) -> bool:
    """Whether it was held against an earlier survey, and nothing of it is in doubt."""
    since = answer.since
    return since is not None and since.compared and not (since.untold or since.apart)
