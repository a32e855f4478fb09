"""The home-made bar with two equal square pointers."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from wizard.readings import rows
from wizard.readings.lengths import Unit
from wizard.readings.refused import Refused


@dataclass(frozen=True, slots=True)
class Bar:
    """A bar set on one diagonal and carried to the other."""

    pointer: Fraction
    """Length of its pointers, mm, exact: a long pointer that leans reads wrong."""


def read_bar(row: rows.Row, unit: Unit) -> Bar:
    """A bar from its row: pointer ("4 in"). Raises Refused."""
    pointer = rows.length(row, "pointer", unit, 1000)
    if pointer is None:
        raise Refused(
            f"The length of the pointers of {rows.named(row)} is missing", 'pointer = "4 in"'
        )
    return Bar(pointer)
