"""The wizard on a real (pseudo) terminal: bursts, signals, another day, no color, a fall."""

from __future__ import annotations

import importlib.util
import os
import signal
import subprocess
import sys
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path

import pytest

from tests.sitting.driving import READ, typed_to
from wizard.library import load_library
from wizard.sitting.commands import handle
from wizard.sitting.sitting import Sitting
from wizard.survey.file import load
from wizard.survey.prompts import Prompt
from wizard.survey.record import Survey, number_of

if sys.platform == "win32":
    pytest.skip("no pseudo-terminal here", allow_module_level=True)

_spec = importlib.util.spec_from_file_location(
    "pty_wizard", Path(__file__).parent / "pty_wizard.py"
)
assert _spec is not None
assert _spec.loader is not None
pty_wizard = importlib.util.module_from_spec(_spec)
_spec.loader.exec_module(pty_wizard)
Terminal, F10 = pty_wizard.Terminal, pty_wizard.F10

DRAWN = "What do you want to do?"
TO_WIDTHS = typed_to("Bramble", "i", "s", "w", "o", "/go widths", READ)
WIDTHS = "\r".join(("n", *TO_WIDTHS, ""))
"""Keys from the opening page to the first width, with all that is read and answered before it."""


@pytest.fixture
def start(tmp_path: Path) -> Iterator[object]:
    """Starts the wizard on a folder and waits until it is drawn; ends whatever is left at the end."""
    started = []

    def starting(
        folder: Path = tmp_path / "mine", controlling: bool = True, **extra: str
    ) -> Terminal:  # type: ignore[valid-type]
        terminal = Terminal(
            "-m", "wizard", "--folder", str(folder), controlling=controlling, **extra
        )
        started.append(terminal)
        terminal.wait_for(DRAWN)
        return terminal

    yield starting
    for terminal in started:
        terminal.close()


def _reply(prompt: Prompt, n: int) -> str:
    """An answer to any prompt, another one for each: `!` keeps what the rest would doubt."""
    if prompt.kind.acknowledges:
        return "understood"
    if prompt.kind.chooses:
        return prompt.choices[0].letter
    if prompt.kind.gathers:
        return "p"
    if prompt.kind.looks:
        return f"p {prompt.choices[0].letter}"
    amounts = {
        "length": f"{20 + n} 1/16!",
        "gap": f"{n} {prompt.signs[0]}!" if prompt.signs else "",
        "bubble": "1 left",
    }
    return amounts.get(prompt.kind.id, f"word {n}")


def _walk(folder: Path, count: int) -> tuple[list[str], Survey]:
    """The lines of the first so many answers from the measuring on, and the survey that they should
    give.
    """
    sitting = Sitting(load_library(), folder=folder, now=lambda: datetime(2026, 4, 11, 12))
    lines = list(TO_WIDTHS)
    for line in lines:
        handle(sitting, line)
    for n in range(count):
        assert sitting.prompt is not None
        lines.append(_reply(sitting.prompt, n))
        assert handle(sitting, lines[-1]).kind == "taken"
    return lines, sitting.survey


def _kept(survey: Survey) -> list[tuple[str, ...]]:
    """What was answered where, in order, without times and doubts."""
    fields = ("prompt", "typed", "answer", "seen", "caution")
    rows = sorted(survey.all_rows(), key=lambda row: number_of(row.id))
    kept = [tuple(str(getattr(row, f, "")) for f in fields) for row in rows]
    return [row for row in kept if row[0] or row[4]]


def _file(folder: Path) -> Path:
    (path,) = folder.glob("*.toml")
    return path


def test_a_burst_of_many_answers_in_one_write_puts_each_at_its_prompt(
    start, tmp_path: Path
) -> None:
    lines, expected = _walk(tmp_path / "twin", 70)
    assert len({row[0] for row in _kept(expected)}) > 50
    terminal = start()
    terminal.write("\r".join(["n", *lines, "/quit", ""]))
    assert terminal.end(40) == 0
    assert _kept(load(_file(tmp_path / "mine"))) == _kept(expected)


def test_stop_in_the_middle_and_go_on_another_time(start, tmp_path: Path) -> None:
    terminal = start()
    terminal.write(WIDTHS + "25 1/8!\r" + F10 + "99\r")
    assert terminal.end() == 0
    assert "Saved in" in terminal.text
    again = start()
    again.write("1\r")
    again.wait_for("You stopped at")
    again.write("26 1/8!\r" + F10)
    assert again.end() == 0
    rows = load(_file(tmp_path / "mine")).rows["reading"]
    assert [(r.prompt.rpartition("/")[2], r.typed) for r in rows] == [  # type: ignore[attr-defined]
        ("front-left--front-right", "25 1/8"),
        ("center-left--center-right", "26 1/8"),
    ]


def test_the_rest_of_a_burst_is_set_aside_at_the_first_refusal(start, tmp_path: Path) -> None:
    terminal = start()
    terminal.write(WIDTHS + "25 1/8!\r25 9/8\r26!\r27!\r")
    terminal.wait_for("characters after it were not taken")
    assert terminal.leave() == 0
    assert [r.typed for r in load(_file(tmp_path / "mine")).rows["reading"]] == ["25 1/8"]  # type: ignore[attr-defined]


def test_ten_thousand_characters_are_one_refusal(start, tmp_path: Path) -> None:
    terminal = start()
    terminal.write(WIDTHS)
    terminal.wait_for("left front to right front")
    terminal.write("9" * 10_000 + "\r")
    terminal.wait_for("Not taken.", 60)
    assert terminal.leave() == 0
    assert "reading" not in load(_file(tmp_path / "mine")).rows


@pytest.mark.parametrize(
    ("name", "status"), [("SIGTERM", 143), ("SIGHUP", 129), ("SIGINT", 130), ("SIGQUIT", 131)]
)
def test_a_signal_ends_in_order_with_everything_saved(
    start, tmp_path: Path, name: str, status: int
) -> None:
    terminal = start()
    terminal.write("n\rBramble\ri\r")
    terminal.wait_for("rails low between axles")  # shown only once the answer before is in
    os.kill(terminal.process.pid, getattr(signal, name))
    assert terminal.end() == status
    assert b"\x1b[?1049l" in terminal.raw  # the terminal is back on its first page
    assert load(_file(tmp_path / "mine")).car == "Bramble"


@pytest.mark.parametrize("controlling", [True, False], ids=["hung up", "gone without a word"])
def test_a_dropped_line_ends_it_with_everything_saved(
    start, tmp_path: Path, controlling: bool
) -> None:
    terminal = start(controlling=controlling)
    terminal.write("n\rBramble\ri\r")
    terminal.wait_for("rails low between axles")  # shown only once the answer before is in
    os.close(terminal.master)
    assert terminal.process.wait(12) == 129
    assert load(_file(tmp_path / "mine")).car == "Bramble"


def test_no_color_sends_no_color_and_a_frozen_size_is_dropped(start) -> None:
    terminal = start(NO_COLOR="1", COLUMNS="40", LINES="10", TEXTUAL_COLOR_SYSTEM="none")
    terminal.write("n\r")
    terminal.read(0.5)
    raw = terminal.raw
    terminal.write(F10)
    assert terminal.end() == 0
    assert b"\x1b[" in raw
    assert not any(code in raw for code in (b"38;2", b"48;2", b"38;5", b"48;5", b"\x1b[31m"))


def test_a_fault_in_an_answer_is_told_and_the_wizard_lives_on(tmp_path: Path) -> None:
    fall = (
        "import sys; from wizard.screens import app, desk\n"
        "def broken(self, text): raise RuntimeError('broken on purpose')\n"
        "desk.Desk.line = broken\n"
        f"sys.exit(app.run_wizard(None, {str(tmp_path)!r}))"
    )
    terminal = Terminal("-c", fall)
    try:
        terminal.wait_for(DRAWN)
        terminal.write("n\r")
        terminal.wait_for("The program made a mistake (RuntimeError)")
        assert terminal.leave() == 0
    finally:
        terminal.close()


def test_without_a_terminal_it_names_the_plain_prompts(tmp_path: Path) -> None:
    done = subprocess.run(
        [sys.executable, "-m", "wizard", "--folder", str(tmp_path)],
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        cwd=pty_wizard.ROOT,
        check=False,
    )
    assert done.returncode == 1
    assert "crosstape ask" in done.stderr
    assert done.stdout == ""
