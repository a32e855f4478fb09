"""The shapes of a kind of frame: its points, boxes, stations and places for the level."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from wizard.library.places import point_id


@dataclass(frozen=True, slots=True)
class Place:
    """A place along the frame with a point on each side (or one in the middle)."""

    id: str
    name: str
    x: float
    """mm rearward of the front crossmember's points."""
    half_width: float
    """mm from the center line to the point; 0 for a middle point."""
    z: float
    """mm up, relative to the front crossmember's points."""
    kind: str
    """rivet, hole, bolt, edge: content/tools.toml gives each its doubt."""
    sides: tuple[str, ...] = ("left", "right")
    note: str = ""
    role: str = ""
    """What the steps call it, where that is not its id: `rail` for one more pair along the rails."""

    @property
    def points(self) -> tuple[str, ...]:
        """Ids of its points, left before right; a point in the middle has the place's own id."""
        return tuple(point_id(self.id, side) for side in self.sides)

    @property
    def pair(self) -> tuple[str, str]:
        """Left and right point; for a point in the middle that point twice."""
        return self.points[0], self.points[-1]


@dataclass(frozen=True, slots=True)
class Box:
    """The area between two places, whose diagonals are compared."""

    id: str
    name: str
    front: str
    rear: str
    role: str = ""
    """What the steps call it, where that is not its id: `part` for one more box, `nose` for the
    area between a nose and a pair of points, `plate` for one whose diagonals an X-member bars.
    """
    through: str = ""
    """Place in the middle, inside the box, from which its corners are taped; empty for none."""


@dataclass(frozen=True, slots=True)
class Station:
    """A place along the string where the gap is read."""

    id: str
    name: str
    x: float
    """mm, same origin as Place.x."""


@dataclass(frozen=True, slots=True)
class LevelPlace:
    """A place where the level is laid across the rails."""

    id: str
    name: str
    place: str
    """Place id that gives x and the rail width."""
    role: str = ""
    """`first` for the place to come back to, on a frame without horns."""


@dataclass(frozen=True, slots=True)
class Layout:
    """A kind of frame: its points, boxes and stations.

    Figures are round ones; the user's own replace them.
    """

    id: str
    name: str
    about: str
    source: str
    places: tuple[Place, ...]
    boxes: tuple[Box, ...]
    stations: tuple[Station, ...]
    levels: tuple[LevelPlace, ...]
    string: tuple[float, float]
    """x of the front and rear block of the string, mm."""
    figures: Mapping[str, float] = field(default_factory=dict)
    """wheelbase, track, rail_depth, rail_flange, rail_thickness, engine_front_x, engine_mount_x,
    engine_mass_kg, ball_x, rod, front_axle_x, rear_axle_x; mm unless the name ends otherwise.
    """
    traits: tuple[str, ...] = ()
    """How it is made: open-rails, closed-rails, riveted, welded, kicks, cross-springs (rods hold
    the axles).
    """

    @property
    def words(self) -> frozenset[str]:
        """Everything that a need on the layout may name: its traits and what its boxes and places
        are called.
        """
        boxes, places = (b.role or b.id for b in self.boxes), (p.role or p.id for p in self.places)
        return frozenset((*self.traits, *boxes, *places))

    def place(self, id: str) -> Place:
        """The place of that id; KeyError when the layout has none."""
        return next((p for p in self.places if p.id == id), None) or _missing(id)


def _missing(id: str) -> Place:
    raise KeyError(id)
