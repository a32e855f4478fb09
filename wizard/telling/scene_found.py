"""The frame from above with what was found: where each point is off, and where the signs gather."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from wizard.library.places import WhereId
from wizard.library.shapes import Layout
from wizard.survey.record import Unit
from wizard.telling.amounts import about
from wizard.telling.causes_words import box_words, zone_words
from wizard.telling.scene import (
    TIMES,
    Bar,
    Flat,
    Label,
    Mark,
    Moved,
    Part,
    Scene,
    drawn_words,
    times_as_far,
)
from wizard.telling.scene_frame import SIDES, flat, frame, plan_scene, sides, spots
from wizard.telling.svg import Figure
from wizard.telling.svg_scene import drawn, paper_for

if TYPE_CHECKING:  # only types name them, and they load numpy
    from wizard.checks.plan_shape import Displaced
    from wizard.judgment.cause import Causes
    from wizard.judgment.facts import Zone

REACH = 46.0
"""Units that the longest arrow with its ellipse may take."""

# Where each point is off
# --------------------------------------------------------------------------------------


def plan_figure(points: Sequence[Displaced], layout: Layout, unit: Unit) -> Figure:
    """The frame made alike on both sides, pale, the frame as taped over it, an arrow and an ellipse
    at each point.
    """
    scene = off_scene(points, layout, unit)
    return drawn("plan", "The frame from above", scene, above=REACH + 14, below=REACH + 40)


def off_scene(points: Sequence[Displaced], layout: Layout, unit: Unit) -> Scene:
    """What is drawn of them."""
    shift = _shift(points, layout)
    layout = _as_large(layout, points, shift)
    reach, half = _extent(layout)
    per_mm = paper_for(reach, half).units_per_mm
    size = max((math.hypot(p.dx, p.dy) + p.major for p in points), default=1.0) * per_mm
    times = max((t for t in TIMES if t * size <= REACH), default=1)
    alike = {p.point: (p.x - p.dx + shift, p.y - p.dy) for p in points}
    taped = times_as_far(alike, {p.point: (p.x + shift, p.y) for p in points}, times)
    beyond = {p.point: taped[p.point] for p in points if is_off(p)}
    parts: list[Part] = [
        *frame(layout, flat(layout) | alike, pale=True),
        *frame(layout, flat(layout) | alike | beyond),
        *sides(layout, half),
        *(_moved(p, alike[p.point], taped[p.point], times) for p in points),
        _bar(unit, times),
    ]
    return Scene(tuple(parts), reach, half, _off_words(points, layout, unit, times))


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
    return Moved(start, end, times * p.major, times * p.minor, p.angle, is_off(p))


def is_off(p: Displaced) -> bool:
    """Whether the place where a point would be alike lies outside the ellipse of its doubt; within
    it the point is drawn there.
    """
    along = p.dx * math.cos(p.angle) + p.dy * math.sin(p.angle)
    across = p.dy * math.cos(p.angle) - p.dx * math.sin(p.angle)
    return math.hypot(along * p.minor, across * p.major) > p.major * p.minor


def _bar(unit: Unit, times: int) -> Bar:
    """How long a round amount is drawn."""
    mm, words = (6.35, "1/4 in") if unit == "in" else (5.0, "5 mm")
    return Bar(mm * times, words)


def _off_words(points: Sequence[Displaced], layout: Layout, unit: Unit, times: int) -> str:
    known = spots(layout)
    said = [
        f"{known[p.point].name if p.point in known else p.point} {_off(p, unit)}" for p in points
    ]
    return (
        "Front to the left, the car's left side below. Pale: the frame made alike on both sides,"
        f" as near as it comes to the readings. Dark: as taped, deviations {drawn_words(times)}, and"
        " straight where they are inside their doubt. An arrow says which way a point is off; its"
        " true place lies in the dashed ellipse 19 times in 20. Twins share a difference equally, since no tape can say which of the two"
        " has moved. " + "; ".join(said) + "."
    )


def _off(p: Displaced, unit: Unit) -> str:
    size = about(math.hypot(p.dx, p.dy), "mm", unit)
    if not is_off(p):
        return f"not off by as much as {about(p.major, 'mm', unit)}"
    along = ("back" if p.dx > 0 else "forward") if abs(p.dx) > 0.4 * abs(p.dy) else ""
    across = ("to the right" if p.dy > 0 else "to the left") if abs(p.dy) > 0.4 * abs(p.dx) else ""
    return (
        f"{size} {' and '.join(w for w in (along, across) if w)}, give or take"
        f" {about(p.major, 'mm', unit)} at most"
    )


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
        parts += _corner(_place_of(layout, causes.corner))
    return replace(plan, parts=tuple(parts), words=_where_words(causes))


def _corner(at: Flat) -> list[Part]:
    return [Mark("asked", at, lit=True), Label("here", at, "beyond", lit=True)]


def _place_of(layout: Layout, corner: Zone) -> Flat:
    """Where the mark goes: a corner's own point, or for the middle the point nearest to half way
    along the rail.
    """
    side, third = corner
    pairs = sorted((p for p in layout.places if p.x >= 0 and side in p.sides), key=lambda p: p.x)
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
