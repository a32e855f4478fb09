"""Random bytes, not text, typed into the full screen on a terminal of its own.

    nice python -m tests.bench.fuzz_bytes --bursts 10000

Each burst is one write of bytes: any at all, broken letters, broken escape sequences, keys, reports of
a mouse and of a window that there is not, pieces of answers; now and then it is stopped, typed at and
told to go on. After each wizard's share F10 must end it with status 0, the terminal as a shell wants
it, its file readable, and no traceback drawn. What ends it by itself (Ctrl+C among the bytes, `q` on
the opening page) must end it likewise, whatever is typed on while it goes. Every fault is
printed with the seed that brings it again. Status 0 where there is none.
"""

from __future__ import annotations

import argparse
import contextlib
import os
import random
import signal
import sys
import tempfile
import termios
import time
from collections import Counter
from collections.abc import Sequence
from pathlib import Path

from tests.screens.pty_wizard import Terminal
from wizard.survey.file import read

SHARE = 100
"""Bursts that one wizard is given."""
PATIENCE_S = 60.0
UNASKED = 0.1
"""Share of bursts behind which it is told to go on though nothing stopped it."""
STOPPED = 0.02
"""Share of the others behind which it is stopped."""
KEYS = (
    *(b"\r", b"\x7f", b"\t", b"\x1b", b"\x1b[A", b"\x1b[B", b"\x1b[5~", b"\x1b[6~", b"\x1bOP"),
    *(
        b"\x1b[200~",
        b"\x1b[201~",
        b"\x1b[M",
        b"\x1b[<0;3;3M",
        b"\x1b[<64;9;9M",
        b"\x1b[I",
        b"\x1b[O",
    ),
)
WORDS = (
    *(
        b"n\r",
        b"Bramble\r",
        b"i\r",
        b"s\r",
        b"w\r",
        b"25 7/8!\r",
        b"/why\r",
        b"/undo\r",
        b"/model\r",
    ),
    *(
        b"/verdict\r",
        b"/mentor\r",
        b"/readings\r",
        b"/go level\r",
        b"understood\r",
        b"b s\r",
        b"\r",
    ),
)


def _any(draw: random.Random) -> bytes:
    return draw.randbytes(draw.randint(1, 60))


def _letters(draw: random.Random) -> bytes:
    """Letters of other kinds, cut anywhere."""
    text = "".join(chr(draw.choice((233, 8239, 8238, 20013, 128663, 769))) for _ in range(9))
    data = text.encode("utf-8")
    return data[draw.randint(0, 3) : draw.randint(4, len(data))]


def _sequence(draw: random.Random) -> bytes:
    """An escape sequence as some terminal might send it, and as none does."""
    begin = draw.choice(
        (b"\x1b[", b"\x1bO", b"\x1b]", b"\x1bP", b"\x1b_", b"\x9b", b"\x1b[<", b"\x1b[?")
    )
    middle = bytes(draw.choice(b"0123456789;:<>?$ ") for _ in range(draw.randint(0, 12)))
    return begin + middle + bytes([draw.randint(0x20, 0x7E)])


def _keys(draw: random.Random) -> bytes:
    return b"".join(draw.choice(KEYS) for _ in range(draw.randint(1, 6)))


def _words(draw: random.Random) -> bytes:
    return draw.choice(WORDS)


KINDS = (_any, _letters, _sequence, _keys, _words, _words)


def bursts(draw: random.Random, count: int) -> Sequence[bytes]:
    """So many bursts, the first of which begin a survey."""
    begin = [b"n\r", b"Bramble\r", b"i\r"]
    return (begin + [draw.choice(KINDS)(draw) for _ in range(count)])[:count]


def typed(seed: int, count: int, folder: Path) -> tuple[str, int]:
    """What is wrong with one wizard under so many bursts, and how many it took; empty where
    nothing is.
    """
    terminal = Terminal("-m", "wizard", "--folder", str(folder))
    try:
        terminal.wait_for("What do you want to do?")
        taken, draw = 0, random.Random(seed)
        for burst in bursts(draw, count):
            with contextlib.suppress(OSError):  # it ended by itself
                os.write(terminal.master, burst)
            taken += 1
            terminal.read(0.02)
            if terminal.process.poll() is not None:
                break
            _bidden(terminal.process.pid, draw)
        return _ended(terminal, folder), taken
    finally:
        terminal.close()


def _bidden(pid: int, draw: random.Random) -> None:
    """Now and then it is stopped, with a word before or without; the burst behind that is typed at
    what would be the shell, and it is told to go on. Somebody may do that where nothing had stopped.
    """
    if _stopped(pid) or draw.random() < UNASKED:
        os.kill(pid, signal.SIGCONT)
    elif draw.random() < STOPPED:
        os.kill(pid, draw.choice((signal.SIGTSTP, signal.SIGSTOP)))


def _stopped(pid: int) -> bool:
    try:
        return Path(f"/proc/{pid}/stat").read_text().rpartition(") ")[2][0] == "T"
    except OSError:
        return False


def _ended(terminal: Terminal, folder: Path) -> str:
    end = time.monotonic() + PATIENCE_S
    while terminal.process.poll() is None and time.monotonic() < end:
        if _stopped(terminal.process.pid):
            os.kill(terminal.process.pid, signal.SIGCONT)
        # A paste that was begun is ended first, Esc or not. What it would say at last, a Ctrl+S that
        # came to the shell has held up, and Ctrl+Q lets go.
        with contextlib.suppress(OSError):
            os.write(terminal.master, b"\x1b[201~\x1b[21~\x11")
        terminal.pause(0.5)
    terminal.read()
    if terminal.process.poll() is None:
        return "F10 does not end it"
    if terminal.process.returncode != 0:
        return f"it ended with status {terminal.process.returncode}: {terminal.text[-800:]}"
    if "Traceback" in terminal.text or "made a mistake" in terminal.text:
        return terminal.text[-1500:]
    flags = termios.tcgetattr(terminal.master)[3]
    if not flags & termios.ICANON or not flags & termios.ECHO:
        return "the terminal is not as it was"
    for path in folder.glob("*.toml"):
        read(path)
    log = folder / "crosstape-faults.log"
    return log.read_text(encoding="utf-8")[-1500:] if log.exists() else ""


def main() -> int:
    """Run and print."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").split("\n")[0])
    parser.add_argument("--bursts", type=int, default=10_000)
    parser.add_argument("--seed", type=int, default=1)
    args = parser.parse_args()
    done, seed, found = 0, args.seed, Counter[str]()
    while done < args.bursts:
        with tempfile.TemporaryDirectory() as name:
            wrong, taken = typed(seed, min(SHARE, args.bursts - done), Path(name))
        if wrong:
            found[wrong] += 1
            print(f"seed {seed}: {wrong}", flush=True)
        done, seed = done + taken, seed + 1
    print(f"{done:,} bursts into {seed - args.seed} wizards, {found.total()} faults")
    return int(bool(found))


if __name__ == "__main__":
    sys.exit(main())
