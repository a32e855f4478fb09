"""One thing that the owner must know: what, where, how much, which way, what to do.

Facts are made from the verdict. What belongs together is one of them: a horn that is in and up, a
diamond and what the bar says of it, a corner and its half-figures.
"""

from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import TYPE_CHECKING, NamedTuple

from wizard.checks.notes import Bend, Crown, Slip
from wizard.judgment.bands import Judged, is_open, weight
from wizard.judgment.corner import corner_of
from wizard.judgment.facts import Zone, is_out
from wizard.judgment.plan_kinds import SIDEWAYS, kinds_left
from wizard.judgment.seen import Seen
from wizard.judgment.unseen import Unseen
from wizard.library import marks
from wizard.library.places import (
    FRONT_BOX,
    NO_PLACE,
    REAR_BOX,
    SIDES,
    WHOLE_BOX,
    PlaceId,
    QuantityId,
    Side,
    Source,
    StepId,
    Where,
    WhereId,
    asked_of,
    side_of,
    step_of,
    where_of,
)
from wizard.library.shapes import Layout, Library
from wizard.math.uncertain import Uncertain
from wizard.survey.guide import guide_of, layout_of
from wizard.survey.meant import meant
from wizard.survey.record import Survey
from wizard.survey.rows import Reading, Remark

if TYPE_CHECKING:  # a verdict is given
    from wizard.judgment.verdict import Verdict

DEEDS = (
    *("stop", "loose", "moves", "stand", "again", "specialist", "see", "put-right", "axle-first"),
    *("gauge", "bare", "measure", "open", "watch", "leave"),
)
"""What a fact asks for, the gravest first: stop (a crack, a kink), loose (a joint), moves (something
moves there now), stand (the car rocks), again (readings that cannot all be right), specialist, see
(somebody who knows must look at the metal, before anything is put right), put-right, axle-first,
gauge (whoever surveys looks closer, with a caliper or a hammer), bare (nobody has looked as one must),
measure (nothing was measured), open (the readings leave more than one band), watch, leave (it may stay
as it is).
"""
GRAVE = ("specialist", "put-right", "axle-first")
"""Bands that ask for work."""
NOWHERE = Where(NO_PLACE)


class Fact(NamedTuple):
    """One thing to know of the frame, of the readings, or of what nobody saw."""

    kind: str
    """seen, corner, diamond, box, square, short, bow, nose, twist, horn, sag, crown, waits (a crown
    without the engine's weight), axle, thin, kink, slip, apart, rocks, unseen, lacking.
    """
    deed: str
    """One of DEEDS."""
    where: Where = NOWHERE
    """A box, station, level place or end of the frame, and a side; empty where it has none."""
    amount: Uncertain | None = None
    """How much, in `unit`; None where nothing was measured."""
    unit: str = "mm"
    way: str = ""
    """in, out, back, forward, high, low, left, right; of a look what it speaks for."""
    judged: tuple[Judged, ...] = ()
    """The findings that it gathers, first the one whose amount it tells."""
    seen: tuple[Seen, ...] = ()
    """The looks that it gathers."""
    worst: str = ""
    """The gravest band that the readings leave; empty without a limit."""
    third: str = ""
    """front, middle, rear: where along the frame a look was; empty where nobody said."""
    struck: Zone | None = None
    """The corner at which the signs of a collision meet, where this is one of them."""
    steps: tuple[Unseen, ...] = ()
    """Places that nobody saw as they must be seen."""

    @property
    def gravity(self) -> int:
        """Its place among DEEDS: the gravest is 0."""
        return DEEDS.index(self.deed)

    @property
    def is_told(self) -> bool:
        """Whether the amount stands out of its own doubt: what does not is no difference."""
        return not self.judged or self.judged[0].is_told

    @property
    def sources(self) -> tuple[Source, ...]:
        """Ids of the findings and looks behind it."""
        found: tuple[Source, ...] = tuple(j.finding.id for j in self.judged)
        found += tuple(s.look.id for s in self.seen)
        return found or tuple(f"step:{u.step}" for u in self.steps)


def facts_of(verdict: "Verdict", survey: Survey, library: Library) -> tuple[Fact, ...]:
    """Everything that a verdict has to tell, the gravest first."""
    givers = Givers(verdict, survey, library)
    found = [fact for give in GIVERS for fact in give(givers)]
    return tuple(sorted(found, key=_rank))


def _rank(fact: Fact) -> tuple[int, float]:
    """By what it asks for; then the one that is furthest beyond its limit."""
    return fact.gravity, -max((_share(j) for j in fact.judged), default=0.0)


def _share(judged: Judged) -> float:
    """How many times the limit of what is left a value is."""
    if not judged.edges:
        return 0.0
    edge = judged.edges[0]
    limit = edge.high if judged.finding.value >= 0 or edge.low is None else -edge.low
    return abs(judged.finding.value) / (limit or 1.0)


class Givers:
    """A verdict with what its facts are made from."""

    def __init__(self, verdict: "Verdict", survey: Survey, library: Library) -> None:
        self.verdict, self.survey, self.library = verdict, survey, library
        self.layout: Layout = layout_of(survey, library)
        named = {j.finding.id for j in (*verdict.open, *verdict.reasons)}
        self.told: tuple[Judged, ...] = tuple(
            j for j in verdict.of_frame if _tells(j) and (is_out(j) or j.finding.id in named)
        )
        """Findings that are out, or open, or among the reasons."""
        collision = verdict.causes.conclusions.get("collision")
        self.struck = verdict.causes.corner if collision and collision.named else None

    def of(self, *quantities: QuantityId) -> list[Judged]:
        """What is told of some quantities, the gravest first."""
        found = (j for j in self.told if j.finding.quantity in quantities)
        return sorted(found, key=gravest, reverse=True)

    def signs(self) -> set[str]:
        """The conditions that the findings bear out, as content/signs.toml names them."""
        causes = self.verdict.causes.conclusions.values()
        return {e.sign.finding for found in causes for e in found.signs}

    def fact(
        self, kind: str, judged: Sequence[Judged], way: str = "", at: Where | None = None
    ) -> Fact:
        """A fact of findings, the first of which gives its amount."""
        first = judged[0]
        return Fact(
            kind,
            self.deed(judged),
            at or where_of(first.finding.where),
            first.finding.number,
            first.finding.unit,
            way,
            tuple(judged),
            worst=max((j.worst for j in judged), key=weight),
        )

    def deed(self, judged: Iterable[Judged]) -> str:
        """What to do about findings: what is established and asks for work, else what is open."""
        limited = [j for j in judged if j.bands]
        grave = max((j.established for j in limited), key=weight, default="leave")
        if grave in GRAVE:
            return grave
        if any(map(is_open, limited)):
            return "open"
        fitted = self.verdict.action == "leave"  # of what is worth an eye: hood and doors fit it
        return "watch" if grave == "watch" and not fitted else "leave"

    def third_of(self, seen: Seen) -> str:
        """The third of the frame in which something was seen; empty where nobody said."""
        fixed = self.library.signs.thirds.get(seen.step.id)
        return fixed or meant(self.survey, self.library, marks.THIRD, seen.step.id, seen.side)


def _tells(judged: Judged) -> bool:
    """Whether it has a limit, is not told by another, and leans on no contradiction."""
    return bool(judged.bands) and not judged.quiet and not judged.finding.disagrees


def gravest(judged: Judged) -> tuple[int, int, float]:
    """By what is established, by what may be, by how much."""
    return weight(judged.established), weight(judged.worst), _share(judged)


# What was seen ------------------------------------------------------------------------------------


def _looks(deed: str, seen: Iterable[Seen], givers: Givers, way: str = "") -> Iterator[Fact]:
    """One fact for what was seen at one place, whichever side."""
    for one in seen:
        where = Where(NO_PLACE, side_of(one.side))
        yield Fact(
            "seen", deed, where, way=way or one.speaks, seen=(one,), third=givers.third_of(one)
        )


def _of_looks(givers: Givers) -> Iterator[Fact]:
    """Stop signs, loose joints, and what the looks speak for."""
    verdict = givers.verdict
    yield from _looks("stop", verdict.stops, givers)
    loose: dict[str, Seen] = {}
    for one in verdict.loose:
        loose.setdefault(one.joint, one)
    yield from _looks("loose", loose.values(), givers, "loose")
    for deep in verdict.deep:
        found = deep.finding
        where, amount = where_of(found.where), found.number
        yield Fact("thin", "see", where, amount, found.unit, marks.DEEP, (deep,))
    for voice in verdict.voices:
        id = voice.id
        if id == marks.BENT_HORN and not _can_tape_horns(givers):
            id = marks.BENT_THERE  # the tape tells nothing of it, or never will: somebody looks
        yield from _looks(_asks(id), voice.seen, givers, id)
    yield from _looks("watch", verdict.dyed, givers, marks.BY_DYE)
    yield from _looks("watch", verdict.dented, givers, marks.DENT)


def _can_tape_horns(givers: Givers) -> bool:
    """Whether the horns are still to be taped, and nobody said that he cannot."""
    if any(j.finding.quantity in TAPED_HORNS for j in givers.verdict.judged):
        return False
    page = givers.library.page.get(marks.HORN_TIPS)
    questions = guide_of(givers.survey, givers.library).questions
    here = (p.id for p in questions.by_id.values() if p.step == page)
    return page not in questions.unfit and any(not givers.survey.skipped(id) for id in here)


TAPED_HORNS = (marks.HORN_APART, marks.HORN_OUT, marks.HORN_BACK)


def _asks(voice: str) -> str:
    """What a voice of the looks asks for."""
    if voice in marks.NOT_TO_MOVE:
        return "moves"
    return "gauge" if voice in marks.OWN_HAND else "see"


def _unseen(givers: Givers) -> Iterator[Fact]:
    """Places where frames crack that nobody saw as they must be seen."""
    if givers.verdict.unseen and givers.verdict.action in ("open", "not-enough"):
        yield Fact("unseen", "bare", steps=givers.verdict.unseen)


def _standing(givers: Givers) -> Iterator[Fact]:
    if givers.verdict.rocks:
        yield Fact("rocks", "stand")


def _lacking(givers: Givers) -> Iterator[Fact]:
    """What of the whole picture was not measured."""
    for name in givers.verdict.lacking:
        yield Fact("lacking", "measure", way=name)


# What was measured --------------------------------------------------------------------------------


def _corner(givers: Givers) -> Iterator[Fact]:
    """One corner that explains the plan, with the half of it that the diagonals show."""
    found = corner_of(givers.verdict.judged, givers.layout)
    if found is None or not any(j.bands for j in (found.by, *found.shifts)):
        return
    way = "back" if found.end == "front" else "forward"
    at = Where(PlaceId(found.end), side_of(found.side))
    fact = givers.fact("corner", (found.by, *found.shifts), way, at)
    if fact.worst != "leave":
        yield fact._replace(struck=_hit(givers, ((found.side, found.end),)))


def _hit(givers: Givers, zones: Iterable[Zone]) -> Zone | None:
    """The corner that was hit, where it is one of these."""
    return givers.struck if givers.struck in tuple(zones) else None


def _kind_of_box(givers: Givers) -> tuple[str, frozenset[WhereId]]:
    """What the figures say that it is, and where its own amount is found."""
    box = givers.verdict.causes.box
    if "whole-diamond" in givers.signs():
        return "diamond", frozenset({WHOLE_BOX})
    if box not in (FRONT_BOX, REAR_BOX):
        return "square", frozenset({WHOLE_BOX})
    return "box", frozenset({box, marks.BY_BAR} if box == FRONT_BOX else {box})


def _square(givers: Givers) -> Iterator[Fact]:
    """Boxes out of square: a diamond, one box, or no more than that it is out."""
    shifts = givers.of(marks.RAIL_SHIFT)
    corner = corner_of(givers.verdict.judged, givers.layout)
    if not shifts or corner is not None or _is_bowed(givers):
        return
    kind, home = _kind_of_box(givers)
    first = next((j for j in shifts if j.finding.where in home), shifts[0])
    rest = [j for j in shifts if j is not first]
    right = first.finding.value > 0
    zones = ((str(SIDES[right]), "front"), (str(SIDES[not right]), "rear"))
    fact = givers.fact(kind, (first, *rest), "right" if right else "left")
    yield fact._replace(struck=_hit(givers, zones))


def _is_bowed(givers: Givers) -> bool:
    """Whether the frame is bent sideways, and nothing else is left that fits all of the figures: then
    its boxes are out of square by that and are no fact of their own.
    """
    judged, layout = givers.verdict.judged, givers.layout
    if not any(map(is_out, givers.of(marks.SWAY))):
        return False
    kinds = kinds_left(judged, layout)
    return bool(kinds) and kinds <= SIDEWAYS


class Family(NamedTuple):
    """Quantities that one fact tells together."""

    kind: str
    quantities: tuple[QuantityId, ...]
    ways: tuple[str, str]
    """Below zero, above zero."""


BOWED = "bow"
FAMILIES = (
    Family("short", (marks.MASH,), ("right", "left")),
    Family(BOWED, (marks.SWAY,), ("left", "right")),
    Family(marks.NOSE, (marks.NOSE_OFF,), ("left", "right")),
    Family("twist", (marks.TWIST,), ("right", "left")),
    Family("axle", (marks.WHEELBASE,), ("left", "right")),
)


def _families(givers: Givers) -> Iterator[Fact]:
    """What is told by one figure, of several places by the gravest."""
    corner = corner_of(givers.verdict.judged, givers.layout)
    for family in FAMILIES:
        found = givers.of(*family.quantities)
        if not found or (corner and corner.by in found):
            continue
        way = family.ways[found[0].finding.value > 0]
        if family.kind == BOWED and _is_bowed(givers):
            found = [*found, *givers.of(marks.RAIL_SHIFT)]
        yield givers.fact(family.kind, found, way)


def _thin(givers: Givers) -> Iterator[Fact]:
    """Each rail that rust made thin."""
    for judged in givers.of(marks.THICKNESS):
        yield givers.fact("thin", (judged,))


def _added(givers: Givers) -> Iterator[Fact]:
    """What a check tells that no rule here goes by, as of a quantity that an author added: by its own
    sentence.
    """
    for judged in givers.told:
        if judged.finding.quantity not in marks.OF_RULES and is_out(judged):
            yield givers.fact("added", (judged,))


def _horns(givers: Givers) -> Iterator[Fact]:
    """The horns, sideways, up and back at once; one of them is named where only it was seen bent."""
    found = givers.of(*marks.HORNS)
    if not found:
        return
    sideways = [j for j in found if j.finding.quantity == marks.HORN_APART]
    rest = [j for j in found if j not in sideways]
    bent = side_of(givers.verdict.bent)
    looks = tuple(s for s in givers.verdict.seen if s.carries(marks.BENT) and s.side == bent)
    fact = givers.fact("horn", (*sideways, *rest), at=Where(givers.layout.horns, bent))
    yield fact._replace(seen=looks)


def _sags(givers: Givers) -> Iterator[Fact]:
    """Rails that hang, and rails that stand high; both in one fact where the same is due of both."""
    for kind, sign in (("sag", 1.0), ("crown", -1.0)):
        best = _by_side([j for j in _sagging(givers) if sign * j.finding.value > 0])
        if not best:
            continue
        rows = sorted(best.values(), key=gravest, reverse=True)
        if rows[0].bands != rows[-1].bands:  # what is to be done to one is not to be done to both
            yield from (givers.fact(kind, (row,)) for row in rows)
            continue
        place = where_of(rows[0].finding.where).place
        side = where_of(rows[0].finding.where).side if len(rows) == 1 else None
        yield givers.fact(kind, rows, at=Where(place, side))


def _sagging(givers: Givers) -> list[Judged]:
    """What is told of the string, and beside a rail that is told its twin."""
    found = givers.of(*marks.SAGS)
    quantities = {j.finding.quantity for j in found}
    twins = [
        j
        for j in givers.verdict.judged
        if j.finding.quantity in quantities and _tells(j) and j.bands != ("leave",)
    ]
    return [*found, *(j for j in twins if j not in found and j.is_told)]


def _by_side(found: Iterable[Judged]) -> dict[Side, Judged]:
    """The gravest of each rail, without the engine's weight where both were read."""
    best: dict[Side, Judged] = {}
    for judged in sorted(found, key=_unloaded_first, reverse=True):
        side = where_of(judged.finding.where).side
        if side:
            best.setdefault(side, judged)
    return best


def _unloaded_first(judged: Judged) -> tuple[int, bool, float]:
    weighs, _, share = gravest(judged)
    return weighs, judged.finding.quantity == marks.SAG_UNLOADED, share


def _waits(givers: Givers) -> Iterator[Fact]:
    """Rails that stand high as long as the engine's weight is off: that may be just what was meant."""
    high = [j for j in givers.verdict.judged if j.finding.note(Crown)]
    if not high or any((j.finding.note(Crown) or _LOADED).loaded for j in high):
        return
    sides = [where_of(j.finding.where).side for j in high]
    at = Where(NO_PLACE, sides[0] if len(sides) == 1 else None)
    first = max(high, key=lambda j: abs(j.finding.value)).finding
    yield Fact("waits", "open", at, first.number, first.unit, judged=tuple(high))


_LOADED = Crown(NO_PLACE, loaded=True, counts=False)


# Readings that cast doubt -------------------------------------------------------------------------

APART = (marks.CLOSURE, marks.LEVEL_CLOSING, marks.STRING_LEVEL)
"""Figures that should be zero: they cast doubt on readings, not on the frame."""
SUSPECTS = (marks.SUSPECT, marks.GAP_SLIP)
"""Figures that name a reading which does not fit the others."""


def _doubts(givers: Givers) -> Iterator[Fact]:
    """Readings that cannot all be right."""
    slipped = any(j.finding.quantity in SUSPECTS for j in givers.verdict.judged)
    for judged in givers.verdict.judged:
        found = judged.finding
        if found.quantity in SUSPECTS:
            note = found.note(Slip)
            way = "one" if note and note.named else "several"
            yield _reading("slip", judged, way)
        elif found.quantity in APART and judged.stands_out and not slipped:
            yield _reading("apart", judged, "")


def _reading(kind: str, judged: Judged, way: str) -> Fact:
    found = judged.finding
    return Fact(kind, "again", where_of(found.where), found.number, found.unit, way, (judged,))


def _kinks(givers: Givers) -> Iterator[Fact]:
    """Rails that the string tells to bend sharply: nobody knows until the place was seen bare."""
    for judged in givers.verdict.judged:
        note = judged.finding.note(Bend)
        if note is not None and note.kind == "kink":
            at = Where(note.near, side_of(judged.finding.where))
            yield Fact("kink", "see", at, judged=(judged,))


Give = Callable[[Givers], Iterator[Fact]]
GIVERS: tuple[Give, ...] = (
    *(_of_looks, _standing, _doubts, _corner, _square, _families, _thin, _horns, _sags),
    *(_added, _waits, _kinks, _unseen, _lacking),
)
"""Who makes facts, each of its own part of the verdict."""


# The notes at a place -----------------------------------------------------------------------------


def remarks_at(fact: Fact, survey: Survey) -> tuple[Remark, ...]:
    """The words that a person left on the pages whose readings and looks a fact is made of."""
    steps = _pages(fact, survey)
    here = (m for m in survey.standing(Remark) if m.text.strip() and step_of(m.prompt) in steps)
    return tuple(m for m in here if _same_side(m, fact))


def _pages(fact: Fact, survey: Survey) -> set[StepId]:
    """The pages of its readings and of its looks."""
    rows = {i for j in fact.judged for i in j.finding.readings}
    read = {step_of(r.prompt) for r in survey.table(Reading) if r.id in rows}
    return read | {s.step.id for s in fact.seen}


def _same_side(remark: Remark, fact: Fact) -> bool:
    """Whether a note was not left on the other side's question."""
    side = asked_of(remark.prompt).side
    return side is None or fact.where.side is None or side is fact.where.side
