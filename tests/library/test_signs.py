"""content/signs.toml: each defect is named with its remedy, and no look may weigh more for its twin
being unseen.
"""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from tests.checks.surveys import library
from wizard.library.load import read_content
from wizard.library.paths import content_dir
from wizard.library.shapes_signs import CAUSES, CONDITIONS, WEIGHTS

DEFECTS = {
    "unknown cause": (
        'leans = { age = "strong" }',
        'leans = { agee = "strong" }',
        "did you mean 'age'?",
    ),
    "unknown weight": (
        'leans = { age = "strong" }',
        'leans = { age = "heavy" }',
        "use one of: medium, strong, weak",
    ),
    "unknown step": (
        'looks = ["horn-welds"]',
        'looks = ["horn-weld"]',
        "did you mean 'horn-welds'?",
    ),
    "unknown token": (
        'tokens = ["re-welded"]',
        'tokens = ["rewelded"]',
        "none of them is an answer of 'horn-welds'",
    ),
    "unknown answer": (
        'tokens = ["only-before"]',
        'tokens = ["onlybefore"]',
        "'onlybefore' is not an answer",
    ),
    "unknown condition": ('finding = "crown"', 'finding = "crow"', "did you mean 'crown'?"),
    "unknown kind": ('kind = "body"', 'kind = "bodi"', "did you mean 'body'?"),
    "unknown twin": ('twin = ["alone"]', 'twin = ["alon"]', "did you mean 'alone'?"),
    "two origins": (
        'finding = "crown"',
        'finding = "crown"\nlooks = ["die-marks"]',
        "keep just one of them",
    ),
    "leans nowhere": (
        'leans = { repair = "strong", collision = "weak" }',
        "leans = {}",
        "say to what it leans",
    ),
    "no alternative": (
        'also = "rails that came so from the maker, or a string on unequal blocks"',
        'also = ""',
        "say what else it could be",
    ),
    "same id twice": ('id = "crown"', 'id = "equal-sag"', "'equal-sag' is there twice"),
    "a cause gone": ('id = "original"\nname', 'id = "age"\nname', "'original' is missing"),
    "a witness that is not a page": (
        '{ step = "rail-tops", kind',
        '{ step = "tops", kind',
        "'tops' is not a page",
    ),
    "a witness with nothing to do": (
        ', settle = "see the tops of both rails bare"',
        "",
        "settle: is missing",
    ),
    "unknown trait": ('on = ["riveted"]', 'on = ["rivetted"]', "did you mean 'riveted'?"),
    "unknown sign beside it": (
        'unless = ["even-pitting"]',
        'unless = ["even-piting"]',
        "did you mean 'even-pitting'?",
    ),
    "a slip of the pen": ('mark = "C"', 'mark = "C"\nwords2 = "x"', "words2"),
}


@pytest.mark.parametrize("defect", DEFECTS)
def test_a_defect_is_named_with_its_remedy(tmp_path: Path, defect: str) -> None:
    old, new, wanted = DEFECTS[defect]
    folder = Path(shutil.copytree(content_dir(), tmp_path / "content"))
    text = (folder / "signs.toml").read_text(encoding="utf-8")
    assert old in text, "the content changed: give this test another place to break"
    (folder / "signs.toml").write_text(text.replace(old, new, 1), encoding="utf-8")
    faults = [str(f) for f in read_content(folder)[1]]
    assert any(f.startswith("signs.toml: ") and wanted in f for f in faults), faults


def test_every_condition_is_weighed_and_every_cause_has_witnesses() -> None:
    book = library().signs
    assert {s.finding for s in book.signs.values() if s.finding} == set(CONDITIONS)
    assert all(book.causes[c].witnesses for c in CAUSES)


def test_a_sign_is_words_that_end_a_sentence() -> None:
    for sign in library().signs.signs.values():
        for words in (sign.words, sign.also):
            assert not words.endswith((".", ";")), sign.id
            assert words[:1] == words[:1].lower(), sign.id


@pytest.mark.parametrize("cause", CAUSES)
def test_an_unseen_twin_never_weighs_more_than_a_seen_one(cause: str) -> None:
    """Else passing over a look would make the answer bolder."""
    book = library().signs
    for step, token in sorted(
        {(k, t) for s in book.signs.values() for k in s.looks for t in s.tokens}
    ):
        signs = [s for s in book.signs.values() if step in s.looks and token in s.tokens]
        weight = {
            twin: sum(
                WEIGHTS.index(s.leans[cause]) + 1
                for s in signs
                if twin in s.twin and cause in s.leans
            )
            for twin in ("alone", "both", "unseen")
        }
        assert weight["unseen"] <= min(weight.values()), (step, token, weight)
