"""A frame in space: as it was made, what is the matter with it, and where its points are.

x rearward from the front points, y to the car's right, z up; mm. Left is the driver's left, seated.
"""

from __future__ import annotations

import math
import random
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import lru_cache
from pathlib import Path
from typing import Any

from tests.bench.sentences import curves
from tests.bench.sentences.curves import Curve, Ends, Section

LAYOUTS = Path(__file__).parents[3] / "content" / "layouts"
SIDES = ("left", "right")
GRAVITY = 9.80665
Place = tuple[float, float, float]
"""x, y, z."""


def sign(side: str) -> float:
    """To the right is plus."""
    return -1.0 if side == "left" else 1.0


@lru_cache(maxsize=16)
def authored(layout: str) -> Mapping[str, Any]:
    """A layout as its file has it."""
    return tomllib.loads((LAYOUTS / f"{layout}.toml").read_text(encoding="utf-8"))


def all_layouts() -> tuple[str, ...]:
    """Names of all kinds of frame."""
    return tuple(sorted(p.stem for p in LAYOUTS.glob("*.toml")))


def has_tips(layout: str) -> bool:
    """Whether that kind of frame has horns."""
    return any(place["id"] == "tip" for place in authored(layout)["place"])


@dataclass(frozen=True)
class Made:
    """One car's frame as it was made: the layout's round figures, as real cars differ from them."""

    layout: str
    places: Mapping[str, tuple[float, float, float]]
    """Place: x, half width, z."""
    kinds: Mapping[str, str]
    """Place: rivet, bolt, hole, edge."""
    middle: frozenset[str]
    """Places in the middle: a nose, a plate."""
    boxes: Mapping[str, tuple[str, str]]
    """Box: front and rear place."""
    roles: Mapping[str, str]
    levels: Mapping[str, str]
    """Where the level lies: its place."""
    stations: Mapping[str, float]
    """Where the string is read."""
    blocks: Ends
    axles: Ends
    track: float
    mount: float
    section: Section
    mass: float

    @property
    def rails(self) -> tuple[str, ...]:
        """Places of the rails themselves, front to rear: neither horns nor a nose."""
        inner = (p for p in self.places if p not in self.middle and p != "tip")
        return tuple(sorted(inner, key=lambda p: self.places[p][0]))

    @property
    def has_horns(self) -> bool:
        """Whether there are horns."""
        return "tip" in self.places

    @property
    def joint(self) -> Mapping[str, tuple[str, str]]:
        """Box at the front and box at the rear: its two places."""
        rails = self.rails
        front = self.boxes.get("front-box", ("", ""))
        if front[0] in self.middle:
            front = self.boxes["engine-box"]
        rear = self.boxes["rear-box"]
        assert (front[0], rear[1]) == (rails[0], rails[-1])
        return {"front": front, "rear": rear}


def made(layout: str, rng: random.Random) -> Made:
    """A frame of that kind, drawn."""
    data = authored(layout)
    long, wide = rng.gauss(1.0, 0.008), rng.gauss(1.0, 0.008)
    places = {}
    for place in data["place"]:
        middle = place.get("sides") == ["middle"]
        x = place["x"] * long + (rng.gauss(0.0, 5.0) if place["id"] != "front" else 0.0)
        half = 0.0 if middle else place["half_width"] * wide + rng.gauss(0.0, 2.5)
        places[place["id"]] = (x, half, place.get("z", 0.0) + rng.gauss(0.0, 2.0))
    figures = data["figures"]
    axles = (figures["front_axle_x"], figures["rear_axle_x"])
    section = Section(
        figures["rail_depth"] * rng.gauss(1.0, 0.02),
        figures["rail_flange"] * rng.gauss(1.0, 0.02),
        figures["rail_thickness"] * rng.gauss(1.0, 0.03),
        "closed-rails" in data["traits"],
        "tube-rails" in data["traits"],
    )
    return Made(
        layout=layout,
        places=places,
        kinds={p["id"]: p.get("kind", "rivet") for p in data["place"]},
        middle=frozenset(p["id"] for p in data["place"] if p.get("sides") == ["middle"]),
        boxes={b["id"]: (b["front"], b["rear"]) for b in data["box"]},
        roles={b["id"]: b.get("role", "") for b in data["box"]},
        levels={v["id"]: v["place"] for v in data["level"]},
        stations={s["id"]: s["x"] + rng.gauss(0.0, 4.0) for s in data["station"]},
        blocks=(data["string"][0] + rng.gauss(0.0, 5.0), data["string"][1] + rng.gauss(0.0, 5.0)),
        axles=(axles[0] * long + rng.gauss(0, 5.0), axles[1] * long + rng.gauss(0, 5.0)),
        track=figures["track"] + rng.gauss(0.0, 8.0),
        mount=figures.get("engine_mount_x", 640.0) + rng.gauss(0.0, 10.0),
        section=section,
        mass=figures["engine_mass_kg"] * rng.gauss(1.0, 0.08),
    )


@dataclass(frozen=True)
class Fault:
    """One thing that is the matter."""

    kind: str
    """diamond, corner, box-out, sway, bow, mash, kink, sag, one-sag, crown, horn, horn-up, twist"""
    size: float
    """mm, on the figure that is judged; the sign says which way where there are two."""
    side: str = ""
    """left, right; empty for both, or where it has none."""
    at: str = ""
    """front, rear, a box, or a shape; empty where it has none."""
    x: float = 0.0
    """Where along the rail, of a kink."""


@dataclass(frozen=True)
class Frame:
    """A frame with all that is the matter with it, as curves in plan and in height."""

    made: Made
    faults: tuple[Fault, ...] = ()
    back: Mapping[str, tuple[Curve, ...]] = field(default_factory=dict)
    """Side: how far its metal went to the rear, by where it was made to be."""
    aside: tuple[Curve, ...] = ()
    """How far both rails went to the right."""
    low: Mapping[str, tuple[Curve, ...]] = field(default_factory=dict)
    """Side: how far it hangs low for good."""
    springs: Mapping[str, Curve] = field(default_factory=dict)
    """Side: how far it goes down under the engine."""
    turn: tuple[Curve, ...] = ()
    """Slope across, left side higher: a twist."""
    tips: Mapping[str, tuple[float, float, float]] = field(default_factory=dict)
    """Side: how far the horn's tip went back, to the right, up."""
    off: Mapping[str, tuple[float, float]] = field(default_factory=dict)
    """Point: how far the maker set it off, in plan."""
    lean: float = 0.0
    """Slope of the whole car as it stands: no fault, and no tape tells of it."""
    yaw: tuple[float, float] = (0.0, 0.0)
    """How far each axle is askew, right wheel to the rear, radians."""
    engine_in: bool = True
    """Whether the engine's weight is on while tape and level are read."""

    def with_(self, **changes: Any) -> Frame:
        """The frame with something else the matter."""
        return replace(self, **changes)

    # Seen from the side -----------------------------------------------------------------------

    def hang(self, side: str, *, weight: bool) -> Curve:
        """How far a rail is below what it was made to, with or without the engine's weight."""
        set_for_good = self.low.get(side, ())
        spring = (self.springs[side],) if weight else ()
        return curves.added(*set_for_good, *spring)

    def sag(self, side: str, x: float, *, weight: bool) -> float:
        """How far a rail is below the line between the two blocks."""
        return curves.below(self.hang(side, weight=weight), self.made.blocks)(x)

    # In space ---------------------------------------------------------------------------------

    def point(self, name: str) -> Place:
        """Where a point is, such as `front-left` or `nose`, as the frame stands."""
        place, side = name, ""
        for each in SIDES:
            if name.endswith(f"-{each}"):
                place, side = name.removesuffix(f"-{each}"), each
        x, half, z = self.made.places[place]
        to_right = sum(a(x) for a in self.aside)
        dx, dy = self.off.get(name, (0.0, 0.0))
        if not side:
            went = sum(c(x) for s in SIDES for c in self.back.get(s, ())) / 2
            return x + went + dx, to_right + dy, z
        went = sum(c(x) for c in self.back.get(side, ()))
        up = -sign(side) * half * sum(t(x) for t in self.turn)
        up -= self.hang(side, weight=self.engine_in)(x)
        tip = self.tips.get(side, (0.0, 0.0, 0.0)) if place == "tip" else (0.0, 0.0, 0.0)
        y = sign(side) * half + to_right + dy + tip[1]
        return x + went + dx + tip[0], y, z + up + tip[2]

    def plan(self, name: str) -> tuple[float, float]:
        """The same, seen from above."""
        x, y, _ = self.point(name)
        return x, y

    def slope_at(self, place: str) -> float:
        """Slope across at a place of the level, left side higher, were the car level."""
        x, half, _ = self.made.places[place]
        low = {s: self.hang(s, weight=self.engine_in)(x) for s in SIDES}
        if place == "tip":
            low = {s: low[s] - self.tips.get(s, (0.0, 0.0, 0.0))[2] for s in SIDES}
        return sum(t(x) for t in self.turn) + (low["right"] - low["left"]) / (2 * half)

    def wheel(self, end: int, side: str) -> tuple[float, float]:
        """Where the middle of a wheel stands, from above; end 0 is the front. Axles go with rails."""
        x = self.made.axles[end]
        went = {s: sum(c(x) for c in self.back.get(s, ())) for s in SIDES}
        half = self.made.places[self.made.rails[-end]][1]
        turned = (went["right"] - went["left"]) / (2 * half) + self.yaw[end]
        reach = sign(side) * self.made.track / 2
        middle = (went["left"] + went["right"]) / 2
        return x + middle + reach * math.sin(turned), reach * math.cos(turned)
