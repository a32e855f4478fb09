"""Hands and tools: what a person reads where the truth is known, rounded to the scale, now and then
with a slip.
"""

from __future__ import annotations

import math
import random
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from fractions import Fraction

from tests.bench.sentences.frame import SIDES, Frame

INCH = 25.4
DIVISION = 0.006
"""Slope for one line of a carpenter's level."""
POINT = {"rivet": 0.3, "hole": 0.3, "bolt": 0.5, "edge": 1.0}
"""How far a dot is off the point that is meant, one standard deviation, mm."""
RULERS = {
    "1/16": ("in", Fraction(1, 16), "plain-ruler"),
    "1/32": ("in", Fraction(1, 32), "steel-ruler"),
    "1 mm": ("mm", Fraction(1), "plain-ruler"),
    "1/2 mm": ("mm", Fraction(1, 2), "steel-ruler"),
}
"""Ruler: unit of the survey, its division, the tool as the program names it."""


@dataclass(frozen=True)
class Hand:
    """A person with his tools, for one survey. Lengths in mm."""

    name: str
    ruler: str
    tape_s: float
    ruler_s: float
    slips: float = 0.0
    """Share of readings with a slip."""
    states: str = "both"
    """In which states the string is read: both, loaded, unloaded; bare is unloaded, on three points."""

    @property
    def engine_in(self) -> bool:
        """Whether the engine is in while tape and level are read."""
        return self.states in ("both", "loaded")

    @property
    def unit(self) -> str:
        """in or mm."""
        return RULERS[self.ruler][0]

    @property
    def division(self) -> Fraction:
        """Of the ruler, in its unit."""
        return RULERS[self.ruler][1]

    @property
    def tape_division(self) -> Fraction:
        """Of the tape, in its unit."""
        return Fraction(1, 16) if self.unit == "in" else Fraction(1)


REFERENCE = Hand("reference", "1/16", 0.9, 0.5)


def drawn(rng: random.Random) -> Hand:
    """Half of all are the reference hand; of the others half make slips."""
    if rng.random() < 0.5:
        return REFERENCE
    ruler, tape_s = rng.choice(list(RULERS)), rng.choice((0.5, 0.9, 1.5))
    ruler_s = rng.choice((0.25, 0.35, 0.5, 0.65, 0.8))
    slips = rng.choice((0.0, 1 / 60))
    states = rng.choices(("both", "loaded", "unloaded", "bare"), (65, 10, 10, 15))[0]
    name = f"{ruler}, {'slips' if slips else 'no slips'}"
    return Hand(name, ruler, tape_s, ruler_s, slips, states)


@dataclass
class Bench:
    """Everything that is out of order at one car that is not the frame: fixed for one survey."""

    frame: Frame
    hand: Hand
    rng: random.Random
    dots: dict[str, tuple[float, float]] = field(default_factory=dict)
    uneven: dict[tuple[str, str], float] = field(default_factory=dict)
    """Station and side: how far the flange is off its own smooth curve there."""
    tape: tuple[float, float] = (0.0, 0.0)
    """Share by which the tape reads long, and what its end adds."""
    level_own: float = 0.0
    block: float = 50.8
    unlike: float = 0.0
    """Rear block higher than the front one."""
    pull: float = 30.0
    """Newton, of the string of 0.5 g/m."""
    slip: str = ""
    """What the last reading slipped by; empty for a sound one."""

    def true(self, prompt: str) -> tuple[float, str]:
        """What a perfect hand would read, and on which instrument."""
        step, *rest = prompt.split("/")
        return WAYS[step](self, rest) if step in WAYS else (self._taped(rest[-1]), "tape")

    def read(self, prompt: str, *, careful: bool = False) -> str:
        """What is typed for a prompt. careful: read once more because it was doubted, no slip."""
        value, tool = self.true(prompt)
        self.slip = ""
        slips = self.rng.random() < self.hand.slips and not careful
        kind = self.rng.choice(SLIPS[self.hand.unit, tool]) if slips else ""
        way = self.rng.choice((1, -1))
        return SAY[tool](self, value, kind, way, prompt)

    # The truth of each instrument -----------------------------------------------------------

    def _dotted(self, name: str) -> tuple[float, float, float]:
        x, y, z = self.frame.point(name)
        dx, dy = self.dots[name]
        return x + dx, y + dy, z

    def _taped(self, name: str) -> float:
        start, _, end = name.partition("--")
        return math.dist(self._dotted(start), self._dotted(end))

    def _string(self, rest: list[str], weight: bool) -> tuple[float, str]:
        station, side = rest
        x = self.frame.made.stations[station]
        first, last = self.frame.made.blocks
        seat = self.block + self.unlike * (x - first) / (last - first)
        dip = 0.5e-6 * 9.80665 * (x - first) * (last - x) / (2 * self.pull)
        low = self.frame.sag(side, x, weight=weight) + self.uneven[station, side]
        return seat + low - dip, "ruler"

    def _set_up(self, rest: list[str]) -> tuple[float, str]:
        if rest[-1] == "block":
            return self.block, "block"
        first, last = self.frame.made.blocks
        return last - first, "tape"

    def _level(self, rest: list[str]) -> tuple[float, str]:
        place = self.frame.made.levels[rest[0]]
        own = -self.level_own if rest[-1].endswith("turned") else self.level_own
        return self.frame.slope_at(place) + self.frame.lean + own, "level"

    def _bar(self, rest: list[str]) -> tuple[float, str]:
        if rest[-1] == "closing":
            return 0.0, "bar"
        start, _, end = rest[-1].partition("--")
        across = math.dist(self._dotted(opposite(start)), self._dotted(opposite(end)))
        return across - math.dist(self._dotted(start), self._dotted(end)), "bar"

    def _wheelbase(self, rest: list[str]) -> tuple[float, str]:
        if rest[-1] in SIDES:
            ends = (self.frame.wheel(n, rest[-1]) for n in (0, 1))
            return math.dist(*ends), "tape"
        end, _, side = rest[-1].split("-")
        place = self.frame.made.rails[0 if end == "front" else -1]
        x = self._dotted(f"{place}-{side}")[0]
        return abs(x - self.frame.wheel(0 if end == "front" else 1, side)[0]), "tape"


def opposite(point: str) -> str:
    """The point on the other side."""
    place, _, side = point.rpartition("-")
    return f"{place}-{SIDES[side == 'left']}"


WAYS: Mapping[str, Callable[[Bench, list[str]], tuple[float, str]]] = {
    "sag-loaded": lambda b, rest: b._string(rest, True),
    "sag-unloaded": lambda b, rest: b._string(rest, False),
    "string-set-up": Bench._set_up,
    "level": Bench._level,
    "front-box-bar": Bench._bar,
    "wheelbase": Bench._wheelbase,
}


def bench(frame: Frame, hand: Hand, rng: random.Random) -> Bench:
    """A car with what is a little off about it, drawn."""
    of = frame.made
    names = [p if p in of.middle else f"{p}-{s}" for p in of.places for s in SIDES]
    kinds = {n: of.kinds[n.removesuffix("-left").removesuffix("-right")] for n in names}
    rough = rng.uniform(0.15, 0.3)
    return Bench(
        frame,
        hand,
        rng,
        dots={n: (rng.gauss(0.0, POINT[kinds[n]]), rng.gauss(0.0, POINT[kinds[n]])) for n in names},
        uneven={(t, s): rng.gauss(0.0, rough) for t in of.stations for s in SIDES},
        tape=(rng.uniform(-2e-4, 2e-4), rng.uniform(-0.3, 0.3)),
        level_own=rng.gauss(0.0, 0.0015),
        block=rng.gauss(50.8 if hand.unit == "in" else 50.0, 0.3),
        unlike=rng.gauss(0.0, 0.1),
        pull=rng.uniform(22.0, 34.0),
    )


# As it is typed ----------------------------------------------------------------------------------

SLIPS: Mapping[tuple[str, str], tuple[str, ...]] = {
    ("in", "tape"): ("1 in", "1/2 in", "digits-swapped"),
    ("mm", "tape"): ("10 mm", "digits-swapped"),
    ("in", "ruler"): ("1 in", "1/2 in"),
    ("mm", "ruler"): ("10 mm",),
    ("in", "block"): ("",),
    ("mm", "block"): ("",),
    ("in", "level"): ("a line", "side"),
    ("mm", "level"): ("a line", "side"),
    ("in", "bar"): ("1/2 in", "side"),
    ("mm", "bar"): ("10 mm", "side"),
}
MM = {"1 in": 25.4, "1/2 in": 12.7, "10 mm": 10.0}


def rounded(mm: float, division: Fraction, unit: str) -> Fraction:
    """The nearest line of a scale, in its unit."""
    marks = math.floor(mm / (INCH if unit == "in" else 1.0) / float(division) + 0.5)
    return marks * division


def said(value: Fraction, unit: str) -> str:
    """`25 7/8` or `657.5`."""
    if unit == "mm":
        return f"{float(value):.6g}"
    whole, rest = divmod(value, 1)
    if not rest:
        return str(whole)
    return f"{whole} {rest}" if whole else str(rest)


def _swapped(value: Fraction) -> Fraction:
    """Two neighboring digits of the whole number changed over; the same where all are alike."""
    whole, rest = divmod(value, 1)
    digits = list(str(whole))
    for n in range(len(digits) - 1, 0, -1):
        if digits[n] != digits[n - 1]:
            digits[n], digits[n - 1] = digits[n - 1], digits[n]
            break
    return int("".join(digits)) + rest


def _length(b: Bench, mm: float, kind: str, way: int, division: Fraction) -> str:
    unit = b.hand.unit
    value = max(rounded(mm, division, unit), division)
    if kind == "digits-swapped":
        slipped = _swapped(value)
    else:
        by = Fraction(str(MM.get(kind, 0.0))) / (Fraction(254, 10) if unit == "in" else 1)
        slipped = value + way * by if value + way * by > 0 else value + by
    b.slip = kind if slipped != value else ""
    return said(slipped, unit)


def _say_tape(b: Bench, mm: float, kind: str, way: int, _prompt: str) -> str:
    share, end = b.tape
    shown = mm * (1.0 + share) + end + b.rng.gauss(0.0, b.hand.tape_s)
    return _length(b, shown, kind, way, b.hand.tape_division)


def _say_ruler(b: Bench, mm: float, kind: str, way: int, _prompt: str) -> str:
    shown = mm + b.rng.gauss(0.0, b.hand.ruler_s)
    return _length(b, shown, kind, way, b.hand.division)


def _say_block(b: Bench, mm: float, kind: str, way: int, _prompt: str) -> str:
    """In the hand, with time."""
    return _length(b, mm + b.rng.gauss(0.0, 0.15), kind, way, b.hand.division)


def _say_level(b: Bench, slope: float, kind: str, way: int, _prompt: str) -> str:
    lines = slope / DIVISION + b.rng.gauss(0.0, 0.07)  # with the quarters, a tenth of a line in all
    value = Fraction(math.floor(lines * 4 + 0.5), 4)
    slipped = -value if kind == "side" else value + way * (kind == "a line")
    b.slip = kind if slipped != value else ""
    return _sided(slipped, "in", ("left", "right"))


def _say_bar(b: Bench, mm: float, kind: str, way: int, _prompt: str) -> str:
    unit = b.hand.unit
    value = rounded(mm + b.rng.gauss(0.0, max(0.4, b.hand.ruler_s)), b.hand.division, unit)
    by = Fraction(str(MM.get(kind, 0.0))) / (Fraction(254, 10) if unit == "in" else 1)
    slipped = -value if kind == "side" else value + way * by
    b.slip = kind if slipped != value else ""
    return _sided(slipped, unit, ("past", "short"))


def _sided(value: Fraction, unit: str, words: tuple[str, str]) -> str:
    if not value:
        return "0"
    return f"{said(abs(value), unit)} {words[0] if value > 0 else words[1]}"


SAY: Mapping[str, Callable[[Bench, float, str, int, str], str]] = {
    "tape": _say_tape,
    "ruler": _say_ruler,
    "block": _say_block,
    "level": _say_level,
    "bar": _say_bar,
}
