"""Scalable drawings written by hand: elements, a scale, a frame with its title. Every text is
escaped here.

Lines and hatches tell things apart, never color: a sheet is printed in black and copied.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from html import escape
from itertools import pairwise

from wizard.readings.plain import clean_line
from wizard.survey.record import Unit
from wizard.telling.amounts import about

WIDTH = 720.0
"""Width of every figure in its own units; printed over the width of the page, 13 units are about
9.5 points.
"""
SIZE = 13
"""Size of the letters, in units."""
LETTER = 5.3
"""Units that a small letter takes, about."""


@dataclass(frozen=True, slots=True)
class Figure:
    """A drawing, and the same thing said."""

    key: str
    """Name within the page: begins the ids of its title and description."""
    title: str
    words: str
    """What it shows, in sentences: its alternative text and its caption."""
    svg: str
    """Markup of the picture; empty where there is nothing to draw."""
    height: float = 0.0
    """How high it is, in units; WIDTH wide."""


@dataclass(frozen=True, slots=True)
class Scale:
    """A straight run of values along one direction of the page."""

    low: float
    high: float
    start: float
    end: float

    def __call__(self, value: float) -> float:
        """Where a value falls, in units."""
        span = self.high - self.low
        return self.start + (self.end - self.start) * ((value - self.low) / span if span else 0.5)


def number(value: float) -> str:
    """A coordinate, short; what is not finite becomes zero rather than a broken drawing."""
    return f"{value:.2f}".rstrip("0").rstrip(".") if math.isfinite(value) else "0"


def element(name: str, *inside: str, **attributes: str | float) -> str:
    """One element. `inside` is markup already; attribute values are escaped, `_` in their names
    becomes `-`.
    """
    said = "".join(
        f' {key.rstrip("_").replace("_", "-")}="{_value(value)}"'
        for key, value in attributes.items()
    )
    return f"<{name}{said}>{''.join(inside)}</{name}>" if inside else f"<{name}{said}/>"


def _value(value: str | float) -> str:
    return escape(clean_line(value, 4000), quote=True) if isinstance(value, str) else number(value)


def text(x: float, y: float, words: str, anchor: str = "start", **attributes: str | float) -> str:
    """Words on the drawing, as text and nothing else."""
    return element(
        "text", escape(clean_line(words, 200)), x=x, y=y, text_anchor=anchor, **attributes
    )


def touch(words: Sequence[tuple[float, str]]) -> bool:
    """Whether any two of the small words on one line, each about its place along it, would touch."""
    row = sorted(words)
    pairs = pairwise(row)
    return any(b[0] - a[0] < LETTER * (len(a[1]) + len(b[1])) / 2 for a, b in pairs)


OVER: Mapping[str, str | float] = {
    "stroke": "#fff",
    "stroke_width": 3.0,
    "paint_order": "stroke",
    "stroke_linejoin": "round",
}
"""Of words that may lie over strokes: an edge of white keeps them legible."""


def line(x1: float, y1: float, x2: float, y2: float, width: float = 1.0, dash: str = "") -> str:
    """A straight stroke; dash such as `6 4`."""
    more = {"stroke_dasharray": dash} if dash else {}
    return element("line", x1=x1, y1=y1, x2=x2, y2=y2, stroke="#000", stroke_width=width, **more)


def path(
    points: Iterable[tuple[float, float]], width: float = 1.5, dash: str = "", closed: bool = False
) -> str:
    """Strokes from point to point."""
    steps = " ".join(
        f"{'L' if n else 'M'}{number(x)} {number(y)}" for n, (x, y) in enumerate(points)
    )
    more = {"stroke_dasharray": dash} if dash else {}
    return element(
        "path",
        d=steps + ("Z" if closed else ""),
        fill="none",
        stroke="#000",
        stroke_width=width,
        **more,
    )


def area(points: Iterable[tuple[float, float]], fill: str, edge: float = 0.0) -> str:
    """A filled patch, with an edge where one is wanted."""
    steps = " ".join(f"{number(x)},{number(y)}" for x, y in points)
    return element(
        "polygon", points=steps, fill=fill, stroke="#000" if edge else "none", stroke_width=edge
    )


def arrow(x1: float, y1: float, x2: float, y2: float, width: float = 2.0, head: float = 9.0) -> str:
    """An arrow; one too short for a head is a stroke."""
    length = math.hypot(x2 - x1, y2 - y1)
    if length < 1.0:
        return ""
    ux, uy = (x2 - x1) / length, (y2 - y1) / length
    size = min(head, length)
    base = (x2 - ux * size, y2 - uy * size)
    side = (-uy * size * 0.4, ux * size * 0.4)
    tip = [(x2, y2), (base[0] + side[0], base[1] + side[1]), (base[0] - side[0], base[1] - side[1])]
    return line(x1, y1, base[0], base[1], width) + area(tip, "#000")


def picture(key: str, title: str, words: str, height: float, *inside: str) -> Figure:
    """A whole drawing with its title and description, as wide as the page. `inside` is markup."""
    head = element("title", escape(title), id=f"{key}-title") + element(
        "desc", escape(words), id=f"{key}-words"
    )
    body = element(
        "g", *inside, font_family="Helvetica, Arial, sans-serif", font_size=SIZE, fill="#000"
    )
    svg = element(
        "svg",
        head,
        body,
        xmlns="http://www.w3.org/2000/svg",
        viewBox=f"0 0 {number(WIDTH)} {number(height)}",
        role="img",
        aria_labelledby=f"{key}-title {key}-words",
    )
    return Figure(key, title, words, svg, height)


# Axes in the survey's unit
# --------------------------------------------------------------------------------------

STEPS = {
    "in": tuple(25.4 * s for s in (1 / 32, 1 / 16, 1 / 8, 1 / 4, 1 / 2, 1, 2, 4)),
    "mm": (0.5, 1, 2, 5, 10, 20, 50, 100),
}
"""Round steps, mm."""
OTHER = (1, 2, 5, 10, 20, 50, 100)
"""Round steps of what is no length, such as a percentage."""


def ticks(low: float, high: float, unit: Unit, most: int = 7, kind: str = "mm") -> Iterator[float]:
    """Round values between two, in the unit `kind`, no more than `most`."""
    if not math.isfinite(high - low):
        return
    steps = STEPS[unit] if kind == "mm" else OTHER
    step = next((s for s in steps if (high - low) / s <= most), steps[-1])
    while (high - low) / step > most:  # A file may hold what no frame ever measured.
        step *= 10
    n = -int(-low // step) if low > 0 else -int(-low / step)
    while n * step <= high + 1e-9:
        if n * step >= low - 1e-9:
            yield n * step
        n += 1


LEADING = 15.0
"""Units from one line of small letters to the next."""


def upright(
    scale: Scale, x0: float, x1: float, unit: Unit, signs: tuple[str, str], kind: str = "mm"
) -> str:
    """An upright axis at the left of x0 with thin lines to x1; signs name the low and the high
    end's side.

    kind: the unit of the values.
    """
    parts = []
    most = max(1, min(7, int(abs(scale.end - scale.start) / LEADING)))
    for value in ticks(min(scale.low, scale.high), max(scale.low, scale.high), unit, most, kind):
        y = scale(value)
        word = signs[1] if value > 0 else signs[0]
        label = f"{about(value, kind, unit)} {word}".rstrip() if value else "0"
        parts.append(line(x0, y, x1, y, 1.5 if not value else 0.4))
        parts.append(text(x0 - 6, y + 4, label, "end", font_size=11))
    return "".join(parts)


def along(places: Iterable[tuple[float, str]], y: float) -> str:
    """Names under places along the page, on two lines in turn so that they do not touch."""
    return "".join(
        text(x, y + 14 * (n % 2), name, "middle", font_size=11)
        for n, (x, name) in enumerate(sorted(places))
    )


def bar(x: float, y: Scale, value: float, half: float, width: float) -> str:
    """The doubt of a value as an upright line with a stroke at each end."""
    low, high = y(value - half), y(value + half)
    strokes = ((x, low, x, high), (x - 6, low, x + 6, low), (x - 6, high, x + 6, high))
    return "".join(line(*stroke, width) for stroke in strokes)


def dot(x: float, y: float) -> str:
    """A value."""
    return element("circle", cx=x, cy=y, r=4.5, fill="#000")
