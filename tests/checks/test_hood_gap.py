"""The hood's gap: the difference of two gaps is arithmetic (identity); its doubt is two readings of
one rule.
"""

from __future__ import annotations

from datetime import datetime

import pytest

from wizard.checks.finding import Finding
from wizard.checks.run import findings_of
from wizard.judgment.bands import judge
from wizard.judgment.consequences import hood_read
from wizard.judgment.facts import told
from wizard.library import load_library
from wizard.survey.answer import answer
from wizard.survey.guide import layout_of
from wizard.survey.prompts import expand
from wizard.survey.record import Survey
from wizard.telling.sentences import sentence

LIBRARY = load_library()
DAY = datetime(2026, 4, 11, 9, 0)


def _survey(**typed: str) -> Survey:
    survey = Survey(layout="leaf-ladder-light", unit="in")
    prompts = {p.id: p for p in expand(LIBRARY.steps["panel-gaps"], layout_of(survey, LIBRARY))}
    for name, text in typed.items():
        side, at = name.split("_")
        after = answer(survey, prompts[f"panel-gaps/{side}/{at}"], text, at=DAY, by="owner")
        assert isinstance(after, Survey)
        survey = after
    return survey


def _found(survey: Survey) -> dict[str, Finding]:
    return {f.where: f for f in findings_of(survey, LIBRARY) if f.quantity == "hood-taper"}


def test_a_gap_tighter_at_the_top_is_the_low_one_less_the_top_one() -> None:
    found = _found(_survey(left_top="1/8", left_low="5/16", right_top="1/4", right_low="1/4"))
    assert found["left"].value == pytest.approx(3 / 16 * 25.4)
    assert found["right"].value == 0
    # Two readings of a rule to 1/32 in: each is out by its rounding at least (JCGM 100, 4.3.7).
    assert 2**0.5 * 25.4 / 32 / 12**0.5 < found["left"].number.u < 25.4 / 16
    assert not found["left"].limit


def test_a_side_with_one_gap_says_nothing() -> None:
    assert set(_found(_survey(left_top="1/8", right_top="1/8", right_low="1/4"))) == {"right"}


@pytest.mark.parametrize(
    ("left", "right", "said"),
    [
        (("1/8", "5/16"), ("1/8", "5/16"), "tight-at-top"),
        (("5/16", "1/8"), ("5/16", "1/8"), "wide-at-top"),
        (("1/8", "5/16"), ("1/4", "1/4"), "sides-differ"),
        (("1/4", "17/64"), ("1/4", "1/4"), "even"),  # a sixty-fourth is within what a rule can tell
    ],
)
def test_the_gaps_say_what_the_eye_would(
    left: tuple[str, str], right: tuple[str, str], said: str
) -> None:
    survey = _survey(left_top=left[0], left_low=left[1], right_top=right[0], right_low=right[1])
    judged = tuple(judge(f, survey, LIBRARY) for f in findings_of(survey, LIBRARY))
    word, sources = hood_read(told(judged, survey, LIBRARY))
    assert word == said
    assert set(sources) == {"hood-taper/left", "hood-taper/right"}


def test_in_words() -> None:
    survey = _survey(left_top="1/8", left_low="5/16")
    judged = judge(_found(survey)["left"], survey, LIBRARY)
    said = sentence(judged, layout_of(survey, LIBRARY), "in")
    assert said.startswith(
        "On the left the hood's gap is 3/16 in tighter at the top than low down, give or take"
    )
