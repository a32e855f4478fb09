"""The arrows of the house: which room may import which, at import and inside functions, and what
comes in with it.

Data runs one way, from what was typed to what is shown. A room that imports one above it has turned
an arrow round.
"""

import ast
import subprocess
import sys
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

import wizard

HOUSE = Path(wizard.__file__).resolve().parent
ROOT = HOUSE.parent
ALLOWED: dict[str, set[str]] = {
    "readings": set(),
    "math": set(),
    "library": {"readings"},
    "survey": {"readings", "library"},
    "model": {"readings", "library", "survey", "math"},
    "checks": {"readings", "library", "survey", "math"},
    "judgment": {"readings", "library", "survey", "math", "checks", "model"},
    "telling": {"readings", "library", "survey", "math", "checks", "model", "judgment"},
    "sitting": {"readings", "library", "survey", "math", "checks", "model", "judgment", "telling"},
}
"""Rooms below the faces, from the bottom up; each may use itself and those named."""
HEAVY = {
    "numpy": {"math", "checks", "model"},
    "pint": {"readings"},
    "textual": {"screens"},
    "rich": {"screens"},
}
"""Which rooms may name a library that costs time, or ties the house to a terminal."""
FACES = {"screens", "command", "__main__"}
ROOMS = sorted(r for r in ALLOWED if list((HOUSE / r).glob("*.py")))


@cache
def _imports(path: Path) -> tuple[tuple[str, int], ...]:
    """Every module that a file imports, wherever in it the import stands, with its line."""
    return tuple(_imported(path))


def _imported(path: Path) -> Iterator[tuple[str, int]]:
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from ((alias.name, node.lineno) for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path.name}:{node.lineno} imports by dots"
            module = node.module or ""
            yield module, node.lineno
            if module == "wizard":
                yield from ((f"wizard.{alias.name}", node.lineno) for alias in node.names)


def _at_top(path: Path) -> set[str]:
    """The first names of what a file imports when it is imported."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    found: set[str] = set()
    for node in tree.body:
        if isinstance(node, ast.Import):
            found |= {alias.name.split(".")[0] for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            found.add((node.module or "").split(".")[0])
    return found


def _room(module: str) -> str:
    """The room of one of our modules, empty for another's and for the package itself."""
    names = module.split(".")
    return (
        names[1] if names[0] == "wizard" and len(names) > 1 and (HOUSE / names[1]).is_dir() else ""
    )


def _files(room: str) -> list[Path]:
    return sorted((HOUSE / room).rglob("*.py"))


ALL = [p for p in sorted(HOUSE.rglob("*.py")) if p.parent != HOUSE]
BELOW = [p for p in ALL if p.relative_to(HOUSE).parts[0] not in FACES]
"""A face may use every room; these may not."""


def test_every_room_has_its_place_in_the_order() -> None:
    rooms = {p.name for p in HOUSE.iterdir() if (p / "__init__.py").exists()}
    assert rooms <= set(ALLOWED) | FACES


def test_no_two_rooms_use_each_other() -> None:
    for room, below in ALLOWED.items():
        assert not [b for b in below if room in ALLOWED[b]], room


@pytest.mark.parametrize("path", BELOW, ids=lambda p: p.relative_to(HOUSE).as_posix())
def test_no_arrow_is_turned_round(path: Path) -> None:
    room = path.relative_to(HOUSE).parts[0]
    wrong = [
        f"line {n}: {m}" for m, n in _imports(path) if _room(m) not in {"", room} | ALLOWED[room]
    ]
    assert wrong == []


@pytest.mark.parametrize("path", ALL, ids=lambda p: p.relative_to(HOUSE).as_posix())
def test_heavy_libraries_stay_in_their_rooms(path: Path) -> None:
    room = path.relative_to(HOUSE).parts[0]
    wrong = [
        f"line {n}: {m}"
        for m, n in _imports(path)
        if room not in HEAVY.get(m.split(".")[0], {room})
    ]
    assert wrong == []
    assert "pint" not in _at_top(path), "pint is imported by the function that needs it"
    assert "scipy" not in {m.split(".")[0] for m, _ in _imports(path)}, (
        "scipy is for the tests alone"
    )


def test_no_room_uses_a_face() -> None:
    for room in ROOMS:
        for path in _files(room):
            assert not {m for m, _ in _imports(path)} & {"wizard.command", "wizard.__main__"}, (
                path.name
            )


def test_only_the_library_reads_the_content() -> None:
    for path in ALL:
        room = path.relative_to(HOUSE).parts[0]
        if room != "library":
            assert "content_dir" not in path.read_text(encoding="utf-8"), path


def test_the_command_line_imports_no_room_but_the_lightest_before_it_knows_what_is_wanted() -> None:
    assert _at_top(HOUSE / "command.py") & {"numpy", "pint", "textual", "rich"} == set()
    assert _loaded("wizard.command") & {"numpy", "pint", "textual", "rich"} == set()


# In a process of its own
# --------------------------------------------------------------------------------------


@cache
def _loaded(*modules: str) -> frozenset[str]:
    """What a fresh process holds once the modules are imported."""
    script = f"import sys\nimport {', '.join(modules)}\nprint('\\n'.join(sys.modules))"
    run = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, check=True, cwd=ROOT
    )
    return frozenset(run.stdout.split())


def _whole(room: str) -> frozenset[str]:
    return _loaded(*(f"wizard.{room}.{p.stem}" for p in _files(room) if p.stem != "__init__"))


@pytest.mark.parametrize("room", ROOMS)
def test_a_room_started_alone_brings_in_only_rooms_below_it(room: str) -> None:
    found = _whole(room)
    assert {_room(m) for m in found} - {""} <= {room} | ALLOWED[room]
    assert {f"wizard.{room}.{p.stem}" for p in _files(room) if p.stem != "__init__"} <= found


@pytest.mark.parametrize("room", ROOMS)
def test_a_room_started_alone_brings_in_no_terminal_no_pint_no_scipy(room: str) -> None:
    assert not _whole(room) & {"textual", "rich", "pint", "scipy"}


@pytest.mark.parametrize("room", ["readings", "library", "survey"])
def test_the_record_needs_no_numpy(room: str) -> None:
    assert "numpy" not in _whole(room)


def test_a_prompt_can_be_answered_before_numpy_is_there() -> None:
    """The first questions and their answers come before anything is computed."""
    assert "numpy" not in _loaded(
        "wizard.sitting.sitting", "wizard.library.load", "wizard.survey.answer"
    )


def test_what_this_test_looks_for_it_would_find(tmp_path: Path) -> None:
    """The twin that must fail: an arrow turned round, inside a function."""
    bad = tmp_path / "bad.py"
    bad.write_text(
        "def f():\n    from wizard.screens import app\n    import textual.app\n    import pint\n"
    )
    assert [m for m, _ in _imports(bad)] == ["wizard.screens", "textual.app", "pint"]
    assert _at_top(bad) == set()
    assert _room("wizard.screens.app") == "screens"
    assert (_room("wizard"), _room("wizard.command"), _room("numpy.typing")) == ("", "", "")


FILE_WORDS = {
    "open",
    "read_text",
    "read_bytes",
    "write_text",
    "write_bytes",
    "unlink",
    "mkdir",
    "iterdir",
    "glob",
    "stat",
}
"""Calls that touch a file: as a plain name only `open`, else as a method of anything but the desk
and the app.
"""


def _touches(source: str) -> list[str]:
    found = []
    for call in (n for n in ast.walk(ast.parse(source)) if isinstance(n, ast.Call)):
        if isinstance(call.func, ast.Name) and call.func.id == "open":
            found.append("open")
        elif isinstance(call.func, ast.Attribute) and call.func.attr in FILE_WORDS:
            owner = ast.unparse(call.func.value)
            found += [] if owner in ("desk", "self", "self.desk") else [f"{owner}.{call.func.attr}"]
    return found


@pytest.mark.parametrize("path", _files("screens"), ids=lambda p: p.name)
def test_the_screens_touch_no_file_and_compute_nothing(path: Path) -> None:
    assert _touches(path.read_text(encoding="utf-8")) == []
    rooms = {module.split(".")[1] for module, _ in _imports(path) if module.startswith("wizard.")}
    assert not rooms & {"math", "checks", "model"}


def test_a_file_that_is_touched_would_be_found() -> None:
    assert _touches("open('x'); p.read_text(); desk.open(p)") == ["open", "p.read_text"]


def test_every_room_has_tests_that_are_quick() -> None:
    quick = "pytest.mark.quick"  # as tests/conftest.py looks for it
    files = [p for p in (ROOT / "tests").rglob("test_*.py") if p != Path(__file__)]
    rooms = {p.parent.name for p in files} - {"bench"}
    marked = {p.parent.name for p in files if quick in p.read_text(encoding="utf-8")}
    assert rooms - marked == set()
    assert len(rooms) > 12
