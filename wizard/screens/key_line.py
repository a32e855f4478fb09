"""The line of keys at the bottom, and which of them a click has hit."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import zip_longest

from wizard.screens.paper import Line, as_text, cells

Keys = Sequence[tuple[str, str]]

AT_A_STEP = (
    ("F1", "why"),
    ("F2", "spoils"),
    ("F3", "words"),
    ("F4", "skip"),
    ("F5", "back"),
    ("F6", "trail"),
    ("^T", "open"),
    ("F7", "undo"),
    ("F8", "verdict"),
    ("F9", "light or dark"),
    ("F10", "stop"),
    ("F11", "mentor"),
    ("F12", "model"),
)
AT_THE_MODEL = (
    ("F1", "why"),
    ("F3", "words"),
    ("F5", "back"),
    ("F7", "straight"),
    ("F8", "guess"),
    ("F9", "light or dark"),
    ("F10", "stop"),
)
AT_THE_START = (("Enter", "choose"), ("F9", "light or dark"), ("F10", "stop"))
SHORT = {"light or dark": "light"}
"""Words for where the line is narrow."""
ALL = 117
"""Cells from which all keys stand in one line, with short words where they must."""
ROOMY = 148
"""Cells from which they stand apart in it."""


def key_lines(sitting: bool, width: int) -> list[Line]:
    """The keys in their order: in one line, or in two of the same columns where they do not fit.

    None is ever left out: who does not see a key does not know that it is there.
    """
    keys = AT_A_STEP if sitting else AT_THE_START
    short = _short(keys)
    if not sitting or width >= ROOMY:
        return [_keys(keys, "   ")]
    if width >= ALL:
        whole = _keys(keys, " ")
        return [whole if cells(as_text([whole])) <= width else _keys(short, " ")]
    half = -(-len(keys) // 2)
    for some, gap in ((keys, 3), (keys, 2), (keys, 1), (short, 1)):
        rows = _columns(some[:half], some[half:], gap)
        if max(cells(as_text([row])) for row in rows) <= width:
            return rows
    return [_keys(short[:half], " "), _keys(short[half:], " ")]


def model_keys(width: int) -> list[Line]:
    """The keys on the model's page, in two lines where they do not fit."""
    whole = _keys(AT_THE_MODEL, "   " if width >= 110 else "  ")
    if cells(as_text([whole])) <= width:
        return [whole]
    half = len(AT_THE_MODEL) // 2 + 1
    return [_keys(_short(some), "  ") for some in (AT_THE_MODEL[:half], AT_THE_MODEL[half:])]


def _short(keys: Keys) -> Keys:
    return [(key, SHORT.get(does, does)) for key, does in keys]


def _columns(first: Keys, second: Keys, gap: int) -> list[Line]:
    """Two lines, each key of the second below one of the first."""
    pairs = zip_longest(first, second, fillvalue=("", ""))
    wide = [max(map(_long, pair)) + gap for pair in pairs]
    return [_padded(keys, wide) for keys in (first, second)]


def _padded(keys: Keys, wide: Sequence[int]) -> Line:
    pieces: list[tuple[str, str]] = []
    for (key, does), room in zip(keys, wide, strict=False):
        free = " " * (room - _long((key, does)))
        pieces += [(key, "key"), (f" {does}", "dim"), (free, "")]
    return tuple(pieces[:-1])


def _long(key: tuple[str, str]) -> int:
    return cells(" ".join(key))


def _keys(keys: Keys, gap: str) -> Line:
    pieces: list[tuple[str, str]] = []
    for key, does in keys:
        pieces += [*((gap, ""),) * bool(pieces), (key, "key"), (f" {does}", "dim")]
    return tuple(pieces)


def key_at(pieces: Line, col: int) -> str:
    """The key whose name or word stands in a column, as the terminal calls it; empty between two."""
    at, key = 0, ""
    for text, role in pieces:
        key = _called(text) if role == "key" else key if role == "dim" else ""
        if at <= col < at + cells(text):
            return key
        at += cells(text)
    return ""


def _called(name: str) -> str:
    """What the terminal calls a key.

    >>> _called("F6"), _called("^T")
    ('f6', 'ctrl+t')
    """
    return f"ctrl+{name[1:].lower()}" if name.startswith("^") else name.lower()
