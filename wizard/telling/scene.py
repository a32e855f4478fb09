"""A picture as strokes, marks and words in millimeters, made once for every painter.

A scene says what is drawn, what it is called and what is lit. How thick a stroke is, how large a
mark, and how far words stand from it, is the painter's: cells.py for a terminal, svg_scene.py for
paper.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from wizard.library.places import PointId

Flat = tuple[float, float]
"""Two distances in mm: along the frame rearward, and across it to the car's right."""
TIMES = (1, 2, 3, 4, 5, 6, 8, 10, 15, 20, 25, 30, 40, 50, 60, 80, 100)
"""Round enlargements. None beyond 100: a hair's breadth of sag should not look like a bend."""
Ink = Literal["rail", "member", "brace", "tape", "taped", "skewed"]
"""What a stroke stands for: a rail, a crossmember or axle, a leg of an X-member, the tape asked for,
one taken already, an axle out of square.
"""
Kind = Literal["point", "asked", "number", "station", "block"]
"""What a mark stands for: a point of the frame, one that is asked for, one with its number, a
station of the string, a block of the string.
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
