"""What the screen stands on: the shelf of surveys or the sitting in hand, the panel and the
message. No terminal here.

Whatever loads the math is imported when the first line is answered, so that the first page is up at
once.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from wizard.screens.opening import Opening
from wizard.screens.opening_tasks import task
from wizard.screens.outcome import Outcome, Panel, Said
from wizard.screens.paper import Line
from wizard.screens.words import why_and_how
from wizard.sitting.reply import Reply

if TYPE_CHECKING:
    from wizard.library.shapes import Library, Step
    from wizard.sitting.model_desk import ModelDesk
    from wizard.sitting.sitting import Sitting
    from wizard.survey.prompts import Prompt
    from wizard.survey.record import Survey
    from wizard.telling.document import Section

COMMANDS = {
    "f1": "/why",
    "f2": "/spoils",
    "f3": "/words",
    "f5": "/back",
    "f6": "/trail",
    "f7": "/undo",
    "f8": "/verdict",
    "f10": "/quit",
    "ctrl+c": "/quit",
}
"""Function keys that are a word at once; F4 leaves `/skip ` in the line, because a reason must
follow.
"""
STEPS = {"pagedown": 1, "pageup": -1}
WHY = "Why this matters"
"""Title of the reply that its moves are added to."""
MODEL = "To see it on a model frame that can be bent: F12, or type /model."
SHARED = ("pagedown", "pageup", "f9", "escape")
"""Keys that do on the model's page what they do everywhere."""


class Desk:
    """Takes lines and keys, drives the sitting, and remembers what is to be shown."""

    def __init__(
        self, library: Library | None, folder: Path, now: Callable[[], datetime] = datetime.now
    ) -> None:
        """library: the program's own, loaded when it is needed, for None; folder: where new surveys
        and copies go.
        """
        self._library, self.folder, self.now = library, folder, now
        self.sitting: Sitting | None = None
        self.opening = Opening(folder, library, now())
        self.model: ModelDesk | None = None
        """The model that lies over the page until it is left."""
        self.panel: Panel | None = None
        self.said = Said()
        self.farewell = ""
        """What is said on the bare terminal after the end."""
        self.top = 0
        """First line that shows of a page longer than the screen."""
        self.room = 1
        """Lines that the page had room for when it was last drawn."""
        self.length = 0
        """Lines of the page or panel when it was last drawn."""
        self.mentor_kept: tuple[object, tuple[Section, ...]] | None = None
        """The mentor's page last told, with what it was told of."""
        self.kept: tuple[Survey, int, list[Line]] | None = None
        """The verdict page last drawn, with its survey and width: scrolling need not compute it
        again.
        """

    @property
    def library(self) -> Library:
        """The content. Raises ContentError where it is faulty."""
        from wizard.library import load_library

        return self._library or load_library()

    # Opening --------------------------------------------------------------------------------------
    # --------------

    def open(self, path: Path | None) -> None:
        """Take a survey in hand, a new one for None. Raises Unreadable."""
        from wizard.sitting.foretold import foretell_with
        from wizard.sitting.sitting import Sitting
        from wizard.sitting.words import resumed_words
        from wizard.telling.left_out import left_out_sentence

        library, foretell = self.library, foretell_with(self.library)
        self.sitting = Sitting(
            library, path=path, folder=self.folder, must=True, now=self.now, foretell=foretell
        )
        words = self.sitting.busy or (resumed_words(self.sitting) if self.sitting.resumed else "")
        words = f"{left_out_sentence(self.sitting.survey, library)} {words}".strip()
        self.said = Said("told", words) if words else Said()
        self.top = 0

    def _choose(self, text: str) -> Outcome:
        """What was chosen on the opening page."""
        from wizard.survey.toml import Unreadable

        self.panel = None
        if doing := self.opening.task(text):
            return task(self, doing[0].kind, doing[0].name, doing[1], bool(text.strip()))
        picked = self.opening.pick(text)
        if picked is None:
            self.said = Said("refused", self.opening.remedy())
            return Outcome(stop=True)
        if picked.kind == "quit":
            return Outcome(quit=True)
        if picked.kind == "model":
            return self._open_model()
        try:
            self.open(self._copied(picked.path) if picked.copy and picked.path else picked.path)
        except (Unreadable, OSError) as error:
            self.said = Said("refused", str(error))
            return Outcome(stop=True)
        return Outcome()

    def _copied(self, sample: Path) -> Path:
        from wizard.sitting.shelf import copy_sample

        return copy_sample(sample, self.folder, self.library, self.now())

    def pick_row(self, row: int, col: int = 0) -> Outcome:
        """A line of the opening page was clicked."""
        at_start = self.sitting is None and self.model is None and self.panel is None
        name = self.opening.at_row(row + self.top, col) if at_start else ""
        return self._choose(name) if name else Outcome()

    # What the entry line calls
    # -----------------------------------------------------------------------------------

    def line(self, text: str) -> Outcome:
        """One ended line: an answer, a word with a slash, or an empty line that closes a panel."""
        if self.model is not None:
            from wizard.screens.model_face import model_line

            return model_line(self, self.model, text)
        if self.panel and not text.strip():
            self.panel = None
            return Outcome()
        outcome = self._choose(text) if self.sitting is None else self._handle(self.sitting, text)
        if (
            self.sitting is not None
        ):  # what a line brought up is drawn before anything else is typed
            front = self.sitting.prompt
            self.sitting.saw(front.caution if front else "")
        return outcome

    def key(self, name: str) -> Outcome:
        """A key that types nothing."""
        if (
            self.model is not None
            and name not in SHARED
            and not (self.panel and name in ("up", "down"))
        ):
            from wizard.screens.model_face import model_key

            return model_key(self, self.model, name)
        if name in ("up", "down"):
            return self._arrow(1 if name == "down" else -1)
        if name in STEPS and self.sitting is None and self.model is None and self.panel is None:
            self.opening.jump(STEPS[name])
            return Outcome()
        if name in STEPS:
            return self._scroll(STEPS[name] * max(self.room - 1, 1))
        if name == "f9":
            return Outcome(turn=True)
        if name == "escape":
            self.panel = None
            return Outcome()
        if self.sitting is None:
            return Outcome(quit=name in ("f10", "ctrl+c"))
        if name == "f4":
            self.panel = None
            return Outcome(entry="/skip ")
        if name == "f12":
            return self._open_model()
        if name == "f11":
            return self._handle(
                self.sitting, "/mentor off" if self.sitting.aside.mentor else "/mentor"
            )
        if name not in COMMANDS:
            return Outcome()
        if self.panel and self.panel.key == name:
            self.panel = None
            return Outcome()
        return self._handle(self.sitting, COMMANDS[name], name)

    def typed(self) -> bool:
        """Something was typed: it belongs to the question, so a panel that lies over it goes."""
        lay, self.panel = self.panel, None
        return lay is not None

    def aside(self, count: int, what: str) -> None:
        """So many characters or lines of a burst were set aside."""
        lost = (
            f"The {what} that followed was"
            if count == 1
            else f"The {count} {what}s that followed were"
        )
        self.said = Said(self.said.kind, self.said.text, f"{lost} set aside.")

    def _open_model(self) -> Outcome:
        from wizard.screens.model_face import open_model

        return open_model(self)

    # Within ---------------------------------------------------------------------------------------
    # ---------------

    def _handle(self, sitting: Sitting, text: str, key: str = "") -> Outcome:
        from wizard.sitting.commands import handle

        before, survey = sitting.ask, sitting.survey
        reply = handle(sitting, text)
        word = text.split(maxsplit=1)[0].lower() if text.strip() else ""
        self.panel = _panel(reply, word, key, sitting.step)
        if reply.kind == "model":
            return self._open_model()
        if reply.kind == "quit":
            self.farewell = reply.says
            return Outcome(quit=True)
        if sitting.ask != before or sitting.survey is not survey:
            self.top = 0
        self.said = _said(reply, text, before.prompt if before else None, self.panel)
        if word == "/mentor" and reply.title:
            self.said, self.top = Said("told", reply.says.split("\n", 1)[0]), 0
        return Outcome(stop=reply.stops_burst)

    def _arrow(self, way: int) -> Outcome:
        if self.sitting is None and self.model is None and self.panel is None:
            self.opening.move(way)
            return Outcome()
        return self._scroll(way)

    def keep_in_view(self, row: int) -> None:
        """Scroll no further than needed for a line of the page to show."""
        self.top = min(max(self.top, row + 2 - self.room, 0), max(row - 1, 0))

    def _scroll(self, lines: int) -> Outcome:
        last = max(self.length - self.room, 0)
        if self.panel:
            self.panel.top = min(max(self.panel.top + lines, 0), last)
        else:
            self.top = min(max(self.top + lines, 0), last)
        return Outcome()

    def leave(self) -> None:
        """See to the survey's file, and say on the bare terminal how it stands."""
        if self.sitting is not None and not self.farewell:
            from wizard.sitting.ending import ending

            self.farewell = ending(self.sitting).says

    def roll(self, lines: int) -> None:
        """The mouse wheel was turned."""
        self._scroll(lines)


def _panel(reply: Reply, word: str, key: str, step: Step | None) -> Panel | None:
    if (
        reply.kind != "told" or not reply.title or word == "/mentor"
    ):  # the mentor's view is the page itself
        return None
    if word == "/why" and step and reply.title == WHY:
        more = f"\n\n{MODEL}" if step.part == "measure" else ""
        return Panel(key, "Why, and how it is done", why_and_how(reply.says, step) + more)
    return Panel(key, reply.title, reply.says, verdict=word == "/verdict")


def _said(reply: Reply, text: str, prompt: Prompt | None, panel: Panel | None) -> Said:
    """The message for a reply; an answer that was taken is said back, so that a slip is seen at
    once.
    """
    if panel:
        return Said()
    kind = {"ended": "told"}.get(reply.kind, reply.kind)
    if reply.says or kind != "taken" or text.strip().startswith("/"):
        return Said(kind, reply.says)
    from wizard.sitting.words import taken_words

    return Said(kind, taken_words(text, prompt))
