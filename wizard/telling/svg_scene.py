"""The paper's painter: a scene as a scalable drawing, alike in both directions, front to the left."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import groupby

from wizard.telling.scene import Bar, Flat, Label, Mark, Moved, Part, Scene, Stroke
from wizard.telling.svg import (
    OVER,
    SIZE,
    WIDTH,
    Figure,
    Scale,
    arrow,
    element,
    line,
    number,
    path,
    picture,
    text,
    touch,
)

LEFT, RIGHT = 70.0, WIDTH - 30.0
DEEPEST = 420.0
"""Units that the frame takes across, at most."""
NEAR = 0.2
"""Part of the frame near either end, from which words run inward."""
ASIDE = 8.0
"""Units that such words stand clear of their place."""
WIDE = 0.47
"""How wide a letter of such words is on an average, by its size."""
PALE = 0.3
"""How opaque a pale stroke is."""
THIN = {"rail": 1.0, "looked": 1.6, "member": 0.6, "brace": 0.4}
"""How thick a stroke is beside a rail."""


@dataclass(frozen=True, slots=True)
class Paper:
    """Where millimeters of the frame fall on the drawing."""

    x: Scale
    y: Scale
    height: float
    """Height of the whole drawing, units."""
    larger: float = 0.0
    """By how much numbers and words are larger than on a drawing that fills the page; zero where the
    words at their places are small.
    """

    @property
    def letters(self) -> float:
        """Size of the words at their places, units."""
        return 15.0 * self.larger or 11.0

    @property
    def by(self) -> float:
        """By how much its marks are drawn larger."""
        return self.larger or 1.0

    @property
    def units_per_mm(self) -> float:
        """How long a millimeter of the frame is drawn."""
        return (self.x.end - self.x.start) / (self.x.high - self.x.low)

    def at(self, place: Flat) -> Flat:
        """mm rearward and to the right -> units; the car's right is up."""
        return self.x(place[0]), self.y(place[1])


def paper_for(
    reach: Flat, half: float, above: float = 34.0, below: float = 34.0, clear: float = 0.0
) -> Paper:
    """The paper for a frame from one x to another and so wide, with so much room above and below
    it. clear: units more that stay free before and behind it.
    """
    first, last = reach
    left, right = LEFT + clear, RIGHT - clear
    depth = min((right - left) * 2 * half / ((last - first) or 1.0), DEEPEST)
    return Paper(
        Scale(first, last, left, right),
        Scale(-half, half, above + depth, above),
        above + depth + below,
    )


def drawn(
    key: str,
    title: str,
    scene: Scene,
    above: float,
    below: float,
    larger: float = 0.0,
    clear: float = 0.0,
) -> Figure:
    """The figure of a scene, with so much room above and below it, so much more before and behind
    it, and its words so much larger.
    """
    paper = replace(paper_for(scene.reach, scene.half, above, below, clear), larger=larger)
    over = any(isinstance(part, Stroke) and part.pale for part in scene.parts)
    inside = []
    for pale, parts in groupby(
        _with_room(paper, scene.parts), lambda part: isinstance(part, Stroke) and part.pale
    ):
        # What lies over a pale frame is thin, or it would hide it.
        wide = 3.0 if pale else 1.8 if over else 4.0
        marks = "".join(_paint(paper, part, wide) for part in parts)
        inside.append(element("g", marks, opacity=PALE) if pale else marks)
    return picture(key, title, scene.words, paper.height, *inside)


def _with_room(paper: Paper, parts: Sequence[Part]) -> Sequence[Part]:
    """The parts, the string's stations by their numbers alone where two of their names would touch."""
    rows: dict[int, list[tuple[float, str]]] = {}
    for part in parts:
        if isinstance(part, Mark) and part.short:
            rows.setdefault(part.row, []).append((paper.at(part.at)[0], part.words))
    if not any(map(touch, rows.values())):
        return parts
    return [
        replace(part, words=part.short) if isinstance(part, Mark) and part.short else part
        for part in parts
    ]


def _paint(paper: Paper, part: Part, wide: float) -> str:
    if isinstance(part, Stroke):
        return path([paper.at(point) for point in part.points], THIN[part.ink] * wide)
    if isinstance(part, Mark):
        return _mark(paper, part)
    if isinstance(part, Label):
        return _label(paper, part)
    return _moved(paper, part) if isinstance(part, Moved) else _bar(paper, part)


def _label(paper: Paper, label: Label) -> str:
    """At the edge of the page, or at its place: toward the middle where it would run off."""
    x, y = paper.at(label.at)
    if label.where == "margin":
        return text(4.0, y + 4, label.words, font_size=SIZE * paper.by)
    along = (x - paper.x.start) / (paper.x.end - paper.x.start)
    anchor = "start" if along < NEAR else "end" if along > 1 - NEAR else "middle"
    x += {"start": ASIDE, "end": -ASIDE}.get(anchor, 0.0)  # clear of a crossmember there
    said = text(x, y + 4, label.words, anchor, font_size=paper.letters, **OVER)
    return _clear(paper, label, x, y, anchor) + said if label.where == "over" else said


def _clear(paper: Paper, label: Label, x: float, y: float, anchor: str) -> str:
    """White under words over the frame, so that no crossmember runs between two of them."""
    wide, high = paper.letters * WIDE * len(label.words), paper.letters * 1.1
    left = x - wide * {"start": 0.0, "middle": 0.5, "end": 1.0}[anchor]
    return element("rect", x=left, y=y + 4 - 0.85 * high, width=wide, height=high, fill="#fff")


def _mark(paper: Paper, mark: Mark) -> str:
    x, y = paper.at(mark.at)
    if mark.kind == "number":
        by = paper.by
        ring = element("circle", cx=x, cy=y, r=11.0 * by, fill="#fff", stroke="#000",
            stroke_width=2.0)  # fmt: skip
        size, low = SIZE * by, y + 5 * by
        return ring + text(x, low, mark.words, "middle", font_weight="bold", font_size=size)
    if mark.kind == "station":
        row = y + 32 + 15 * mark.row
        foot = line(x, y - 8, x, row - 11, 1.0, "2 3")
        return foot + text(x, row, mark.words, "middle", font_size=11)
    if mark.kind == "write":
        top, left = (paper.height - 42 if mark.row else 4.0), min(x - 46, WIDTH - 96)
        box = element(
            "rect", x=left, y=top, width=92.0, height=36.0, fill="#fff", stroke="#000",
            stroke_width=0.7,
        )  # fmt: skip
        return box + text(left + 4, top + 10, mark.words, font_size=8)
    return element("rect", x=x - 5, y=y - 5, width=10.0, height=10.0, fill="#000")


def _moved(paper: Paper, moved: Moved) -> str:
    """An arrow from where the point should be, and the dashed ellipse about where it is."""
    (x0, y0), (x1, y1) = paper.at(moved.start), paper.at(moved.end)
    k = paper.units_per_mm
    # The car's right is up on the page, so the angle turns the other way.
    turn = f"rotate({number(-math.degrees(moved.angle))} {number(x1)} {number(y1)})"
    ellipse = element(
        "ellipse", cx=x1, cy=y1, rx=moved.major * k, ry=moved.minor * k, transform=turn,
        fill="#fff", fill_opacity=0.6, stroke="#000", stroke_width=1.2, stroke_dasharray="3 2",
    )  # fmt: skip
    start = element("circle", cx=x0, cy=y0, r=2.5, fill="#000")
    return ellipse + (arrow(x0, y0, x1, y1, 2.6, 11.0) if moved.off else "") + start


def _bar(paper: Paper, bar: Bar) -> str:
    """How long a round amount is drawn."""
    length, y = bar.length * paper.units_per_mm, paper.height - 12
    first = LEFT
    strokes = [(first, y - 5), (first, y), (first + length, y), (first + length, y - 5)]
    return path(strokes, 1.5) + text(first + 8 + length, y + 2, bar.words)
