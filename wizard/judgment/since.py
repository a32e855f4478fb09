"""What moved since the survey that this one follows: where, how far, since when; and how much would
have been seen of what did not.

Figures that tell one movement are one: the stations of a rail, the boxes and tapes of the plan.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import NamedTuple

from wizard.checks.case import case_of
from wizard.checks.finding import Finding
from wizard.checks.twist import lean_by_string
from wizard.judgment.change import (
    EDGE,
    ONE_OF_MANY,
    STATE,
    Apart,
    Change,
    Comparison,
    Once,
    compare,
)
from wizard.judgment.least import Least, least_moved, weakest
from wizard.library import marks
from wizard.library.places import (
    WHOLE_BOX,
    FindingId,
    PlaceId,
    PromptId,
    QuantityId,
    Side,
    WhereId,
    asked_of,
    where_of,
)
from wizard.library.shapes import LevelPlace, Library
from wizard.math.change import changed
from wizard.math.uncertain import Uncertain
from wizard.survey.again import was_read_again
from wizard.survey.guide import guide_of, layout_of
from wizard.survey.record import Survey
from wizard.survey.rows import Reading

RAIL, TWIST = "rail", "twist"
TOGETHER: tuple[tuple[str, tuple[QuantityId, ...]], ...] = (
    (RAIL, marks.SAGS),
    ("along", (marks.RAIL_SHIFT, marks.OWN_SIDES, marks.SWAY, marks.NOSE_OFF, marks.LENGTH)),
    ("horn", (marks.HORN_OUT, marks.HORN_APART, marks.HORN_BACK, marks.HORN_HEIGHT)),
    (TWIST, (marks.TWIST,)),
    ("axle", (marks.WHEELBASE,)),
    ("thin", (marks.THICKNESS,)),
)
"""Quantities by which one part of the frame shows that it moved, the plainest of them first."""
KINDS = {q: (kind, rank) for kind, some in TOGETHER for rank, q in enumerate(some)}


Spot = tuple[QuantityId, Side | None, int]
"""A quantity on a rail at a station, counted from the front."""


class Moved(NamedTuple):
    """One part of the frame that moved."""

    kind: str
    """rail, along, horn, twist, axle, thin."""
    changes: tuple[Change, ...]
    """Every figure that shows it, the plainest first; of two rails the one that moved further."""
    sides: tuple[Side, ...] = ()
    """The rails or horns that moved; empty where it is of no side."""
    again: tuple[PromptId, ...] = ()
    """What is read again so that nobody believes a slip of the hand: where its first figure is."""
    is_read_again: bool = False
    """Whether that was done."""
    along: tuple[Change, ...] = ()
    """What of a rail moved the same way at a station next to one that is shown to have moved, and
    would not be sure by itself: it is part of it.
    """
    explains: tuple[Change, ...] = ()
    """What the level saw of it: twists that changed by what this rail's sag changed there, within
    the doubt of both. They are no other movement.
    """
    outcome: str = ""
    """What came of it, where the frame was worked on: came-back, part-left, too-far, worse, new."""

    @property
    def first(self) -> Change:
        """The figure that tells it."""
        return self.changes[0]

    @property
    def finding(self) -> Finding:
        """That figure now."""
        return self.first.new

    @property
    def number(self) -> Uncertain:
        """How far it moved, in the figure's unit and with its sign."""
        return self.first.number

    @property
    def spreads(self) -> bool:
        """Whether it shows at other stations of the rail too."""
        places = {where_of(c.new.where).place for c in self.changes}
        return self.kind == RAIL and len(places) > 1

    @property
    def is_wanted(self) -> bool:
        """Whether work on the frame was meant to move it so."""
        return self.outcome in ("came-back", "part-left")


class Since(NamedTuple):
    """A survey held against the one that it follows."""

    then: datetime
    comparison: Comparison
    moved: tuple[Moved, ...]
    """The part that moved furthest beyond what could be seen comes first."""
    untold: tuple[Change, ...]
    """Figures of which it cannot be told, but for those that are part of what moved."""
    least: tuple[Least, ...]
    """Of each kind the smallest change that would have been told, wherever it was."""

    @property
    def compared(self) -> bool:
        """Whether any figure of the frame was read alike both times."""
        return any(not c.new.of.also for c in self.comparison.changes)

    @property
    def beside(self) -> tuple[Change, ...]:
        """What changed of what was called for beside the frame."""
        return tuple(c for c in self.comparison.of("changed") if c.new.of.also)

    @property
    def apart(self) -> tuple[Apart, ...]:
        """What of the frame was read both times and still not compared: it stood another way, or
        the string ran along another edge.
        """
        of_frame = (a for a in self.comparison.apart if not a.finding.of.also)
        return tuple(a for a in of_frame if a.why in (STATE, EDGE))

    @property
    def alarming(self) -> tuple[Moved, ...]:
        """What moved and was not meant to."""
        return tuple(m for m in self.moved if not m.is_wanted)


def since_of(earlier: Survey | None, survey: Survey, library: Library) -> Since | None:
    """What moved; None for a survey that follows none, or one that is not at hand."""
    if earlier is None:
        return None
    return since_from(compare(earlier, survey, library), library)


def since_from(comparison: Comparison, library: Library) -> Since:
    """What moved from one survey of a comparison to the other."""
    from wizard.judgment.correction import outcomes, was_corrected  # seldom wanted

    worked: dict[FindingId, str] = {}
    if was_corrected(comparison.now.survey, library):
        worked = {o.change.old.id: o.kind for o in outcomes(comparison)}
    found = [m._replace(outcome=_outcome(m, worked)) for m in moved_of(comparison, library)]
    part = {c.new.id for m in found for c in m.along}
    return Since(
        comparison.then.survey.started,
        comparison,
        tuple(sorted(found, key=lambda m: (m.is_wanted, -_plain(m.first)))),
        tuple(c for c in comparison.of("cannot tell") if c.new.id not in part),
        weakest(least_moved(comparison, case_of(comparison.now.survey, library))),
    )


def to_tell(earlier: Survey, survey: Survey, library: Library) -> list[PromptId]:
    """The readings to take once more of what it cannot be told of whether it changed."""
    prompts = guide_of(survey, library).questions.by_id
    untold = since_from(compare(earlier, survey, library), library).untold
    read = (id for change in untold for id in _read_at(change.new, survey))
    return list(dict.fromkeys(id for id in read if id in prompts))


def _outcome(moved: Moved, worked: Mapping[FindingId, str]) -> str:
    return worked.get(moved.first.old.id, "") if worked else ""


def _plain(change: Change) -> float:
    """How many times what could be seen it moved."""
    return abs(change.number.value) / (change.visible or 1.0)


def moved_of(comparison: Comparison, library: Library) -> list[Moved]:
    """Everything that changed, part by part, with what of it is read again."""
    survey = comparison.now.survey
    prompts = guide_of(survey, library).questions.by_id
    found = []
    for moved in _without_what_a_rail_did(_moved(comparison), comparison, library):
        again = tuple(id for id in _read_at(moved.finding, survey) if id in prompts)
        done = bool(again) and all(was_read_again(survey, prompts[id]) for id in again)
        found.append(
            moved._replace(
                again=again, is_read_again=done, along=_along(moved, comparison, library)
            )
        )
    return found


def _without_what_a_rail_did(
    every: list[Moved], comparison: Comparison, library: Library
) -> list[Moved]:
    """What moved, with every twist and the heights of the horns net of what the rails' sag changed
    there: of a rail that dropped nobody is told that the other one rose, nor that its own horn did.
    Of what nothing is left goes with that rail.
    """
    rail = next((m for m in every if m.kind == RAIL), None)
    if rail is None:
        return every
    net = {c.new.id: _net(c, comparison, library) for c in _leaning(every)}
    told = [_with_net(m, net) for m in every]
    told[every.index(rail)] = rail._replace(
        explains=tuple(c for c in _leaning(every) if net[c.new.id] is None)
    )
    return [m for m in told if m.changes]


def _with_net(moved: Moved, net: Mapping[FindingId, Change | None]) -> Moved:
    """With each change that a rail had a part in as it is without that; nothing of it where nothing is left."""
    kept = filter(None, [net.get(c.new.id, c) for c in moved.changes])
    return moved._replace(changes=tuple(sorted(kept, key=_first)))


def _leaning(every: Sequence[Moved]) -> list[Change]:
    """The changes that the level saw."""
    leans = (marks.TWIST, marks.HORN_HEIGHT)
    return [c for m in every for c in m.changes if c.new.quantity in leans]


def _net(change: Change, comparison: Comparison, library: Library) -> Change | None:
    """A twist's change without what the string saw change there; None where nothing of it is left
    that stands out, the change itself where the string tells nothing of it.
    """
    leans = [
        _lean(side, found, library)
        for side, found in ((comparison.then, change.old), (comparison.now, change.new))
    ]
    if leans[0] is None or leans[1] is None:
        return change
    number = change.number - (leans[1] - leans[0])
    return change._replace(number=number) if changed(number.value, number.u, number.dof) else None


def _lean(of: Once, twist: Finding, library: Library) -> Uncertain | None:
    """What the string of a survey foretells of a lean, mm."""
    case = case_of(of.survey, library)
    places: dict[WhereId, LevelPlace] = {p.id: p for p in case.layout.levels}
    read = lean_by_string(case, twist, tuple(of.findings.values()), places)
    return read[0] if read else None


def _along(moved: Moved, comparison: Comparison, library: Library) -> tuple[Change, ...]:
    """What moved with it at the next station of the same rail, as far as it would be a change
    alone.
    """
    if moved.kind != RAIL:
        return ()
    stations = {s.id: n for n, s in enumerate(layout_of(comparison.now.survey, library).stations)}
    sure = {_spot(c, stations) for c in moved.changes}
    up = moved.number.value > 0
    return tuple(
        c
        for c in comparison.of("cannot tell")
        if c.why == ONE_OF_MANY
        and (c.number.value > 0) is up
        and _is_next(_spot(c, stations), sure)
    )


def _spot(change: Change, stations: Mapping[PlaceId, int]) -> Spot:
    """The quantity, the rail, and the number of the station."""
    where = where_of(change.new.where)
    return change.new.quantity, where.side, stations.get(where.place, -9)


def _is_next(spot: Spot, sure: set[Spot]) -> bool:
    quantity, side, at = spot
    return bool({(quantity, side, at - 1), (quantity, side, at + 1)} & sure)


def _read_at(finding: Finding, survey: Survey) -> tuple[PromptId, ...]:
    """The prompts of a figure's readings that were read where it is; all, where it is of no place."""
    rows = set(finding.readings)
    read = dict.fromkeys(r.prompt for r in survey.standing(Reading) if r.id in rows)
    where = where_of(finding.where)
    here = (id for id in read if where.place == asked_of(id).item or str(where.place) == str(id))
    sided = tuple(id for id in here if where.side is None or asked_of(id).side is where.side)
    return sided or tuple(read)


def _moved(comparison: Comparison) -> list[Moved]:
    """Everything that changed, part by part."""
    parts: dict[tuple[str, Side | None], list[Change]] = {}
    for change in comparison.of("changed"):
        if change.new.quantity not in KINDS:
            continue
        kind, _ = KINDS[change.new.quantity]
        side = where_of(change.new.where).side if kind in ("rail", "thin") else None
        parts.setdefault((kind, side), []).append(change)
    found: dict[tuple[str, bool, object], Moved] = {}
    for (kind, side), changes in parts.items():
        rows = tuple(sorted(changes, key=_first))
        up = rows[0].number.value > 0
        key = (kind, up, rows[0].new.quantity)
        sides = (side,) if side else ()
        found[key] = _joined(found[key], rows, sides) if key in found else Moved(kind, rows, sides)
    return list(found.values())


def _joined(one: Moved, rows: Sequence[Change], sides: tuple[Side, ...]) -> Moved:
    """Both rails that moved the same way."""
    both = sorted((*one.changes, *rows), key=_first)
    return one._replace(changes=tuple(both), sides=(*one.sides, *sides))


def _first(change: Change) -> tuple[int, bool, float]:
    """The plainest quantity, first over the whole frame, then the largest movement."""
    return KINDS[change.new.quantity][1], change.new.where != WHOLE_BOX, -abs(change.number.value)
