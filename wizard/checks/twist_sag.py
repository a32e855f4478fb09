"""What a sag in one rail does to the level is no twist: it is taken out where the string foretells
it.

Source: geometry; at a place of width W the lean that two unlike rails make is (sag right - sag
left) / W, against the straight line between the string's blocks, where it is zero. Nothing is taken
out beyond the blocks.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable
from dataclasses import replace

from wizard.checks.case import Case
from wizard.checks.finding import Finding
from wizard.checks.notes import Against, SagTakenOut
from wizard.checks.sizes import width
from wizard.checks.twist_supports import LEVEL
from wizard.library.places import step_of
from wizard.library.shapes import LevelPlace
from wizard.math.student import coverage_factor
from wizard.math.uncertain import Part, Uncertain
from wizard.survey.rows import State

ZERO = Uncertain(0.0)
ELSEWHERE_U = 0.5
"""mm: by how much two rails of one frame may spring unlike when the weight or the supports are
others (own guess).
"""
BETWEEN_U = 0.2
"""Share of a figure read off between two stations by which the rail may bend off the straight line
(own guess).
"""


def check(case: Case, findings: list[Finding]) -> list[Finding]:
    """The findings, every twist within the string's blocks without what the string foretells of it.

    Only where the string establishes that one rail is lower there, and only where that explains a
    part of the lean. A finding that was changed says so: note SagTakenOut.
    """
    places = {p.id: p for p in case.layout.levels}
    return [
        _without_sag(case, f, findings, places) if f.quantity == "twist" else f for f in findings
    ]


def _without_sag(
    case: Case, found: Finding, findings: list[Finding], places: dict[str, LevelPlace]
) -> Finding:
    against = found.note(Against)
    here, there = places[found.where], places.get(against.place) if against else None
    sags, unlike = _sags(case, found, findings)
    if there is None:
        return found
    low = _lean_between(case, here, there, sags)
    if low is None:
        return found
    if unlike:
        low = _elsewhere(low)
    number = found.number - low
    if abs(low.value) <= coverage_factor(low.dof) * low.u or abs(number.value) >= abs(found.value):
        return found
    side = "right" if low.value > 0 else "left"
    read = (i for s in sags.values() for i in s.readings)
    ids = width(case, here.place)[1]
    notes = (*found.notes, SagTakenOut(side, abs(low.value)))
    return replace(
        found,
        number=number,
        readings=tuple(dict.fromkeys((*found.readings, *read, *ids))),
        notes=notes,
    )


def _lean_between(
    case: Case, here: LevelPlace, there: LevelPlace, sags: dict[str, Finding]
) -> Uncertain | None:
    """What the sags add to the lean here against the place that the level is held to, mm."""
    low, base = _lean(case, here, sags), _lean(case, there, sags)
    other = width(case, there.place)[0].value
    if low is None or base is None or not other:
        return low
    return low - base.scaled(width(case, here.place)[0].value / other)


def _elsewhere(low: Uncertain) -> Uncertain:
    """With the doubt of rails that may spring unlike in another state."""
    why = "the string was read with another weight or on other supports (this project's own guess)"
    part = Part("string:elsewhere", ELSEWHERE_U, shared=True, source=why)
    return Uncertain(low.value, (*low.parts, part))


def _sags(case: Case, found: Finding, findings: list[Finding]) -> tuple[dict[str, Finding], bool]:
    """The string's findings by place, of the state most like the level's; and whether it was not
    the same one.
    """
    level = _states(case, found.readings, LEVEL)
    strings = []
    for quantity in ("sag-unloaded", "sag-loaded"):
        sags = {f.where: f for f in findings if f.quantity == quantity}
        read = [i for f in sags.values() for i in f.readings]
        if sags:
            strings.append((_unlikeness(level, _states(case, read, quantity)), sags))
    if not strings:
        return {}, False
    off, nearest = min(strings, key=lambda string: string[0])
    return nearest, off > 0


def _states(case: Case, ids: Iterable[str], step: str) -> tuple[State, ...]:
    """The states in which a step's readings among these were taken."""
    rows = {r.id: r for taken in case.by_prompt.values() for r in taken}
    read = [rows[i] for i in ids if i in rows and step_of(rows[i].prompt) == step]
    return tuple(case.survey.state_of(i) for i in dict.fromkeys(r.state for r in read if r.state))


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


def _lean(case: Case, place: LevelPlace, sags: dict[str, Finding]) -> Uncertain | None:
    """Right sag less left sag at a place of the level, mm; None beyond the blocks or where no
    station was read.
    """
    x = case.layout.place(place.place).x
    front, rear = case.layout.string
    read = []
    for station in case.layout.stations:
        left, right = (sags.get(f"{station.id}/{side}") for side in ("left", "right"))
        if left and right and front < station.x < rear:
            read.append((station.x, right.number - left.number))
    if not read:
        return None
    line = sorted([(front, ZERO), *read, (rear, ZERO)], key=lambda point: point[0])
    for (x1, a), (x2, b) in itertools.pairwise(line):
        if x1 <= x <= x2:
            share = (x - x1) / (x2 - x1)
            number = a.scaled(1.0 - share) + b.scaled(share)
            size = BETWEEN_U * abs(number.value) * 4.0 * share * (1.0 - share)
            part = Part(
                "string:between",
                size,
                shared=True,
                source="the rail between two stations (own guess)",
            )
            return Uncertain(number.value, (*number.parts, part)) if size else number
    return None
