"""Quantities other than lengths: pull, line mass, slope, angle, mass, temperature, distance driven.

The text is taken apart by our own pattern; pint only converts, and is imported only when a unit
that needs it is met, since importing it takes longer than the first screen may.
"""

from __future__ import annotations

import math
import re
from functools import cache
from typing import TYPE_CHECKING, Any

from wizard.readings.figures import FIGURE, Wanted, read_figure, shown, tidy
from wizard.readings.refused import Refused
from wizard.readings.units import DEFINITIONS, KINDS, UNITS, Dimension, Kind

if TYPE_CHECKING:
    from pint import UnitRegistry

_TEXT = re.compile(rf"(?P<figure>{FIGURE})\s*(?P<unit>[^\d\s+-][^\d+-]*)?")


def read_quantity(text: str, dimension: Dimension) -> float:
    """The value in the dimension's own unit.

    force N, line_mass kg/m, slope mm/m, angle degrees, mass kg, temperature °C, distance km. A
    slope may be typed as an angle, and comes back as 1000 times its tangent. The unit must be
    typed.

    Raises Refused with one sentence: no unit, an unknown or unfitting one, NaN, infinities,
    exponents, a sign where there is none, an implausible size.

    >>> read_quantity("30 N", "force")
    30.0
    >>> read_quantity("3 kg", "force")
    Traceback (most recent call last):
    wizard.readings.refused.Refused: “kg” does not go with a pull: use a unit that does, ... 7 lbf.
    """
    kind = KINDS[dimension]
    wanted = Wanted(kind.what, kind.like)
    sign, body = _take_sign(tidy(text, wanted), kind, wanted)
    match = _TEXT.fullmatch(body)
    if match is None:
        raise Refused(f"{shown(text)} cannot be read as {kind.what}", kind.like)
    if match["unit"] is None:
        raise Refused(f"{shown(text)} needs its unit", kind.like)
    value = sign * float(read_figure(match["figure"], wanted))
    result = _convert(value, match["unit"], kind)
    if not kind.low <= result <= kind.high or (kind.above and result == kind.low):
        raise Refused(
            f"{shown(text)} is no likely size for {kind.what}: look at the figure and unit",
            kind.like,
        )
    return result


def _take_sign(line: str, kind: Kind, wanted: Wanted) -> tuple[int, str]:
    if line[0] not in "+-":
        return 1, line
    if kind.low >= 0:
        raise Refused(
            f"A plus or minus has no meaning in {kind.what}: give the size alone", wanted.like
        )
    return (-1 if line[0] == "-" else 1), line[1:].strip()


def _convert(value: float, typed: str, kind: Kind) -> float:
    unit = _unit(typed, kind)
    if unit in kind.plain:
        return value * kind.plain[unit]
    registry = _registry()
    # Built from value and unit, never by multiplying: pint refuses a product with an offset unit
    # such as °F.
    quantity = registry.Quantity(value, unit)
    if kind.own == "millimeter/meter" and quantity.check("[angle]"):
        radians = quantity.to("radian").magnitude
        return math.tan(radians) * 1000 if radians < math.pi / 4 else math.inf
    if not _fits(registry, unit, kind):
        raise Refused(
            f"{shown(typed)} does not go with {kind.what}: use a unit that does", kind.like
        )
    return float(quantity.to(kind.own).magnitude)


def _fits(registry: UnitRegistry[Any], unit: str, kind: Kind) -> bool:
    """True where above and below the slash agree with the own unit: kg/kg is a ratio, but no slope."""
    parts, own = unit.split("/"), kind.own.split("/")
    pairs = zip(parts, own, strict=False)
    return len(parts) == len(own) and all(registry.Unit(a).is_compatible_with(b) for a, b in pairs)


def _unit(typed: str, kind: Kind) -> str:
    """The unit as the definitions name it; one slash at most, nothing else is worked out."""
    parts = [
        part.strip().rstrip(".").replace("° ", "°")
        for part in typed.replace(" per ", "/").split("/")
    ]
    if len(parts) > 2 or any(part not in UNITS for part in parts):
        raise Refused(f"{shown(typed)} is not a unit this program knows for {kind.what}", kind.like)
    return "/".join(UNITS[part] for part in parts)


@cache
def _registry() -> UnitRegistry[Any]:
    from pint import UnitRegistry

    return UnitRegistry(DEFINITIONS.strip().splitlines())
