"""Everything that the program can tell, as sentences with the place they stand in: content, code,
samples, papers.
"""

from __future__ import annotations

import ast
import re
import tomllib
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

HOME = Path(__file__).parents[1]
ENDS = re.compile(r"(?<=[.?!;])[\s»”\"')]+")
"""Where one sentence ends and the next begins."""

Told = tuple[str, str]
"""Where it stands, and a sentence."""


def sentences(text: str) -> list[str]:
    """The sentences of a text on one line each."""
    return [s for s in ENDS.split(" ".join(text.split())) if s]


def says(text: str, wanted: str) -> bool:
    """Whether a text says each part of what is wanted, in that order; " … " stands between them.

    How its lines are broken is all the same.
    """
    text = " ".join(text.split())
    for part in wanted.split(" … "):
        _, found, text = text.partition(part)
        if not found:
            return False
    return True


def _strings(value: Any) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        for each in value.values():
            yield from _strings(each)
    elif isinstance(value, list):
        for each in value:
            yield from _strings(each)
        if all(isinstance(each, str) for each in value):
            yield " ".join(value)  # a sentence may run on in the next line of a caution


@cache
def of_content() -> tuple[Told, ...]:
    """Every string of every file of content/."""
    found = []
    for path in sorted((HOME / "content").rglob("*.toml")):
        texts = _strings(tomllib.loads(path.read_text(encoding="utf-8")))
        found += [(path.relative_to(HOME).as_posix(), s) for text in texts for s in sentences(text)]
    return tuple(found)


def literals(code: str) -> Iterator[str]:
    """Every string literal of a program but its docstrings; what an f-string fills in reads `{}`."""
    tree = ast.parse(code)
    silent = {id(n.value) for n in ast.walk(tree) if isinstance(n, ast.Expr)}
    silent |= {
        id(part) for n in ast.walk(tree) if isinstance(n, ast.JoinedStr) for part in n.values
    }
    for node in ast.walk(tree):
        if isinstance(node, ast.JoinedStr):
            parts = (p.value if isinstance(p, ast.Constant) else "{}" for p in node.values)
            yield "".join(str(part) for part in parts)
        elif (
            isinstance(node, ast.Constant)
            and isinstance(node.value, str)
            and id(node) not in silent
        ):
            yield node.value


@cache
def of_code() -> tuple[Told, ...]:
    """Every string literal of wizard/."""
    found = []
    for path in sorted((HOME / "wizard").rglob("*.py")):
        texts = literals(path.read_text(encoding="utf-8"))
        found += [(path.relative_to(HOME).as_posix(), s) for text in texts for s in sentences(text)]
    return tuple(found)
