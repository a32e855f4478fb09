"""String against level: two tools that share nothing should tell one story.

Source: geometry; sag right - sag left = W (slope - the straight line in slope between the string's
ends).
"""

from __future__ import annotations

import itertools
from dataclasses import replace

from wizard.checks.case import Case
from wizard.checks.finding import Finding, one_of_many
from wizard.checks.notes import OneOf
from wizard.checks.sizes import width
from wizard.checks.twist import elsewhere, slope_at, strings_like
from wizard.library import marks
from wizard.library.places import SIDES, QuantityId, WhereId, where_id
from wizard.library.shapes import LevelPlace
from wizard.math.uncertain import Uncertain, combine

SAG_DIFFERENCE = QuantityId("sag-difference")
RETURNS = (
    SAG_DIFFERENCE,
    marks.STRING_LEVEL,
)
FROM = "findings"
NEAR = 0.25
"""Share of the string within which the level must be read at each of its ends (this project's own
figure).
"""


def check(case: Case, findings: list[Finding]) -> list[Finding]:
    """Right sag minus left at every station, and how far string and level disagree where both were
    read.
    """
    return [*_differences(case, findings), *_against_level(case, findings)]


def _sags(findings: list[Finding]) -> dict[WhereId, Finding]:
    """The sag readings to compare by: without the weight where they are there, else with it."""
    unloaded = {f.where: f for f in findings if f.quantity == marks.SAG_UNLOADED}
    return unloaded or {f.where: f for f in findings if f.quantity == marks.SAG_LOADED}


def _differences(case: Case, findings: list[Finding]) -> list[Finding]:
    sags = _sags(findings)
    found = []
    for station in case.layout.stations:
        left, right = (sags.get(where_id(station.id, side)) for side in SIDES)
        if left and right:
            ids = (*left.readings, *right.readings)
            number = right.number - left.number
            found.append(case.found(SAG_DIFFERENCE, station.id, number, ids))
    return one_of_many(found)


def _against_level(case: Case, findings: list[Finding]) -> list[Finding]:
    """Where the rails' difference under the string is another than the level's off the line between
    the string's ends; nothing where the level does not reach over both, or was read far from one: a
    rail that is kinked between does not lean as a straight line has it.
    """
    slopes = _slopes(case)
    front, rear = case.layout.string
    if len(slopes) < 3 or not all(_is_read(slopes, end, rear - front) for end in (front, rear)):
        return []
    ends = _between(slopes, front), _between(slopes, rear)
    level = [i for p in case.layout.levels if (s := slope_at(case, p)) for i in s[1]]
    sags, unlike = strings_like(case, level, findings)
    found = []
    for place in case.layout.levels:
        rails = _rails_at(case, sags, case.layout.place(place.place).x)
        bent = _off_the_line(case, place, ends)
        if rails and bent:
            found.append(_apart(case, place, rails, bent, unlike=unlike))
    return [replace(f, notes=(*f.notes, OneOf(len(found)))) for f in found]


def _off_the_line(
    case: Case, place: LevelPlace, ends: tuple[Uncertain, Uncertain]
) -> tuple[Uncertain, tuple[str, ...]] | None:
    """The slope at a place off the straight line between the string's ends, and its readings; None
    where it was not read.

    ends: the slopes at the string's two ends.
    """
    here = slope_at(case, place)
    if here is None:
        return None
    front, rear = case.layout.string
    share = (case.layout.place(place.place).x - front) / (rear - front)
    slope = _weighed((1.0, here[0]), (share - 1.0, ends[0]), (-share, ends[1]))
    return slope, here[1]


def _apart(
    case: Case,
    place: LevelPlace,
    rails: tuple[Finding, Finding],
    level: tuple[Uncertain, tuple[str, ...]],
    *,
    unlike: bool,
) -> Finding:
    """How far the string's difference of the rails is from what the level says of it.

    level: the slope there off the straight line between the string's ends, and its readings.
    """
    (left, right), (bent, read) = rails, level
    wide, wide_ids = width(case, place.place)
    by_level = combine(bent.value * wide.value, [(wide.value, bent), (bent.value, wide)])
    low = right.number - left.number
    number = (elsewhere(low) if unlike else low) - by_level
    ids = (*left.readings, *right.readings, *read, *wide_ids)
    return case.found(marks.STRING_LEVEL, place.id, number, ids)


def _slopes(case: Case) -> list[tuple[float, Uncertain]]:
    """Where the level was read, mm from the front points, and its slope there; front to rear."""
    read = [
        (case.layout.place(p.place).x, s[0]) for p in case.layout.levels if (s := slope_at(case, p))
    ]
    return sorted(read, key=lambda pair: pair[0])


def _rails_at(case: Case, sags: dict[WhereId, Finding], x: float) -> tuple[Finding, Finding] | None:
    """Left and right sag of the station at x; None where there is none, or one was not read."""
    station = next((s for s in case.layout.stations if abs(s.x - x) < 1.0), None)
    if station is None:
        return None
    left, right = (sags.get(where_id(station.id, side)) for side in SIDES)
    return (left, right) if left and right else None


def _is_read(slopes: list[tuple[float, Uncertain]], end: float, span: float) -> bool:
    """Whether the level was read on both sides of the string's end, and near it."""
    reached = slopes[0][0] <= end <= slopes[-1][0]
    return reached and min(abs(x - end) for x, _ in slopes) <= NEAR * span


def _between(slopes: list[tuple[float, Uncertain]], x: float) -> Uncertain:
    """Slope at x on the straight line between its two neighbors."""
    for (x1, a), (x2, b) in itertools.pairwise(slopes):
        if x1 <= x <= x2:
            share = (x - x1) / (x2 - x1)
            return _weighed((1.0 - share, a), (share, b))
    return slopes[-1][1]


def _weighed(*terms: tuple[float, Uncertain]) -> Uncertain:
    """The sum of several numbers, each times an exact factor."""
    return combine(sum([factor * number.value for factor, number in terms]), terms)
