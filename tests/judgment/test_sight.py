"""What is kept with a survey never outlives the survey, the content, the time or the person."""

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime, timedelta

import pytest

from wizard.checks.case import Case, case_of
from wizard.judgment.sight import Sight, sight_of, verdict_of
from wizard.library import load_library, marks
from wizard.library.paths import samples_dir
from wizard.survey.answer import answer
from wizard.survey.file import load
from wizard.survey.guide import Ask, Guide, Person, front, guide_of, layout_of, pages
from wizard.survey.record import Survey
from wizard.survey.rows import Answer, Fold, OwnPlace, Reading, Size, Tool

LIBRARY = load_library()
BRAMBLE = load(samples_dir() / "bramble-2026-04-11.toml")
LAST = max(row.at for row in BRAMBLE.all_rows())
STEPS = ("sag-loaded", "level", "front-crossmember-cracks")


def _anew(survey: Survey) -> Survey:
    """An equal survey with which nothing is kept."""
    return replace(survey, rows=dict(survey.rows))


def _times() -> list[datetime]:
    hours = (0.0, 1.9, 2.1, 0.0, 26.0, 1.9)
    return [LAST + timedelta(hours=h) for h in hours]


@pytest.mark.parametrize("now", _times(), ids=str)
def test_pages_are_those_of_the_time_that_is_asked(now: datetime) -> None:
    """BRAMBLE is asked at one time after another, forth and back; the other is asked but once."""
    assert pages(BRAMBLE, LIBRARY, now) == Guide(_anew(BRAMBLE), LIBRARY).pages(now)


def _rocking(survey: Survey) -> Survey:
    push = next(p for p in LIBRARY.pushes if "rocks" in LIBRARY.pushes[p].values())
    token = next(t for t, says in LIBRARY.pushes[push].items() if says == "rocks")
    prompt = guide_of(survey, LIBRARY).questions.by_id[push]
    after = answer(survey, prompt, token, at=LAST, by="owner")
    assert isinstance(after, Survey)
    return after


ROCKING = _rocking(BRAMBLE)


def test_pages_of_a_car_that_rocks_are_others() -> None:
    assert pages(ROCKING, LIBRARY, LAST) != pages(BRAMBLE, LIBRARY, LAST)
    again = LAST + timedelta(minutes=1)
    assert pages(ROCKING, LIBRARY, again) == Guide(_anew(ROCKING), LIBRARY).pages(again)


@pytest.mark.parametrize("step", STEPS)
def test_what_stands_before_a_page_is_found_for_each_person_and_time(step: str) -> None:
    """The gate is asked in turns by the one who has read and by one who has not."""
    target = Ask(guide_of(BRAMBLE, LIBRARY).questions.of(LIBRARY.steps[step])[0])
    for by in ("owner", "second reader", "owner", "nobody"):
        for now in _times():
            asked = front(BRAMBLE, LIBRARY, target, Person(by, now))
            assert asked == front(_anew(BRAMBLE), LIBRARY, target, Person(by, now))
    owner, other = (front(BRAMBLE, LIBRARY, target, Person(by, LAST)) for by in ("owner", "x"))
    assert owner != other
    assert front(BRAMBLE, LIBRARY, target, Person("owner", LAST + timedelta(hours=3))) != owner


@pytest.mark.parametrize("now", _times(), ids=str)
def test_the_verdict_is_that_of_the_time_that_is_asked(now: datetime) -> None:
    rocking = sight_of(ROCKING, LIBRARY).verdict(now)
    assert rocking == Sight(_anew(ROCKING), LIBRARY).verdict(now)
    assert verdict_of(BRAMBLE, LIBRARY, now) == Sight(_anew(BRAMBLE), LIBRARY).verdict(now)
    assert rocking.rocks


def test_one_survey_by_two_contents() -> None:
    layout = LIBRARY.layouts[BRAMBLE.layout]
    wider = replace(layout, figures={**layout.figures, "wheelbase": 3000.0})
    other = replace(LIBRARY, layouts={**LIBRARY.layouts, layout.id: wider})
    for _ in range(2):
        assert layout_of(BRAMBLE, LIBRARY).figures["wheelbase"] != 3000.0
        assert layout_of(BRAMBLE, other).figures["wheelbase"] == 3000.0
        assert case_of(BRAMBLE, other).library is other


# What a case takes over from the one before
# ---------------------------------------------------------------------------------------------


def _more(survey: Survey) -> Survey:
    first = next(r for r in survey.standing(Reading) if "--" in r.prompt)
    return survey.with_row(replace(first, id=survey.new_id(Reading), typed="27 1/16"))


def _struck(survey: Survey) -> Survey:
    return survey.with_struck(survey.standing(Reading)[-1].id, "misread")


def _retyped(survey: Survey) -> Survey:
    """A row of the same id that says something else, as an editor may leave it."""
    first = next(r for r in survey.standing(Reading) if "--" in r.prompt)
    return survey.with_replaced(replace(first, typed="30"))


def _another_tape(survey: Survey) -> Survey:
    tape = survey.tool("tape")
    assert tape is not None
    return survey.with_replaced(replace(tape, extra={**tape.extra, "class": "III"}))


def _at_its_mark(survey: Survey) -> Survey:
    tape = survey.tool("tape")
    assert tape is not None
    return survey.with_replaced(replace(tape, extra={**tape.extra, "start": "mark"}))


def _in_mm(survey: Survey) -> Survey:
    return replace(survey, unit="mm")


def _sized(survey: Survey) -> Survey:
    return survey.with_row(Size(id=survey.new_id(Size), name="wheelbase", typed="110 in"))


def _another_place(survey: Survey) -> Survey:
    row = OwnPlace(id=survey.new_id(OwnPlace), use="tape", place="own-bracket", name="bracket")
    return survey.with_row(replace(row, kind="hole", behind="31 1/2 in"))


def _another_frame(survey: Survey) -> Survey:
    other = next(id for id in LIBRARY.layouts if id != survey.layout)
    return replace(survey, layout=other)


def _folded(survey: Survey) -> Survey:
    first, last = (survey.standing(Reading)[n] for n in (0, -1))
    row = Fold(id=survey.new_id(Fold), prompts=str(last.prompt), readings=first.id, why="known")
    return survey.with_row(row)


CHANGES = (
    *(_more, _struck, _retyped, _another_tape, _at_its_mark, _folded),
    *(_in_mm, _sized, _another_place, _another_frame),
)


def _all(case: Case) -> dict[str, object]:
    return {id: case.taken(id) for id in case.prompts}


@pytest.mark.parametrize("change", CHANGES, ids=lambda f: f.__name__.strip("_"))
def test_a_case_that_follows_another_says_what_one_made_anew_says(
    change: Callable[[Survey], Survey],
) -> None:
    before = case_of(_anew(BRAMBLE), LIBRARY)
    assert _all(before) == _all(Case(_anew(BRAMBLE), LIBRARY))
    after = change(before.survey)
    assert _all(before.followed_by(after)) == _all(Case(_anew(after), LIBRARY))
    assert _all(before) == _all(Case(_anew(BRAMBLE), LIBRARY))
    assert _all(before.followed_by(_more(after))) == _all(Case(_more(_anew(after)), LIBRARY))


def test_where_only_more_is_left_out_nothing_is_found_out_anew() -> None:
    before = sight_of(_folded(_anew(BRAMBLE)), LIBRARY)
    before.verdict(LAST)
    after = before.followed_by(_folded(before.survey))
    assert after.judged is before.judged
    assert after.case.survey is after.survey
    assert after.verdict(LAST) == Sight(_anew(after.survey), LIBRARY).verdict(LAST)


def test_the_first_time_that_anything_is_left_out_less_is_spent_on_accusing() -> None:
    answers = tuple(a for a in BRAMBLE.table(Answer) if a.answer != marks.EVERY)
    before = sight_of(replace(BRAMBLE, rows={**BRAMBLE.rows, "answer": answers}), LIBRARY)
    assert before.judged
    assert _folded(before.survey).folds()
    assert before.followed_by(_folded(before.survey)).findings is not before.findings


def test_a_case_takes_over_what_did_not_change() -> None:
    """The twin: were nothing taken over, the test above would hold of nothing."""
    before = case_of(_anew(BRAMBLE), LIBRARY)
    _all(before)
    after = before.followed_by(_more(before.survey))
    same = [id for id, taken in _all(before).items() if taken and after.taken(id) is taken]
    assert len(same) > 30
    assert isinstance(before.survey.tool("tape"), Tool)
