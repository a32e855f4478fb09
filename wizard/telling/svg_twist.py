"""Twist along the frame: how much higher the left side stands at each place than where the level
was laid first.
"""

from __future__ import annotations

from collections.abc import Sequence

from wizard.checks.notes import Against
from wizard.judgment.bands import Judged
from wizard.library.shapes import Layout
from wizard.survey.record import Unit
from wizard.telling.amounts import about, doubt, is_zero
from wizard.telling.svg import (
    WIDTH,
    Figure,
    Scale,
    along,
    bar,
    element,
    path,
    picture,
    upright,
)

LEFT, RIGHT, TOP, BOTTOM, HEIGHT = 140.0, WIDTH - 40.0, 20.0, 170.0, 212.0


def twist_figure(judged: Sequence[Judged], layout: Layout, unit: Unit) -> Figure | None:
    """The places with their give or take; None where no level was laid at two of them."""
    found = {j.finding.where: j for j in judged if j.finding.quantity in ("twist", "horn-height")}
    if not found:
        return None
    held = (j.finding.note(Against) for j in found.values())
    against = next((note.place for note in held if note), "")
    places = sorted(
        (
            (layout.place(v.place).x, v.id, v.name)
            for v in layout.levels
            if v.id in found or v.id == against
        ),
    )
    ends = [j.finding.value + s * j.half_width for j in found.values() for s in (-1.0, 1.0)]
    most = 1.1 * max([1.0, *(abs(e) for e in ends)])
    x = Scale(
        places[0][0], places[-1][0] if len(places) > 1 else places[0][0] + 1, LEFT + 40, RIGHT - 40
    )
    y = Scale(-most, most, BOTTOM, TOP)
    parts = [upright(y, LEFT, RIGHT, unit, ("right up", "left up"))]
    at = [(x(px), y(found[id].finding.value if id in found else 0.0)) for px, id, _ in places]
    parts.append(path(at, 1.5, "6 4"))
    for (px, id, _), (cx, cy) in zip(places, at, strict=True):
        if id in found:
            parts.append(bar(x(px), y, found[id].finding.value, found[id].half_width, 1.2))
        fill = "#000" if id in found else "#fff"
        parts.append(
            element("circle", cx=cx, cy=cy, r=4.5, fill=fill, stroke="#000", stroke_width=1.5)
        )
    parts.append(along(((x(px), name) for px, _, name in places), BOTTOM + 22))
    reference = next((name for _, id, name in places if id == against), "the first place")
    words = _words(places, found, reference, unit)
    return picture("twist", "Twist along the frame", words, HEIGHT, *parts)


def _words(
    places: Sequence[tuple[float, str, str]], found: dict[str, Judged], reference: str, unit: Unit
) -> str:
    said = []
    for _, id, name in places:
        if id in found:
            j = found[id]
            side = "left" if j.finding.value > 0 else "right"
            high = f"{about(j.finding.value, 'mm', unit)} higher on the {side}"
            high = "as high on both sides" if is_zero(j.finding.value, "mm", unit) else high
            said.append(f"{name} {high}, {doubt(j, unit)}")
    return (
        f"Height across the rails, held against the {reference} (open ring), front at the left: "
        + "; ".join(said)
        + "."
    )
