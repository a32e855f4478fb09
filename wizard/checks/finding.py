"""What a check says: a quantity, its value and doubt, and the readings behind it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeVar

from wizard.checks.notes import Mark, Note, OffPlan
from wizard.math.uncertain import Uncertain

HORNS = ("horn", "horn-out", "horn-back", "horn-height")
"""Quantities of the horns."""
SAGS = ("sag-loaded", "sag-unloaded", "sag-difference")
"""Quantities read by the string."""

N = TypeVar("N", bound=Note)


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
    notes: tuple[Note, ...] = ()
    """What the check has to add; `wizard/checks/notes.py` says what there is."""

    @property
    def value(self) -> float:
        """The value, in `unit`."""
        return self.number.value

    def note(self, kind: type[N]) -> N | None:
        """What the check added of this kind; None where it added nothing."""
        return next((n for n in self.notes if isinstance(n, kind)), None)

    def has(self, mark: Mark) -> bool:
        """Whether the check marked it so."""
        return mark in self.notes

    @property
    def disagrees(self) -> bool:
        """Whether the tapes that it leans on contradict one another, so that it cannot be told yet."""
        plan = self.note(OffPlan)
        return plan is not None and plan.disagrees
