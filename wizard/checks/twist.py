"""Twist by level: the same bubble all along means no twist; the frame itself need not be level. What a
sag in one rail does to the level is no twist: it is taken out where the string foretells it.

The level is turned end for end at each place, so its own error drops out (reversal).
Source: geometry, height across the rails = W tan(change of slope); at a place of width W the lean
that two unlike rails make is (sag right - sag left) / W, against the straight line between the
string's blocks, where it is zero. Beyond the blocks nothing is taken out of a twist. A horn is held by
the rail, and one that hangs low between the blocks lifts its end: what that makes of the heights of
the tips is no horn's.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import replace
from operator import attrgetter

from wizard.checks.case import Case
from wizard.checks.finding import Finding
from wizard.checks.notes import MOVED, Against, ReadOn, SagLifts, SagTakenOut
from wizard.checks.sizes import width
from wizard.checks.sunny import under_level
from wizard.checks.twist_supports import all_supports, supports_under
from wizard.library import marks
from wizard.library.places import (
    SIDES,
    PlaceId,
    StepId,
    WhereId,
    prompt_id,
    where_id,
)
from wizard.library.shapes import LevelPlace
from wizard.math.level import height_across, own_error, slope
from wizard.math.student import coverage_factor
from wizard.math.uncertain import GUESS, Part, Uncertain, combine
from wizard.survey.rows import State

RETURNS = (
    marks.TWIST,
    marks.HORN_HEIGHT,
    marks.LEVEL_CLOSING,
    marks.LEVEL_ERROR,
)

ONE_WAY_U = 0.002
"""Slope, a ratio: what a level may itself be out by where it was not turned round (this project's
own guess).
"""


OWN_ERROR, WHILE_IT_WENT = "level:own-error", "level:moved"
BESIDES = (OWN_ERROR, WHILE_IT_WENT)
"""Parts of a doubt beside the hand's that are as large whatever the level reads."""


Slope = tuple[Uncertain, tuple[str, ...]]
"""A slope, and the readings behind it."""


def slope_at(case: Case, place: LevelPlace, again: str = "") -> Slope | None:
    """Slope at a place, from both ways round; from one way alone with the level's own error as a
    doubt.
    """
    known = case.once(_no_slopes)
    if (place.id, again) not in known:
        found = _slope(case, place, again)
        known[place.id, again] = _sunned(case, place, found) if found and case.suns else found
    return known[place.id, again]


def _sunned(case: Case, place: LevelPlace, found: Slope) -> Slope:
    """The slope with what the sun on one side may have done to it."""
    number, ids = found
    parts = under_level(case.layout, case.suns_of(ids), place.place)
    return number.with_parts(*parts), ids


def _no_slopes(_: Case) -> dict[tuple[PlaceId, str], Slope | None]:
    """The slopes of a case that were asked for: none yet."""
    return {}


def _slope(case: Case, place: LevelPlace, again: str) -> Slope | None:
    level = case.library.page[marks.SLOPES]
    first = case.taken(prompt_id(level, place.id, f"{again}as-set"))
    turned = case.taken(prompt_id(level, place.id, f"{again}turned"))
    if first and turned:
        return slope(first.number, turned.number), (*first.ids, *turned.ids)
    one = first or turned
    if one is None:
        return None
    sign = 1.0 if first else -1.0
    part = Part(OWN_ERROR, sign * ONE_WAY_U, shared=True, source="the level was not turned around")
    return one.number.with_parts(part), one.ids


def check(case: Case) -> list[Finding]:
    """Change of slope from the front crossmember to every other place, as height across the rails.

    Where the level was read on other supports too, a note says what it read there."""
    known = all_supports(case.survey, case.library.page[marks.SLOPES])
    found = _on_these(case)
    return [_with_others(case, f, known) for f in found] if len(known) > 1 else found


ALIKE_MM = 0.5
"""Two supports that read nearer to one another say the same thing."""


def _with_others(case: Case, found: Finding, known: Collection[str]) -> Finding:
    """known: all the supports on which the level was read."""
    if found.quantity != marks.TWIST:
        return found
    these = _supports_of(case, found)
    others = (_on_other(case, found, s) for s in known if s not in these)
    return replace(found, notes=(*found.notes, *(note for note in others if note)))


def _supports_of(case: Case, found: Finding) -> set[str]:
    """What the frame rested on when the level was read for a finding."""
    read = case.by_step.get(found.of.read_at, ())
    return {supports_under(r, case.survey) for r in read if r.id in found.readings}


def _on_other(case: Case, found: Finding, supports: str) -> ReadOn | None:
    """What the place read on those supports; None where it read the same."""
    there = {f.id: f.value for f in _on_these(replace(case, supports=supports))}
    apart = abs(there.get(found.id, found.value) - found.value)
    unlike = apart > 2.0 * found.number.u + ALIKE_MM
    return ReadOn(supports, there[found.id]) if unlike else None


def _on_these(case: Case) -> list[Finding]:
    slopes = {p.id: s for p in case.layout.levels if (s := slope_at(case, p))}
    closing = _closing(case)
    rest = closing + _level_error(case)
    reference = _reference(case, slopes)
    if reference is None:
        return rest
    there = slopes[reference.id]
    moved = (MOVED,) if _moved(closing) else ()
    findings, tips = [], case.layout.tips
    for place in case.layout.levels:
        here = slopes.get(place.id)
        if here is None or place is reference:
            continue
        across, width_ids = width(case, place.place)
        number = _unless_it_moved(height_across(across, here[0] - there[0]), closing)
        # The height of the tips belongs to the horns, not to the twist of the rails.
        quantity = marks.HORN_HEIGHT if place.place == tips else marks.TWIST
        ids = (*here[1], *there[1], *width_ids)
        against = Against(reference.id)
        findings.append(case.found(quantity, place.id, number, ids, against, *moved))
    return findings + rest


def _reference(case: Case, read: Collection[PlaceId]) -> LevelPlace | None:
    """The first place on the rails where the level was read: all others are held against it."""
    tips = case.layout.tips
    return next((p for p in case.layout.levels if p.place != tips and p.id in read), None)


def _moved(closing: list[Finding]) -> bool:
    """Whether the level, back at its first place, read another slope than its doubt allows."""
    return any(abs(f.value) > 3 * f.number.u for f in closing)


def _unless_it_moved(number: Uncertain, closing: list[Finding]) -> Uncertain:
    """Where the frame moved under the level, all of that may be in any one reading (rectangular,
    one-sided).
    """
    if not _moved(closing):
        return number
    size = max(abs(f.value) for f in closing) / 3**0.5
    part = Part(
        WHILE_IT_WENT, size, shared=True, source="the frame moved while the level went along it"
    )
    return number.with_parts(part)


def _closing(case: Case) -> list[Finding]:
    """Back at the first place: what the slope changed by while the level went along the frame."""
    for place in case.layout.levels:
        before, after = slope_at(case, place), slope_at(case, place, "again-")
        if before and after:
            number = height_across(width(case, place.place)[0], after[0] - before[0])
            ids = (*before[1], *after[1])
            return [case.found(marks.LEVEL_CLOSING, place.id, number, ids)]
    return []


def _level_error(case: Case) -> list[Finding]:
    """The level's own error, the mean over all places where it was turned round, in mm per meter."""
    level = case.library.page[marks.SLOPES]
    pairs = [
        (a, b)
        for p in case.layout.levels
        if (a := case.taken(prompt_id(level, p.id, "as-set")))
        and (b := case.taken(prompt_id(level, p.id, "turned")))
    ]
    if not pairs:
        return []
    errors = [own_error(a.number, b.number) for a, b in pairs]
    share = 1000.0 / len(pairs)  # of slopes as ratios to one in mm per meter
    number = combine(sum([e.value for e in errors]) * share, [(share, e) for e in errors])
    ids = tuple(i for a, b in pairs for i in (*a.ids, *b.ids))
    return [case.found(marks.LEVEL_ERROR, WhereId("level"), number, ids)]


ELSEWHERE_U = 0.5
"""mm: by how much two rails of one frame may spring unlike when the weight or the supports are
others (own guess).
"""
BETWEEN_U = 0.2
"""Share of a figure read off between two stations by which the rail may bend off the straight line
(own guess).
"""


def settled(case: Case, findings: list[Finding]) -> list[Finding]:
    """The findings, every twist within the string's blocks and the heights of the horns without what
    the string foretells of them, and with the doubt of that.

    Where the string establishes that one rail is lower there, and that explains a part of the lean,
    the finding says so: note SagTakenOut, or SagLifts of the horns.
    """
    places: dict[WhereId, LevelPlace] = {p.id: p for p in case.layout.levels}
    leaning = (marks.TWIST, marks.HORN_HEIGHT)
    return [
        _without_sag(case, f, findings, places) if f.quantity in leaning else f for f in findings
    ]


def _without_sag(
    case: Case, found: Finding, findings: list[Finding], places: Mapping[WhereId, LevelPlace]
) -> Finding:
    read = lean_by_string(case, found, findings, places)
    if read is None:
        return found
    low, sags = read
    less = explained(low, found.value, found.number.u)
    if less is None:
        return found
    readings = (i for s in sags.values() for i in s.readings)
    ids = (*found.readings, *readings, *width(case, places[found.where].place)[1])
    ids = tuple(dict.fromkeys(ids))
    made = replace(found, number=found.number - less, readings=ids)
    if abs(low.value) <= coverage_factor(low.dof) * low.u:
        return made
    right = (low.value > 0) is (found.quantity == marks.TWIST)
    told = SagTakenOut if found.quantity == marks.TWIST else SagLifts
    note = told("right" if right else "left", abs(low.value))
    return replace(made, notes=(*found.notes, note))


def lean_by_string(
    case: Case, found: Finding, findings: Sequence[Finding], places: Mapping[WhereId, LevelPlace]
) -> tuple[Uncertain, dict[WhereId, Finding]] | None:
    """What the string foretells of a lean, mm, with the sags it read; None where it tells nothing.

    places: of the level, by where a twist is found.
    """
    against = found.note(Against)
    here, there = places[found.where], places.get(against.place) if against else None
    if there is None:
        return None
    sags, unlike = strings_like(case, found.readings, findings)
    low = _lean_between(case, here, there, sags)
    if low is None:
        return None
    return (elsewhere(low) if unlike else low), sags


def explained(low: Uncertain, lean: float, lean_u: float = 0.0) -> Uncertain | None:
    """What the sag explains of a lean, as far as the string knows it: all of a sag that is well
    known, little of one that is no more than its own doubt, and nowhere a threshold. None where it
    leans the other way: a string makes no twist that the level does not see.

    Source: the mean and the variance of a normal number whose size beforehand is that of what was
    read (empirical Bayes): share s^2 / (s^2 + u^2), variance u^2 times that share. Sag explains no
    more than there is, so its doubt is at most that of anything between nothing and all of it; or, of a
    lean that is little more than its own doubt `lean_u`, so much that both together reach twice over
    from nothing left to all of that lean and 2 `lean_u` more: where all of it was explained, none of
    it need be.
    """
    if low.value * lean <= 0:
        return None
    share = low.value**2 / (low.value**2 + low.u**2)
    value = math.copysign(min(abs(low.value) * share, abs(lean)), lean)
    most = max(abs(lean) / 3**0.5, math.sqrt(lean * lean + 4.0 * abs(lean) * lean_u) / 2.0)
    doubt = min(low.u * share**0.5, most)
    return combine(value, [(doubt / low.u, low)] if low.u else [])


def _lean_between(
    case: Case, here: LevelPlace, there: LevelPlace, sags: dict[WhereId, Finding]
) -> Uncertain | None:
    """What the sags add to the lean here against the place that the level is held to, mm."""
    tips = here.place == case.layout.tips
    low, base = _lean(case, here, sags, tips), _lean(case, there, sags, tips)
    other = width(case, there.place)[0].value
    if low is None or base is None or not other:
        return low
    return low - base.scaled(width(case, here.place)[0].value / other)


def elsewhere(low: Uncertain) -> Uncertain:
    """With the doubt of rails that may spring unlike in another state."""
    why = "the string was read with another weight or on other supports"
    part = Part("string:elsewhere", ELSEWHERE_U, shared=True, source=why, whose=GUESS)
    return low.with_parts(part)


def strings_like(
    case: Case, readings: Iterable[str], findings: Sequence[Finding]
) -> tuple[dict[WhereId, Finding], bool]:
    """The string's findings by place, of the state most like the level's; and whether it was not
    the same one.
    """
    page, strings = case.library.page, []
    level = _states(case, readings, page[marks.SLOPES])
    for quantity, step in (
        (marks.SAG_UNLOADED, page[marks.STRING_UNLOADED]),
        (marks.SAG_LOADED, page[marks.STRING_LOADED]),
    ):
        sags = {f.where: f for f in findings if f.quantity == quantity}
        if sags:
            read = itertools.chain.from_iterable([f.readings for f in sags.values()])
            strings.append((_unlikeness(level, _states(case, read, step)), sags))
    if not strings:
        return {}, False
    off, nearest = min(strings, key=lambda string: string[0])
    return nearest, off > 0


def _states(case: Case, ids: Iterable[str], step: StepId) -> tuple[State, ...]:
    """The states in which a step's readings among these were taken."""
    among = frozenset(ids)
    rows = case.by_step.get(step, ())
    here = itertools.compress(rows, map(among.__contains__, map(attrgetter("id"), rows)))
    read = set(map(attrgetter("state"), here))
    return tuple(case.survey.state_of(id) for id in sorted(read) if id)


def _unlikeness(one: tuple[State, ...], other: tuple[State, ...]) -> int:
    """How far two states are known to differ; the weight tells more than the supports."""
    weight = _differ({_off(s) for s in one}, {_off(s) for s in other})
    supports = _differ({s.supports for s in one}, {s.supports for s in other})
    return 2 * weight + supports


def _off(state: State) -> str:
    """Whether the engine's weight is off; empty where it is not known."""
    return {"in": "on", "": ""}.get(state.engine, "off")


def _differ(a: set[str], b: set[str]) -> bool:
    """Whether two states are known to be unlike: what is not known is taken to be like."""
    known, other = a - {""}, b - {""}
    return bool(known and other and known != other)


def _lean(
    case: Case, place: LevelPlace, sags: dict[WhereId, Finding], beyond: bool = False
) -> Uncertain | None:
    """Right sag less left sag at a place of the level, mm; None beyond the blocks or where no
    station was read. beyond: what it is ahead of the front block too, where the rail runs on.
    """
    x = case.layout.place(place.place).x
    front, rear = case.layout.string
    read: list[tuple[float, tuple[Finding, ...]]] = []
    for station in case.layout.stations:
        left, right = (sags.get(where_id(station.id, side)) for side in SIDES)
        if left and right and front < station.x < rear:
            read.append((station.x, (left, right)))
    if not read:
        return None
    line = sorted([(front, ()), *read, (rear, ())], key=lambda point: point[0])
    if beyond and x < front:
        return _ahead(line, x)
    for (x1, a), (x2, b) in itertools.pairwise(line):
        if x1 <= x <= x2:
            share = (x - x1) / (x2 - x1)
            number = _shared_out(((1.0 - share, a), (share, b)))
            size = BETWEEN_U * abs(number.value) * 4.0 * share * (1.0 - share)
            part = Part(
                "string:between",
                size,
                shared=True,
                source="the rail between two stations",
                whose=GUESS,
            )
            return number.with_parts(part) if size else number
    return None


RUNS_ON, RUNS_ON_U = 1.2, 0.35
"""How much steeper a rail leaves its front block than the straight line from there to a station near
it, and the doubt of that, one standard deviation (own guess). Source: beams on two supports leave them
1.05 to 1.1 times as steep as a fifth of their length further in; a rail rests on its axles, which lie
outside the blocks, and is the steeper for it; a kink before that station makes it less.
"""
NEAR = 0.15
"""Part of the string's length from its front block to the station by which the rail's way out is
told.
"""


def _ahead(line: Sequence[tuple[float, tuple[Finding, ...]]], x: float) -> Uncertain | None:
    """Right sag less left sag ahead of the front block, mm: less than nothing where the right rail
    hangs the lower behind it, for the rail runs straight on.
    """
    front, rear = line[0][0], line[-1][0]
    at = next((point for point in line[1:-1] if point[0] - front >= NEAR * (rear - front)), None)
    if at is None:
        return None
    share = (x - front) / (at[0] - front)
    number = _shared_out(((share * RUNS_ON, at[1]),))
    why = "how a rail runs on ahead of the string"
    size = number.value * RUNS_ON_U / RUNS_ON
    return number.with_parts(Part("string:ahead", size, shared=True, source=why, whose=GUESS))


def _shared_out(ends: Iterable[tuple[float, tuple[Finding, ...]]]) -> Uncertain:
    """Right sag less left by shares of two places; at a block there is none."""
    terms = [
        term
        for share, sags in ends
        for term in zip((share, -share), [sag.number for sag in reversed(sags)], strict=False)
    ]
    return combine(sum([share * number.value for share, number in terms]), terms)
