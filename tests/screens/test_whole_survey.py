"""The main job, end to end: an empty folder, a whole survey by keyboard in 80 by 24, stopped once,
to the verdict.

The same answers piped into the plain prompts give the same file but for times.
"""

from __future__ import annotations

import importlib.util
import re
import subprocess
import sys
from pathlib import Path

import pytest

if sys.platform == "win32":
    pytest.skip("no pseudo-terminal here", allow_module_level=True)

ROOT = Path(__file__).resolve().parent.parent.parent
ANSWERS = ROOT / "tests" / "samples" / "bramble.txt"
_spec = importlib.util.spec_from_file_location(
    "pty_wizard", Path(__file__).parent / "pty_wizard.py"
)
assert _spec is not None
assert _spec.loader is not None
pty_wizard = importlib.util.module_from_spec(_spec)
_spec.loader.exec_module(pty_wizard)


def _typed(folder: Path, answers: list[str]) -> Path:
    """Typed into the real wizard in two sittings; gives the survey's file."""
    half = len(answers) // 2
    first = pty_wizard.Terminal("-m", "wizard", "--folder", str(folder))
    try:
        first.wait_for("What do you want to do?")
        for line in ["n", *answers[:half]]:
            first.write(f"{line}\r")
        first.write(pty_wizard.F10)
        assert first.end(60) == 0
    finally:
        first.close()
    (path,) = folder.glob("*.toml")
    second = pty_wizard.Terminal("-m", "wizard", "open", str(path))
    try:
        second.wait_for("You stopped at")
        for line in answers[half:]:
            second.write(f"{line}\r")
        second.wait_for("Nothing to put right on what was seen", 60)
        second.write("/quit\r")
        assert second.end(60) == 0
    finally:
        second.close()
    return path


def _without_times(text: str) -> str:
    text = re.sub(r"(at|started) = \S+ \S+\n|(at|started) = \S+\n", "", text)
    return re.sub(r'id = "bramble[^"]*"', 'id = "bramble"', text)


def test_a_whole_survey_typed_in_two_sittings_is_the_one_that_is_piped(tmp_path: Path) -> None:
    answers = ANSWERS.read_text(encoding="utf-8").splitlines()
    path = _typed(tmp_path / "typed", answers)
    piped = tmp_path / "piped" / path.name
    piped.parent.mkdir()
    done = subprocess.run(
        [sys.executable, "-m", "wizard", "ask", "--new", str(piped)],
        input=ANSWERS.read_text(encoding="utf-8"),
        capture_output=True,
        text=True,
        encoding="utf-8",
        cwd=ROOT,
        timeout=120,
        check=False,
    )
    assert done.returncode == 0, done.stdout[-500:] + done.stderr
    assert _without_times(path.read_text(encoding="utf-8")) == _without_times(
        piped.read_text(encoding="utf-8")
    )
    assert "[[verdict]]" in path.read_text(encoding="utf-8")
