"""The wizard on many kinds of terminal: small and large, plain, without color, without a locale,
inside tmux.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import time
import uuid
from pathlib import Path

import pytest

from wizard.screens.looks import charset
from wizard.survey.file import load

if sys.platform == "win32":
    pytest.skip("no pseudo-terminal here", allow_module_level=True)

from tests.screens.pty_wizard import F10, ROOT, Terminal

DRAWN, SECOND, THIRD = (
    "What do you want to do?",
    "millimeters, such as 657",
    "Which of these looks most like your frame?",
)
"""Questions: answers to choose from stand in two columns in the narrowest window, and are cut there."""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Where the surveys are."""
    return tmp_path / "mine"


def _walk(
    started: list[Terminal], folder: Path, size: tuple[int, int] = (80, 24), **extra: str
) -> Terminal:
    terminal = Terminal("-m", "wizard", "--folder", str(folder), size=size, **extra)
    started.append(terminal)
    terminal.wait_for(DRAWN)
    terminal.write("n\rBramble\r")
    terminal.wait_for(SECOND)
    terminal.write("i\r")
    terminal.wait_for(THIRD)
    terminal.write(F10)
    assert terminal.end() == 0
    (path,) = folder.glob("*.toml")
    assert (load(path).car, load(path).unit) == ("Bramble", "in")
    return terminal


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (120, 36), (200, 50), (300, 100)], ids=str)
def test_sizes(started: list[Terminal], folder: Path, size: tuple[int, int]) -> None:
    _walk(started, folder, size)


def test_below_the_smallest_size_it_says_so_and_may_be_left(
    started: list[Terminal], folder: Path
) -> None:
    terminal = Terminal("-m", "wizard", "--folder", str(folder), size=(59, 19))
    started.append(terminal)
    terminal.wait_for("crosstape ask")
    terminal.write(F10)
    assert terminal.end() == 0


@pytest.mark.parametrize(
    "term", ["xterm", "xterm-256color", "screen", "linux", "vt100", "tmux-256color", "unheard-of"]
)
def test_terms(started: list[Terminal], folder: Path, term: str) -> None:
    _walk(started, folder, TERM=term)


@pytest.mark.parametrize(
    "extra",
    [
        {"LC_ALL": "C", "LANG": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0"},
        {"LC_ALL": "POSIX", "PYTHONUTF8": "0"},
        {"NO_COLOR": "1"},
        {"NO_COLOR": "1", "LC_ALL": "C", "TERM": "vt100"},
        {"COLORTERM": "truecolor"},
    ],
    ids=["no locale", "posix", "no color", "nothing at all", "true color"],
)
def test_locales_and_colors(started: list[Terminal], folder: Path, extra: dict[str, str]) -> None:
    _walk(started, folder, **extra)


def test_a_dumb_terminal_is_sent_to_the_plain_prompts_which_work_there(
    started: list[Terminal], folder: Path
) -> None:
    terminal = Terminal("-m", "wizard", "--folder", str(folder), TERM="dumb")
    started.append(terminal)
    assert terminal.end() == 1
    assert "crosstape ask" in terminal.text
    plain = Terminal(
        "-m", "wizard", "--folder", str(folder), "ask", TERM="dumb", LC_ALL="C", PYTHONUTF8="0"
    )
    started.append(plain)
    plain.wait_for("What do you call this car?")
    plain.write("Bramble\ni\n/quit\n")
    assert plain.end() == 0
    assert b"\x1b" not in plain.raw
    (path,) = folder.glob("*.toml")
    assert load(path).unit == "in"


@pytest.mark.skipif(not shutil.which("tmux"), reason="there is no tmux here")
def test_in_tmux(folder: Path) -> None:
    name = f"crosstape-{uuid.uuid4().hex[:8]}"
    env = {
        k: v
        for k, v in os.environ.items()
        if not k.startswith(("TMUX", "NO_COLOR", "TEXTUAL", "CROSSTAPE"))
    }
    env |= {
        "PYTHONPATH": str(ROOT),
        "PYTHONUTF8": "1",
        "LC_ALL": "C.UTF-8",
        "TERM": "xterm-256color",
    }

    def tmux(*args: str) -> str:
        command = ["tmux", "-L", name, "-f", "/dev/null", *args]
        return subprocess.run(command, env=env, capture_output=True, text=True, check=False).stdout

    def wait_for(words: str) -> None:
        end = time.monotonic() + 30
        while words not in tmux("capture-pane", "-p"):
            assert time.monotonic() < end, tmux("capture-pane", "-p")
            time.sleep(0.1)

    shell = f"{sys.executable} -m wizard --folder {folder}; echo status $?; sleep 30"
    try:
        tmux("new-session", "-d", "-x", "100", "-y", "30", shell)
        wait_for(DRAWN)
        tmux("send-keys", "n", "Enter")
        wait_for("What do you call this car?")
        tmux("send-keys", "-l", "Bramble")
        tmux("send-keys", "Enter")
        wait_for(SECOND)
        tmux("send-keys", "i", "Enter")
        wait_for(THIRD)
        tmux("send-keys", "F10")
        wait_for("status 0")
    finally:
        tmux("kill-server")
    (path,) = folder.glob("*.toml")
    assert (load(path).car, load(path).unit) == ("Bramble", "in")


@pytest.mark.parametrize(
    ("around", "drawn"),
    [
        ({"TERM": "xterm-256color"}, "blocks"),
        ({"TERM": "xterm-256color", "VTE_VERSION": "7006"}, "braille"),
        ({"TERM": "foot"}, "braille"),
        ({"TERM": "linux", "VTE_VERSION": "7006"}, "ascii"),
        ({"TERM": "foot", "CROSSTAPE_DRAW": "ascii"}, "ascii"),
        ({"TERM": "linux", "CROSSTAPE_DRAW": "braille"}, "braille"),
        ({"TERM": "foot", "CROSSTAPE_DRAW": "crayons"}, "braille"),
    ],
)
def test_the_finest_that_the_terminal_is_known_to_print_is_drawn_with(
    around: dict[str, str], drawn: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("sys.__stdout__", None)
    for name, value in around.items():
        monkeypatch.setenv(name, value)
    assert charset() == drawn
