"""Before and after a correction: what came back, what is left, what went too far, what is new
elsewhere.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.bench.frames import Bend
from tests.checks.surveys import library
from tests.judgment.pairs import AGED, again, first, said
from wizard.judgment.change import compare
from wizard.judgment.correction import outcomes, was_corrected

BENT = replace(AGED, diamond=12.0)


def kinds(**after: object) -> dict[str, str]:
    """What became of each quantity of a frame with a diamond of 12 mm."""
    old = first(BENT, seed=31)
    new = again(old, first(replace(BENT, **after), seed=32))  # type: ignore[arg-type]
    return {o.change.new.id: o.kind for o in outcomes(compare(old, new, library()))}


@pytest.mark.parametrize(
    ("diamond", "kind"),
    [
        (0.0, "came-back"),
        (6.0, "part-left"),
        (-6.0, "too-far"),
        (-14.0, "too-far"),
        (20.0, "worse"),
    ],
)
def test_a_diamond_after_the_work(diamond: float, kind: str) -> None:
    assert kinds(diamond=diamond)["rail-shift/whole"] == kind


def test_nothing_done_is_no_outcome() -> None:
    assert kinds() == {}


def test_what_was_true_and_is_out_now_is_new_elsewhere() -> None:
    found = kinds(diamond=0.0, right=(*AGED.right, Bend(9.0, 640.0, 280.0)), twist=9.0)
    assert found["rail-shift/whole"] == "came-back"
    assert found["twist/rear"] == "new"
    assert found["sag-loaded/engine-mount/right"] in ("new", "worse")
    assert not [id for id in found if id.startswith("length/")]


@pytest.mark.parametrize(
    ("answer", "was"), [("straightened", True), ("joints", True), ("no", False), ("", False)]
)
def test_only_what_was_said_to_be_put_right_is_a_correction(answer: str, was: bool) -> None:
    survey = said(first(), "since-last-time/corrected", answer) if answer else first()
    assert was_corrected(survey, library()) is was
