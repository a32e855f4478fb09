"""Ids are put together and taken apart in one module, and kinds of prompt are objects, not words.

The tests read the code itself. Of a call that splits, strips or matches text, two things say that
the text is an id: what it is asked of (`row.prompt`, `finding.where`), or what it looks for (a slash,
two hyphens). What is left outside the one module is listed and only shrinks.
"""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

import wizard

HOUSE = Path(wizard.__file__).resolve().parent
TESTS = Path(__file__).resolve().parent
ONE_MODULE = "library/places.py"
KINDS_MODULE = "library/kinds.py"
TAKING_APART = {
    *("split", "rsplit", "partition", "rpartition"),
    *("startswith", "endswith", "removeprefix", "removesuffix"),
}
KINDS = {"length", "gap", "bubble", "look", "choice", "note", "ack"}
ID_NAMES = {
    *(
        "id",
        "prompt",
        "where",
        "key",
        "keep",
        "keeps",
        "quantity",
        "point",
        "place",
        "step",
        "item",
    ),
    *("start", "end", "figure"),
}
"""What an id is called in the code."""
MARKS = ("/", "--")
"""What stands between the parts of an id and hardly ever in other text."""
TYPED = {"text", "line", "typed", "unit", "kind", "rest"}
"""What a person typed, or a unit: a slash there begins a command or divides."""
LEFT = {
    "model/bending.py": 5,  # a slider's words, such as `sag left`, which are its id as well
    "model/sliders.py": 3,
    "sitting/model_desk.py": 2,
    "telling/amounts.py": 1,  # the words for a place, not its id
}
"""File to the calls that are left there, each with its reason."""


def _trees(root: Path) -> Iterator[tuple[str, ast.AST]]:
    for path in sorted(root.rglob("*.py")):
        yield path.relative_to(root).as_posix(), ast.parse(path.read_text(encoding="utf-8"))


def taken_apart(tree: ast.AST) -> list[int]:
    """Lines on which an id is split, stripped of a part or matched by one."""
    calls = (n for n in ast.walk(tree) if isinstance(n, ast.Call))
    methods = ((c, c.func) for c in calls if isinstance(c.func, ast.Attribute))
    return [
        call.lineno
        for call, method in methods
        if method.attr in TAKING_APART and (_is_id(method.value) or _looks_for_parts(call, method))
    ]


def _is_id(node: ast.AST) -> bool:
    """Whether it is called as an id is, or is one written out: `str(row.prompt)`."""
    if isinstance(node, ast.Call) and _name(node.func) == "str":
        return any(map(_is_id, node.args))
    return _name(node) in ID_NAMES


def _name(node: ast.AST) -> str:
    return node.attr if isinstance(node, ast.Attribute) else str(getattr(node, "id", ""))


def _looks_for_parts(call: ast.Call, method: ast.Attribute) -> bool:
    """Whether a slash or two hyphens stand in what it looks for, and nobody typed what it is asked
    of.
    """
    names = {_name(n) for n in ast.walk(method.value)}
    texts = [n.value for a in call.args for n in ast.walk(a) if isinstance(n, ast.Constant)]
    said = [t for t in texts if isinstance(t, str)]
    return not names & TYPED and any(mark in text for text in said for mark in MARKS)


def compared_kinds(tree: ast.AST) -> list[int]:
    """Lines on which something's `kind` is compared with the word of a kind of prompt."""
    found = []
    for node in ast.walk(tree):
        if not isinstance(node, ast.Compare):
            continue
        sides = [node.left, *node.comparators]
        words = {n.value for s in sides for n in ast.walk(s) if isinstance(n, ast.Constant)}
        asks = any(_is_kind(s) for s in sides)
        if asks and words & KINDS:
            found.append(node.lineno)
    return found


def _is_kind(node: ast.AST) -> bool:
    return _name(node) == "kind"


def test_ids_are_taken_apart_in_one_module() -> None:
    found = {f: len(lines) for f, tree in _trees(HOUSE) if (lines := taken_apart(tree))}
    assert found.pop(ONE_MODULE) > 5
    assert found == LEFT


@pytest.mark.parametrize("root", [HOUSE, TESTS], ids=["wizard", "tests"])
def test_no_kind_of_prompt_is_compared_with_a_word(root: Path) -> None:
    found = {f: lines for f, tree in _trees(root) if (lines := compared_kinds(tree))}
    assert found == {}


def test_a_kind_is_made_from_its_word_by_the_loader_alone() -> None:
    """Nobody else may turn a word of content into a kind; what was loaded may be kept."""
    users = {
        f
        for f, tree in _trees(HOUSE)
        for n in ast.walk(tree)
        if isinstance(n, ast.Name) and n.id == "AUTHORED"
    }
    assert users == {KINDS_MODULE, "library/steps.py", "library/kept.py"}


@pytest.mark.parametrize(
    ("code", "lines"),
    [
        ('row.prompt.split("/")[0]', [1]),
        ('prompt.id.endswith("/turned")', [1]),
        ("point.rpartition('-')", [1]),
        ('id.startswith(f"{step}/")', [1]),
        ("str(row.prompt).partition(by)", [1]),
        ("step_of(row.prompt)", []),
        ("str(value).partition(by)", []),
        ('text.startswith("/")', []),
        ('size.split()[0] == "0"', []),
    ],
)
def test_what_counts_as_taking_apart(code: str, lines: list[int]) -> None:
    assert taken_apart(ast.parse(code)) == lines


@pytest.mark.parametrize(
    ("code", "lines"),
    [
        ('p.kind == "look"', [1]),
        ('p.kind not in ("length", "gap")', [1]),
        ('kind == "ack"', [1]),
        ('reply.kind == "taken"', []),
        ("p.kind.looks", []),
    ],
)
def test_what_counts_as_comparing_a_kind(code: str, lines: list[int]) -> None:
    assert compared_kinds(ast.parse(code)) == lines


SEARCHED = re.compile(r"for (\w+) in \S+\.(?:places|boxes|stations|levels) if \1\.id == ")


def test_nothing_of_a_layout_is_searched_for_by_its_id() -> None:
    """`layout.box_by_id` and its kin know it."""
    found = [
        f"{path.name}: {line.strip()}"
        for path in sorted(HOUSE.glob("**/*.py"))
        for line in path.read_text(encoding="utf-8").splitlines()
        if SEARCHED.search(line)
    ]
    assert found == []
