"""content/layouts/*.toml: kinds of frame."""

from __future__ import annotations

from wizard.library.fields import Table, nearest
from wizard.library.shapes import Box, Layout, LevelPlace, Place, Station

SIDES = ("left", "right", "middle")


def _place(t: Table, kinds: set[str]) -> Place:
    place = Place(
        id=t.text("id"),
        name=t.text("name"),
        x=t.number("x"),
        half_width=t.number("half_width"),
        z=t.number("z", 0.0),
        kind=t.word("kind", kinds),
        sides=t.texts("sides") or ("left", "right"),
        note=t.text("note", ""),
    )
    for side in place.sides:
        if side not in SIDES:
            t.fault("sides", f"'{side}' is not known", nearest(side, SIDES))
    if place.half_width < 0:
        t.fault("half_width", "is below zero", "give the distance from the centre line as a plain number")
    t.done()
    return place


def _box(t: Table, places: set[str]) -> Box:
    box = Box(t.text("id"), t.text("name"), t.word("front", places), t.word("rear", places))
    t.done()
    return box


def _station(t: Table) -> Station:
    station = Station(t.text("id"), t.text("name"), t.number("x"))
    t.done()
    return station


def _level(t: Table, places: set[str]) -> LevelPlace:
    level = LevelPlace(t.text("id"), t.text("name"), t.word("place", places))
    t.done()
    return level


def _doubles(t: Table, key: str, ids: list[str]) -> None:
    for id in sorted({i for i in ids if ids.count(i) > 1}):
        t.fault(key, f"'{id}' stands there twice", "give each an id of its own")


def read_layout(t: Table, kinds: set[str]) -> Layout:
    """One layout out of its file; faults go to the table's list."""
    t.whole("format")
    places = tuple(_place(p, kinds) for p in t.tables("place"))
    names = {p.id for p in places}
    string = t.data.get("string", [])
    t.taken.add("string")
    if len(string) != 2 or not all(isinstance(v, int | float) for v in string) or string[0] >= string[1]:
        t.fault("string", "is not two places, front then rear", "write string = [front x, rear x] in mm")
        string = [0.0, 1.0]
    layout = Layout(
        id=t.text("id"),
        name=t.text("name"),
        about=t.text("about"),
        source=t.text("source"),
        places=places,
        boxes=tuple(_box(b, names) for b in t.tables("box")),
        stations=tuple(_station(s) for s in t.tables("station")),
        levels=tuple(_level(v, names) for v in t.tables("level")),
        string=(float(string[0]), float(string[1])),
        figures={k: float(v) for k, v in t.mapping("figures").items() if isinstance(v, int | float)},
    )
    for key, rows in (("place", layout.places), ("box", layout.boxes), ("station", layout.stations)):
        _doubles(t, key, [r.id for r in rows])
    for s in layout.stations:
        if not layout.string[0] <= s.x <= layout.string[1]:
            t.fault(f"station[{s.id}].x", "lies beyond the string", "put it between the two blocks")
    t.done()
    return layout
