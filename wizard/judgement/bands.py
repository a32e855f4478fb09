"""A finding against its limit: the bands that are not excluded, and the chance of being beyond each bound.

Source: ISO 14253-1:2017 and ILAC-G8:09/2019 (guard bands); JCGM 106:2012 (chance of conformity).
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from wizard.checks.finding import Finding
from wizard.library.figures import figure
from wizard.library.shapes import Bound, Library, Limit
from wizard.maths.conformance import chance_over, over, within
from wizard.maths.student import coverage_factor
from wizard.readings.refused import Refused
from wizard.survey.record import Survey
from wizard.survey.rows import OwnLimit

ORDER = ("leave", "watch", "put-right", "axle-first", "specialist")
"""Bands from the mildest to the gravest."""


@dataclass(frozen=True, slots=True)
class Edge:
    """The end of one band on both sides of zero, and where the value lies against it."""

    band: str
    high: float | None
    """Upper end, in the finding's unit; None where that side is not judged."""
    low: float | None
    """Lower end, below zero; None where that side is not judged."""
    source: str
    mark: str
    chance: float
    """Chance of being beyond it."""
    is_over: bool
    is_within: bool


@dataclass(frozen=True, slots=True)
class Judged:
    """A finding with its limits."""

    finding: Finding
    edges: tuple[Edge, ...]
    """Empty where the quantity has no limit."""
    bands: tuple[str, ...]
    """Bands not excluded at 5 %, mildest first; empty where the quantity has no limit."""
    name: str = ""
    """The limit's name in plain words."""

    @property
    def established(self) -> str:
        """The mildest band that is not excluded: what the verdict may act on. Empty without a limit."""
        return self.bands[0] if self.bands else ""

    @property
    def worst(self) -> str:
        """The gravest band that is not excluded. Empty without a limit."""
        return self.bands[-1] if self.bands else ""

    @property
    def k(self) -> float:
        """Coverage factor for 95 %."""
        return coverage_factor(self.finding.number.dof)

    @property
    def half_width(self) -> float:
        """Half the 95 % interval, in the finding's unit."""
        return self.k * self.finding.number.u


def own_bounds(survey: Survey, limit: Limit) -> Limit:
    """The limit with the owner's or mentor's figures in place of the table's."""
    rows = [r for r in survey.standing(OwnLimit) if r.limit == limit.id]
    bounds = {b.band: b for b in limit.above}
    for row in rows:
        try:
            bounds[row.band] = Bound(row.band, figure(row.upto), row.source or "the owner's figure", "owner")
        except (Refused, ValueError):
            continue
    above = tuple(bounds[b.band] for b in limit.above)
    both = limit.below == limit.above
    return Limit(limit.id, limit.name, above, above if both else limit.below, limit.beyond, limit.note)


def judge(finding: Finding, survey: Survey, library: Library) -> Judged:
    """The finding against its limit, the owner's figures first."""
    limit = library.limits.get(finding.limit)
    if limit is None:
        return Judged(finding, (), ())
    limit = own_bounds(survey, limit)
    below = {b.band: b for b in limit.below}
    edges = tuple(_edge(finding, b, below.get(b.band)) for b in limit.above)
    names = [*(b.band for b in limit.above), limit.beyond]
    first = sum(1 for e in edges if e.is_over)
    last = next((n for n, e in enumerate(edges) if e.is_within), len(edges))
    return Judged(finding, edges, tuple(names[first : max(first, last) + 1]), limit.name)


def _edge(finding: Finding, above: Bound, below: Bound | None) -> Edge:
    number = finding.number
    low = -below.upto_mm if below else None
    args = (finding.value, number.u, number.dof, above.upto_mm, low)
    # A reading at a limit is at the limit, whatever the last bit of a conversion says.
    at = any(b is not None and Fraction(abs(finding.value - b)) < Fraction(1, 10**9) for b in (above.upto_mm, low))
    return Edge(
        band=above.band,
        high=above.upto_mm,
        low=low,
        source=above.source,
        mark=above.mark,
        chance=chance_over(*args),
        is_over=over(*args) and not at,
        is_within=within(*args) and not at,
    )
