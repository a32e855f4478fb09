"""What a sentence must contain, in its order; how it is worded between is free."""

from __future__ import annotations


def tells(text: str, *parts: str) -> None:
    """Hold that the parts stand in the text one after another."""
    at = 0
    for part in parts:
        found = text.find(part, at)
        assert found >= 0, f"{part!r} is not said, or not there, in: {text}"
        at = found + len(part)
