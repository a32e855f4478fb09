"""The fields of a prompt's template: what each kind of item fills in, and the faults a template can have."""

from __future__ import annotations

import string
from collections.abc import Iterator, Mapping

from wizard.library.fields import Table, nearest
from wizard.library.shapes import Layout, PromptTemplate

FIELDS: Mapping[str, tuple[str, ...]] = {
    "": (),
    "side": ("item", "side"),
    "box": ("item", "box", "box_name", "front", "rear", "front_name", "rear_name"),
    "place": ("item", "place", "place_name"),
    "station": ("item", "station", "station_name"),
    "level": ("item", "level", "level_name", "place"),
}
"""What may stand in braces, by `each`."""
SIDES = ("left", "right")


def items(each: str, layout: Layout) -> Iterator[Mapping[str, str]]:
    """The fields that a template may use, one mapping for each item of the layout's list."""
    names = {p.id: p.name for p in layout.places}
    if each == "":
        yield {}
    for side in SIDES if each == "side" else ():
        yield {"item": side, "side": side}
    for b in layout.boxes if each == "box" else ():
        yield {
            "item": b.id,
            "box": b.id,
            "box_name": b.name,
            "front": b.front,
            "rear": b.rear,
            "front_name": names.get(b.front, b.front),
            "rear_name": names.get(b.rear, b.rear),
        }
    for p in layout.places if each == "place" else ():
        yield {"item": p.id, "place": p.id, "place_name": p.name}
    for s in layout.stations if each == "station" else ():
        yield {"item": s.id, "station": s.id, "station_name": s.name}
    for v in layout.levels if each == "level" else ():
        yield {"item": v.id, "level": v.id, "level_name": v.name, "place": v.place}


def field_faults(t: Table, prompt: PromptTemplate) -> None:
    """A field in braces that the prompt's items do not have would only show when the prompt is asked."""
    texts = [("id", prompt.id), ("ask", prompt.ask), ("start", prompt.start), ("end", prompt.end)]
    for key, text in texts + [("needs.key", need.key) for need in prompt.needs]:
        known = FIELDS.get(prompt.each, ())
        try:
            parts = list(string.Formatter().parse(text))
        except ValueError:
            t.fault(key, f"'{text}' has a brace without its twin", "write a field as {front}")
            continue
        for _, name, spec, turn in parts:
            if name is not None and (name not in known or spec or turn):
                t.fault(key, f"'{{{name}}}' is no field here", nearest(name, known) if known else "leave it out")


def points_of(layout: Layout) -> frozenset[str]:
    """The ids of every point of a layout: `front-left`, or `tail` for a point in the middle."""
    return frozenset(p.id if side == "middle" else f"{p.id}-{side}" for p in layout.places for side in p.sides)
