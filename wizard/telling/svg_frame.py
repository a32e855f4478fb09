"""The frame from above as a scalable drawing: rails, crossmembers, braces; front to the left, left
rail below.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from wizard.library.shapes import Layout
from wizard.telling.drawing_plan import Spot, braces, crossmembers, rail_of, spots
from wizard.telling.svg import WIDTH, Scale, element, line, path, text

LEFT, RIGHT = 70.0, WIDTH - 30.0


@dataclass(frozen=True, slots=True)
class Ground:
    """Where millimeters of the frame fall on the drawing; alike in both directions."""

    x: Scale
    y: Scale
    height: float
    """Height of the whole drawing, units."""

    @property
    def units_per_mm(self) -> float:
        """How long a millimeter of the frame is drawn."""
        return (self.x.end - self.x.start) / (self.x.high - self.x.low)

    def at(self, x: float, y: float) -> tuple[float, float]:
        """mm rearward and to the right -> units; the car's right is up."""
        return self.x(x), self.y(y)


def ground_of(layout: Layout, above: float = 34.0, below: float = 34.0) -> Ground:
    """The ground for a layout, with so much room above and below the frame."""
    along = [p.x for p in layout.places] or [0.0, 1.0]
    half = max((p.half_width for p in layout.places), default=1.0) or 1.0
    first, last = min(along), max(along)
    depth = (RIGHT - LEFT) * 2 * half / ((last - first) or 1.0)
    depth = min(depth, 420.0)
    return Ground(
        Scale(first, last, LEFT, RIGHT),
        Scale(-half, half, above + depth, above),
        above + depth + below,
    )


def frame(
    layout: Layout,
    ground: Ground,
    at: Mapping[str, tuple[float, float]] | None = None,
    width: float = 4.0,
) -> str:
    """Rails, crossmembers and braces; `at` gives other places (mm) to points than the layout's."""
    moved = _moved(layout, at or {})

    def place(spot: Spot) -> tuple[float, float]:
        return ground.at(*moved.get(spot.name, (spot.x, spot.y)))

    parts = [path([place(s) for s in rail_of(layout, side)], width) for side in ("left", "right")]
    known = spots(layout)
    for member in crossmembers(layout):
        ends = [place(known[f"{member.id}-{side}"]) for side in ("left", "right")]
        parts.append(path(ends, 0.6 * width))
    parts += [path([place(a), place(b)], 0.4 * width) for a, b in braces(layout)]
    return "".join(parts)


def _moved(layout: Layout, at: Mapping[str, tuple[float, float]]) -> dict[str, tuple[float, float]]:
    """The same by the names of spots, which the rails are made of; a middle point is named by its
    place alone.
    """
    known = spots(layout)
    return {known[id].name: xy for id, xy in at.items() if id in known}


def sides(ground: Ground) -> str:
    """The words that say which side is which."""
    x = 4.0
    rows = (
        ("right", ground.y.high),
        ("front", (ground.y.high + ground.y.low) / 2),
        ("left", ground.y.low),
    )
    return "".join(text(x, ground.y(y) + 4, word) for word, y in rows)


def numbered(layout: Layout, ground: Ground, numbers: Mapping[str, int]) -> str:
    """Every point as a ring with its number."""
    parts = []
    for id, spot in spots(layout).items():
        x, y = ground.at(spot.x, spot.y)
        parts.append(
            element("circle", cx=x, cy=y, r=11.0, fill="#fff", stroke="#000", stroke_width=2.0)
        )
        parts.append(text(x, y + 5, str(numbers[id]), "middle", font_weight="bold"))
    return "".join(parts)


def stations(layout: Layout, ground: Ground) -> str:
    """Where the string's gap is read and where its blocks stand, on the left rail; the right one is
    alike.
    """
    parts, low = [], ground.y.start + 16
    for n, station in enumerate(sorted(layout.stations, key=lambda s: s.x)):
        x = ground.x(station.x)
        row = low + 16 + 15 * (n % 2)
        parts.append(line(x, ground.y.start - 8, x, row - 11, 1.0, "2 3"))
        parts.append(text(x, row, station.name, "middle", font_size=11))
    for x in (ground.x(v) for v in layout.string):
        parts.append(
            element("rect", x=x - 5, y=ground.y.start - 5, width=10.0, height=10.0, fill="#000")
        )
    return "".join(parts)
