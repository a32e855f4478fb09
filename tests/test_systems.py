"""What differs on Windows and macOS, as far as it can be held without them: what there is not is not
asked for; and the project as it is handed on: version, types, the tests on hosted machines.
"""

from __future__ import annotations

import ast
import os
import re
import subprocess
import sys
import tomllib
import types
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

import wizard
from wizard.survey import file

pytestmark = pytest.mark.quick

ROOT = Path(__file__).resolve().parent.parent
UNIX = frozenset({"fcntl", "termios", "pty", "tty", "resource", "pwd", "grp"})
"""Modules that Windows has not (library reference, "Availability: Unix")."""
GUARDED = ('sys.platform == "win32"', 'importorskip("')
"""What lets a file of tests be read there all the same."""
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
WORKFLOW = (ROOT / ".github" / "workflows" / "tests.yml").read_text(encoding="utf-8")


@cache
def _at_top(path: Path) -> frozenset[str]:
    """Modules that a file imports as soon as it is read."""
    found: set[str] = set()
    for node in ast.parse(path.read_text(encoding="utf-8")).body:
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            found |= {node.module or "", *(f"{node.module}.{a.name}" for a in node.names)}
    return frozenset(found)


def _needs(path: Path, seen: set[Path]) -> Iterator[str]:
    """What of Unix comes in with a file, its own or with a file of tests that it imports."""
    seen.add(path)
    for name in _at_top(path):
        if name in UNIX:
            yield name
        other = ROOT / Path(*name.split(".")).with_suffix(".py")
        if name.startswith("tests.") and other.is_file() and other not in seen:
            yield from _needs(other, seen)


@pytest.mark.parametrize(
    "path", sorted((ROOT / "tests").rglob("test_*.py")), ids=lambda p: p.stem.removeprefix("test_")
)
def test_a_file_of_tests_can_be_read_where_there_is_no_unix(path: Path) -> None:
    if needed := set(_needs(path, set())):
        assert any(guard in path.read_text(encoding="utf-8") for guard in GUARDED), needed


def test_there_are_files_that_need_a_guard() -> None:
    """The twin: or the test above would hold of nothing."""
    assert set(_needs(ROOT / "tests" / "screens" / "test_faults.py", set())) > {"termios"}


WITHOUT = """
import importlib, pkgutil, sys
for name in {unix!r}:
    sys.modules[name] = None
import wizard
from wizard.command import main
for found in pkgutil.walk_packages(wizard.__path__, "wizard."):
    if found.name not in ("wizard.__main__", "wizard.screens.terminal"):
        importlib.import_module(found.name)
from wizard.screens import app
sys.platform = "win32"
assert app._driver() is None
sys.exit(main(["tell", sys.argv[1]]))
"""


def test_no_room_but_the_terminal_of_unix_needs_unix() -> None:
    sample = next(iter(sorted((ROOT / "sample_sessions").glob("*.toml"))))
    done = subprocess.run(
        [sys.executable, "-c", WITHOUT.format(unix=sorted(UNIX)), str(sample)],
        capture_output=True,
        text=True,
        encoding="utf-8",
        env={**os.environ, "PYTHONUTF8": "1"},
        cwd=ROOT,
        check=False,
    )
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout


def test_on_macos_a_flush_goes_on_out_of_the_drive(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[int] = []
    there = types.ModuleType("fcntl")
    there.F_FULLFSYNC = 51  # type: ignore[attr-defined]
    there.fcntl = lambda handle, what: asked.append(what)  # type: ignore[attr-defined]
    monkeypatch.setitem(sys.modules, "fcntl", there)
    monkeypatch.setattr(file, "sys", types.SimpleNamespace(platform="darwin"))
    file.write_atomic(tmp_path / "s.toml", b"1")
    assert asked == [51]

    def unknown(*_: int) -> None:
        raise OSError(25, "Inappropriate ioctl for device")

    there.fcntl = unknown  # type: ignore[attr-defined]
    file.write_atomic(tmp_path / "s.toml", b"2")
    assert (tmp_path / "s.toml").read_bytes() == b"2"


def test_hosted_machines_run_the_readmes_tests_on_every_system_and_python() -> None:
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    command = re.search(r"\.venv/bin/(pytest.*)$", readme, re.MULTILINE)
    assert command is not None
    assert f"- run: {command[1]}\n" in WORKFLOW
    for system in ("ubuntu", "windows", "macos"):
        assert WORKFLOW.count(f"{system}-latest") == 2
    versions = re.findall(r"Python :: (3\.\d+)", "\n".join(PROJECT["project"]["classifiers"]))
    assert PROJECT["project"]["requires-python"] == f">={versions[0]}"
    wanted = ", ".join(f'"{v}"' for v in versions)
    assert f"python: [{wanted}]" in WORKFLOW
    assert "\t" not in WORKFLOW


def test_the_version_stands_in_one_place_and_what_changed_in_it_is_told() -> None:
    assert PROJECT["tool"]["hatch"]["version"]["path"] == "wizard/__init__.py"
    assert "version" in PROJECT["project"]["dynamic"]
    developers = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    assert f"\n### {wizard.__version__}" in developers


def test_whoever_uses_it_has_its_types() -> None:
    assert (ROOT / "wizard" / "py.typed").read_text() == ""
