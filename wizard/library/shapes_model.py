"""The shapes of content/model.toml: faults to bend, the checks that may see them, and why some
cannot.
"""

from collections.abc import Mapping
from dataclasses import field
from typing import NamedTuple

from wizard.frozen import Frozen
from wizard.library.places import StepId

BY = ("one", "plan")


class ModelFault(NamedTuple):
    """A fault to bend into the model."""

    id: str
    name: str
    """In two or three words, as it is named in the game."""
    words: str
    """What it is, in a few plain words."""
    bend: tuple[str, ...]
    """What is typed on the model's page to bend it so."""
    mirror: tuple[str, ...]
    """The same the other way round; empty where that is another fault or none."""
    steps: tuple[StepId, ...]
    """Steps from which the model is opened on it."""
    feel: str
    """What a driver or an owner would notice."""
    not_guessed: bool = False
    """Left out of the guessing game: its signs are those of another fault, in other amounts."""


class Voice(NamedTuple):
    """A check, as a person asks it."""

    id: str
    name: str
    by: str
    """one: each pair of readings alone; plan: all tapes in one plan."""
    finds: tuple[str, ...]
    """Ids of its findings with * for any part; one behind ! is left out."""
    blind: str
    """Why it does not see most of what it does not see."""
    called: bool = False
    """Whether its page is only asked when called for: then it speaks where it sees something, and
    is
    named nowhere else.
    """


class ModelBook(Frozen):
    """Everything in content/model.toml."""

    faults: Mapping[str, ModelFault] = field(default_factory=dict)
    voices: Mapping[str, Voice] = field(default_factory=dict)
    reasons: Mapping[tuple[str, str], str] = field(default_factory=dict)
    """(fault, voice) to why the one is blind to the other."""

    def fault_of(self, step: StepId) -> ModelFault | None:
        """The fault on which the model opens from a step; None where it opens straight."""
        return next((f for f in self.faults.values() if step in f.steps), None)
