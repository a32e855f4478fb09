"""The plan against scipy's least squares and the `uncertainties` package, on random networks.

Only what does not depend on where the whole lies is compared: distances between points, the shift
of a box, doubts.
"""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass

import numpy as np
import pytest
import uncertainties
from scipy.optimize import least_squares
from uncertainties import umath

from wizard.math.network import Adjustment, Distance, adjust
from wizard.math.network_derived import diamond
from wizard.math.network_doubt import derive, distance_between
from wizard.math.uncertain import Part, Uncertain

FRONT, REAR = ("p0", "p1"), ("p2", "p3")


@dataclass(frozen=True)
class Case:
    start: dict[str, tuple[float, float]]
    distances: list[Distance]


def random_case(seed: int, scatter: bool = True) -> Case:
    """4 to 10 points on a rough ladder, started up to 30 mm off; a random half or more of all
    distances.
    """
    rng = np.random.default_rng(seed)
    count = int(rng.integers(4, 11))
    base = {f"p{k}": (900.0 * (k // 2), -380.0 + 760.0 * (k % 2)) for k in range(count)}
    true = {p: np.array(xy) + rng.uniform(-60, 60, 2) for p, xy in base.items()}
    start = {p: tuple(xy + rng.uniform(-30, 30, 2)) for p, xy in true.items()}
    pairs = list(itertools.combinations(base, 2))
    want = max(2 * count - 2, int(len(pairs) * rng.uniform(0.6, 1.0)))
    some = rng.permutation(len(pairs))[:want]
    # Two distances along one line would not place a point, and the program would leave it out.
    while min(sum(p in pairs[k] for k in some) for p in base) < 3:
        some = rng.permutation(len(pairs))[:want]
    distances = []
    for k in sorted(some):
        a, b = pairs[k]
        u = float(rng.uniform(0.3, 1.5))
        value = float(np.hypot(*(true[a] - true[b])) + (rng.normal(0, u) if scatter else 0.0))
        distances.append(Distance(f"{a}-{b}", a, b, value, u))
    return Case(start, distances)


class Reference:
    """The same least squares by scipy, the first point and the second one's x held where they
    start.
    """

    def __init__(self, case: Case) -> None:
        self.names = list(case.start)
        self.ends = [(self.names.index(d.a), self.names.index(d.b)) for d in case.distances]
        self.u = np.array([d.u_mm for d in case.distances])
        self.start = np.array(list(case.start.values())).ravel()
        self.free = np.ones(self.start.size, dtype=bool)
        self.free[:3] = False

    def places(self, at: np.ndarray) -> np.ndarray:
        full = self.start.copy()
        full[self.free] = at
        return full.reshape(-1, 2)

    def computed(self, at: np.ndarray) -> np.ndarray:
        xy = self.places(at)
        return np.array([np.hypot(*(xy[j] - xy[i])) for i, j in self.ends])

    def solve(self, values: np.ndarray, at: np.ndarray | None = None) -> np.ndarray:
        begin = self.start[self.free] if at is None else at
        tight = {"xtol": 1e-15, "ftol": 1e-15, "gtol": 1e-15}
        return least_squares(
            lambda x: (self.computed(x) - values) / self.u, begin, "3-point", method="lm", **tight
        ).x

    def jacobian(self, at: np.ndarray) -> np.ndarray:
        return np.array(
            [(self.computed(at + h) - self.computed(at - h)) / 0.02 for h in 0.01 * np.eye(at.size)]
        ).T


def shift_of(places) -> object:
    """Rail shift of the box of p0..p3 from its diagonals, d1² - d2² = 4·L·s: by another way than
    the program's.
    """
    (flx, fly), (frx, fry), (rlx, rly), (rrx, rry) = places[:4]
    first = (rrx - flx) ** 2 + (rry - fly) ** 2
    second = (rlx - frx) ** 2 + (rly - fry) ** 2
    length = umath.sqrt((rlx + rrx - flx - frx) ** 2 + (rly + rry - fly - fry) ** 2) / 2
    return (first - second) / (4 * length)


def own_parts(distances: list[Distance]) -> dict[str, Uncertain]:
    return {d.id: Uncertain(d.value_mm, (Part(d.id, d.u_mm),)) for d in distances}


@pytest.mark.parametrize("seed", range(100))
def test_places_shift_and_doubt_agree_with_scipy_and_uncertainties(seed):
    case = random_case(seed)
    plan, reference = adjust(case.start, case.distances), Reference(case)
    assert plan.converged
    assert not plan.dropped
    at = reference.solve(np.array([d.value_mm for d in case.distances]))
    xy = reference.places(at)
    for a, b in itertools.combinations(range(len(reference.names)), 2):
        found = math.dist(plan.place(reference.names[a]), plan.place(reference.names[b]))
        assert found == pytest.approx(np.hypot(*(xy[a] - xy[b])), rel=1e-6)
    shift = diamond(plan, FRONT, REAR)
    assert shift.value == pytest.approx(float(shift_of(xy)), abs=1e-5)
    assert_doubts(plan, reference, at, case)


def assert_doubts(plan: Adjustment, reference: Reference, at: np.ndarray, case: Case) -> None:
    scaled = reference.jacobian(at) / reference.u[:, None]
    known = list(reference.start[:3])
    places = [*known, *uncertainties.correlated_values(at, np.linalg.inv(scaled.T @ scaled))]
    places = list(zip(places[0::2], places[1::2], strict=True))
    observed = own_parts(case.distances)
    ours = derive(plan, diamond(plan, FRONT, REAR), observed).u
    assert ours == pytest.approx(shift_of(places).std_dev, rel=1e-6)
    (ax, ay), (bx, by) = places[0], places[3]
    theirs = umath.sqrt((ax - bx) ** 2 + (ay - by) ** 2).std_dev
    assert derive(plan, distance_between(plan, "p0", "p3"), observed).u == pytest.approx(
        theirs, rel=1e-6
    )
    assert ours != pytest.approx(1.001 * shift_of(places).std_dev, rel=1e-6)


@pytest.mark.parametrize("seed", range(200, 206))
def test_doubt_agrees_with_adjusting_again_for_each_reading(seed):
    """The whole adjustment by scipy with each reading a little longer and shorter: no linear
    algebra of ours.
    """
    case = random_case(seed, scatter=False)
    plan, reference = adjust(case.start, case.distances), Reference(case)
    values = np.array([d.value_mm for d in case.distances])
    at = reference.solve(values)
    square = 0.0
    for row, d in enumerate(case.distances):
        step = 0.004 * np.eye(len(values))[row]
        ends = [
            float(shift_of(reference.places(reference.solve(values + s, at))))
            for s in (-step, step)
        ]
        square += ((ends[1] - ends[0]) / 0.008 * d.u_mm) ** 2
    ours = derive(plan, diamond(plan, FRONT, REAR), own_parts(case.distances)).u
    assert ours == pytest.approx(math.sqrt(square), rel=1e-6)
