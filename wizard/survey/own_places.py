"""Places of the owner's own on his frame: a pair of points for the tape, a station on the string,
one for the level.

They join the layout as any authored place does, so every step, drawing and check has them without
knowing it. A pair gets one box that ties it to a pair of the layout's own: with its width, its two
diagonals and its two sides it stands in the plan, and one slip among them shows.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace

from wizard.library.places import NO_PLACE, OWN, PlaceId, box_of_own
from wizard.library.shapes import Box, Layout, LevelPlace, Place, Station
from wizard.readings.figures import read_length
from wizard.readings.plain import clean_line, pattern
from wizard.readings.refused import Refused
from wizard.survey.record import Survey
from wizard.survey.rows import OwnPlace

USES = ("tape", "string", "level")
KINDS = ("rivet", "hole", "bolt", "edge")
"""What a pair's points may be: content/tools.toml gives each its doubt."""
LONGEST_NAME, MOST = 30, 20
ARM = 400.0
"""mm; a pair is tied to the nearest pair at least so far off, for a shorter box hardly fixes its
angle.
"""
NEAR = 25.0
"""mm; nearer to a place that is there already, it is that place."""
_ID = r"own-[a-z0-9]+(?:-[a-z0-9]+){0,9}"


def place_id(name: str) -> PlaceId:
    """`Cowl bracket` to `own-cowl-bracket`; empty for a name without a letter or figure."""
    words = re.findall(r"[a-z0-9]+", name.lower())[:6]
    return PlaceId(OWN + "-".join(words)) if words else NO_PLACE


def where(row: OwnPlace) -> tuple[str, str, str]:
    """What makes an own place the same one in two surveys."""
    return row.use, row.behind, row.across


def with_own_places(layout: Layout, survey: Survey) -> Layout:
    """The layout with the survey's own places.

    A row that an edited file made unreadable, or that names a place twice, is left out.
    """
    rows = survey.standing(OwnPlace)[:MOST]
    return _sorted_out(layout, rows)[0] if rows else layout


def left_out_places(layout: Layout, survey: Survey) -> tuple[tuple[OwnPlace, str], ...]:
    """Rows that make no place on this frame, each with the reason in one sentence."""
    rows = survey.standing(OwnPlace)
    over = [(row, f"A survey takes {MOST} places of your own.") for row in rows[MOST:]]
    return (*_sorted_out(layout, rows[:MOST])[1], *over)


def _sorted_out(
    layout: Layout, rows: Iterable[OwnPlace]
) -> tuple[Layout, list[tuple[OwnPlace, str]]]:
    base, left_out = layout, []
    # Pairs first, since a level may be laid at one.
    for row in sorted(rows, key=lambda r: USES.index(r.use) if r.use in USES else len(USES)):
        try:
            layout = added(layout, row, base)
        except Refused as refused:
            left_out.append((row, str(refused)))
        except KeyError:
            left_out.append((row, "This kind of frame has no such place."))
    return layout, left_out


def added(layout: Layout, row: OwnPlace, base: Layout) -> Layout:
    """The layout with one own place more.

    base: the layout as authored; a pair is tied to one of its pairs alone, so taking another own
    place out moves nothing. Raises Refused, with what would do, for a row that makes no sense here.
    """
    name = clean_line(row.name, LONGEST_NAME)
    if not pattern(_ID).fullmatch(str(row.place)) or not name.strip("{} ") or row.use not in USES:
        raise Refused("Give the place a short name in plain letters, like cowl bracket.")
    x = float(read_length(row.behind, "mm"))
    rearmost = max(p.x for p in base.places)
    if not 0.0 <= x <= 1.5 * rearmost:
        raise Refused(
            "Type how far the place is behind the front points, like 31 1/2 in. It must be on this"
            " frame."
        )
    if row.use == "string":
        return _station(layout, row, name, x)
    return _pair(layout, row, name, x, base) if row.use == "tape" else _level(layout, row, name, x)


def _station(layout: Layout, row: OwnPlace, name: str, x: float) -> Layout:
    front, rear = layout.string
    if not front < x < rear:
        raise Refused("The string does not reach there. Take a place between its two blocks.")
    _taken(((s.x, s.id, s.name) for s in layout.stations), row, x)
    stations = sorted((*layout.stations, Station(row.place, name, x)), key=lambda s: s.x)
    return replace(layout, stations=tuple(stations))


def _pair(layout: Layout, row: OwnPlace, name: str, x: float, base: Layout) -> Layout:
    _taken(((p.x, p.id, p.name) for p in layout.places), row, x)
    pairs = _pairs_of(base)
    far = [p for p in pairs if abs(p.x - x) >= ARM] or pairs
    tie = min(far, key=lambda p: abs(p.x - x))
    new = Place(
        row.place,
        name,
        x,
        _half_width(row, pairs, x),
        _between(pairs, x, "z"),
        row.kind if row.kind in KINDS else "hole",
        role="rail",
    )
    front, rear = (tie, new) if tie.x < x else (new, tie)
    box = Box(box_of_own(row.place), f"{front.name} to {rear.name}", front.id, rear.id, role="part")
    return replace(layout, places=(*layout.places, new), boxes=(*layout.boxes, box))


def _pairs_of(base: Layout) -> list[Place]:
    """The pairs that another one can be tied to, from the front to the rear."""
    pairs = [p for p in base.places if p.sides == ("left", "right") and p.x >= 0]
    if not pairs:
        raise Refused("This kind of frame has no pair of points to measure it from.")
    return sorted(pairs, key=lambda p: p.x)


def _half_width(row: OwnPlace, pairs: list[Place], x: float) -> float:
    """Half the width across as it was typed; that of the frame there where none was."""
    half = float(read_length(row.across, "mm")) / 2.0 if row.across else _between(pairs, x, "half")
    if not 50.0 <= half <= 1500.0:
        raise Refused("Type the width from the left point to the right one, like 28 1/2 in.")
    return half


def _level(layout: Layout, row: OwnPlace, name: str, x: float) -> Layout:
    at = min(
        (p for p in layout.places if len(p.points) == 2), key=lambda p: abs(p.x - x), default=None
    )
    if at is None or abs(at.x - x) > ARM / 4.0:
        raise Refused(
            "There are no points there for the level. Add the pair first, with /add tape."
        )
    known = next((v for v in layout.levels if v.place == at.id or v.id == row.place), None)
    if known:
        raise Refused(f"The level is already read there, at “{known.name}”.")
    levels = sorted(
        (*layout.levels, LevelPlace(row.place, name, at.id)), key=lambda v: layout.place(v.place).x
    )
    return replace(layout, levels=tuple(levels))


def _taken(rows: Iterable[tuple[float, PlaceId, str]], row: OwnPlace, x: float) -> None:
    for there, id, name in rows:
        if id == row.place or abs(there - x) < NEAR:
            raise Refused(
                f"“{name}” is already measured there. Take another place or another name."
            )


def _between(pairs: list[Place], x: float, what: str) -> float:
    """Half width or height at x, drawn straight between the layout's pairs; level beyond the last
    one.
    """
    values = [(p.x, p.half_width if what == "half" else p.z) for p in pairs]
    before = [v for v in values if v[0] <= x] or values[:1]
    behind = [v for v in values if v[0] >= x] or values[-1:]
    (x0, v0), (x1, v1) = before[-1], behind[0]
    return v0 if x1 <= x0 else v0 + (v1 - v0) * (x - x0) / (x1 - x0)
