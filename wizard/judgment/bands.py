"""A finding against its limit: the bands that are not excluded, and the chance of being beyond each
bound.

Source: ISO 14253-1:2017 and ILAC-G8:09/2019 (guard bands); JCGM 106:2012 (chance of conformity).
"""

import math
from typing import NamedTuple

from wizard.checks.finding import Finding
from wizard.checks.notes import OneOf
from wizard.judgment.body import is_propped
from wizard.judgment.supports import is_stands_twist
from wizard.library import marks
from wizard.library.shapes import Bound, Library, Limit
from wizard.math.conformance import SURE, beyond_both, is_sure, leaves_within
from wizard.math.student import coverage_factor, t_cdf, t_quantile
from wizard.readings.figures import read_length
from wizard.readings.refused import Refused
from wizard.survey.record import Survey
from wizard.survey.rows import OwnLimit

ORDER = ("leave", "watch", "axle-first", "put-right", "specialist")
"""Bands from the mildest to the gravest. A frame that wants putting right comes before its axles:
only beside a true frame does an uneven wheelbase mean the axle.
"""


SELDOM = 3.0
"""Standard uncertainties that a true zero must be off to be told: one in four hundred is (this
project's own figure)."""


class Edge(NamedTuple):
    """The end of one band on both sides of zero, and where the value lies against it."""

    band: str
    high: float | None
    """Upper end, in the finding's unit; None where that side is not judged."""
    low: float | None
    """Lower end, below zero; None where that side is not judged."""
    source: str
    """Where the bound on the value's own side of zero comes from."""
    mark: str
    chance: float
    """Chance of being beyond it."""
    is_over: bool
    is_within: bool


class Judged(NamedTuple):
    """A finding with its limits."""

    finding: Finding
    edges: tuple[Edge, ...]
    """Empty where the quantity has no limit."""
    bands: tuple[str, ...]
    """Bands not excluded at 5 %, mildest first; empty where the quantity has no limit."""
    name: str = ""
    """The limit's name in plain words."""
    sound: str = ""
    """What it judges, as it is said where that is in order."""
    local: str = ""
    """Where it would show, of what is no part of the frame that the rest hangs on."""
    quiet: bool = False
    """Whether another finding tells the same thing whole: then nobody is told what to do about this
    half of it.
    """

    @property
    def is_beside(self) -> bool:
        """Whether it is of what was called for beside the frame, such as the axle set: no answer
        on the
        frame hangs on it.
        """
        return bool(self.finding.of.also)

    @property
    def established(self) -> str:
        """The mildest band that is not excluded: what the verdict may act on.

        Empty without a limit.
        """
        return self.bands[0] if self.bands else ""

    @property
    def worst(self) -> str:
        """The gravest band that is not excluded. Empty without a limit."""
        return self.bands[-1] if self.bands else ""

    @property
    def k(self) -> float:
        """Coverage factor for 95 % as it is told: what is told because it may be out is told by a
        choice of large values, and its interval holds for those.
        """
        return max(self._k_of_places, self._k_once_told)

    @property
    def told_half(self) -> float:
        """Half the 95 % interval as it is told, in the finding's unit."""
        return self.k * self.finding.number.u

    @property
    def is_told(self) -> bool:
        """Whether the value stands out of its own doubt: what does not is no difference."""
        return abs(self.finding.value) > self.told_half

    @property
    def would_show(self) -> float:
        """The difference that would have stood out of its doubt 19 times in 20, in the finding's
        unit: half the interval, and the doubt once more by the one-sided factor of 95 %.
        """
        number = self.finding.number
        return self.told_half + t_quantile(0.95, number.dof) * number.u

    @property
    def is_blind(self) -> bool:
        """Whether even what lies in its gravest band might not stand out of its doubt, and no band was
        excluded so far.
        """
        ends = [e.high for e in self.edges if e.high is not None]
        return len(self.bands) > len(ends) > 1 and self.would_show > max(ends)

    @property
    def sure_to_tell(self) -> float:
        """The size that would be established beyond the end of the first band 19 times in 20, in the
        finding's unit: one-sided, once for the rule and once for the reading; what would show
        where there is no limit.
        """
        number = self.finding.number
        high = self.edges[0].high if self.edges else None
        if high is None:
            return self.would_show
        return high + 2.0 * t_quantile(0.95, number.dof) * number.u

    @property
    def _k_of_places(self) -> float:
        """Coverage factor for 95 %; of the worst of several places, for the worst of so many."""
        note = self.finding.note(OneOf)
        places = note.places if note and note.worst else 1
        return coverage_factor(self.finding.number.dof, 1.0 - 0.05 / places)

    @property
    def _k_once_told(self) -> float:
        """Coverage factor for 95 % of the values that are told, were the truth zero: of those that
        would be settled as `leave it` nothing is told. 0 where that leaves nothing out.

        Source: the conditional chance, P(|T| > k) = 5 % of P(|T| > c), c where `within` ends. Not for
        a sag, whose unevenness is reckoned at its worst and whose intervals hold 99 % without.
        """
        if not self.edges or self.bands == ("leave",) or self.finding.quantity in marks.SAGS:
            return 0.0
        first, number = self.edges[0], self.finding.number
        upto = first.high if number.value >= 0 or first.low is None else -first.low
        if upto is None or number.u <= 0:
            return 0.0
        begins = max(upto / number.u - t_quantile(SURE, number.dof), 0.0)
        if begins >= SELDOM:
            return 0.0  # Where few sound frames are told of it at all, nothing was chosen.
        chosen = coverage_factor(number.dof, 1.0 - 0.1 * (1.0 - t_cdf(begins, number.dof)))
        return min(chosen, self._k_of_places + SELDOM - begins)

    @property
    def stands_out(self) -> bool:
        """Whether a value that should be zero is not: beyond the 99.5 % interval, so that it seldom
        cries wolf; of several places, beyond what one survey in two hundred shows at one of them: a
        hand that scatters more than anybody expects then makes it one in a hundred.
        """
        number, note = self.finding.number, self.finding.note(OneOf)
        level = 1.0 - 0.005 / note.places if note else 0.995
        return abs(number.value) > coverage_factor(number.dof, level) * number.u

    @property
    def half_width(self) -> float:
        """Half the 95 % interval by which it is judged, in the finding's unit: wherever the value
        lies, told or not.
        """
        return self._k_of_places * self.finding.number.u


def weight(band: str) -> int:
    """Place of a band from the mildest to the gravest."""
    return ORDER.index(band) if band in ORDER else 0


def is_open(judged: Judged) -> bool:
    """Whether it cannot be told yet what to do: `leave or watch` asks for nothing, so it is not
    open.
    """
    return len(judged.bands) > 1 and judged.bands != ("leave", "watch")


def own_bounds(survey: Survey, limit: Limit) -> Limit:
    """The limit with the owner's or mentor's figures in place of the table's; a bare number is in
    the survey's unit.

    A figure that cannot be read is left out. The table's own bounds give way, so that the bands
    still rise.
    """
    rows = [r for r in survey.standing(OwnLimit) if r.limit == limit.id]
    if not rows:
        return limit
    bounds = {b.band: b for b in limit.above}
    for row in rows:
        if isinstance(upto := own_figure(row, survey, limit), float) and row.band in bounds:
            bounds[row.band] = _owners(row, upto)
    above = _rising(tuple(bounds[b.band] for b in limit.above))
    both = limit.below == limit.above
    return limit._replace(above=above, below=above if both else limit.below)


def _owners(row: OwnLimit, upto: float) -> Bound:
    source = row.source.rstrip(". ") or "the owner's figure"
    return Bound(row.band, upto, source, "owner")


LARGEST = {"%": 100.0, "mm": 1000.0, "deg": 90.0}
"""Beyond it no figure is a limit."""
LIKE = {"%": ("share", "12 %"), "mm": ("length", "3 mm"), "deg": ("angle", "0.5 deg")}
"""What a limit of each unit is, and what one looks like."""


def own_figure(row: OwnLimit, survey: Survey, limit: Limit) -> float | str:
    """A limit as an owner types it, in its own unit; where it can be none, why, in one sentence."""
    from wizard.library.figures import figure, unit_of  # few owners have limits of their own

    typed, (what, like) = row.upto.strip(), LIKE[limit.unit]
    if unit_of(typed) != limit.unit:
        return f"This limit is a {what}, like {like}.".replace("a angle", "an angle")
    try:
        upto = float(read_length(typed, survey.unit)) if limit.unit == "mm" else figure(typed)
    except Refused as refused:
        return str(refused)
    except ValueError:
        return f"That is no {what}; write it like {like}."
    if not math.isfinite(upto) or not 0 < upto <= LARGEST[limit.unit]:
        return f"No limit is {typed}: look at the figure and its unit."
    return upto


def _rising(bounds: tuple[Bound, ...]) -> tuple[Bound, ...]:
    """No band ends before the one below it: the owner's figures stand, the table's move out of
    their way.
    """
    found: list[Bound] = []
    for n, bound in enumerate(bounds):
        low = found[-1].upto_mm if found else 0.0
        highs = (
            [b.upto_mm for b in bounds[n + 1 :] if b.mark == "owner"]
            if bound.mark != "owner"
            else []
        )
        found.append(bound._replace(upto_mm=max(low, min([bound.upto_mm, *highs]))))
    return tuple(found)


def judge(finding: Finding, survey: Survey, library: Library) -> Judged:
    """The finding against its limit, the owner's figures first."""
    limit = library.limits.get(finding.limit)
    if limit is None:
        return Judged(finding, (), ())
    limit = own_bounds(survey, limit)
    edges = _edges(finding, limit)
    names = [*[b.band for b in limit.above], limit.beyond]
    first = sum([e.is_over for e in edges])
    last = next((n for n, e in enumerate(edges) if e.is_within), len(edges))
    if is_stands_twist(finding, survey):
        first = 0  # Nothing is established by it, however large it is.
    if finding.disagrees:
        first, last = 0, len(edges)  # What leans on tapes that contradict one another is not known.
    bands = tuple(names[first : max(first, last) + 1])
    if bands == ("leave",) and is_propped(finding, survey):
        bands = ("leave", "watch")  # What the body holds up cannot be called straight for certain.
    return Judged(finding, edges, bands, limit.name, limit.sound, limit.local)


def _edges(finding: Finding, limit: Limit) -> tuple[Edge, ...]:
    below = {b.band: b for b in limit.below}
    one_of = finding.note(OneOf)
    among = one_of.judged if one_of else 1
    number = finding.number
    read = number.value, number.u, number.dof
    return tuple([_edge(read, b, below.get(b.band), among) for b in limit.above])


AT = 1e-9
"""A reading so near to a limit is at the limit, whatever the last bit of a conversion says."""


def _edge(read: tuple[float, float, float], above: Bound, below: Bound | None, among: int) -> Edge:
    """read: value, doubt, and the degrees of freedom of that. among: of how many of its kind the
    finding is one.
    """
    value, u, dof = read
    high, low = above.upto_mm, -below.upto_mm if below else None
    bound = below if below and value < 0 else above
    over, under = beyond_both(value, u, dof, high, low)
    at = abs(value - high) < AT or (low is not None and abs(value - low) < AT)
    chance = max(over, under)
    sure, within = not at and is_sure(chance, among), not at and leaves_within(over + under)
    return Edge(above.band, high, low, bound.source, bound.mark, chance, sure, within)
