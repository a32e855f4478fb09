"""What a plan shows beside the frame for some prompts: the axles under it, the pulley and the
gearbox over it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from wizard.library.shapes import Layout
from wizard.survey.prompts import Prompt

ENDS = ("front", "rear")
SIDES = {"left": -1.0, "right": 1.0}


@dataclass(frozen=True, slots=True)
class Extras:
    """Points that are none of the frame's."""

    places: Mapping[str, tuple[str, float, float]] = field(default_factory=dict)
    """Id to name, x and y in mm, as a point of the frame has them."""
    lines: tuple[tuple[str, str], ...] = ()
    """Ids joined by a bar: an axle."""
    lit: tuple[str, str] | None = None
    """The two points of the tape asked for, where one is not of the frame."""
    mark: str = ""
    """The one spot that is looked at, with no tape."""


def extras_of(prompt: Prompt, layout: Layout) -> Extras:
    """The extras of a prompt; none for most."""
    name = prompt.id.rsplit("/", 1)[-1]
    if prompt.step == "wheelbase":
        return _axles(name, layout)
    if prompt.step == "pulley-hint":
        return _over(name, layout)
    return Extras()


def _axles(name: str, layout: Layout) -> Extras:
    figures = layout.figures
    if not {"front_axle_x", "rear_axle_x", "track"} <= figures.keys():
        return Extras()
    across = figures["track"] / 2.0
    places = {
        f"axle-{end}-{side}": (
            f"{side} end of the {end} axle",
            figures[f"{end}_axle_x"],
            sign * across,
        )
        for end in ENDS
        for side, sign in SIDES.items()
    }
    lines = tuple((f"axle-{end}-left", f"axle-{end}-right") for end in ENDS)
    lit = None
    if name in SIDES:
        lit = (f"axle-front-{name}", f"axle-rear-{name}")
    elif (parts := name.split("-"))[1:2] == ["axle"] and parts[0] in ENDS and parts[-1] in SIDES:
        end, side = parts[0], parts[-1]
        # The tape runs along the rail, from the axle under it.
        rail = next((p.half_width for p in layout.places if p.id == end), across)
        places["under"] = (
            f"{end} axle under the {side} rail",
            figures[f"{end}_axle_x"],
            SIDES[side] * rail,
        )
        lit = ("under", f"{end}-{side}")
    return Extras(places, lines, lit)


def _over(name: str, layout: Layout) -> Extras:
    ids = {p.id: p for p in layout.places}
    place, what = ("front", "pulley") if name == "pulley" else ("center", "gearbox tail")
    if place not in ids:
        return Extras()
    return Extras({name: (what, ids[place].x, 0.0)}, mark=name)
