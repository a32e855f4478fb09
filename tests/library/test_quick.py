"""The quick reader gives what tomllib gives, or nothing: never another answer."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest
import tomli_w
from hypothesis import given
from hypothesis import strategies as st

from wizard.library.paths import content_dir, samples_dir
from wizard.library.quick import DEEPEST, parse

SAMPLES = sorted(samples_dir().glob("*.toml"))
CONTENT = sorted(content_dir().rglob("*.toml"))
LINES = SAMPLES[0].read_text(encoding="utf-8").splitlines()
AUTHORED = [p.read_text(encoding="utf-8") for p in CONTENT]


def strict(text: str) -> dict[str, Any] | None:
    """What tomllib gives; None where it refuses."""
    try:
        return tomllib.loads(text)
    except ValueError:
        return None


def same(text: str) -> bool:
    """Nothing, or what tomllib gives; a number counts as another where its kind is."""
    found = parse(text)
    return found is None or repr(found) == repr(strict(text))


@pytest.mark.parametrize("path", [*SAMPLES, *CONTENT], ids=lambda p: p.stem)
def test_what_lies_beside_the_program_is_read_quickly_and_alike(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    assert parse(text) == tomllib.loads(text)


@pytest.mark.parametrize(
    "line",
    [
        "x = 'a'",
        "x = '''a'''",
        'x = """a""""',
        "x=1",
        "x = 1\u0661",  # figures of another script are none in TOML
        "x = 1.\u0665",
        "x = [1\uff11]",
        '"" = 1',
        "a.b = 1",
        "x = 2026-04-11",
        "x = 2026-04-11T09:00:00Z",
        "x = 2026-04-11T09:00:00.5",
        "x = 0x10",
        "x = 1_000",
        "x = 007",
        "x = 1.",
        "x = 1e3",
        "x = +1",
        "x = nan",
        "x = truest",
        "[a.b]",
        "[ survey ]",
        "[[survey] ]",
        "[survey]]",
        "[[survey]",
        "[.a]",
        "[a.]",
        "[survey]\n[survey]",
        "[[survey]]\n[survey]",
        "[survey]\n[[survey]]",
        "survey = []\n[[survey]]",
        "survey = [{ a = 1 }]\n[[survey]]",
        "survey = [{ a = 1 }]\n[survey.b]",
        "survey = { a = 1 }\n[survey.b]",
        "x = 1\n[x.y]",
        "x = 1\nx = 2",
        'x = 1\n"x" = 2',
        "x = { a = 1, a = 2 }",
        "x = { a = 1,\nb = 2 }",
        "x = { a = 1, }",
        "x = { a = 1 ]",
        "x = [1 2]",
        "x = [,]",
        "x = [1,,2]",
        "x = [1}",
        "x = [y = 1]",
        "x = 1 y = 2",
        "[survey] x = 1",
        '[survey]\nx = "a"\nx = "b"',
        '[survey]\nx = "a"\ny = ""\n"x" = 1',
        '[survey]\nx = "a" y = "b"',
        "[survey]\nx = 2026-13-11T09:00:00",
        'x = "\\q"',
        'x = "\\ud800"',
        'x = "a\x01"',
        "x = 1 # \x01",
        "# \x01",
        "x = 2026-13-11T09:00:00",
        "nonsense",
        "x =",
        "x = [1",
        "}",
    ],
)
def test_what_is_not_plain_is_left_to_tomllib(line: str) -> None:
    assert parse(line + "\n") is None
    assert parse(line) is None


@pytest.mark.parametrize(
    "text",
    [
        "",
        "\n \t\n",
        "# no more",
        'x = "a\\nb\\"c\\\\"',
        'x = ""',
        'x = """a\n"b" \\\n  c"""',
        "x = -3",
        "x = 0",
        "x = -0.50",
        "x = true\ny = false",
        "x = 2026-04-11 09:00:00",
        '"front-left" = "x"',
        "  x = 1 # why\n\n\ty = 2",
        "x = []\ny = [1, 2.5, [true,], # one\n# two\n]",
        'x = { a = "b", c = [1,\n2] , d = {} }',
        "[a]\nx = 1\n[[a.b]]\nx = 1\n[[a.b]]\n[a.b.c]\nx = 1\n[a.d]\n[e]",
    ],
)
def test_plain_text_is_read_as_tomllib_reads_it(text: str) -> None:
    assert parse(text) is not None
    assert same(text)


@pytest.mark.parametrize("deep", [DEEPEST, DEEPEST + 1, 20_000])
def test_what_is_nested_deeper_than_a_writer_might_follow_is_left_to_tomllib(deep: int) -> None:
    headers = [".".join("a" * n) for n in range(1, min(deep, 99) + 1)]
    for text in ("x = " + "[" * deep + "]" * deep, "x = " + "{ a = " * deep + "1 " + "}" * deep):
        assert (parse(text) is None) == (deep > DEEPEST)
    assert (parse("".join(f"[{head}]\n" for head in headers)) is None) == (deep > DEEPEST)


plain = st.text(alphabet=st.characters(exclude_categories=("Cs",)), max_size=12) | st.integers(
    -(10**6), 10**6
)
values = st.recursive(
    plain | st.booleans() | st.floats(-(10**6), 10**6),
    lambda inner: (
        st.lists(inner, max_size=3)
        | st.dictionaries(st.sampled_from(["a", "b c"]), inner, max_size=2)
    ),
    max_leaves=5,
)
rows = st.lists(
    st.dictionaries(st.sampled_from(["id", "typed", "at", "by"]), values, max_size=4), max_size=3
)


@given(
    st.dictionaries(
        st.sampled_from(["survey", "reading", "look", "format"]), rows | values, max_size=4
    )
)
def test_what_a_writer_writes_is_never_read_otherwise(data: dict[str, Any]) -> None:
    assert same(tomli_w.dumps(data))


SPOIL = st.sampled_from(
    ['"', "\\", "[", "]", "{", "}", "=", ",", ".", "\n", "#", "0", "-", " ", "\x01", ""]
)


@given(st.integers(0, len(LINES) - 1), st.integers(0, 60), SPOIL)
def test_a_spoilt_survey_is_never_read_otherwise(at: int, col: int, with_what: str) -> None:
    line = LINES[at]
    assert same(
        "\n".join([*LINES[:at], line[:col] + with_what + line[col + 1 :], *LINES[at + 1 :]])
    )


@given(
    st.sampled_from(AUTHORED),
    st.lists(st.tuples(st.floats(0, 1), SPOIL, st.integers(0, 3)), min_size=1, max_size=3),
)
def test_spoilt_content_is_never_read_otherwise(
    text: str, spoils: list[tuple[float, str, int]]
) -> None:
    for where, with_what, lost in spoils:
        at = int(where * len(text))
        text = text[:at] + with_what + text[at + lost :]
    assert same(text)
