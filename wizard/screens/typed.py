"""What is typed so far, and what belongs to one burst of keys. No terminal in here."""

from __future__ import annotations

from rich.cells import cell_len

from wizard.frozen import Frozen
from wizard.readings.plain import clean

BURST_GAP_S = 0.04
"""Keys nearer together than this were not struck one by one by a person: a paste, a slow link
catching up.
"""


class Typed(Frozen):
    """The entry line's text and the place of the cursor in it."""

    text: str = ""
    at: int = 0
    """Characters before the cursor."""

    def insert(self, more: str) -> Typed:
        """With more text at the cursor, cleaned of controls; tabs and line ends become spaces."""
        more = clean(more)
        return Typed(self.text[: self.at] + more + self.text[self.at :], self.at + len(more))

    def press(self, key: str) -> Typed:
        """After an editing key; unchanged for any other."""
        text, at = self.text, self.at
        if key in ("backspace", "ctrl+h"):
            return Typed(text[: at - 1] + text[at:], at - 1) if at else self
        if key == "delete":
            return Typed(text[:at] + text[at + 1 :], at)
        if key == "ctrl+w":
            head = text[:at].rstrip()
            head = head[: head.rfind(" ") + 1]
            return Typed(head + text[at:], len(head))
        if key == "ctrl+u":
            return Typed(text[at:], 0)
        if key == "ctrl+k":
            return Typed(text[:at], at)
        return Typed(text, _moved(key, at, len(text)))

    def window(self, width: int) -> tuple[str, str, str]:
        """What shows in so many cells: text before, under and behind the cursor, which is always
        among it.
        """
        under = self.text[self.at : self.at + 1] or " "
        start = self.at
        room = width - cell_len(under)
        while start > 0 and (room := room - cell_len(self.text[start - 1])) >= 0:
            start -= 1
        return self.text[start : self.at], under, self.text[self.at + 1 : self.at + 1 + width]


def _moved(key: str, at: int, length: int) -> int:
    places = {"left": max(at - 1, 0), "right": min(at + 1, length), "home": 0, "end": length}
    return places.get({"ctrl+a": "home", "ctrl+e": "end"}.get(key, key), at)


class Burst:
    """Sets aside the rest of a burst of keys once a line of it was refused, until the stream
    pauses.
    """

    def __init__(self) -> None:
        self.count = 0
        """Keys set aside since the last refusal."""
        self._last: float | None = None

    def stop(self, at: float) -> None:
        """A line was refused or doubted at this time, s: what comes in the same breath is not meant
        for it.
        """
        self.count, self._last = 0, at

    def swallows(self, at: float) -> bool:
        """Whether a key struck at this time, s, belongs to the burst and is set aside."""
        if self._last is None:
            return False
        if at - self._last > BURST_GAP_S:
            self._last = None
            return False
        self._last = at
        self.count += 1
        return True
