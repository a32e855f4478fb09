"""The frame from above with its deviations drawn larger than they are: where each point is off, and
how surely.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from wizard.checks.plan_shape import Displaced
from wizard.library.shapes import Layout
from wizard.survey.record import Unit
from wizard.telling.amounts import about
from wizard.telling.drawing_plan import spots
from wizard.telling.drawing_side import TIMES
from wizard.telling.svg import Figure, arrow, element, number, path, picture, text
from wizard.telling.svg_frame import Ground, frame, ground_of, sides

REACH = 46.0
"""Units that the longest arrow with its ellipse may take."""


def plan_figure(points: Sequence[Displaced], layout: Layout, unit: Unit) -> Figure:
    """The frame made alike on both sides, pale, the frame as taped over it, an arrow and an ellipse
    at each point.
    """
    shift = _shift(points, layout)
    layout = _as_large(layout, points, shift)
    ground = ground_of(layout, above=REACH + 14, below=REACH + 40)
    size = (
        max((math.hypot(p.dx, p.dy) + p.major for p in points), default=1.0) * ground.units_per_mm
    )
    times = max((t for t in TIMES if t * size <= REACH), default=1)
    alike = {p.point: (p.x - p.dx + shift, p.y - p.dy) for p in points}
    taped = {
        p.point: (alike[p.point][0] + times * p.dx, alike[p.point][1] + times * p.dy)
        for p in points
    }
    parts = [
        element("g", frame(layout, ground, alike, 3.0), opacity=0.3),
        frame(layout, ground, taped, 1.8),
        sides(ground),
        *(_point(p, ground, alike[p.point], taped[p.point], times) for p in points),
        _key(ground, unit, times),
    ]
    return picture(
        "plan", "The frame from above", _words(points, layout, unit, times), ground.height, *parts
    )


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
            replace(place, x=sum(x for x, _ in at) / len(at), half_width=half) if at else place
        )
    return replace(layout, places=tuple(places))


def _point(
    p: Displaced, ground: Ground, start: tuple[float, float], end: tuple[float, float], times: int
) -> str:
    (x0, y0), (x1, y1) = ground.at(*start), ground.at(*end)
    k = times * ground.units_per_mm
    # The car's right is up on the page, so the angle turns the other way.
    turn = f"rotate({number(-math.degrees(p.angle))} {number(x1)} {number(y1)})"
    ellipse = element(
        "ellipse", cx=x1, cy=y1, rx=p.major * k, ry=p.minor * k, transform=turn, fill="#fff", fill_opacity=0.6,
        stroke="#000", stroke_width=1.2, stroke_dasharray="3 2",
    )  # fmt: skip
    return (
        ellipse
        + arrow(x0, y0, x1, y1, 2.6, 11.0)
        + element("circle", cx=x0, cy=y0, r=2.5, fill="#000")
    )


def _key(ground: Ground, unit: Unit, times: int) -> str:
    """How long a round amount is drawn."""
    mm, words = (6.35, "1/4 in") if unit == "in" else (5.0, "5 mm")
    length = mm * times * ground.units_per_mm
    y = ground.height - 12
    bar = path([(70, y - 5), (70, y), (70 + length, y), (70 + length, y - 5)], 1.5)
    told = (
        f"{words}, drawn {times} times too large"
        if times > 1
        else f"{words}, as large as the frame"
    )
    return bar + text(78 + length, y + 2, told)


def _words(points: Sequence[Displaced], layout: Layout, unit: Unit, times: int) -> str:
    known = spots(layout)
    said = [
        f"{known[p.point].name if p.point in known else p.point} {_off(p, unit)}" for p in points
    ]
    return (
        "Front to the left, the car's left side below. Pale: the frame made alike on both sides,"
        f" as near as it comes to the tapes. Dark: as taped, deviations drawn {times} times too"
        " large. An arrow says which way a point is off; its true place lies in the dashed ellipse"
        " 19 times in 20. Twins share a difference equally, since no tape can say which of the two"
        " has moved. " + "; ".join(said) + "."
    )


def _off(p: Displaced, unit: Unit) -> str:
    size = about(math.hypot(p.dx, p.dy), "mm", unit)
    if size.startswith("0 "):
        return "not off"
    along = ("back" if p.dx > 0 else "forward") if abs(p.dx) > 0.4 * abs(p.dy) else ""
    across = ("to the right" if p.dy > 0 else "to the left") if abs(p.dy) > 0.4 * abs(p.dx) else ""
    return (
        f"{size} {' and '.join(w for w in (along, across) if w)}, give or take"
        f" {about(p.major, 'mm', unit)} at most"
    )
