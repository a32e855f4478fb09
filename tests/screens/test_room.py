"""What the screens may not do: compute what was measured, touch a file, grow past a page's worth of
code.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

import wizard.screens

pytestmark = pytest.mark.quick

ROOM = sorted(Path(wizard.screens.__file__).parent.glob("*.py"))
COMPUTING = (
    "wizard.checks",
    "wizard.math",
    "wizard.model",
    "numpy",
    "math",
    "statistics",
    "fractions",
)
FILES = {
    *(
        "open",
        "read_text",
        "write_text",
        "read_bytes",
        "write_bytes",
        "mkdir",
        "touch",
        "unlink",
        "rename",
        "rmdir",
    ),
    *(
        "iterdir",
        "glob",
        "rglob",
        "exists",
        "is_file",
        "is_dir",
        "stat",
        "replace_file",
        "write_atomic",
    ),
}
OURS = {"open": {"self", "desk"}}
"""Methods of our own that go by such a name: the desk opens a survey."""
LONGEST = 300


def _imports(tree: ast.AST) -> Iterator[str]:
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


def _calls(tree: ast.AST) -> Iterator[str]:
    for node in ast.walk(tree):
        if not isinstance(node, ast.Call):
            continue
        if isinstance(node.func, ast.Name):
            yield node.func.id
        elif isinstance(node.func, ast.Attribute):
            value = node.func.value
            name = value.attr if isinstance(value, ast.Attribute) else getattr(value, "id", "")
            if name not in OURS.get(node.func.attr, ()):
                yield node.func.attr


def _faults(text: str) -> list[str]:
    tree = ast.parse(text)
    computing = [
        m for m in _imports(tree) if any(m == c or m.startswith(f"{c}.") for c in COMPUTING)
    ]
    loading = [
        m for m in _imports(tree) if m in ("wizard.survey.file.load", "wizard.survey.file.save")
    ]
    return computing + loading + [name for name in _calls(tree) if name in FILES]


@pytest.mark.parametrize("path", ROOM, ids=lambda p: p.stem)
def test_a_screen_computes_nothing_measured_and_touches_no_file(path: Path) -> None:
    assert _faults(path.read_text(encoding="utf-8")) == []


@pytest.mark.parametrize(
    "text",
    [
        "from wizard.checks.case import Case",
        "def f():\n    import numpy",
        "from wizard.math import level",
        "Path('x').read_text()",
        "def f(path):\n    with open(path) as file:\n        pass",
        "from wizard.survey.file import save",
    ],
)
def test_the_rule_finds_what_it_forbids(text: str) -> None:
    assert _faults(text)
