"""Levels and angle gauges, and the slope that a bubble on one of them means."""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction

from wizard.readings import rows
from wizard.readings.bubbles import Bubble
from wizard.readings.lengths import Unit
from wizard.readings.refused import Refused


@dataclass(frozen=True, slots=True)
class Level:
    """A spirit level or an angle gauge; what is not known of it is None, but something is known."""

    sensitivity: float | None
    """mm per meter of slope for one division of the vial."""
    length: Fraction | None
    """mm between the two contacts, exact; what a shim's thickness is divided by."""
    resolution: float | None
    """Degrees, the last digit of an angle gauge."""

    def slope(self, bubble: Bubble) -> float:
        """Slope across the car, a ratio (0.001 is 1 mm in 1 m), positive when the left side is
        higher.

        The shim went under the low end, so the slope is its thickness over the length, to the high
        side.

        Raises Refused where the level's own figure for that kind of reading is missing.

        >>> Level(0.5, None, None).slope(Bubble("divisions", Fraction(2)))
        0.001
        """
        if bubble.kind == "degrees":
            return math.tan(math.radians(bubble.value))
        if not bubble.value:
            return 0.0
        if bubble.kind == "shim":
            if self.length is None:
                raise Refused(
                    "A shim needs the level's length between its contacts", 'length = "24 in"'
                )
            return float(bubble.value / self.length)
        if self.sensitivity is None:
            raise Refused("Divisions need the level's sensitivity", 'sensitivity = "0.5 mm/m"')
        return float(bubble.value) * self.sensitivity / 1000


def read_level(row: rows.Row, unit: Unit) -> Level:
    """A level from its row: sensitivity ("0.5 mm/m"), length ("24 in"), resolution ("0.1 deg").

    Raises Refused for a field that cannot be used, and where none is given.
    """
    sensitivity = rows.quantity(row, "sensitivity", "slope")
    resolution = rows.quantity(row, "resolution", "angle")
    level = Level(sensitivity, rows.length(row, "length", unit, 3000), resolution)
    if level == Level(None, None, None):
        raise Refused(
            f"Nothing is said of {rows.named(row)}: give its sensitivity, its length or its"
            " resolution",
            'sensitivity = "0.5 mm/m"',
        )
    return level
