"""Plain numbers and uncertain ones side by side: a plain number is one without doubt."""

from __future__ import annotations

from typing import SupportsFloat

from wizard.math.uncertain import Uncertain

Number = SupportsFloat | Uncertain
"""What the room's functions take: a float, an int, a Fraction or an Uncertain."""


def uncertain(number: Number) -> Uncertain:
    """The number as an Uncertain; a plain number gets no parts.

    >>> uncertain(3)
    Uncertain(value=3.0, parts=())
    """
    return number if isinstance(number, Uncertain) else Uncertain(float(number))
