"""content/layouts/*.toml: kinds of frame."""

from __future__ import annotations

from wizard.library.fields import Table, nearest
from wizard.library.shapes import Box, Layout, LevelPlace, Place, Station

SIDES = ("left", "right", "middle")
OWN = "own-"
"""What the ids of places begin with that an owner adds to his survey."""


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
        role=t.text("role", ""),
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
        id=t.text("id"),
        name=t.text("name"),
        front=t.word("front", places),
        rear=t.word("rear", places),
        role=t.text("role", ""),
        through=t.word("through", places, ""),
    )
    if box.role == "plate" and not box.through:
        t.fault(
            "through", "is missing", "name the place in the middle from which the corners are taped"
        )
    t.done()
    return box


def _station(t: Table) -> Station:
    station = Station(t.text("id"), t.text("name"), t.number("x"))
    t.done()
    return station


def _level(t: Table, places: set[str]) -> LevelPlace:
    level = LevelPlace(t.text("id"), t.text("name"), t.word("place", places), t.text("role", ""))
    t.done()
    return level


def _doubles(t: Table, key: str, ids: list[str]) -> None:
    for id in sorted({i for i in ids if ids.count(i) > 1}):
        t.fault(key, f"'{id}' stands there twice", "give each an id of its own")
    for id in (i for i in ids if i.startswith(OWN)):
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
    names = {p.id for p in places}
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
    for s in layout.stations:
        if not layout.string[0] <= s.x <= layout.string[1]:
            t.fault(f"station[{s.id}].x", "lies beyond the string", "put it between the two blocks")
    t.done()
    return layout
