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
from wizard.math.channel import Loss
from wizard.math.thread import STEEL, expansion
from wizard.math.tube import Tube, rail, section_of
from wizard.model.bent import Bent
from wizard.model.rail import GRAVITY, Ends, Line, bowed, inertia_of, settled, softened, sprung

Spot = tuple[float, float, float]
THIN_LONG = 600.0
"""mm; how far the model's thin stretch runs."""
PIT = 30.0, 15.0, 800.0
"""mm; how long and wide the model's small pit is, and how far behind the front points it lies."""


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
    def _maker_and_sun(self) -> Mapping[str, Line]:
        """What arches a rail without bending it for good. The other rail and the crossmembers hold it
        back in truth; here nothing does (this project's own choice, the worst case).
        """
        start, end = self.layout.string
        depth = self.layout.figures.get("rail_depth", 0.0)
        arched = 8.0 * self.bent.arched / (end - start) ** 2
        suns = {"left": self.bent.sun_left, "right": self.bent.sun_right}
        return {
            side: bowed(arched + (STEEL * suns[side] / depth if depth else 0.0), self.held)
            for side in SIDES
        }

    def deeper(self, x: float) -> float:
        """How much deeper the rail is at x by make than at the string's blocks, mm: a parabola."""
        start, end = self.layout.string
        share = (x - start) / (end - start)
        return 4.0 * self.bent.deeper * share * (1.0 - share)

    # What is thin
    # --------------------------------------------------------------------------------------------

    def thin(self, side: str) -> float:
        """mm gone from the top of a rail along its thin stretch; no more than there is."""
        gone = self.bent.thin_left if side == "left" else self.bent.thin_right
        return min(max(gone, 0.0), self.layout.figures.get("rail_thickness", 0.0))

    @cached_property
    def thin_middle(self) -> float:
        """x of the middle of the thin stretch: at the engine's rear mount, else midway."""
        start, end = self.layout.string
        x = self.layout.figures.get("engine_mount_x", start)
        return x if start < x < end else (start + end) / 2

    @cached_property
    def _top_wide(self) -> float:
        """mm across the whole of a rail's top; of a tube its upper half, all around."""
        f = self.layout.figures
        sizes = (f["rail_depth"], f["rail_flange"], f["rail_thickness"])
        made = rail(self.layout.section, *sizes)
        return made.around / 2 if isinstance(made, Tube) else f["rail_flange"]

    def thin_place(self, side: str) -> tuple[float, float, float]:
        """Length, width and place of the thin stretch of a rail, mm; of a rail without one, those of
        the model's small pit.
        """
        if not self.thin(side):
            return PIT
        return THIN_LONG, self._top_wide, self.thin_middle

    def _softer(self, side: str, load: float, inertia: float) -> Line:
        """What a thin stretch adds to the spring of a rail."""
        f = self.layout.figures
        gone = self.thin(side)
        if not gone:
            return lambda x: 0.0
        made = rail(self.layout.section, f["rail_depth"], f["rail_flange"], f["rail_thickness"])
        left = section_of(made, [Loss("top", "outside", gone)]).inertia / inertia
        reach = self.thin_middle - THIN_LONG / 2, self.thin_middle + THIN_LONG / 2
        return softened(load, f["engine_mount_x"], inertia, self.held, (*reach, left))

    @cached_property
    def _spring(self) -> Mapping[str, tuple[Line, ...]]:
        """What each rail gives under the engine: as a sound one, and more where it is thin."""
        f = self.layout.figures
        wanted = ("rail_depth", "rail_flange", "rail_thickness", "engine_mass_kg", "engine_mount_x")
        if any(name not in f for name in wanted):
            return dict.fromkeys(SIDES, ())
        sizes = (f["rail_depth"], f["rail_flange"], f["rail_thickness"])
        inertia = inertia_of(self.layout.section, *sizes)
        # Half of the engine hangs on its rear mounts, and each rail carries half of that.
        load = f["engine_mass_kg"] * GRAVITY / 4
        sound = sprung(load, f["engine_mount_x"], inertia, self.held)
        return {side: (sound, self._softer(side, load, inertia)) for side in SIDES}

    def drop(self, side: str, x: float, *, loaded: bool) -> float:
        """How far a rail lies below a straight one at x, held where the frame rests."""
        lines = (*self._set[side], self._maker_and_sun[side])
        return sum(line(x) for line in (*lines, *(self._spring[side] if loaded else ())))

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
        bent = self.bent
        most = bent.body_left if side == "left" else bent.body_right
        most += bent.shims_left if side == "left" else bent.shims_right
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
        moved = x + sign * bent.diamond / 2 + mash * min(ahead, 1.0) + self._longer(side, x)
        y = sign * self.half_width(x) + bent.sway_front * ahead + bent.sway_rear * behind
        return moved, y, self.height(side, x)

    def _longer(self, side: str, x: float) -> float:
        """How far the sun moves a point of a rail away from its middle, mm: half as warm, on the whole,
        as its top.
        """
        sun = self.bent.sun_left if side == "left" else self.bent.sun_right
        return expansion(x - sum(self.layout.string) / 2, sun / 2) if sun else 0.0

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
