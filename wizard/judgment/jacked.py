"""Whether a jack or a chain left its mark on a rail, and whether anybody looked.

A jack under the middle of a rail bends it by itself (common practice, no published source).
"""

from __future__ import annotations

from wizard.judgment.facts import Told
from wizard.survey.rows import Look

STEP, MARK = "rail-sides", "jack-or-chain-mark"
UNTOLD = ("", "not-sure")


def _looks(facts: Told, side: str) -> tuple[Look, ...]:
    """What was seen of a rail's side; nothing found under dirt is nothing looked at."""
    looks = (
        k
        for k in facts.survey.looks_at(f"{STEP}/{side}")
        if k.seen != "not-reached" and k.answer not in UNTOLD
    )
    return tuple(k for k in looks if not (k.seen == "dirty" and k.answer == "nothing-found"))


def side_seen(facts: Told, side: str) -> bool:
    """Whether the rail's side was looked at, or cannot be on this kind of frame.

    Before that a bend says nothing of its cause: the mark may be there, and passing over a look
    must not be bolder.
    """
    return STEP in facts.foreign or bool(_looks(facts, side))


def is_jacked(facts: Told, side: str, thirds: set[str]) -> bool:
    """Whether the mark is on that rail in one of these thirds; where nobody said in which third, it
    may be this one.
    """
    marked = any(k.answer == MARK for k in _looks(facts, side))
    said = facts.survey.answer_to(f"{STEP}/{side}/where")
    return marked and (said in thirds or said not in ("front", "middle", "rear"))
