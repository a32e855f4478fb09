"""The parts of a doubt as a mentor reads them aloud: every name that the checks give has words of
its own.
"""

from __future__ import annotations

import pytest

from tests.checks.surveys import bent, findings
from wizard.telling.part_words import part_words, prompt_words


@pytest.mark.parametrize(
    ("name", "words"),
    [
        (
            "hand:long-diagonals/whole/front-right--rear-left",
            "hand, long diagonals: right front to left rear",
        ),
        ("hand:level/rear/as-set", "hand, level rear as set"),
        ("hand:long-diagonals/whole/nose--rear-left", "hand, long diagonals: nose to left rear"),
        ("point:front-left:x", "point left front, along"),
        ("point:own-cowl-right:y", "point right own cowl, across"),
        ("round:rail_depth", "round rail depth"),
        ("tape:t15", "tape t15"),
    ],
)
def test_a_name_in_words(name: str, words: str) -> None:
    assert part_words(name) == words


def test_a_prompt_in_words() -> None:
    assert (
        prompt_words("widths/front/front-left--front-right") == "widths: left front to right front"
    )
    assert prompt_words("string-set-up/block") == "string set up block"


def test_two_parts_of_one_finding_never_share_their_words() -> None:
    for finding in findings(bent()).values():
        names = [p.name for p in finding.number.parts]
        assert len({part_words(n) for n in names}) == len(set(names)), finding.id
