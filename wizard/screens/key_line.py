"""The line of keys at the bottom, and which of them a click has hit."""

from __future__ import annotations

from collections.abc import Sequence

from wizard.screens.paper import Line, as_text, cells

AT_A_STEP = (
    ("F1", "why"),
    ("F2", "spoils"),
    ("F3", "words"),
    ("F4", "skip"),
    ("F5", "back"),
    ("F6", "trail"),
    ("F7", "undo"),
    ("F8", "verdict"),
    ("F10", "stop"),
)
AT_THE_MODEL = (("F1", "why"), ("F3", "words"), ("F5", "back"), ("F7", "straight"), ("F8", "guess"), ("F10", "stop"))
AT_THE_START = (("Enter", "choose"), ("F9", "light or dark"), ("F10", "stop"))
EXTRA = (("F9", "light or dark"), ("F12", "model"))
"""Shown at a step only where there is room to spare."""


def key_lines(sitting: bool, width: int) -> list[Line]:
    """The keys in one line, or in two where they do not fit."""
    keys = AT_A_STEP if sitting else AT_THE_START
    if sitting and width >= 100:
        keys = (*keys[:-1], *EXTRA, keys[-1])
    gap = "   " if width >= 110 else "  " if len(keys) < 6 else " "
    whole = _keys(keys, gap)
    if cells(as_text([whole])) <= width:
        return [whole]
    return [_keys(keys[:5], "  "), _keys(keys[5:], "  ")]


def model_keys(width: int) -> list[Line]:
    """The keys on the model's page."""
    return [_keys(AT_THE_MODEL, "   " if width >= 110 else "  ")]


def _keys(keys: Sequence[tuple[str, str]], gap: str) -> Line:
    pieces: list[tuple[str, str]] = []
    for key, does in keys:
        pieces += [*((gap, ""),) * bool(pieces), (key, "key"), (f" {does}", "dim")]
    return tuple(pieces)


def key_at(pieces: Line, col: int) -> str:
    """The key whose name or word stands in a column, as the terminal calls it; empty between two."""
    at, key = 0, ""
    for text, role in pieces:
        key = text.lower() if role == "key" else key if role == "dim" else ""
        if at <= col < at + cells(text):
            return key
        at += cells(text)
    return ""
