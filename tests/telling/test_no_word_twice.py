"""What was seen and where, joined to one phrase, says no small word twice: all answers of all places,
on each kind of frame.
"""

from __future__ import annotations

import re
from datetime import datetime

import pytest

from tests.checks.surveys import library
from wizard.judgment.sight import sight_of
from wizard.library.references import kinds_of
from wizard.survey.guide import guide_of, layout_of
from wizard.survey.record import Survey
from wizard.survey.rows import Look
from wizard.telling.fact_words import place_of, thing

DAY = datetime(2026, 5, 1)
THIRDS = ("", "front", "middle", "rear")
TWICE = re.compile(
    r"\b(a|above|at|behind|below|beside|by|from|in|inside|into|near|of|on|the|to|under|with) \1\b"
)
LAYOUTS = tuple(layout.id for layout in kinds_of(library()))


def _looked(layout: str, nth: int) -> Survey:
    """Every place seen bare, with the answer of that number at each that has so many."""
    survey = Survey(id="seen", started=DAY, layout=layout)
    asked = guide_of(survey, library()).questions.by_id.values()
    for prompt in (p for p in asked if p.kind.looks and nth < len(p.choices)):
        token = prompt.choices[nth].token
        row = Look(survey.new_id(Look), DAY, prompt=prompt.id, seen="bare", answer=token)
        survey = survey.with_row(row)
    return survey


@pytest.mark.parametrize("layout", LAYOUTS)
def test_no_phrase_of_a_find_has_a_small_word_twice(layout: str) -> None:
    phrases = set[str]()
    for nth in range(1, 12):
        survey = _looked(layout, nth)
        word = layout_of(survey, library()).worded
        for seen in sight_of(survey, library()).seen:
            phrases |= {word(f"{thing(seen)} {place_of(seen, third)}") for third in THIRDS}
    assert len(phrases) > 100
    assert sorted(p for p in phrases if TWICE.search(p)) == []


@pytest.mark.parametrize(
    "said", ["plate inside inside the left rail", "bend out and in in the rail"]
)
def test_a_word_twice_is_found(said: str) -> None:
    assert TWICE.search(said)
