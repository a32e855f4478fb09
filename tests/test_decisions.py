"""A function has one idea: how much each decides, how many parameters it has, how long its lines are.

The count is this project's own: one for the function and one for each place where its way parts.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from functools import cache
from pathlib import Path

WIZARD = Path(__file__).parents[1] / "wizard"
PARTS = (
    ast.If,
    ast.IfExp,
    ast.For,
    ast.While,
    ast.ExceptHandler,
    ast.comprehension,
    ast.match_case,
    ast.Assert,
)
SHARE_OVER_TEN = 0.01
"""Every function can say what it decides in ten; a few may need more for a while."""
LONG_LINES = 0.01
PARAMETERS = 7
MANY_PARAMETERS = frozenset({"point_parts"})

Function = ast.FunctionDef | ast.AsyncFunctionDef


def functions(tree: ast.AST) -> Iterator[Function]:
    """Every function of a tree, those inside others too."""
    for node in ast.walk(tree):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            yield node


def own(function: Function) -> Iterator[ast.AST]:
    """What stands in a function; a function inside it counts for itself."""
    left = list(ast.iter_child_nodes(function))
    while left:
        node = left.pop()
        if not isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            yield node
            left.extend(ast.iter_child_nodes(node))


def decisions(function: Function) -> int:
    """One, and one for each if, ternary, loop, except, case, and, or, comprehension and filter."""
    total = 1
    for node in own(function):
        total += isinstance(node, PARTS)
        if isinstance(node, ast.BoolOp):
            total += len(node.values) - 1
        if isinstance(node, ast.comprehension):
            total += len(node.ifs)
    return total


def parameters(function: Function) -> int:
    """How many a caller has to know of; the object itself is none."""
    given = function.args
    names = [a.arg for a in (*given.posonlyargs, *given.args, *given.kwonlyargs)]
    return len([n for n in names if n not in ("self", "cls")])


@cache
def counted() -> dict[str, int]:
    """Every function of the program by file, line and name, with its decisions."""
    found = {}
    for path in sorted(WIZARD.rglob("*.py")):
        for function in functions(ast.parse(path.read_text(encoding="utf-8"))):
            place = path.relative_to(WIZARD).as_posix()
            found[f"{place}:{function.lineno} {function.name}"] = decisions(function)
    return found


def test_the_count_is_right() -> None:
    source = """
def f(a, *, b=None):
    if a and b or not a:
        return [x if x else y for x in a if x for y in b]
    def inner():
        for x in a:
            pass
    try:
        assert a
    except ValueError:
        pass
"""
    outer, inner = functions(ast.parse(source))
    # the function, if, and, or, two comprehensions, one filter, a ternary, assert, except
    assert (decisions(outer), decisions(inner)) == (10, 2)
    assert parameters(outer) == 2


def test_few_functions_decide_over_ten_things() -> None:
    counts = counted()
    over = [f for f, n in counts.items() if n > 10]
    assert len(over) <= SHARE_OVER_TEN * len(counts), sorted(over)


def test_none_decides_over_twelve() -> None:
    """An exception would be listed here with its reason."""
    over = {f: n for f, n in counted().items() if n > 12}
    assert over == {}


def test_no_function_has_more_than_seven_parameters() -> None:
    many = set()
    for path in WIZARD.rglob("*.py"):
        for function in functions(ast.parse(path.read_text(encoding="utf-8"))):
            if parameters(function) > PARAMETERS:
                many.add(function.name)
    assert many <= MANY_PARAMETERS


def test_lines_of_code_end_at_a_hundred() -> None:
    lines = [
        line
        for path in WIZARD.rglob("*.py")
        for line in path.read_text(encoding="utf-8").splitlines()
        if line.strip() and not line.lstrip().startswith("#")
    ]
    assert sum(len(line) > 100 for line in lines) < LONG_LINES * len(lines)
