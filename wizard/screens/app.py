"""The full-screen wizard: one screen whose content changes; the entry line has the keys from first to last."""

from __future__ import annotations

import asyncio
import contextlib
import importlib
import os
import select
import signal
import sys
import threading
from collections.abc import Callable
from datetime import datetime
from pathlib import Path

from rich.console import RenderableType
from textual import constants, events, on
from textual.app import App, ComposeResult
from textual.containers import Horizontal
from textual.geometry import Size
from textual.widgets import Static

from wizard.library.fields import ContentError
from wizard.screens.desk import Desk
from wizard.screens.entry import Entry
from wizard.screens.key_line import key_at
from wizard.screens.looks import DARK, LIGHT, charset, first_theme
from wizard.screens.outcome import Outcome
from wizard.screens.sheet import Sheet
from wizard.screens.stage import stage
from wizard.screens.typed import BURST_GAP_S
from wizard.sitting.naming import survey_folder

ENDING = ("SIGTERM", "SIGHUP", "SIGINT")
"""Signals that end the wizard in order; every answer is in the file already."""
PATIENCE_S = 3.0
"""How long an ending may take."""
COLOR_SYSTEMS = ("auto", "standard", "256", "truecolor", "windows")


class CrosstapeApp(App[None], inherit_bindings=False):
    """Draws what the desk stands on, and hands it what is typed."""

    CSS_PATH = "crosstape.tcss"
    TITLE = "Crosstape"
    ENABLE_COMMAND_PALETTE = False
    AUTO_FOCUS = "#entry"

    def __init__(
        self,
        file: Path | str | None = None,
        folder: Path | str | None = None,
        now: Callable[[], datetime] = datetime.now,
    ) -> None:
        """file: a survey to go on with, raises Unreadable; folder: where surveys live, else the usual place."""
        # A named palette under NO_COLOR gives black on black: the terminal's own two colours are used instead.
        plain = "NO_COLOR" in os.environ
        super().__init__(ansi_color=True if plain else None)
        self.set_class(plain, "-plain")
        for theme in (DARK, LIGHT):
            self.register_theme(theme)
        self.theme = first_theme()
        path = Path(file) if file else None
        self.desk = Desk(None, _folder(path, folder), now)
        if path:
            self.desk.open(path)
        self.entry = Entry(self.desk, self._done, id="entry")
        self._waiting = False

    def compose(self) -> ComposeResult:
        """Top line, page with the trail beside it, question, entry line, message, keys."""
        yield Sheet("top")
        yield Horizontal(Sheet("page"), Sheet("side"), id="middle")
        yield Sheet("ask")
        yield Horizontal(Static("> ", id="mark", markup=False), self.entry, Sheet("hint"), id="line")
        yield Sheet("said")
        yield Sheet("keys")

    def on_mount(self) -> None:
        """Draw the first page and mind the signals."""
        loop = asyncio.get_running_loop()
        for name in ENDING:
            if number := getattr(signal, name, None):
                with contextlib.suppress(NotImplementedError, RuntimeError, ValueError):
                    loop.add_signal_handler(number, self._end, number)
        if not self.is_headless and hasattr(select, "poll"):
            self.set_interval(PATIENCE_S, self._mind_the_line)
        self.draw()
        self.call_after_refresh(self._make_ready)

    def _make_ready(self) -> None:
        """Load what the first answer needs while the person looks at the first page."""
        try:
            importlib.import_module("wizard.screens.step_page")
            importlib.import_module("wizard.sitting.sitting")
            assert self.desk.library
        except (ContentError, FileNotFoundError) as error:  # an installation that lost a part of itself
            self.exit(return_code=1, message=str(error))

    def _mind_the_line(self) -> None:
        """A terminal that went away without a signal would be read in a circle for ever."""
        poll = select.poll()
        poll.register(sys.__stdin__ or 0, 0)
        if any(state & select.POLLHUP for _, state in poll.poll(0)):
            self._end(signal.SIGHUP)

    def _end(self, number: int) -> None:
        self.entry.over = True
        _leave_at_last(128 + number)
        self.desk.leave()
        self.exit(return_code=128 + number)

    def panic(self, *renderables: RenderableType) -> None:
        """Leave after a fault, even where the terminal is gone and nothing can be told."""
        _leave_at_last(1)
        super().panic(*renderables)

    # Drawing ----------------------------------------------------------------------------------------------------

    def draw(self, size: Size | None = None) -> None:
        """Put up what the desk stands on. size: of the window, None for the one that it is known to have."""
        self._waiting = False
        size = size or self.size
        shown = stage(self.desk, size.width, size.height, charset())
        self.screen.set_class(shown.small, "-small")
        self.screen.set_class(bool(shown.side), "-wide")
        for name in ("top", "page", "side", "ask", "hint", "said", "keys"):
            self.query_one(f"#{name}", Sheet).show(getattr(shown, name))
        if not shown.small and not self.entry.has_focus:
            self.entry.focus()

    def _done(self, outcome: Outcome) -> None:
        """A key or a line was dealt with. A burst draws once it is through, not once for each of its keys."""
        if outcome.quit:
            self.exit()
        if outcome.turn:
            self.theme = (LIGHT if self.theme == DARK.name else DARK).name
        if not self._waiting:
            self._waiting = True
            if outcome.later:  # a long burst that is set aside would be drawn key by key on a slow machine
                self.set_timer(BURST_GAP_S, self.draw)
            else:
                self.call_later(self.draw)

    def on_resize(self, event: events.Resize) -> None:
        """Fit the page to the window; the app itself still has the old size when it is told of the new one."""
        self.draw(event.size)

    # Keys and mouse ---------------------------------------------------------------------------------------------

    def on_key(self, event: events.Key) -> None:
        """A key that reached nobody. In a window too small to type in only leaving is left; else it is the line's."""
        if self.screen.has_class("-small"):
            if event.key in ("f10", "ctrl+c"):
                self._done(self.desk.key(event.key))
        elif not self.entry.has_focus:
            self.entry.focus()
            self.entry.strike(event)

    @on(Sheet.Clicked)
    def _clicked(self, event: Sheet.Clicked) -> None:
        self.entry.focus()
        if event.sheet.id == "keys":
            self.entry.press(key_at(event.sheet.lines[event.row], event.col))
        elif event.sheet.id == "page":
            self._done(self.desk.pick_row(event.row, event.col))

    @on(Sheet.Rolled)
    def _rolled(self, event: Sheet.Rolled) -> None:
        self.desk.roll(event.lines)
        self._done(Outcome())


def _leave_at_last(status: int) -> None:
    """End the process after a while in any case: on a dropped line the library waits for ever to write its farewell."""
    timer = threading.Timer(PATIENCE_S, os._exit, (status,))
    timer.daemon = True
    timer.start()


def _folder(path: Path | None, folder: Path | str | None) -> Path:
    return path.parent if path and not folder else survey_folder(str(folder) if folder else None)


def run_wizard(file: Path | None, folder: str | None) -> int:
    """The wizard on this terminal; gives the exit status. Raises Unreadable when the file cannot be read."""
    if not (sys.stdin.isatty() and sys.stdout.isatty()) or os.environ.get("TERM") == "dumb":
        name = file or "FILE"
        print(f"The full screen wants a terminal; crosstape ask {name} does the same line by line.", file=sys.stderr)
        return 1
    for name in ("COLUMNS", "LINES"):  # they would freeze the size of the window
        os.environ.pop(name, None)
    if constants.COLOR_SYSTEM not in COLOR_SYSTEMS:  # the library fails on its own setting "none"
        constants.COLOR_SYSTEM = "auto"  # type: ignore[misc]
    app = CrosstapeApp(file, folder)
    app.run()
    if app.desk.farewell:
        with contextlib.suppress(OSError):  # the terminal may be gone
            print(app.desk.farewell, flush=True)
    return app.return_code or 0
