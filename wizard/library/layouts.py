"""content/layouts/*.toml: kinds of frame."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Mapping, Sequence, Set
from itertools import chain, pairwise

from wizard.library.fields import Fault, Table, nearest
from wizard.library.marks import BALL_ON_GEARBOX, BASE
from wizard.library.places import (
    FRONT_BOX,
    MIDDLE,
    OWN,
    REAR_BOX,
    WHOLE_BOX,
    PlaceId,
    is_own,
    is_place,
)
from wizard.library.shapes import Box, Layout, LevelPlace, Place, Station
from wizard.readings.plain import clean_line

PAIR = ("left", "right")
SIDES = (*PAIR, MIDDLE)
BOXES = (WHOLE_BOX, FRONT_BOX, REAR_BOX)
"""Boxes of every kind of frame."""
MADE = (("open-rails", "closed-rails"), ("riveted", "welded"))
"""Traits of which every kind of frame has one of each pair: pages of looks go by them."""
STATIONS, LEVELS = 3, 2
"""Fewest places along the string that tell a bend, and fewest for the level that tell a twist."""
FIGURES = (
    *(BASE, "track", "front_axle_x", "rear_axle_x"),
    *("rail_depth", "rail_flange", "rail_thickness", "engine_mass_kg"),
)
"""Figures of every kind of frame."""
OTHER_FIGURES = ("engine_front_x", "engine_mount_x", "ball_x", "rod")
"""Figures that a kind of frame may have besides."""


def _place(t: Table, kinds: set[str]) -> Place:
    place = Place(
        id=PlaceId(t.text("id")),
        name=t.text("name"),
        x=t.number("x"),
        half_width=t.number("half_width"),
        z=t.number("z", 0.0),
        kind=t.word("kind", kinds),
        sides=t.texts("sides") or ("left", "right"),
        note=t.text("note", ""),
        role=t.text("role", ""),
        horns=t.flag("horns"),
    )
    for side in place.sides:
        if side not in SIDES:
            t.fault("sides", f"'{side}' is not known", nearest(side, SIDES))
    if "middle" in place.sides and (place.sides != ("middle",) or place.half_width):
        t.fault(
            "sides", "mixes the middle with a side", 'write sides = ["middle"] and half_width = 0'
        )
    if place.half_width < 0:
        t.fault(
            "half_width",
            "is below zero",
            "give the distance from the center line as a plain number",
        )
    t.done()
    return place


def _box(t: Table, places: set[str]) -> Box:
    box = Box(
        id=PlaceId(t.text("id")),
        name=t.text("name"),
        front=PlaceId(t.word("front", places)),
        rear=PlaceId(t.word("rear", places)),
        role=t.text("role", ""),
        through=PlaceId(t.word("through", places, "")),
    )
    t.done()
    return box


def _station(t: Table) -> Station:
    id = PlaceId(t.text("id"))
    station = Station(id, t.text("name"), t.number("x"), _repeats(t))
    t.done()
    return station


def _level(t: Table, places: set[str]) -> LevelPlace:
    id, name, place = PlaceId(t.text("id")), t.text("name"), PlaceId(t.word("place", places))
    level = LevelPlace(id, name, place, t.text("role", ""), _repeats(t), t.flag("one_box"))
    t.done()
    return level


def _repeats(t: Table) -> int:
    """How often each reading at a station or a place of the level is taken."""
    repeats = t.whole("repeats", 1)
    if not 1 <= repeats <= 9:
        t.fault("repeats", f"{repeats} is too few or too many", "use 1 to 9")
    return repeats


def _doubles(t: Table, key: str, ids: list[PlaceId]) -> None:
    for id in sorted({i for i in ids if ids.count(i) > 1}):
        t.fault(key, f"'{id}' is there twice", "give each an id of its own")
    for id in (i for i in ids if is_own(i)):
        t.fault(
            key,
            f"'{id}' begins with {OWN}, as only the places of a survey do",
            "give it another id",
        )


def _string(t: Table) -> tuple[float, float]:
    t.taken.add("string")
    match t.data.get("string"):
        case [int() | float() as front, int() | float() as rear] if -1e6 < front < rear < 1e6:
            return float(front), float(rear)
    t.fault(
        "string", "is not two places, front then rear", "write string = [front x, rear x] in mm"
    )
    return -1e6, 1e6


def _figures(t: Table) -> dict[str, float]:
    figures = t.mapping("figures")
    inner = Table(figures, t.file, t.faults, "figures.")
    return {key: inner.number(key) for key in figures}


def read_layout(t: Table, kinds: set[str]) -> Layout:
    """One layout out of its file; faults go to the table's list."""
    t.format()
    places = tuple(_place(p, kinds) for p in t.tables("place"))
    names = {str(p.id) for p in places}
    string = _string(t)
    layout = Layout(
        id=t.text("id"),
        name=t.text("name"),
        about=t.text("about"),
        source=t.text("source"),
        places=places,
        boxes=tuple(_box(b, names) for b in t.tables("box")),
        stations=tuple(_station(s) for s in t.tables("station")),
        levels=tuple(_level(v, names) for v in t.tables("level")),
        string=string,
        figures=_figures(t),
        traits=t.texts("traits"),
        cannot=t.texts("cannot"),
        rail=t.text("rail", "rail"),
    )
    if len(layout.rail) != len("rail"):
        wrong = f"'{layout.rail}' is not of four letters"
        t.fault("rail", wrong, "take such a word: typed drawings keep their columns by it")
    named = (
        ("place", layout.places),
        ("box", layout.boxes),
        ("station", layout.stations),
        ("level", layout.levels),
    )
    for key, rows in named:
        _doubles(t, key, [r.id for r in rows if r.id])
    _under_string(t, layout)
    t.done()
    return layout


def _under_string(t: Table, layout: Layout) -> None:
    """A gap can only be read between the string's blocks."""
    for s in layout.stations:
        if not layout.string[0] <= s.x <= layout.string[1]:
            t.fault(f"station[{s.id}].x", "is beyond the string", "put it between the two blocks")


def lacking(layout: Layout, back: Set[str]) -> Iterator[Fault]:
    """What every kind of frame has and this one has not: a check, a page or a drawing goes by it.

    back: what the pages call the place for the level to which they come back.
    """
    file = f"{layout.id}.toml"
    for id in BOXES:
        if id not in [b.id for b in layout.boxes]:
            yield Fault(file, "box", f"'{id}' is missing", f'add [[box]] with id = "{id}"')
    for pair in MADE:
        if len(set(pair) & set(layout.traits)) != 1:
            wrong = f"do not say one of {' and '.join(pair)}"
            yield Fault(file, "traits", wrong, "write just one of the two")
    yield from _place_faults(file, layout, back)
    yield from _horn_faults(file, layout)
    yield from _figure_faults(file, layout)


def _place_faults(file: str, layout: Layout, back: Set[str]) -> Iterator[Fault]:
    """Too few places to tell a bend or a twist by."""
    if len(layout.stations) < STATIONS:
        wrong = f"{len(layout.stations)} places along the string cannot show a bend"
        yield Fault(file, "station", wrong, f"add [[station]] until there are {STATIONS}")
    if len(layout.levels) < LEVELS:
        wrong = f"{len(layout.levels)} places for the level cannot show a twist"
        yield Fault(file, "level", wrong, f"add [[level]] until there are {LEVELS}")
    elif not back & {v.role or v.id for v in layout.levels}:
        wrong = "no place for the level is marked as the one to come back to"
        yield Fault(file, "level.role", wrong, 'write role = "first" at the foremost')


def _horn_faults(file: str, layout: Layout) -> Iterator[Fault]:
    """The tips of the horns are the one pair ahead of the front points, are marked so, and have a
    box behind them.
    """
    for place in layout.places:
        ahead = len(place.sides) == 2 and place.x < 0
        if ahead and not place.horns:
            wrong = "is missing on a pair ahead of the front points"
            yield Fault(file, f"place[{place.id}].horns", wrong, "write horns = true")
        if place.horns and not ahead:
            wrong = "is there, but no pair is ahead of the front points"
            yield Fault(file, f"place[{place.id}].horns", wrong, "leave it out")
        if place.horns and place.id not in [b.front for b in layout.boxes]:
            wrong = "says that a pair is the tips of horns, but no box begins there"
            remedy = f'add [[box]] with front = "{place.id}" and the pair behind as its rear'
            yield Fault(file, f"place[{place.id}].horns", wrong, remedy)


def _figure_faults(file: str, layout: Layout) -> Iterator[Fault]:
    known = (*FIGURES, *OTHER_FIGURES)
    for name in layout.figures:
        if name not in known:
            yield Fault(file, f"figures.{name}", "is not known", nearest(name, known))
    hung = OTHER_FIGURES if BALL_ON_GEARBOX in layout.traits else ()
    for name in (*FIGURES, *hung):
        if name not in layout.figures:
            yield Fault(file, f"figures.{name}", "is missing", "add it, from a frame of that kind")


# What somebody else has written ------------------------------------------------------------------

MOST_ROWS, LONGEST = 16, 60
"""Places, boxes, stations or levels, and characters of a name, of any frame that can be surveyed in
a day (this project's own)."""
_ID = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+){0,9}")
REACH, WIDE, HIGH = (-2500.0, 9000.0), (50.0, 1500.0), (-1500.0, 1500.0)
"""mm along the frame, from its center line, and up: beyond them lies no car's frame."""
LEAST_APART, LEAST_BOX, LEAST_STRING = 30.0, 150.0, 300.0
"""mm between two pairs or two stations, along a box, along the string."""
LARGEST = 10_000.0
"""Of any figure, mm or kg."""


def unfit(layout: Layout, traits: Set[str]) -> Iterator[Fault]:
    """What no frame is, in a layout that came from outside: one that was set up by an owner, or
    lies in a survey's file. What a checked layout of the content never is, no sum is made for.

    traits: those that any kind of frame may have.
    """
    file = f"{layout.id}.toml"
    tables: tuple[tuple[Place | Box | Station | LevelPlace, ...], ...] = (
        *(layout.places, layout.boxes),
        *(layout.stations, layout.levels),
    )
    for row in chain.from_iterable(tables):
        if not _ID.fullmatch(str(row.id)) or not _is_name(row.name):
            yield Fault(file, "id", "a place has no plain name", "use small letters and figures")
    for table in tables:
        if len(table) > MOST_ROWS:
            yield Fault(file, "place", f"there are over {MOST_ROWS} of a kind", "leave some out")
    if not _ID.fullmatch(layout.id) or not _is_name(layout.name):
        yield Fault(file, "name", "is no plain name", "use letters and figures")
    if layout.cannot:
        yield Fault(file, "cannot", "is said of kinds of frame that are checked", "leave it out")
    for trait in set(layout.traits) - traits:
        yield Fault(file, "traits", f"'{trait}' is not known", nearest(trait, traits))
    yield from _too_far(file, layout)
    yield from _too_near(file, layout)


def _is_name(name: str) -> bool:
    """Whether it can stand in any sentence and any template."""
    plain = name == clean_line(name, LONGEST) and not set("{}") & set(name)
    return plain and any(c.isalnum() for c in name)


def _too_far(file: str, layout: Layout) -> Iterator[Fault]:
    """What lies where no frame is."""
    along = [*(p.x for p in layout.places), *(s.x for s in layout.stations), *layout.string]
    if not all(REACH[0] <= x <= REACH[1] for x in along):
        yield Fault(file, "x", "lies on no frame", "give it in mm behind the front points")
    for place in layout.places:
        yield from _no_pair(file, place)
    for name, value in layout.figures.items():
        if not abs(value) <= LARGEST or (value <= 0 and not is_place(name)):
            yield Fault(file, f"figures.{name}", "is no frame's", "give it in mm or kg")


def _no_pair(file: str, place: Place) -> Iterator[Fault]:
    """Whether a place is neither a pair of points nor a point in the middle of a frame."""
    if place.sides == (MIDDLE,):
        if place.half_width:
            yield Fault(file, "half_width", "is no frame's", "a point in the middle has none")
    elif place.sides != PAIR:
        yield Fault(file, "sides", "is no pair", "leave it out, or write middle alone")
    elif not WIDE[0] <= place.half_width <= WIDE[1]:
        yield Fault(file, "half_width", "is no frame's", "give half the width in mm")
    if not HIGH[0] <= place.z <= HIGH[1]:
        yield Fault(file, "z", "is no frame's", "give the height in mm")


def _too_near(file: str, layout: Layout) -> Iterator[Fault]:
    """What lies so near to another that no sum can part them, or in the wrong order."""
    pairs = sorted(p.x for p in layout.places if p.sides == PAIR)
    if len(pairs) < LEVELS:
        yield Fault(file, "place", "has too few pairs of points", "add pairs")
    for xs in (pairs, [s.x for s in layout.stations]):
        if _apart(xs) < LEAST_APART:
            yield Fault(file, "x", "two stand in one place", "set them apart, from front to rear")
    known = layout.place_by_id
    for box in layout.boxes:
        if known[box.rear].x - known[box.front].x < LEAST_BOX:
            yield Fault(file, f"box[{box.id}]", "is too short", "take pairs further apart")
    if layout.string[1] - layout.string[0] < LEAST_STRING:
        yield Fault(file, "string", "is too short", "give it a longer straight stretch")
    yield from _no_car(file, layout.figures)


def _apart(xs: Sequence[float]) -> float:
    """The least distance from one to the next."""
    return min((behind - ahead for ahead, behind in pairwise(xs)), default=math.inf)


def _no_car(file: str, figures: Mapping[str, float]) -> Iterator[Fault]:
    """Figures of which one must be larger than another."""
    for larger, smaller, least, wrong in LARGER:
        if figures.get(larger, 0.0) - figures.get(smaller, 0.0) <= least:
            yield Fault(file, f"figures.{larger}", wrong, "look at both")


LARGER = (
    ("rear_axle_x", "front_axle_x", LEAST_STRING, "is not behind the front axle"),
    ("rail_depth", "rail_thickness", 10.0, "is no deeper than the rail is thick"),
    ("rail_flange", "rail_thickness", 1.0, "is no wider than the rail is thick"),
)
"""Figures of which the first is larger than the second by more than so many mm."""
