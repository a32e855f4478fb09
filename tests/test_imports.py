"""How the files of the house hang together: no circle, no long chain, few files for one other alone.

Counted from the source. The three limits are what was reached; they go down, never up.
"""

from __future__ import annotations

import ast
from collections.abc import Collection, Iterator, Mapping
from functools import cache
from graphlib import CycleError, TopologicalSorter
from pathlib import Path

import pytest

pytestmark = pytest.mark.quick

ROOT = Path(__file__).parents[1]
Graph = Mapping[str, Collection[str]]
"""Each file, and the files that it imports."""
LONGEST = 18
"""Files on the longest chain of imports at the top of a file. The aim is 18."""
ALONE = 40
"""Files that one other alone imports. The aim is 40, each with a noun of its own."""
WIDEST = 29
"""Files that one file imports, wherever in it the import stands."""


def _names(folder: Path) -> dict[str, Path]:
    """The modules of the package in a folder."""
    found = {}
    for path in folder.glob("wizard/**/*.py"):
        parts = path.relative_to(folder).with_suffix("").parts
        found[".".join(p for p in parts if p != "__init__")] = path
    return found


def _imports(tree: ast.AST, inside: bool) -> Iterator[str]:
    """What a file imports; inside: in its functions too. For types alone does not count."""
    for node in ast.iter_child_nodes(tree):
        if isinstance(node, ast.If) and ast.unparse(node.test) == "TYPE_CHECKING":
            continue
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            yield from (f"{node.module}.{alias.name}" for alias in node.names)
        elif inside or not isinstance(node, (ast.FunctionDef, ast.AsyncFunctionDef)):
            yield from _imports(node, inside)


def graph(folder: Path, inside: bool) -> dict[str, set[str]]:
    """Who imports whom."""
    names = _names(folder)
    found: dict[str, set[str]] = {}
    for name, path in names.items():
        imports = set(_imports(ast.parse(path.read_text(encoding="utf-8")), inside))
        files = {m if m in names else m.rpartition(".")[0] for m in imports}
        found[name] = (files & set(names)) - {name, "wizard"}
    return found


def chain(found: Graph) -> list[str]:
    """The longest one, the file that imports first. Raises CycleError."""
    longest: dict[str, list[str]] = {}
    for name in TopologicalSorter(found).static_order():
        below = max((longest[m] for m in sorted(found[name])), key=len, default=[])
        longest[name] = [name, *below]
    return max(longest.values(), key=len)


def alone(found: Graph) -> dict[str, str]:
    """Files with a single importer, and which that is; a room's own `__init__` is none."""
    by: dict[str, list[str]] = {}
    for name, imports in found.items():
        for module in imports:
            by.setdefault(module, []).append(name)
    rooms = {name.rpartition(".")[0] for name in found}
    return {m: names[0] for m, names in by.items() if len(names) == 1 and m not in rooms}


@cache
def _house(inside: bool) -> dict[str, set[str]]:
    return graph(ROOT, inside)


def test_no_circle_not_even_within_functions() -> None:
    chain(_house(inside=True))


def test_no_chain_of_imports_is_longer_than_it_was() -> None:
    found = chain(_house(inside=False))
    assert len(found) <= LONGEST, " > ".join(found)


def test_no_more_files_are_there_for_one_other_alone() -> None:
    found = alone(_house(inside=True))
    assert len(found) <= ALONE, sorted(found)


def test_no_file_imports_more_than_it_did() -> None:
    widest = max(_house(inside=True).items(), key=lambda item: len(item[1]))
    assert len(widest[1]) <= WIDEST, widest


def test_what_it_counts(tmp_path: Path) -> None:
    """A small house with a chain of three at the top, one of four within, and then a circle."""
    room = tmp_path / "wizard"
    room.mkdir()
    (room / "__init__.py").touch()
    (room / "a.py").write_text("from wizard import b\nimport wizard.c\n")
    (room / "b.py").write_text("from wizard.c import x\n")
    (room / "c.py").write_text(
        "from typing import TYPE_CHECKING\nif TYPE_CHECKING:\n    from wizard import a\n"
        "def f():\n    import wizard.d\n"
    )
    (room / "d.py").touch()
    assert chain(graph(tmp_path, inside=False)) == ["wizard.a", "wizard.b", "wizard.c"]
    assert len(chain(graph(tmp_path, inside=True))) == 4
    assert alone(graph(tmp_path, inside=True)) == {"wizard.b": "wizard.a", "wizard.d": "wizard.c"}
    (room / "d.py").write_text("def f():\n    from wizard.a import x\n")
    with pytest.raises(CycleError):
        chain(graph(tmp_path, inside=True))
