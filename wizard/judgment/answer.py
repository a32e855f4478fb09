"""The answer: one headline, and at most five lines under it. Facts in their order; telling/ has the
words.

The gravest comes first and is never cut. What holds a verdict back comes before what its figures say,
and what moved since last time before what was so already.
"""

from collections.abc import Callable, Mapping
from datetime import datetime
from typing import TYPE_CHECKING, NamedTuple

from wizard.checks.case import case_of
from wizard.judgment.cause import Conclusion
from wizard.judgment.fact import GRAVE, Fact, facts_of
from wizard.judgment.least import Least, least, weakest
from wizard.judgment.seen import Gap
from wizard.judgment.sight import verdict_of
from wizard.judgment.signs import Evidence
from wizard.judgment.verdict import Verdict
from wizard.library import marks
from wizard.library.shapes import Library
from wizard.survey.guide import course_name
from wizard.survey.meant import meant
from wizard.survey.record import Survey

if TYPE_CHECKING:
    from wizard.judgment.half_hour import Short
    from wizard.judgment.since import Since

HELD = ("stop", "loose", "moves")
"""Deeds with which nobody may drive it."""
SEEN = ("see", "gauge")
"""Deeds of what was seen that is no stop sign and yet no sound metal."""


AT_METAL = "metal"
"""The kind of sign that somebody saw, as content/signs.toml names it."""


class Collision(NamedTuple):
    """What the frame shows of a hit that is known of."""

    conclusion: Conclusion
    facts: tuple[Fact, ...]
    """What is out at the corner where the signs of it meet."""
    older: tuple[Evidence, ...]
    """Why what is out may be older than that."""
    uncovered: tuple[Gap, ...]
    """What nobody looked at or measured."""

    @property
    def hints(self) -> tuple[str, ...]:
        """Signs of it that were seen at the metal, where they are too little to name it."""
        seen = () if self.conclusion.named else self.conclusion.signs
        return tuple(dict.fromkeys(e.sign.words for e in seen if e.sign.kind == AT_METAL))

    @property
    def shows_nothing(self) -> bool:
        """Whether it was asked everywhere that matters, and nothing was found."""
        known = self.conclusion.named or self.conclusion.cannot_tell
        return not known and not self.hints


class Answer(NamedTuple):
    """What a person must know, in the order of telling."""

    kind: str
    """One of HEADS."""
    head: tuple[Fact, ...]
    """What the headline tells."""
    reads: tuple[Fact, ...]
    """What the figures say behind something that holds the verdict back, or that moved."""
    then: tuple[Fact, ...]
    """What else must be done, in its order."""
    untold: tuple[Fact, ...]
    """What could not be told, what matters most first."""
    eye: tuple[Fact, ...]
    """What is worth an eye and no more, and what may stay as it is: what stands out of its doubt."""
    collision: Collision | None
    """None where no hit is known of."""
    since: "Since | None"
    """None where the survey follows none."""
    verdict: Verdict
    facts: tuple[Fact, ...]
    """All of them, the gravest first."""
    short: "Short | None"
    """What a short survey came to; None for any other."""
    least: tuple[Least, ...]
    """Of each kind the smallest damage that would have been seen at every place, where that is told
    and much was read; empty otherwise.
    """

    @property
    def of_frame(self) -> tuple[Fact, ...]:
        """What is out of the frame itself, or worse."""
        deeds = (*HELD, *GRAVE, *SEEN)
        return tuple(f for f in self.facts if f.deed in deeds)


class Case(NamedTuple):
    """What decides which headline it is."""

    verdict: Verdict
    facts: tuple[Fact, ...]
    since: "Since | None"
    short: "Short | None" = None

    def has(self, *deeds: str) -> bool:
        """Whether any fact asks for one of these."""
        return any(f.deed in deeds for f in self.facts)

    def of(self, *deeds: str) -> tuple[Fact, ...]:
        """The facts that ask for one of these."""
        return tuple(f for f in self.facts if f.deed in deeds)


class Head(NamedTuple):
    """One kind of headline."""

    parts: tuple[str, ...]
    """What it tells: what, where, amount, way, since, do, forbids (to drive), seen (how much would have
    been seen), would-tell. A test holds the table in DEVELOPERS.md to this.
    """
    stands: Callable[[Case], bool]
    facts: Callable[[Case], tuple[Fact, ...]]
    """What of the facts it tells."""


def _moved(case: Case) -> bool:
    return case.since is not None and bool(case.since.moved)


def _none(case: Case) -> tuple[Fact, ...]:
    return ()


def _acts(*actions: str) -> Callable[[Case], bool]:
    return lambda case: case.verdict.action in actions


def _holds(held: str) -> Callable[[Case], bool]:
    return lambda case: case.verdict.held == held


def _deeds(*deeds: str) -> Callable[[Case], tuple[Fact, ...]]:
    return lambda case: case.of(*deeds)


def _out(case: Case) -> tuple[Fact, ...]:
    """The fact that made the verdict what it is; before it, where it is to be put right, the metal that
    somebody must look at first.
    """
    first = case.of("see")[:ALSO] if case.verdict.action != "specialist" else ()
    return *first, *case.of(case.verdict.action)[:1]


ALSO = 2
"""Places that a headline names before what is to be put right."""


def _held(case: Case) -> tuple[Fact, ...]:
    """What forbids to drive it, and what the same person must look at."""
    same = (f for f in case.of("see") if f.way in marks.BENT_METAL)
    return *case.of(*HELD), *same


def _seen(case: Case) -> bool:
    """Whether what was seen comes first: it holds the verdict, or nothing else is known."""
    return case.verdict.held == "seen" or (case.verdict.action == "not-enough" and case.has(*SEEN))


def _opened(case: Case) -> tuple[Fact, ...]:
    """What is open, first what stands out of its own doubt."""
    return tuple(sorted(case.of("open"), key=lambda f: not f.is_told))


def _open(case: Case) -> bool:
    if case.verdict.action == "not-enough":
        return any(f.is_told for f in case.of("open"))
    return case.verdict.action == "open"


HEADS: Mapping[str, Head] = {
    "stop": Head(("what", "where", "forbids"), _acts("stop"), _held),
    "loose": Head(("what", "where", "forbids"), _holds("joints"), _held),
    "moves": Head(("what", "where", "forbids"), lambda c: c.has("moves"), _held),
    "rocks": Head(("what", "do"), _holds("rocks"), _deeds("stand")),
    "moved": Head(("what", "where", "amount", "way", "since", "do"), _moved, _none),
    "specialist": Head(("what", "where", "amount", "way", "do"), _acts("specialist"), _out),
    "put-right": Head(("what", "where", "amount", "way", "do"), _acts("put-right"), _out),
    "axle-first": Head(("what", "where", "amount", "do"), _acts("axle-first"), _out),
    "again": Head(("what", "amount", "do"), lambda c: _again(c), _deeds("again")),
    "seen": Head(("what", "where", "do"), lambda c: _seen(c), _deeds(*SEEN)),
    "unseen": Head(("where", "do"), _holds("unseen"), _deeds("bare")),
    "open": Head(("what", "where", "amount", "would-tell"), lambda c: _open(c), _opened),
    "short": Head(("what", "do"), lambda c: _is_short(c), _none),
    "little": Head(("what", "do"), _acts("not-enough"), _deeds("measure", "bare")),
    "watch": Head(("what", "where", "amount", "way", "do"), _acts("watch"), _deeds("watch")),
    "straight": Head(("what", "do"), lambda c: True, _none),
}
"""Every kind of headline, the one that is asked first before the others."""
CALM = ("watch", "straight")
"""Headlines of a frame of which nothing has to be done: there it is told what would have been seen,
and in a list that nothing moved.
"""
NOT_MOVED = ("what", "since", "seen")
"""What is told before the headline of a re-check of which nothing moved."""


def _is_short(case: Case) -> bool:
    """Whether all that is lacking is what a short survey does not ask."""
    return case.short is not None and case.verdict.action == "not-enough"


def _again(case: Case) -> bool:
    return case.verdict.action == "open" and not case.verdict.held and case.has("again")


def answer_of(
    survey: Survey, library: Library, today: datetime, earlier: Survey | None = None
) -> Answer:
    """The answer over everything that was set down; earlier: the survey that this one follows."""
    verdict = verdict_of(survey, library, today)
    if earlier is None:
        return answered(verdict, survey, library)
    from wizard.judgment.since import since_of  # most surveys follow none

    return answered(verdict, survey, library, since_of(earlier, survey, library))


def _short_of(survey: Survey, library: Library, verdict: Verdict) -> "Short | None":
    """What a short survey came to; None for any other, and what reckons it is not loaded then."""
    if course_name(survey) != marks.SHORT:
        return None
    from wizard.judgment.half_hour import short_of

    return short_of(survey, library, verdict)


def answered(
    verdict: Verdict, survey: Survey, library: Library, since: "Since | None" = None
) -> Answer:
    """The answer of a verdict."""
    short = _short_of(survey, library, verdict)
    case = Case(verdict, facts_of(verdict, survey, library), since, short)
    kind = next(name for name, head in HEADS.items() if head.stands(case))
    head = HEADS[kind].facts(case)
    behind = kind in (*HELD, "rocks", "moved")
    reads = _but(case.of("see", *GRAVE), head) if behind else ()
    told = (*head, *reads)
    collision = _collision(verdict, survey, library, case.facts)
    # Where neither a hit was looked for nor all is calm, no line tells what would have been seen.
    looked_for = collision is not None or (kind in CALM and since is None)
    return Answer(
        kind,
        head,
        reads,
        _but(case.of(*_wanted(case)), told),
        _untold(case, told),
        tuple(f for f in _but(case.of("watch", "leave"), told) if f.is_told),
        collision,
        since,
        verdict,
        case.facts,
        short,
        _least(case, survey, library) if looked_for else (),
    )


def _wanted(case: Case) -> tuple[str, ...]:
    """What is told to be done first; a short survey asks of nobody to clean and look."""
    wanted = (*HELD, "stand", "again", *GRAVE, *SEEN)
    return wanted if case.short else (*wanted, "bare")


def _least(case: Case, survey: Survey, library: Library) -> tuple[Least, ...]:
    """What would have been seen; nothing where the figures are not to be trusted, or too few."""
    if case.verdict.held in ("joints", "rocks") or case.verdict.lacking:
        return ()
    return weakest(least(case.verdict, case_of(survey, library)))


def _but(facts: tuple[Fact, ...], told: tuple[Fact, ...]) -> tuple[Fact, ...]:
    """Those that are not told already."""
    return tuple(f for f in facts if f not in told)


def _untold(case: Case, told: tuple[Fact, ...]) -> tuple[Fact, ...]:
    """What is open and stands out, what was not measured, then what may be nothing."""
    found = _but((*_opened(case), *case.of("measure")), told)
    return tuple(sorted(found, key=lambda f: f.deed == "open" and not f.is_told))


def is_hit(survey: Survey, library: Library) -> bool:
    """Whether it is known that it was hit, before or since last time."""
    return (
        meant(survey, library, marks.KNOCKED) == marks.YES
        or meant(survey, library, marks.HAPPENED) == marks.KNOCK
    )


def _collision(
    verdict: Verdict, survey: Survey, library: Library, facts: tuple[Fact, ...]
) -> Collision | None:
    found = verdict.causes.conclusions.get("collision")
    if found is None or not is_hit(survey, library):
        return None
    shows = tuple(f for f in facts if f.struck is not None)
    return Collision(found, shows, verdict.causes.older, verdict.not_seen)
