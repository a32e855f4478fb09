"""How a car stood, in words that answer no question, whichever page asked last."""

from __future__ import annotations

import re

import pytest

from tests.checks.surveys import library
from wizard.library.places import state_field
from wizard.survey.rows import State
from wizard.telling.state_words import field_words, state_words

EVERY = sorted(
    {
        (state_field(prompt.keep), choice.token)
        for step in library().steps.values()
        for prompt in step.prompts
        if state_field(prompt.keep)
        for choice in prompt.choices
    }
)


@pytest.mark.parametrize(("field", "token"), EVERY)
def test_no_value_of_the_state_is_said_as_an_answer(field: str, token: str) -> None:
    words = field_words(field, token, library())
    assert not re.match(r"(yes|no)\b[,:]", words)
    assert not words.startswith(("it ", "they ", "back "))


def test_a_state_is_said_field_by_field() -> None:
    state = State(
        id="s1", engine="in", body="bolted", supports="wheels", panels="on", tires="equal", fuel="-"
    )
    assert state_words(state, library()) == (
        "engine in, its weight on the mounts; body bolted tight; hood and fenders on; standing on its"
        " own wheels; tires equal left and right"
    )
    assert state_words(State(id="s2", engine="weight-off"), library()) == (
        "engine held up, its weight off the mounts"
    )
    assert state_words(State(id="s3"), library()) == "not said"


def test_what_no_content_knows_is_said_as_it_stands() -> None:
    assert field_words("supports", "sawhorses", library()) == "sawhorses"
