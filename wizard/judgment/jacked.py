"""Whether a jack or a chain left its mark on a rail, and whether anybody looked.

A jack under the middle of a rail bends it by itself (common practice, no published source).
"""

from __future__ import annotations

from wizard.judgment.facts import Told
from wizard.judgment.seen import Seen, looks_of
from wizard.library import marks


def _step(facts: Told) -> str:
    """The page where such a mark is looked for."""
    steps = facts.library.steps.values()
    found = (s.id for s in steps for p in s.prompts for c in p.choices if marks.JACK in c.marks)
    return next(found)


def _looks(facts: Told, side: str) -> tuple[Seen, ...]:
    """What was seen of a rail's side; nothing found under dirt is nothing looked at."""
    step = _step(facts)
    looks = (s for s in looks_of(facts.survey, facts.library) if s.prompt.step == step)
    return tuple(s for s in looks if s.side == side and s.counts)


def side_seen(facts: Told, side: str) -> bool:
    """Whether the rail's side was looked at, or cannot be on this kind of frame.

    Before that a bend says nothing of its cause: the mark may be there, and passing over a look
    must not be bolder.
    """
    return _step(facts) in facts.foreign or bool(_looks(facts, side))


def is_jacked(facts: Told, side: str, thirds: set[str]) -> bool:
    """Whether the mark is on that rail in one of these thirds; where nobody said in which third, it
    may be this one.
    """
    marked = any(s.carries(marks.JACK) for s in _looks(facts, side))
    said = facts.meant(marks.THIRD, _step(facts), side)
    return marked and (said in thirds or not said)
