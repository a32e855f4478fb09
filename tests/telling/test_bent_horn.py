"""A left horn that was seen bent, the right one sound: every paper names it, and none has the sound
one pulled.

The readings come from a plan of points in plane geometry: the left tip 12 mm inward, the rest as it was.
"""

from __future__ import annotations

from functools import cache

import pytest

from tests.checks.surveys import DAY, LADDER, library, moved, survey_of, taped, with_looks
from tests.telling.saying import tells
from tests.telling.test_hit_corner import _with_horn
from tests.telling.test_report import SOURCE
from wizard.checks.case import case_of
from wizard.checks.plan import plan_of
from wizard.judgment.answer import answer_of
from wizard.judgment.bands import Judged
from wizard.judgment.sight import verdict_of
from wizard.survey.record import Survey
from wizard.telling.amounts import BANDS, bands_words
from wizard.telling.answer_words import headline_of
from wizard.telling.fact_words import between
from wizard.telling.report import report_of
from wizard.telling.report_figures import _off, moved_of
from wizard.telling.scene_found import off_scene
from wizard.telling.sheet_text import form_text
from wizard.telling.shop_brief import shop_brief
from wizard.telling.text import PAPER, text_of
from wizard.telling.work_order import SAME_HORN, WHICH_HORN

BENT = moved(LADDER, tip_left=(0, 12))
SEEN = SAME_HORN.format(bent="left", other="right")


@cache
def untold() -> Survey:
    """The tape alone, both horns seen and nothing found."""
    history = {"history/knocked": "yes", "history/where": "left-front"}
    return with_looks(survey_of(taped(BENT), unit="mm", answers=history))


@cache
def told() -> Survey:
    return _with_horn(untold(), "left", "bent-round")


def brief(of: Survey) -> str:
    return " ".join(form_text(shop_brief(of, library(), DAY)).split())


def report(of: Survey) -> str:
    made = report_of(of, library(), DAY, SOURCE)
    return " ".join(text_of(made, PAPER).split())


def test_the_brief_names_the_bent_horn_and_what_is_not_to_be_moved() -> None:
    said = brief(told())
    tells(
        said, "What is wanted".upper(), "Left horn, sideways, against the right one", "12 mm inward"
    )
    tells(said, "What must not be moved".upper(), "The right horn: it was seen bare")
    assert "right further out" not in said
    assert "The left one is brought back to it." in said


def test_a_shop_is_asked_whether_it_finds_the_same_horn_bent_and_not_which() -> None:
    for said in (brief(told()), report(told())):
        assert SEEN in said
        assert WHICH_HORN not in said
    assert WHICH_HORN in brief(untold())
    assert "The right horn: it was seen bare" not in brief(untold())
    assert "right further out" in brief(untold())


def test_what_was_measured_names_the_bent_horn_as_the_answer_does() -> None:
    said = report(told())
    assert headline_of(verdict_of(told(), library(), DAY), told(), library()).startswith(
        "Left front"
    )
    assert "Left horn, sideways, against the right one; 12 mm inward" in said


def _drawn(of: Survey) -> tuple[dict[str, tuple[float, float, bool]], str]:
    """How far each point is off, mm, and whether beyond its doubt; the words of the drawing."""
    case, facts = case_of(of, library()), answer_of(of, library(), DAY).facts
    plan = plan_of(case)
    assert plan is not None
    points = _off(plan, moved_of(facts), case.layout)
    words = off_scene(points, case.layout, "mm", moved_of(facts)).words
    return {str(p.point): (p.dx, p.dy, p.is_off) for p in points}, words


def test_the_drawing_bends_the_horn_that_is_told_and_lays_the_rest_straight() -> None:
    off, words = _drawn(told())
    assert "is drawn on the left one, which was seen bent" in words
    assert [name for name, (_, _, is_off) in off.items() if is_off] == ["tip-left"]
    assert off["tip-left"][1] == pytest.approx(12.0, abs=0.3)
    assert off["tip-right"][:2] == (0.0, 0.0)
    assert max(abs(d) for n, (dx, dy, _) in off.items() if "tip" not in n for d in (dx, dy)) < 0.3


def test_without_a_look_both_tips_share_it() -> None:
    off, words = _drawn(untold())
    assert off["tip-left"][1] == pytest.approx(off["tip-right"][1], abs=0.1)
    assert "Twins share a difference" in words


def test_what_is_known_to_be_out_stands_among_the_reasons_though_it_is_open_how_far() -> None:
    said = report(told())
    at = said.index("The strongest reasons")
    assert "The left horn, which was seen bent" in said[at : at + 200]


# Bands in words -----------------------------------------------------------------------------------


def _judged(*bands: str) -> Judged:
    every = verdict_of(told(), library(), DAY).judged
    horn = next(j for j in every if j.finding.limit == "horn" and j.bands)
    return horn._replace(bands=bands)


@pytest.mark.parametrize(
    "bands",
    [
        ("watch", "put-right", "specialist"),
        ("leave", "watch", "put-right", "specialist"),
        ("leave", "watch", "put-right"),
    ],
)
def test_a_range_of_bands_has_no_hole(bands: tuple[str, ...]) -> None:
    said = bands_words(_judged(*bands))
    tells(said, *(BANDS[b] for b in bands))
    horn = next(f for f in answer_of(told(), library(), DAY).facts if f.kind == "horn")
    which = between(horn._replace(judged=(_judged(*bands),)))
    assert "must be put right" in which


def test_what_must_be_put_right_is_said_as_known_and_only_by_whom_as_open() -> None:
    said = bands_words(_judged("put-right", "specialist"))
    assert said == "put it right; not known yet whether to take it to a specialist"
