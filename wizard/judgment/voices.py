"""Looks that are no stop sign and yet no sound frame: with one of them nobody is told that nothing
is to be put right.

Each answer of content says itself what it speaks for.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from wizard.judgment.bands import Judged
from wizard.judgment.facts import SIDES
from wizard.judgment.seen import Seen
from wizard.library import marks


@dataclass(frozen=True, slots=True)
class Voice:
    """One line of the verdict and the looks that bring it."""

    id: str
    """One of marks.VOICES."""
    seen: tuple[Seen, ...]


def voices_of(seen: tuple[Seen, ...], judged: Collection[Judged]) -> tuple[Voice, ...]:
    """Every voice that the looks raise, in the order of marks.VOICES."""
    measured = {j.finding.where for j in judged if j.finding.quantity == "thickness"}
    speaking = tuple(s for s in seen if _speaks(s, seen, measured))
    found = (Voice(id, tuple(s for s in speaking if s.speaks == id)) for id in marks.VOICES)
    return tuple(v for v in found if v.seen)


def _speaks(one: Seen, seen: tuple[Seen, ...], measured: Collection[str]) -> bool:
    """Whether a look is no stop sign and nothing else answers it."""
    if one.choice is None or one.choice.stop:
        return False
    return not _settled(one, seen, measured)


def _settled(one: Seen, seen: tuple[Seen, ...], measured: Collection[str]) -> bool:
    """Whether something else answers what this look asks."""
    if one.carries(marks.CALIPERED) and one.side in measured:
        return True
    if one.carries(marks.BARE_ONLY) and one.look.seen != "bare":
        return True
    alike = {s.side for s in seen if s.prompt.step == one.prompt.step and s.choice == one.choice}
    return one.carries(marks.PAIRED) and alike == set(SIDES)
