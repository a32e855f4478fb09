"""The shapes of content/signs.toml: what counts as evidence, for what, and what has to be seen to
rule it out.
"""

from collections.abc import Mapping
from dataclasses import field
from itertools import product
from typing import NamedTuple

from wizard.frozen import Frozen, cached_property
from wizard.library.places import PromptId, QuantityId, StepId

CAUSES = ("age", "collision", "repair", "original")
"""Age, a collision, an earlier repair, made so: scored apart, for they live side by side in one
frame.
"""
WEIGHTS = ("weak", "medium", "strong")
KINDS = ("metal", "geometry", "body", "history")
"""Witnesses of unlike kinds are independent of one another; two of one kind are not."""
THIRDS = ("front", "middle", "rear")
TWINS = ("alone", "both", "unseen")
"""What the same place on the other side shows: nothing and seen bare, the same, or neither is
known.
"""
TELLS = ("", "older", "moving", "untouched")
"""What a sign says of the time: older than the last fitting of the body, moving now, or nothing
done there since.
"""
CONDITIONS = (
    "equal-sag",
    "equal-sag-untold",
    "equal-sag-behind",
    "equal-sag-loaded",
    "equal-sag-bent",
    "one-rail-sag",
    "low-by-a-jack",
    "string-kink",
    "crown",
    "crown-as-told",
    "front-box-out-rest-true",
    "front-box-out",
    "rear-box-out",
    "whole-diamond",
    "out-of-square",
    "rail-short",
    "frame-bowed",
    "twist-on-three",
    "horn-out",
    "axle-at-the-hit",
    "pulley-off",
    "pulley-moved",
    "fitted-to-it",
)
"""What the findings can show; wizard/judgment/shown.py says when each of them is shown."""


class Sign(NamedTuple):
    """One kind of evidence, as authored."""

    id: str
    words: str
    """What it is, in a few plain words that can end a sentence."""
    kind: str
    """metal, geometry, body, history."""
    leans: Mapping[str, str]
    """Cause to weight (weak, medium, strong); may be empty where the sign only tells of the time."""
    against: Mapping[str, str]
    """Cause to weight of what it speaks against."""
    also: str
    """What else it could be."""
    source: str
    mark: str
    """P published, C common practice with no source, M from memory, O the project's own figure."""
    answer: PromptId
    """Prompt of a history answer; that of none where it comes from a look or a finding."""
    looks: tuple[StepId, ...] = ()
    """Steps whose looks show it, with `tokens`."""
    tokens: tuple[str, ...] = ()
    """Answers of the looks, or of the prompt `answer`, of which one must be there."""
    twin: tuple[str, ...] = TWINS
    """Which states of the other side let it count."""
    on: tuple[str, ...] = ()
    """Traits of which the kind of frame must have one; empty where it is the same on every frame."""
    unless: tuple[str, ...] = ()
    """Signs beside which this one is not said: they say the same and more."""
    finding: str = ""
    """One of CONDITIONS."""
    tells: str = ""
    """older, moving, untouched, or empty."""
    once: bool = False
    """True where the same at several steps is one and the same thing, such as rivets loose
    everywhere.
    """
    bend: bool = False
    """True for what a rail's bend shows of itself, by whatever made it: measured and seen it is
    still one bend, and no two witnesses of a blow.
    """


class Witness(NamedTuple):
    """Something that must have been seen bare on both sides, or measured, before its silence
    counts.
    """

    step: StepId
    """Step to send the person to."""
    kind: str
    settle: str
    """What to see or measure there, ending a sentence: `see the tops of both rails bare`."""
    quantity: QuantityId | None = None
    """rail-shift or sag-unloaded for a measure; None for a look."""


class CauseWords(NamedTuple):
    """One of the four causes, in words, with its witnesses."""

    id: str
    name: str
    """For a heading: `Age`, `Collision`."""
    witnesses: tuple[Witness, ...]


class SignBook(Frozen):
    """Everything in content/signs.toml."""

    signs: Mapping[str, Sign] = field(default_factory=dict)
    causes: Mapping[str, CauseWords] = field(default_factory=dict)
    thirds: Mapping[StepId, str] = field(default_factory=dict)
    """Step to the third of the frame that its looks speak of, where the step itself does not ask."""

    @cached_property
    def shown_by(self) -> Mapping[str, frozenset[tuple[StepId, str]]]:
        """By sign every look that shows it, as its step and its answer."""
        return {id: frozenset(product(s.looks, s.tokens)) for id, s in self.signs.items()}
