"""The frame from above as a scene: its rails, crossmembers and braces, with the tape that the prompt
asks for.

The front is to the left of the page. Looking down on a car that faces left, its left side is
nearest to the reader: so the left rail is the lower one.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, field
from itertools import pairwise

from wizard.library.places import NO_POINT, PlaceId, PointId, is_own, pair_ids, point_id
from wizard.library.shapes import Layout, Place
from wizard.telling.scene import Flat, Ink, Label, Mark, Part, Scene, Stroke

Pair = tuple[PointId, PointId]
SIDES = {"left": -1.0, "right": 1.0}
"""Which way each rail lies from the center line."""
BEYOND = 0.08
"""Part of the window left behind the last point, so that the rails are seen to go on."""
TAPED = "dots: taped already"
"""What the fainter lines are."""


@dataclass(frozen=True, slots=True)
class Spot:
    """A point of the layout as seen from above."""

    name: str
    """For a sentence: "left front", "right horn tip"."""
    x: float
    """mm rearward."""
    y: float
    """mm to the car's right."""
    nose: bool = False
    """True where both rails meet in this point."""
    beside: bool = False
    """True for what is no point of the frame, such as the end of an axle."""

    @property
    def at(self) -> Flat:
        """Both distances."""
        return self.x, self.y


@dataclass(frozen=True, slots=True)
class Extras:
    """What a plan shows beside the frame for some prompts: axles under it, the pulley and the
    gearbox over it.
    """

    spots: Mapping[PointId, Spot] = field(default_factory=dict)
    """Points that are none of the frame's, by id."""
    lines: tuple[Pair, ...] = ()
    """Ids joined by a bar: an axle."""
    lit: Pair | None = None
    """The two points of the tape asked for, where one is not of the frame."""
    mark: PointId = NO_POINT
    """The one spot that is looked at, with no tape."""


NONE = Extras()

# What a layout is made of
# --------------------------------------------------------------------------------------


def spots(layout: Layout) -> dict[PointId, Spot]:
    """Every point of the layout by its id: `<place>-<side>`, in the middle the place's own."""
    noses = _noses(layout)
    return {
        point: Spot(
            place.name if side == "middle" else f"{side} {place.name}",
            place.x,
            SIDES.get(side, 0.0) * place.half_width,
            place.id in noses,
        )
        for place in layout.places
        for point, side in zip(place.points, place.sides, strict=True)
    }


def flat(layout: Layout) -> dict[PointId, Flat]:
    """Where every point of the layout lies."""
    return {id: spot.at for id, spot in spots(layout).items()}


def _noses(layout: Layout) -> set[PlaceId]:
    """The middle points ahead of, or behind, every pair of points: both rails run to each."""
    paired = [p.x for p in layout.places if "left" in p.sides]
    if not paired:
        return set()
    first, last = min(paired), max(paired)
    return {p.id for p in layout.places if "middle" in p.sides and not first <= p.x <= last}


def rail_of(layout: Layout, side: str) -> list[PointId]:
    """The points of one rail from front to rear; a nose belongs to both."""
    known = spots(layout)
    along = sorted(layout.places, key=lambda p: p.x)
    on_rail = [(point, at) for p in along for point, at in zip(p.points, p.sides, strict=True)]
    return [point for point, at in on_rail if at == side or known[point].nose]


def crossmembers(layout: Layout) -> list[Place]:
    """Places that end a box, but for the horns and the owner's own pairs. Not by where they lie: a
    frame laid as it was taped has its front crossmember a hair ahead of x = 0 as often as behind.
    """
    ends = {end for box in layout.boxes for end in (box.front, box.rear)}
    pairs = (p for p in layout.places if not is_own(p.id) and {"left", "right"} <= set(p.sides))
    members = [p for p in pairs if p.id in ends and not p.horns]
    return sorted(members, key=lambda p: p.x)


def braces(layout: Layout) -> Iterator[Pair]:
    """Legs of an X-member: from a plate in the middle to the nearest crossmember ahead and behind."""
    middle = {box.through for box in layout.boxes}
    plates = [p for p in layout.places if p.id in middle]
    across = crossmembers(layout)
    for plate in plates:
        ahead = [p for p in across if p.x < plate.x][-1:]
        behind = [p for p in across if p.x > plate.x][:1]
        yield from ((plate.id, point_id(p.id, side)) for p in ahead + behind for side in SIDES)


# Its strokes
# --------------------------------------------------------------------------------------


def rails(
    layout: Layout,
    at: Mapping[PointId, Flat],
    window: Flat | None = None,
    lit: bool = False,
    pale: bool = False,
) -> Iterator[Stroke]:
    """Both rails through their points, cut off where the window ends."""
    for side in SIDES:
        points = [at[id] for id in rail_of(layout, side)]
        yield Stroke("rail", tuple(cut(points, window) if window else points), lit, pale)


def members(layout: Layout, at: Mapping[PointId, Flat], pale: bool = False) -> Iterator[Stroke]:
    """The crossmembers."""
    for place in crossmembers(layout):
        left, right = pair_ids(place.id)
        yield Stroke("member", (at[left], at[right]), pale=pale)


def legs(layout: Layout, at: Mapping[PointId, Flat], pale: bool = False) -> Iterator[Stroke]:
    """The legs of an X-member."""
    for a, b in braces(layout):
        yield Stroke("brace", (at[a], at[b]), pale=pale)


def frame(layout: Layout, at: Mapping[PointId, Flat], pale: bool = False) -> Iterator[Stroke]:
    """The whole frame through the places of its points."""
    yield from rails(layout, at, pale=pale)
    yield from members(layout, at, pale)
    yield from legs(layout, at, pale)


def sides(layout: Layout, half: float, first: float = -math.inf) -> list[Label]:
    """The words that say which side is which, where the rails begin.

    first: where the picture begins, mm.
    """
    along = sorted(layout.places, key=lambda p: p.x)
    begins = next((p.half_width for p in along if p.x >= first), 0.0) or half
    rows = (("front", 0.0), ("right", begins), ("left", -begins))
    return [Label(word, (0.0, y), "margin") for word, y in rows]


def cut(points: list[Flat], window: Flat) -> Iterator[Flat]:
    """The part of a line within a window."""
    for (x0, y0), (x1, y1) in pairwise(points):
        low, high = max(x0, window[0]), min(x1, window[1])
        if low > high:
            continue
        slope = (y1 - y0) / (x1 - x0) if x1 > x0 else 0.0
        yield from ((x, y0 + slope * (x - x0)) for x in (low, high))


# The plan with its tapes
# --------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class View:
    """What a plan can show: the points that it knows, and the window that it is drawn in."""

    spots: Mapping[PointId, Spot]
    window: Flat

    @property
    def half(self) -> float:
        """mm from the center line to the outermost point."""
        return max((abs(spot.y) for spot in self.spots.values()), default=0.0) or 1.0

    def points(self) -> list[Mark]:
        """Every point in the picture."""
        return [Mark("point", spot.at) for id, spot in self.spots.items() if self.holds(id)]

    def bars(self, pairs: Collection[Pair]) -> list[Stroke]:
        """Points joined by a bar."""
        return [Stroke("member", (self.spots[a].at, self.spots[b].at)) for a, b in pairs]

    def holds(self, *ids: PointId) -> bool:
        """True when all of them are known and lie in the part that is drawn."""
        low, high = self.window
        return all(id in self.spots and low <= self.spots[id].x <= high for id in ids)

    def tape(self, pair: Pair, ink: Ink, lit: bool = False) -> list[Stroke]:
        """The tape between two points; none where one is out of the picture."""
        if not self.holds(*pair):
            return []
        a, b = sorted((self.spots[id] for id in pair), key=lambda spot: spot.x)
        return [Stroke(ink, (a.at, b.at), lit, aside=_aside(a, b))]

    def ends(self, pair: Pair) -> Iterator[Part]:
        """The two points of the tape asked for, with their words."""
        for id, word in zip(pair, ("start", "end"), strict=True):
            if self.holds(id):
                yield Mark("asked", self.spots[id].at, lit=True)
                yield Label(word, self.spots[id].at, "beyond", lit=True)


def plan_scene(
    layout: Layout,
    lit: Pair | None = None,
    done: Collection[Pair] = (),
    window: Flat | None = None,
    extras: Extras = NONE,
    key: str = TAPED,
) -> Scene:
    """The whole frame from above, or the part of it between two x in mm.

    `lit` and `done` hold point ids; one that the layout does not have is left out of the picture.
    """
    lit = extras.lit or lit
    view = _view(layout, extras, window)
    others = [pair for pair in done if set(pair) != set(lit or ())]
    parts = [
        *_seen(layout, view, lit),
        *view.bars(extras.lines),
        *(stroke for pair in others for stroke in view.tape(pair, "taped")),
        *view.points(),
        *_asked(view, lit, extras.mark),
        *sides(layout, view.half, view.window[0]),
        *_key(key, len(others), lit),
    ]
    words = _words(view, lit, len(others), extras.mark)
    return Scene(tuple(parts), view.window, view.half, words)


def _view(layout: Layout, extras: Extras, window: Flat | None) -> View:
    known = spots(layout) | dict(extras.spots)
    along = [spot.x for spot in known.values()] or [0.0]
    return View(known, window or (min(along), max(along)))


def horns_scene(layout: Layout, lit: Pair | None, done: Collection[Pair] = ()) -> Scene:
    """The front end close up: the plan cut off behind the second station, or behind the lit points
    where they lie further back.
    """
    whole = plan_scene(layout, lit, done, _front_window(layout, lit))
    words = whole.words.replace("The frame", "The front of the frame", 1)
    return Scene(whole.parts, whole.reach, whole.half, words)


def _front_window(layout: Layout, lit: Pair | None) -> Flat | None:
    first = min((p.x for p in layout.places), default=0.0)
    behind = [p.x for p in layout.places if p.x > max(first, 0.0)]
    if not behind:
        return None
    known = spots(layout)
    last = max([min(behind), *(known[id].x for id in lit or () if id in known)])
    return first, last + BEYOND * (last - first)


def _seen(layout: Layout, view: View, lit: Pair | None) -> Iterator[Stroke]:
    """The frame within the window, without the leg that the tape lies on, or the tape would not
    show.
    """
    low, high = view.window
    at = flat(layout)
    taped = {at[id] for id in lit or () if id in at}
    clear = (leg for leg in legs(layout, at) if not set(leg.points) <= taped)
    yield from rails(layout, at, view.window)
    for stroke in (*members(layout, at), *clear):
        if all(low <= x <= high for x, _ in stroke.points):
            yield stroke


def _asked(view: View, lit: Pair | None, mark: PointId) -> Iterator[Part]:
    """The tape that the prompt asks for, or the one spot that is looked at."""
    if lit:
        yield from view.tape(lit, "tape", lit=True)
        yield from view.ends(lit)
    if mark:
        spot = view.spots[mark]
        yield Mark("asked", spot.at, lit=True)
        yield Label(spot.name, spot.at, "beside", lit=True)


def _aside(a: Spot, b: Spot) -> tuple[Flat, Flat]:
    """A tape along a rail lies toward the center line, one square across it lies behind, and one
    from a nose begins behind it.
    """
    if a.x == b.x:
        return (2, 0), (2, 0)
    behind = 4 if a.nose else 0
    inward = -1 if b.y > 0 else 1
    if a.beside and b.beside:
        return (behind, 0), (0, 0)
    if a.y * b.y > 0:
        return (behind, inward), (0, inward)
    return (behind, 0), (0, inward if a.nose else 0)


def _key(key: str, done: int, lit: Pair | None) -> list[Label]:
    if not done:
        return []
    told = f"dashes: this tape   {TAPED}" if key == TAPED and lit else key
    return [Label(told, (0.0, 0.0), "foot")]


def _words(view: View, lit: Pair | None, done: int, mark: PointId) -> str:
    seen = "The frame from above, front to the left, so the car's left side is the lower one"
    if mark:
        seen += f"; the {view.spots[mark].name} is marked over its crossmember"
    elif lit and all(id in view.spots for id in lit):
        start, end = (view.spots[id].name for id in lit)
        seen += f"; the tape runs from the {start} to the {end}"
    elif lit:
        seen += "; the points asked for are not on this drawing"
    taped = {0: "", 1: " One distance already taped is dotted."}
    return seen + "." + taped.get(done, f" {done} distances already taped are dotted.")
