"""What the car stands on, from above: its axles and wheels, and the stands under axles or frame.

Where a stand goes is the car's own manual's to say: what is drawn is which part of the car carries
it, and at which corner the question is. Before anything is chosen, each answer's letter stands
where it would rest.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from wizard.judgment.supports import THREE
from wizard.library.places import PlaceId
from wizard.library.shapes import Choice, Layout, Place
from wizard.telling.scene import Flat, Label, Mark, Part, Scene, Stroke
from wizard.telling.scene_frame import SIDES, flat, frame, rail_of, sides

TIRE = 280.0
"""mm from the middle of a wheel to its front and rear, about: a round figure."""
INWARD = 0.72
"""Part of half the track at which a stand under an axle is drawn: inward of the wheel."""
CLEAR = 0.08
"""Part of the wheelbase that a stand under the frame is drawn clear of the axle."""
TRACK = 3.0
"""Half widths of the frame that the track is wide where the layout does not say."""
WHEELS = "wheels"
ON: Mapping[str, str] = {
    WHEELS: "on its own wheels",
    "stands-under-axles": "on four stands under the axles",
    "stands-under-frame": "on four stands under the frame",
    THREE: "a bare frame, on three points",
}
"""What it stands on, by the word that a file keeps."""


@dataclass(frozen=True, slots=True)
class Corner:
    """The corner that a question is about."""

    side: str
    """left or right."""
    place: Place

    def nearest(self, stands: Sequence[Flat]) -> Flat | None:
        """The stand there; None while none stands."""
        y = SIDES[self.side] * max((abs(y) for _, y in stands), default=0.0)
        apart = {at: (abs(at[0] - self.place.x), abs(at[1] - y)) for at in stands}
        return min(apart, key=lambda at: apart[at], default=None)


def corner_of(layout: Layout, side: str, over: PlaceId) -> Corner | None:
    """The corner, where the question names a side and a place of the layout."""
    place = layout.place_by_id.get(over)
    return Corner(side, place) if place and side in SIDES else None


def supports_scene(
    layout: Layout, supports: str, choices: Sequence[Choice], corner: Corner | None
) -> Scene:
    """The frame over what it stands on.

    supports: what was answered, empty before it is. choices: the answers of the question in front,
    where it is what the car rests on.
    """
    spots = _spots(layout)
    asked = {c.token: c.letter for c in choices if c.token in spots and c.token != THREE}
    stands = [] if asked or supports == WHEELS else spots.get(supports, [])
    here = corner.nearest(stands) if corner else None
    bare = supports == THREE and not asked
    parts: list[Part] = [
        *(() if bare else _axles(layout)),
        *frame(layout, flat(layout)),
        *_marks(stands, here),
        *(Label(letter, at, "over", lit=True) for t, letter in asked.items() for at in spots[t]),
        *sides(layout, _half(layout)),
        *((Label("here", here, "beyond", lit=True),) if here else ()),
        *_key(bool(asked), bool(stands)),
    ]
    tires = [x + sign * TIRE for x in _xs(layout) for sign in (-1, 1)]
    along = [x for x, _ in flat(layout).values()] + ([] if bare else tires)
    words = _words(supports, asked, corner)
    return Scene(tuple(parts), (min(along), max(along)), _half(layout), words)


def _key(asked: bool, stands: bool) -> Iterator[Label]:
    """What the letters, or the squares, are."""
    if asked:
        yield Label("letters: what it would rest on there", (0.0, 0.0), "foot")
    elif stands:
        yield Label("squares: stands", (0.0, 0.0), "foot")


def _marks(stands: list[Flat], corner: Flat | None) -> Iterator[Mark]:
    for at in stands:
        yield Mark("asked" if at == corner else "stand", at, lit=at == corner)


def _xs(layout: Layout) -> tuple[float, float]:
    """Where the axles stand, mm rearward."""
    along = sorted(p.x for p in layout.places if len(p.sides) > 1 and p.x >= 0) or [0.0, 1.0]
    figures = layout.figures
    return figures.get("front_axle_x", along[0]), figures.get("rear_axle_x", along[-1])


def _half(layout: Layout) -> float:
    """Half the track, mm."""
    wide = max((p.half_width for p in layout.places), default=0.0) or 1.0
    return max(layout.figures.get("track", wide * TRACK) / 2, wide)


def _axles(layout: Layout) -> Iterator[Stroke]:
    """Each axle with a wheel at both ends."""
    half = _half(layout)
    for x in _xs(layout):
        yield Stroke("member", ((x, -half), (x, half)))
        for y in (-half, half):
            yield Stroke("looked", ((x - TIRE, y), (x + TIRE, y)))


def _spots(layout: Layout) -> dict[str, list[Flat]]:
    """Where each answer carries the car, front before rear, left before right."""
    half, xs = _half(layout), _xs(layout)
    inner = (xs[0] + CLEAR * (xs[1] - xs[0]), xs[1] - CLEAR * (xs[1] - xs[0]))
    on_rail = [_within(layout, x) for x in inner]
    rails = [(x, sign * _rail_at(layout, x)) for x in on_rail for sign in (-1.0, 1.0)]
    return {
        WHEELS: [(x, y) for x in xs for y in (-half, half)],
        "stands-under-axles": [(x, y * INWARD) for x in xs for y in (-half, half)],
        "stands-under-frame": rails,
        THREE: [(rails[0][0], 0.0), *rails[2:]],
    }


def _within(layout: Layout, x: float) -> float:
    """The place along the rails that is nearest to an axle's."""
    along = [p.x for p in layout.places if len(p.sides) > 1] or [x]
    return min(max(x, min(along)), max(along))


def _rail_at(layout: Layout, x: float) -> float:
    """mm from the center line to the right rail at a place."""
    at = flat(layout)
    points = [at[id] for id in rail_of(layout, "right")] or [(x, 1.0)]
    for (x0, y0), (x1, y1) in pairwise(points):
        if x0 <= x <= x1:
            return y0 + (y1 - y0) * (x - x0) / ((x1 - x0) or 1.0)
    return points[-1][1]


def _words(supports: str, asked: Mapping[str, str], corner: Corner | None) -> str:
    """The same thing said."""
    seen = "The car from above, front to the left, so its left side is the lower one"
    if asked:
        told = "; ".join(f"{letter}: {ON[token]}" for token, letter in asked.items())
        return f"{seen}; each letter stands where it would rest: {told}."
    on = f"; it stands {ON[supports]}" if supports in ON else ""
    where = f"; asked about: the {corner.side} {corner.place.name} corner" if corner else ""
    return f"{seen}{on}{where}."
