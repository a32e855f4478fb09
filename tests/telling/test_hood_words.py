"""What the rule in the hood's gap says, beside what was foretold of it."""

from __future__ import annotations

from datetime import datetime

import pytest

from tests.checks.surveys import library, survey_of
from wizard.judgment.consequences import Prediction
from wizard.judgment.sight import verdict_of
from wizard.telling.consequences_words import consequence_lines

LADDER = library().layouts["straight-ladder"]


def _said(said: str, outcome: str) -> str:
    found = Prediction(
        "hood-gap", ("sag", "hood-taper/left"), prompt="consequences/hood-gap", kind="sag"
    )
    verdict = verdict_of(survey_of({}), library(), datetime(2026, 4, 11))
    verdict = verdict._replace(foretold=(found._replace(said=said, outcome=outcome),))
    return consequence_lines(verdict, LADDER, "in")[0].text


@pytest.mark.parametrize(
    ("said", "outcome", "words"),
    [
        ("tight-at-top", "agrees", "The rule in the gap says so."),
        ("wide-at-top", "contradicts", "The rule in the gap says the opposite."),
        (
            "even",
            "open",
            "The rule in the gap does not show it: it is too small",
        ),
        (
            "sides-differ",
            "open",
            "reads unlike, left and right, which does not settle",
        ),
        (
            "tight-at-top",
            "open",
            "reads tighter at the top, which does not settle",
        ),
    ],
)
def test_the_rule_is_told_as_it_reads(said: str, outcome: str, words: str) -> None:
    assert words in _said(said, outcome)
