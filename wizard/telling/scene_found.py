"""The frame from above with what was found: where each point is off, and where the signs gather."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import groupby, pairwise
from typing import TYPE_CHECKING, NamedTuple

from wizard.library.places import PointId, Side, WhereId
from wizard.library.shapes import Layout
from wizard.readings.plain import and_
from wizard.survey.record import Unit
from wizard.telling.amounts import about, doubt_size
from wizard.telling.causes_words import box_words, zone_words
from wizard.telling.numbering import point_numbers, station_numbers
from wizard.telling.scene import (
    TIMES,
    Bar,
    Flat,
    Label,
    Mark,
    Moved,
    Part,
    Scene,
    Stroke,
    drawn_words,
    times_as_far,
)
from wizard.telling.scene_frame import SIDES, flat, frame, plan_scene, rail_of, sides, spots
from wizard.telling.svg import Figure
from wizard.telling.svg_scene import drawn, paper_for

if TYPE_CHECKING:  # only types name them, and they load numpy
    from wizard.checks.plan_shape import Displaced
    from wizard.judgment.cause import Causes
    from wizard.judgment.facts import Zone

REACH = 46.0
"""Units that the longest arrow with its ellipse may take."""
CLEAR = 16.0
"""Units kept free for it before and behind the frame, beside what every drawing keeps free."""
OUTSIDE, ROW = 58.0, 3
"""Units that a number stands outward of its point, and the row of the stations' numbers under them."""


# Where each point is off
# --------------------------------------------------------------------------------------


class OneMoved(NamedTuple):
    """Of twins the one that is known to have moved."""

    rail: Side | None = None
    horn: Side | None = None


NEITHER = OneMoved()


@dataclass(frozen=True, slots=True)
class Laid:
    """Points that are off, laid out over a frame made alike on both sides."""

    layout: Layout
    """As large as the frame was taped."""
    alike: Mapping[PointId, Flat]
    """Where each point would be."""
    taped: Mapping[PointId, Flat]
    """Where it is, so many times as far off."""
    times: int
    reach: Flat
    half: float
    per_mm: float
    """Units that a millimeter of the frame takes."""

    @property
    def frame(self) -> dict[PointId, Flat]:
        """Where every point of the frame would be."""
        return flat(self.layout) | dict(self.alike)


def laid(points: Sequence[Displaced], layout: Layout, room: float) -> Laid:
    """room: units that the longest arrow with its ellipse may take."""
    shift = _shift(points, layout)
    layout = _as_large(layout, points, shift)
    reach, half = _extent(layout)
    per_mm = paper_for(reach, half, clear=CLEAR).units_per_mm
    size = max((math.hypot(p.dx, p.dy) + p.major for p in points), default=1.0) * per_mm
    times = max((t for t in TIMES if t * size <= room), default=1)
    alike = {p.point: (p.x - p.dx + shift, p.y - p.dy) for p in points}
    taped = times_as_far(alike, {p.point: (p.x + shift, p.y) for p in points}, times)
    return Laid(layout, alike, taped, times, reach, half, per_mm)


def plan_figure(
    points: Sequence[Displaced], layout: Layout, unit: Unit, moved: OneMoved = NEITHER
) -> Figure:
    """The frame made alike on both sides, pale, the frame as taped over it, an arrow and an ellipse
    at each point.
    """
    scene = off_scene(points, layout, unit, moved)
    above, below = REACH + 26, REACH + 62
    return drawn("plan", "The frame from above", scene, above, below, clear=CLEAR)


def off_scene(
    points: Sequence[Displaced], layout: Layout, unit: Unit, moved: OneMoved = NEITHER
) -> Scene:
    """What is drawn of them."""
    on = laid(points, layout, REACH)
    beyond = {p.point: on.taped[p.point] for p in points if p.is_off}
    parts: list[Part] = [
        *frame(on.layout, on.frame, pale=True),
        *frame(on.layout, on.frame | beyond),
        *sides(on.layout, on.half),
        *(_moved(p, on.alike[p.point], on.taped[p.point], on.times) for p in points),
        *_stations(on),
        *(
            Mark("number", _outward(on.frame[id], OUTSIDE / on.per_mm), str(n))
            for id, n in point_numbers(on.layout).items()
        ),
        _bar(unit, on.times),
    ]
    words = _off_words(points, on.layout, unit, on.times, moved)
    return Scene(tuple(parts), on.reach, on.half, words)


def _stations(on: Laid) -> Iterator[Mark]:
    """The numbers of the string's stations, under the left rail."""
    for id, number in station_numbers(on.layout).items():
        yield Mark("station", (on.layout.station_by_id[id].x, -on.half), number, row=ROW)


# The same in small, for the first page
# --------------------------------------------------------------------------------------

SMALL = 24.0
"""Units that the longest arrow may take there."""
ASIDE, INWARD = 24.0, 18.0
"""Units that a number stands outward of its point, and words inward of what was seen."""


LINES = 2
"""Lines of words at one place of it, at most; where its words are drawn larger there is room for one."""
RING = 14.0
"""Units from the middle of a number to the edge of the drawing."""
TICK = 8.0
"""Units that a stroke across a rail reaches to either side."""


class Noted(NamedTuple):
    """Something that was seen at a place of the drawing."""

    at: Flat
    """mm."""
    words: str


class Hung(NamedTuple):
    """A station of the string at which a rail hangs low, or stands high, more than may be left."""

    side: Side
    at: float
    """mm rearward."""
    number: str
    """`S3`."""
    amount: str
    """`11/32 in low`."""
    value: float
    """The same in mm, low is plus."""

    @property
    def words(self) -> str:
        """`S3 11/32 in low`."""
        return f"{self.number} {self.amount}"


def found_figure(
    points: Sequence[Displaced],
    noted: Sequence[Noted],
    hung: Sequence[Hung],
    layout: Layout,
    unit: Unit,
    larger: float = 1.0,
) -> Figure:
    """The frame with its points by number, an arrow where one is off beyond its doubt, and what was
    seen and measured beside it. hung: of each rail, front to rear. larger: by how much its numbers
    and words are drawn larger, where the drawing is set smaller.
    """
    scene = found_scene(points, noted, hung, layout, unit, larger)
    per_mm = paper_for(scene.reach, scene.half, clear=CLEAR).units_per_mm
    numbers = [abs(m.at[1]) for m in scene.parts if isinstance(m, Mark) and m.kind == "number"]
    room = (max(numbers, default=0.0) - scene.half) * per_mm + RING * larger
    return drawn("found", "Where it was found", scene, room, room, larger, CLEAR)


def found_scene(
    points: Sequence[Displaced],
    noted: Sequence[Noted],
    hung: Sequence[Hung],
    layout: Layout,
    unit: Unit,
    larger: float = 1.0,
) -> Scene:
    """What is drawn of it."""
    on = laid(points, layout, SMALL)
    beyond = {p.point: on.taped[p.point] for p in points if p.is_off}
    dark = on.frame | beyond
    numbers = point_numbers(on.layout)
    parts: list[Part] = [
        *frame(on.layout, on.frame, pale=True),
        *frame(on.layout, dark),
        *sides(on.layout, on.half),
        *(Moved(on.alike[id], at, 0.0, 0.0, 0.0) for id, at in beyond.items()),
        *(
            Mark("number", _clear_of(on.frame[id], dark[id], larger * ASIDE / on.per_mm), str(n))
            for id, n in numbers.items()
        ),
        *_seen_there(noted, on, larger),
        *_hung(hung, noted, on, dark, larger),
    ]
    words = f"{_found_words(points, numbers, on, unit)}{_noted_words(noted)}{_hung_words(hung)}"
    return Scene(tuple(parts), on.reach, on.half, words)


def _outward(at: Flat, by: float) -> Flat:
    return at[0], at[1] + (by if at[1] >= 0 else -by)


def _clear_of(at: Flat, dark: Flat, by: float) -> Flat:
    """Outward of a point, and of where it is drawn to have moved."""
    furthest = max(at[1], dark[1]) if at[1] >= 0 else min(at[1], dark[1])
    return _outward((at[0], furthest), by)


def _seen_there(noted: Sequence[Noted], on: Laid, larger: float) -> Iterator[Part]:
    """A mark at each place, and the words, one line inward of the other; where they are many, how
    many there are: the words under the drawing name them.
    """
    for at, some in groupby(sorted(noted), key=lambda one: one.at):
        yield Mark("asked", at)
        every = list(dict.fromkeys(one.words for one in some))
        most = _most(larger)
        lines = every if len(every) <= most else [f"{len(every)} things seen here"]
        for n, words in enumerate(lines, start=1):
            yield Label(words, _outward(at, -n * larger * INWARD / on.per_mm), "over")


def _most(larger: float) -> int:
    """Lines of words that there is room for at one place."""
    return LINES if larger <= 1.0 else 1


def _hung(
    hung: Sequence[Hung],
    noted: Sequence[Noted],
    on: Laid,
    dark: Mapping[PointId, Flat],
    larger: float,
) -> Iterator[Part]:
    """A stroke across the rail at each station, and one line of words for those of a rail that hang
    low, and one for those that stand high, inward of what was seen there.
    """
    tick, step = TICK / on.per_mm, larger * INWARD / on.per_mm
    rows = {_side_at(one.at): _most(larger) for one in noted}
    for (side, _), some in groupby(hung, key=lambda one: (one.side, one.value > 0)):
        stations = list(some)
        rail = [dark[id] for id in rail_of(on.layout, side)]
        for one in stations:
            place = one.at, _across(rail, one.at)
            yield Stroke("member", (_outward(place, tick), _outward(place, -tick)))
        rows[side] = rows.get(side, 0) + 1
        middle = sum(one.at for one in stations) / len(stations)
        lies = [
            _across(rail, middle),
            *(y for _, y in (one.at for one in noted) if y * side.sign > 0),
        ]
        place = _outward((middle, min(lies, key=abs)), -rows[side] * step)
        yield Label(_in_one_line(stations), place, "over")


def _side_at(at: Flat) -> Side:
    return Side.RIGHT if at[1] > 0 else Side.LEFT


def _across(rail: Sequence[Flat], x: float) -> float:
    """Where a rail lies at x, mm to the car's right."""
    for (x0, y0), (x1, y1) in pairwise(rail):
        if x0 <= x <= x1:
            return y0 + (y1 - y0) * (x - x0) / ((x1 - x0) or 1.0)
    return rail[0][1] if x < rail[0][0] else rail[-1][1]


def _in_one_line(stations: Sequence[Hung]) -> str:
    """Each with its amount where they are few; else the largest of them: the words of the drawing
    have each.
    """
    if len(stations) <= LINES:
        return ", ".join(one.words for one in stations)
    most = max(stations, key=lambda one: abs(one.value))
    return f"{and_([one.number for one in stations])} up to {most.amount}"


def _found_words(
    points: Sequence[Displaced], numbers: Mapping[PointId, int], on: Laid, unit: Unit
) -> str:
    known, off = spots(on.layout), {p.point: p for p in points if p.is_off}
    said = [
        f"{n} {known[id].name}" + (f" {_far(off[id], unit)}" if id in off else "")
        for id, n in numbers.items()
    ]
    if not points:
        told = "Too few distances were taped to say of a point that it is off."
    elif not off:
        told = "No point is off by more than its doubt."
    else:
        told = (
            f"Only those with a figure are off by more than their doubt, {drawn_words(on.times)}."
        )
    return f"Front to the left, the car's left side below. {'; '.join(said)}. {told}"


def _noted_words(noted: Sequence[Noted]) -> str:
    """What was seen at places of the drawing, said."""
    seen = dict.fromkeys(one.words for one in noted)
    return f" Marked where it was seen: {'; '.join(seen)}." if seen else ""


def _hung_words(hung: Sequence[Hung]) -> str:
    """What the string says of each rail, said."""
    said = [
        f"{side} rail {', '.join(one.words for one in some)}"
        for side, some in groupby(hung, key=lambda one: one.side)
    ]
    return f" A stroke across a rail is a station of the string: {'; '.join(said)}." if said else ""


def _extent(layout: Layout) -> tuple[Flat, float]:
    """From where to where the frame goes, and half its width."""
    along = [p.x for p in layout.places] or [0.0, 1.0]
    half = max((p.half_width for p in layout.places), default=1.0) or 1.0
    return (min(along), max(along)), half


def _shift(points: Sequence[Displaced], layout: Layout) -> float:
    """mm that lay the taped points over the layout's, so that a point that was not taped stays in
    its place.
    """
    known = spots(layout)
    apart = [known[p.point].x - (p.x - p.dx) for p in points if p.point in known]
    return sum(apart) / len(apart) if apart else 0.0


def _as_large(layout: Layout, points: Sequence[Displaced], shift: float) -> Layout:
    """The layout as large as the frame was taped: by its round figures a larger one would run off
    the paper.
    """
    found = {p.point: (p.x - p.dx + shift, abs(p.y - p.dy)) for p in points}
    places = []
    for place in layout.places:
        at = [found[name] for name in place.points if name in found]
        half = sum(y for _, y in at) / len(at) if at and place.half_width else place.half_width
        places.append(
            place._replace(x=sum(x for x, _ in at) / len(at), half_width=half) if at else place
        )
    return replace(layout, places=tuple(places))


def _moved(p: Displaced, start: Flat, end: Flat, times: int) -> Moved:
    return Moved(start, end, times * p.major, times * p.minor, p.angle, p.is_off)


def _bar(unit: Unit, times: int) -> Bar:
    """How long a round amount is drawn."""
    mm, words = (6.35, "1/4 in") if unit == "in" else (5.0, "5 mm")
    return Bar(mm * times, words)


def _off_words(
    points: Sequence[Displaced], layout: Layout, unit: Unit, times: int, moved: OneMoved
) -> str:
    said = [f"{_point(p, layout)} {_off(p, unit)}" for p in points]
    return (
        "Front to the left, the car's left side below, the string's stations under it. Pale: the"
        " frame made alike on both sides, as near as it comes to the readings."
        f" Dark: as taped, deviations {drawn_words(times)}, and"
        " straight where they are inside their doubt. An arrow says which way a point is off; its"
        f" true place lies in the dashed ellipse 19 times in 20. {_twins(moved)} "
        + "; ".join(said)
        + "."
    )


def off_words(points: Sequence[Displaced], layout: Layout, unit: Unit) -> str:
    """How far each point is off, where nothing is drawn."""
    said = (f"{_point(p, layout)} {_off(p, unit)}" for p in points)
    return f"How far each point is off a frame that is alike on both sides: {'; '.join(said)}."


def _point(p: Displaced, layout: Layout) -> str:
    """`3 left front`."""
    known, number = spots(layout), point_numbers(layout).get(p.point)
    return f"{number} {known[p.point].name}" if number and p.point in known else str(p.point)


def _twins(moved: OneMoved) -> str:
    """On which of two twins a difference is drawn."""
    if moved.rail is not None:
        return (
            f"What twins differ by along the frame is drawn on the {moved.rail} side, where the"
            " signs are; a tape alone could not tell."
        )
    if moved.horn is not None:
        return (
            f"What the horns differ by is drawn on the {moved.horn} one, which was seen bent; the"
            " rails lie as straight as they come."
        )
    return "Twins share a difference, since no tape can say which of the two has moved."


def _off(p: Displaced, unit: Unit) -> str:
    doubt = doubt_size(p.major, "mm", unit)
    if not p.is_off:
        return f"not off by as much as {doubt}"
    return f"{_far(p, unit)}, give or take {doubt}"


def _far(p: Displaced, unit: Unit) -> str:
    """How far it is off, and which way."""
    along = ("back" if p.dx > 0 else "forward") if abs(p.dx) > 0.4 * abs(p.dy) else ""
    across = ("to the right" if p.dy > 0 else "to the left") if abs(p.dy) > 0.4 * abs(p.dx) else ""
    way = " and ".join(w for w in (along, across) if w)
    return f"{about(math.hypot(p.dx, p.dy), 'mm', unit)} {way}"


# Where the signs gather
# --------------------------------------------------------------------------------------


def where_scene(causes: Causes, layout: Layout) -> Scene | None:
    """The plan with a mark at the corner and the name of the box that is out; none where neither is
    known.
    """
    if causes.corner is None and not causes.box:
        return None
    plan = plan_scene(layout)
    parts = [*plan.parts]
    if causes.box:
        parts.append(_box(layout, causes.box, plan.reach))
    if causes.corner:
        parts += _corner(zone_at(layout, causes.corner))
    return replace(plan, parts=tuple(parts), words=_where_words(causes))


def _corner(at: Flat) -> list[Part]:
    return [Mark("asked", at, lit=True), Label("here", at, "beyond", lit=True)]


def zone_at(layout: Layout, corner: Zone) -> Flat:
    """Where the mark goes: a corner's own point, or for the middle the point nearest to half way
    along the rail.
    """
    side, third = corner
    pairs = sorted((p for p in layout.places if not p.horns and side in p.sides), key=lambda p: p.x)
    half_way = (pairs[0].x + pairs[-1].x) / 2
    nearest = min(pairs, key=lambda p: abs(p.x - half_way))
    place = {"front": pairs[0], "rear": pairs[-1]}.get(third, nearest)
    return place.x, SIDES[side] * place.half_width


def _box(layout: Layout, box: WhereId, reach: Flat) -> Label:
    """The box's name on the center line between its two crossmembers."""
    found = layout.box_by_id.get(box)
    ends = (layout.place(found.front).x, layout.place(found.rear).x) if found else reach
    return Label(found.name if found else "whole frame", (sum(ends) / 2, 0.0), "over", lit=True)


def _where_words(causes: Causes) -> str:
    """The same thing said."""
    parts = ["The frame from above, front to the left, so the car's left side is the lower one."]
    if causes.corner:
        parts.append(f"The mark is at the {zone_words(causes.corner)}, where the signs gather.")
    if causes.box:
        parts.append(box_words(causes.box))
    return " ".join(parts)
