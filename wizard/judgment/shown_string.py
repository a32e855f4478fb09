"""What the string shows: sag alike or of one rail, a kink, a crown; and whether a jack or a chain
left its mark there, and anybody looked.

A jack under the middle of a rail bends it by itself (common practice, no published source).

The figures in capitals are this project's own: how far out a thing must be before it is taken for a
sign at all.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from wizard.checks.notes import Bend, Crown
from wizard.checks.springing import SPRING_MM
from wizard.judgment.bands import Judged
from wizard.judgment.facts import SIDES, Shown, Told, Zone, is_out
from wizard.judgment.seen import Seen, looks_of
from wizard.library import marks
from wizard.library.places import FindingId, PlaceId, QuantityId, StepId, where_id, where_of

UNLIKE_MM = 2.0
"""Rails that differ by no more hang alike."""

BothRails = tuple[Judged, Judged]
"""The left rail's finding and the right rail's."""


def _low(judged: Judged | None, by: float = 0.0) -> bool:
    """Whether a rail hangs lower than a sound one may: a sign speaks for a cause, so its sag must
    be established.

    What may still be `leave it` is what sound frames show too.
    """
    return judged is not None and is_out(judged) and judged.finding.value - judged.half_width > by


def _alike(left: Judged, right: Judged) -> bool:
    return abs(left.finding.value - right.finding.value) <= UNLIKE_MM


def sags(facts: Told) -> Iterator[Shown]:
    """Sag of both rails alike, and what the string says of its shape."""
    unloaded = _at_mount(facts, marks.SAG_UNLOADED)
    if unloaded:
        behind = _deepest_behind(facts, unloaded)
        if behind:
            yield Shown("equal-sag-behind", tuple(j.finding.id for j in behind))
        else:
            yield from _equal_sag(facts, unloaded)
        return
    loaded = _at_mount(facts, marks.SAG_LOADED)
    # Loaded, only what is beyond the spring of a sound rail counts.
    if loaded and _low_alike(loaded, SPRING_MM):
        yield Shown("equal-sag-loaded", tuple(j.finding.id for j in loaded))


def _at_mount(facts: Told, quantity: QuantityId) -> BothRails | None:
    """Both rails' sag at the engine mount; None where one of them was not read."""
    return _at_station(facts, facts.mount, quantity)


def _at_station(
    facts: Told, id: PlaceId, quantity: QuantityId = marks.SAG_UNLOADED
) -> BothRails | None:
    """Both rails' sag at a station; None where one of them was not read."""
    left, right = (facts.of(quantity).get(where_id(id, s)) for s in SIDES)
    return (left, right) if left and right else None


def _low_alike(pair: BothRails, by: float = 0.0) -> bool:
    return all(_low(j, by) for j in pair) and _alike(*pair)


def _deepest_behind(facts: Told, mounts: BothRails) -> BothRails | None:
    """Both rails where they hang lowest, if that is one place behind the middle, past all doubt
    deeper than at the engine, and neither is kinked.
    """
    middle = sum(facts.layout.string) / 2
    behind = [_at_station(facts, s.id) for s in facts.layout.stations if s.x > middle]
    pairs = [pair for pair in behind if pair]
    if not pairs or _kinked(facts):
        return None
    lowest = max(pairs, key=lambda pair: sum(j.finding.value for j in pair))
    deeper = all(_deeper(j, at) for j, at in zip(lowest, mounts, strict=True))
    return lowest if _low_alike(lowest) and deeper else None


def _deeper(judged: Judged, other: Judged) -> bool:
    apart = judged.finding.value - other.finding.value
    return apart > math.hypot(judged.half_width, other.half_width)


def _equal_sag(facts: Told, pair: BothRails) -> Iterator[Shown]:
    """A sag without the engine's weight, told as a bend where the string shows its shape."""
    bends = [n.kind for b in facts.of(marks.KINK_OR_BOW).values() if (n := b.finding.note(Bend))]
    if "kink" in bends or not _low_alike(pair):
        return
    both_bend = len(facts.of(marks.KINK_OR_BOW)) == 2 and set(bends) == {"bow"}
    told = both_bend and _deepest_at_mount(facts)
    yield Shown("equal-sag" if told else "equal-sag-untold", tuple(j.finding.id for j in pair))


def _deepest_at_mount(facts: Told) -> bool:
    for side in SIDES:
        sags = {w: j for w, j in facts.of(marks.SAG_UNLOADED).items() if where_of(w).side == side}
        mount = sags[where_id(facts.mount, side)]
        if mount.finding.value + mount.half_width < max(j.finding.value for j in sags.values()):
            return False
    return True


def _lower(facts: Told) -> list[tuple[float, PlaceId, str]]:
    """Where one rail hangs low and its twin does not: by how much, station, the low side."""
    read = facts.of(marks.SAG_UNLOADED) or facts.of(marks.SAG_LOADED)
    found: list[tuple[float, PlaceId, str]] = []
    for station in facts.layout.stations:
        left, right = (read.get(where_id(station.id, s)) for s in SIDES)
        if left is None or right is None:
            continue
        apart = left.finding.value - right.finding.value
        doubt = (left.half_width**2 + right.half_width**2) ** 0.5
        if abs(apart) - doubt > UNLIKE_MM and _low(left if apart > 0 else right):
            found.append((abs(apart), station.id, "left" if apart > 0 else "right"))
    return found


def one_rail(facts: Told) -> Iterator[Shown]:
    """One rail low and its twin not; where a jack or a chain stood under it, that."""
    read = facts.of(marks.SAG_UNLOADED) or facts.of(marks.SAG_LOADED)
    if found := _lower(facts):
        _, station_id, side = max(found)
        sources = tuple(read[where_id(station_id, s)].finding.id for s in SIDES)
        yield _bent("one-rail-sag", facts, sources, side, facts.station_third(station_id))


def _bent(condition: str, facts: Told, ids: tuple[FindingId, ...], side: str, third: str) -> Shown:
    """A bend of one rail: a blow's, unless a jack or a chain stood there; not known before the
    rail's side was seen.
    """
    if is_jacked(
        facts,
        side,
        {third, *(facts.station_third(s) for _, s, low in _lower(facts) if low == side)},
    ):
        return Shown("low-by-a-jack", ids, ((side, third),), weightless=True)
    return Shown(condition, ids, ((side, third),), weightless=not side_seen(facts, side))


def _jack_step(facts: Told) -> StepId:
    """The page where such a mark is looked for."""
    steps = facts.library.steps.values()
    found = (s.id for s in steps for p in s.prompts for c in p.choices if marks.JACK in c.marks)
    return next(found)


def _rail_looks(facts: Told, side: str) -> tuple[Seen, ...]:
    """What was seen of a rail's side; nothing found under dirt is nothing looked at."""
    step = _jack_step(facts)
    looks = (s for s in looks_of(facts.survey, facts.library) if s.prompt.step == step)
    return tuple(s for s in looks if s.side == side and s.counts)


def side_seen(facts: Told, side: str) -> bool:
    """Whether the rail's side was looked at, or cannot be on this kind of frame.

    Before that a bend says nothing of its cause: the mark may be there, and passing over a look
    must not be bolder.
    """
    return _jack_step(facts) in facts.foreign or bool(_rail_looks(facts, side))


def is_jacked(facts: Told, side: str, thirds: set[str]) -> bool:
    """Whether the mark is on that rail in one of these thirds; where nobody said in which third, it
    may be this one.
    """
    marked = any(s.carries(marks.JACK) for s in _rail_looks(facts, side))
    said = facts.meant(marks.THIRD, _jack_step(facts), side)
    return marked and (said in thirds or not said)


def kinks(facts: Told) -> Iterator[Shown]:
    """A sharp bend of one rail; where both bend alike at the engine mount it is the engine's
    weight.
    """
    found = _kinked(facts)
    at_mount = all(near == facts.mount for near, _ in found.values())
    if found and at_mount and (sags := _mounts_alike(facts)):
        if all(_low(j) for j in sags):
            ids = tuple(id for _, id in found.values())
            yield Shown("equal-sag-bent", (*(j.finding.id for j in sags), *ids))
        return
    for side, (near, id) in found.items():
        yield _bent("string-kink", facts, (id,), side, facts.station_third(near))


def _kinked(facts: Told) -> dict[str, tuple[PlaceId, FindingId]]:
    """By side, the station nearest to its kink and the finding's id."""
    notes = {
        str(side): (j, j.finding.note(Bend)) for side, j in facts.of(marks.KINK_OR_BOW).items()
    }
    return {
        side: (note.near or facts.mount, judged.finding.id)
        for side, (judged, note) in notes.items()
        if note and note.kind == "kink"
    }


def _mounts_alike(facts: Told) -> tuple[Judged, ...]:
    """Both rails' sag at the engine mount, where both were read and hang alike."""
    pair = _at_mount(facts, marks.SAG_UNLOADED) or _at_mount(facts, marks.SAG_LOADED)
    return pair if pair and _alike(*pair) else ()


def crowns(facts: Told) -> Iterator[Shown]:
    """Rails that stand high as a whole. What may spring up when the engine goes is no sign, unless it
    is known that somebody straightened them to carry it.
    """
    high = {s: (j, n) for s, j in facts.of(marks.CROWN).items() if (n := j.finding.note(Crown))}
    counts = any(note.counts for _, note in high.values())
    told = facts.meant(marks.STRAIGHTENED) == marks.YES
    if high and (counts or told):
        places = (
            zone for s, (_, note) in high.items() for zone in _high_zones(facts, str(s), note)
        )
        zones = tuple(dict.fromkeys(places))
        ids = tuple(judged.finding.id for judged, _ in high.values())
        yield Shown("crown" if counts else "crown-as-told", ids, zones)


def _high_zones(facts: Told, side: str, crown: Crown) -> tuple[Zone, ...]:
    """Where a rail stands high; there on both rails, where its twin is not surely lower: of two that
    may both be high it is no more than the one that was surer.
    """
    third = facts.station_third(crown.near)
    pair = _at_station(facts, crown.near, marks.SAG_LOADED if crown.loaded else marks.SAG_UNLOADED)
    if pair is not None:
        here, other = pair if side == SIDES[0] else pair[::-1]
        if not _deeper(other, here):
            return tuple((s, third) for s in SIDES)
    return ((side, third),)
