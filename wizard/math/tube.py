"""A tube's section, round or oval, sound or with metal lost, and what stiffness it has left; and
which of the sections a rail has.

Lengths in mm, second moment mm⁴. The wall is cut into short pieces around; each is a plate of what
is left of it, on its own middle line. Source: second moment of area by pieces with Steiner's
parallel axis theorem (any text on the strength of materials). For a sound round tube it is
π (D⁴ - d⁴) / 64, which this meets within a thousandth.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

from wizard.frozen import Frozen
from wizard.math.channel import Channel, Face, Loss, Section, section

PIECES = 360
"""Into so many pieces the wall is cut around."""
AROUND: dict[Face, float] = {"top": 0.0, "web": 0.5, "bottom": 1.0}
"""Where the middle of a face lies, as a fraction of the way around from the crest to the bottom. A
face is half of the tube's circumference with that in its middle, and both sides of a tube are
alike.
"""


class Piece(NamedTuple):
    """A short piece of the wall."""

    way: float
    """How far around from the crest, as a fraction of the whole circumference, of its middle."""
    long: float
    """Along the wall's own middle line, mm."""
    z: float
    """Height of its middle over the tube's middle, mm."""
    up: float
    """How far upward its outer face looks: 1 at the crest, -1 at the bottom."""


class Tube(Frozen):
    """A sound tube, round or oval, its wall as thick all around."""

    depth: float
    """Outer height, mm."""
    width: float
    """Outer width, mm."""
    wall: float

    def __post_init__(self) -> None:
        """Raises ValueError when the sizes make no tube."""
        if not 0 < 2 * self.wall < min(self.depth, self.width):
            raise ValueError("these sizes make no tube")

    @property
    def around(self) -> float:
        """Circumference along the wall's middle line, mm."""
        return sum(piece.long for piece in self.pieces())

    def pieces(self) -> list[Piece]:
        """The wall from the crest around, in even angles."""
        a, b = (self.width - self.wall) / 2, (self.depth - self.wall) / 2
        step, cut = 2 * math.pi / PIECES, []
        for n in range(PIECES):
            at = (n + 0.5) * step
            # Of the middle line (a sin, b cos): its length by the angle, and its outward normal.
            long = math.hypot(a * math.cos(at), b * math.sin(at))
            cut.append((long * step, b * math.cos(at), a * math.cos(at) / long))
        whole, far, found = sum(long for long, _, _ in cut), 0.0, []
        for long, z, up in cut:
            found.append(Piece((far + long / 2) / whole, long, z, up))
            far += long
        return found

    def section(self, losses: Sequence[Loss] = ()) -> Section:
        """What is left of it. Raises ValueError when nothing is left.

        >>> sound = Tube(76, 76, 2).section()
        >>> round(sound.inertia / (math.pi / 64 * (76**4 - 72**4)), 3)
        1.0
        """
        plates = [_plate(self, piece, losses) for piece in self.pieces()]
        area = sum(plate.area for plate in plates)
        if area <= 0:
            raise ValueError("nothing is left of this section")
        middle = sum(plate.area * plate.z for plate in plates) / area
        inertia = sum(p.area * (p.z - middle) ** 2 + p.own for p in plates)
        edge = max(abs(p.edge - middle) for p in plates if p.area > 0)
        return Section(area, middle + self.depth / 2, inertia, inertia / edge)


class _Plate(NamedTuple):
    """What is left of a piece."""

    area: float
    z: float
    own: float
    """Its second moment about its own middle."""
    edge: float
    """Height of its outer face."""


def _plate(tube: Tube, piece: Piece, losses: Sequence[Loss]) -> _Plate:
    """Losses of one skin that lie over each other are taken once, as deep as the deepest."""
    here = [loss for loss in losses if _is_there(loss, piece.way)]
    outside = max((s.depth for s in here if s.skin == "outside"), default=0.0)
    inside = max((s.depth for s in here if s.skin == "inside"), default=0.0)
    left = max(0.0, tube.wall - outside - inside)
    # What is left moves inward by half of what the outer skin lost more than the inner one. A ring
    # that lies further in is shorter; as much as its middle line's bend there, on a round tube.
    inward = (outside - inside) / 2
    long = piece.long * (1 - 2 * inward / ((tube.depth + tube.width) / 2 - tube.wall))
    outer = piece.z + piece.up * (tube.wall / 2 - outside)
    own = long * left**3 / 12 * piece.up**2 + left * long**3 / 12 * (1 - piece.up**2)
    return _Plate(long * left, piece.z - piece.up * inward, own, outer)


def _is_there(loss: Loss, way: float) -> bool:
    """Whether a loss takes from the wall at so much of the way around; of a side, from the left one."""
    from_crest = 2 * way  # to the bottom is 1, and on to 2 at the crest again
    start = AROUND[loss.face] - 0.5
    reach = [(start + loss.part[0], start + loss.part[1])]
    return any(low <= from_crest - turn <= high for low, high in reach for turn in (-2.0, 0.0, 2.0))


Rail = Channel | Tube
"""A rail's section."""


def rail(sort: str, depth: float, flange: float, thickness: float) -> Rail:
    """A rail of one thickness. sort: `tube`, `box`, else an open channel; flange: of a box and a tube its
    width. Raises ValueError for sizes that make none.
    """
    if sort == "tube":
        return Tube(depth, flange, thickness)
    return Channel(depth, flange, thickness, thickness, sort == "box")


def section_of(rail: Rail, losses: Sequence[Loss] = ()) -> Section:
    """What a rail's section amounts to. Raises ValueError when nothing is left."""
    return rail.section(losses) if isinstance(rail, Tube) else section(rail, losses)
