"""What a check says: a quantity, its value and doubt, and the readings behind it."""

from __future__ import annotations

from dataclasses import dataclass

from wizard.math.uncertain import Uncertain


@dataclass(frozen=True, slots=True)
class Finding:
    """One computed quantity of the frame."""

    id: str
    """`<quantity>/<where>`: stable for ever."""
    check: str
    """The check that computed it."""
    quantity: str
    """rail-shift, sag-loaded, sag-unloaded, elastic, twist, horn, wheelbase, ..."""
    where: str
    """Box, station and side, or place, as ids joined by `/`."""
    number: Uncertain
    """Value and doubt with every part, in `unit`."""
    unit: str
    """mm or deg"""
    readings: tuple[str, ...]
    """Ids of the readings used."""
    limit: str = ""
    """Id of the limit that judges it; empty for a hint or a help figure."""
    notes: tuple[str, ...] = ()
    """Tokens: `round-figures` (a size came from the layout), `closing` (a closure was out), ..."""

    @property
    def value(self) -> float:
        """The value, in `unit`."""
        return self.number.value
