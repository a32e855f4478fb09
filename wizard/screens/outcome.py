"""What came of a line or a key."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Outcome:
    """What the entry line and the app have to do next."""

    stop: bool = False
    """Set aside the rest of the burst: what was entered was refused or doubted."""
    entry: str | None = None
    """Text to put in the entry line, with the cursor behind it; None leaves the line as it is."""
    quit: bool = False
    """Leave the program."""
    turn: bool = False
    """Change between dark and light."""
    later: bool = False
    """More of the same is coming: draw when it pauses."""


@dataclass(frozen=True, slots=True)
class Said:
    """The message under the entry line."""

    kind: str = ""
    """taken, refused, doubted, told; empty for no message"""
    text: str = ""
    aside: str = ""
    """What was set aside, one sentence; empty when nothing was."""


@dataclass(slots=True)
class Panel:
    """A text that lies over the page until it is closed."""

    key: str
    """The function key that asked for it, empty when it was typed."""
    title: str
    text: str
    verdict: bool = False
    """Shown as the verdict page, not as this text."""
    top: int = 0
    """First line that shows."""
    fresh: bool = True
    """Not drawn yet, so that `top` is still to be chosen."""
