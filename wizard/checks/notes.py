"""What a check has to add to a number: one small class for each thing, read by whoever needs it.

A check that has something else to say adds a class here, or in its own file, and puts one of it
into its finding. Nobody but its reader knows of it: a note that nothing reads is none.
"""

from __future__ import annotations

from wizard.frozen import Frozen
from wizard.library.places import NO_PLACE, PlaceId


class Note(Frozen):
    """Something that a check says beside the number."""


class Mark(Note):
    """A note that has nothing to tell but that it is there.

    Where its quantity has a sentence of that name (`says`), it is said after the other; one named
    `plus-` or `minus-` and the mark takes the place of the other.
    """

    name: str


ROUND_FIGURES = Mark("round-figures")
"""A size came from the layout and was not taped."""
ALL_ALIKE = Mark("all-alike")
"""Every reading is alike to the last mark, as if copied."""
OWN_SIDES_OPEN = Mark("own-sides-open")
"""The horns' own sides were not taped, so a horn that reaches further forward reads alike."""
AT_LEAST = Mark("at-least")
"""The string ended before the springs: what was read off it is less than it is."""
FLOOR_OPEN = Mark("floor-open")
"""Nobody read how the floor leans from left to right."""
EITHER_SIDE = Mark("either-side")
"""The axle may stand on either side of its points: only how far apart they are is known."""
ONE_PLACE = Mark("one-place")
"""A thin stretch that is short, or nobody said how long: no loss over the whole rail."""
DEEP_THERE = Mark("deep-there")
DEEPER_THERE = Mark("deeper-there")
"""At that one place more is gone than may be gone over a whole rail."""
FRONT_OPEN = Mark("front-open")
"""The box behind the horns is not known well enough to say how the rails run on, so none is judged."""
EDGE_NOT_KNOWN = Mark("edge-not-known")
"""Nobody knows whether the edge under the string was straight from the maker."""
BODY_GAVE = Mark("body-gave")
"""No rail moves, and the gap that the body bolts closed is surely more than one could have."""
STRAIGHTER, FURTHER = Mark("straighter"), Mark("further")
"""Drawn tight, the body bolts bring a rail nearer to straight, or further from it."""
MOVED = Mark("moved")
"""The frame moved while the level went along it."""


class OffPlan(Note):
    """The number was read off the plan of everything taped."""

    disagrees: bool
    """Whether the tapes in that plan contradict one another."""


CANNOT_TELL = "cannot-tell"


class Bend(Note):
    """How one rail bends."""

    kind: str
    """kink, bow, or CANNOT_TELL"""
    near: PlaceId = NO_PLACE
    """Station nearest to the sharpest place; empty where it is not known."""
    hides: float | None = None
    """mm; a kink of less than this could hide. None where no size of it would show."""


class OneOf(Note):
    """The number is one of several of its kind: the more were looked at, the further out one of them
    lies by chance.
    """

    places: int
    worst: bool = False
    """Whether it lies furthest from zero of them all: then what is told of it must hold for the
    worst of so many.
    """
    alone: bool = False
    """Whether it is called out by itself, however many others there are."""

    def __init__(self, places: int, worst: bool = False, alone: bool = False) -> None:
        vars(self).update(places=places, worst=worst, alone=alone)  # half of all findings have one

    @property
    def judged(self) -> int:
        """Among how many it is called out."""
        return 1 if self.alone else self.places


class Crown(Note):
    """A rail that stands high as a whole, not at one station."""

    near: PlaceId
    """Station at which it stands highest."""
    loaded: bool
    """Whether it does so with the engine's weight on."""
    counts: bool
    """Whether that is more than the rail springs when the engine leaves."""


class Slip(Note):
    """The reading that does not agree, or the set within which nothing can say which."""

    named: bool
    """Whether one of them is probably wrong."""
    kind: str
    """What it looks like: `1 in`, `digits-swapped`, ...; empty where it looks like nothing known."""
    asks: tuple[str, ...]
    """What the prompts of the readings ask for."""


class Against(Note):
    """The place of the level that all others are held against."""

    place: PlaceId


class SagTakenOut(Note):
    """A rail that hangs low leans the level: so much of the lean is no twist."""

    side: str
    mm: float


class SagLifts(Note):
    """A rail that hangs low lifts its own horn: so much of the difference in height is no horn's."""

    side: str
    mm: float


class ReadOn(Note):
    """What the same place read on other supports."""

    supports: str
    mm: float


class Lean(Note):
    """How the lean changes along the frame."""

    kind: str
    """none, steady, one-joint, cannot-tell"""
    between: tuple[PlaceId, ...] = ()
    """The two places of the level on either side of the joint."""


class Rises(Note):
    """Where a rail does not rise under the engine as a sound one would."""

    odd: tuple[tuple[str, str], ...]
    """For each odd rail how: `down` or `far`, and its side."""
    unequal: bool
    """Whether the two rose very unequally."""
