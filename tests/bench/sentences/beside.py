"""What is true beside a frame: its axle set, its thin metal, what the body does to it; and what a hand
reads of it.

Lines and angles by hand, from two ends of a beam and two wheels on a floor that leans; a rail's section
by slices. Nothing here comes from the program. Lengths in mm, angles in degrees.
"""

from __future__ import annotations

import itertools
import math
import random
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from tests.bench.sentences.frame import LAYOUTS, SIDES, Frame, authored
from tests.bench.sentences.hands import MM, Hand, rounded, said

PAIR = tuple[float, float]
"""Left and right."""
WORDS = tuple[str, str]
"""What an angle is called above zero, and below."""
BOOK = {"caster": 5.0, "camber": 1.0, "toe": 3.0}
"""What the car's own book says."""


@lru_cache(maxsize=1)
def leaves() -> Mapping[str, float]:
    """Limit: where `leave it` ends, in its own unit, as content has it."""
    data = tomllib.loads((LAYOUTS.parent / "limits.toml").read_text(encoding="utf-8"))
    found = {}
    for limit in data["limit"]:
        size, _, unit = limit["above"][0]["upto"].partition(" ")
        found[limit["id"]] = float(Fraction(size)) * (25.4 if unit == "in" else 1.0)
    return found


@dataclass(frozen=True)
class Axle:
    """One front axle under its car."""

    beam: PAIR = (0.0, 0.0)
    """How far each end of the beam lies back."""
    caster: PAIR = (BOOK["caster"], BOOK["caster"])
    camber: PAIR = (BOOK["camber"], BOOK["camber"])
    toe: float = BOOK["toe"]
    perch: PAIR = (180.0, 180.0)
    """From rail to spring perch."""
    shackle: PAIR = (25.0, 25.0)
    rear_shackle: PAIR = (25.0, 25.0)

    @property
    def figures(self) -> dict[str, float]:
        """The true value of every finding."""
        found = {"toe/difference": self.toe, "toe-book/difference": self.toe - BOOK["toe"]}
        for name in ("caster", "camber"):
            left, right = pair = getattr(self, name)
            found[f"{name}-apart/difference"] = left - right
            for side, value in zip(SIDES, pair, strict=True):
                found[f"{name}-side/{side}"] = value
                found[f"{name}-book/{side}"] = value - BOOK[name]
        for side, value in zip(SIDES, self.beam, strict=True):
            found[f"beam-bend/{side}"] = value
        found["perch-apart/difference"] = self.perch[0] - self.perch[1]
        found["shackle-apart/difference"] = self.shackle[0] - self.shackle[1]
        found["rear-shackle-apart/difference"] = self.rear_shackle[0] - self.rear_shackle[1]
        return found


def bent(what: str, times: float, way: float = 1.0) -> Axle:
    """An axle of which one figure is so many times its limit; `what` is the limit."""
    off = way * times * leaves().get(what, 0.0)
    book = {name: value + off for name, value in BOOK.items()}
    return {
        "beam-bend": lambda: Axle(beam=(off, 0.0)),
        "caster-apart": lambda: Axle(caster=(5.0 + off / 2, 5.0 - off / 2)),
        "caster-book": lambda: Axle(caster=(book["caster"], book["caster"])),
        "camber-apart": lambda: Axle(camber=(1.0 + off / 2, 1.0 - off / 2)),
        "camber-book": lambda: Axle(camber=(book["camber"], book["camber"])),
        "toe-book": lambda: Axle(toe=book["toe"]),
        "perch-apart": lambda: Axle(perch=(180.0 + off, 180.0)),
        "shackle-apart": lambda: Axle(shackle=(25.0 + off, 25.0)),
        "rear-shackle-apart": lambda: Axle(rear_shackle=(25.0 + off, 25.0)),
    }[what]()


BENT = (
    *("beam-bend", "caster-apart", "caster-book", "camber-apart", "camber-book"),
    *("toe-book", "perch-apart", "shackle-apart", "rear-shackle-apart"),
)


@dataclass
class Gauge:
    """An angle gauge, the floor, and what a hand reads with it."""

    hand: Hand
    rng: random.Random
    scatter: float
    step: float
    zero: float
    rake: float
    floor: float
    forged: PAIR
    half: float
    mark: float
    block: float

    def angle(self, value: float, words: WORDS, scatter: float | None = None) -> str:
        """`4.9 back`; now and then to the wrong side."""
        s = self.scatter if scatter is None else scatter
        marks = math.floor(self.rng.gauss(value, s) / self.step + 0.5)
        if self.rng.random() < self.hand.slips:
            marks = -marks
        if not marks:
            return "0"
        return f"{abs(marks) * self.step:.6g} {words[marks < 0]}"

    def length(self, value: float, s: float, division: Fraction) -> str:
        """By a rule or a tape, now and then with a slip."""
        unit = self.hand.unit
        read = max(rounded(self.rng.gauss(value, s), division, unit), division)
        if self.rng.random() < self.hand.slips:
            kind = self.rng.choice(("1 in", "1/2 in") if unit == "in" else ("10 mm",))
            by = Fraction(str(MM[kind])) / (Fraction(254, 10) if unit == "in" else 1)
            way = self.rng.choice((1, -1))
            read = read + way * by if read + way * by > 0 else read + by
        return said(read, unit)

    def rule(self, value: float) -> str:
        """By the rule."""
        return self.length(value, self.hand.ruler_s, self.hand.division)

    def tape(self, value: float) -> str:
        """By the tape."""
        return self.length(value, self.hand.tape_s, self.hand.tape_division)


def gauge(hand: Hand, rng: random.Random) -> Gauge:
    """What is off about a floor, a beam and a gauge, drawn. A hasty hand is one whose rule scatters."""
    hasty = hand.ruler_s > 0.5
    return Gauge(
        hand,
        rng,
        scatter=0.3 if hasty else 0.2,
        step=0.1,
        zero=rng.gauss(0.0, 0.2),
        rake=rng.gauss(0.0, 0.5),
        floor=rng.gauss(0.0, 0.5),
        forged=(rng.gauss(0.0, 0.35), rng.gauss(0.0, 0.35)),
        half=rng.gauss(600.0, 30.0),
        mark=rng.gauss(370.0, 30.0),
        block=rng.uniform(35.0, 60.0),
    )


def of_axle(axle: Axle, g: Gauge, prompt: str) -> str:
    """What is typed at a prompt of the axle set."""
    step, _, name = prompt.partition("/")
    side = SIDES.index("left" if name.endswith("left") else "right")
    if step == "beam-string":
        if name == "block":
            return g.length(g.block, 0.15, g.hand.division)
        at = (-g.mark, g.mark)[side]
        chord = axle.beam[0] + (axle.beam[1] - axle.beam[0]) * (at + g.half) / (2 * g.half)
        return g.rule(g.block - chord + g.forged[side])
    if name.startswith("rear-shackle"):
        return g.angle(axle.rear_shackle[side], ("away", "toward"), 1.0)
    if name.startswith("shackle"):
        return g.angle(axle.shackle[side], ("away", "toward"), 1.0)
    if step == "spring-perches":
        return g.rule(axle.perch[side])
    if step == "toe-tapes":
        return g.tape(1300.0 + (axle.toe if name == "back" else 0.0))
    if name == "floor":
        return g.angle(g.floor - g.zero, ("left", "right"))
    if name.startswith("caster"):
        return g.angle(axle.caster[side] + g.rake + g.zero, ("back", "forward"))
    lean = g.floor - g.zero
    return g.angle(axle.camber[side] + (lean if side else -lean), ("out", "in"))


AXLE_PROMPTS: Mapping[str, int] = {
    "beam-string/block": 1,
    "beam-string/left": 2,
    "beam-string/right": 2,
    "caster-camber/caster-left": 2,
    "caster-camber/caster-right": 2,
    "caster-camber/camber-left": 2,
    "caster-camber/camber-right": 2,
    "caster-camber/floor": 2,
    "spring-perches/left": 2,
    "spring-perches/right": 2,
    "spring-perches/shackle-left": 1,
    "spring-perches/shackle-right": 1,
    "spring-perches/rear-shackle-left": 1,
    "spring-perches/rear-shackle-right": 1,
    "toe-tapes/front": 2,
    "toe-tapes/back": 2,
}
"""Prompt: how often it is asked."""


# Thin metal ---------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Thin:
    """One thin place of a rail, square in plan."""

    face: str
    """top, web, bottom"""
    inside: bool
    lost: float
    long: float
    wide: float
    back: float
    """How far its middle lies behind the front points."""
    up: float = 0.25
    """Of one on the web: its foot, as a share of what is left beside it."""


@dataclass(frozen=True)
class Rail:
    """A pressed rail: outer sizes, thickness, and its thin places."""

    depth: float
    flange: float
    sheet: float
    length: float
    thin: tuple[Thin, ...] = ()

    def _wide(self, y: float, spots: tuple[Thin, ...]) -> tuple[float, float]:
        """Metal in a slice at height y from the foot, and what the spots take of it."""
        t, round_ = self.sheet, 1.5 * self.sheet
        inner = min(y, self.depth - y)
        corner = round_ - math.sqrt(max(0.0, round_**2 - (round_ - min(inner, round_)) ** 2))
        metal = self.flange - corner if inner < t else t
        return metal, sum(self._taken(one, y) for one in spots)

    def _taken(self, one: Thin, y: float) -> float:
        t = self.sheet
        if one.face == "web":
            foot = one.up * (self.depth - one.wide)
            return one.lost if foot <= y <= foot + one.wide else 0.0
        from_edge = y if one.face == "bottom" else self.depth - y
        at = t - from_edge if one.inside else from_edge
        return min(one.wide, self.flange - t) if 0.0 <= at < one.lost else 0.0

    def section(self, spots: tuple[Thin, ...]) -> tuple[float, float]:
        """Second moment about the middle of its area, and that over the farther edge."""
        step = self.sheet / 40
        ys = [step * (n + 0.5) for n in range(round(self.depth / step))]
        widths = [max(0.0, m - lost) for m, lost in (self._wide(y, spots) for y in ys)]
        area = sum(widths)
        middle = sum(w * y for w, y in zip(widths, ys, strict=True)) / area
        moment = sum(w * (y - middle) ** 2 for w, y in zip(widths, ys, strict=True)) * step
        edges = [y for w, y in zip(widths, ys, strict=True) if w > 0.0]
        return moment, moment / max(middle - edges[0], edges[-1] - middle)

    @property
    def left(self) -> tuple[float, float]:
        """Percent: stiffness from end to end, strength where it is weakest."""
        whole = self.section(())
        ends = sorted({0.0, self.length, *(x for s in self.thin for x in _ends(s, self.length))})
        softness, weakest = 0.0, whole[1]
        for a, b in itertools.pairwise(ends):
            middle = (a + b) / 2
            there = tuple(s for s in self.thin if abs(middle - s.back) < s.long / 2)
            moment, modulus = self.section(there) if there else whole
            softness += (b - a) * whole[0] / moment
            weakest = min(weakest, modulus)
        return 100.0 * self.length / softness, 100.0 * weakest / whole[1]


def _ends(one: Thin, length: float) -> PAIR:
    return max(0.0, one.back - one.long / 2), min(length, one.back + one.long / 2)


# What the engine does to the axle --------------------------------------------------------------------


def has_ball(frame: Frame) -> bool:
    """Whether its front beam is held by a rod with one ball."""
    return {"ball_x", "rod"} <= authored(frame.made.layout)["figures"].keys()


def fan_moves(frame: Frame) -> bool:
    """Whether the engine's front support stands so far behind the front crossmember that a sag moves
    the fan.
    """
    return authored(frame.made.layout)["figures"].get("engine_front_x", 0) >= 60


def fan_of(frame: Frame) -> float:
    """mm that rails set for good let the fan down, which turns over the front points: the engine is one
    stiff piece on its two supports.
    """
    at, mount = authored(frame.made.layout)["figures"]["engine_front_x"], frame.made.mount
    front, rear = (sum(frame.sag(side, x, weight=False) for side in SIDES) / 2 for x in (at, mount))
    return front - (rear - front) * at / (mount - at)


def caster_of(frame: Frame) -> float:
    """Degrees of caster that rails set for good give a beam held by one ball at the engine's or at the
    rails' own height; 0 on a kind of frame without.
    """
    data = authored(frame.made.layout)
    figures = data["figures"]
    if not has_ball(frame):
        return 0.0

    def low(x: float) -> float:
        return sum(frame.sag(side, x, weight=False) for side in SIDES) / 2

    drop = low(figures["ball_x"])
    if "ball-on-gearbox" in data["traits"]:  # one stiff piece between its two supports
        front, mount = figures["engine_front_x"], frame.made.mount
        share = (figures["ball_x"] - front) / (mount - front)
        drop = low(front) + (low(mount) - low(front)) * share
    return math.degrees(math.atan(drop / figures["rod"]))
