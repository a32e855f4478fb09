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
AT_THE_MODEL = (
    ("F1", "why"),
    ("F3", "words"),
    ("F5", "back"),
    ("F7", "straight"),
    ("F8", "guess"),
    ("F10", "stop"),
)
AT_THE_START = (("Enter", "choose"), ("F9", "light or dark"), ("F10", "stop"))
EXTRA = (("F9", "light or dark"), ("F11", "mentor"), ("F12", "model"))
"""In the line of a wide screen; else in a line of their own where the message leaves one."""
ALL = 117
"""Cells from which all keys stand in one line."""


def key_lines(sitting: bool, width: int) -> list[Line]:
    """The keys in one line, or in two where they do not fit."""
    keys = AT_A_STEP if sitting else AT_THE_START
    if sitting and width >= ALL:
        keys = (*keys[:-1], EXTRA[0], keys[-1], *EXTRA[1:])
    gap = "   " if width >= ALL or len(keys) < 6 else " "
    while gap:
        whole = _keys(keys, gap)
        if cells(as_text([whole])) <= width:
            return [whole]
        gap = gap[1:]
    return [_keys(keys[:5], "  "), _keys(keys[5:], "  ")]


def extra_line(width: int) -> list[Line]:
    """The keys of a step for which the line has no room; none where all stand in it."""
    return [] if width >= ALL else [_keys(EXTRA, "  ")]


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
