"""What is said wherever a car must not move: with every stop, loose joint, moving crack and lost
brake pull.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from wizard.library import marks

if TYPE_CHECKING:
    from wizard.judgment.verdict import Verdict

NOT_DRIVEN = "Do not drive it; somebody who knows frames must look at it first."
STILL_MOVING = f"Treat it as still moving. {NOT_DRIVEN}"
"""What is said of a frame that moved since last time and was not meant to."""
NO_SURVEY = (
    "This survey never says that a car may be driven, and it does not find every crack. It does not"
    " replace a licensed professional or your local rules."
)
"""The last line of every report."""


def must_not_move(verdict: Verdict) -> bool:
    """Whether anything was seen with which nobody may drive it: a stop, a loose joint, a spring or
    steering box that is not held, a crack that may be moving, a part that binds.
    """
    moving = any(voice.id in marks.NOT_TO_MOVE for voice in verdict.voices)
    return bool(verdict.stops or verdict.loose or verdict.causes.moving) or moving
