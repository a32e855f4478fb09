"""The full-screen wizard: one screen whose content changes; the entry line has the keys from first
to last.
"""

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
from textual.driver import Driver
from textual.geometry import Size
from textual.message import Message
from textual.widgets import Static

from wizard.library.fields import ContentError
from wizard.screens.desk import Careful, Desk
from wizard.screens.key_line import key_at
from wizard.screens.looks import DARK, LIGHT, charset, first_theme
from wizard.screens.stage import Stage, bare_stage, stage
from wizard.screens.typed import BURST_GAP_S
from wizard.screens.widgets import LOOKS, Entry, Sheet
from wizard.sitting.naming import survey_folder
from wizard.sitting.reply import NOTHING, Reply
from wizard.sitting.shelf import Listed, listed

ENDING = ("SIGTERM", "SIGHUP", "SIGINT", "SIGQUIT")
"""Signals that end the wizard in order; every answer is in the file already."""
PATIENCE_S = 3.0
"""How long an ending may take."""
MOST_UNDRAWN = 3
"""Pages in a row that could not be drawn, and there is no use in staying."""


COLOR_SYSTEMS = ("auto", "standard", "256", "truecolor", "windows")


class Read(Message):
    """A survey of the opening page was read."""

    def __init__(self, one: Listed) -> None:
        super().__init__()
        self.one = one


class CrosstapeApp(App[None], inherit_bindings=False):
    """Draws what the desk stands on, and hands it what is typed."""

    CSS_PATH = "crosstape.tcss"
    COMPONENT_CLASSES = LOOKS
    TITLE = "Crosstape"
    ENABLE_COMMAND_PALETTE = False
    AUTO_FOCUS = "#entry"

    def __init__(
        self,
        file: Path | str | None = None,
        folder: Path | str | None = None,
        now: Callable[[], datetime] = datetime.now,
    ) -> None:
        """file: a survey to go on with, raises Unreadable; folder: where surveys live, else the
        usual place.
        """
        # A named palette under NO_COLOR gives black on black: the terminal's own two colors are
        # used instead.
        plain = "NO_COLOR" in os.environ
        super().__init__(driver_class=_driver(), ansi_color=True if plain else None)
        self.set_class(plain, "-plain")
        for theme in (DARK, LIGHT):
            self.register_theme(theme)
        self._begin_with(first_theme())
        path = Path(file) if file else None
        self.desk = Desk(None, _folder(path, folder), now, later=True)
        if path:
            self.desk.open(path)
        self.careful = Careful(self.desk)
        self.entry = Entry(self.careful, self._done, id="entry")
        self._waiting = False
        self._undrawn = 0
        """How often in a row the page could not be drawn."""
        self.fault = ""
        """What is said on the bare terminal when a fault has ended the wizard."""

    def _begin_with(self, theme: str) -> None:
        """The first palette. The dark one is set before there is a style to work out, where the
        library would work out all of them twice.
        """
        if theme == DARK.name:
            self.set_reactive(App.theme, theme)
            self.stylesheet.set_variables(self.get_css_variables())
        else:
            self.theme = theme

    def compose(self) -> ComposeResult:
        """Top line, page with the trail beside it, question, entry line, message, keys."""
        yield Sheet("top")
        yield Horizontal(Sheet("page"), Sheet("side"), id="middle")
        yield Sheet("ask")
        yield Horizontal(
            Static("> ", id="mark", markup=False), self.entry, Sheet("hint"), id="line"
        )
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
            importlib.import_module("wizard.telling.page")
            importlib.import_module("wizard.sitting.sitting")
            assert self.desk.library
        except (
            ContentError,
            FileNotFoundError,
        ) as error:  # an installation that lost a part of itself
            self.exit(return_code=1, message=str(error))
            return
        if self.desk.front is self.desk.opening and self.desk.opening.unread:
            # A disk may take its time, or never answer: no key waits for it, nor does the end.
            threading.Thread(target=self._read_shelf, daemon=True).start()

    def _read_shelf(self) -> None:
        """Read what the opening page lists, one survey after the other."""
        for path in self.desk.opening.unread:
            try:
                one = listed(path, self.desk.library, self.desk.now())
            except Exception as error:
                one = Listed(path, path.stem, self.desk.now(), fault=self.careful.told(error))
            with contextlib.suppress(RuntimeError):  # the wizard has ended
                self.post_message(Read(one))

    @on(Read)
    def _was_read(self, message: Read) -> None:
        self.desk.opening.take(message.one)
        self._done(NOTHING)

    def _mind_the_line(self) -> None:
        """A terminal that went away without a signal would be read in a circle for ever."""
        poll = select.poll()
        poll.register(sys.__stdin__ or 0, 0)
        if any(state & select.POLLHUP for _, state in poll.poll(0)):
            self._end(signal.SIGHUP)

    def _end(self, number: int) -> None:
        self.entry.over = True
        _leave_at_last(128 + number)
        with contextlib.suppress(Exception):  # ending comes first
            self.desk.leave()
        self.exit(return_code=128 + number)

    def panic(self, *renderables: RenderableType) -> None:
        """Leave after a fault that the library found, even where the terminal is gone and nothing
        can be told.
        """
        self._fall(RuntimeError("the screen could not be kept up"))

    def _handle_exception(self, error: Exception) -> None:
        """Leave after a fault that nothing caught: at once, and without the library's pages of what
        was in hand.
        """
        if self._exception is None:
            self._exception = error
            self._exception_event.set()
        self._fall(error)

    def _fall(self, error: Exception) -> None:
        if self.fault:
            return
        _leave_at_last(1)
        self._return_code = 1
        self.entry.over = True
        self.fault = self.careful.told(error)
        with contextlib.suppress(Exception):
            self.desk.leave()
        self._close_messages_no_wait()

    def poured(self) -> None:
        """More came in one go than anybody types."""
        self.desk.lost = "You pasted more than a survey holds, so the rest was not taken."
        self._done(NOTHING)

    # Drawing --------------------------------------------------------------------------------------
    # --------------

    def draw(self, size: Size | None = None) -> None:
        """Put up what the desk stands on. size: of the window, None for the one that it is known to
        have.
        """
        self._waiting = False
        size = size or self.size
        shown: Stage | None
        try:
            shown = stage(self.desk, size.width, size.height, charset())
        except Exception as error:
            shown = self._bare(error, size)
        else:
            self._undrawn = 0
        if shown is not None:
            self._put_up(shown)

    def _bare(self, error: Exception, size: Size) -> Stage | None:
        """A page without drawing, where the real one cannot be had; None once there is no use in
        staying.
        """
        self._undrawn += 1
        said = self.careful.told(error)
        if self._undrawn >= MOST_UNDRAWN:
            self._fall(error)
            return None
        self.desk.drop()
        return bare_stage(said, size.width)

    def _put_up(self, shown: Stage) -> None:
        self.screen.set_class(shown.small, "-small")
        self.screen.set_class(bool(shown.side), "-wide")
        for name in ("top", "page", "side", "ask", "hint", "said", "keys"):
            self.query_one(f"#{name}", Sheet).show(getattr(shown, name))
        if not shown.small and not self.entry.has_focus:
            self.entry.focus()

    def _done(self, reply: Reply, later: bool = False) -> None:
        """A key or a line was dealt with.

        A burst draws once it is through, not once for each of its keys.
        """
        if reply.quits:
            self.exit()
        if reply.kind == "turn":
            self.theme = (LIGHT if self.theme == DARK.name else DARK).name
        if not self._waiting:
            self._waiting = True
            if later:  # a long burst that is set aside would be drawn key by key on a slow machine
                self.set_timer(BURST_GAP_S, self.draw)
            else:
                self.call_later(self.draw)

    def on_resize(self, event: events.Resize) -> None:
        """Fit the page to the window; the app itself still has the old size when it is told of the
        new one.
        """
        self.draw(event.size)

    # Keys and mouse
    # ---------------------------------------------------------------------------------------------

    def on_key(self, event: events.Key) -> None:
        """A key that reached nobody.

        In a window too small to type in only leaving is left; else it is the line's.
        """
        if self.screen.has_class("-small"):
            if event.key in ("f10", "ctrl+c"):
                self._done(self.careful.key(event.key))
        elif not self.entry.has_focus:
            self.entry.focus()
            self.entry.strike(event)

    @on(Sheet.Clicked)
    def _clicked(self, event: Sheet.Clicked) -> None:
        self.entry.focus()
        if event.sheet.id == "keys":
            self.entry.press(key_at(event.sheet.lines[event.row], event.col))
        elif event.sheet.id == "page":
            self._done(self.careful.click(event.row, event.col))

    @on(Sheet.Rolled)
    def _rolled(self, event: Sheet.Rolled) -> None:
        self.careful.roll(event.lines)
        self._done(NOTHING)


def _driver() -> type[Driver] | None:
    """Ours where the terminal is one of Unix; None takes the library's own."""
    if sys.platform == "win32" or "TEXTUAL_DRIVER" in os.environ:
        return None
    from wizard.screens.terminal import Terminal

    return Terminal


def _leave_at_last(status: int) -> None:
    """End the process after a while in any case: on a dropped line the library waits for ever to
    write its farewell.
    """
    timer = threading.Timer(PATIENCE_S, os._exit, (status,))
    timer.daemon = True
    timer.start()


def _folder(path: Path | None, folder: Path | str | None) -> Path:
    return path.parent if path and not folder else survey_folder(str(folder) if folder else None)


def run_wizard(file: Path | None, folder: str | None) -> int:
    """The wizard on this terminal; gives the exit status.

    Raises Unreadable when the file cannot be read.
    """
    if not (sys.stdin.isatty() and sys.stdout.isatty()) or os.environ.get("TERM") == "dumb":
        name = file or "FILE"
        print(
            "This is no terminal for the full screen; to answer line by line, type: crosstape ask"
            f" {name}",
            file=sys.stderr,
        )
        return 1
    for name in ("COLUMNS", "LINES"):  # they would freeze the size of the window
        os.environ.pop(name, None)
    if constants.COLOR_SYSTEM not in COLOR_SYSTEMS:  # the library fails on its own setting "none"
        constants.COLOR_SYSTEM = "auto"  # type: ignore[misc]
    app = CrosstapeApp(file, folder)
    app.run()
    with contextlib.suppress(OSError):  # the terminal may be gone
        if app.fault:
            print(app.fault, file=sys.stderr, flush=True)
        if app.desk.farewell:
            print(app.desk.farewell, flush=True)
    return app.return_code or 0
