"""Faults of the disk, each brought about for real: what was accepted is in the file, the file is
whole, one sentence.

Skipped where the system cannot: only root on Linux mounts a small disk, and root must be able to
drop its privileges.
"""

import contextlib
import os
import shutil
import subprocess
import sys
from collections.abc import Iterator, Sequence
from pathlib import Path

import pytest

from tests.sitting.driving import BEGUN, Driver
from wizard.survey.file import load
from wizard.survey.rows import Remark

ROOT = Path(__file__).resolve().parent.parent
NAME = "bramble-2026-04-11.toml"
ASK = [sys.executable, "-m", "wizard", "ask"]
IS_ROOT = hasattr(os, "geteuid") and os.geteuid() == 0


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[Path]:
    """A disk of 96 kB."""
    place = tmp_path / "disk"
    place.mkdir()
    mount = ["mount", "-t", "tmpfs", "-o", "size=96k", "none", str(place)]
    if not (
        IS_ROOT and sys.platform == "linux" and subprocess.run(mount, check=False).returncode == 0
    ):
        pytest.skip("a small disk can be mounted by root on Linux alone")
    yield place
    subprocess.run(["umount", str(place)], check=True)


def _asked(
    path: Path, lines: list[str], before: Sequence[str] = ()
) -> "subprocess.CompletedProcess[str]":
    """`crosstape ask` on a file, with these lines in its pipe."""
    new = [] if os.path.lexists(path) else ["--new"]
    command = [*before, *ASK, *new, str(path)]
    return subprocess.run(
        command, input="\n".join(lines), capture_output=True, text=True, cwd=ROOT, check=False
    )


def _noted(out: str) -> list[str]:
    lines = [
        line.removeprefix("Noted: ") for line in out.splitlines() if line.startswith("Noted: ")
    ]
    return [line.split(" (at “")[0] for line in lines]


def test_a_disk_that_runs_full(small_disk: Path) -> None:
    path = Driver(small_disk).run(*BEGUN).sitting.path
    assert path
    remarks = [f"remark {n} {'x' * 400}"[:200] for n in range(600)]
    run = _asked(path, [f"/remark {text}" for text in remarks])
    assert run.returncode == 1
    assert "No space left on device" in " ".join(run.stdout.split())
    assert run.stderr == ""
    kept = [r.text for r in load(path).table(Remark)]
    assert kept == remarks[: len(kept)]
    assert len(kept) == len(_noted(run.stdout)) > 20
    assert [p.name for p in small_disk.iterdir()] == [NAME]


def test_a_disk_with_no_room_for_the_first_answer(small_disk: Path) -> None:
    (small_disk / "filler").write_bytes(b"x" * 90_000)
    with (small_disk / "filler").open("ab") as filler, contextlib.suppress(OSError):
        while True:
            os.write(filler.fileno(), b"x" * 512)
    run = _asked(small_disk / "new.toml", ["Bramble", "i"])
    assert run.returncode == 1
    assert "Not saved: new.toml could not be written (No space left on device)." in " ".join(
        run.stdout.split()
    )
    assert [p.name for p in small_disk.iterdir()] == ["filler"]


@pytest.fixture
def unprivileged() -> list[str]:
    """What to put before a command so that rights count for it; root is made to do without its
    privileges.
    """
    if not IS_ROOT:
        return []
    if not shutil.which("setpriv"):
        pytest.skip("rights do not bind root, and there is no setpriv to drop its privileges")
    return ["setpriv", "--bounding-set=-all", "--inh-caps=-all"]


def test_a_folder_that_may_not_be_written(tmp_path: Path, unprivileged: list[str]) -> None:
    path = Driver(tmp_path / "s").run(*BEGUN).sitting.path
    assert path
    before = path.read_bytes()
    path.parent.chmod(0o555)
    run = _asked(path, ["/why", "i"], unprivileged)
    path.parent.chmod(0o755)
    assert run.returncode == 1, run.stderr
    assert f"Not saved: {NAME} could not be written (Permission denied)." in " ".join(
        run.stdout.split()
    )
    assert "Why this matters" in run.stdout, "it may still be read"
    assert run.stderr == ""
    assert path.read_bytes() == before
    assert _asked(path, ["i"], unprivileged).returncode == 0, (
        "the twin: with the right to write it goes on"
    )


def test_a_folder_that_may_not_be_made(tmp_path: Path, unprivileged: list[str]) -> None:
    (tmp_path / "s").mkdir(mode=0o555)
    run = _asked(tmp_path / "s" / "deep" / "new.toml", ["Bramble", "i"], unprivileged)
    assert run.returncode == 1
    assert "is not saved: the folder cannot be used (Permission denied)." in " ".join(
        run.stdout.split()
    )


def test_a_file_that_may_not_be_read(tmp_path: Path, unprivileged: list[str]) -> None:
    path = tmp_path / "s.toml"
    path.write_text("format = 1\n")
    path.chmod(0o000)
    run = _asked(path, ["Bramble"], unprivileged)
    assert (run.returncode, run.stderr) == (1, "s.toml cannot be read: Permission denied.\n")
    path.chmod(0o644)
    assert path.read_text() == "format = 1\n"
