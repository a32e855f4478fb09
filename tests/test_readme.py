"""The README shows a page and an answer as they look, and names every command that there is.

`CROSSTAPE_RENEW_SHOTS=1 python -m pytest tests/test_readme.py` puts today's page and answer in it.
"""

from __future__ import annotations

import os
import re
from datetime import datetime

import pytest

from tests.told import HOME
from wizard.command import USAGE
from wizard.library import load_library
from wizard.readings.figures import read_bubble, read_length
from wizard.sitting.commands import COMMANDS
from wizard.survey.file import load
from wizard.telling.tell import tell_text

README = HOME / "README.md"
SHOWN = re.compile(r"^```text\n(.*?)\n```$", re.MULTILINE | re.DOTALL)
LINES = 30
"""Most lines of an answer that are shown."""


def page() -> str:
    """The page of the long diagonals in a terminal of 80 columns, as its test keeps it."""
    kept = HOME / "tests" / "screens" / "shots" / "diagonals-80x24.txt"
    lines = [line.rstrip() for line in kept.read_text(encoding="utf-8").splitlines()]
    return "\n".join(lines).strip("\n")


def answer() -> str:
    """What `crosstape tell` prints of the Marigold, but for its last paragraph, which says how to
    see the rest.
    """
    survey = load(HOME / "sample_sessions" / "marigold-2026-05-02.toml")
    told = tell_text(survey, load_library(survey.layout), datetime(2026, 5, 2))
    first, _, _ = told.rstrip().rpartition("\n\n")
    lines = [line.rstrip() for line in first.splitlines()]
    assert len(lines) <= LINES
    return "\n".join(lines)


@pytest.mark.parametrize(("nth", "shown"), [(0, page), (1, answer)], ids=["page", "answer"])
def test_it_shows_them_as_they_look(nth: int, shown: object) -> None:
    assert callable(shown)
    text = README.read_text(encoding="utf-8")
    found = list(SHOWN.finditer(text))
    assert len(found) == 2
    if os.environ.get("CROSSTAPE_RENEW_SHOTS"):
        one = found[nth]
        README.write_text(text[: one.start(1)] + shown() + text[one.end(1) :], encoding="utf-8")
        return
    assert found[nth][1] == shown()


def test_it_names_every_word_and_every_command() -> None:
    text = README.read_text(encoding="utf-8")
    assert [c.word for c in COMMANDS if f"`/{c.word}" not in text] == []
    assert [name for name in USAGE if f"`crosstape {name}" not in text] == []


def test_its_first_paragraph_states_the_job() -> None:
    first = " ".join(README.read_text(encoding="utf-8").split("\n\n")[1].split())
    for wanted in ("garage", "ladder frame", "bent", "decide", "prove", "tape", "string", "level"):
        assert wanted in first
    assert "Crosstape" not in first


def test_its_two_lines_to_type_set_up_and_start_then_set_up_and_test() -> None:
    start, test = re.findall(
        r"^```sh\n(.*)\n```$", README.read_text(encoding="utf-8"), re.MULTILINE
    )
    assert start.endswith(".venv/bin/crosstape")
    assert test.endswith(".venv/bin/pytest -n auto --dist worksteal")


@pytest.mark.parametrize(
    "typed", ["25 7/8", '25-7/8"', "25 and 7/8 inches", "6' 8 1/2\"", "657 mm", "65.7 cm"]
)
def test_its_lengths_are_read(typed: str) -> None:
    assert f"`{typed}`" in README.read_text(encoding="utf-8")
    assert read_length(typed, "in") > 0


@pytest.mark.parametrize(("typed", "way"), [("1/8 past", 1), ("short by 1/8", -1), ("0", 0)])
def test_its_gaps_are_read(typed: str, way: int) -> None:
    assert f"`{typed}`" in README.read_text(encoding="utf-8")
    read = read_length(typed, "in", ("past", "short"))
    assert (read > 0) - (read < 0) == way


@pytest.mark.parametrize("typed", ["1/2 left", "left 1/2", "0.3° left", "1.5 mm left"])
def test_its_bubbles_are_read(typed: str) -> None:
    assert f"`{typed}`" in README.read_text(encoding="utf-8")
    assert read_bubble(typed, "in").value > 0
