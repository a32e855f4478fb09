"""The limits as content has them, in mm, read without the program."""

from __future__ import annotations

import math
import tomllib
from collections.abc import Mapping
from fractions import Fraction
from functools import lru_cache

from tests.bench.sentences.frame import LAYOUTS

LIMIT_OF = {
    "rail-shift": "rail-shift",
    "mash": "rail-length",
    "sway": "rail-bow",
    "nose-off": "nose-off",
    "sag-loaded": "sag-loaded",
    "sag-unloaded": "sag-unloaded",
    "twist": "twist",
    "horn": "horn",
    "horn-height": "horn",
    "horn-back": "horn",
    "wheelbase": "wheelbase",
}
"""Quantity: its limit."""
WORK = ("put-right", "axle-first", "specialist")


@lru_cache(maxsize=1)
def _limits() -> Mapping[str, Mapping[str, object]]:
    data = tomllib.loads((LAYOUTS.parent / "limits.toml").read_text(encoding="utf-8"))
    return {one["id"]: one for one in data["limit"]}


def _mm(text: str) -> float:
    size, _, unit = text.rpartition(" ")
    return float(Fraction(size)) * (25.4 if unit == "in" else 1.0)


@lru_cache(maxsize=128)
def bounds(quantity: str, negative: bool) -> Mapping[str, float]:
    """Band: where it begins, mm; for values below zero or above. Empty where that side has none."""
    limit = _limits()[LIMIT_OF[quantity]]
    both = limit.get("both", False)
    rows = limit["above"] if both or not negative else limit.get("below", [])
    starts: dict[str, float] = {}
    start = 0.0
    for row in rows:  # type: ignore[attr-defined]
        starts[row["band"]] = start
        start = _mm(row["upto"])
    if starts:
        starts[str(limit.get("beyond", "specialist"))] = start
    return starts


def first(quantity: str, value: float) -> float | None:
    """Where `leave it` ends for a value; None where nothing judges that side."""
    starts = sorted(bounds(quantity, value < 0).values())
    return starts[1] if len(starts) > 1 else None


def band(quantity: str, value: float) -> str:
    """The band of a true value."""
    starts = bounds(quantity, value < 0)
    inside = [b for b, start in starts.items() if abs(value) >= start]
    return inside[-1] if inside else "leave"


def work_from(quantity: str, value: float) -> float:
    """From what size on somebody has work to do; infinite where nothing judges that side."""
    starts = bounds(quantity, value < 0)
    return min((start for b, start in starts.items() if b in WORK), default=math.inf)


def is_half(quantity: str, value: float, said: float, claimed: str) -> bool:
    """Whether a true value is at least half of where the claimed band begins, on the same side."""
    start = bounds(quantity, said < 0).get(claimed)
    return start is not None and value * said > 0 and abs(value) >= start / 2
