"""The shape of a quantity: what is computed of a frame, with its unit and all of its words."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field
from typing import TYPE_CHECKING

from wizard.frozen import Frozen

if TYPE_CHECKING:
    from wizard.library.places import QuantityId, StepId, WhereId


UNITS = ("mm", "%", "deg", "mm/m")
"""Units in which numbers are kept."""
Forms = Mapping[str, str]


class Quantity(Frozen):
    """One thing that checks compute: what it is called, how it is said, what it hangs on."""

    id: QuantityId
    unit: str
    """mm, %, deg, mm/m"""
    name: str = ""
    """What a figure of it is called, with {fields} for its place."""
    subject: str = ""
    """What it is about, where its value is not worth saying; empty says `The horns`."""
    plural: str = ""
    """What several of them are called."""
    part: str = ""
    """What of a thing it is, where several quantities under one limit tell it: `in height`."""
    plus: str = ""
    """The way it goes where it is above zero, to stand behind an amount; empty needs none."""
    minus: str = ""
    ends: tuple[str, str] = ("", "")
    """Words for the negative and the positive end of its axis."""
    limit: str = ""
    """Id of the limit that judges it; empty for a hint or a help figure."""
    by: tuple[str, ...] = ()
    """Modules of `wizard/checks` that return it."""
    shown: tuple[str, ...] = ()
    """What the steps that show it call their check."""
    compared: bool = False
    """Whether two surveys are held against each other by it: no closure, hint or computed help."""
    hangs_on: tuple[str, ...] = ()
    """Fields of the state that must be alike then."""
    read_at: StepId | None = None
    """The step whose readings' state counts for that."""
    also: str = ""
    """What of the car it is of that is no frame and was called for by itself: then nothing of the
    verdict
    on the frame hangs on it. Empty for the frame's own.
    """
    hint: bool = False
    """Whether it is a hint and no more: no limit judges it, and a sentence that names an amount says so."""
    size: bool = False
    """Whether it is a size of its own and no departure from straight."""
    downward: bool = False
    """Whether plus is drawn below zero."""
    says: Forms = field(default_factory=dict)
    """Sentences by the form they are for: straight, plus, minus, ..."""
    at: Mapping[str, Forms] = field(default_factory=dict)
    """Other sentences at a box of that id or role."""
    places: Mapping[WhereId, str] = field(default_factory=dict)
    """Names of places that no layout has."""

    @property
    def together(self) -> str:
        """What all figures of it are called as one thing: `twist`, of places of twist."""
        return self.plural.removeprefix("places of ")

    def way(self, value: float) -> str:
        """The word for the way a value goes."""
        return self.plus if value > 0 else self.minus

    def end(self, value: float) -> str:
        """The end of the axis on the value's side."""
        return self.ends[value > 0]
