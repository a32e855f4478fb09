"""A frame of none of the kinds that content has: what its owner says of it becomes a layout as any
other, with boxes, stations and places for the level, and goes into a file and out of one.
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import pairwise
from typing import Any

from wizard.library import marks
from wizard.library.fields import Fault, Table
from wizard.library.layouts import FIGURES, MADE, read_layout, unfit
from wizard.library.places import FRONT_BOX, REAR_BOX, WHOLE_BOX, PlaceId
from wizard.library.set_up import (
    ACROSS,
    BEHIND,
    DEPTH,
    FRONT_AXLE,
    HEIGHTS,
    HORNS,
    JOINTS,
    MOUNT,
    NAME,
    POINT_KINDS,
    RAILS,
    REAR_AXLE,
    STRING_FROM,
    STRING_TO,
    TIP_ACROSS,
    TIP_AHEAD,
    UP,
    agreeing,
    lengths_in,
    name_at,
    of_pair,
    pairs_in,
    wanted,
)
from wizard.library.shapes import Box, Layout, LevelPlace, Library, Place, Station
from wizard.readings.plain import clean_line
from wizard.readings.refused import Refused
from wizard.readings.written import write_fraction_about
from wizard.survey.record import Unit

TOO_LONG = 60_000
"""Characters of a layout's text beyond which it is left unread."""
STATIONS = 5
"""Of the string, as most authored layouts have: each is read on both rails, in two states."""
INSET, NEAR = 0.03, 0.1
"""Parts of the string kept free at its ends, and between two stations."""
ROUND: Mapping[Unit, float] = {"in": 25.4, "mm": 10.0}
"""mm to which a station stands in even figures from the front block."""
KINKED = 60.0
"""mm; where the ends of a box stand so much higher than each other, no bar lies flat on it."""
WIDE = 550.0
"""mm from the center line; where the rails lie further apart the level is read twice, for there the
level alone left a lean open in one straight frame of six (see
content/layouts/boxed-perimeter.toml)."""
FLANGE = 0.44
"""A flange's width in parts of the rail's depth, as the authored layouts have it, from memory."""


# From a file --------------------------------------------------------------------------------------


def layout_in(text: str, library: Library) -> Layout | Fault:
    """The layout that a text holds, held to all that holds the content's own; the first fault of
    one that cannot be used.
    """
    name = "layout"
    if len(text) > TOO_LONG:
        return Fault(name, "file", "is too long", "leave something out")
    try:
        data = tomllib.loads(text)
    except (ValueError, RecursionError):
        return Fault(name, "file", "is not TOML", "take the file as the wizard wrote it")
    faults: list[Fault] = []
    layout = read_layout(Table(data, name, faults), set(POINT_KINDS))
    return next(iter(faults or faults_of(layout, library)), layout)


def faults_of(layout: Layout, library: Library) -> list[Fault]:
    """What is wrong with a layout that nobody of this project has written; nothing is computed of
    one with any.
    """
    from wizard.library.references import layout_faults, traits_of  # only such a layout needs it

    return list(unfit(layout, traits_of(library))) or list(layout_faults(library, layout))


def layout_text(layout: Layout) -> str:
    """A layout as a file of content has it."""
    import tomli_w  # a survey that only carries one never writes it

    data: dict[str, Any] = {
        "format": 1,
        "id": layout.id,
        "name": layout.name,
        "about": layout.about,
        "source": layout.source,
        "traits": list(layout.traits),
        "string": list(layout.string),
        "place": [_row(p, Place) for p in layout.places],
        "box": [_row(b, Box) for b in layout.boxes],
        "station": [_row(s, Station) for s in layout.stations],
        "level": [_row(v, LevelPlace) for v in layout.levels],
        "figures": dict(layout.figures),
    }
    return tomli_w.dumps(data)


def _row(row: Any, kind: Any) -> dict[str, Any]:
    """Its fields, but for those that say nothing."""
    usual = kind._field_defaults
    fields = row._asdict()
    return {
        key: list(value) if isinstance(value, tuple) else value
        for key, value in fields.items()
        if key not in usual or value != usual[key]
    }


# Set up -------------------------------------------------------------------------------------------


def still_wanted(said: Mapping[str, str]) -> str:
    """The key of the first thing that must still be said; empty where the frame is set up."""
    good = agreeing(said)
    return next((key for key in wanted(good) if not good.get(key)), "")


def built(template: Layout, said: Mapping[str, str], unit: Unit) -> Layout:
    """The layout of an owner's own frame.

    template: gives what he has not said. said: by the keys of wizard/library/set_up.py; what cannot
    be is left out. The rule is part of the record: a frame that was set up is the same one in every
    later version of the program, or its readings would be of other places.
    """
    said = agreeing(said)
    found = lengths_in(said)
    pairs = _pairs(template, said, found)
    string = _string(found, pairs)
    tips = _tips(said, found)
    kicks = (marks.KICKS,) if said.get(HEIGHTS) == marks.KICKS else ()
    return replace(
        template,
        places=(*tips, *pairs),
        boxes=(*_boxes(pairs), *_horn_box(tips, pairs)),
        stations=_stations(string, pairs, found.get(MOUNT), unit),
        levels=tuple(_levels(tips, pairs)),
        string=string,
        figures=_figures(template, found, string),
        traits=(*_made(template, said), *kicks, *extra_traits(template)),
    )


def extra_traits(layout: Layout) -> tuple[str, ...]:
    """What a kind of frame is beside how it is made."""
    made = {trait for pair in MADE for trait in pair}
    return tuple(t for t in layout.traits if t not in made)


def _made(template: Layout, said: Mapping[str, str]) -> Iterator[str]:
    """How the rails and the joints are made."""
    for key, either in zip((RAILS, JOINTS), MADE, strict=True):
        usual = next(t for t in template.traits if t in either)
        trait = marks.MADE_SAID.get(said.get(key, ""), usual)
        yield trait if trait in either else usual


def _pairs(
    template: Layout, said: Mapping[str, str], found: Mapping[str, float]
) -> tuple[Place, ...]:
    """The pairs of points from front to rear; one whose place is not said yet lies evenly between
    the others.
    """
    count = pairs_in(said)
    ids = _ids(count)
    xs = _even([0.0, *(found.get(of_pair(BEHIND, n)) for n in range(2, count + 1))], template)
    usual = max(p.half_width for p in template.places)
    high = said.get(HEIGHTS) == marks.KICKS
    return tuple(
        Place(
            id=ids[n],
            name=_name(said, n, count)[0],
            x=xs[n],
            half_width=found.get(of_pair(ACROSS, n + 1), 2 * usual) / 2,
            z=found.get(of_pair(UP, n + 1), 0.0) if high else 0.0,
            kind=_name(said, n, count)[1],
            role="" if ids[n] in _ids(2) or n == count // 2 else marks.RAIL_PAIR,
        )
        for n in range(count)
    )


def _ids(count: int) -> tuple[PlaceId, ...]:
    """Ids of so many pairs: the pages call the first, the middle and the last one by name."""
    inner = [PlaceId(f"pair-{n}") for n in range(2, count)]
    if inner:
        inner[count // 2 - 1] = PlaceId("center")
    return (PlaceId("front"), *inner, PlaceId("rear"))


def _name(said: Mapping[str, str], n: int, count: int) -> tuple[str, str]:
    """Name and kind of a pair, counted from 0."""
    try:
        return name_at(said.get(of_pair(NAME, n + 1), ""))
    except Refused:
        ends = {0: "front", count - 1: "rear"}
        return ends.get(n, f"pair {n + 1}"), POINT_KINDS[1]


def _even(xs: Sequence[float | None], template: Layout) -> list[float]:
    """Every place along the frame: those that are not said lie evenly between, or as far apart as
    in the template behind the last.
    """
    length = max(p.x for p in template.places)
    step = length / max(len(xs) - 1, 1)
    found: list[float] = []
    for n, x in enumerate(xs):
        if x is not None:
            found.append(x)
            continue
        behind = next(((k, v) for k, v in enumerate(xs) if k > n and v is not None), None)
        ahead = found[-1]
        found.append(ahead + ((behind[1] - ahead) / (behind[0] - n + 1) if behind else step))
    return found


def _tips(said: Mapping[str, str], found: Mapping[str, float]) -> tuple[Place, ...]:
    """The pair at the tips of the horns; none where there are none, or they are not said yet."""
    if said.get(HORNS) != marks.WITH_HORNS or not {TIP_AHEAD, TIP_ACROSS} <= found.keys():
        return ()
    half = found[TIP_ACROSS] / 2
    return (Place(marks.TIP, "horn tip", -found[TIP_AHEAD], half, 0.0, POINT_KINDS[1], horns=True),)


def _boxes(pairs: Sequence[Place]) -> Iterator[Box]:
    """The whole frame, the first box and the last, and every one between."""
    yield Box(WHOLE_BOX, "whole frame", pairs[0].id, pairs[-1].id)
    spans = list(pairwise(pairs))
    for n, (front, rear) in enumerate(spans):
        first, last = n == 0, n == len(spans) - 1
        id = FRONT_BOX if first else REAR_BOX if last else PlaceId(f"box-{n + 1}")
        name = "front box" if first else "rear box" if last else f"{front.name} to {rear.name}"
        bent = first and abs(rear.z - front.z) > KINKED
        part = bent or not (first or last)
        yield Box(id, clean_line(name, 60), front.id, rear.id, marks.PART if part else "")


def _horn_box(tips: Sequence[Place], pairs: Sequence[Place]) -> Iterator[Box]:
    if tips:
        yield Box(marks.HORN_BOX, marks.WITH_HORNS, tips[0].id, pairs[0].id)


def _string(found: Mapping[str, float], pairs: Sequence[Place]) -> tuple[float, float]:
    """Where the two blocks stand: on the straight stretch, as far as it is said."""
    last = pairs[-1].x
    front = found.get(STRING_FROM, 0.04 * last)
    rear = found.get(STRING_TO, 0.96 * last)
    return (front, rear) if rear - front >= STRAIGHT else (0.04 * last, 0.96 * last)


STRAIGHT = 300.0
"""mm; a stretch that is not said to its end may come out shorter, and is then not believed."""


Named = tuple[float, PlaceId, str]
"""x in mm, id and name of a station."""


def _stations(
    string: tuple[float, float], pairs: Sequence[Place], mount: float | None, unit: Unit
) -> tuple[Station, ...]:
    """Places along the string: the engine's mount, pairs on the straight stretch, and even figures
    from the front block where the widest gaps are left.
    """
    named = _found_again(string, pairs, mount)
    twice = named[0][1] if named and named[0][0] == mount else None
    for n in range(1, STATIONS - len(named) + 1):
        named.append(_from_the_block(n, string, named, unit))
    twice = twice or _twice(named, string)
    return tuple(Station(id, name, x, 2 if id == twice else 1) for x, id, name in sorted(named))


def _found_again(
    string: tuple[float, float], pairs: Sequence[Place], mount: float | None
) -> list[Named]:
    """Stations at something that stands on the frame, the mount first."""
    length = string[1] - string[0]
    there = [(mount, PlaceId("mount"), "rear engine mount")] if mount is not None else []
    named: list[Named] = []
    for row in (*there, *((p.x, p.id, p.name) for p in pairs)):
        apart = all(abs(row[0] - x) >= NEAR * length for x, _, _ in named)
        if _is_between(row[0], string) and apart and len(named) < STATIONS:
            named.append(row)
    return named


def _is_between(x: float, string: tuple[float, float]) -> bool:
    """Whether the string is read there: clear of both blocks."""
    inset = INSET * (string[1] - string[0])
    return string[0] + inset <= x <= string[1] - inset


def _from_the_block(
    n: int, string: tuple[float, float], named: Sequence[Named], unit: Unit
) -> Named:
    """The n-th station at nothing that can be found again but by the tape: named by that."""
    x = _widest(string, [x for x, _, _ in named]) - string[0]
    x = max(round(x / ROUND[unit]), 1) * ROUND[unit]
    far = f"spot {write_fraction_about(x, unit)} from the front block"
    return string[0] + x, PlaceId(f"from-the-block-{n}"), far


def _widest(string: tuple[float, float], xs: Iterable[float]) -> float:
    """The middle of the widest gap along the string."""
    gaps = pairwise(sorted((*string, *xs)))
    ahead, behind = max(gaps, key=lambda gap: round(gap[1] - gap[0], 3))
    return (ahead + behind) / 2


def _twice(named: Sequence[Named], string: tuple[float, float]) -> PlaceId:
    """The station that is read twice, to learn what the hand is worth, where no engine's mount is
    one: the nearest to the middle.
    """
    middle = sum(string) / 2
    return min(named, key=lambda row: (abs(row[0] - middle), row[0]))[1]


def _levels(tips: Sequence[Place], pairs: Sequence[Place]) -> Iterator[LevelPlace]:
    """The level lies on the tips, at the first pair, the middle one and the last."""
    wide = max(p.half_width for p in pairs) > WIDE
    for tip in tips:
        yield LevelPlace(marks.HORN_BOX, marks.WITH_HORNS, tip.id)
    for pair in (pairs[0], pairs[len(pairs) // 2], pairs[-1]):
        first = pair is pairs[0] and not tips
        often = 2 if wide and pair is not pairs[-1] else 1
        yield LevelPlace(pair.id, pair.name, pair.id, marks.FIRST_LEVEL if first else "", often)


def _figures(
    template: Layout, found: Mapping[str, float], string: tuple[float, float]
) -> dict[str, float]:
    """The template's figures with those that were said in their place."""
    figures = {name: template.figures[name] for name in (*FIGURES, "engine_mass_kg")}
    front = found.get(FRONT_AXLE, figures["front_axle_x"])
    rear = found.get(REAR_AXLE, front + figures[marks.BASE])
    figures |= {"front_axle_x": front, "rear_axle_x": rear, marks.BASE: rear - front}
    if DEPTH in found:
        depth = found[DEPTH]
        thick = min(figures["rail_thickness"], depth / 8)
        figures |= {"rail_depth": depth, "rail_flange": FLANGE * depth, "rail_thickness": thick}
    # Ahead of the string or behind it no station tells of it (as on a perimeter frame).
    mount = found.get(MOUNT)
    if mount is not None and _is_between(mount, string):
        figures["engine_mount_x"] = mount
    return figures


def sketch(template: Layout, said: Mapping[str, str], unit: Unit) -> Layout:
    """The layout with those pairs alone whose width is said, for a drawing that grows."""
    whole, said = built(template, said, unit), agreeing(said)
    known = {id for n, id in enumerate(_ids(pairs_in(said)), start=1) if _is_said(n, said)}
    there = tuple(p for p in whole.places if p.horns or p.id in known)
    ids = {p.id for p in there}
    boxes = tuple(b for b in whole.boxes if {b.front, b.rear} <= ids)
    return replace(whole, places=there, boxes=boxes)


def _is_said(number: int, said: Mapping[str, str]) -> bool:
    """Whether it is known where a pair stands, and how wide."""
    placed = number == 1 or of_pair(BEHIND, number) in said
    return placed and of_pair(ACROSS, number) in said
