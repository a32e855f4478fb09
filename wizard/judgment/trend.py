"""Three surveys or more: a weighted straight line through each quantity, and when a limit would be
met at that rate.

Source: weighted least squares with correlated inputs; the slope is a sum c y with sum c = 0, so
what all surveys share (a tape, the points) drops out and what only some share does not (JCGM
100:2008 5.2.2 and H.3).
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from wizard.checks.finding import Finding
from wizard.judgment.bands import judge
from wizard.judgment.change import Once
from wizard.judgment.states import unlike
from wizard.library.shapes import Library
from wizard.math.change import holm, p_value
from wizard.math.chisquare import chisquare_quantile
from wizard.math.line import Line, fit_line
from wizard.math.student import coverage_factor
from wizard.math.uncertain import Uncertain, combine

LEAST_U = 1e-9
"""Stands in for a doubt of nothing: a line through exact points is still a line."""
FAR = 50.0
"""A limit met so many times the surveyed span ahead is not foretold."""


@dataclass(frozen=True, slots=True)
class Slope:
    """A weighted straight line through correlated numbers."""

    line: Line
    """By the doubts that the numbers do not all share."""
    number: Uncertain
    """The slope with every part of its doubt, in the unit of y per unit of x."""
    straight: bool
    """Whether the points lie about the line as their doubts foretell, all but once in a hundred."""
    jump: int
    """Where they do not: the point before the largest step between neighbors."""

    @property
    def half_width(self) -> float:
        """Half the 95 % interval of the slope."""
        return coverage_factor(self.number.dof) * self.number.u


@dataclass(frozen=True, slots=True)
class Meeting:
    """A limit ahead, at the rate so far."""

    band: str
    """The band that would end there."""
    bound: float
    """In the finding's unit."""
    x: float
    """Where the line meets it, and the earliest and latest within the slope's 95 % interval; latest
    may be infinite.
    """
    earliest: float
    latest: float


@dataclass(frozen=True, slots=True)
class Trend:
    """One quantity over three surveys or more."""

    findings: tuple[Finding, ...]
    xs: tuple[float, ...]
    at: tuple[int, ...]
    """Which of the surveys they are of, counted from 0."""
    slope: Slope
    says: str
    """moving, not moving, jumped (moved, but not steadily)"""
    meets: Meeting | None = None

    @property
    def step(self) -> tuple[tuple[float, float], ...]:
        """The way of a figure that jumped, as (x, y): level, up or down half-way between two
        surveys, level.

        Empty where a straight line fits. Each level is the mean on its side of the largest step.
        """
        if self.slope.straight:
            return ()
        ys, cut = [f.value for f in self.findings], self.slope.jump + 1
        before, after = sum(ys[:cut]) / cut, sum(ys[cut:]) / len(ys[cut:])
        middle = (self.xs[cut - 1] + self.xs[cut]) / 2
        return (self.xs[0], before), (middle, before), (middle, after), (self.xs[-1], after)


def slope_of(xs: Sequence[float], numbers: Sequence[Uncertain]) -> Slope:
    """The weighted line y = a + b x and the full doubt of b. Raises ValueError when the points
    cannot bear a line.

    >>> from wizard.math.uncertain import Part
    >>> tape = Part("tape", 5.0)
    >>> ys = [Uncertain(y, (Part(f"hand:{y}", 0.3), tape)) for y in (1.0, 2.0, 3.0)]
    >>> found = slope_of([0, 1, 2], ys)
    >>> round(found.number.value, 6), round(found.number.u, 4)
    (1.0, 0.2121)
    """
    own = [max(u, LEAST_U) for u in _unshared(numbers)]
    ys = [n.value for n in numbers]
    line = fit_line(xs, ys, own)
    weights = [1.0 / u**2 for u in own]
    mid = sum(w * x for w, x in zip(weights, xs, strict=True)) / sum(weights)
    spread = sum(w * (x - mid) ** 2 for w, x in zip(weights, xs, strict=True))
    shares = [w * (x - mid) / spread for w, x in zip(weights, xs, strict=True)]
    number = combine(line.slope, zip(shares, numbers, strict=True))
    misfit = sum(((y - line.at(x)[0]) / u) ** 2 for x, y, u in zip(xs, ys, own, strict=True))
    steps = [abs(b - a) for a, b in pairwise(ys)]
    return Slope(
        line, number, misfit <= chisquare_quantile(0.99, len(xs) - 2), steps.index(max(steps))
    )


def _unshared(numbers: Sequence[Uncertain]) -> list[float]:
    """The doubts of the numbers without the parts that all of them have: those move the line as a
    whole and do not tilt it.
    """
    common = set(numbers[0].sizes).intersection(*[n.sizes for n in numbers])
    return [
        math.hypot(*[size for name, size in n.sizes.items() if name not in common]) for n in numbers
    ]


def trends(row: Sequence[Once], xs: Sequence[float], library: Library) -> tuple[Trend, ...]:
    """Every quantity that three or more of the surveys have, in a like state as the last of them.

    xs: days, or the distance driven, at each survey. The false alarm over all slopes together is
    held to 5 %.
    """
    found = list(_lasting(row, xs))
    slopes = [slope_of([xs[n] for n in at], [f.number for f in findings]) for at, findings in found]
    real = holm([p_value(s.number.value, s.number.u, s.number.dof) for s in slopes])
    return tuple(
        _trend(findings, tuple(xs[n] for n in at), at, slope, stands, row[-1], library)
        for (at, findings), slope, stands in zip(found, slopes, real, strict=True)
    )


def _lasting(
    row: Sequence[Once], xs: Sequence[float]
) -> Iterator[tuple[tuple[int, ...], tuple[Finding, ...]]]:
    """What was found alike at three days or distances: the surveys by number, and the findings."""
    for id, last in row[-1].findings.items():
        at = tuple(n for n, o in enumerate(row) if _alike(o, last, row[-1]))
        if len({xs[n] for n in at}) >= 3:
            yield at, tuple(row[n].findings[id] for n in at)


def _alike(one: Once, newest: Finding, last: Once) -> bool:
    found = one.findings.get(newest.id)
    return found is not None and not unlike(one.record, found, last.record, newest)


def _trend(
    findings: tuple[Finding, ...],
    xs: tuple[float, ...],
    at: tuple[int, ...],
    slope: Slope,
    stands: bool,
    last: Once,
    library: Library,
) -> Trend:
    says = ("moving" if slope.straight else "jumped") if stands else "not moving"
    meets = meeting(findings[-1], slope, xs, last, library) if says == "moving" else None
    return Trend(findings, xs, at, slope, says, meets)


def meeting(
    finding: Finding, slope: Slope, xs: Sequence[float], last: Once, library: Library
) -> Meeting | None:
    """The next bound ahead of the line's end, in the direction it goes; None where no limit lies
    that way.
    """
    here, rate = slope.line.at(xs[-1])[0], slope.number.value
    edges = judge(finding, last.survey, library).edges
    ends = [(e.band, e.high if rate > 0 else e.low) for e in edges]
    ahead = [(band, b) for band, b in ends if b is not None and (b - here) * rate > 0]
    if not ahead:
        return None
    band, bound = min(ahead, key=lambda pair: abs(pair[1] - here))
    slow, fast = abs(rate) - slope.half_width, abs(rate) + slope.half_width
    away = abs(bound - here)
    met = Meeting(
        band,
        bound,
        xs[-1] + away / abs(rate),
        xs[-1] + away / fast,
        xs[-1] + away / slow if slow > 0 else float("inf"),
    )
    return met if met.x - xs[-1] <= FAR * (xs[-1] - xs[0]) else None


def days(row: Sequence[Once]) -> list[float]:
    """Days from the first survey to each."""
    days = [
        o.survey.started.replace(tzinfo=None) for o in row
    ]  # an edited file may name its time zone
    return [(day - days[0]).total_seconds() / 86400 for day in days]
