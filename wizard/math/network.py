"""The plan of a frame from all its taped distances at once: weighted least squares in a free
network.

Places are in mm, x rearward and y to the car's right. Only what the distances can tell is meant by
the result: where the whole lies and how it is turned follows from the start places.
"""

import math
from collections.abc import Mapping, Sequence
from functools import lru_cache
from typing import NamedTuple

import numpy as np

from wizard.frozen import Frozen, cached_property
from wizard.math.network_solve import Array, Settled, joins, settle
from wizard.math.network_thin import Places, TooThin, fixed_points, whole


class Distance(NamedTuple):
    """A taped distance between two points, reduced to the plan."""

    id: str
    """Name of the reading or of the mean of its repeats; unique in a network."""
    a: str
    """Point at one end."""
    b: str
    """Point at the other end."""
    value_mm: float
    """Mean of the repeats, mm."""
    u_mm: float
    """Unshared part of its standard uncertainty, mm: not point definition, not the tape's own
    error.
    """
    dof: float = math.inf
    """Degrees of freedom of u_mm."""


class Adjustment(Frozen):
    """An adjusted plan: rows follow its m `distances`, coordinates x0, y0, x1, y1 ... its n
    `points`.
    """

    __eq__, __hash__ = object.__eq__, object.__hash__

    points: tuple[str, ...]
    """Points placed, in the order of the coordinates."""
    xy: Array
    """Their places, mm, shape (n, 2)."""
    distances: tuple[Distance, ...]
    """Distances used, in the order of the rows."""
    design: Array
    """Change of each distance with each coordinate, shape (m, 2n)."""
    covariance: Array
    """Of the coordinates from the unshared parts alone, mm², shape (2n, 2n); datum by inner
    constraints.
    """
    residuals: Array
    """Observed minus computed, mm, shape (m,): positive where the reading is too long."""
    redundancy: Array
    """Redundancy numbers, shape (m,): 0 where nothing else checks a distance, near 1 where all else
    does.
    """
    standardized: Array
    """Residual over its own standard deviation, shape (m,); 0 where nothing checks the distance."""
    correlation: Array
    """Of the standardized residuals, shape (m, m); at ±1 two readings cannot be told apart."""
    converged: bool
    """False when the iteration did not come to rest: then nothing here may be used."""
    steps: int
    """Gauss-Newton steps taken."""
    dropped: tuple[str, ...] = ()
    """Points left out because the distances do not fix them."""
    unused: tuple[str, ...] = ()
    """Ids of distances left out: they lead to a dropped point, or from one held point to another."""

    @cached_property
    def row(self) -> Mapping[str, int]:
        """Of each point its place among `points`."""
        return {point: n for n, point in enumerate(self.points)}

    @cached_property
    def stepped(self) -> Array:
        """The places, each coordinate in its turn a little off along the imaginary axis, shape (2n,
        n, 2): what a formula's slopes are read off.
        """
        count = self.xy.size
        steps = np.zeros((count, count), dtype=np.complex128)
        np.fill_diagonal(steps, 1j * TINY)
        return np.asarray(self.xy + steps.reshape(count, *self.xy.shape))

    @property
    def total_redundancy(self) -> int:
        """Distances beyond those just needed."""
        return round(float(self.redundancy.sum()))

    @property
    def variance_factor(self) -> float:
        """Weighted squares of the residuals per redundancy: about 1 if the doubts are right; nan
        for 0.
        """
        off = self.residuals / np.array([d.u_mm for d in self.distances])
        return float(off @ off) / self.total_redundancy if self.total_redundancy else math.nan

    @property
    def dof(self) -> float:
        """Degrees of freedom of the doubts, their harmonic mean: the pool's own where all share one
        pool.
        """
        below = sum(1.0 / d.dof for d in self.distances)
        return len(self.distances) / below if below > 0 else math.inf

    def place(self, point: str) -> tuple[float, float]:
        """Where a point is, mm."""
        x, y = self.xy[self.points.index(point)]
        return float(x), float(y)


__all__ = ["UNTESTABLE", "Adjustment", "Distance", "TooThin", "adjust"]

TINY = 1e-30
"""Imaginary step, mm: so small that its square vanishes, and nothing is subtracted, so nothing is
lost.
"""
UNTESTABLE = 1e-6
"""A redundancy number below this is rounding: no other distance checks that one."""


def adjust(points: Places, distances: Sequence[Distance], held: Sequence[str] = ()) -> Adjustment:
    """The most likely plan for all distances together, with its doubt from their unshared parts.

    points: start places, mm, by id; a start within 100 mm always leads to the right plan. Points that the
        distances do not fix are left out and named in `dropped`.
    held: points known beforehand, two or more; none for a free network.
    Raises ValueError for distances that make no sense, TooThin when no three points are fixed to one another.
    Source: indirect adjustment with inner constraints; Ghilani and Wolf, Adjustment Computations, from
    memory.

    >>> square = {"a": (0, 0), "b": (0, 300), "c": (400, 0), "d": (400, 300)}
    >>> taped = {"ab": 300, "cd": 300, "ac": 400, "bd": 400, "ad": 503, "bc": 503}
    >>> plan = adjust(square, [Distance(k, k[0], k[1], mm, 0.5) for k, mm in taped.items()])
    >>> plan.total_redundancy, plan.residuals.round(2).tolist()
    (1, [-0.9, -0.9, -1.2, -1.2, 1.5, 1.5])
    >>> adjust(square, [Distance("ab", "a", "b", 300, 0.5)])
    Traceback (most recent call last):
    wizard.math.network_thin.TooThin: the distances do not fix any three points to one another
    """
    _refuse(points, distances, held)
    names, used = tuple(points), tuple(distances)
    net = _net_of(points, names, used)
    if held or not net.whole:
        names, used = _reduced(points, used, held)
        net = _net_of(points, names, used)
    value, u = np.array([(d.value_mm, d.u_mm) for d in used]).T
    settled = settle(net.xy, net.joined, value, u, np.repeat([p in held for p in names], 2))
    kept, taken = set(names), {d.id for d in used}
    dropped = tuple(p for p in points if p not in kept)
    unused = tuple(d.id for d in distances if d.id not in taken)
    return _adjustment(settled, names, used, value, u, dropped, unused)


def _adjustment(
    settled: Settled,
    names: tuple[str, ...],
    used: tuple[Distance, ...],
    value: Array,
    u: Array,
    dropped: tuple[str, ...],
    unused: tuple[str, ...],
) -> Adjustment:
    scaled = settled.design / u[:, None]
    left = scaled @ -settled.covariance @ scaled.T
    np.fill_diagonal(left, left.diagonal() + 1.0)
    redundancy = left.diagonal()
    tested = redundancy > UNTESTABLE
    redundancy = np.where(tested, redundancy, 0.0)
    scale = np.where(tested, 1.0 / np.sqrt(np.where(tested, redundancy, 1.0)), 0.0)
    residuals = value - settled.length
    return Adjustment(
        points=names,
        xy=settled.xy,
        distances=used,
        design=settled.design,
        covariance=settled.covariance,
        residuals=residuals,
        redundancy=redundancy,
        standardized=residuals / u * scale,
        correlation=left * scale[:, None] * scale,
        converged=settled.converged,
        steps=settled.steps,
        dropped=dropped,
        unused=unused,
    )


def _reduced(
    points: Places, distances: tuple[Distance, ...], held: Sequence[str]
) -> tuple[tuple[str, ...], tuple[Distance, ...]]:
    names = fixed_points(points, distances, held)
    kept, known = set(names), set(held)
    # A distance between two held points is known already and would only count as redundancy.
    used = tuple(d for d in distances if {d.a, d.b} <= kept and not {d.a, d.b} <= known)
    if len(names) < 3 or not used:
        raise TooThin("the distances do not fix any three points to one another")
    return names, used


class Net(Frozen):
    """Which points are joined, and where they start."""

    __eq__, __hash__ = object.__eq__, object.__hash__

    xy: Array
    """mm, shape (n, 2)."""
    joined: Array
    """As `joins` gives it, shape (m, n)."""
    whole: bool
    """Whether the distances fix all points to one another."""


def _net_of(points: Places, names: Sequence[str], distances: Sequence[Distance]) -> Net:
    index = {p: k for k, p in enumerate(names)}
    ends = tuple([(index[d.a], index[d.b]) for d in distances])
    return _net(tuple([tuple(points[p]) for p in names]), ends)


@lru_cache(maxsize=16)
def _net(places: tuple[tuple[float, ...], ...], ends: tuple[tuple[int, int], ...]) -> Net:
    """It hangs on no figure that was taped: most surveys of one kind of frame tape the same
    distances. Nobody writes into it.
    """
    xy = np.array(places, dtype=np.float64)
    joined = joins(np.array(ends, dtype=np.intp).reshape(-1, 2), len(places))
    return Net(xy, joined, whole(xy, joined))


def _refuse(points: Places, distances: Sequence[Distance], held: Sequence[str]) -> None:
    if len({d.id for d in distances}) < len(distances):
        raise ValueError("two distances have the same id")
    for d in distances:
        _refuse_distance(points, d)
    if len(held) == 1 or not set(held) <= points.keys():
        raise ValueError("hold two or more points of the network, or none")


def _refuse_distance(points: Places, d: Distance) -> None:
    if d.a not in points or d.b not in points or d.a == d.b:
        raise ValueError(f"distance {d.id}: {d.a} to {d.b} are not two points of this network")
    if tuple(points[d.a]) == tuple(points[d.b]):
        raise ValueError(f"distance {d.id}: {d.a} and {d.b} start from one place")
    if not (0 < d.value_mm < math.inf and 0 < d.u_mm < math.inf):
        raise ValueError(f"distance {d.id}: value and doubt must be above 0 mm")
