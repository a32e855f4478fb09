"""The real wizard on a terminal of its own, as a person meets it: started, waited for, typed at."""

from __future__ import annotations

import contextlib
import fcntl
import os
import pty
import re
import select
import struct
import subprocess
import sys
import termios
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent
F10 = "\x1b[21~"
_ESCAPE = re.compile(
    rb"\x1b(?:\[[0-9;?<>=:]*[ -/]*[@-~]|[PX^_\]].*?(?:\x1b\\|\x07)|[ -/]*[0-~])", re.DOTALL
)


class Terminal:
    """A program on a pseudo-terminal."""

    def __init__(
        self,
        *command: str,
        controlling: bool = True,
        size: tuple[int, int] = (80, 24),
        **extra: str,
    ) -> None:
        """command: arguments of the interpreter; size: columns, lines; extra: environment beside a
        scrubbed one.
        """
        self.master, slave = pty.openpty()
        fcntl.ioctl(slave, termios.TIOCSWINSZ, struct.pack("HHHH", size[1], size[0], 0, 0))
        unwanted = ("NO_COLOR", "TEXTUAL", "CROSSTAPE", "COLORFGBG", "COLUMNS", "LINES", "COV_CORE")
        env = {k: v for k, v in os.environ.items() if not k.startswith(unwanted)}
        env |= {"TERM": "xterm-256color", "PYTHONPATH": str(ROOT), "PYTHONUTF8": "1", **extra}
        self.process = subprocess.Popen(
            [sys.executable, *command],
            stdin=slave,
            stdout=slave,
            stderr=slave,
            env=env,
            start_new_session=True,
            # The controlling terminal, so that a dropped line is felt as on a real one.
            preexec_fn=(lambda: fcntl.ioctl(0, termios.TIOCSCTTY, 0)) if controlling else None,
        )
        os.close(slave)
        self.raw = b""

    def read(self, seconds: float = 0.05) -> None:
        """Take in what has been written."""
        while select.select([self.master], [], [], seconds)[0]:
            try:
                more = os.read(self.master, 65536)
            except OSError:  # the other end is closed
                return
            if not more:
                return
            self.raw += more
            seconds = 0.0

    @property
    def text(self) -> str:
        """All that was written so far, without escape sequences and with single spaces."""
        return " ".join(_ESCAPE.sub(b" ", self.raw).decode("utf-8", "replace").split())

    def wait_for(self, words: str, seconds: float = 60.0) -> None:
        """Until some words have been drawn since the last call."""
        end = time.monotonic() + seconds
        while words not in self.text:
            assert time.monotonic() < end, (
                f"{words!r} never came; the end of what did: {self.text[-1500:]}"
            )
            assert self.process.poll() is None or self._rest(), f"ended early: {self.text[-1500:]}"
            self.read()
        self.raw = b""

    def _rest(self) -> bool:
        before = len(self.raw)
        self.read()
        return len(self.raw) > before

    def write(self, text: str) -> None:
        """All of the keys in one write."""
        os.write(self.master, text.encode())

    def pause(self, seconds: float) -> None:
        """Type nothing for a while, as a person does who reads; what is written meanwhile is taken
        in.
        """
        end = time.monotonic() + seconds
        while (left := end - time.monotonic()) > 0:
            self.read(left)
            if self.process.poll() is not None:
                return

    def leave(self, seconds: float = 60.0) -> int:
        """Stop the wizard behind a refusal; gives the exit status.

        What comes in one breath with a refused line is set aside, F10 too, and a slow machine may
        still be at it: the key is pressed again until it is heard.
        """
        end = time.monotonic() + seconds
        while self.process.poll() is None and time.monotonic() < end:
            self.pause(0.5)
            with contextlib.suppress(OSError):
                self.write(F10)
            self.pause(1.0)
        return self.end()

    def end(self, seconds: float = 60.0) -> int:
        """Wait for the end; gives the exit status, as a shell would."""
        end = time.monotonic() + seconds
        while self.process.poll() is None:
            assert time.monotonic() < end, (
                f"did not end; the last of what was drawn: {self.text[-1500:]}"
            )
            self.read()
        self.read()
        code = self.process.returncode
        return code if code >= 0 else 128 - code

    def close(self) -> None:
        """End it in any case."""
        if self.process.poll() is None:
            self.process.kill()
            self.process.wait()
        with contextlib.suppress(OSError):
            os.close(self.master)
