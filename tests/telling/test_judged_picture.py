"""The picture of a judged finding: its own limit's bands, its own ends."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import pytest

from tests.sitting.driving import READ, typed_to
from wizard.judgment.bands import Judged
from wizard.judgment.sight import verdict_of
from wizard.library import load_library
from wizard.sitting.commands import handle
from wizard.sitting.sitting import Sitting
from wizard.telling.judged_picture import picture_of

NOON = datetime(2026, 4, 11, 12)


@pytest.fixture
def shift(tmp_path: Path) -> Judged:
    """A right rail 1/4 in further back: diagonals of a frame whose left front to right rear is the
    longer.
    """
    sitting = Sitting(load_library(), folder=tmp_path, now=lambda: NOON)
    for line in (
        *typed_to("Bramble", "i", "s", "w", "o", "/go long-diagonals", READ),
        "91 1/2!",
        "91!",
        "91 1/2!",
        "91!",
    ):
        handle(sitting, line)
    return next(
        j
        for j in verdict_of(sitting.survey, load_library(), NOON).judged
        if j.finding.quantity == "rail-shift"
    )


def test_axis_has_the_words_of_the_bands_and_of_the_ends(shift: Judged) -> None:
    text = "\n".join(picture_of(shift, load_library(), "in", 76, "ascii").lines)
    assert text.startswith("left ")
    assert "right" in text.splitlines()[0]
    assert "leave it" in text
    assert "put it right" in text


def test_it_is_said_in_the_survey_s_unit(shift: Judged) -> None:
    assert " in" in picture_of(shift, load_library(), "in", 76, "ascii").words
    assert " mm" in picture_of(shift, load_library(), "mm", 76, "ascii").words


def test_no_limit_or_no_room_gives_no_lines(shift: Judged) -> None:
    assert picture_of(Judged(shift.finding, (), ()), load_library(), "in", 76, "ascii").lines == ()
    assert picture_of(shift, load_library(), "in", 20, "ascii").lines == ()


def test_every_quantity_that_a_limit_judges_has_words_for_its_ends() -> None:
    judged = [q for q in load_library().quantities.values() if q.limit]
    assert len(judged) >= 11
    assert all(any(q.ends) for q in judged)
