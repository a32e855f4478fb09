"""The numbers of the points and of the string's stations: the same in a table, a drawing, a brief and
a worksheet.

A point is a bare number, a station has an S before it. Both go by the order of the layout, front to
rear and left before right; places that the owner added come last, so that no number ever moves.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from wizard.checks.finding import Finding
from wizard.library import marks
from wizard.library.places import PointId, PromptId, WhereId, asked_of, where_of
from wizard.library.shapes import Layout
from wizard.telling.quantity_names import name_of
from wizard.telling.scene_frame import spots

NUMBERS = (
    "Points have bare numbers, stations of the string an S; all drawings and tables have the same."
)


def point_numbers(layout: Layout) -> dict[PointId, int]:
    """Every point of the frame with its number."""
    return {id: n for n, id in enumerate(spots(layout), start=1)}


def station_numbers(layout: Layout) -> dict[WhereId, str]:
    """Every station of the string with its number: `S1`."""
    return {station.id: f"S{n}" for n, station in enumerate(layout.stations, start=1)}


def station_name(id: WhereId, layout: Layout) -> str:
    """`S3 rear engine mount`."""
    station = layout.station_by_id[id]
    return f"{station_numbers(layout)[id]} {station.name}"


def level_name(id: WhereId, layout: Layout) -> str:
    """`center crossmember (5, 6)`."""
    name, numbers = layout.level_by_id[id].name, _listed(_under(id, layout), layout)
    return f"{name} ({numbers})" if numbers else name


def numbered_name(finding: Finding, layout: Layout) -> str:
    """What the figure is, and between brackets the numbers of where it was read: `left rail at the
    rear engine mount, engine on (S3)`, `whole frame: one rail along the other (3, 4, 7, 8)`.
    """
    name, numbers = name_of(finding, layout), numbers_of(finding, layout)
    return f"{name} ({numbers})" if numbers else name


def numbers_of(finding: Finding, layout: Layout) -> str:
    """The numbers of the station, of a tape's two ends, or of the points of a place or a box; empty
    where it is of no such place.
    """
    where = where_of(finding.where)
    if finding.quantity in marks.SAGS:
        return station_numbers(layout).get(where.place, "")
    tape = asked_of(PromptId(str(finding.where))).tape
    if tape is not None:
        return between(tape.ends, point_numbers(layout))
    if finding.quantity in (marks.TWIST, marks.HORN_HEIGHT):
        return _listed(_under(where.place, layout), layout)
    return _listed(_corners(where.place, layout), layout)


def between(ends: tuple[PointId, PointId], points: Mapping[PointId, int]) -> str:
    """`3 to 8`; empty where one of them has no number."""
    numbers = [points.get(end, 0) for end in ends]
    return f"{numbers[0]} to {numbers[1]}" if all(numbers) else ""


def _listed(ids: Sequence[PointId], layout: Layout) -> str:
    points = point_numbers(layout)
    return ", ".join(str(n) for n in sorted(points[id] for id in ids if id in points))


def _under(level: WhereId, layout: Layout) -> tuple[PointId, ...]:
    """The points on which the level lies."""
    found = layout.level_by_id.get(level)
    at = layout.place_by_id.get(found.place) if found is not None else None
    return at.points if at is not None else ()


def _corners(place: WhereId, layout: Layout) -> tuple[PointId, ...]:
    """The points of a box's corners, or of a place."""
    box = layout.box_by_id.get(place)
    ends = (box.front, box.rear) if box is not None else (place,)
    places = (layout.place_by_id[end] for end in ends if end in layout.place_by_id)
    return tuple(point for one in places for point in one.points)
