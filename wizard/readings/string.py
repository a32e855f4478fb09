"""The string line: what it weighs and how hard it is pulled, on which its own dip depends."""

from __future__ import annotations

from dataclasses import dataclass

from wizard.readings import rows


@dataclass(frozen=True, slots=True)
class StringLine:
    """A taut string on two blocks."""

    mass: float | None
    """kg per meter; None where nobody knows it."""
    pull: float | None
    """N; None where nobody knows it."""
    steady: bool
    """True when doubling the weight that pulls it moved nothing."""


def read_string(row: rows.Row) -> StringLine:
    """A string from its row: mass ("0.5 g/m"), pull ("30 N"), steady ("yes"). Raises Refused."""
    return StringLine(
        rows.quantity(row, "mass", "line_mass"),
        rows.quantity(row, "pull", "force"),
        rows.yes(row, "steady"),
    )
