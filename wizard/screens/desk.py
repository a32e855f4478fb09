"""What the screen stands on: a stack of modes, and the message under the entry line. No terminal
here.

Whatever loads the math is imported when the first line is answered, so that the first page is up at
once.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from wizard.library.places import NO_STEP
from wizard.screens.mode import Panel, View
from wizard.screens.opening import Opening
from wizard.screens.page import Pages
from wizard.sitting.modes import ModelMode, Stack
from wizard.sitting.reply import NOTHING, Reply

if TYPE_CHECKING:
    from wizard.library.shapes import Library
    from wizard.sitting.model_desk import ModelDesk
    from wizard.sitting.sitting import Sitting

UNMOVED = ("nothing", "turn")
"""Kinds of reply that leave message and panel as they are."""
QUIET = ("closed", "open")
"""Kinds that leave the message: what was said of an opened survey stays."""
LEAVING = ("f10", "ctrl+c")
CHANGED = Reply("closed")
"""The text in the line has changed, and with it what is to be drawn."""


class Desk(Stack[View]):
    """Takes lines and keys, brings the mode that they ask for, and keeps what was said."""

    def __init__(
        self,
        library: Library | None,
        folder: Path,
        now: Callable[[], datetime] = datetime.now,
        later: bool = False,
    ) -> None:
        """library: the program's own, loaded when it is needed, for None; folder: where new surveys
        and copies go; later: of the surveys that are listed only the names are read here.
        """
        self.folder, self.now = folder, now
        self.opening = Opening(folder, library, now, later=later)
        super().__init__(self.opening, self._model_mode)
        self._pages: Pages | None = None
        self.said = Reply("nothing")
        self.lost = ""
        """What was set aside of a burst, one sentence; empty when nothing was."""
        self.farewell = ""
        """What is said on the bare terminal after the end."""

    @property
    def library(self) -> Library:
        """The content. Raises ContentError where it is faulty."""
        return self.opening.library

    @property
    def sitting(self) -> Sitting | None:
        """The one in hand."""
        return self._pages.sitting if self._pages else None

    @property
    def panel(self) -> Panel | None:
        """The text that lies over the rest."""
        return self.front if isinstance(self.front, Panel) else None

    @property
    def model(self) -> ModelDesk | None:
        """The model, while it lies over the page."""
        return next((mode.desk for mode in self.modes if isinstance(mode, ModelMode)), None)

    # Opening and leaving
    # ---------------------------------------------------------------------------------------------

    def open(self, path: Path | None) -> None:
        """Take a survey in hand, a new one for None. Raises Unreadable."""
        from wizard.sitting.foretold import foretell_with
        from wizard.sitting.own_frames import offering
        from wizard.sitting.sitting import Sitting
        from wizard.sitting.words import resumed_words
        from wizard.telling.left_out import left_out_sentence

        library = offering(self.library, self.folder)
        foretell = foretell_with(library)
        sitting = Sitting(
            library, path=path, folder=self.folder, must=True, now=self.now, foretell=foretell
        )
        words = sitting.busy or (resumed_words(sitting) if sitting.resumed else "")
        words = f"{left_out_sentence(sitting.survey, library)} {words}".strip()
        self._pages = Pages(sitting)
        self.modes = [self._pages.page]
        self._say(Reply("told", words))

    def _model_mode(self) -> View:
        """On the fault of the step in front with the survey's sizes, or straight from the opening."""
        from wizard.screens.model import Model  # which brings numpy with it
        from wizard.sitting.model_desk import ModelDesk

        sitting = self.sitting
        if sitting is None:
            return Model(ModelDesk(self.library), "round figures")
        step = sitting.step.id if sitting.step else NO_STEP
        whose = f"sizes of {sitting.survey.car or 'this survey'}"
        return Model(ModelDesk(self.library, sitting.survey, step), whose)

    def leave(self) -> None:
        """See to the survey's file, and say on the bare terminal how it stands."""
        if self.sitting is not None and not self.farewell:
            from wizard.sitting.ending import ending

            self.farewell = ending(self.sitting).says

    # What the entry line calls
    # -----------------------------------------------------------------------------------

    def key(self, name: str) -> Reply:
        """A key that types nothing."""
        return self.follow(self.front.key(name), name)

    def typed(self) -> bool:
        """Something was typed: it belongs to the question, so a panel that lies over it goes."""
        return self._close()

    def click(self, row: int, col: int = 0) -> Reply:
        """A press of the mouse on a line of the page."""
        return self.follow(self.front.click(row, col))

    def roll(self, lines: int) -> None:
        """The mouse wheel was turned."""
        self.front.roll(lines)

    def aside(self, count: int, what: str) -> None:
        """So many characters or lines of a burst were set aside."""
        some = f"The {what} after it was"
        many = f"The {count} {what}s after it were"
        self.lost = f"{some if count == 1 else many} not taken."

    # What comes of it
    # ---------------------------------------------------------------------------------------------

    def follow(self, reply: Reply, key: str = "") -> Reply:
        """Bring or leave what a reply says; key: the one that it came of, empty for a typed line."""
        if reply.kind in UNMOVED:
            return reply
        self._close()
        if reply.kind == "open":
            reply = self._opened(reply)
        if reply.quits:
            self.farewell = reply.says
            self.leave()
            return reply
        super().follow(reply)
        if reply.kind == "left":
            self.front.window.top = 0
        self._tell(reply, key)
        return reply

    def _opened(self, reply: Reply) -> Reply:
        from wizard.survey.toml import Unreadable

        try:
            self.open(reply.file)
        except (Unreadable, OSError) as error:
            return Reply("refused", str(error))
        assert self._pages
        self._pages.page.is_next()
        return reply

    def _tell(self, reply: Reply, key: str) -> None:
        """The reply as a panel or as the message."""
        if panel := self.front.panel(reply, key):
            self.modes.append(panel)
        if reply.kind not in QUIET:
            self._say(Reply("told", reply.below) if panel else reply)

    def _say(self, said: Reply) -> None:
        self.said, self.lost = said, ""

    def _close(self) -> bool:
        """Whether a panel was there to be closed."""
        closed = self.panel is not None
        if closed:
            self.modes.pop()
        return closed

    # What the screen asks
    # ---------------------------------------------------------------------------------------------

    def look(self) -> View:
        """The mode that is to be drawn."""
        if self._pages and self.model is None:
            self.modes[0] = self._pages.front()
        if self.panel:
            self.panel.over = self.modes[-2]
        return self.front

    def fell(self, reply: Reply) -> None:
        """What a fault of the program leaves to say; where the mode in front cannot be followed up
        either, back to what it lies over.
        """
        try:
            self.follow(reply)
        except Exception:
            self.drop()
            self._say(reply)

    def drop(self) -> None:
        """Back to the mode that everything else lies over: what lies there cannot be drawn."""
        del self.modes[1:]


class Careful:
    """The desk as the screen calls it: a fault of the program is told in one sentence, and the
    wizard lives on. Nothing that the desk raises goes further.
    """

    def __init__(self, desk: Desk) -> None:
        self.desk = desk

    def line(self, text: str) -> Reply:
        """One ended line; `/quit` leaves whatever else goes wrong."""
        return self._safely(lambda: self.desk.line(text), text.strip().lower() == "/quit")

    def key(self, name: str) -> Reply:
        """A key that types nothing; those that leave do so whatever else goes wrong."""
        return self._safely(lambda: self.desk.key(name), name in LEAVING)

    def click(self, row: int, col: int) -> Reply:
        """A line of the page was clicked."""
        return self._safely(lambda: self.desk.click(row, col))

    def typed(self) -> bool:
        """The text in the line has changed."""
        return self._safely(lambda: CHANGED if self.desk.typed() else NOTHING) is not NOTHING

    def aside(self, count: int, what: str) -> None:
        """So much of a burst was set aside."""
        self._done(lambda: self.desk.aside(count, what))

    def roll(self, lines: int) -> None:
        """The mouse wheel was turned."""
        self._done(lambda: self.desk.roll(lines))

    def _done(self, act: Callable[[], None]) -> None:
        def done() -> Reply:
            act()
            return NOTHING

        self._safely(done)

    def told(self, error: Exception) -> str:
        """The sentence for a fault, which is written beside the surveys as well."""
        from wizard.sitting.mishap import mishap

        sitting = self.desk.sitting
        return mishap(error, self.desk.folder, sitting.path if sitting and sitting.kept else None)

    def _safely(self, act: Callable[[], Reply], leaving: bool = False) -> Reply:
        try:
            return act()
        except Exception as error:  # whatever it is, what was answered is in the file
            told = self.told(error)
            self.desk.fell(Reply("refused", told))
            if leaving:
                self.desk.farewell = told
            return Reply("quit" if leaving else "refused", told)
