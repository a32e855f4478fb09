"""A frame as points in space: a layout with its sizes, bent by the sliders.

x rearward, y to the car's right, z up, mm. Exact geometry of points; nothing here is to first
order.
"""

from __future__ import annotations

import itertools
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from wizard.library.places import SIDES, PlaceId, PointId, pair_ids, point_of
from wizard.library.shapes import Layout, Place
from wizard.model.bent import Bent
from wizard.model.rail import GRAVITY, Ends, Line, inertia_of, settled, sprung

Spot = tuple[float, float, float]


@dataclass(frozen=True, eq=False)
class Frame:
    """A layout, bent. Everything else follows from the two."""

    layout: Layout
    """With the car's own sizes, where they are known."""
    bent: Bent = Bent()  # noqa: RUF009
    """The sliders."""

    # What the layout is
    # -----------------------------------------------------------------------------------------

    @cached_property
    def pairs(self) -> tuple[Place, ...]:
        """Places with a point on each side, front to rear, the horns left out."""
        found = (p for p in self.layout.places if not p.horns and set(p.sides) == set(SIDES))
        return tuple(sorted(found, key=lambda p: p.x))

    @property
    def front(self) -> float:
        """x of the foremost pair."""
        return self.pairs[0].x

    @property
    def rear(self) -> float:
        """x of the rearmost pair."""
        return self.pairs[-1].x

    @cached_property
    def knee(self) -> float:
        """x where a rail gives way sideways or shortens: the pair nearest the middle, else the
        middle itself.
        """
        middle = (self.front + self.rear) / 2
        return min((p.x for p in self.pairs[1:-1]), key=lambda x: abs(x - middle), default=middle)

    @cached_property
    def held(self) -> Ends:
        """x of the two places where a rail rests: at the axles, or on a bare frame at its first and
        last pair.
        """
        f = self.layout.figures
        axles = f.get("front_axle_x", self.front), f.get("rear_axle_x", self.rear)
        under_axles = self.bent.supports in ("wheels", "stands-under-axles")
        return axles if under_axles and axles[0] < axles[1] else (self.front, self.rear)

    def half_width(self, x: float) -> float:
        """Half the distance between the rails at x, straight from place to place and carried on
        past the ends.
        """
        marks = self._marks
        if len(marks) < 2:
            return marks[0][1] if marks else 0.0
        (x0, h0), (x1, h1) = next(
            (pair for pair in itertools.pairwise(marks) if x <= pair[1][0]), (marks[-2], marks[-1])
        )
        return h0 + (h1 - h0) * (x - x0) / (x1 - x0)

    @cached_property
    def _marks(self) -> list[tuple[float, float]]:
        noses = (
            p
            for p in self.layout.places
            if set(p.sides) == {"middle"} and not self.front <= p.x <= self.rear
        )
        tips = (p for p in self.layout.places if p.horns)
        return sorted({p.x: p.half_width for p in (*self.pairs, *tips, *noses)}.items())

    # How a rail lies
    # --------------------------------------------------------------------------------------------

    @cached_property
    def _set(self) -> Mapping[str, tuple[Line, ...]]:
        bends = {"left": self.bent.left, "right": self.bent.right}
        return {
            side: tuple(settled(s, self.layout.string, self.held) for s in bends[side])
            for side in SIDES
        }

    @cached_property
    def _spring(self) -> Line:
        f = self.layout.figures
        wanted = ("rail_depth", "rail_flange", "rail_thickness", "engine_mass_kg", "engine_mount_x")
        if any(name not in f for name in wanted):
            return lambda x: 0.0
        sizes = (f["rail_depth"], f["rail_flange"], f["rail_thickness"])
        inertia = inertia_of(self.layout.section, *sizes)
        # Half of the engine hangs on its rear mounts, and each rail carries half of that.
        return sprung(f["engine_mass_kg"] * GRAVITY / 4, f["engine_mount_x"], inertia, self.held)

    def drop(self, side: str, x: float, *, loaded: bool) -> float:
        """How far a rail lies below a straight one at x, held where the frame rests."""
        bent = sum(line(x) for line in self._set[side])
        return bent + (self._spring(x) if loaded else 0.0)

    def sag(self, side: str, x: float, *, loaded: bool) -> float:
        """How far a rail lies below the straight line between the string's blocks, positive
        downward.
        """
        start, end = self.layout.string
        share = (x - start) / (end - start)
        low, first, last = (self.drop(side, at, loaded=loaded) for at in (x, start, end))
        return low - first * (1.0 - share) - last * share

    def lift(self, side: str, x: float) -> float:
        """How far the body's bolts, drawn tight, lift a rail at x from the line between the
        string's blocks: a parabola, most midway.
        """
        start, end = self.layout.string
        share = (x - start) / (end - start)
        most = self.bent.body_left if side == "left" else self.bent.body_right
        return 4.0 * most * share * (1.0 - share)

    @property
    def loaded(self) -> bool:
        """Whether the engine's weight is on."""
        return self.bent.engine == "in"

    def height(self, side: str, x: float, *, loaded: bool | None = None) -> float:
        """Height of a rail's top at x beside a straight and level frame. loaded: as the engine is,
        where not said.
        """
        weight = self.loaded if loaded is None else loaded
        warp = (self.bent.twist + self.bent.supports_twist) / (2 * self.pairs[-1].half_width)
        slope = self.bent.lean + warp * (x - self.front) / ((self.rear - self.front) or 1.0)
        return (1.0 if side == "left" else -1.0) * self.half_width(x) * slope - self.drop(
            side, x, loaded=weight
        )

    # Points ---------------------------------------------------------------------------------------
    # --------------

    def rail(self, side: str, x: float) -> Spot:
        """Where the line of a rail's points runs that lay at x before it was bent; the horns not
        counted.
        """
        sign, bent = (-1.0 if side == "left" else 1.0), self.bent
        ahead = max(0.0, (self.knee - x) / (self.knee - self.front or 1.0))
        behind = max(0.0, (x - self.knee) / (self.rear - self.knee or 1.0))
        mash = bent.mash_left if side == "left" else bent.mash_right
        # All that lies ahead of the buckle goes back as one piece; between the front points and the
        # knee it is shared.
        moved = x + sign * bent.diamond / 2 + mash * min(ahead, 1.0)
        y = sign * self.half_width(x) + bent.sway_front * ahead + bent.sway_rear * behind
        return moved, y, self.height(side, x)

    def point(self, name: PointId) -> Spot:
        """Where a point such as `front-left` is.

        Raises KeyError for a name that the layout does not have.
        """
        found = self.layout.place_by_point.get(name)
        if found is None:
            raise KeyError(name)
        side = None if name == found.id else point_of(name).side
        if side is None:
            left, right = (self.rail(s, found.x) for s in SIDES)
            return (
                (left[0] + right[0]) / 2,
                (left[1] + right[1]) / 2,
                (left[2] + right[2]) / 2 + found.z,
            )
        x, y, z = self.rail(side, found.x)
        # A point may stand off the line of the rails' widths, such as a spring hanger between two
        # pairs.
        sign = -1.0 if side == "left" else 1.0
        y, z = y + sign * (found.half_width - self.half_width(found.x)), z + found.z
        if not found.horns:
            return x, y, z
        horn = self.bent.horn_left if side == "left" else self.bent.horn_right
        return x + horn.back, y - sign * horn.inward, z + horn.up

    def slope(self, place: PlaceId) -> float:
        """Slope from the right point of a place up to the left one, a ratio."""
        left, right = map(self.point, pair_ids(place))
        return (left[2] - right[2]) / (right[1] - left[1])
