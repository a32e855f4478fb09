"""What the sun on one side may do to readings: a rail that is warmer on top than below bows up, and
one that is warmer than the tape is longer than the tape says.

How much warmer nobody measures, so it shifts no figure: it is a part of the doubt, from nothing to
so much (rectangular). Steel tape on steel frame at one temperature has none of it. Source:
wizard/math/thread.py; how much warmer a top flange in the sun is, ten degrees, is this project's
own figure.
"""

from __future__ import annotations

from collections.abc import Collection

from wizard.library.places import PlaceId, Side, StepId, side_of
from wizard.library.shapes import Layout
from wizard.math.thread import bow, bow_at, expansion
from wizard.math.uncertain import OWN, Part
from wizard.readings.warmth import BOTH

SUN = "sun"
"""What that part of a doubt is named, before what was read."""
WARMER = 10.0
"""°C by which the sun may warm the top of a rail over its bottom, and over a tape (own figure)."""
RECTANGULAR = 3.0**0.5
BOWED = "a side stood in the sun: its rail may be 10 °C warmer on top and bow"
LONGER = "a side stood in the sun: its rail may be 10 °C warmer than the tape"

Suns = Collection[str]
"""The sides that stood in the sun while something was read: left, right, both; none for shade."""
Spot = tuple[float, float]
"""x and y of a point, mm."""


def bow_of(layout: Layout) -> float:
    """How far the sun may bow a rail of this frame between the ends of the string, mm."""
    front, rear = layout.string
    depth = layout.figures.get("rail_depth", 0.0)
    return bow(rear - front, depth, WARMER) if depth > 0 else 0.0


def _rise(layout: Layout, x: float) -> float:
    """Standard uncertainty of how far a rail in the sun stands up at x, mm; its sign is the
    bow's.
    """
    front, rear = layout.string
    return bow_of(layout) * bow_at((x - front) / (rear - front)) / RECTANGULAR


def under_string(layout: Layout, suns: Suns, step: StepId, side: str, x: float) -> tuple[Part, ...]:
    """What it adds to a sag of a rail at x, mm: one that stands up reads as a crown."""
    if not _shines(suns, side_of(side)):
        return ()
    return (Part(f"{SUN}:{step}", -_rise(layout, x), shared=True, source=BOWED, whose=OWN),)


def under_level(layout: Layout, suns: Suns, place: PlaceId) -> tuple[Part, ...]:
    """What it adds to a slope at a place, left high positive; nothing where both sides had it."""
    across = 2.0 * layout.place(place).half_width
    if not across or _shines(suns, Side.LEFT) == _shines(suns, Side.RIGHT):
        return ()
    high = _rise(layout, layout.place(place).x) / across
    size = high if _shines(suns, Side.LEFT) else -high
    return (Part(f"{SUN}:level", size, shared=True, source=BOWED, whose=OWN),)


def along_tape(layout: Layout, suns: Suns, start: Spot, end: Spot) -> tuple[Part, ...]:
    """What it adds to a taped distance, mm: the points of a rail in the sun move away from its
    middle, and a tape in the shade reads that as length.
    """
    dx, dy = end[0] - start[0], end[1] - start[1]
    apart = _moved(layout, suns, end) - _moved(layout, suns, start)
    size = apart * dx / ((dx * dx + dy * dy) ** 0.5 or 1.0) / RECTANGULAR
    return (Part(f"{SUN}:tape", size, shared=True, source=LONGER, whose=OWN),) if size else ()


def _moved(layout: Layout, suns: Suns, spot: Spot) -> float:
    """How far rearward the sun may move a point, mm; one in the middle of the frame stays."""
    x, y = spot
    side = Side.LEFT if y < 0 else Side.RIGHT
    return expansion(x - sum(layout.string) / 2, WARMER) if y and _shines(suns, side) else 0.0


def _shines(suns: Suns, side: Side | None) -> bool:
    return BOTH in suns or str(side) in suns
