"""A frame that its owner is setting up, from above, as far as he has said what it is like: each
pair with its name once its width is known, then the horns, the axles and the straight stretch.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import pairwise

from wizard.library.set_up import FRONT_AXLE, REAR_AXLE, STRING_FROM, STRING_TO
from wizard.library.shapes import Layout, Place
from wizard.telling.scene import Label, Mark, Part, Scene, Stroke
from wizard.telling.scene_frame import flat, members, rails, sides

BEYOND = 250.0
"""mm of room behind the last thing that is known, and before the first."""
ROW = 0.45
"""How far off the center line names stand that have no room behind one another, in parts of half
the width.
"""
LETTER, APART = 60.0, 5
"""mm that a letter takes in a narrow window, and letters kept free behind a name."""
SHORTEST = 2000.0
"""mm that the picture always shows, so that the first pairs do not fill it."""


def set_up_scene(known: Layout, said: Mapping[str, float], template: Layout) -> Scene:
    """known: the layout with the pairs that were said; said: lengths by key, mm; template: gives
    the track of the axles.
    """
    pairs = [p for p in known.places if not p.horns]
    axles, stretch = _said(said, FRONT_AXLE, REAR_AXLE), _said(said, STRING_FROM, STRING_TO)
    track = template.figures["track"] / 2
    half = max([track if axles else 0.0, *(p.half_width for p in known.places)]) or track
    along = [*(p.x for p in known.places), *axles, *stretch]
    reach = (min(along, default=0.0) - BEYOND, max([*along, SHORTEST]) + BEYOND)
    parts: list[Part] = [
        *_frame(known),
        *(Stroke("brace", ((x, -track), (x, track))) for x in axles),
        *_blocks(pairs, stretch),
        *_names(pairs),
        *sides(known, half),
    ]
    return Scene(tuple(parts), reach, half, _words(pairs, known, axles, stretch))


def _said(said: Mapping[str, float], *keys: str) -> list[float]:
    return [said[key] for key in keys if key in said]


def _frame(known: Layout) -> Iterator[Part]:
    """Rails, crossmembers and points, as far as they are known."""
    at = flat(known)
    if len(known.places) > 1:
        yield from rails(known, at)
    yield from members(known, at)
    yield from (Mark("point", spot) for spot in at.values())


def _blocks(pairs: list[Place], stretch: list[float]) -> Iterator[Mark]:
    """Where the straight stretch of either rail begins and ends."""
    for x in stretch:
        yield from (Mark("block", (x, side)) for side in _beside(pairs, x))


def _beside(pairs: list[Place], x: float) -> Iterator[float]:
    """How far off the center line the rails lie at a place."""
    near = min(pairs, key=lambda p: abs(p.x - x), default=None)
    if near is not None:
        yield from (-near.half_width, near.half_width)


def _names(pairs: list[Place]) -> Iterator[Label]:
    """The name of each pair behind its crossmember: between the rails, and by turns to either side of the
    middle where two names would meet there.
    """
    room = (b.x - a.x - LETTER * (len(a.name) + APART) for a, b in pairwise(pairs))
    row = 0.0 if all(left > 0.0 for left in room) else ROW
    for n, pair in enumerate(pairs):
        yield Label(pair.name, (pair.x, (row, -row)[n % 2] * pair.half_width), "beside")


def _words(pairs: list[Place], known: Layout, axles: list[float], stretch: list[float]) -> str:
    """The same said."""
    if not pairs:
        return "Nothing of your frame is set up yet; front to the left."
    names = ", ".join(p.name for p in pairs)
    seen = f"Your frame from above, front to the left, as far as it is set up: {names}"
    beside = (
        ("the horns", len(known.places) > len(pairs)),
        ("the axles", len(axles) > 1),
        ("the straight stretch", len(stretch) > 1),
    )
    more = [what for what, there in beside if there]
    return f"{seen}{'; ' if more else ''}{', '.join(more)}."
