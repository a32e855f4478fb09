"""Values against their limit, one chart for each limit: bands as fields, the doubt as a bar, the
value a mark.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import pairwise

from wizard.judgment.bands import Judged
from wizard.library.places import spoken
from wizard.library.shapes import Library
from wizard.survey.record import Unit
from wizard.telling.amounts import about, bands_words, doubt
from wizard.telling.judged_picture import value_of
from wizard.telling.scene_value import Value, finite
from wizard.telling.svg import WIDTH, Figure, Scale, area, line, picture, text

LEFT, RIGHT, ROW, TOP = 200.0, WIDTH - 20.0, 26.0, 44.0
GRAYS = ("#fff", "#e4e4e4", "#c4c4c4", "#9c9c9c", "#777")
"""Fields from the mildest band to the gravest; each is named as well, so no gray must be told from
another.
"""
BEYOND = 1.35
"""Part of the last bound that the axis reaches at most: a value beyond gets an arrow."""


def value_figure(
    key: str, judged: Sequence[Judged], library: Library, unit: Unit, name: Callable[[Judged], str]
) -> Figure:
    """The findings of one quantity on one axis; all have the same limit. `name` says where each is."""
    values = [value_of(j, library, unit) for j in judged]
    x = _axis(values)
    bottom = TOP + ROW * len(judged)
    ends = judged[0].finding.of.ends
    up, down = finite(values[0].bounds), finite(values[0].below)
    rows = enumerate(zip(values, judged, strict=True))
    parts = [
        *_fields(x, values[0], bottom),
        *(_row(value, x, TOP + ROW * (n + 0.5), name(j)) for n, (value, j) in rows),
        line(x(0), TOP - 4, x(0), bottom, 1.5),
        text(x(0), bottom + 16, "0", "middle"),
        *_bounds(x, [*up, *(-d for d in down)], bottom + 16, values[0].say),
        text(LEFT, bottom + 32, f"< {ends[0]}"),
        text(RIGHT, bottom + 32, f"{ends[1]} >", "end"),
    ]
    said = "; ".join(f"{name(j)} {_said(j, unit)}" for j in judged)
    quantity = spoken(judged[0].finding.quantity).capitalize()
    title = f"{quantity} against the limit on {judged[0].name}"
    return picture(f"value-{key}", title, f"{said}.", bottom + 40, *parts)


def _axis(values: Sequence[Value]) -> Scale:
    """Some way beyond the last bound on either side that is judged."""
    up, down = finite(values[0].bounds), finite(values[0].below)
    high = BEYOND * up[-1] if up else max(1.0, *(v.value for v in values))
    low = -BEYOND * down[-1] if down else -0.3 * high
    return Scale(low, high, LEFT, RIGHT)


def _fields(x: Scale, value: Value, bottom: float) -> list[str]:
    """The bands with their words over them, on the positive side; the negative side is alike or not
    judged.
    """
    parts = []
    words = [word for _, word in value.bounds]
    for side, bounds in ((1.0, finite(value.bounds)), (-1.0, finite(value.below))):
        limit = x.high if side > 0 else -x.low
        marks = [0.0, *bounds, limit] if bounds else []
        for n, (a, b) in enumerate(pairwise(marks)):
            x0, x1 = sorted((x(side * a), x(side * b)))
            parts.append(
                area([(x0, TOP), (x1, TOP), (x1, bottom), (x0, bottom)], GRAYS[min(n, 4)], 0.5)
            )
            if side > 0:
                parts += _over(words[n], (x0 + x1) / 2, x1 - x0)
    return parts


def _bounds(x: Scale, bounds: Sequence[float], y: float, say: Callable[[float], str]) -> list[str]:
    """The ends of the bands in words, those nearest to zero first; one that would touch another is
    left out.
    """
    taken = [x(0.0)]
    parts = []
    for bound in sorted(bounds, key=abs):
        if all(abs(x(bound) - t) >= 40 for t in taken):
            taken.append(x(bound))
            parts.append(text(x(bound), y, say(bound), "middle", font_size=10.5))
    return parts


def _over(words: str, middle: float, room: float) -> list[str]:
    """Words over a field, on up to three lines of small letters; what does not fit stands in the
    caption anyway.
    """
    rows: list[str] = []
    for word in words.split():
        if rows and len(rows[-1]) + 1 + len(word) <= room / 5.0:
            rows[-1] += " " + word
        else:
            rows.append(word)
    if len(rows) > 3 or any(len(r) * 5.0 > room for r in rows):
        return []
    return [
        text(middle, TOP - 6 - 11 * (len(rows) - 1 - n), r, "middle", font_size=10)
        for n, r in enumerate(rows)
    ]


def _row(scene: Value, x: Scale, y: float, name: str) -> str:
    value = scene.value
    low, high = (min(max(v, x.low), x.high) for v in (scene.low, scene.high))
    parts = [text(LEFT - 8, y + 4, name, "end", font_size=11), line(x(low), y, x(high), y, 5.0)]
    if x.low <= value <= x.high:
        ring = [(x(value), y - 8), (x(value) + 6, y), (x(value), y + 8), (x(value) - 6, y)]
        return "".join(parts) + area(ring, "#fff", 1.8)
    end, tip = (x(x.high), 1) if value > x.high else (x(x.low), -1)
    return "".join(parts) + area(
        [(end, y), (end - 12 * tip, y - 8), (end - 12 * tip, y + 8)], "#000", 1.0
    )


def _said(judged: Judged, unit: Unit) -> str:
    f = judged.finding
    size = f"{about(f.value, f.unit, unit)} {f.of.end(f.value)}".rstrip()
    band = bands_words(judged)
    return f"{size}, {doubt(judged, unit)}{f': {band}' if band else ''}"
