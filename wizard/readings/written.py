"""Lengths written back as text, in the unit of the survey."""

from __future__ import annotations

import math
from fractions import Fraction
from functools import lru_cache
from typing import Literal

_INCH = Fraction(127, 5)
_INCH_DIVISIONS = tuple(Fraction(1, 2**k) for k in range(7))
"""1 in to 1/64 in."""
_MM_DIVISIONS = (Fraction(1), Fraction(1, 2), Fraction(1, 10))


def write_length(mm: Fraction | float, unit: Literal["in", "mm"], division: Fraction) -> str:
    """A length to the nearest division of the tool, without the unit; halves go away from zero.

    `division` is in mm, exact: Fraction(127, 80) for 1/16 in. A tool of the other system gets the
    coarsest usual division of this one that is not coarser than its own (1 mm as 1/32 in, 1/16 in
    as 1 mm).

    Raises ValueError for a division of zero or less, and for a value that is not finite.

    >>> write_length(Fraction(26289, 40), "in", Fraction(127, 80))
    '25 7/8'
    >>> write_length(2032.04, "mm", Fraction(1, 2))
    '2032.0'
    """
    if division <= 0:
        raise ValueError(f"a tool's division must be above zero, not {division}")
    if not math.isfinite(mm):
        raise ValueError(f"only a finite length can be written, not {mm}")
    scale = _INCH if unit == "in" else Fraction(1)
    step = _step(division / scale, unit)
    value = _nearest(Fraction(mm) / scale, step)
    return _mixed(value) if _is_binary(step) and unit == "in" else _decimal(value, step)


def _step(division: Fraction, unit: str) -> Fraction:
    """The step to write in, in `unit`: the division itself where that unit has such a division."""
    if _is_decimal(division) or (unit == "in" and _is_binary(division)):
        return division
    usual = _INCH_DIVISIONS if unit == "in" else _MM_DIVISIONS
    return next((step for step in usual if step <= division), usual[-1])


def _is_binary(step: Fraction) -> bool:
    return step.denominator in (1, 2, 4, 8, 16, 32, 64)


def _is_decimal(step: Fraction) -> bool:
    """One or two decimals at most; 1.5875 mm is 1/16 in, not a metric division."""
    return (step * 100).denominator == 1


def _nearest(value: Fraction, step: Fraction) -> Fraction:
    size = math.floor(abs(value) / step + Fraction(1, 2)) * step
    return -size if value < 0 else size


def _mixed(value: Fraction) -> str:
    sign = "-" if value < 0 else ""
    whole, rest = divmod(abs(value), 1)
    if not rest:
        return f"{sign}{whole}"
    return f"{sign}{whole} {rest}" if whole else f"{sign}{rest}"


def _decimal(value: Fraction, step: Fraction) -> str:
    places = next(n for n in (0, 1, 2) if (step * 10**n).denominator == 1)
    sign = "-" if value < 0 else ""
    whole, rest = divmod(round(abs(value) * 10**places), 10**places)
    return f"{sign}{whole}.{rest:0{places}}" if places else f"{sign}{whole}"


def write_with_doubt(value: float, u: float, unit: Literal["in", "mm", "deg"]) -> str:
    """A value and its u, u to two significant digits and the value to match.

    `value` and `u` are in mm, and are converted for "in"; for "deg" both are in degrees. An unknown
    u is said to be so.

    >>> write_with_doubt(3.2, 0.45, "mm")
    '3.20 ± 0.45 mm'
    >>> write_with_doubt(3.2, float("nan"), "mm")
    '3.2 mm, doubt not known'
    """
    scale = 25.4 if unit == "in" else 1.0
    value, u = value / scale, abs(u) / scale
    if not math.isfinite(value):
        return "not known"
    if not math.isfinite(u):
        return f"{_fixed(value, 3 if unit == 'in' else 1)} {unit}, doubt not known"
    if u == 0:
        return f"{_fixed(value, 4 if unit == 'in' else 2)} ± 0 {unit}"
    places = 1 - int(f"{u:.1e}".partition("e")[2])
    return f"{_fixed(value, places)} ± {_fixed(u, places)} {unit}"


def _fixed(value: float, places: int) -> str:
    """`value` to that many decimals, tens and hundreds where negative; never "-0.0"."""
    text = f"{round(value, places):.{max(places, 0)}f}"
    return text.lstrip("-") if float(text) == 0 else text


def write_fraction_about(mm: Fraction | float, unit: Literal["in", "mm"]) -> str:
    """About how much, for a sentence: to the nearest 1/32 in or 0.5 mm, with the unit.

    >>> write_fraction_about(0.8, "in")
    '1/32 in'
    >>> write_fraction_about(2.1, "mm")
    '2 mm'
    """
    return f"{number_about(mm, unit)} {unit}" if math.isfinite(mm) else NOT_KNOWN


NOT_KNOWN = "not known"


@lru_cache(maxsize=512)  # the bounds of the limits are written on every page
def number_about(mm: Fraction | float, unit: Literal["in", "mm"]) -> str:
    """The same without its unit, for a column that names it once.

    >>> number_about(0.8, "in")
    '1/32'
    """
    if not math.isfinite(mm):
        return NOT_KNOWN
    if unit == "in":
        return _mixed(Fraction(_nearest_of(mm, 160, 127), 32))  # 32 parts of 25.4 mm
    return f"{_nearest_of(mm, 2, 1) / 2:.10g}"


def _nearest_of(mm: Fraction | float, many: int, of: int) -> int:
    """How many parts a length is, where `many` of them are `of` mm: as `_nearest` rounds, in whole
    numbers, for a page writes dozens.
    """
    above, below = mm.as_integer_ratio()
    parts = (2 * abs(above) * many + below * of) // (2 * below * of)
    return -parts if above < 0 else parts
