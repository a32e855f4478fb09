"""The terminal as it is read: any byte may come, any key code, any amount at once, and none of it
ends the wizard.

The library's own reader decodes strictly and takes key codes at their word; both end it with a
traceback.
"""

from __future__ import annotations

import os
import re
import selectors
import signal
from codecs import getincrementaldecoder
from collections.abc import Callable, Iterator, Mapping
from contextlib import suppress
from types import FrameType

from textual import events
from textual._xterm_parser import XTermParser
from textual.drivers.linux_driver import LinuxDriver
from textual.message import Message

ESCAPE = "\x1b"
PASTE = re.compile("\x1b\\[20([01])~")
"""Where a paste begins (0) and ends (1), on a terminal that says so."""
PIECES = re.compile(f"{ESCAPE}[^{ESCAPE}]*|[^{ESCAPE}]+")
MOST = 16_000
"""Characters of plain typing taken in one go: the answers to a whole survey are a third of it."""
LISTEN_S, PAUSE = 0.1, 3
"""How long the terminal is listened to at a time, and how often in vain until what comes next is
another go.
"""
CHUNK = 4096
WIDEST, HIGHEST = 2000, 1000
"""Cells of the largest window that a terminal is believed to have."""
KEYED = (signal.SIGINT, signal.SIGQUIT)
"""Signals that a shell's terminal makes of keys, and ours does not: Ctrl+C, Ctrl+\\."""
Heard = Callable[[int, FrameType | None], object] | int | None
"""What is done at a signal, as the system is told it."""


class Reader:
    """Bytes of a terminal to messages. Never raises."""

    def __init__(self) -> None:
        self._decode = getincrementaldecoder("utf-8")(errors="replace").decode
        self._parser = XTermParser()
        self._pasting, self._tail = False, ""
        self._poured = 0
        self.spilt = 0
        """Characters of this go that were too many and were dropped."""

    def pause(self) -> None:
        """Nothing came for a while: what comes next is another go."""
        self._poured = self.spilt = 0

    def read(self, data: bytes) -> Iterator[Message]:
        """What these bytes mean."""
        text = self._decode(data)
        for piece in PIECES.findall(text):
            if piece[0] != ESCAPE:
                self._poured += len(piece)
                if self._poured > MOST and not self._pasting:
                    self.spilt += len(piece)
                    continue
            yield from self._parsed(piece)
        self._mind_pastes(text)

    def _parsed(self, piece: str) -> Iterator[Message]:
        """Character by character where a key code may be broken, so that what stands behind it is
        not lost.
        """
        for part in piece if piece[0] == ESCAPE else (piece,):
            try:
                yield from self._parser.feed(part)
            except Exception:
                self._anew()

    def _mind_pastes(self, text: str) -> None:
        seen = self._tail + text
        for mark in PASTE.finditer(seen):
            self._pasting = mark[1] == "0"
        self._tail = seen[-5:]

    def tick(self) -> Iterator[Message]:
        """What a pause means: the escape key alone."""
        try:
            yield from self._parser.tick()
        except Exception:
            self._anew()

    def _anew(self) -> None:
        """A parser that failed is of no more use; what it knew of the window goes on."""
        old, self._parser = self._parser, XTermParser()
        self._parser.mouse_pixels = old.mouse_pixels
        self._parser.terminal_size, self._parser.terminal_pixel_size = (
            old.terminal_size,
            old.terminal_pixel_size,
        )


class Terminal(LinuxDriver):
    """The library's driver, with a reader that nothing upsets, and that is started once."""

    _away = False
    """Whether the terminal was given back for a while."""
    _over = False
    """Whether it was given back for good."""
    _called = False
    """Whether one came that says to go on, and nothing has been done about it yet."""
    _heard: Mapping[int, Heard] = {}
    """What each of KEYED did before nobody was to hear it; empty while the terminal is ours."""

    def run_input_thread(self) -> None:
        """Read until the end."""
        reader = Reader()
        with selectors.SelectSelector() as selector:
            selector.register(self.fileno, selectors.EVENT_READ)
            silent = 0
            while not self.exit_event.is_set():
                if selector.select(LISTEN_S):
                    self._read(reader)
                    silent = 0
                elif (silent := silent + 1) == PAUSE:
                    reader.pause()
                for message in reader.tick():
                    self.process_message(message)

    def _read(self, reader: Reader) -> None:
        try:
            data = os.read(self.fileno, CHUNK)
        except OSError:  # the line was dropped: who minds it will see that
            data = b""
        if not data:
            self.exit_event.wait(0.1)
            return
        before = reader.spilt
        for message in reader.read(data):
            self.process_message(message)
        if reader.spilt and not before and (poured := getattr(self._app, "poured", None)):
            self._app.call_later(poured)

    def process_message(self, message: Message) -> None:
        """Hand on what can be."""
        if isinstance(message, events.Resize) and not self._likely(message):
            return
        try:
            super().process_message(message)
        except (
            ZeroDivisionError,
            OverflowError,
            ValueError,
        ):  # a report of the mouse that no window gives
            return

    def _likely(self, message: events.Resize) -> bool:
        """Whether a window may have this size: a terminal's answer may be anybody's text."""
        return 0 < message.size.width <= WIDEST and 0 < message.size.height <= HIGHEST

    def start_application_mode(self) -> None:
        """Take the terminal."""
        super().start_application_mode()  # type: ignore[no-untyped-call]
        self._hear_keys()

    def stop_application_mode(self) -> None:
        """Give the terminal back; for good, but on the way to a stop."""
        self._over = self._over or not self._away
        self._hear_no_key()
        super().stop_application_mode()

    def suspend_application_mode(self) -> None:
        """Give the terminal back for a while."""
        self._away = True
        super().suspend_application_mode()

    def resume_application_mode(self) -> None:
        """Take the terminal again."""
        self._away = False
        super().resume_application_mode()

    def _hear_no_key(self) -> None:
        """Before the terminal makes signals of keys again: what is typed from here on is typed at
        the shell, and must end neither a wizard that is away nor one that has yet to say where it
        saved.
        """
        if self._over:  # or the loop would hand them to Python when it closes
            for number in KEYED:
                self._loop.remove_signal_handler(number)
        if not self._heard:
            self._heard = {number: signal.getsignal(number) for number in KEYED}
        for number in KEYED:
            signal.signal(number, signal.SIG_IGN)

    def _hear_keys(self) -> None:
        for number, heard in self._heard.items():
            signal.signal(number, heard)
        self._heard = {}

    def _sigtstp_application(self, *_: object) -> None:
        """Stop. The signal only asks for it, as below: giving the terminal back writes to it, and
        what was being written when the signal came is waited for.
        """
        try:
            self._loop.call_soon_threadsafe(self._stop)
        except RuntimeError:  # there is nobody left to ask, and nothing to give back
            os.kill(os.getpid(), signal.SIGSTOP)

    def _stop(self) -> None:
        if self._away or self._over:
            os.kill(os.getpid(), signal.SIGSTOP)
        else:
            super()._sigtstp_application()

    def _sigcont_application(self, *_: object) -> None:
        """Go on: after a stop nobody announced the terminal is set up anew, but never once it was given
        back for good. The signal only asks for it: it may come at any instruction, within the setting
        up of the one before too, and whatever that holds would then be waited for by itself.
        """
        if not self._auto_restart or self._over or self._called:
            return
        self._called = True
        with suppress(RuntimeError):  # at the very end there is nobody left to ask
            self._loop.call_soon_threadsafe(self._set_up_anew)

    def _set_up_anew(self) -> None:
        self._called = False
        if self._over:
            return
        if self._away or self._writer_thread is None:
            self.resume_application_mode()
        else:
            self._take_again()
        self._app.refresh(layout=True)  # the page that was drawn before is gone

    def _take_again(self) -> None:
        """Take a terminal that was not given back, and do not make it the shell's on the way: its
        keys would be signals there.
        """
        before, self.attrs_before = self.attrs_before, None
        self.suspend_application_mode()
        self.resume_application_mode()
        self.attrs_before = before
