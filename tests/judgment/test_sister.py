"""A frame beside its sister: both doubts whole, states and edges minded, hostile rows left out."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import datetime
from fractions import Fraction

import pytest

from tests.checks.surveys import DAY, add, library, survey_of
from wizard.judgment.change import once
from wizard.judgment.sister import Beside, beside, with_sister, without_sister
from wizard.readings.refused import Refused
from wizard.survey.record import Survey
from wizard.survey.rows import OwnPlace, Reading, Sister, SisterFigure, State

pytestmark = pytest.mark.quick

TAPES = {
    "widths/front/front-left--front-right": ["25 3/4", "25 3/4"],
    "widths/rear/rear-left--rear-right": ["33 7/8", "33 7/8"],
    "own-sides/whole/front-left--rear-left": ["85 7/8", "85 7/8"],
    "own-sides/whole/front-right--rear-right": ["85 7/8", "85 7/8"],
    "long-diagonals/whole/front-left--rear-right": ["91 1/8", "91 1/8"],
    "long-diagonals/whole/front-right--rear-left": ["91 1/8", "91 1/8"],
}
DIAGONAL = "length/long-diagonals/whole/front-left--rear-right"
STRING = {"string-set-up/block": ["2"], "string-set-up/span": ["85 7/8"]} | {
    f"sag-loaded/{station}/{side}": ["2"]
    for station in ("front-crossmember", "engine-mount", "center", "behind")
    for side in ("left", "right")
}


def frame(
    car: str, readings: dict[str, list[str]], state: State | None = None, where: str = "above"
) -> Survey:
    survey = survey_of(readings, answers={"string-set-up/where": where})
    survey = replace(survey, id=car.lower(), car=car)
    if state is not None:
        survey = survey.with_row(state)
        for row in survey.table(Reading):
            survey = survey.with_replaced(replace(row, state=state.id))
    return survey


def kept(survey: Survey, sister: Survey) -> Survey:
    return with_sister(survey, sister, library(), DAY, ("owner", "leave it"))


def told(survey: Survey, sister: Survey) -> Beside:
    found = beside(kept(survey, sister), library())
    assert found is not None
    return found


def test_without_a_sister_there_is_nothing_beside() -> None:
    assert beside(frame("Bramble", TAPES), library()) is None


def test_both_doubts_count_whole_also_of_one_and_the_same_tape() -> None:
    """JCGM 100:2008 5.1.2, uncorrelated inputs: u² = u1² + u2². Nobody vouches for one tape."""
    one, other = frame("Bramble", TAPES), frame("Larch", TAPES)
    found = told(one, other)
    alone = once(one, library()).findings
    for change in found.changes:
        u = alone[change.new.id].number.u
        assert change.number.u == pytest.approx(u * math.sqrt(2), rel=1e-3), change.new.id


def test_a_sound_twin_differs_in_nothing() -> None:
    found = told(frame("Bramble", TAPES), frame("Larch", TAPES))
    assert found.changes
    assert not found.says("changed")


def test_what_both_rails_have_alike_shows_only_beside_the_sister() -> None:
    """Both rails half an inch short: left against right says nothing, and a sister does."""
    short = TAPES | {
        "own-sides/whole/front-left--rear-left": ["85 3/8", "85 3/8"],
        "own-sides/whole/front-right--rear-right": ["85 3/8", "85 3/8"],
    }
    found = told(frame("Bramble", short), frame("Larch", TAPES))
    out = {str(c.new.id): c.number.value for c in found.says("changed")}
    assert out["length/own-sides/whole/front-left--rear-left"] == pytest.approx(-12.7, abs=1e-3)
    assert out["length/own-sides/whole/front-right--rear-right"] == pytest.approx(-12.7, abs=1e-3)
    assert not any(id.startswith("own-sides/") for id in out)


def test_the_record_needs_no_other_file() -> None:
    survey = kept(frame("Bramble", TAPES), frame("Larch", TAPES))
    sister = survey.standing(Sister)[-1]
    assert (sister.name, sister.car, sister.answer) == ("larch", "Larch", "leave it")
    figures = {str(f.finding): f for f in survey.standing(SisterFigure)}
    diagonal = float(Fraction(729, 8) * Fraction(127, 5))
    assert float(figures[DIAGONAL].value) == pytest.approx(diagonal, abs=1e-4)


def test_another_sister_takes_the_place_of_the_first_and_none_is_left_by_drop() -> None:
    survey = kept(frame("Bramble", TAPES), frame("Larch", TAPES))
    survey = kept(survey, frame("Hazel", TAPES))
    assert [s.name for s in survey.standing(Sister)] == ["hazel"]
    assert {f.sister for f in survey.standing(SisterFigure)} == {"hazel"}
    assert beside(without_sister(survey), library()) is None


def test_unlike_states_are_not_compared() -> None:
    wheels = State(id="s900", engine="in", body="bolted", supports="wheels")
    stands = replace(wheels, supports="stands-under-frame")
    found = told(frame("Bramble", STRING, wheels), frame("Larch", STRING, stands))
    assert not any(str(c.new.id).startswith("sag-loaded") for c in found.changes)
    apart = [a for a in found.apart if str(a.finding.id).startswith("sag-loaded")]
    assert apart
    assert {(u.field, u.then, u.now) for a in apart for u in a.unlike} == {
        ("supports", "stands-under-frame", "wheels")
    }
    alike = told(frame("Bramble", STRING, wheels), frame("Larch", STRING, wheels))
    assert any(str(c.new.id).startswith("sag-loaded") for c in alike.changes)


def test_a_string_along_the_other_edge_is_not_compared() -> None:
    found = told(frame("Bramble", STRING), frame("Larch", STRING, where="below"))
    assert not any(str(c.new.id).startswith("sag-loaded") for c in found.changes)
    assert {a.why for a in found.apart if str(a.finding.id).startswith("sag-loaded")} == {"edge"}


def test_what_the_sister_s_own_survey_finds_out_is_marked() -> None:
    low = STRING | {f"sag-loaded/engine-mount/{side}": ["2 3/4"] * 2 for side in ("left", "right")}
    found = told(frame("Bramble", STRING), frame("Larch", low))
    assert "sag-loaded/engine-mount/left" in set(map(str, found.itself))


@pytest.mark.parametrize(
    ("sister", "why"),
    [
        (frame("Bramble", TAPES), "this very frame"),
        (replace(frame("Larch", TAPES), layout="a-frame"), "another kind of frame"),
        (frame("Larch", {}), "Nothing is measured"),
    ],
)
def test_what_is_no_sister_is_refused_in_a_sentence(sister: Survey, why: str) -> None:
    with pytest.raises(Refused, match=why):
        kept(frame("Bramble", TAPES), sister)


def test_an_owner_s_own_place_is_no_figure_of_another_s_frame() -> None:
    """It goes by his words, and another owner's of the same words lies elsewhere."""
    place = OwnPlace(
        id="w900", use="string", place="own-cowl", name="by the cowl", behind="31 1/2 in"
    )
    sister = add(frame("Larch", STRING).with_row(place), "sag-loaded/own-cowl/left", "2")
    assert "sag-loaded/own-cowl/left" in once(sister, library()).findings
    figures = {
        str(f.finding) for f in kept(frame("Bramble", STRING), sister).standing(SisterFigure)
    }
    assert "sag-loaded/center/left" in figures
    assert "sag-loaded/own-cowl/left" not in figures


BROKEN = (*("nan", "inf", "-inf", "1e300", "", "x", "1e5"),)


@pytest.mark.parametrize("field", ["value", "u", "dof"])
@pytest.mark.parametrize("said", BROKEN)
def test_a_row_that_holds_no_figure_is_left_out(field: str, said: str) -> None:
    survey = kept(frame("Bramble", TAPES), frame("Larch", TAPES))
    row = next(f for f in survey.standing(SisterFigure) if str(f.finding) == DIAGONAL)
    survey = survey.with_replaced(replace(row, **{field: said}))
    found = beside(survey, library())
    assert found is not None
    fine = field == "dof" and said in ("", "inf", "1e300", "1e5")
    assert (found.of(row.finding) is not None) == fine
    assert found.unread == (0 if fine else 1)
    assert all(math.isfinite(c.number.value) and c.number.u > 0 for c in found.changes)


@pytest.mark.parametrize(
    "finding", ["", "/", "no-such/thing", "length/..", "twist/nowhere", "\u202e"]
)
def test_a_row_of_a_finding_that_there_is_not_is_passed_over(finding: str) -> None:
    survey = kept(frame("Bramble", TAPES), frame("Larch", TAPES))
    row = survey.standing(SisterFigure)[0]
    survey = survey.with_replaced(replace(row, finding=finding))
    found = beside(survey, library())
    assert found is not None
    assert found.of(row.finding) is None


def test_it_is_made_once_for_a_survey() -> None:
    survey = kept(frame("Bramble", TAPES), frame("Larch", TAPES))
    assert beside(survey, library()) is beside(survey, library())


def test_a_day_that_is_not_known_is_not_said() -> None:
    sister = replace(frame("Larch", TAPES), started=datetime(1, 1, 1))
    assert kept(frame("Bramble", TAPES), sister).standing(Sister)[-1].day == ""
