"""The state under which a figure was read, and whether two of them may be held against each other."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

from wizard.checks.finding import Finding
from wizard.library.places import NO_STEP, FindingId, StepId, step_of
from wizard.survey.record import Survey
from wizard.survey.rows import Reading, State
from wizard.survey.same import says_same

BENDS = ("engine", "body", "supports")
"""Fields that bend or prop a frame: where they differ, its shape in height cannot be compared."""
SAID = ("panels", "stood", "tires", "fuel")
"""Fields that move a frame little: a difference is said, no more."""


class Unlike(NamedTuple):
    """A field of the state that was another one then."""

    field: str
    then: str
    now: str


@dataclass(frozen=True)
class Record:
    """The states of one survey, ready to be asked which of them a finding was read in."""

    survey: Survey

    @cached_property
    def _readings(self) -> Mapping[str, Reading]:
        return {r.id: r for r in self.survey.table(Reading)}

    @cached_property
    def _states(self) -> Mapping[str, State]:
        return {s.id: s for s in self.survey.table(State)}

    @cached_property
    def _stood(self) -> dict[tuple[FindingId, StepId], frozenset[str]]:
        return {}

    @cached_property
    def _said(self) -> dict[tuple[frozenset[str], str], str]:
        return {}

    def of(self, finding: Finding, field: str, step: StepId = NO_STEP) -> str:
        """What the field said while the finding was read; several are joined by a comma, empty is
        not known.
        """
        stood = self._stood.get((finding.id, step))
        if stood is None:
            stood = self._stood[finding.id, step] = self._states_of(finding, step)
        said = self._said.get((stood, field))
        if said is None:
            words = {str(getattr(self._states[id], field)) for id in stood} - {""}
            said = self._said[stood, field] = ", ".join(sorted(words))
        return said

    def _states_of(self, finding: Finding, step: StepId) -> frozenset[str]:
        """Ids of the states in which it was read; step: where only what that page reads counts."""
        rows = (self._readings[i] for i in finding.readings if i in self._readings)
        ids = {r.state for r in rows if not step or step_of(r.prompt) == step}
        return frozenset(ids & self._states.keys())


def unlike(then: Record, old: Finding, now: Record, new: Finding) -> tuple[Unlike, ...]:
    """What forbids to hold one against the other; nothing for what was taped between points of the
    frame.
    """
    of = old.of
    return (
        _differing(then, old, now, new, of.hangs_on, of.read_at or NO_STEP) if of.hangs_on else ()
    )


def worth_saying(then: Record, old: Finding, now: Record, new: Finding) -> tuple[Unlike, ...]:
    """What was unlike and does not forbid it."""
    forbids = {u.field for u in unlike(then, old, now, new)}
    return tuple(
        u
        for u in _differing(then, old, now, new, (*BENDS, *SAID), NO_STEP)
        if u.field not in forbids
    )


def _differing(
    then: Record, old: Finding, now: Record, new: Finding, fields: tuple[str, ...], step: StepId
) -> tuple[Unlike, ...]:
    found = []
    for field in fields:
        a, b = then.of(old, field, step), now.of(new, field, step)
        if a and b and not _alike(field, a, b):
            found.append(Unlike(field, a, b))
    return tuple(found)


# In a person's own words -------------------------------------------------------------------------

OWN_WORDS = ("stood",)
"""Fields that hold a person's own words: another wording of the same is no difference."""
_MEANS = {
    **dict.fromkeys(("beneath", "underneath", "below"), "under"),
    **dict.fromkeys(("inch", "inches"), "in"),
    **dict.fromkeys(("millimeters", "millimetres"), "mm"),
    **dict.fromkeys(("forward", "fore"), "front"),
    **dict.fromkeys(("back", "aft"), "rear"),
    **dict.fromkeys(("axles", "axle's"), "axle"),
    **dict.fromkeys(("springs",), "spring"),
}
"""Words that mean the same where somebody says where his stands are."""
_SAY_NOTHING = frozenset(
    (
        *("a", "an", "and", "are", "as", "at", "both", "by", "each", "from", "in", "is", "it"),
        *("its", "just", "of", "on", "one", "ones", "sits", "standing", "the", "them", "they"),
        *("two", "up", "with", "jack", "jackstand", "jackstands", "stand", "stands"),
        *("support", "supports"),
    )
)
_WORD = re.compile(r"\d+(?:[./]\d+)?|[a-z']+")


def _alike(field: str, then: str, now: str) -> bool:
    if field not in OWN_WORDS:
        return then == now
    return then == now or says_same(now) or _gist(then) == _gist(now)


def _gist(words: str) -> frozenset[str]:
    """What matters of such words, whatever their order: figures, and names of places."""
    said = (_MEANS.get(w, w) for w in _WORD.findall(words.lower()))
    return frozenset(w for w in said if w not in _SAY_NOTHING)
