"""The fields of a prompt's template: what each kind of item fills in, and the faults a template can
have.
"""

from __future__ import annotations

import string
from collections.abc import Callable, Iterable, Iterator, Mapping

from wizard.library.fields import Table, nearest
from wizard.library.places import NO_PLACE, SIDES, PointId, is_own
from wizard.library.shapes import Box, Layout, LevelPlace, Need, Place, PromptTemplate, Step

BOX = (
    *("box", "box_name", "front", "rear", "front_name", "rear_name"),
    *("through", "through_name", "second", "second_name"),
)
FIELDS: Mapping[str, tuple[str, ...]] = {
    "": (),
    "side": ("item", "side"),
    "box": ("item", *BOX),
    "front-box": BOX,
    "place": ("item", "place", "place_name"),
    "station": ("item", "station", "station_name"),
    "level": ("item", "level", "level_name", "place"),
}
"""What may stand in braces, by `each`. `through` is the box's place in its middle, `second` the
next pair of points behind its rear.
"""
KIND = "layout"
"""Key of a need on the kind of frame."""


def items(each: str, layout: Layout) -> Iterator[Mapping[str, str]]:
    """The fields that a template may use, one mapping for each item of the layout's list."""
    fill = FILLED.get(each)
    if fill:
        yield from fill(layout)


def _box(box: Box, layout: Layout) -> Mapping[str, str]:
    names = {str(p.id): p.name for p in layout.places}
    rear = layout.place(box.rear).x if box.rear in layout.place_by_id else 0.0
    # Never an owner's own pair: what was asked before he added it must stay the same question.
    behind = [p for p in layout.places if p.x > rear and len(p.points) == 2 and not is_own(p.id)]
    second = min(behind, key=lambda p: p.x).id if behind else NO_PLACE
    fields = {"box": str(box.id), "box_name": box.name}
    for key, id in (
        ("front", box.front),
        ("rear", box.rear),
        ("through", box.through),
        ("second", second),
    ):
        fields |= {key: str(id), f"{key}_name": names.get(str(id), str(id))}
    return fields


FILLED: Mapping[str, Callable[[Layout], Iterable[Mapping[str, str]]]] = {
    "": lambda layout: ({},),
    "side": lambda layout: ({"item": side, "side": side} for side in SIDES),
    "box": lambda layout: ({"item": str(b.id), **_box(b, layout)} for b in layout.boxes),
    "front-box": lambda layout: (_box(b, layout) for b in layout.boxes if called(b) == "front-box"),
    "place": lambda layout: (
        {"item": str(p.id), "place": str(p.id), "place_name": p.name} for p in layout.places
    ),
    "station": lambda layout: (
        {"item": str(s.id), "station": str(s.id), "station_name": s.name} for s in layout.stations
    ),
    "level": lambda layout: (
        {
            **{"item": str(v.id), "level": str(v.id)},
            **{"level_name": v.name, "place": str(v.place)},
        }
        for v in layout.levels
    ),
}
"""How the fields are filled in, by `each`."""


def called(row: Box | Place | LevelPlace) -> str:
    """What the steps call an item: its role, else its id."""
    return row.role or str(row.id)


def wanted(prompt: PromptTemplate, layout: Layout) -> tuple[Mapping[str, str], ...]:
    """The fields of every item of the layout that a template is asked for."""
    if misfit(prompt.needs, layout):
        return ()
    rows: Mapping[str, tuple[Box | Place | LevelPlace, ...]] = {
        "box": layout.boxes,
        "place": layout.places,
        "level": layout.levels,
    }
    names = {str(r.id): called(r) for r in rows.get(prompt.each, ())}
    found = items(prompt.each, layout)
    return tuple(
        f
        for f in found
        if not prompt.only or names.get(f.get("item", ""), f.get("item")) in prompt.only
    )


def misfit(needs: Iterable[Need], layout: Layout) -> Need | None:
    """The first need on the kind of frame that the layout does not meet; None where it suits."""
    for need in needs:
        if need.key == KIND and layout.words.isdisjoint(need.any):
            return need
    return None


def fits(step: Step, layout: Layout) -> bool:
    """Whether a step is asked of this kind of frame at all."""
    return not misfit(step.needs, layout) and (not step.layouts or layout.id in step.layouts)


def belongs(step: Step, layout: Layout) -> bool:
    """False for a step of another kind of frame, of which nothing need be said here."""
    need = misfit(step.needs, layout)
    return need is None or bool(need.instead)


def field_faults(t: Table, prompt: PromptTemplate) -> None:
    """A field in braces that the prompt's items do not have would only show when the prompt is
    asked.
    """
    texts = [
        ("id", prompt.last),
        ("ask", prompt.ask),
        ("short", prompt.short),
        ("start", str(prompt.start)),
        ("end", str(prompt.end)),
    ]
    for key, text in texts + [("needs.key", need.key) for need in prompt.needs]:
        known = FIELDS.get(prompt.each, ())
        try:
            parts = list(string.Formatter().parse(text))
        except ValueError:
            t.fault(key, f"'{text}' has a brace without its twin", "write a field as {front}")
            continue
        for _, name, spec, turn in parts:
            if name is not None and (name not in known or spec or turn):
                t.fault(
                    key,
                    f"'{{{name}}}' is no field here",
                    nearest(name, known) if known else "leave it out",
                )


def points_of(layout: Layout) -> frozenset[PointId]:
    """The ids of every point of a layout: `front-left`, or `tail` for a point in the middle."""
    return frozenset(point for place in layout.places for point in place.points)
