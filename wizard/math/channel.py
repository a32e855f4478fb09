"""A rail's section: a channel of three rectangles, sound or with metal lost, and what stiffness it
has left.

Lengths in mm, area mm², second moment mm⁴, section modulus mm³. Corners are square, which
overstates a pressed rail slightly. Bending is about the level axis. Source: Steiner's parallel axis
theorem over rectangles.
"""

from collections.abc import Sequence
from itertools import pairwise
from typing import Literal, NamedTuple

from wizard.frozen import Frozen

Face = Literal["top", "web", "bottom"]
Skin = Literal["outside", "inside"]
Box = tuple[float, float, float, float]
"""A rectangle: from y, to y (across, from the web's outer face), from z, to z (up from the bottom)."""


class Channel(Frozen):
    """A sound channel, web upright, open to one side or closed there by a plate."""

    depth: float
    """Height over both flanges, mm."""
    flange: float
    """Width of a flange over the web, mm."""
    web_thickness: float
    """Thickness of the upright part, mm."""
    flange_thickness: float
    """Thickness of each flange, mm."""
    closed: bool = False
    """Whether a plate as thick as the web closes its open side: a hollow box."""

    def __post_init__(self) -> None:
        """Raises ValueError when the rectangles do not make a channel."""
        if (
            not 0 < 2 * self.flange_thickness < self.depth
            or not 0 < self.web_thickness < self.flange
        ):
            raise ValueError("these sizes make no channel")


class Loss(Frozen):
    """Thickness gone from one face."""

    face: Face
    """Top flange, web or bottom flange."""
    skin: Skin
    """Outside of the channel or inside it."""
    depth: float
    """Thickness gone, mm; more than the face has counts as a hole."""
    part: tuple[float, float] = (0.0, 1.0)
    """From and to, as fractions of the face: across from the web for a flange, up from the bottom
    for the web.
    """

    def __post_init__(self) -> None:
        """Raises ValueError for a thickness below zero or a part outside 0 to 1."""
        if self.depth < 0 or not 0 <= self.part[0] <= self.part[1] <= 1:
            raise ValueError("a loss is 0 or more, over a part between 0 and 1")


class Section(NamedTuple):
    """What a section amounts to."""

    area: float
    """Of the metal, mm²."""
    centroid: float
    """Height above the sound channel's bottom, mm."""
    inertia: float
    """Second moment of area about the level axis through the centroid, mm⁴: stiffness goes with it."""
    modulus: float
    """Inertia over the distance to the farther edge, mm³: strength goes with it."""


def section(channel: Channel, losses: Sequence[Loss] = ()) -> Section:
    """The section left of a channel. Raises ValueError when nothing is left.

    >>> round(section(Channel(100, 44, 3, 3)).inertia)
    828838
    """
    cells = _cells(_metal(channel), [_gone(channel, loss) for loss in losses])
    area = sum((y2 - y1) * (z2 - z1) for y1, y2, z1, z2 in cells)
    if area <= 0:
        raise ValueError("nothing is left of this section")
    centroid = sum((y2 - y1) * (z2**2 - z1**2) / 2 for y1, y2, z1, z2 in cells) / area
    inertia = sum(
        (y2 - y1) * ((z2 - centroid) ** 3 - (z1 - centroid) ** 3) / 3 for y1, y2, z1, z2 in cells
    )
    edge = max(max(z2 - centroid, centroid - z1) for _, _, z1, z2 in cells)
    return Section(area, centroid, inertia, inertia / edge)


def closed_inertia(channel: Channel) -> float:
    """Second moment of a channel whose open side is closed by a plate as thick as its web, mm⁴: a
    hollow box.

    >>> round(closed_inertia(Channel(100, 50, 2, 2)))
    775179
    """
    c = channel
    hollow = (c.flange - 2 * c.web_thickness) * (c.depth - 2 * c.flange_thickness) ** 3
    return (c.flange * c.depth**3 - hollow) / 12


def left_of(channel: Channel, losses: Sequence[Loss]) -> tuple[float, float]:
    """Stiffness and strength left, as fractions of the sound channel's.

    >>> [round(f, 2) for f in left_of(Channel(100, 44, 3, 3), [Loss("top", "outside", 0.3)])]
    [0.96, 0.94]
    """
    sound, now = section(channel), section(channel, losses)
    return now.inertia / sound.inertia, now.modulus / sound.modulus


def _metal(c: Channel) -> list[Box]:
    top = c.depth - c.flange_thickness
    plate = (c.flange - c.web_thickness, c.flange, c.flange_thickness, top)
    return [
        (0.0, c.flange, 0.0, c.flange_thickness),
        (0.0, c.web_thickness, c.flange_thickness, top),
        (0.0, c.flange, top, c.depth),
        *([plate] if c.closed else []),
    ]


def _gone(c: Channel, loss: Loss) -> Box:
    """The rectangle taken by one loss; inside losses run along the inner face only."""
    outside = loss.skin == "outside"
    tw, tf = c.web_thickness, c.flange_thickness
    low, high = (0.0, c.depth) if outside else (tf, c.depth - tf)
    if loss.face == "web":
        gone = min(loss.depth, tw)
        across = (0.0, gone) if outside else (tw - gone, tw)
        return (*across, *_part(low, high, loss.part))
    gone = min(loss.depth, tf)
    upward = outside == (loss.face == "bottom")
    face = {True: (0.0, tf), False: (c.depth - tf, c.depth)}[loss.face == "bottom"]
    up = (face[0], face[0] + gone) if upward else (face[1] - gone, face[1])
    return (*_part(0.0 if outside else tw, c.flange, loss.part), *up)


def _part(low: float, high: float, part: tuple[float, float]) -> tuple[float, float]:
    return low + part[0] * (high - low), low + part[1] * (high - low)


def _cells(metal: list[Box], gone: list[Box]) -> list[Box]:
    """The metal left, cut into rectangles along every edge, so that overlapping losses are not
    taken twice.
    """
    ys = sorted({edge for box in metal + gone for edge in box[:2]})
    zs = sorted({edge for box in metal + gone for edge in box[2:]})
    cells = [(y1, y2, z1, z2) for y1, y2 in pairwise(ys) for z1, z2 in pairwise(zs)]
    return [cell for cell in cells if _in_any(cell, metal) and not _in_any(cell, gone)]


def _in_any(cell: Box, boxes: list[Box]) -> bool:
    y, z = (cell[0] + cell[1]) / 2, (cell[2] + cell[3]) / 2
    return any(y1 < y < y2 and z1 < z < z2 for y1, y2, z1, z2 in boxes)
