"""Values against their limit, one chart for each limit: bands as fields, the doubt as a bar, the
value a mark.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import pairwise

from wizard.judgment.bands import Judged
from wizard.library.shapes import Library
from wizard.survey.record import Unit
from wizard.telling.amounts import BANDS, about, bands_words, doubt
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
    edges, kind = judged[0].edges, judged[0].finding.unit
    up = [e.high for e in edges if e.high is not None]
    down = [-e.low for e in edges if e.low is not None]
    high = BEYOND * up[-1] if up else max(1.0, *(j.finding.value for j in judged))
    low = -BEYOND * down[-1] if down else -0.3 * high
    x = Scale(low, high, LEFT, RIGHT)
    bottom = TOP + ROW * len(judged)
    ends = judged[0].finding.of.ends
    parts = [
        *_fields(
            x,
            [e.band for e in edges],
            up,
            down,
            library.limits[judged[0].finding.limit].beyond,
            bottom,
        )
    ]
    parts += [_row(j, x, TOP + ROW * (n + 0.5), name(j)) for n, j in enumerate(judged)]
    parts += [line(x(0), TOP - 4, x(0), bottom, 1.5), text(x(0), bottom + 16, "0", "middle")]
    parts += _bounds(x, [*up, *(-d for d in down)], bottom + 16, lambda v: about(v, kind, unit))
    parts += [
        text(LEFT, bottom + 32, f"< {ends[0]}"),
        text(RIGHT, bottom + 32, f"{ends[1]} >", "end"),
    ]
    said = "; ".join(f"{name(j)} {_said(j, unit)}" for j in judged)
    title = (
        f"{judged[0].finding.quantity.replace('-', ' ').capitalize()} against the limit on"
        f" {judged[0].name}"
    )
    return picture(f"value-{key}", title, f"{said}.", bottom + 40, *parts)


def _fields(
    x: Scale, bands: Sequence[str], up: list[float], down: list[float], beyond: str, bottom: float
) -> list[str]:
    """The bands with their words over them, on the positive side; the negative side is alike or not
    judged.
    """
    parts = []
    words = [BANDS[b] for b in (*bands, beyond)]
    for side, bounds in ((1.0, up), (-1.0, down)):
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


def _row(judged: Judged, x: Scale, y: float, name: str) -> str:
    value, half = judged.finding.value, judged.half_width
    low, high = (min(max(v, x.low), x.high) for v in (value - half, value + half))
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
