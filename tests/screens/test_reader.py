"""What a terminal may send: any byte, any key code, any amount; the reader, and the real wizard on
it.
"""

from __future__ import annotations

import contextlib
import os
import random
import signal
import sys
import termios
import time
from collections.abc import Callable
from pathlib import Path

import pytest

if sys.platform == "win32":
    pytest.skip("no pseudo-terminal here", allow_module_level=True)

from textual import events

from tests.screens.pty_wizard import F10, Terminal
from tests.told import says
from wizard.screens.terminal import MOST, Reader
from wizard.survey.file import load

DRAWN, SECOND = "What do you want to do?", "millimeters, such as 657"


def _typed(*chunks: bytes) -> str:
    """What the reader makes of them, as the characters of its keys."""
    reader = Reader()
    keys = [m for chunk in chunks for m in reader.read(chunk) if isinstance(m, events.Key)]
    return "".join(k.character or f"<{k.key}>" for k in keys)


def test_a_byte_that_is_not_utf8_is_one_odd_character() -> None:
    assert _typed("né".encode("latin-1") + b"e\r") == "n\ufffde\r"


def test_a_character_split_over_two_reads_is_whole() -> None:
    data = "é⅞".encode()
    assert _typed(*(data[n : n + 1] for n in range(len(data)))) == "é⅞"


def test_an_old_mouse_report_is_no_key() -> None:
    assert _typed(b"a\x1b[M \xe9\xe8", b"b\r").startswith("a")
    assert _typed(b"\x1b[M \xff\xfe", b"b\r") == "b\r"


@pytest.mark.parametrize(
    "code",
    [
        b"\x1b[99999999999u",
        b"\x1b[1114112;1u",
        b"\x1b[97;;99999999u",
        b"\x1b[:;:u",
        b"\x1b[<9;9;9;9M",
        b"\x1b[;1R",
    ],
)
def test_a_key_code_that_is_none_loses_nothing_behind_it(code: bytes) -> None:
    assert _typed(b"ab" + code + b"cd\r", b"ef").endswith("cd\ref")


def test_no_bytes_at_all_upset_it() -> None:
    rng = random.Random(7)
    parts = [
        b"\x1b[",
        b"\x1b",
        b"<",
        b";",
        b":",
        b"u",
        b"~",
        b"M",
        b"200~",
        b"201~",
        b"48;",
        b"t",
        b"$y",
        b"?",
        b"9" * 20,
    ]
    for _ in range(3000):
        reader = Reader()
        for _ in range(rng.randrange(1, 4)):
            data = b"".join(
                rng.choice((rng.choice(parts), bytes([rng.randrange(256)])))
                for _ in range(rng.randrange(30))
            )
            list(reader.read(data))
            list(reader.tick())


def test_more_than_anybody_types_in_one_go_is_dropped_and_a_pause_begins_anew() -> None:
    reader = Reader()
    kept = sum(1 for _ in range(300) for _ in reader.read(b"9" * 4096))
    assert MOST - 4096 < kept <= MOST
    assert reader.spilt == 300 * 4096 - kept
    assert list(reader.read(b"ab")) == []
    reader.pause()
    assert len(list(reader.read(b"ab"))) == 2
    assert reader.spilt == 0


def test_function_keys_and_pastes_are_never_dropped() -> None:
    reader = Reader()
    for _ in range(10):
        list(reader.read(b"9" * 4096))
    assert [m.key for m in reader.read(F10.encode()) if isinstance(m, events.Key)] == ["f10"]
    found = [
        m
        for part in (b"\x1b[200~", b"x" * 4000, b"y" * 4000, b"\x1b[201~")
        for m in reader.read(part)
    ]
    found += list(reader.read(b"\x1b[D"))
    assert [len(m.text) for m in found if isinstance(m, events.Paste)] == [8000]


# The real wizard
# ------------------------------------------------------------------------------------------------


def _begin(started: list[Terminal], folder: Path, **extra: str) -> Terminal:
    terminal = Terminal("-m", "wizard", "--folder", str(folder), **extra)
    started.append(terminal)
    terminal.wait_for(DRAWN)
    return terminal


def test_one_latin_byte_and_an_old_mouse_report_end_nothing(
    started: list[Terminal], tmp_path: Path
) -> None:
    terminal = _begin(started, tmp_path)
    os.write(terminal.master, b"n\rBr\xe9mble\r")
    terminal.wait_for(SECOND)
    os.write(terminal.master, b"\x1b[M \xe9\xf0")
    os.write(terminal.master, b"\x1b[99999999999u")
    os.write(terminal.master, b"\x1b[48;99999;99999;9;9t")
    terminal.pause(0.5)
    terminal.write("i\r")
    terminal.wait_for("rails low between axles")
    assert terminal.leave() == 0
    (path,) = tmp_path.glob("*.toml")
    assert load(path).car == "Br\ufffdmble"


def test_a_megabyte_pasted_without_brackets_is_one_refusal(
    started: list[Terminal], tmp_path: Path
) -> None:
    terminal = _begin(started, tmp_path)
    terminal.write("n\rBramble\r")
    terminal.wait_for(SECOND)
    for _ in range(250):
        terminal.write("9" * 4000)
        terminal.read(0.0)
    terminal.wait_for("the rest was not taken", 60)
    size = int(
        Path(f"/proc/{terminal.process.pid}/status").read_text().split("VmHWM:")[1].split()[0]
    )
    assert size < 400_000, "kB"
    assert terminal.leave() == 0


def test_three_signals_to_go_on_without_a_stop_leave_one_reader(
    started: list[Terminal], tmp_path: Path
) -> None:
    terminal = _begin(started, tmp_path)
    for _ in range(3):
        os.kill(terminal.process.pid, signal.SIGCONT)
        terminal.pause(0.4)
    terminal.write("n\rBramble\r")
    terminal.wait_for(SECOND)
    terminal.write(F10)
    assert terminal.end(20) == 0
    flags = termios.tcgetattr(terminal.master)[3]
    assert flags & termios.ICANON


def test_a_storm_of_signals_to_go_on_while_keys_come_leaves_one_reader(
    started: list[Terminal], tmp_path: Path
) -> None:
    """One may come while another is dealt with, and while the wizard ends."""
    terminal = _begin(started, tmp_path)
    for _ in range(12):
        os.kill(terminal.process.pid, signal.SIGCONT)
        terminal.write("x\x7f")
        terminal.read(0.005)
        terminal.raw = b""
    while "not in the list" not in terminal.text:  # keys that come meanwhile may be lost
        terminal.write("zz\r")
        terminal.pause(0.5)
    terminal.raw = b""
    terminal.write("n\rBramble\r")
    terminal.wait_for(SECOND)
    while terminal.process.poll() is None:
        with contextlib.suppress(OSError):
            terminal.write(F10)
        os.kill(terminal.process.pid, signal.SIGCONT)
        terminal.pause(0.2)  # hundreds at once fill what Python itself hears signals by
    assert terminal.end() == 0
    flags = termios.tcgetattr(terminal.master)[3]
    assert flags & termios.ICANON
    assert flags & termios.ECHO


def test_stopped_and_gone_on_with_it_works_as_before(
    started: list[Terminal], tmp_path: Path
) -> None:
    terminal = _begin(started, tmp_path)
    os.kill(terminal.process.pid, signal.SIGSTOP)
    terminal.pause(0.2)
    os.kill(terminal.process.pid, signal.SIGCONT)
    terminal.pause(0.5)
    terminal.write("n\rBramble\r")
    terminal.wait_for(SECOND)
    terminal.write(F10)
    assert terminal.end(20) == 0


def _makes_signals(terminal: Terminal) -> bool:
    """Whether Ctrl+C is a signal on it now, as at a shell, and no key."""
    return bool(termios.tcgetattr(terminal.master)[3] & termios.ISIG)


def _until(terminal: Terminal, met: Callable[[], bool]) -> None:
    """Take in what is written until it is so."""
    end = time.monotonic() + 60
    while not met():
        assert time.monotonic() < end, terminal.text[-800:]
        terminal.read(0.0)


def _stopped(terminal: Terminal) -> bool:
    stat = Path(f"/proc/{terminal.process.pid}/stat")
    return stat.read_text().rpartition(") ")[2][0] == "T"


def test_keys_typed_at_the_shell_end_no_wizard_that_is_away(
    started: list[Terminal], tmp_path: Path
) -> None:
    terminal = _begin(started, tmp_path)
    os.kill(terminal.process.pid, signal.SIGTSTP)
    _until(terminal, lambda: _stopped(terminal))
    assert _makes_signals(terminal)
    os.write(terminal.master, b"\x03\x1c")
    # As written: a signal key throws away what the terminal has not shown yet, and a sequence so cut
    # takes the first of the echo for its end.
    _until(terminal, lambda: terminal.raw.endswith(b"^\\"))
    terminal.raw = b""
    os.kill(terminal.process.pid, signal.SIGCONT)
    terminal.wait_for(DRAWN)
    terminal.write("n\rBramble\r")
    terminal.wait_for(SECOND)
    os.kill(terminal.process.pid, signal.SIGINT)  # and here it hears again
    assert terminal.end() == 130


ENDED = (
    "import sys\nfrom wizard.command import main\nstatus = main(sys.argv[1:])\n"
    "print('Nothing is left but to go', flush=True)\nsys.stdin.readline()\nsys.exit(status)"
)
"""The wizard, held at the last step of its way out."""


def test_keys_typed_at_the_shell_change_nothing_about_how_it_ended(
    started: list[Terminal], tmp_path: Path
) -> None:
    terminal = Terminal("-c", ENDED, "--folder", str(tmp_path))
    started.append(terminal)
    terminal.wait_for(DRAWN)
    terminal.write("n\rBramble\r")
    terminal.wait_for(SECOND)
    terminal.write(F10)
    _until(terminal, lambda: _makes_signals(terminal))
    os.write(terminal.master, b"\x03\x1c")
    terminal.wait_for("Nothing is left but to go")
    os.write(terminal.master, b"\x03\x1c\r\n")
    assert terminal.end() == 0


NOTED = (
    "import sys, termios\nreal = termios.tcsetattr\n"
    "def noted(fd, when, mode):\n"
    "    print('s' if mode[3] & termios.ISIG else 'k', end='', file=open(sys.argv[1], 'a'))\n"
    "    real(fd, when, mode)\n"
    "termios.tcsetattr = noted\n"
    "from wizard.command import main\nsys.exit(main(sys.argv[2:]))"
)
"""The wizard, with each state in which it puts the terminal written down: Ctrl+C as a signal, as a key."""


def test_a_signal_to_go_on_makes_no_signals_of_keys_on_the_way(
    started: list[Terminal], tmp_path: Path
) -> None:
    noted = tmp_path / "noted"
    terminal = Terminal("-c", NOTED, str(noted), "--folder", str(tmp_path))
    started.append(terminal)
    terminal.wait_for(DRAWN)
    first = noted.read_text()
    assert first.endswith("k")
    os.kill(terminal.process.pid, signal.SIGCONT)
    _until(terminal, lambda: len(noted.read_text()) > len(first))
    terminal.raw = b""
    terminal.wait_for(DRAWN)
    terminal.write(F10)
    assert terminal.end() == 0
    assert set(noted.read_text()[len(first) : -1]) == {"k"}
    assert _makes_signals(terminal), "the twin: at last it is the shell's"


HOMELESS = (
    "import os, pathlib, sys\n"
    "def gone(*a): raise RuntimeError('Could not determine home directory.')\n"
    "pathlib.Path.home = gone\nos.environ.pop('CROSSTAPE_FOLDER', None)\n"
    "from wizard.command import main\nsys.exit(main(sys.argv[1:]))"
)


@pytest.mark.parametrize("args", [[], ["ask"], ["tell", "bramble"]])
def test_no_home_is_one_sentence(started: list[Terminal], args: list[str]) -> None:
    terminal = Terminal("-c", HOMELESS, *args)
    started.append(terminal)
    assert terminal.end() == 1
    assert says(terminal.text, "no home folder … surveys are kept … --folder DIR")
    assert ". " not in terminal.text
