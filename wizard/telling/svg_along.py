"""Heights along the frame on paper, the front at the left: a rail under its string, and the twist.

The string's profile is drawn with the engine's weight and without it, each with its band of doubt;
the twist is how much higher the left side stands at each place than where the level was laid first.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from wizard.checks.notes import Against
from wizard.judgment.bands import Judged
from wizard.library.shapes import Layout, Station
from wizard.survey.record import Unit
from wizard.telling.amounts import about, doubt, is_zero
from wizard.telling.svg import (
    WIDTH,
    Figure,
    Scale,
    along,
    area,
    bar,
    dot,
    element,
    line,
    path,
    picture,
    text,
    upright,
)

# Under the string
# --------------------------------------------------------------------------------------

LEFT, RIGHT, TOP, BOTTOM, HEIGHT = 110.0, WIDTH - 20.0, 34.0, 190.0, 232.0
NAMES = {"sag-loaded": "with the engine's weight", "sag-unloaded": "without it"}

Profile = Sequence[tuple[Station, Judged]]
"""Each station with the judged sag there, front to rear."""


def profile(judged: Sequence[Judged], layout: Layout, quantity: str, side: str) -> Profile:
    """The sags of one rail in one state, by station."""
    found = {j.finding.where: j for j in judged if j.finding.quantity == quantity}
    stations = sorted(layout.stations, key=lambda s: s.x)
    return [(s, found[f"{s.id}/{side}"]) for s in stations if f"{s.id}/{side}" in found]


def reach_of(profiles: Sequence[Profile]) -> tuple[float, float]:
    """Highest and lowest that the bands go, mm of sag: the same for both rails, so that they can be
    compared.
    """
    ends = [j.finding.value + s * j.half_width for p in profiles for _, j in p for s in (-1.0, 1.0)]
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
    names = {s.name: s.x for points in profiles.values() for s, _ in points}
    parts.append(along(((x(at), name) for name, at in names.items()), BOTTOM + 22))
    parts.append(_key(list(profiles)))
    times = (
        (BOTTOM - TOP)
        / (reach[1] - reach[0])
        * (layout.string[1] - layout.string[0])
        / (RIGHT - LEFT)
    )
    title = f"The {side} rail under its string"
    return picture(
        f"string-{side}", title, _string_words(side, profiles, unit, times), HEIGHT, *parts
    )


def _band(points: Profile, x: Scale, y: Scale, loaded: bool) -> str:
    upper = [(x(s.x), y(j.finding.value - j.half_width)) for s, j in points]
    lower = [(x(s.x), y(j.finding.value + j.half_width)) for s, j in points]
    if len(points) < 2:
        return "".join(line(*a, *b, 1.0) for a, b in zip(upper, lower, strict=True))
    if loaded:
        return area([*upper, *reversed(lower)], "#ddd")
    return path(upper, 0.7, "2 2") + path(lower, 0.7, "2 2")


def _curve(points: Profile, x: Scale, y: Scale, loaded: bool) -> str:
    """Solid with round marks for the weight on, dashed with open squares for off: told apart
    without color.
    """
    at = [(x(s.x), y(j.finding.value)) for s, j in points]
    marks = (dot(*spot) if loaded else _square(*spot) for spot in at)
    return path(at, 2.0, "" if loaded else "7 4") + "".join(marks)


def _square(x: float, y: float) -> str:
    return element(
        "rect", x=x - 4.5, y=y - 4.5, width=9.0, height=9.0, fill="#fff", stroke="#000",
        stroke_width=1.5,
    )  # fmt: skip


def _key(quantities: Sequence[str]) -> str:
    parts, x = [], LEFT
    for quantity in quantities:
        loaded = quantity == "sag-loaded"
        parts.append(line(x, 14, x + 34, 14, 2.0, "" if loaded else "7 4"))
        told = f"{NAMES[quantity]}, {'gray' if loaded else 'dotted'}: give or take"
        parts.append(text(x + 40, 18, told))
        x += 310
    return "".join(parts)


def _string_words(side: str, profiles: dict[str, Profile], unit: Unit, times: float) -> str:
    said = []
    for quantity, points in profiles.items():
        each = ", ".join(f"{s.name} {_amount(j, unit)}" for s, j in points)
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


# Across the rails
# --------------------------------------------------------------------------------------

ACROSS_LEFT, ACROSS_RIGHT, ACROSS_TOP, ACROSS_BOTTOM = 140.0, WIDTH - 40.0, 20.0, 170.0
INSET = 40.0
"""Units between the plot's edge and its first and last place."""


@dataclass(frozen=True, slots=True)
class Lean:
    """A place across which the level was laid."""

    x: float
    """mm rearward."""
    id: str
    name: str
    judged: Judged | None
    """How it leans; None where the others are held against it."""

    @property
    def value(self) -> float:
        """How much higher its left side stands, mm."""
        return self.judged.finding.value if self.judged else 0.0

    @property
    def half(self) -> float:
        """The give or take."""
        return self.judged.half_width if self.judged else 0.0


def leans_of(judged: Sequence[Judged], layout: Layout) -> list[Lean]:
    """The places that lean, and the one that they are held against, front to rear."""
    found = {j.finding.where: j for j in judged if j.finding.quantity in ("twist", "horn-height")}
    held = (j.finding.note(Against) for j in found.values())
    against = next((note.place for note in held if note), "")
    laid = (v for v in layout.levels if v.id in {*found, against})
    leans = [Lean(layout.place(v.place).x, v.id, v.name, found.get(v.id)) for v in laid]
    return sorted(leans, key=lambda lean: (lean.x, lean.id, lean.name)) if found else []


def twist_figure(judged: Sequence[Judged], layout: Layout, unit: Unit) -> Figure | None:
    """The places with their give or take; None where no level was laid at two of them."""
    leans = leans_of(judged, layout)
    if not leans:
        return None
    most = 1.1 * max([1.0, *(abs(lean.value) + lean.half for lean in leans)])
    last = leans[-1].x if len(leans) > 1 else leans[0].x + 1
    x = Scale(leans[0].x, last, ACROSS_LEFT + INSET, ACROSS_RIGHT - INSET)
    y = Scale(-most, most, ACROSS_BOTTOM, ACROSS_TOP)
    parts = [
        upright(y, ACROSS_LEFT, ACROSS_RIGHT, unit, ("right up", "left up")),
        path([(x(lean.x), y(lean.value)) for lean in leans], 1.5, "6 4"),
        *(_lean(lean, x, y) for lean in leans),
        along(((x(lean.x), lean.name) for lean in leans), ACROSS_BOTTOM + 22),
    ]
    words = _twist_words(leans, unit)
    return picture("twist", "Twist along the frame", words, ACROSS_BOTTOM + 42, *parts)


def _lean(lean: Lean, x: Scale, y: Scale) -> str:
    """Its give or take and a full ring; an open ring alone where the others are held against it."""
    at, fill = x(lean.x), "#000" if lean.judged else "#fff"
    ring = element(
        "circle", cx=at, cy=y(lean.value), r=4.5, fill=fill, stroke="#000", stroke_width=1.5
    )
    return bar(at, y, lean.value, lean.half, 1.2) + ring if lean.judged else ring


def _twist_words(leans: Sequence[Lean], unit: Unit) -> str:
    open_rings = (lean.name for lean in leans if not lean.judged)
    reference = next(open_rings, "the first place")
    said = [f"{lean.name} {_higher(lean.judged, unit)}" for lean in leans if lean.judged]
    return (
        f"Height across the rails, held against the {reference} (open ring), front at the left: "
        + "; ".join(said)
        + "."
    )


def _higher(judged: Judged, unit: Unit) -> str:
    value = judged.finding.value
    side = "left" if value > 0 else "right"
    high = f"{about(value, 'mm', unit)} higher on the {side}"
    high = "as high on both sides" if is_zero(value, "mm", unit) else high
    return f"{high}, {doubt(judged, unit)}"
