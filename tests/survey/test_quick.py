"""The quick reader gives what tomllib gives, or nothing: never another answer."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest
import tomli_w
from hypothesis import given
from hypothesis import strategies as st

from wizard.library.paths import samples_dir
from wizard.survey.file import load, read, written
from wizard.survey.quick import parse
from wizard.survey.toml import Unreadable

SAMPLES = sorted(samples_dir().glob("*.toml"))
LINES = SAMPLES[0].read_text(encoding="utf-8").splitlines()


def strict(text: str) -> dict[str, Any] | None:
    """What tomllib gives; None where it refuses."""
    try:
        return tomllib.loads(text)
    except ValueError:
        return None


@pytest.mark.parametrize("path", SAMPLES, ids=lambda p: p.stem)
def test_a_sample_is_read_quickly_and_alike(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    assert parse(text) == tomllib.loads(text)
    assert read(path) == load(path)


@pytest.mark.parametrize(
    "line",
    [
        "x = 1.5",
        "x = true",
        "x = [1, 2]",
        "x = 'a'",
        'x = """a"""',
        "x=1",
        "x = 1 # why",
        '"x" = 1',
        "a.b = 1",
        "x = 2026-04-11",
        "x = 2026-04-11T09:00:00Z",
        "x = 0x10",
        "x = 1_000",
        "x = 007",
        "[a.b]",
        "[ survey ]",
        "[survey]\n[survey]",
        "[[survey]]\n[survey]",
        "[survey]\n[[survey]]",
        "x = 1\nx = 2",
        'x = "\\q"',
        'x = "\\ud800"',
        "x = 2026-13-11T09:00:00",
        "nonsense",
        "x =",
    ],
)
def test_what_is_not_plain_is_left_to_tomllib(line: str) -> None:
    assert parse(line + "\n") is None


@pytest.mark.parametrize("line", ['x = "a\\nb\\"c\\\\"', "x = -3", "x = 0", "x = 2026-04-11 09:00:00", 'é = "x"', ""])
def test_plain_lines_are_read_as_tomllib_reads_them(line: str) -> None:
    assert parse(line) in (strict(line), None)
    assert parse(line) == strict(line) or line.startswith("é")


plain = st.text(alphabet=st.characters(exclude_categories=("Cs",)), max_size=12) | st.integers(-(10**6), 10**6)
rows = st.lists(st.dictionaries(st.sampled_from(["id", "typed", "at", "by"]), plain, max_size=4), max_size=3)


@given(st.dictionaries(st.sampled_from(["survey", "reading", "look", "format"]), rows | plain, max_size=4))
def test_what_the_writer_writes_is_never_read_otherwise(data: dict[str, Any]) -> None:
    text = tomli_w.dumps(data)
    assert parse(text) in (tomllib.loads(text), None)


@given(
    st.integers(0, len(LINES) - 1),
    st.integers(0, 60),
    st.sampled_from(['"', "\\", "[", "]", "=", "\n", "#", "0", "\x01", ""]),
)
def test_a_spoilt_sample_is_never_read_otherwise(at: int, col: int, with_what: str) -> None:
    line = LINES[at]
    text = "\n".join([*LINES[:at], line[:col] + with_what + line[col + 1 :], *LINES[at + 1 :]])
    found = parse(text)
    assert found is None or found == strict(text)


def test_a_survey_read_to_look_at_may_be_one_that_cannot_be_written(tmp_path: Path) -> None:
    path = tmp_path / "old.toml"
    path.write_text("format = 1\n[survey]\nid = 'x'\nhour = 09:30:00\n", encoding="utf-8")
    assert read(path).id == "x"


def test_a_broken_file_is_refused_in_the_same_words(tmp_path: Path) -> None:
    path = tmp_path / "torn.toml"
    path.write_text(written(load(SAMPLES[0]))[:-40] + '\nx = "', encoding="utf-8")
    said = []
    for reader in (load, read):
        with pytest.raises(Unreadable, match=r"torn\.toml") as refused:
            reader(path)
        said.append(str(refused.value))
    assert said[0] == said[1]
