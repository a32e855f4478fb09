"""The string's profile of one rail: with the engine's weight and without it, each with its band of
doubt.
"""

from __future__ import annotations

from collections.abc import Sequence

from wizard.judgment.bands import Judged
from wizard.library.shapes import Layout
from wizard.survey.record import Unit
from wizard.telling.amounts import about
from wizard.telling.svg import (
    WIDTH,
    Figure,
    Scale,
    along,
    area,
    element,
    line,
    path,
    picture,
    text,
    upright,
)

LEFT, RIGHT, TOP, BOTTOM, HEIGHT = 110.0, WIDTH - 20.0, 34.0, 190.0, 232.0
NAMES = {"sag-loaded": "with the engine's weight", "sag-unloaded": "without it"}

Profile = Sequence[tuple[float, str, Judged]]
"""(x in mm, name of the station, the judged sag there), front to rear."""


def profile(judged: Sequence[Judged], layout: Layout, quantity: str, side: str) -> Profile:
    """The sags of one rail in one state, by station."""
    found = {j.finding.where: j for j in judged if j.finding.quantity == quantity}
    stations = sorted(layout.stations, key=lambda s: s.x)
    return [(s.x, s.name, found[f"{s.id}/{side}"]) for s in stations if f"{s.id}/{side}" in found]


def reach_of(profiles: Sequence[Profile]) -> tuple[float, float]:
    """Highest and lowest that the bands go, mm of sag: the same for both rails, so that they can be
    compared.
    """
    ends = [
        j.finding.value + s * j.half_width for p in profiles for _, _, j in p for s in (-1.0, 1.0)
    ]
    low, high = min([*ends, -0.5]), max([*ends, 2.0])
    return low - 0.1 * (high - low), high + 0.1 * (high - low)


def string_figure(
    side: str, profiles: dict[str, Profile], layout: Layout, unit: Unit, reach: tuple[float, float]
) -> Figure:
    """Both profiles of one rail; low is drawn low."""
    x = Scale(layout.string[0], layout.string[1], LEFT, RIGHT)
    y = Scale(reach[0], reach[1], TOP, BOTTOM)
    parts = [upright(y, LEFT, RIGHT, unit, ("high", "low"))]
    for quantity, points in profiles.items():
        parts.append(_band(points, x, y, quantity == "sag-loaded"))
    for quantity, points in profiles.items():
        parts.append(_curve(points, x, y, quantity == "sag-loaded"))
    names = {name: at for points in profiles.values() for at, name, _ in points}
    parts.append(along(((x(at), name) for name, at in names.items()), BOTTOM + 22))
    parts.append(_key(list(profiles)))
    times = (
        (BOTTOM - TOP)
        / (reach[1] - reach[0])
        * (layout.string[1] - layout.string[0])
        / (RIGHT - LEFT)
    )
    title = f"The {side} rail under its string"
    return picture(f"string-{side}", title, _words(side, profiles, unit, times), HEIGHT, *parts)


def _band(points: Profile, x: Scale, y: Scale, loaded: bool) -> str:
    upper = [(x(at), y(j.finding.value - j.half_width)) for at, _, j in points]
    lower = [(x(at), y(j.finding.value + j.half_width)) for at, _, j in points]
    if len(points) < 2:
        return "".join(line(*a, *b, 1.0) for a, b in zip(upper, lower, strict=True))
    if loaded:
        return area([*upper, *reversed(lower)], "#ddd")
    return path(upper, 0.7, "2 2") + path(lower, 0.7, "2 2")


def _curve(points: Profile, x: Scale, y: Scale, loaded: bool) -> str:
    """Solid with round marks for the weight on, dashed with open squares for off: told apart
    without color.
    """
    at = [(x(p), y(j.finding.value)) for p, _, j in points]
    marks = (
        element("circle", cx=cx, cy=cy, r=4.5, fill="#000")
        if loaded
        else element(
            "rect",
            x=cx - 4.5,
            y=cy - 4.5,
            width=9.0,
            height=9.0,
            fill="#fff",
            stroke="#000",
            stroke_width=1.5,
        )
        for cx, cy in at
    )
    return path(at, 2.0, "" if loaded else "7 4") + "".join(marks)


def _key(quantities: Sequence[str]) -> str:
    parts, x = [], LEFT
    for quantity in quantities:
        loaded = quantity == "sag-loaded"
        parts.append(line(x, 14, x + 34, 14, 2.0, "" if loaded else "7 4"))
        told = f"{NAMES[quantity]}, {'gray' if loaded else 'dotted'}: give or take"
        parts.append(text(x + 40, 18, told))
        x += 310
    return "".join(parts)


def _words(side: str, profiles: dict[str, Profile], unit: Unit, times: float) -> str:
    said = []
    for quantity, points in profiles.items():
        each = ", ".join(f"{name} {_amount(j, unit)}" for _, name, j in points)
        said.append(f"{NAMES[quantity]}: {each}")
    drawn = f"Front at the left; heights are drawn {times:.0f} times as large as lengths."
    return (
        f"The {side} rail's gap to a straight line between the string's blocks, "
        + "; ".join(said)
        + f". {drawn}"
    )


def _amount(judged: Judged, unit: Unit) -> str:
    value = judged.finding.value
    size = about(value, "mm", unit)
    return size if size.startswith("0 ") else f"{size} {'low' if value > 0 else 'high'}"
