"""A frame whose truth is known, and what a person would read off it. Shares no code with the
program.

x rearward of the front crossmember, y to the car's right, z up, mm. Left is the driver's left,
seated. `reading` answers any measuring prompt of a ladder frame by the prompt's id, noisy and
rounded as a person says it.
"""

from __future__ import annotations

import itertools
import math
import random
from dataclasses import dataclass, field

from tests.bench import frame_beam as beam
from tests.bench.frame_scales import say_bubble, say_gap, say_length
from tests.bench.frame_tools import Tools, slipped

Place = tuple[float, float, float]
SIDES = ("left", "right")


@dataclass(frozen=True, slots=True)
class Sizes:
    """What the frame was made to, mm."""

    tip: tuple[float, float, float] = (-450.0, 295.0, -40.0)
    """x, half width, z."""
    front: tuple[float, float, float] = (0.0, 310.0, 0.0)
    center: tuple[float, float, float] = (1000.0, 365.0, 0.0)
    rear: tuple[float, float, float] = (2200.0, 430.0, 0.0)
    stations: tuple[tuple[str, float], ...] = (
        ("front-crossmember", 0.0),
        ("mid-engine", 330.0),
        ("engine-mount", 640.0),
        ("center", 1000.0),
        ("behind", 1550.0),
    )
    string: tuple[float, float] = (-80.0, 2100.0)
    """x of the two blocks."""
    axles: tuple[float, float] = (-120.0, 2500.0)
    track: float = 1420.0
    rail: tuple[float, float, float] = (100.0, 44.0, 3.0)
    """Depth, flange, thickness."""
    ball_x: float = 780.0
    rod: float = 900.0


@dataclass(frozen=True, slots=True)
class Bend:
    """A bend of one rail that stays."""

    depth: float
    """mm below the string at its own place; negative for a crown."""
    x: float = 640.0
    spread: float = 600.0
    """Half-width of the bent stretch, mm: hundreds for age, tens for a kink."""


@dataclass(frozen=True, slots=True)
class Horn:
    """A horn out of its place, mm."""

    inward: float = 0.0
    back: float = 0.0
    up: float = 0.0


@dataclass(frozen=True, slots=True)
class Truth:
    """What is the matter with one frame. All zero: as it was made."""

    sizes: Sizes = field(default_factory=Sizes)
    left: tuple[Bend, ...] = ()
    right: tuple[Bend, ...] = ()
    diamond: float = 0.0
    """mm; the whole right rail further back than the left."""
    mash_left: float = 0.0
    """mm by which the left rail is shorter between front and center: what lies ahead went back."""
    mash_right: float = 0.0
    sway_front: float = 0.0
    """mm to the right that the front points went, the rails bent at the center crossmember."""
    sway_rear: float = 0.0
    """mm to the right that the rear points went, likewise."""
    twist: float = 0.0
    """mm across the rails at the rear crossmember, left side higher against the front."""
    lean: float = 0.0
    """Slope of the whole car as it stands, a ratio, left higher: no fault of the frame."""
    horn_left: Horn = field(default_factory=Horn)
    horn_right: Horn = field(default_factory=Horn)
    axle_yaw: tuple[float, float] = (0.0, 0.0)
    """Front and rear axle turned, radians: positive carries the left wheel rearward."""
    engine_newton: float = 500.0
    """The engine's weight on one rail at its rear mount."""
    engine_x: float = 640.0
    engine_off: tuple[float, float] = (0.0, 0.0)
    """Crank pulley and gearbox tail to the right of the middle, mm."""
    pit: float = 0.0
    """Depth of the worst pit in a rail's top, mm."""
    pit_long: float = 30.0
    """How long the thin stretch is round it, mm."""
    body: tuple[float, float] = (0.0, 0.0)
    """By how much the body, drawn tight, lifts the left and the right rail midway under the string, mm."""


# Where things are
# ---------------------------------------------------------------------------------------------


def sag(truth: Truth, side: str, x: float, *, loaded: bool) -> float:
    """How far a rail is below the straight line between the string's blocks at x, mm."""
    return beam.at(beam.off_chord(_rail(truth, side, loaded), truth.sizes.string), x)


def _rail(truth: Truth, side: str, loaded: bool) -> beam.Curve:
    sizes, bends = truth.sizes, truth.left if side == "left" else truth.right
    lines = [beam.settled(b.depth, b.x, b.spread, sizes.string, sizes.axles) for b in bends]
    if loaded:
        inertia = beam.channel_inertia(*sizes.rail)
        lines.append(beam.under_load(truth.engine_newton, truth.engine_x, inertia, sizes.axles))
    return beam.added(*lines) if lines else tuple(0.0 for _ in beam.GRID)


def point(truth: Truth, name: str, *, loaded: bool = True) -> Place:
    """Where a point such as `front-left` is."""
    place, side = name.rsplit("-", 1)
    x, half, z = getattr(truth.sizes, place)
    sign = -1.0 if side == "left" else 1.0
    y = sign * half
    center = truth.sizes.center[0]
    moved = x + sign * truth.diamond / 2
    if x < center:
        moved += truth.mash_left if side == "left" else truth.mash_right
        y += truth.sway_front * (center - x) / (center - truth.sizes.front[0])
    elif x > center:
        y += truth.sway_rear * (x - center) / (truth.sizes.rear[0] - center)
    z += height(truth, side, x, loaded=loaded)
    if place == "tip":
        horn = truth.horn_left if side == "left" else truth.horn_right
        moved, y, z = moved + horn.back, y - sign * horn.inward, z + horn.up
    return moved, y, z


def half_width(truth: Truth, x: float) -> float:
    """Half the distance between the rails at x, on straight lines between the places."""
    marks = [truth.sizes.tip, truth.sizes.front, truth.sizes.center, truth.sizes.rear]
    for a, b in itertools.pairwise(marks):
        if x <= b[0] or b is marks[-1]:
            return a[1] + (b[1] - a[1]) * (x - a[0]) / (b[0] - a[0])
    raise AssertionError("a frame has places")


def height(truth: Truth, side: str, x: float, *, loaded: bool) -> float:
    """Height of a rail's top at x beside a straight and level frame, mm."""
    rear = truth.sizes.rear
    slope = truth.lean + truth.twist / (2 * rear[1]) * x / rear[0]
    sign = 1.0 if side == "left" else -1.0
    return sign * half_width(truth, x) * slope - beam.at(_rail(truth, side, loaded), x)


def slope_across(truth: Truth, place: str, *, loaded: bool = True) -> float:
    """Slope from the right rail up to the left one at a place, a ratio."""
    left, right = (point(truth, f"{place}-{side}", loaded=loaded) for side in SIDES)
    return (left[2] - right[2]) / (right[1] - left[1])


def wheel(truth: Truth, end: int, side: str) -> tuple[float, float]:
    """Where the middle of a wheel stands on the floor; end 0 is the front."""
    sign = -1.0 if side == "left" else 1.0
    yaw = truth.axle_yaw[end]
    reach = sign * truth.sizes.track / 2
    return truth.sizes.axles[end] - reach * math.sin(yaw), reach * math.cos(yaw)


# What a person reads
# ------------------------------------------------------------------------------------------


def reading(truth: Truth, prompt_id: str, rng: random.Random, tools: Tools) -> str:
    """The answer to a measuring prompt, as typed: `91 1/8`, `1/2 left`, `3/16 past`.

    rng: the hand; the same seed and order of prompts give the same answers. Raises KeyError for
    another prompt.
    """
    step, *rest = prompt_id.split("/")
    if step == "string-set-up":
        return _set_up(truth, rest[-1], rng, tools)
    if step in ("sag-loaded", "sag-unloaded"):
        return _string(truth, rest[0], rest[1], rng, tools, loaded=step == "sag-loaded")
    if step == "body-shims" or rest[-1] == "gap":
        return say_length(0.0, tools.rule_step, tools.unit)
    if step in ("string-slack", "string-tight"):
        return _under_body(truth, rest[0], rest[1], rng, tools, tight=step == "string-tight")
    if step == "level":
        return _level(truth, rest[0], rest[1], rng, tools)
    if step == "front-box-bar":
        return _bar(truth, rest[-1], rng, tools)
    if step == "pulley-hint":
        off = truth.engine_off[0 if rest[-1] == "pulley" else 1]
        return say_gap(rng.gauss(off, tools.rule_s), tools.rule_step, tools.unit, ("right", "left"))
    if step == "wheelbase":
        return _tape(_axle_distance(truth, rest[-1]), rng, tools)
    if step == "by-make":
        return say_length(rng.gauss(truth.sizes.rail[0], tools.rule_s), tools.rule_step, tools.unit)
    if step == "panel-gaps":
        return say_length(rng.gauss(5.0, tools.rule_s), tools.rule_step, tools.unit)
    if rest[-1] == "stretch":
        return say_length(rng.gauss(truth.pit_long, tools.rule_s), tools.rule_step, tools.unit)
    if step == "pitting":
        left = truth.sizes.rail[2] - (truth.pit if rest[-1] == "pitted" else 0.0)
        return f"{rng.gauss(left, tools.caliper_s):.2f} mm"
    if step == "thin-metal":
        return _thin(truth, rest[-1], rng, tools)
    start, _, end = rest[-1].partition("--")
    return _tape(math.dist(_dotted(truth, start, tools), _dotted(truth, end, tools)), rng, tools)


def _thin(truth: Truth, what: str, rng: random.Random, tools: Tools) -> str:
    """Thin places that are all as deep as the worst pit and of one size, 800 mm apart."""
    name, _, nth = what.rpartition("-")
    if what == "sound" or name == "metal":
        left = truth.sizes.rail[2] - (truth.pit if name else 0.0)
        return f"{rng.gauss(left, tools.caliper_s):.2f} mm"
    if name == "from" or what == "pit-from":
        return _tape(800.0 * (int(nth) if nth.isdigit() else 1), rng, tools)
    size = truth.pit_long if name == "long" else 15.0
    return say_length(rng.gauss(size, tools.rule_s), tools.rule_step, tools.unit)


def _dotted(truth: Truth, name: str, tools: Tools) -> Place:
    """Where the person's dot is: not quite in the middle of the rivet, and the same all day."""
    x, y, z = point(truth, name)
    dx, dy = tools.dots.get(name, (0.0, 0.0))
    return x + dx, y + dy, z


def _tape(true: float, rng: random.Random, tools: Tools) -> str:
    shown = true * (1.0 + tools.tape_scale) + tools.tape_end + rng.gauss(0.0, tools.tape_s)
    return say_length(slipped(shown, rng, tools) + tools.tape_start, tools.tape_step, tools.unit)


def _set_up(truth: Truth, what: str, rng: random.Random, tools: Tools) -> str:
    if what == "block":
        return say_length(rng.gauss(tools.block, tools.rule_s / 2), tools.rule_step, tools.unit)
    front, rear = truth.sizes.string
    return _tape(rear - front, rng, tools)


def _string(
    truth: Truth, station: str, side: str, rng: random.Random, tools: Tools, *, loaded: bool
) -> str:
    x = dict(truth.sizes.stations)[station]
    front, rear = truth.sizes.string
    seat = tools.block + tools.block_unlike * (x - front) / (rear - front)
    low = sag(truth, side, x, loaded=loaded)
    hang = hanging(tools.string_newton_per_mm, tools.string_pull, x - front, rear - front)
    gap = seat - low + hang if tools.string_below else seat + low - hang
    return say_length(rng.gauss(gap, tools.rule_s), tools.rule_step, tools.unit)


def _under_body(
    truth: Truth, station: str, side: str, rng: random.Random, tools: Tools, *, tight: bool
) -> str:
    """The string below the rail; what the bolts lift is read off a circle through three points."""
    x = dict(truth.sizes.stations)[station]
    front, rear = truth.sizes.string
    most = truth.body[0 if side == "left" else 1] if tight else 0.0
    low = sag(truth, side, x, loaded=True)
    hang = hanging(tools.string_newton_per_mm, tools.string_pull, x - front, rear - front)
    lift = 0.0
    if most:
        half = (rear - front) / 2
        radius = (half * half + most * most) / (2 * abs(most))
        off = x - front - half
        deep = math.sqrt(radius * radius - off * off) - (radius - abs(most))
        lift = math.copysign(deep, most)
    gap = tools.block - low + hang + lift
    return say_length(rng.gauss(gap, tools.rule_s), tools.rule_step, tools.unit)


def hanging(weight: float, pull: float, x: float, span: float) -> float:
    """How far a string hangs at x, mm, by the catenary itself (weight N/mm, pull N at the lowest
    place).
    """
    reach = pull / weight
    return reach * (math.cosh(span / 2 / reach) - math.cosh((x - span / 2) / reach))


def _level(truth: Truth, level: str, which: str, rng: random.Random, tools: Tools) -> str:
    place = {"horns": "tip", "front-crossmember": "front"}.get(level, level)
    own = -tools.level_own if which.endswith("turned") else tools.level_own
    slope = slope_across(truth, place) + own + rng.gauss(0.0, tools.level_s)
    return say_bubble(slope, tools.level_step, tools.level_unit)


def _bar(truth: Truth, what: str, rng: random.Random, tools: Tools) -> str:
    first = math.dist(_dotted(truth, "front-left", tools), _dotted(truth, "center-right", tools))
    second = math.dist(_dotted(truth, "front-right", tools), _dotted(truth, "center-left", tools))
    gap = 0.0 if what == "closing" else first - second
    return say_gap(rng.gauss(gap, tools.bar_s), tools.rule_step, tools.unit, ("past", "short"))


def _axle_distance(truth: Truth, what: str) -> float:
    if what in SIDES:
        return math.dist(wheel(truth, 0, what), wheel(truth, 1, what))
    end, _, side = what.split("-")
    x, y, _z = point(truth, f"{end}-{side}")
    return abs(x - truth.sizes.axles[end == "rear"] + y * math.sin(truth.axle_yaw[end == "rear"]))
