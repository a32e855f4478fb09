"""The full screen when things go wrong under it: the terminal is put back, the wizard lives on
where it can.
"""

from __future__ import annotations

import os
import signal
import sys
from pathlib import Path

import pytest

from tests.told import says
from wizard.sitting.mishap import LOG
from wizard.survey.file import load
from wizard.survey.rows import Remark

if sys.platform == "win32":
    pytest.skip("no pseudo-terminal here", allow_module_level=True)

import termios

from tests.screens.pty_wizard import F10, Terminal

DRAWN, SECOND, THIRD = (
    "What do you want to do?",
    "millimeters, such as 657",
    "rails low between axles",
)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Where the surveys are."""
    (tmp_path / "mine").mkdir()
    return tmp_path / "mine"


def _begin(started: list[Terminal], folder: Path, *command: str, **extra: str) -> Terminal:
    terminal = Terminal(*(command or ("-m", "wizard", "--folder", str(folder))), **extra)
    started.append(terminal)
    terminal.wait_for(DRAWN)
    return terminal


def _canonical(terminal: Terminal) -> bool:
    """Whether the terminal is as a shell wants it: lines are edited and shown as they are typed."""
    flags = termios.tcgetattr(terminal.master)[3]
    return bool(flags & termios.ICANON) and bool(flags & termios.ECHO)


@pytest.mark.parametrize(
    "way", ["SIGTERM", "SIGHUP", "SIGINT", "SIGQUIT", "quit", "fall", "undrawn"]
)
def test_the_terminal_is_put_back(started: list[Terminal], folder: Path, way: str) -> None:
    fall = (
        "import sys; from wizard.screens import app, desk, widgets\n"
        "real, stage, over = desk.Desk.line, app.stage, []\n"
        "def line(self, text):\n    over.append(text)\n    return real(self, text)\n"
        "def show(self, lines): raise RuntimeError('on purpose')\n"
        "def drawn(*args):\n"
        "    if 'fall' in over: widgets.Sheet.show = show\n"
        "    if 'undrawn' in over: raise RuntimeError('on purpose')\n"
        "    return stage(*args)\n"
        f"desk.Desk.line, app.stage = line, drawn\nsys.exit(app.run_wizard(None, {str(folder)!r}))"
    )
    terminal = _begin(started, folder, "-c", fall)
    terminal.write("n\rBramble\r")
    terminal.wait_for(SECOND)
    assert not _canonical(terminal), "the twin: while it runs it is otherwise"
    if way.startswith("SIG"):
        os.kill(terminal.process.pid, getattr(signal, way))
    else:
        terminal.write(F10 if way == "quit" else f"{way}\r")
    if way == "undrawn":
        terminal.wait_for("This page cannot be shown.")
        terminal.write("x\r")
        terminal.pause(0.5)
        terminal.write("x\r")
    status = terminal.end()
    if way in ("fall", "undrawn"):
        assert status == 1
        assert says(terminal.text, "made a mistake (RuntimeError) … Your answers are kept in")
        assert "Traceback" not in terminal.text
        assert "on purpose" in (folder / LOG).read_text()
        assert len(terminal.raw) < 20_000
    assert _canonical(terminal)
    for mode in (b"\x1b[?1049l", b"\x1b[?25h", b"\x1b[?1000l", b"\x1b[?2004l"):
        assert mode in terminal.raw, mode
    (path,) = folder.glob("*.toml")
    assert load(path).car == "Bramble"


FULL = """
import resource, signal, sys
from wizard.screens import app
signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
resource.setrlimit(resource.RLIMIT_FSIZE, (3000, 3000))
sys.exit(app.run_wizard(None, sys.argv[1]))
"""


def test_on_a_full_disk_it_says_so_and_lives_on(started: list[Terminal], folder: Path) -> None:
    terminal = _begin(started, folder, "-c", FULL, str(folder), PYTHONDONTWRITEBYTECODE="1")
    terminal.write("n\rBramble\r")
    terminal.wait_for(SECOND)
    for n in range(20):
        terminal.write(f"/remark {n} {'x' * 190}\r")
        terminal.pause(0.3)
    terminal.wait_for("could not be written (File too large)")
    (path,) = folder.glob("*.toml")
    before = load(path)
    assert 5 < len(before.table(Remark)) < 20
    assert terminal.leave() == 0
    assert load(path) == before
    assert os.listdir(folder) == [path.name]


def test_a_second_wizard_on_the_same_survey(started: list[Terminal], folder: Path) -> None:
    first = _begin(started, folder)
    first.write("n\rBramble\r")
    first.wait_for(SECOND)
    second = _begin(started, folder)
    second.write("1\r")
    second.wait_for("is open in another window")
    second.write("i\r")
    second.wait_for("Not taken.")
    second.pause(0.3)  # else the next line would be of one breath with the refused one
    second.write("/copy\ri\r")
    second.wait_for(THIRD)
    first.write("m\r" + F10)
    second.write(F10)
    assert (first.end(), second.end()) == (0, 0)
    one, two = sorted(folder.glob("*.toml"), key=lambda p: len(p.name))
    assert (load(one).unit, load(two).unit) == ("mm", "in")
    assert len(os.listdir(folder)) == 2


def test_a_wizard_that_was_killed_holds_nobody_up(started: list[Terminal], folder: Path) -> None:
    first = _begin(started, folder)
    first.write("n\rBramble\r")
    first.wait_for(SECOND)
    first.process.kill()
    first.process.wait()
    second = _begin(started, folder)
    second.write("1\ri\r")
    second.wait_for(THIRD)
    second.write(F10)
    assert second.end() == 0
    (path,) = folder.glob("*.toml")
    assert load(path).unit == "in"


@pytest.mark.parametrize("way", ["SIGTERM", "quit"])
def test_a_file_deleted_behind_its_back_is_written_again_before_it_ends(
    started: list[Terminal], folder: Path, way: str
) -> None:
    terminal = _begin(started, folder)
    terminal.write("n\rBramble\r")
    terminal.wait_for(SECOND)
    (path,) = folder.glob("*.toml")
    path.unlink()
    if way == "quit":
        terminal.write(F10)
    else:
        os.kill(terminal.process.pid, signal.SIGTERM)
    terminal.end()
    assert says(terminal.text, "was gone from its folder … written again whole. … Saved in")
    assert load(path).car == "Bramble"
