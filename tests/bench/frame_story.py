"""A story: what is true of an invented car, and what the person at the keys sees, says and skips."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from tests.bench.frames import Truth

BOTH = ("left", "right")
STANDS = {
    "state/found": "w",
    "lift-engine/push": "s",
    "lower-engine/push": "s",
    "wheelbase/chocked": "c",
    "wheelbase/push": "s",
}
"""What everybody answers who says nothing else: it came on its wheels, and stood still after each
lift.
"""


@dataclass(frozen=True, slots=True)
class Story:
    """One car and one survey of it."""

    id: str
    """Name of the sample survey's file; the answers file is named by its first word or two."""
    script: str
    """Name of the answers file without its end."""
    truth: Truth
    seed: int
    tools: Mapping[str, Any]
    """Fields of Tools that are not drawn."""
    started: datetime
    answers: Mapping[str, str]
    """Prompt id to the line typed.

    A look that is not named is `b o`; a reading comes from the truth.
    """
    skips: Mapping[str, str] = field(default_factory=dict)
    """Prompt or step id to the reason; a step is skipped as a whole."""
    asides: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    """Prompt id to the lines typed before it is answered for the first time: photos, remarks."""
    returns: Mapping[str, datetime] = field(default_factory=dict)
    """Step before which the person stopped, and when he went on."""
    action: str = ""
    """The verdict that the car deserves."""


def each(step: str, left: str, right: str | None = None, **more: str) -> dict[str, str]:
    """Answers to both sides of a look, and to what hangs on them: `where="m"` goes to both,
    `left_fold` to one.
    """
    found = {f"{step}/left": left, f"{step}/right": left if right is None else right}
    for name, line in more.items():
        side, _, rest = name.partition("_")
        for s in BOTH if not rest else (side,):
            found[f"{step}/{s}/{rest or name}"] = line
    return found
