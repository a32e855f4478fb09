"""Fields of a tool's row in the session file, read with refusals that name the tool and the field."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from wizard.readings.figures import shown
from wizard.readings.lengths import Unit, read_length
from wizard.readings.quantities import read_quantity
from wizard.readings.refused import Refused
from wizard.readings.units import Dimension

Row = Mapping[str, str]


def named(row: Row) -> str:
    """The tool's id, or its kind where it has none, in quotation marks."""
    return shown(str(row.get("id") or row.get("kind") or "tool"))


def choice(row: Row, key: str, tokens: tuple[str, ...], default: str) -> str:
    """One of `tokens`, whatever its case; `default` where the field is missing or empty."""
    typed = str(row.get(key) or default).strip()
    for token in tokens:
        if token.lower() == typed.lower():
            return token
    *most, last = tokens
    raise Refused(
        f"The {key} of {named(row)} is {', '.join(most)} or {last}, not {shown(typed)}",
        f'{key} = "{default}"',
    )


def yes(row: Row, key: str) -> bool:
    """True for yes or true, False for no, false or a missing field."""
    return choice(row, key, ("no", "false", "yes", "true"), "no") in ("yes", "true")


def length(row: Row, key: str, unit: Unit, most_mm: int) -> Fraction | None:
    """Exact mm, above zero and at most `most_mm`; None where the field is missing or empty."""
    typed = str(row.get(key) or "")
    if not typed.strip():
        return None
    try:
        mm = read_length(typed, unit)
    except Refused as refusal:
        raise _of(row, key, refusal) from refusal
    if not 0 < mm <= most_mm:
        raise Refused(f"The {key} of {named(row)} must be above zero and at most {most_mm} mm")
    return mm


def division(row: Row, unit: Unit) -> Fraction:
    """The smallest division, exact mm; 1/16 in or 1 mm where the row does not say."""
    usual = Fraction(127, 80) if unit == "in" else Fraction(1)
    return length(row, "division", unit, 10) or usual


def quantity(row: Row, key: str, dimension: Dimension) -> float | None:
    """A quantity in the unit `read_quantity` documents; None where the field is missing or empty."""
    typed = str(row.get(key) or "")
    if not typed.strip():
        return None
    try:
        return read_quantity(typed, dimension)
    except Refused as refusal:
        raise _of(row, key, refusal) from refusal


def _of(row: Row, key: str, refusal: Refused) -> Refused:
    said = f"The {key} of {named(row)} cannot be used: {refusal.said[:1].lower()}{refusal.said[1:]}"
    return Refused(said, refusal.like)
