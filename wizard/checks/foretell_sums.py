"""Along one rail the pieces add up to the whole: a tape that does not fit its sum is asked about at
once.

Source: plane geometry. A bend that anybody would see, 12 mm in 2 m, shortens the sum by a seventh
of a millimeter.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

from wizard.checks.case import Case
from wizard.library.places import point_of
from wizard.readings.written import write_fraction_about
from wizard.survey.prompts import Prompt
from wizard.survey.record import Unit

SLACK_MM = 5.0
"""Three tapes by hand, each to a dot, miss one another by less (this project's own figure)."""
ROUND = 0.5
"""How far the layout's own difference of pieces and whole may be off, as a share of it."""

Ends = frozenset[str]


def against_sum(case: Case, prompt: Prompt, value: float) -> str:
    """A doubt where the pieces of a rail do not add up to the whole; empty where they do or a piece
    is missing.

    value: what was typed, mm.
    """
    side = point_of(prompt.start).side
    if side is None or point_of(prompt.end).side is not side:
        return ""
    known = _along(case, side) | {frozenset((prompt.start, prompt.end)): value}
    mine = frozenset((prompt.start, prompt.end))
    for a, middle, c in _sums(known):
        whole, front, rear = (frozenset(ends) for ends in ((a, c), (a, middle), (middle, c)))
        if mine not in (whole, front, rear) or not _between(case, a, middle, c):
            continue
        made = _made(case, a, middle) + _made(case, middle, c) - _made(case, a, c)
        off = known[front] + known[rear] - known[whole] - made
        if abs(off) > SLACK_MM + ROUND * abs(made):
            return _words(off, case.survey.unit)
    return ""


def _sums(known: Mapping[Ends, float]) -> Iterator[tuple[str, str, str]]:
    """One end, middle and other end wherever a whole and both its pieces are taped."""
    for middle in {p for ends in known for p in ends}:
        for whole in known:
            if middle in whole or len(whole) != 2:
                continue
            a, c = whole
            if {frozenset((a, middle)), frozenset((middle, c))} <= known.keys():
                yield a, middle, c


def _words(off: float, unit: Unit) -> str:
    size, way = write_fraction_about(abs(off), unit), "more" if off > 0 else "less"
    wrong = "one of the three is wrong, so go back if it is not this one."
    return f"The pieces of this rail add up to {size} {way} than its whole length; {wrong}"


def _along(case: Case, side: str) -> dict[Ends, float]:
    """Every taped distance between two points of one side, mm."""
    found: dict[Ends, float] = {}
    for id, rows in case.by_prompt.items():
        prompt = case.prompts[id]
        if (
            prompt.tool == "tape"
            and point_of(prompt.start).side == side
            and point_of(prompt.end).side == side
        ):
            found[frozenset((prompt.start, prompt.end))] = sum(case.value(r) for r in rows) / len(
                rows
            )
    return found


def _place(case: Case, point: str) -> tuple[float, float, float] | None:
    at, place = (
        case.place_of(point),
        next((p for p in case.layout.places if point in p.points), None),
    )
    return (*at, place.z) if at and place else None


def _between(case: Case, a: str, middle: str, c: str) -> bool:
    xs = [_place(case, p) for p in (a, middle, c)]
    if any(x is None for x in xs):
        return False
    first, mid, last = (x[0] for x in xs if x)
    return min(first, last) < mid < max(first, last)


def _made(case: Case, a: str, b: str) -> float:
    one, other = _place(case, a), _place(case, b)
    assert one is not None
    assert other is not None
    return math.dist(one, other)
