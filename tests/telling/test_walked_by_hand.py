"""What stood ugly, false or contradictory when the pages beside the frame were walked by hand."""

from __future__ import annotations

from datetime import datetime

import pytest

from tests.checks.surveys import library, survey_of
from tests.checks.test_edge import read
from tests.telling.saying import tells
from wizard.judgment.sight import verdict_of
from wizard.library.kinds import LookKind
from wizard.survey.record import Survey
from wizard.survey.rows import Look
from wizard.telling.answer_words import headline_of
from wizard.telling.tell import tell_text
from wizard.telling.two_frames import two_frames

NOON = datetime(2026, 4, 11, 12, 0)


def _verdict(survey: Survey) -> str:
    return headline_of(verdict_of(survey, library(), NOON), survey, library())


@pytest.mark.parametrize(
    ("edges", "way"),
    [("not-known", "how the maker shaped that edge"), ("none-straight", "sister frame")],
)
@pytest.mark.parametrize("low", [0.0, 3.1, 3.2, 6.0])
def test_of_an_edge_that_is_not_known_more_readings_are_never_the_way(
    edges: str, way: str, low: float
) -> None:
    survey = read(low, edges=edges)
    verdict = verdict_of(survey, library(), NOON)
    kinds = {a.kind for a in verdict.advice if str(a.finding).startswith("sag-")}
    assert kinds == {"sister" if edges == "none-straight" else "shape"}
    told = tell_text(survey, library(), NOON, whole=True)
    assert "right at the limit" not in told
    assert way in " ".join(told.split())


def test_beside_another_frame_a_sag_that_is_not_known_has_no_figure() -> None:
    unknown, known = read(6.0, edges="none-straight"), read(6.0, edges="both-straight")
    flat = " ".join(two_frames(unknown, known, library(), NOON).split())
    assert "not known, for" in flat


def _looked(*looks: tuple[str, str], answers: dict[str, str] | None = None) -> Survey:
    survey = survey_of({}, unit="mm", answers=answers or {})
    for n, (prompt, answer) in enumerate(looks, start=900):
        seen = "bare" if answer else "not-reached"
        row = Look(id=f"k{n}", at=NOON, prompt=prompt, seen=seen, answer=answer)
        survey = survey.with_row(row)
    return survey


def test_what_binds_is_said_once_for_one_place_and_what_was_not_reached_is_missed() -> None:
    looks = (("clutch", "not-free"), ("brake", "not-free"), ("rods", "not-set"), ("lever", ""))
    survey = _looked(
        *((f"drive-line/{a}", b) for a, b in looks), answers={"also/drive-line": "called"}
    )
    head = _verdict(survey)
    assert head.count("on this car") == 1
    tells(head, "lutch linkage that binds, ", "brake linkage that binds and brake rods not set yet")
    told = " ".join(tell_text(survey, library(), NOON, whole=True).split())
    assert "Parts that must be free, clutch linkage: binds" in told
    assert "Parts that must be free: not done; not reached (5 of 8 places)" in told


def test_a_wobble_that_somebody_remembers_stands_in_the_answer() -> None:
    answers = {"wobble-felt/felt": "shakes", "wobble-felt/since": "axle-work"}
    told = tell_text(survey_of({}, unit="mm", answers=answers), library(), NOON)
    flat = " ".join(told.split())
    assert "Look first at the toe, then at the caster; at the frame last." in flat
    assert "The wobble" in flat
    assert "The wobble" not in tell_text(survey_of({}, unit="mm"), library(), NOON)


def test_the_hint_of_a_look_with_one_answer_names_no_two() -> None:
    step = library().steps["drive-line"]
    assert LookKind().hint(step.prompts[0], "in", degrees=False).startswith("like b o, or b x; n")
    sides = next(p for p in library().steps["rail-sides"].prompts if p.kind.looks)
    assert "for two" in LookKind().hint(sides, "in", degrees=False)
