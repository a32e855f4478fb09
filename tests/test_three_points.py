"""A car on three stands can tip: whatever speaks of three points says in the same breath that the
frame is bare.
"""

from __future__ import annotations

import re

import pytest

from tests.told import literals, of_code, of_content, sentences

THREE = re.compile(
    r"\bthree (points?|stands?|supports?|legs?|places to stand)\b|\bon three\b(?! (days|evenings))",
    re.I,
)
BARE = re.compile(r"\bbare\b", re.I)
GEOMETRY = "three points of the plan, not three under a car"
NAME = "the bare name of a word or an answer: what is said of it stands beside it and is held here"
CAR = "it says what a car on three stands does"
ALLOWED = {
    (
        "wizard/math/network.py",
        "the distances do not fix any three points to one another",
    ): GEOMETRY,
    ("content/glossary.toml", "three points"): NAME,
    ("content/glossary.toml", "A car on three can tip."): CAR,
    (
        "wizard/telling/sources.py",
        "Weight to one side can tip a car off three stands (common practice, no published source).",
    ): CAR,
}
"""Sentences that name three of something and are no advice, each with its reason."""


def unsaid(told: tuple[tuple[str, str], ...]) -> list[tuple[str, str]]:
    """What speaks of three points and not of a bare frame."""
    return [t for t in told if THREE.search(t[1]) and not BARE.search(t[1]) and t not in ALLOWED]


def test_no_page_and_no_line_of_code_sets_anything_but_a_bare_frame_on_three_points() -> None:
    assert unsaid((*of_content(), *of_code())) == []


def test_what_is_allowed_is_still_said() -> None:
    said = {*of_content(), *of_code()}
    assert [t for t in ALLOWED if t not in said] == []


@pytest.mark.parametrize(
    ("code", "caught"),
    [
        ('MORE = "Set it on three points. Then read again."', True),
        ('more = f"Set the {what} on three" " stands and read again."', True),
        ('MORE = "Set the bare frame on three points. Then read again."', False),
        ('MORE = "The bare frame is read next. Set it on three points."', True),
        ('def f():\n    """On three points."""', False),
        ('MORE = "two or three evenings"', False),
    ],
)
def test_a_line_that_leaves_bare_out_is_caught(code: str, caught: bool) -> None:
    told = tuple(("code", s) for text in literals(code) for s in sentences(text))
    assert bool(unsaid(told)) is caught
