"""Where the signs gather: one corner of the frame, and one box."""

from __future__ import annotations

from collections.abc import Iterable

from wizard.judgment.facts import Zone
from wizard.judgment.signs import Evidence

HURTS = ("collision", "repair")
"""Causes that have a place; age and the maker work everywhere."""


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


def gathered(evidence: Iterable[Evidence]) -> Zone | None:
    """The zone with the most points; None where two have as many, or there is none."""
    totals = corner_points(evidence)
    most = max(totals.values(), default=0)
    best = [zone for zone, points in totals.items() if points == most]
    return best[0] if len(best) == 1 else None


def box_of(evidence: Iterable[Evidence]) -> str:
    """The box that is out: `whole`, one box, `horns`; empty where none is, or two are out against
    each other.
    """
    boxes = {e.box: e.sign.finding for e in evidence if e.box}
    if "whole-diamond" in boxes.values():
        return "whole"
    ends = [b for b in ("front-box", "rear-box") if b in boxes]
    if ends:
        return ends[0] if len(ends) == 1 else ""
    return next((b for b in ("horns", "whole") if b in boxes), "")
