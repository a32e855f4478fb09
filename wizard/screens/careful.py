"""The desk as the screen calls it: a fault of the program is told in one sentence, and the wizard
lives on.
"""

from __future__ import annotations

from collections.abc import Callable

from wizard.screens.desk import Desk
from wizard.screens.outcome import Outcome, Said

LEAVING = ("f10", "ctrl+c")


class Careful:
    """Takes what the entry line and the mouse hand on.

    Nothing that the desk raises goes further.
    """

    def __init__(self, desk: Desk) -> None:
        self.desk = desk

    def line(self, text: str) -> Outcome:
        """One ended line; `/quit` leaves whatever else goes wrong."""
        return self._safely(lambda: self.desk.line(text), text.strip().lower() == "/quit")

    def key(self, name: str) -> Outcome:
        """A key that types nothing; those that leave do so whatever else goes wrong."""
        return self._safely(lambda: self.desk.key(name), name in LEAVING)

    def typed(self) -> bool:
        """The text in the line has changed."""
        return self.desk.typed()

    def aside(self, count: int, what: str) -> None:
        """So much of a burst was set aside."""
        self.desk.aside(count, what)

    def pick_row(self, row: int, col: int) -> Outcome:
        """A line of the page was clicked."""
        return self._safely(lambda: self.desk.pick_row(row, col))

    def roll(self, lines: int) -> Outcome:
        """The mouse wheel was turned."""
        self.desk.roll(lines)
        return Outcome()

    def told(self, error: Exception) -> str:
        """The sentence for a fault, which is written beside the surveys as well."""
        from wizard.sitting.mishap import mishap

        sitting = self.desk.sitting
        return mishap(error, self.desk.folder, sitting.path if sitting and sitting.kept else None)

    def _safely(self, act: Callable[[], Outcome], leaving: bool = False) -> Outcome:
        try:
            return act()
        except Exception as error:  # whatever it is, what was answered is in the file
            self.desk.panel, self.desk.said = None, Said("refused", self.told(error))
            if leaving:
                self.desk.farewell = self.desk.said.text
            return Outcome(stop=True, quit=leaving)
