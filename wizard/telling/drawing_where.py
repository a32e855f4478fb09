"""The frame from above with the corner marked where the signs gather, for the verdict."""

from __future__ import annotations

from wizard.judgment.cause import Causes
from wizard.judgment.facts import Zone
from wizard.library.shapes import Layout
from wizard.telling.canvas import SOLID, Charset, Drawing
from wizard.telling.causes_words import BOXES, zone_words
from wizard.telling.drawing_plan import Ground, plan_view

NOTHING = Drawing((), (), "")


def where_view(
    causes: Causes, layout: Layout, width: int, height: int, charset: Charset
) -> Drawing:
    """The plan with a mark at the corner and the name of the box that is out; nothing where neither
    is known.
    """
    if causes.corner is None and not causes.box:
        return NOTHING
    plan = plan_view(layout, None, width, height, charset)
    words = _words(causes)
    if not plan.lines:
        return Drawing((), (), words)
    along = [p.x for p in layout.places]
    ground = Ground(
        (min(along), max(along)), max(p.half_width for p in layout.places) or 1.0, width, height
    )
    rows, lit = [list(line.ljust(width)) for line in plan.lines], []
    if causes.box:
        lit.append(_box(rows, ground, layout, causes.box))
    if causes.corner:
        x, y = _spot(layout, causes.corner)
        row, col = int(ground.row(y)), int(ground.col(x))
        lit.append(_put(rows, row, col - 1, SOLID[charset]))
        beside = row - 1 if y > 0 else row + 1
        if 0 <= beside < len(rows):
            lit.append(_put(rows, beside, col - 2, "here"))
    return Drawing(
        tuple("".join(r).rstrip() for r in rows), tuple(span for span in lit if span), words
    )


def _put(rows: list[list[str]], row: int, col: int, text: str) -> tuple[int, int, int]:
    """Text laid over a row, kept on the page; the span that it takes."""
    col = max(0, min(col, len(rows[row]) - len(text)))
    rows[row][col : col + len(text)] = text
    return row, col, col + len(text)


def _spot(layout: Layout, corner: Zone) -> tuple[float, float]:
    """Where the mark goes: a corner's own point, or for the middle the point nearest to half way
    along the rail.
    """
    side, third = corner
    pairs = sorted((p for p in layout.places if p.x >= 0 and side in p.sides), key=lambda p: p.x)
    ends = {"front": pairs[0], "rear": pairs[-1]}
    sign = -1.0 if side == "left" else 1.0
    if third in ends:
        return ends[third].x, sign * ends[third].half_width
    half_way = (pairs[0].x + pairs[-1].x) / 2
    nearest = min(pairs, key=lambda p: abs(p.x - half_way))
    return nearest.x, sign * nearest.half_width


def _box(rows: list[list[str]], ground: Ground, layout: Layout, box: str) -> tuple[int, int, int]:
    """The box's name on the center line between its two crossmembers."""
    found = next((b for b in layout.boxes if b.id == box), None)
    name = found.name if found else "whole frame"
    ends = [layout.place(end).x for end in (found.front, found.rear)] if found else list(ground.x)
    middle = int(ground.col(sum(ends) / 2))
    return _put(rows, int(ground.row(0)), middle - len(name) // 2, name)


def _words(causes: Causes) -> str:
    """The same thing said."""
    parts = ["The frame from above, front to the left, so the car's left side is the lower one."]
    if causes.corner:
        parts.append(f"The mark is at the {zone_words(causes.corner)}, where the signs gather.")
    if causes.box:
        parts.append(BOXES.get(causes.box, f"The {causes.box.replace('-', ' ')} is out."))
    return " ".join(parts)
