"""The verdict: what to do, why, what is open, what was not seen. Tokens and facts; telling/ has the
words.

It acts on what is established and names what is open. A stop sign in the looks outranks every
number, and a survey in which too little was seen says so and never says `fine`.
"""

import math
from collections.abc import Collection
from datetime import datetime
from typing import TYPE_CHECKING, NamedTuple

from wizard.checks.case import Case, case_of
from wizard.checks.notes import DEEP_THERE, DEEPER_THERE, Crown
from wizard.checks.plan import missing, taped
from wizard.checks.springing import highest_yet
from wizard.judgment.bands import Judged
from wizard.judgment.bands import is_open as is_open
from wizard.judgment.bands import weight as weight
from wizard.judgment.cause import HURTS, Causes
from wizard.judgment.facts import SIDES, is_out, reaches_both_ends
from wizard.judgment.seen import Gap, Seen, bent_horn, cleared, gaps, loose_joints, stops
from wizard.judgment.shown import is_fitted, shut_evenly
from wizard.judgment.unseen import Unseen, unseen
from wizard.library import marks
from wizard.library.places import PlaceId, PromptId, QuantityId, WhereId, where_of
from wizard.library.shapes import Library
from wizard.math.uncertain import Uncertain
from wizard.survey.guide import guide_of, is_short_again
from wizard.survey.meant import meant
from wizard.survey.record import Survey
from wizard.survey.standing import rocks

if TYPE_CHECKING:  # a verdict is given them, and asks nothing of them
    from wizard.judgment.consequences import Prediction
    from wizard.judgment.next import Advice

CORE = ("rail-shift", "sag", "twist")
"""Without a word on each of these no survey can say that nothing is to be put right."""
NO_CAUSES = Causes({})
NO_SIGN = "none"
FINE = ("leave", "watch")
"""Actions that put nothing right."""
RAIL_READ = 3
"""Stations from which a rail is told as a whole (checks/bend.py)."""
LOOKS_NEEDED = 0.5
"""Share of the looks that must have been seen before `leave it` is said of a whole frame (our own
figure).
"""


FOLD = "wrinkle"
"""What a folded flange speaks for: one of marks.VOICES."""


class Voice(NamedTuple):
    """One line of the verdict and the looks that bring it."""

    id: str
    """One of marks.VOICES."""
    seen: tuple[Seen, ...]


class Verdict(NamedTuple):
    """What to do about the frame."""

    action: str
    """stop, specialist, put-right, axle-first, watch, leave, open (a band is open too wide),
    not-enough
    """
    stops: tuple[Seen, ...]
    judged: tuple[Judged, ...]
    """Every finding, judged, in the survey's order."""
    reasons: tuple[Judged, ...]
    """The findings past a certain `leave`, the strongest first, at most three."""
    open: tuple[Judged, ...]
    """Findings whose bands do not settle what to do."""
    not_seen: tuple[Gap, ...]
    lacking: tuple[str, ...]
    """Of the core, what was not measured on the whole frame or on both rails: rail-shift, sag,
    twist, looks.
    """
    seen: tuple[Seen, ...]
    advice: "tuple[Advice, ...]" = ()
    """What to measure next for each open finding."""
    completing: tuple[str, ...] = ()
    """Distances, in words, that would make a plan that is too thin whole."""
    causes: Causes = NO_CAUSES
    """Age, collision, earlier repair, made so: what the signs amount to, where and when."""
    foretold: "tuple[Prediction, ...]" = ()
    """What to look at because of what was found."""
    loose: tuple[Seen, ...] = ()
    """Joints that are loose: on them no number means much."""
    dyed: tuple[Seen, ...] = ()
    """Where a crack was feared and dye on bare metal drew none: it stays worth an eye."""
    dented: tuple[Seen, ...] = ()
    """Dents without a crease that the other rail has not: worth an eye."""
    rocks: bool = False
    """Whether the push test says that it still rocks."""
    voices: tuple[Voice, ...] = ()
    """Looks that are no stop sign and yet no sound frame."""
    deep: tuple[Judged, ...] = ()
    """What a caliper found at one place of a rail: much of the metal is gone there."""
    unseen: tuple[Unseen, ...] = ()
    """Places where frames crack that were not seen as they must be."""
    held: str = ""
    """What holds it open though the numbers would not: joints, rocks, seen, unseen; empty where
    they decide.
    """
    shut: tuple[PromptId, ...] = ()
    """Prompts by which hood and doors fitted when it was last together; empty where not both did."""
    numbers: str = ""
    """The action without what holds it."""

    @property
    def explains_itself(self) -> bool:
        """Whether there is nothing to explain: all that it needs is known, nothing is out, and no
        look, no reading and no past tells of a knock or a repair.
        """
        hurt = any(self.causes[cause].strength != NO_SIGN for cause in HURTS)
        out = self.action != FINE[0] or self.is_out_beside
        return not (out or hurt or self.causes.hit)

    @property
    def bent(self) -> str:
        """The side of the horn that was seen bent, the other one sound; empty where none is told."""
        return bent_horn(self.seen)

    @property
    def of_frame(self) -> tuple[Judged, ...]:
        """The findings of the frame, without what was called for beside it."""
        return tuple(j for j in self.judged if not j.is_beside)

    @property
    def beside(self) -> tuple[Judged, ...]:
        """The findings of what was called for beside the frame."""
        return tuple(j for j in self.judged if j.is_beside)

    @property
    def is_out_beside(self) -> bool:
        """Whether any of those is known to be out."""
        return any(is_out(j) for j in self.beside)

    @property
    def aside(self) -> tuple[Judged, ...]:
        """What is not known yet and leaves the frame as it is told."""
        return tuple(j for j in self.open if stands_aside(j)) if self.action in FINE else ()


def verdict_from(
    survey: Survey,
    library: Library,
    judged: tuple[Judged, ...],
    seen: tuple[Seen, ...],
    causes: Causes,
    foretold: "tuple[Prediction, ...]",
    today: datetime,
) -> Verdict:
    """The verdict of a survey, from what its other parts say."""
    loose = loose_joints(seen)
    voices, open_places = voices_of(seen, judged), unseen(survey, seen, library, today)
    told = _without_lone_crowns(judged, case_of(survey, library))
    limited = [j for j in told if j.bands and not j.is_beside]
    loud = [j for j in limited if not j.quiet]
    stop, lacking = stops(seen), _lacking(limited, _of_frame(seen), _looking(survey, library))
    numbers = _action(_with_fitted(limited, survey, library), stop, lacking)
    was_hit = meant(survey, library, marks.KNOCKED) != marks.NO
    dyed, dented = cleared(seen), dents(seen) if was_hit else ()
    numbers = _worth_an_eye(numbers, (*dyed, *dented), causes)
    deep = _deep(judged)
    spoken, hidden = bool(voices or deep), bool(open_places)
    held = _held(numbers, bool(loose), rocks(survey, library), spoken, hidden)
    undecided = tuple(_per_quantity(list(filter(is_open, loud))))
    return Verdict(
        action="open" if held else numbers,
        stops=stop,
        judged=judged,
        reasons=_reasons(loud),
        open=undecided,
        not_seen=gaps(survey, library, today),
        lacking=lacking,
        seen=seen,
        advice=_advice(undecided, survey, library, today, numbers),
        completing=_completing(survey, library),
        causes=causes,
        foretold=foretold,
        loose=loose,
        dyed=dyed,
        dented=dented,
        rocks=rocks(survey, library),
        voices=voices,
        deep=deep,
        unseen=open_places,
        held=held,
        shut=shut_evenly(survey, library),
        numbers=numbers,
    )


def _advice(
    undecided: tuple[Judged, ...], survey: Survey, library: Library, today: datetime, numbers: str
) -> "tuple[Advice, ...]":
    if not undecided:
        return ()
    from wizard.judgment.next import advise  # nothing to advise where all is decided

    advice = (advise(j, survey, library, today, numbers) for j in undecided)
    return tuple(filter(None, advice))


def _worth_an_eye(numbers: str, eyed_at: tuple[Seen, ...], causes: Causes) -> str:
    """The action, watched where the figures would leave it and a collision does not, nor what dye
    was used for, nor a dent.
    """
    eyed = bool(eyed_at) or causes["collision"].named
    return "watch" if numbers == "leave" and eyed else numbers


def voices_of(seen: tuple[Seen, ...], judged: Collection[Judged]) -> tuple[Voice, ...]:
    """Every voice that the looks raise, in the order of marks.VOICES."""
    measured = {j.finding.where for j in judged if j.finding.quantity == marks.THICKNESS}
    speaking: dict[str, list[Seen]] = {id: [] for id in marks.VOICES}
    for one in seen:
        if one.speaks in speaking and _speaks(one, seen, measured):
            speaking[one.speaks].append(one)
    speaking[marks.BENT_HORN] = _untaped(speaking[marks.BENT_HORN], seen, judged)
    found = (Voice(id, tuple(looks)) for id, looks in speaking.items())
    return tuple(v for v in found if v.seen)


def _untaped(horns: list[Seen], seen: tuple[Seen, ...], judged: Collection[Judged]) -> list[Seen]:
    """Of the horns that were seen bent those of which no figure tells how far."""
    told = horn_told(seen, judged) if horns else ""
    return [one for one in horns if one.side != told]


def horn_told(seen: tuple[Seen, ...], judged: Collection[Judged]) -> str:
    """The side of the horn of which figures tell how far it is bent; empty where none do.

    That no figure tells it is not that the horn is straight: bent metal was seen there.
    """
    figures = (j for j in judged if j.finding.quantity in marks.HORNS)
    out = any(is_out(j) and not j.quiet and not j.finding.disagrees for j in figures)
    return bent_horn(seen) if out else ""


def dents(seen: tuple[Seen, ...]) -> tuple[Seen, ...]:
    """Dents without a crease, but for those that both rails have alike. Of a car that was never hit
    they say nothing: a dropped jack handle, a stone.
    """
    return tuple(s for s in seen if s.carries(marks.DENT) and not _answered(s, seen, ()))


def _deep(judged: Collection[Judged]) -> tuple[Judged, ...]:
    """The rails that a caliper found thin at one place, far more than all along."""
    measured = (j for j in judged if j.finding.quantity == marks.THICKNESS)
    return tuple(j for j in measured if j.finding.has(DEEP_THERE) or j.finding.has(DEEPER_THERE))


def _speaks(one: Seen, seen: tuple[Seen, ...], measured: Collection[WhereId]) -> bool:
    """Whether a look is no stop sign and nothing else answers it."""
    if one.choice is None or one.choice.stop:
        return False
    return not _answered(one, seen, measured) and not _is_told_graver(one, seen)


def _is_told_graver(one: Seen, seen: tuple[Seen, ...]) -> bool:
    """Whether a second reader saw a fold, or what stops everything, where this one saw a bend."""
    if one.speaks not in (marks.RIPPLE, marks.BENT_HORN):
        return False
    choices = (s.choice for s in seen if s.prompt.id == one.prompt.id)
    return any(c is not None and (c.stop or c.speaks == FOLD) for c in choices)


def _answered(one: Seen, seen: tuple[Seen, ...], measured: Collection[WhereId]) -> bool:
    """Whether something else answers what this look asks."""
    if one.cleared:
        return True
    if one.carries(marks.CALIPERED) and WhereId(one.side) in measured:
        return True
    if one.carries(marks.BARE_ONLY) and one.look.seen != "bare":
        return True
    if not one.carries(marks.PAIRED):
        return False
    alike = {s.side for s in seen if s.prompt.step == one.prompt.step and s.choice == one.choice}
    return alike == set(SIDES)


def _of_frame(seen: tuple[Seen, ...]) -> tuple[Seen, ...]:
    """The looks at the frame, and not at where a jack goes."""
    return tuple(s for s in seen if s.step.part == "look")


def _with_fitted(limited: list[Judged], survey: Survey, library: Library) -> list[Judged]:
    """A sag that hood and doors were fitted to is left, up to where it would want putting right
    (common practice).
    """
    if not is_fitted(survey, library):
        return limited
    return [
        (
            j._replace(bands=("leave", *(b for b in j.bands if b not in ("leave", "watch"))))
            if j.finding.quantity == marks.SAG_UNLOADED and j.established == "watch"
            else j
        )
        for j in limited
    ]


def _completing(survey: Survey, library: Library) -> tuple[str, ...]:
    """What a thin plan lacks; nothing where nobody taped anything, or where the plan is whole."""
    case = case_of(survey, library)
    pairs = missing(case).pairs if case.once(taped) else ()
    if not pairs:
        return ()
    words = {
        (str(p.start), str(p.end)): p.ask
        for p in case.prompts.values()
        if p.kind.spans and not survey.skipped(p.id)
    }
    return tuple(words[pair] for pair in pairs if pair in words)


def stands_aside(judged: Judged) -> bool:
    """Whether what is open there leaves the frame as it is told: a part that nothing else hangs on,
    of which it is not even known that it is out.
    """
    return bool(judged.local) and judged.established == "leave"


Rail = tuple[QuantityId, str | None]
"""A sag's quantity, which is that of a state, and a side."""


def _without_lone_crowns(judged: tuple[Judged, ...], case: Case) -> list[Judged]:
    """The findings, a station that may stand high no higher than its rail as a whole may: no
    station alone makes a crown, nor a greater one than all of them together leave open.
    """
    yet = _highest(judged, case)
    return [
        _no_higher(j, yet[_rail_of(j)]) if _may_stand_high(j) and _rail_of(j) in yet else j
        for j in judged
    ]


def _highest(judged: tuple[Judged, ...], case: Case) -> dict[Rail, float]:
    """How high each rail may stand as a whole, mm, that has a station which may stand high, was
    read at as many as tell that, and is not told to be crowned.
    """
    high = {_rail_of(j) for j in judged if _may_stand_high(j)}
    crowned = _crowned(judged) if high else frozenset()
    along = {r: _along(judged, r) for r in high if r[1] not in crowned}
    return {r: highest_yet(case, sags) for r, sags in along.items() if len(sags) >= RAIL_READ}


def _along(judged: tuple[Judged, ...], rail: Rail) -> dict[PlaceId, Uncertain]:
    """The sags of a rail by station, mm."""
    sags = (j for j in judged if j.finding.quantity in marks.SAGS and _rail_of(j) == rail)
    return {where_of(j.finding.where).place: j.finding.number for j in sags}


def _no_higher(judged: Judged, most: float) -> Judged:
    """A station of which nothing is established, without the bands that begin higher, mm, than its
    rail may stand.
    """
    ends = [math.inf if edge.low is None else -edge.low for edge in judged.edges]
    mildest, *graver = judged.bands
    kept = [band for band, begins in zip(graver, ends, strict=False) if begins < most]
    return judged._replace(bands=(mildest, *kept))


def _crowned(judged: tuple[Judged, ...]) -> frozenset[str | None]:
    """The sides whose rail is told to stand high as a whole."""
    others = (j for j in judged if j.finding.quantity not in marks.SAGS)
    return frozenset([_side_of(j) for j in others if j.finding.note(Crown)])


def _may_stand_high(judged: Judged) -> bool:
    """Whether a station's sag leaves open that the rail stands high there, and establishes
    nothing.
    """
    found = judged.finding
    if found.quantity not in marks.SAGS or found.value >= 0 or len(judged.bands) < 2:
        return False
    return judged.established == "leave"


def _side_of(judged: Judged) -> str | None:
    return where_of(judged.finding.where).side


def _rail_of(judged: Judged) -> Rail:
    return judged.finding.quantity, _side_of(judged)


def _action(limited: list[Judged], stop: tuple[Seen, ...], lacking: tuple[str, ...]) -> str:
    if stop:
        return "stop"
    worst = max((j.established for j in limited), key=weight, default="")
    if worst in ("specialist", "put-right", "axle-first"):
        return worst
    if lacking:
        return "not-enough"
    if any(is_open(j) and not stands_aside(j) for j in limited):
        return "open"
    return worst


def _held(numbers: str, loose: bool, rocking: bool, voices: bool, open_places: bool) -> str:
    """What holds the verdict open: on loose joints or a rocking car no number counts, good or bad."""
    if numbers == "stop":
        return ""
    if loose or rocking:
        return "joints" if loose else "rocks"
    if numbers not in FINE:
        return ""
    return "seen" if voices else "unseen" if open_places else ""


def _looking(survey: Survey, library: Library) -> int:
    """How many looks, left and right, this kind of frame has; none where only a short list was to
    be taken again.
    """
    if is_short_again(survey):
        return 0
    guide = guide_of(survey, library)
    unfit = guide.questions.unfit | guide.uncalled
    looks = [s.id for s in library.steps.values() if s.part == "look" and not s.gathers]
    return 2 * len([id for id in looks if id not in unfit])


def _known(limited: list[Judged]) -> dict[str, bool]:
    """Of the core, what was measured on the whole frame or on both rails."""
    have = {(j.finding.quantity, where_of(j.finding.where).rail_or_place) for j in limited}
    return {
        "rail-shift": reaches_both_ends({where for q, where in have if q == marks.RAIL_SHIFT}),
        "sag": any({(q, WhereId(side)) for side in SIDES} <= have for q in marks.SAGS),
        "twist": any(quantity == marks.TWIST for quantity, _ in have),
    }


def _lacking(limited: list[Judged], seen: tuple[Seen, ...], looks: int) -> tuple[str, ...]:
    known = _known(limited)
    lacking = [name for name in CORE if not known[name]]
    reached = {s.prompt.id for s in seen if s.counts}
    return tuple(lacking + (["looks"] if len(reached) < LOOKS_NEEDED * looks else []))


def _per_quantity(limited: list[Judged]) -> list[Judged]:
    """One finding for each quantity (and side of the string), the gravest: stations need not all be
    named.
    """
    best: dict[tuple[QuantityId, WhereId], Judged] = {}
    for judged in limited:
        f = judged.finding
        key = f.quantity, where_of(f.where).rail_or_place
        if key not in best or _rank(judged) > _rank(best[key]):
            best[key] = judged
    return sorted(best.values(), key=_rank, reverse=True)


def _rank(judged: Judged) -> tuple[int, int, float]:
    first = judged.edges[0]
    limit = first.high if judged.finding.value >= 0 or first.low is None else -first.low
    return (
        weight(judged.established),
        weight(judged.worst),
        abs(judged.finding.value) / (limit or 1.0),
    )


def _reasons(limited: list[Judged]) -> tuple[Judged, ...]:
    """The three that weigh most past a certain `leave`, one for each quantity: both sides of one
    sag are one reason.
    """
    first: dict[QuantityId, Judged] = {}
    told = [j for j in limited if j.bands != ("leave",) and not j.finding.disagrees]
    for judged in _per_quantity(told):
        first.setdefault(judged.finding.quantity, judged)
    return tuple(list(first.values())[:3])
