"""A picture as strokes, marks and words in millimeters, made once for every painter.

A scene says what is drawn, what it is called and what is lit. How thick a stroke is, how large a
mark, and how far words stand from it, is the painter's: cells.py for a terminal, svg_scene.py for
paper.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from wizard.library.places import PointId

Flat = tuple[float, float]
"""Two distances in mm: along the frame rearward, and across it to the car's right; in a picture of
the axle across the car to its right, and forward or upward.
"""
TIMES = (1, 2, 3, 4, 5, 6, 8, 10, 15, 20, 25, 30, 40, 50, 60, 80, 100)
"""Round enlargements. None beyond 100: a hair's breadth of sag should not look like a bend."""
SHARE = 0.1
"""Part of the length of what is drawn that its largest deviation, with its doubt, takes at most."""
Ink = Literal["rail", "looked", "member", "brace", "tape", "taped", "skewed"]
"""What a stroke stands for: a rail, metal that is looked at, a crossmember or axle, a leg of an
X-member, the tape asked for, one taken already, an axle out of square.
"""
Kind = Literal["point", "asked", "stand", "number", "station", "block", "write"]
"""What a mark stands for: a point of the frame, one that is asked for, a stand under it, a point
with its number, a station of the string, a block of the string, a box beside a
point to write in.
"""
Spot = Literal["margin", "beyond", "beside", "over", "foot"]
"""Where words stand: at the edge of the page, outward of their place or else above or below it,
rearward of it, right on it, or under the picture.
"""


@dataclass(frozen=True, slots=True)
class Stroke:
    """A line from point to point."""

    ink: Ink
    points: tuple[Flat, ...]
    lit: bool = False
    pale: bool = False
    """Where it was, or would be: behind what is."""
    aside: tuple[Flat, Flat] | None = None
    """How many small steps each end of a tape lies beside its point, rearward and to the right, so
    that it does not lie on the metal.
    """


@dataclass(frozen=True, slots=True)
class Mark:
    """A place that is marked."""

    kind: Kind
    at: Flat
    words: str = ""
    lit: bool = False
    row: int = 0
    """On which of two lines its words stand, so that neighbors do not touch."""
    short: str = ""
    """What it is called where its words, or its neighbors', have no room."""


@dataclass(frozen=True, slots=True)
class Label:
    """Words at a place."""

    words: str
    at: Flat
    where: Spot
    lit: bool = False


@dataclass(frozen=True, slots=True)
class Moved:
    """A point that is off, drawn larger than it is, with the ellipse that its true place lies in."""

    start: Flat
    end: Flat
    major: float
    """Half the ellipse's long axis, as drawn."""
    minor: float
    angle: float
    """Of the long axis, from rearward toward the car's right, radians."""
    off: bool = True
    """Whether it is beyond its doubt; what is not has no arrow."""


@dataclass(frozen=True, slots=True)
class Bar:
    """How long a round amount is drawn, with its words."""

    length: float
    words: str


Part = Stroke | Mark | Label | Moved | Bar


@dataclass(frozen=True, slots=True)
class Scene:
    """What is drawn, in order: what comes later lies over what came before."""

    parts: tuple[Part, ...]
    reach: Flat
    """First and last mm along the frame."""
    half: float
    """mm from the center line to the outermost of what is drawn."""
    words: str
    """The same thing said."""


def times_as_far(
    points: Mapping[PointId, Flat], to: Mapping[PointId, Flat], times: float
) -> dict[PointId, Flat]:
    """Each point moved so many times as far as it moved.

    >>> times_as_far({"a": (0.0, 1.0)}, {"a": (1.0, 3.0)}, 10)
    {'a': (10.0, 21.0)}
    """
    return {
        id: (x + times * (to[id][0] - x), y + times * (to[id][1] - y))
        for id, (x, y) in points.items()
        if id in to
    }


def enlargement(most: float, length: float, share: float = SHARE) -> int:
    """How many times too large a deviation of so many mm is drawn on what is so long: as the
    readings have it, whatever the size of the picture, so that it is the same wherever it is drawn.

    >>> enlargement(6.0, 3000.0), enlargement(0.0, 3000.0), enlargement(900.0, 3000.0)
    (50, 1, 1)
    """
    return max((t for t in TIMES if 0.0 < t * most <= share * length), default=1)


def drawn_words(times: int) -> str:
    """How much too large a deviation is drawn: in the same words wherever it is told.

    >>> drawn_words(20), drawn_words(1)
    ('drawn 20 times too large', 'drawn as large as it is')
    """
    return f"drawn {times} times too large" if times > 1 else "drawn as large as it is"


def straightest(points: Sequence[tuple[float, float, float]]) -> list[Flat]:
    """The straight pieces through points of (x, value, give or take) that stay within every give
    or take: what is inside its doubt is drawn straight, and what is beyond it where it was read.

    >>> straightest([(0, 0.0, 0.0), (1, 2.4, 0.5), (2, 5.0, 0.5), (3, 0.0, 0.0)])
    [(0, 0.0), (2, 5.0), (3, 0.0)]
    """
    if len(points) < 2:
        return [(x, y) for x, y, _ in points]
    (x0, y0, _), *inner, (x1, y1, _) = points
    slope = (y1 - y0) / (x1 - x0) if x1 > x0 else 0.0
    beyond = [abs(y - y0 - slope * (x - x0)) - half for x, y, half in inner]
    if not inner or max(beyond) <= 0.0:
        return [(x0, y0), (x1, y1)]
    at = 1 + beyond.index(max(beyond))
    return [*straightest(points[: at + 1])[:-1], *straightest(points[at:])]
