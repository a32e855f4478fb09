"""Tapes and rules: their divisions, their classes, and the error a class allows."""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, cast

from wizard.readings import rows
from wizard.readings.lengths import Unit

Class = Literal["I", "II", "III"]
End = Literal["hook", "mark", "burned"]

_ERRORS: dict[Class, tuple[float, float, float]] = {
    "I": (0.1, 0.1, 0.1),
    "II": (0.3, 0.2, 0.2),
    "III": (0.6, 0.4, 0.3),
}
"""a, b, c in mm, b per meter. Directive 2014/32/EU, Annex X (MI-008), chapter I."""


@dataclass(frozen=True, slots=True)
class Tape:
    """A tape measure."""

    class_: Class
    """Accuracy class printed on the blade; a tape without one counts as III, the coarsest."""
    division: Fraction
    """Smallest division, mm, exact."""
    end: End
    """Where readings start: the hook, a zero mark on the blade, or a later mark taken off
    ("burned").
    """

    @property
    def from_end(self) -> bool:
        """True where the hook's own error comes in."""
        return self.end == "hook"


@dataclass(frozen=True, slots=True)
class Rule:
    """A steel rule, square-ended."""

    class_: Class
    """As for a tape; II where the row does not say."""
    division: Fraction
    """Smallest division, mm, exact."""


def read_tape(row: rows.Row, unit: Unit) -> Tape:
    """A tape from its row: class, division, end. Raises Refused."""
    end = rows.choice(row, "end", ("hook", "mark", "burned"), "hook")
    return Tape(_class(row, "III"), rows.division(row, unit), cast(End, end))


def read_rule(row: rows.Row, unit: Unit) -> Rule:
    """A rule from its row: class, division. Raises Refused."""
    return Rule(_class(row, "II"), rows.division(row, unit))


def _class(row: rows.Row, default: Class) -> Class:
    return cast(Class, rows.choice(row, "class", ("I", "II", "III"), default))


def max_permissible_error(class_: Class, length_mm: Fraction | float, from_end: bool) -> float:
    """Largest error, mm, that the class allows: a + b L, L in meters rounded up; + c from the end.

    References: Directive 2014/32/EU, Annex X (MI-008), chapter I.

    >>> round(max_permissible_error("II", 2500, from_end=False), 3)
    0.9
    """
    a, b, c = _ERRORS[class_]
    # A nanometer's worth of float noise on 2000 mm must not make it a third meter.
    meters = math.ceil(abs(float(length_mm)) / 1000 - 1e-9)
    return a + b * meters + (c if from_end else 0.0)


def tape_standard_u(class_: Class, length_mm: Fraction | float, from_end: bool) -> float:
    """Standard uncertainty, mm, of the tape's own error: rectangular within the class's limits,
    mpe/√3.

    It is shared by every reading of the same tape.
    """
    return max_permissible_error(class_, length_mm, from_end) / math.sqrt(3)
