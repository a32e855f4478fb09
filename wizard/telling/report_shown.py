"""Which quantities of a row of surveys are worth a figure, and over what: the date, or the distance
driven.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from wizard.judgment.bands import Edge, judge
from wizard.judgment.series import Series
from wizard.judgment.trend import Trend
from wizard.library.shapes import Library

RANKS = ("moving", "jumped", "changed", "near", "still")
"""Why one is shown, what is most worth it first."""


@dataclass(frozen=True, slots=True)
class Shown:
    """A quantity to be drawn."""

    trend: Trend
    by: str
    """days or km"""
    why: str
    """moving (a steady slope), jumped (moved, but not steadily), changed (between two surveys, no
    slope stands out), near (its doubt holds the end of a band), still (nothing of these)
    """
    edges: tuple[Edge, ...]
    """The limit of the last value; empty where it has none."""


def shown(found: Series, library: Library) -> list[Shown]:
    """What moved, changed or lies at a limit, the surest first; where nothing does, one that stands
    still.

    Taped distances are left out: what they say of the frame is among the shapes.
    """
    changed = {c.new.id for comparison in found.comparisons for c in comparison.of("changed")}
    days, km = _by_id(found.by_days), _by_id(found.by_km)
    every = [
        _one(days.get(id), km.get(id), id in changed, found, library)
        for id in dict.fromkeys([*days, *km])
    ]
    worth = sorted(
        (s for s in every if s.why != "still"),
        key=lambda s: (RANKS.index(s.why), -_sureness(s.trend)),
    )
    return worth or [s for s in every if s.edges][:1]


def _by_id(trends: Sequence[Trend]) -> dict[str, Trend]:
    return {t.findings[-1].id: t for t in trends if t.findings[-1].quantity != "length"}


def _one(
    days: Trend | None, km: Trend | None, changed: bool, found: Series, library: Library
) -> Shown:
    """Over the distance driven only where that makes a steady line and the date does not."""
    by_km = km is not None and (days is None or (km.says == "moving" and days.says != "moving"))
    trend = km if by_km else days
    assert trend is not None
    edges = judge(trend.findings[-1], found.surveys[-1], library).edges
    near = any(not e.is_over and not e.is_within for e in edges)
    why = (
        trend.says
        if trend.says != "not moving"
        else "changed"
        if changed
        else "near"
        if near
        else "still"
    )
    return Shown(trend, "km" if by_km else "days", why, edges)


def _sureness(trend: Trend) -> float:
    return abs(trend.slope.number.value) / (trend.slope.number.u or 1e-9)
