"""Age, collision, earlier repair or made so: each weighed by itself, for one frame can have them
all.

Rules (common practice, no published source): a collision is never named from one kind of sign
alone, nor from weak ones; silence counts only where the place was seen bare; whatever was not seen
can only make an answer more careful.
"""

from collections.abc import Iterable, Mapping
from typing import NamedTuple

from wizard.frozen import Frozen
from wizard.judgment.facts import Zone
from wizard.judgment.signs import Evidence
from wizard.library.places import (
    FRONT_BOX,
    NO_PLACE,
    NO_STEP,
    REAR_BOX,
    WHOLE_BOX,
    PlaceId,
    StepId,
)
from wizard.library.shapes_signs import CAUSES, Witness

STRENGTHS = ("none", "hint", "likely", "strong")
HINT, LIKELY, STRONG = 1, 3, 5
"""Points from which each is said: one medium sign is a hint, two make it likely, a strong one makes
it strong.
"""
INDEPENDENT = ("metal", "geometry", "body")
SOLID = 2
"""Points from which a kind of witness counts as more than weak."""
HURTS = ("collision", "repair")
"""Causes that have a place; age and the maker work everywhere."""


class Conclusion(NamedTuple):
    """What the signs amount to for one cause."""

    cause: str
    strength: str
    """none, hint, likely, strong"""
    signs: tuple[Evidence, ...]
    """For it, the heaviest first; those that count for nothing come last."""
    against: tuple[Evidence, ...]
    unmet: tuple[Witness, ...]
    """What was not seen bare or not measured; the one that would settle it first."""
    one_kind: bool = False
    """For a collision: whether it is held back because only one kind of witness speaks at that
    corner.
    """

    @property
    def one_bend(self) -> bool:
        """Whether all that speaks for it are unlike witnesses of a rail's bend."""
        kinds = {e.sign.kind for e in self.signs if e.sign.bend}
        return len(kinds) > 1 and all(e.sign.bend for e in self.signs)

    @property
    def named(self) -> bool:
        """Whether it may be said aloud."""
        return self.strength in ("likely", "strong")

    @property
    def cannot_tell(self) -> bool:
        """Whether what was not seen keeps it open."""
        return not self.named and bool(self.unmet)

    @property
    def answer(self) -> str:
        """none, hint, likely, strong or cannot-tell."""
        return "cannot-tell" if self.cannot_tell else self.strength


class Causes(Frozen):
    """All four, and where and when."""

    conclusions: Mapping[str, Conclusion]
    """By cause: age, collision, repair, original."""
    corner: Zone | None = None
    """Where the signs of damage and repair gather."""
    hit: tuple[Zone, ...] = ()
    """Where it is known to have been hit, whatever the signs say."""
    box: PlaceId = NO_PLACE
    """Box id, `horns` or `whole`; empty where none is out."""
    older: tuple[Evidence, ...] = ()
    """Signs that it is older than the last fitting of hood and doors."""
    untouched: tuple[Evidence, ...] = ()
    """Signs that nobody hammered or ground at that place since it was made."""
    moving: tuple[Evidence, ...] = ()
    """Signs that something moves now."""
    when: str = ""
    """old or recent, by the metal inside a fold."""

    @property
    def struck(self) -> tuple[Zone, ...]:
        """The corners whose parts a blow may have bent: those known to have been hit, and the one
        where the signs gather unless the past names another and they are too few to be named.
        """
        return tuple(dict.fromkeys((*self.hit, *([self.corner] if self.corner else []))))

    @property
    def unexplained(self) -> tuple[Evidence, ...]:
        """The signs of a diamond of the whole frame beside which nothing seen and nobody's word
        tells of a blow: points that the maker set unequally measure the same. None where one does.
        """
        signs = self.conclusions["collision"].signs if "collision" in self.conclusions else ()
        if any(e.sign.kind != "geometry" for e in signs):
            return ()
        # A twist is of the whole frame too, and no point that was set unequally measures like it.
        return tuple(e for e in signs if e.sign.finding == "whole-diamond")

    def __getitem__(self, cause: str) -> Conclusion:
        return self.conclusions[cause]


def weigh(evidence: tuple[Evidence, ...], not_met: Mapping[str, tuple[Witness, ...]]) -> Causes:
    """The four causes from any set of signs.

    Leaving a sign out never makes a cause stronger, unless it spoke against it.
    """
    found = {cause: _concluded(cause, evidence, not_met.get(cause, ())) for cause in CAUSES}
    hurt = any(found[c].strength != "none" for c in HURTS)
    folds = {e.fold for e in evidence if e.fold}
    return Causes(
        conclusions=found,
        corner=_corner(evidence, any(found[c].named for c in HURTS)) if hurt else None,
        hit=known_hits(evidence),
        box=box_of(evidence),
        older=_telling(evidence, "older"),
        untouched=_telling(evidence, "untouched"),
        moving=_telling(evidence, "moving"),
        when=folds.pop() if len(folds) == 1 else "",
    )


def _concluded(
    cause: str, evidence: tuple[Evidence, ...], not_met: tuple[Witness, ...]
) -> Conclusion:
    judge = _collision if cause == "collision" else _plain
    strength, one_kind = judge(evidence, cause)
    signs = sorted((e for e in evidence if cause in e.points), key=lambda e: -e.points[cause])
    against = tuple(e for e in evidence if cause in e.against)
    wanted = _ordered(not_met, evidence, cause)
    return Conclusion(cause, strength, tuple(signs), against, wanted, one_kind)


def _telling(evidence: tuple[Evidence, ...], what: str) -> tuple[Evidence, ...]:
    return tuple(e for e in evidence if e.sign.tells == what)


def total(evidence: tuple[Evidence, ...], cause: str) -> int:
    """Points for a cause less those against it; the same sign in one step counts once."""
    best: dict[tuple[str, StepId], int] = {}
    for found in evidence:
        key = (found.sign.id, NO_STEP if found.sign.once else found.step)
        best[key] = max(best.get(key, 0), found.points.get(cause, 0))
    return sum(best.values()) - _spoken_against(evidence, cause)


def _spoken_against(evidence: tuple[Evidence, ...], cause: str) -> int:
    return sum(e.against.get(cause, 0) for e in evidence)


def _said(points: int) -> str:
    return STRENGTHS[(points >= HINT) + (points >= LIKELY) + (points >= STRONG)]


def _plain(evidence: tuple[Evidence, ...], cause: str) -> tuple[str, bool]:
    """Weak signs alone, and hearsay alone, never make it strong; two kinds of witness that are each
    more than weak do, where they meet at one place.
    """
    strength = _said(total(evidence, cause))
    solid = [e for e in evidence if e.points.get(cause, 0) >= SOLID and e.sign.kind != "history"]
    if strength == "likely" and _meet(solid):
        return "strong", False
    return ("likely" if strength == "strong" and not solid else strength), False


def _meet(evidence: Iterable[Evidence]) -> bool:
    """Whether two independent kinds of witness speak of one place."""
    kinds: dict[Zone, set[str]] = {}
    for found in evidence:
        for zone in found.zones if found.sign.kind in INDEPENDENT else ():
            kinds.setdefault(zone, set()).add(found.sign.kind)
    return any(len(there) > 1 for there in kinds.values())


def _collision(evidence: tuple[Evidence, ...], cause: str) -> tuple[str, bool]:
    """Named only where two kinds of witness meet at one corner, or one meets what is known of the
    past.
    """
    spoken = _spoken_against(evidence, cause)
    zones = {zone for e in evidence for zone in e.zones}
    best = max(
        (_at_corner(evidence, zone, spoken) for zone in sorted(zones)),
        key=STRENGTHS.index,
        default="none",
    )
    if best in ("likely", "strong"):
        return best, False
    points = total(evidence, cause)
    return ("hint" if points >= HINT else "none"), points >= SOLID


def _at_corner(evidence: tuple[Evidence, ...], zone: Zone, spoken: int) -> str:
    """What is said there. Of a rail's bend it is one witness's word, and the one that adds most:
    what the string measures and what the metal shows of it are one and the same bend, whoever made
    it.
    """
    here = tuple(e for e in evidence if zone in e.zones)
    points = total(here, "collision") - (spoken - _spoken_against(here, "collision"))
    if points < LIKELY:
        return "none"
    by_turns = (_by_witnesses(here, kind, points) for kind in INDEPENDENT)
    said = max(by_turns, key=STRENGTHS.index)
    seen_and_measured = len(_with_points(_by_kind(here), SOLID)) > 1
    if said == "none" and seen_and_measured and _hit_somewhere(evidence):
        return "likely"
    return said


def _by_kind(evidence: tuple[Evidence, ...]) -> dict[str, int]:
    return {kind: _points_of(kind, evidence) for kind in INDEPENDENT}


def _hit_somewhere(evidence: tuple[Evidence, ...]) -> bool:
    """Whether it is known to have been hit, and not where."""
    unplaced = tuple(e for e in evidence if not e.zones)
    return _points_of("history", unplaced) >= SOLID


def _by_witnesses(here: tuple[Evidence, ...], of_bend: str, points: int) -> str:
    """of_bend: the kind of witness whose word on a bend counts."""
    kept = tuple(e for e in here if not e.sign.bend or e.sign.kind == of_bend)
    kinds = _by_kind(kept)
    speaking, solid = _with_points(kinds, 1), _with_points(kinds, SOLID)
    if len(solid) >= 2 and points >= STRONG:
        return "strong"
    meets_the_past = solid and _points_of("history", here) >= SOLID
    return "likely" if len(speaking) >= 2 or meets_the_past else "none"


def _with_points(kinds: Mapping[str, int], least: int) -> list[str]:
    return [kind for kind, points in kinds.items() if points >= least]


def _points_of(kind: str, evidence: tuple[Evidence, ...]) -> int:
    """What one kind of witness says for a collision."""
    return sum(e.points.get("collision", 0) for e in evidence if e.sign.kind == kind)


def _ordered(
    wanted: tuple[Witness, ...], evidence: tuple[Evidence, ...], cause: str
) -> tuple[Witness, ...]:
    """First the witness of another kind than those that spoke: it is the one that can settle it."""
    spoke = {e.sign.kind for e in evidence if e.points.get(cause)}
    return tuple(sorted(wanted, key=lambda w: w.kind in spoke))


def corner_points(evidence: Iterable[Evidence]) -> dict[Zone, int]:
    """Points of every sign that points to a zone; one that leaves several open counts for each of
    them.
    """
    totals: dict[Zone, int] = {}
    for found in evidence:
        points = max((found.points.get(c, 0) for c in HURTS), default=0)
        for zone in found.zones if points else ():
            totals[zone] = totals.get(zone, 0) + points
    return totals


def gathered(evidence: tuple[Evidence, ...]) -> Zone | None:
    """The zone with the most points; None where two have as many, where there is none, or where no
    sign points to it alone.

    A bow puts boxes out of square and horns out of line: signs that each leave several corners open
    meet somewhere by themselves, and none of them says that it is there.
    """
    totals = corner_points(evidence)
    most = max(totals.values(), default=0)
    best = [zone for zone, points in totals.items() if points == most]
    alone = {e.zones for e in evidence if any(e.points.get(c, 0) for c in HURTS)}
    return best[0] if len(best) == 1 and tuple(best) in alone else None


def _corner(evidence: tuple[Evidence, ...], named: bool) -> Zone | None:
    """Where the signs gather; None where they are too few to be named and the past names another
    corner.
    """
    corner, known = gathered(evidence), known_hits(evidence)
    return None if known and not named and corner not in known else corner


def known_hits(evidence: Iterable[Evidence]) -> tuple[Zone, ...]:
    """Where it is known to have been hit; empty where that is not known."""
    told = (e for e in evidence if e.sign.kind == "history" and e.points.get("collision"))
    return tuple(dict.fromkeys(zone for e in told for zone in e.zones))


def box_of(evidence: Iterable[Evidence]) -> PlaceId:
    """The box that is out: `whole`, one box, the horns'; empty where none is, or two are out against
    each other.
    """
    boxes = {e.box: e.sign.finding for e in evidence if e.box}
    if "whole-diamond" in boxes.values():
        return WHOLE_BOX
    ends = [b for b in (FRONT_BOX, REAR_BOX) if b in boxes]
    if ends:
        return ends[0] if len(ends) == 1 else NO_PLACE
    return next((b for b in boxes if b != WHOLE_BOX), next(iter(boxes), NO_PLACE))
