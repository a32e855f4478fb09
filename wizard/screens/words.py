"""Sentences that only the full screen says."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from wizard.library.shapes import Step

ABOUT = (
    "Crosstape walks you around an old car's frame with tape, string, level and bar, and tells you"
    " whether it is bent, how sure that is and what to do."
)
TOO_SMALL = (
    "This window is too small: the full screen needs 60 by 20. Make it larger, or press F10 and type"
    " crosstape ask {file} to answer line by line."
)
ENDED = "Type a letter to open the rest."
CHANGE = "/change shows what has changed. "
AFTER = "/report puts it on paper. F10 stops."
SHORTLY = "a letter, or /report"
SHORTLY_AGAIN = "a letter, /change or /report"
"""The same beside the entry line."""


def why_and_how(step: Step) -> str:
    """The text of F1: why the step matters, with all its moves, which the page may have had no room
    for.
    """
    from wizard.telling.asking import beside_why

    moves = "\n".join(f"{n}. {text}" for n, text in enumerate(step.how, start=1))
    return "\n\n".join(
        part for part in (step.why, moves, f"Done well: {step.good}", *beside_why(step))
    )


def too_small(file: str) -> str:
    """The one sentence of a window below 60 by 20."""
    return TOO_SMALL.format(file=file or "FILE")
