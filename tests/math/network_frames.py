"""Frames to try the plan on: a ladder with horns, bent at will, and the distances a tape would
show.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping

import numpy as np

from wizard.math.network import Distance

Places = dict[str, tuple[float, float]]
Pairs = list[tuple[str, str]]

STATIONS = {
    "tip": (-500.0, 330.0),
    "front": (0.0, 340.0),
    "center": (1250.0, 380.0),
    "rear": (2500.0, 400.0),
}
"""Distance behind the front station and half width, mm."""

LAYOUT: Places = {
    f"{name}-{side}": (x, sign * half)
    for name, (x, half) in STATIONS.items()
    for side, sign in (("left", -1.0), ("right", 1.0))
}


def pair(station: str) -> tuple[str, str]:
    """The left and the right point of a station."""
    return f"{station}-left", f"{station}-right"


def widths(*stations: str) -> Pairs:
    """Across the frame at each station."""
    return [pair(s) for s in stations]


def lengths(a: str, b: str) -> Pairs:
    """Along both rails."""
    return [(f"{a}-left", f"{b}-left"), (f"{a}-right", f"{b}-right")]


def diagonals(a: str, b: str) -> Pairs:
    """From left to right and from right to left."""
    return [(f"{a}-left", f"{b}-right"), (f"{a}-right", f"{b}-left")]


def box(a: str, b: str) -> Pairs:
    """Both lengths and both diagonals."""
    return lengths(a, b) + diagonals(a, b)


CORNERS = widths("front", "rear") + box("front", "rear")
OPEN = (
    widths("front", "center", "rear")
    + box("front", "rear")
    + box("front", "center")
    + lengths("center", "rear")
)
CLOSED = OPEN + diagonals("center", "rear")
HORNS = widths("tip") + box("tip", "front")
BRACED = CLOSED + HORNS + box("tip", "center")


def moved(**shifts: tuple[float, float]) -> Places:
    """The layout with points moved by (dx, dy) mm; front_left for front-left."""
    places = dict(LAYOUT)
    for name, (dx, dy) in shifts.items():
        x, y = places[name.replace("_", "-")]
        places[name.replace("_", "-")] = (x + dx, y + dy)
    return places


def shaken(rng: np.random.Generator, by: float, places: Places = LAYOUT) -> Places:
    """Every point moved in some direction by up to `by` mm."""
    turn, reach = rng.uniform(0, 2 * math.pi, len(places)), rng.uniform(0, by, len(places))
    return {
        p: (x + r * math.cos(a), y + r * math.sin(a))
        for (p, (x, y)), a, r in zip(places.items(), turn, reach, strict=True)
    }


def taped(
    places: Mapping[str, tuple[float, float]],
    pairs: Iterable[tuple[str, str]],
    u: float = 0.7,
    rng: np.random.Generator | None = None,
    slips: Mapping[str, float] | None = None,
) -> list[Distance]:
    """What a tape shows, exactly or with scatter u; slips: too long by so many mm, by "a--b"."""
    distances = []
    for a, b in pairs:
        value = math.dist(places[a], places[b]) + (rng.normal(0, u) if rng else 0.0)
        value += (slips or {}).get(f"{a}--{b}", 0.0)
        distances.append(Distance(f"{a}--{b}", a, b, value, u))
    return distances


def starts(pairs: Iterable[tuple[str, str]], places: Places = LAYOUT) -> Places:
    """The places of those points alone that the pairs speak of."""
    used = {p for both in pairs for p in both}
    return {p: xy for p, xy in places.items() if p in used}
