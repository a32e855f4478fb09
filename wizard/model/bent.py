"""What is the matter with a frame: every slider of the model, all zero for a frame as it was made.

Lengths in mm. Left is the driver's left, seated facing forward.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any, Literal

Engine = Literal["in", "weight-off"]
Supports = Literal["wheels", "stands-under-axles", "stands-under-frame", "three-points"]
"""The same words as in the record's state."""
String = Literal["above", "below"]
KINK_SPREAD, BOW_SPREAD = 0.0, 600.0


@dataclass(frozen=True, slots=True)
class Sag:
    """A bend of one rail that stays."""

    depth: float
    """mm below the string at its own place; negative for a crown."""
    x: float
    """Where it is deepest against the string, mm, same origin as the layout's places."""
    spread: float = BOW_SPREAD
    """Half the length that is bent, mm: hundreds for age, 0 for a hinge (a kink)."""


@dataclass(frozen=True, slots=True)
class Horn:
    """A horn's tip out of its place."""

    inward: float = 0.0
    """mm toward the other horn."""
    back: float = 0.0
    """mm rearward."""
    up: float = 0.0
    """mm."""

    def scaled(self, times: float) -> Horn:
        """The same way out of its place, so many times as far."""
        return Horn(self.inward * times, self.back * times, self.up * times)


STRAIGHT = Horn()
PLAIN = (
    "diamond",
    "mash_left",
    "mash_right",
    "sway_front",
    "sway_rear",
    "twist",
    "axle_front",
    "axle_rear",
    "pulley",
    "tail",
    "weak_spring",
    "stand_low",
    "pit",
    "beam_left",
    "beam_right",
    "beam_twist",
    "camber_left",
    "camber_right",
    "toe",
    "front_spring",
    "perch_left",
    "perch_right",
    "rear_shackle",
    "body_left",
    "body_right",
    "shims_left",
    "shims_right",
    "thin_left",
    "thin_right",
    "sun_left",
    "sun_right",
    "deeper",
    "arched",
)
"""Fields of Bent that are one length each, one angle, or one warmth."""


@dataclass(frozen=True, slots=True)
class Bent:
    """One frame's faults and how it stands.

    All zero: straight, on its wheels, with the engine in.
    """

    diamond: float = 0.0
    """mm; the whole right rail further back than the left."""
    mash_left: float = 0.0
    """mm by which the left rail is shorter in the front box: what lies ahead of the knee went back."""
    mash_right: float = 0.0
    """The same of the right rail."""
    sway_front: float = 0.0
    """mm to the right that the front points went, the rails bent at the knee."""
    sway_rear: float = 0.0
    """mm to the right that the rearmost points went, likewise."""
    left: tuple[Sag, ...] = ()
    """Bends of the left rail, laid one upon the other."""
    right: tuple[Sag, ...] = ()
    """Bends of the right rail."""
    twist: float = 0.0
    """mm across the rails at the rearmost pair: the left side higher there than in front."""
    lean: float = 0.0
    """Slope of the whole car as it stands, a ratio, left higher: no fault of the frame."""
    horn_left: Horn = STRAIGHT
    """Where the left horn's tip went."""
    horn_right: Horn = STRAIGHT
    """Where the right horn's tip went."""
    axle_front: float = 0.0
    """mm by which the left front wheel stands further back than the right one."""
    axle_rear: float = 0.0
    """The same of the rear wheels."""
    pulley: float = 0.0
    """mm to the right that the engine's front end stands by its mounts or its make, no fault of the
    frame.
    """
    tail: float = 0.0
    """The same of the gearbox's tail."""
    weak_spring: float = 0.0
    """mm across the rails at the rear that a weak spring lets the left side down; shows on the
    wheels only.
    """
    stand_low: float = 0.0
    """mm across the rails at the rear that the left of four stands is too low; shows on those
    stands only.
    """
    pit: float = 0.0
    """Depth of the worst pit in each rail, mm."""
    beam_left: float = 0.0
    """mm by which the left end of the front beam lies behind the straight line of its middle."""
    beam_right: float = 0.0
    """The same of the right end."""
    beam_twist: float = 0.0
    """Degrees of caster that the left end of the front beam has more than the right one."""
    camber_left: float = 0.0
    """Degrees that the left front wheel leans out at the top by a bent spindle or a worn pin."""
    camber_right: float = 0.0
    """The same of the right one."""
    toe: float = 0.0
    """mm that the front tires toe in more than they should."""
    front_spring: float = 0.0
    """mm that a weak front spring lets the left front rail down onto its perch; no fault of the
    frame.
    """
    perch_left: float = 0.0
    """mm that the left front spring's perch is bent inward, toward the spring's middle, as a knock
    on the wheel does it; no fault of the frame.
    """
    perch_right: float = 0.0
    """The same of the right one."""
    rear_shackle: float = 0.0
    """Degrees that the left rear shackle leans further away from its spring's middle than the right
    one: a bent hanger, a spring that slipped or broke; no fault of the frame.
    """
    body_left: float = 0.0
    """mm by which the body, drawn tight, lifts the left rail midway between the string's blocks."""
    body_right: float = 0.0
    """The same of the right rail."""
    shims_left: float = 0.0
    """mm of shims that are missing under the body at the left mounts midway: drawn tight, a body that
    does not give lifts the rail there by as much.
    """
    shims_right: float = 0.0
    """The same of the right rail."""
    thin_left: float = 0.0
    """mm that rust took off the top of the left rail from outside, all across it, for a stretch at the
    engine's mount.
    """
    thin_right: float = 0.0
    """The same of the right rail."""
    sun_left: float = 0.0
    """°C by which the top of the left rail is warmer than its bottom."""
    sun_right: float = 0.0
    """The same of the right rail."""
    deeper: float = 0.0
    """mm by which the maker made both rails deeper midway between the string's blocks than at them, on
    the lower edge, the top straight: no fault.
    """
    arched: float = 0.0
    """mm by which the maker made both edges of both rails stand up there: no fault."""
    string: String = "above"
    """Which edge of the rail the string runs along."""
    engine: Engine = "in"
    """With its weight on the mounts, or without."""
    supports: Supports = "wheels"
    """What the frame rests on."""

    def scaled(self, times: float) -> Bent:
        """The same faults, so many times as large; how it stands stays as it is.

        >>> Bent(diamond=6.0, left=(Sag(4.0, 640.0),)).scaled(1.5).left[0].depth
        6.0
        """
        changed: dict[str, Any] = {name: getattr(self, name) * times for name in PLAIN}
        changed |= {name: getattr(self, name).scaled(times) for name in ("horn_left", "horn_right")}
        for side in ("left", "right"):
            changed[side] = tuple(Sag(s.depth * times, s.x, s.spread) for s in getattr(self, side))
        return replace(self, **changed)

    @property
    def supports_twist(self) -> float:
        """mm across the rails at the rear that the supports alone twist the frame by, left higher
        positive.

        A light open frame follows what it rests on: the model lets it follow wholly (this project's
        own choice; a stiff frame follows in part). On stands under the axles the springs still
        stand between axle and frame.
        """
        if self.supports in ("wheels", "stands-under-axles"):
            return -self.weak_spring
        return -self.stand_low if self.supports == "stands-under-frame" else 0.0
