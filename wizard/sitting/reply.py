"""What came of a line or of a key, whatever mode took it."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Literal

from wizard.frozen import Frozen

if TYPE_CHECKING:
    from wizard.telling.document import Block

Kind = Literal[
    "taken",
    "refused",
    "doubted",
    "told",
    "ended",
    "quit",
    "open",
    "model",
    "left",
    "drawn",
    "closed",
    "turn",
    "nothing",
]
"""told: something was asked for; ended: no prompt is left; open: a survey is to be opened; model:
the model comes in front; left: the mode in front is left; drawn: lines that must not be wrapped;
closed: what lies over the mode goes; turn: between dark and light; nothing: all stays as it is.
"""


class Reply(Frozen):
    """One answer of a mode to one entered line or key."""

    kind: Kind
    says: str = ""
    """Plain text for the person; never markup."""
    title: str = ""
    """Heading, when a page of text is told."""
    shows: Literal["", "verdict", "mentor", "why"] = ""
    """What shows it on a screen in place of the bare text: a mode of its own."""
    part: str = ""
    """Letter of the part of the verdict that is opened; empty for the answer."""
    blocks: tuple[Block, ...] = ()
    """The page of text as a document, with its tables and pictures, for who can draw them."""
    below: str = ""
    """What is said once the page of text is closed."""
    entry: str | None = None
    """Text to put in the entry line, the cursor behind it; None leaves the line as it is."""
    file: Path | None = None
    """The survey to open; None for a new one."""

    @property
    def stops_burst(self) -> bool:
        """Whether the rest of a paste or a pipe must be set aside."""
        return self.kind in ("refused", "doubted")

    @property
    def quits(self) -> bool:
        """Whether the program is left."""
        return self.kind == "quit"


NOTHING, CLOSED = Reply("nothing"), Reply("closed")
