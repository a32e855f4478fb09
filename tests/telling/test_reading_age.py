"""The verdict can be read by a twelve-year-old, and aloud."""

from __future__ import annotations

import re
from functools import cache

import pytest

from tests.checks.surveys import library
from tests.judgment.stories import stories, survey, verdict
from tests.telling.reading_age import ari, prose
from wizard.judgment.answer import answered
from wizard.telling.answer_words import headline, lines, told_of
from wizard.telling.verdict_words import sections

MOST = 7.5
"""About the age of twelve to thirteen."""
LONGEST = 34
"""Words in one breath."""


@cache
def said(name: str) -> list[tuple[str, tuple[str, ...]]]:
    found = verdict(stories()[name])
    made = survey(stories()[name])
    answer = told_of(answered(found, made, library()), made, library())
    parts = sections(found, made, library())
    return [
        ("", (headline(answer),)),
        ("answer", tuple(item.text for _, item in lines(answer))),
        *((part.heading, part.lines) for part in parts),
    ]


@pytest.mark.parametrize("name", stories())
def test_the_verdict_reads_at_twelve(name: str) -> None:
    assert ari(prose(said(name))) <= MOST
    assert ari(" ".join(line for _, lines in said(name) for line in lines)) <= MOST


def test_the_index_knows_hard_words_from_easy_ones() -> None:
    """Twin that must fail: the same thing said as an office would say it."""
    easy = "The left rail hangs low. Keep an eye on it."
    hard = (
        "Longitudinal deformation of the structural member necessitates continued periodic"
        " observation."
    )
    assert ari(easy) < 3
    assert ari(hard) > MOST


@pytest.mark.parametrize("name", stories())
def test_no_sentence_is_longer_than_a_breath_and_none_stumbles(name: str) -> None:
    for heading, part in said(name):
        for line in part:
            assert line[:1] == line[:1].upper(), line
            assert line.endswith((".", "?", ".)")), line
            assert not re.search(r"  |\.\.|;\.|,\.|\bNone\b|\b(\w+) \1\b", line), line
            if heading not in ("What was not seen or not measured", "The strongest reasons"):
                assert all(len(s.split()) <= LONGEST for s in re.split(r"[.?:;]", line)), line


@pytest.mark.parametrize("name", stories())
def test_nothing_tells_how_to_pull_heat_or_weld_and_nothing_is_called_safe(name: str) -> None:
    text = " ".join(line for _, lines in said(name) for line in lines).lower()
    text = text.replace("gives no instruction for pulling, heating or welding", "")
    assert not re.search(
        r"\b(pull|heat|weld|bend) (it|the|them|both|on)\b|\bsafe\b|\broadworth", text
    )
