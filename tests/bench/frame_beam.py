"""A rail as a bent line, by adding up small bends along it: curvature in, height out. Plain floats.

x runs rearward from the front crossmember, mm; sag is positive downward, mm. A rail is held at the
two axles.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from functools import lru_cache

STEEL_N_PER_MM2 = 205_000.0
"""Young's modulus of structural steel (from memory)."""
FROM, TO, STEP = -460.0, 2620.0, 5.0
GRID = tuple(FROM + STEP * n for n in range(int((TO - FROM) / STEP) + 1))
Curve = tuple[float, ...]
"""Sag at every x of GRID, mm."""


def bent(curvature: Callable[[float], float], held: tuple[float, float]) -> Curve:
    """Sag (mm) of a line with that curvature (1/mm, positive where the middle goes down) held at
    two places.
    """
    slope = drop = 0.0
    line = []
    for x in GRID:
        line.append(drop)
        slope_next = slope - curvature(x + STEP / 2) * STEP
        drop += (slope + slope_next) / 2 * STEP
        slope = slope_next
    return off_chord(tuple(line), held)


def off_chord(line: Curve, ends: tuple[float, float]) -> Curve:
    """The same line measured from the straight line through it at two places."""
    a, b = at(line, ends[0]), at(line, ends[1])
    return tuple(
        y - a - (b - a) * (x - ends[0]) / (ends[1] - ends[0])
        for x, y in zip(GRID, line, strict=True)
    )


def at(line: Curve, x: float) -> float:
    """Sag at x, on the straight line between neighbors of the grid."""
    place = min(max((x - FROM) / STEP, 0.0), len(GRID) - 1.001)
    n, share = int(place), place % 1.0
    return line[n] * (1.0 - share) + line[n + 1] * share


def added(*lines: Curve) -> Curve:
    """Lines laid one upon the other."""
    return tuple(map(sum, zip(*lines, strict=True)))


def channel_inertia(depth: float, flange: float, thickness: float) -> float:
    """Second moment of an open channel, mm⁴: the full rectangle less the hollow."""
    return (flange * depth**3 - (flange - thickness) * (depth - 2 * thickness) ** 3) / 12.0


@lru_cache(maxsize=512)
def under_load(newton: float, x_load: float, inertia: float, held: tuple[float, float]) -> Curve:
    """Springing of a rail under one load: moment over stiffness, bent step by step."""
    front, rear = held
    on_front = newton * (rear - x_load) / (rear - front)

    def curvature(x: float) -> float:
        if not front < x < rear:
            return 0.0
        moment = on_front * (x - front) - newton * max(0.0, x - x_load)
        return moment / (STEEL_N_PER_MM2 * inertia)

    return bent(curvature, held)


@lru_cache(maxsize=512)
def settled(
    depth: float,
    x_worst: float,
    spread: float,
    ends: tuple[float, float],
    held: tuple[float, float],
) -> Curve:
    """A bend that stays: curvature in a hump of half-width `spread` about x_worst, `depth` mm below
    `ends` there.

    A spread of a few hundred mm is age; one of a few tens is a kink. A negative depth is a crown.
    """

    def hump(x: float) -> float:
        off = abs(x - x_worst) / spread
        return 0.0 if off >= 1.0 else 0.5 * (1.0 + math.cos(math.pi * off)) / spread

    line = bent(hump, held)
    unit = at(off_chord(line, ends), x_worst)
    return tuple(y * depth / unit for y in line)


def deepest(line: Curve, between: Sequence[float]) -> float:
    """x of the grid, within two bounds, where the line is lowest."""
    low, high = between
    return max((y, x) for x, y in zip(GRID, line, strict=True) if low <= x <= high)[1]
