"""The words of the stories: what a careful tradesman would say aloud, and what he would not."""

from __future__ import annotations

import pytest

from tests.checks.surveys import library
from tests.judgment.stories import stories, survey, verdict
from tests.judgment.test_stories import each
from wizard.judgment.answer import answered
from wizard.telling.tell import verdict_blocks
from wizard.telling.text import lines_of


def told(name: str) -> str:
    """The verdict of a story, as plain text in one line."""
    made = survey(stories()[name])
    blocks = verdict_blocks(answered(verdict(stories()[name]), made, library()), made, library())
    return " ".join(" ".join(lines_of(blocks)).split())


@pytest.mark.parametrize("name", each("words", [n for n, s in stories().items() if "says" in s]))
def test_the_words_come_out_as_told(name: str) -> None:
    said = told(name)
    assert [w for w in stories()[name]["says"] if w not in said] == []


@pytest.mark.parametrize("name", each("never", [n for n, s in stories().items() if "never" in s]))
def test_what_he_would_not_say_is_not_said(name: str) -> None:
    said = told(name)
    assert [w for w in stories()[name]["never"] if w in said] == []
