"""The edge that the string runs along: what its maker's shape, which is no damage, does to a sag.

An edge that was straight is what a sag is read against. One that is deeper in places is taken off
by its measured depths. Of one that nobody knows, no sag can be told: its shape is a part of the
doubt that both rails, both states and all dates share, so that left against right, what springs
back and what changes are known as well as ever.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from wizard.library import marks
from wizard.library.places import NO_PLACE, PlaceId, PromptId, prompt_id
from wizard.math.uncertain import OWN, Part, Uncertain, combine

if TYPE_CHECKING:
    from wizard.checks.case import Case

BY_MAKE = "make"
"""What that part of a doubt is named, before the station."""
MAKE_MM = 40.0
"""By how much an edge may be off straight from its maker, mm, either way (own figure)."""
WHY = "nobody knows how the maker shaped that edge: up to 40 mm either way"
DEPTH, FRONT, REAR = "depth", "front-block", "rear-block"
"""How the prompts are called at which a rail's depth is read."""


def is_straight(edges: str, below: bool) -> bool:
    """Whether the edge along which the string runs is straight, or is taken to be.

    edges: what was answered, as wizard/library/marks.py means it; empty where nobody was asked.
    """
    return edges in ("", marks.BOTH_STRAIGHT) or (edges == marks.TOP_STRAIGHT and not below)


def _runs_below(case: Case) -> bool:
    return case.meant(marks.STRING_SIDE) == marks.BELOW


def straight(case: Case) -> bool:
    """The same of a survey."""
    return is_straight(case.meant(marks.EDGES), case.once(_runs_below))


def _prompt(case: Case, station: PlaceId, name: str) -> PromptId:
    return prompt_id(case.library.page[marks.RAIL_DEPTHS], station, name)


def depths_read(case: Case) -> bool:
    """Whether the depths at both blocks are known, to which those between them are compared."""
    if case.meant(marks.EDGES) != marks.TOP_STRAIGHT:
        return False
    return all(_prompt(case, NO_PLACE, end) in case.counted for end in (FRONT, REAR))


def string_edge(case: Case) -> str:
    """Along which edge the string ran, and whether its shape was taken out: what must be the same
    where two sags are compared.
    """
    return f"{case.meant(marks.STRING_SIDE)} {depths_read(case) and not straight(case)}"


def off_by_make(case: Case, sag: Uncertain, station: PlaceId, x: float) -> Uncertain:
    """A sag along an edge that is not straight by make, less what the maker's own shape adds to it, mm;
    in doubt by that where nobody knows it.
    """
    deeper = _deeper(case, station, x) if case.once(depths_read) else None
    if deeper is not None:
        return sag - deeper
    size = MAKE_MM / 3.0**0.5
    return sag.with_parts(Part(f"{BY_MAKE}:{station}", size, shared=True, source=WHY, whose=OWN))


def _deeper(case: Case, station: PlaceId, x: float) -> Uncertain | None:
    """How much deeper the rail is at x than on the straight line between its depths at the blocks."""
    here = case.taken(_prompt(case, station, DEPTH))
    ends = [case.taken(_prompt(case, NO_PLACE, end)) for end in (FRONT, REAR)]
    if here is None or ends[0] is None or ends[1] is None:
        return None
    first, last = case.layout.string
    share = (x - first) / (last - first)
    terms = ((1.0, here.number), (share - 1.0, ends[0].number), (-share, ends[1].number))
    return combine(sum(factor * number.value for factor, number in terms), terms)


def without_make(number: Uncertain) -> Uncertain:
    """The number without the doubt that an edge's shape by make gives it."""
    parts = tuple(p for p in number.parts if not p.name.startswith(f"{BY_MAKE}:"))
    return number if len(parts) == len(number.parts) else Uncertain(number.value, parts)


def is_unknown(number: Uncertain) -> bool:
    """Whether a number hangs on an edge whose shape nobody knows."""
    return any(name.startswith(f"{BY_MAKE}:") for name in number.sizes)
