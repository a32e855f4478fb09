"""Whether a frame is known well enough to be sound that there is nothing to lift and nothing to explain.

The string with the engine's weight on says what it would say without: a rail that loses a weight comes
up, by as much as its section and the weight make it (`wizard.checks.springing`), and is not lower than
it was. So where every station asks for nothing with the weight on and would ask for nothing without,
and the smooth curve of each rail stays within the first limit without it and stands no higher with it
than a crown may, the sag without the weight is known. A kink deep enough to be told puts a station
further down than that (tests/bench/string_alone.py).
"""

from __future__ import annotations

from datetime import datetime
from typing import NamedTuple

from wizard.checks.bend import curve_through, least_crown
from wizard.checks.notes import Bend
from wizard.checks.springing import without_weight
from wizard.judgment.bands import Judged, judge
from wizard.judgment.body import is_propped
from wizard.judgment.cause import HURTS
from wizard.judgment.sight import Sight
from wizard.library import marks
from wizard.library.places import SIDES, PlaceId, where_of
from wizard.math.shape import LEAST_STATIONS
from wizard.math.uncertain import Uncertain

KNOWN = 10.0
"""Degrees of freedom with which a doubt is known: to about a fifth (JCGM 100:2008 G.4.2)."""
LEAVE, WATCH = "leave", "watch"
SHAPES = (marks.KINK_OR_BOW, marks.CROWN, marks.GAP_SLIP)
"""What is told of how a rail bends, and what is told only where a rail or a gap is not in order."""
KINK, NO_SIGN = "kink", "none"


def within_without(sight: Sight, places: int) -> float:
    """The limit within which the curve of both rails would lie without the engine's weight, mm, by what
    was read with it; 0 where that is not known.

    places: how many gaps are read in one state.
    """
    stations = [_Station(sight, j) for j in _loaded(sight)]
    if len(stations) != places or _has_shape(sight):
        return 0.0
    if not all(station.asks_nothing for station in stations):
        return 0.0
    rails = ([s for s in stations if s.side == side] for side in SIDES)
    limits = [_upto(sight, rail) for rail in rails]
    return max(limits) if all(limits) else 0.0


def _loaded(sight: Sight) -> list[Judged]:
    return [j for j in sight.judged if j.finding.quantity == marks.SAG_LOADED]


def _has_shape(sight: Sight) -> bool:
    """Whether a rail is told to be kinked or crowned, or a gap to be a slip."""
    shaped = (j.finding for j in sight.judged if j.finding.quantity in SHAPES)
    bends = [found.note(Bend) for found in shaped]
    return any(bend is None or bend.kind == KINK for bend in bends)


class _Station(NamedTuple):
    """A gap that was read with the weight on."""

    sight: Sight
    loaded: Judged

    @property
    def place(self) -> PlaceId:
        return where_of(self.loaded.finding.where).place

    @property
    def side(self) -> str | None:
        return where_of(self.loaded.finding.where).side

    @property
    def less(self) -> Uncertain:
        """The sag that it would have without the weight, mm."""
        return without_weight(self.sight.case, self.loaded.finding)

    def without(self, number: Uncertain) -> Judged:
        """That number judged as its sag without the weight."""
        found = self.loaded.finding
        as_if = self.sight.case.found(marks.SAG_UNLOADED, found.where, number, found.readings)
        return judge(as_if, self.sight.survey, self.sight.library)

    @property
    def asks_nothing(self) -> bool:
        """Whether nothing is to be done for it, with the weight on or without, by what is known with
        ten degrees of freedom; what the body may hold up is not known.
        """
        found = self.loaded.finding
        if found.number.dof < KNOWN or is_propped(found, self.sight.survey):
            return False
        return _is_fine(self.loaded) and _is_fine(self.without(self.less))


def _is_fine(judged: Judged) -> bool:
    return judged.bands in ((LEAVE,), (LEAVE, WATCH))


def _upto(sight: Sight, rail: list[_Station]) -> float:
    """The limit within which the curve of a rail lies without the weight, mm; 0 where it may be over,
    or stands higher with the weight on than a crown may.
    """
    if len(rail) < LEAST_STATIONS:
        return 0.0
    loaded = curve_through(sight.case, {s.place: s.loaded.finding.number for s in rail})
    if min(point.value for point in loaded) < -least_crown(sight.case):
        return 0.0
    curve = curve_through(sight.case, {s.place: s.less for s in rail})
    judged = [s.without(point) for s, point in zip(rail, curve, strict=True)]
    if any(j.bands != (LEAVE,) for j in judged):
        return 0.0
    return judged[0].edges[0].high or 0.0


def has_nothing_to_explain(sight: Sight, now: datetime) -> bool:
    """Whether everything is known that a verdict needs, nothing is out, and no look, no reading and no
    past tells of a knock or a repair.
    """
    verdict = sight.verdict(now)
    if verdict.action != LEAVE or verdict.causes.hit:
        return False
    return all(verdict.causes[cause].strength == NO_SIGN for cause in HURTS)
