"""content/layouts/*.toml: kinds of frame."""

from __future__ import annotations

from collections.abc import Iterator, Set

from wizard.library.fields import Fault, Table, nearest
from wizard.library.marks import BALL_ON_GEARBOX, BASE
from wizard.library.places import FRONT_BOX, OWN, REAR_BOX, WHOLE_BOX, PlaceId, is_own
from wizard.library.shapes import Box, Layout, LevelPlace, Place, Station

SIDES = ("left", "right", "middle")
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
    level = LevelPlace(id, name, place, t.text("role", ""), _repeats(t))
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
    )
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
