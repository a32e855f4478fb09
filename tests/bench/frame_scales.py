"""A figure as a person says it off a scale: to the nearest mark, in fractions or in mm."""

from __future__ import annotations

import math
from fractions import Fraction

INCH = Fraction(254, 10)


def nearest(value: float, step: float) -> int:
    """The nearest mark, counted in steps."""
    return math.floor(value / step + 0.5)


def say_length(mm: float, step: Fraction, unit: str) -> str:
    """`91 1/8` or `2314`: bare numbers in the survey's unit; step in inches or mm, as the scale is
    divided.
    """
    marks = nearest(mm / (25.4 if unit == "in" else 1.0), float(step))
    return mixed(marks * step) if unit == "in" else f"{float(marks * step):.10g}"


def mixed(value: Fraction) -> str:
    """Whole and fraction: `25 7/8`, `7/8`, `25`."""
    whole, rest = divmod(value, 1)
    return " ".join(
        part
        for part in (str(whole) if whole or not rest else "", str(rest) if rest else "")
        if part
    )


def say_gap(mm: float, step: Fraction, unit: str, words: tuple[str, str]) -> str:
    """`3/16 past`, `2.5 short`, `0`; words are those for plus and for minus."""
    size = say_length(abs(mm), step, unit)
    return size if size == "0" else f"{size} {words[0] if mm > 0 else words[1]}"


def say_bubble(slope: float, step: float, unit: str) -> str:
    """`1/2 left`, `0.3° left`, `1.5 mm left`: the high side; unit div, deg or shim, step what one
    mark is in slope.

    Parts of a division are said in quarters, an angle in tenths, a shim in half millimeters.
    """
    mark = (
        Fraction(1, 4) if unit == "div" else Fraction(1, 2) if unit == "shim" else Fraction(1, 10)
    )
    marks = nearest(abs(slope) / step, float(mark))
    if not marks:
        return "0"
    side = "left" if slope > 0 else "right"
    if unit == "div":
        return f"{mixed(marks * mark)} {side}"
    return f"{float(marks * mark):.10g}{'°' if unit == 'deg' else ' mm'} {side}"
