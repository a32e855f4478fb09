"""What is wrong with a person's tools and hands: drawn once for a survey, or set by a story."""

from __future__ import annotations

import math
import random
from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Any

POINTS = tuple(
    f"{place}-{side}" for place in ("tip", "front", "center", "rear") for side in ("left", "right")
)
DEGREE = math.radians(1.0)


@dataclass(frozen=True, slots=True)
class Tools:
    """Tools and hands of one survey. Lengths in mm, slopes as ratios."""

    unit: str = "in"
    tape_step: Fraction = Fraction(1, 16)
    """Scale of the tape, in the survey's unit; likewise for the rule."""
    rule_step: Fraction = Fraction(1, 32)
    tape_s: float = 0.6
    """Setting and reading, one standard deviation; so are the others named `_s`."""
    tape_scale: float = 0.0
    """Stretch of the whole blade."""
    tape_end: float = 0.0
    """What a worn or bent hook adds to every length."""
    tape_start: float = 0.0
    """What the starting mark adds, where the tape's own figure is typed."""
    rule_s: float = 0.2
    bar_s: float = 0.3
    caliper_s: float = 0.05
    dots: Mapping[str, tuple[float, float]] = field(default_factory=dict)
    """How far each dot is off the point itself, x and y."""
    level_s: float = 0.0004
    level_own: float = 0.0
    """The level's own error, which turns with it."""
    level_step: float = 0.006
    """Slope for one division, one degree or one mm of shim."""
    level_unit: str = "div"
    """div, deg or shim."""
    block: float = 50.8
    block_unlike: float = 0.0
    """The rear block higher than the front one."""
    string_newton_per_mm: float = 0.0005 * 9.80665e-3
    string_pull: float = 30.0
    string_below: bool = False
    slips: float = 0.0
    """Share of the taped lengths in which something goes wrong: 0.02 is one in fifty."""


def drawn(rng: random.Random, unit: str = "in", **fixed: Any) -> Tools:
    """Tools of an ordinary kind with errors of a likely size, some of them fixed."""
    mm = unit == "mm"
    values: dict[str, Any] = {
        "unit": unit,
        "tape_step": Fraction(1) if mm else Fraction(1, 16),
        "rule_step": Fraction(1, 2) if mm else Fraction(1, 32),
        "block": 50.0 if mm else 50.8,
        "tape_scale": rng.uniform(-2.5e-4, 2.5e-4),
        "dots": {p: (rng.gauss(0.0, 0.3), rng.gauss(0.0, 0.3)) for p in POINTS},
        "level_own": rng.gauss(0.0, 0.0015),
        "block_unlike": rng.gauss(0.0, 0.15),
        "string_pull": rng.uniform(22.0, 34.0),
    }
    return Tools(**{**values, **fixed})


SLIPS = (25.4, -25.4, 12.7, -12.7, 10.0, -10.0, 100.0, -100.0, 304.8, -304.8)
"""A tape begun at its 1 in mark, the wrong half inch, centimeter, decimeter, foot."""


def slipped(shown: float, rng: random.Random, tools: Tools) -> float:
    """The tape's figure, once in a while with a slip. Draws alike whether it slips or not."""
    chance, slip = rng.random(), rng.choice(SLIPS)
    return shown + slip if chance < tools.slips and shown + slip > 0 else shown
