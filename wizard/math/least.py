"""The smallest size that readings would have shown: by the errors that they may have, and by the rule
that tells.

A rule tells a figure where it lies beyond a bound by k u. The doubt u of these readings is known, and
so is k u; what they are truly off by is not. By how much a size must go beyond that to be told 19 times
in 20 hangs on the errors alone: of one pooled scatter with ν degrees of freedom they spread as
Student's t in units of u, for the scatter itself is only known to ν. So one figure shows
bound + (k + t(0.95, ν)) u, and on average over surveys that is kept exactly: with the size s = c u of
each survey's own u the chance of |told| is P(T < c - k), T of Student's t. The non-central t answers
another question, what a fixed size in units of the true scatter shows; put in place with u for the
scatter it keeps 94 of 100 at 8 degrees of freedom (tests/judgment/test_least.py).

Where any of several figures would tell it, they are asked together: errors that figures share are one,
and the size is that which at least one of them tells in 19 of 20.
Sources: Student's t as the ratio of a normal error to its learned scatter, JCGM 100:2008 G.3; a rank-1
lattice in place of random draws, N. M. Korobov, from memory; the root of a chi-square by Wilson and
Hilferty's cube, Abramowitz and Stegun 26.4.17.
"""

import math
from collections.abc import Mapping, Sequence
from functools import lru_cache
from statistics import NormalDist
from typing import NamedTuple

import numpy as np

from wizard.frozen import Frozen, cached_property
from wizard.math.covariance import Array, spread
from wizard.math.student import t_quantile
from wizard.math.uncertain import Learned, Part, Uncertain

SHOWN = 0.95
"""Share of surveys in which the size is told: 19 in 20."""
POINTS, STEP = 4093, 1111
"""Points of the lattice, a prime, and what leads from one of its directions to the next."""
MOST = 1000.0
"""mm; readings that would not show so much show nothing."""


class Figure(NamedTuple):
    """One figure that a damage moves, and when it is told. Lengths in mm."""

    number: Uncertain
    """Its doubt, by which it is judged; its value is not looked at."""
    errors: Uncertain
    """What it may be off by; mostly the same doubt."""
    moves: float
    """By how much one millimeter of the damage moves it, with its sign."""
    upto: float
    """Bound on that side, without a sign."""
    tail: float
    """Chance on one side beyond k: k = t(1 - tail, ν)."""
    grows: float = 0.0
    """Doubt that grows with the figure, as a share of it, and is the same in all figures."""
    off: float = 0.0
    """By how much these readings move it besides, in the direction of the damage."""
    anew: tuple[str, float] = ("", 0.0)
    """A pool of scatter of which a share is learned anew once the damage is there, and that share: what
    is read to other marks."""


def smallest(ways: Sequence[Sequence[Figure]]) -> float | None:
    """The size that at least one of the figures would tell 19 times in 20, mm; None where no size
    is.

    ways: the figures for each way in which the damage may go; they come alike often.

    >>> one = Uncertain(0.0, (Part("hand", 1.0, 8.0),))
    >>> round(smallest([[Figure(one, one, 1.0, 3.0, 0.05)]]), 1), round(3.0 + 2 * 1.86, 1)
    (6.7, 6.7)
    >>> smallest([[]]) is None
    True
    """
    if not ways or not all(ways):
        return None
    wanted = np.concatenate([_wanted(figures) for figures in ways])
    nth = math.ceil(SHOWN * len(wanted)) - 1  # that which so large a share does not exceed
    size = float(np.partition(wanted, nth)[nth])
    return max(size, 0.0) if size < MOST else None


def _wanted(figures: Sequence[Figure]) -> Array:
    """At every point of the lattice, the size from which at least one of the figures is told."""
    drawn = _drawn(tuple([f.errors for f in figures]))
    growth = _direction(drawn.directions)
    wanted = np.full(POINTS, np.inf)
    for figure, errors in zip(figures, drawn.errors, strict=True):  # each by itself stays in reach
        beyond = _told(figure, drawn) - figure.off
        size = (beyond - math.copysign(1.0, figure.moves) * errors) / abs(figure.moves)
        if figure.grows:
            size /= np.maximum(1.0 + figure.grows * growth, 0.1)
        np.minimum(wanted, size, out=wanted)
    return wanted


def _told(figure: Figure, drawn: "Drawn") -> "Array | float":
    """From which value on a figure is told, at every point: a scatter that is learned anew is nearer
    to what it truly is.
    """
    at, (pool, share) = told_from(figure), figure.anew
    if not share:
        return at
    squares = np.zeros(POINTS)
    sizes, learned = figure.number.sizes, figure.number.learned
    for source, anew in drawn.anew.items():
        mine = sum(sizes.get(name, 0.0) ** 2 for name, of in learned.items() if of == source)
        if source[0] == pool and mine:
            squares += mine * share * anew
    u = np.sqrt(np.maximum(figure.number.u**2 + squares, 0.0))
    return np.asarray(figure.upto + (at - figure.upto) / figure.number.u * u)


def told_from(figure: Figure) -> float:
    """From which value on a figure is told, mm: the root of x - upto = k sqrt(u² + (grows x)²).

    What grows with it is a doubt known beforehand, so that degrees of freedom grow too.
    """
    u, dof, upto, grows = figure.number.u, figure.number.dof, figure.upto, figure.grows
    at = upto
    for _ in range(4 if grows else 1):
        more = 1.0 + (grows * at / u) ** 2 if u > 0 else math.inf
        k = t_quantile(1.0 - figure.tail, dof * more * more)
        rest = 1.0 - (k * grows) ** 2
        if rest <= 0:
            return math.inf
        at = (upto + math.sqrt(upto**2 - rest * (upto**2 - (k * u) ** 2))) / rest
    return at


class Drawn(Frozen):
    """What several numbers are off by."""

    __eq__, __hash__ = object.__eq__, object.__hash__

    errors: Array
    """At every point of the lattice, n x POINTS."""
    scatter: Mapping[Learned, Array]
    """By pool how many times as large its scatter truly is as it was reckoned, POINTS."""
    directions: int
    """Of the lattice, that were needed."""

    @cached_property
    def anew(self) -> Mapping[Learned, Array]:
        """By pool how far the square of its scatter, were it learned anew, is off as it was
        reckoned, POINTS.
        """
        again = self.directions + 1
        return {
            pool: times**2 / _scatter(again, pool[1]) ** 2 - 1.0
            for pool, times in self.scatter.items()
        }


@lru_cache(maxsize=16)
def _drawn(numbers: tuple[Uncertain, ...]) -> Drawn:
    """Of these numbers; the same ones are asked for once for each way in which a rail may go.

    Parts of one name are one error. Those of one pooled scatter are as much larger or smaller as that
    scatter may truly be.
    """
    sources, sizes = spread(numbers)
    groups: dict[tuple[str, float], list[int]] = {}
    for column, part in enumerate(sources.values()):
        groups.setdefault(_group(part), []).append(column)
    total, scatter, used = np.zeros((len(numbers), POINTS)), {}, 0
    for pool, columns in groups.items():
        here = sizes[:, columns]
        found, ways = np.linalg.eigh(here @ here.T)
        kept = found > 1e-12 * max(float(found[-1]), 1e-300)
        root = ways[:, kept] * np.sqrt(found[kept])
        last = used + root.shape[1]
        one = root @ _directions(used, last)
        used = last
        if not math.isinf(pool[1]):
            scatter[pool] = _scatter(used, pool[1])
            one *= scatter[pool]
            used += 1
        total += one
    return Drawn(total, scatter, used)


def _group(part: Part) -> tuple[str, float]:
    """The pool of scatter that a part was reckoned from; one for all that is known beforehand."""
    return ("", math.inf) if math.isinf(part.dof) else (part.pool or part.name, part.dof)


@lru_cache(maxsize=16)
def _scatter(direction: int, dof: float) -> Array:
    """How many times as large the scatter truly is as it was reckoned, at every point."""
    part = 2.0 / (9.0 * max(dof, 1.0))
    root = np.maximum(1.0 - part + _direction(direction) * math.sqrt(part), 0.1)
    return np.asarray(1.0 / (root * np.sqrt(root)))


@lru_cache(maxsize=256)
def _direction(n: int) -> Array:
    """Standard normal numbers in one direction more, POINTS."""
    shift = n * n * 991 + n * 577
    return _table()[(np.arange(POINTS) * pow(STEP, n, POINTS) + shift) % POINTS]


@lru_cache(maxsize=8)
def _directions(first: int, end: int) -> Array:
    """Several of them, one below the other."""
    return np.stack([_direction(n) for n in range(first, end)])


@lru_cache(maxsize=1)
def _table() -> Array:
    """Standard normal numbers in their order; those above zero mirror those below."""
    normal = NormalDist()
    below = np.array([normal.inv_cdf((n + 0.5) / POINTS) for n in range(POINTS // 2)])
    return np.concatenate([below, [0.0], -below[::-1]])
