"""The lock beside a survey: one wizard at a time, nobody held up by a dead one, and Windows' way of
it.
"""

import errno
import os
import signal
import subprocess
import sys
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

from wizard.survey import lock
from wizard.survey.lock import Held, lock_name, take

HOLDER = """
import sys, time
from pathlib import Path
from wizard.survey.lock import take
kept = take(Path(sys.argv[1]))
print("held" if kept else "none", flush=True)
time.sleep(60)
"""


@pytest.fixture
def path(tmp_path: Path) -> Path:
    path = tmp_path / "s.toml"
    path.write_text("format = 1\n")
    return path


def _holder(path: Path) -> "subprocess.Popen[str]":
    started = subprocess.Popen(
        [sys.executable, "-c", HOLDER, str(path)], stdout=subprocess.PIPE, text=True
    )
    assert started.stdout is not None
    assert started.stdout.readline().strip() == "held"
    return started


def test_a_second_one_is_refused_until_the_first_lets_go(path: Path) -> None:
    first = take(path)
    assert first is not None
    with pytest.raises(Held):
        take(path)
    first.release()
    assert os.listdir(path.parent) == ["s.toml"]
    assert take(path) is not None


def test_a_lock_that_nobody_has_any_more_is_let_go(path: Path) -> None:
    first: Any = take(path)
    assert first
    del first
    assert os.listdir(path.parent) == ["s.toml"]


def test_another_program_is_refused_and_a_killed_one_holds_nobody_up(path: Path) -> None:
    other = _holder(path)
    with pytest.raises(Held):
        take(path)
    other.send_signal(signal.SIGKILL)
    other.wait()
    assert os.path.exists(lock_name(path)), "the twin: what a killed program leaves is there"
    assert take(path) is not None


def test_one_survey_by_two_names_is_one(path: Path) -> None:
    other = path.parent / "other.toml"
    other.symlink_to(path)
    held = take(path)
    assert held
    with pytest.raises(Held):
        take(other)


def test_saving_does_not_let_go(path: Path) -> None:
    held = take(path)
    assert held
    os.replace(_copy(path), path)  # another file stands there now, as after every save
    with pytest.raises(Held):
        take(path)


def _copy(path: Path) -> Path:
    copy = path.with_suffix(".new")
    copy.write_bytes(path.read_bytes())
    return copy


def test_where_no_lock_can_be_had_there_is_none(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert take(tmp_path / "gone" / "s.toml") is None
    (tmp_path / ".d.toml.ct-lock").mkdir()
    assert take(tmp_path / "d.toml") is None

    def no_locks(_: int) -> None:
        raise OSError(errno.ENOLCK, "No locks available")

    monkeypatch.setattr(lock, "_grab", no_locks)
    assert take(tmp_path / "s.toml") is None
    assert os.listdir(tmp_path) == [".d.toml.ct-lock"]


def test_a_link_or_a_pipe_laid_in_the_way_is_not_followed(tmp_path: Path) -> None:
    (tmp_path / ".a.toml.ct-lock").symlink_to(tmp_path / "made.txt")
    assert take(tmp_path / "a.toml") is None
    assert not (tmp_path / "made.txt").exists()
    os.mkfifo(tmp_path / ".b.toml.ct-lock")
    # Opening a pipe that nobody writes to would wait for ever: to come back at all is the test.
    held = take(tmp_path / "b.toml")
    del held


def test_a_lock_file_taken_away_by_one_that_ends_just_now_is_made_anew(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    real, gone = lock._grab, []

    def grab(handle: int) -> None:
        if not gone:
            gone.append(os.unlink(lock_name(path)))
        real(handle)

    monkeypatch.setattr(lock, "_grab", grab)
    held = take(path)
    assert held
    assert lock._still(os.open(lock_name(path), os.O_RDWR), lock_name(path))
    with pytest.raises(Held):
        take(path)


def test_the_way_of_windows(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """By a stand-in for `msvcrt`: the calls that would be made there, and closing before taking
    away.
    """
    calls: list[Any] = []
    locked: set[int] = set()

    def locking(handle: int, mode: int, count: int) -> None:
        calls.append((mode, count))
        if locked:
            raise OSError(errno.EACCES, "Permission denied")
        locked.add(handle)

    monkeypatch.setitem(sys.modules, "fcntl", None)
    monkeypatch.setitem(sys.modules, "msvcrt", SimpleNamespace(LK_NBLCK=2, locking=locking))
    monkeypatch.setattr(lock, "os", _Windows(calls))
    held = take(path)
    assert held
    with pytest.raises(Held):
        take(path)
    calls.clear()
    held.release()
    assert calls == ["close", "unlink"]


class _Windows:
    """`os` as it is there, as far as this needs it."""

    name = "nt"

    def __init__(self, calls: list[Any]) -> None:
        self._calls = calls

    def __getattr__(self, name: str) -> Any:
        real = getattr(os, name)
        if name not in ("close", "unlink"):
            return real

        def noted(*args: Any) -> Any:
            self._calls.append(name)
            return real(*args)

        return noted
