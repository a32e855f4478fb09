"""Slips of a rule or a tape by their size, as half a sentence."""

from __future__ import annotations

NEAR_MM = 1.0
SLIPS = {
    "in": ((25.4, "a whole inch"), (12.7, "half an inch")),
    "mm": ((10.0, "a whole centimeter"), (100.0, "100 mm")),
}


def recognized(off_mm: float, unit: str) -> str:
    """`, a whole inch` for a difference of about that; empty for none.

    >>> recognized(25.0, "in"), recognized(17.0, "in")
    (', a whole inch', '')
    """
    return next(
        (f", {name}" for size, name in SLIPS[unit] if abs(abs(off_mm) - size) <= NEAR_MM), ""
    )
