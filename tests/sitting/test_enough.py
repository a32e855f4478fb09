"""Readings that are not needed: left out in one save, said, kept, taken after all for `+`, and asked
for again where something does not fit.
"""

from __future__ import annotations

import json
import random
import shutil
import tempfile
from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta
from functools import cache
from pathlib import Path

import pytest

from tests.bench import entries
from tests.bench.one_enter import counted
from tests.bench.sentences import one
from tests.bench.sentences.hands import Bench
from tests.bench.sentences.story import STANDING
from tests.sitting.driving import READ, Driver, step_of
from wizard.judgment.enough import best_offer, enough
from wizard.judgment.next import Advice
from wizard.judgment.sight import Sight, sight_of
from wizard.library import load_library
from wizard.library.places import PromptId
from wizard.sitting.reply import Reply
from wizard.sitting.taking_back import offered
from wizard.survey.again import CANNOT_BE
from wizard.survey.file import save
from wizard.survey.prompts import wanting
from wizard.survey.record import Survey
from wizard.survey.rows import NO_LONGER, WANTED, Answer, Doubt, Fold, Reading
from wizard.survey.walk import Page
from wizard.telling.enough_words import offer_words
from wizard.telling.json_out import as_json
from wizard.telling.mentor import mentor_parts
from wizard.telling.page import results_of_step
from wizard.telling.report import Source, report_of
from wizard.telling.tell import verdict_page

LONG, BOXES, BAR = "long-diagonals", "box-diagonals", "front-box-bar"
FIRST = "long-diagonals/whole/front-left--rear-right"


@cache
def _car() -> Bench:
    """A straight ladder, and a hand that makes no slips."""
    return entries.car_of("straight-ladder", 0)[0]


def answer(driver: Driver, course: str = "w") -> str:
    """What the owner of that car types to the question in front."""
    tale = entries.car_of("straight-ladder", 0)[1]
    said = {**STANDING, **entries.TOGETHER, **tale.answers}
    # The body is off, so that the long diagonals are taped from above; the tape's mark is taken off.
    said |= {"state/engine": "i", "state/body": "o", "state/panels": "n"}
    said |= {"tools/tape": "o", "tools/start": "t"}
    said |= {"about-the-car/unit": "i", "about-the-car/layout": "s", "about-the-car/course": course}
    prompt = driver.sitting.prompt
    assert prompt is not None
    times = len(driver.survey.readings_of(prompt.id))
    _car().rng = random.Random(f"two {prompt.id} {times}")  # the same whatever ran before
    if prompt.kind.measures and prompt.tool == "tape" and not prompt.optional:
        return _car().read(prompt.id)
    return entries.line_of(driver.survey, prompt, said, _car())


def on_to(driver: Driver, step: str, course: str = "w") -> Driver:
    """Answered until a page is in front, or to the end."""
    while driver.at != "end" and step_of(driver.at) != step:
        reply = driver.say(answer(driver, course))
        assert reply.kind in ("taken", "ended"), (driver.at, reply)
    return driver


@cache
def _walked(step: str, course: str = "w") -> Path:
    """The file of a survey that has come so far."""
    driver = on_to(Driver(Path(tempfile.mkdtemp())), step, course)
    assert driver.sitting.path is not None
    assert driver.sitting.kept is not None
    driver.sitting.kept.release()
    return driver.sitting.path


def at(step: str, folder: Path, course: str = "w") -> Driver:
    """A sitting before the first question of a page, on a copy of its own."""
    driver = Driver(folder, path=Path(shutil.copy(_walked(step, course), folder)))
    while step_of(driver.at) != step:  # a caution, on another evening
        driver.say(answer(driver, course))
    return driver


def prompts_at(survey: Survey) -> set[str]:
    return {id for fold in survey.folds() for id in fold.prompts.split()}


def typed(driver: Driver, *lines: str) -> list[str]:
    """What is said to each."""
    return [driver.say(line).says for line in lines]


def test_once_more_readings_would_not_change_what_to_do_the_page_goes_on(tmp_path: Path) -> None:
    driver = at(LONG, tmp_path)
    first, second = typed(driver, "90", "90")
    assert "Enough here" not in first
    assert second.startswith("Enough here: square (limit 1/4 in)")
    assert "Type + to take the rest." in second
    assert step_of(driver.at) != LONG
    assert FIRST in prompts_at(driver.survey)


def test_to_leave_readings_out_the_survey_is_found_out_once(tmp_path: Path) -> None:
    driver = at(LONG, tmp_path)
    typed(driver, "90")
    found = counted(lambda: typed(driver, "90"))
    assert FIRST in prompts_at(driver.survey)
    assert (found.computed["findings"], found.computed["plan"]) == (1, 1)
    anew = Sight(replace(driver.survey, rows=dict(driver.survey.rows)), driver.sitting.library)
    now = driver.sitting.now()
    assert driver.sitting.sight.verdict(now) == anew.verdict(now)


def test_the_reading_and_what_it_makes_needless_are_one_save(tmp_path: Path) -> None:
    driver = at(LONG, tmp_path)
    typed(driver, "90", "90")
    saved = driver.saved
    assert saved.folds() == driver.survey.folds()
    assert saved.folds()[-1].at == saved.standing(Reading)[-1].at


def test_on_another_evening_it_is_as_it_was(tmp_path: Path) -> None:
    driver = at(LONG, tmp_path)
    typed(driver, "90", "90")
    there = driver.at
    again = driver.again()
    assert again.at == there
    assert prompts_at(again.survey) == prompts_at(driver.survey)


def test_plus_takes_them_and_that_is_kept(tmp_path: Path) -> None:
    driver = at(LONG, tmp_path)
    typed(driver, "90", "90")
    assert driver.say("+").kind == "taken"
    assert (driver.at, driver.nth) == (FIRST, 2)
    driver = driver.again()
    said = typed(driver, *("/go long-diagonals", "90", "90"))
    assert not any("Enough here: square" in s for s in said)
    assert len(driver.survey.readings_of(PromptId(FIRST))) == 2
    assert [f.struck for f in driver.survey.table(Fold)].count(WANTED) == 1


def test_plus_where_nothing_was_left_out_is_refused(tmp_path: Path) -> None:
    driver = Driver(tmp_path).run("Bramble")
    assert driver.say("+").kind == "refused"


def test_undo_behind_plus_leaves_them_out_again(tmp_path: Path) -> None:
    driver = at(LONG, tmp_path)
    typed(driver, "90", "90")
    there, left = driver.at, prompts_at(driver.survey)
    typed(driver, "+", "/undo")
    assert (driver.at, prompts_at(driver.survey)) == (there, left)


def test_undo_of_the_reading_takes_back_what_hung_on_it(tmp_path: Path) -> None:
    driver = at(LONG, tmp_path)
    typed(driver, "90")
    before = prompts_at(driver.survey)
    typed(driver, "90", "/undo")
    assert prompts_at(driver.survey) == before
    assert step_of(driver.at) == LONG
    assert "Enough here" in driver.say("90").says


def test_a_reading_that_is_struck_leaves_nothing_resting_on_it(tmp_path: Path) -> None:
    driver = at(LONG, tmp_path)
    typed(driver, "90", "90")
    first = driver.survey.readings_of(PromptId(FIRST))[0]
    typed(driver, f"/strike {first.id} slip", "")
    assert FIRST not in prompts_at(driver.survey)
    assert driver.at == FIRST


def test_back_into_it_and_enter_writes_nothing(tmp_path: Path) -> None:
    driver = at(LONG, tmp_path)
    typed(driver, "90", "90")
    there, rows = driver.at, len(driver.survey.standing(Reading))
    typed(driver, "/back")
    assert step_of(driver.at) == LONG
    for _ in range(4):
        if driver.at != there:
            typed(driver, "")
    assert (driver.at, len(driver.survey.standing(Reading))) == (there, rows)


def test_several_on_a_line_are_all_taken(tmp_path: Path) -> None:
    driver = at(LONG, tmp_path)
    reply = driver.say("90; 90; 90 1/16; 90")
    assert reply.kind == "taken"
    assert len(driver.survey.readings_of(PromptId(FIRST))) == 2
    assert FIRST not in prompts_at(driver.survey)


def test_half_an_inch_off_is_read_to_the_last(tmp_path: Path) -> None:
    driver = at(LONG, tmp_path)
    said = typed(driver, "90 1/2", "90")
    assert not any("Enough here" in s for s in said)
    assert (driver.at, driver.nth) == (FIRST, 2)


def test_a_hand_that_nobody_knows_reads_to_the_last(tmp_path: Path) -> None:
    driver = at("your-hand", tmp_path)
    driver.run("/skip page no time")
    on_to(driver, LONG)
    typed(driver, "90", "90")
    assert (driver.at, driver.nth) == (FIRST, 2)
    assert not driver.survey.folds()


def test_a_reading_that_was_doubted_is_read_again(tmp_path: Path) -> None:
    driver = at(LONG, tmp_path)
    typed(driver, "90")
    first = driver.survey.readings_of(PromptId(FIRST))[0]
    doubt = Doubt(id="d999", at=driver.sitting.at, reading=first.id, text="odd", kept="asked")
    assert driver.sitting.change(driver.survey.with_row(doubt)) is None
    typed(driver, "90")
    assert (driver.at, driver.nth) == (FIRST, 2)


@cache
def _whole() -> Survey:
    driver = on_to(Driver(Path(tempfile.mkdtemp())), "end")
    return driver.survey


def page(survey: Survey, step: str) -> Page:
    walk = sight_of(survey, load_library()).walk(entries.BEGUN)
    return next(p for p in walk if p.step.id == step)


def test_the_bar_is_not_asked_for_where_the_tape_has_settled_its_box() -> None:
    survey = _whole()
    assert not [r for r in survey.standing(Reading) if step_of(r.prompt) == BAR]
    assert "tools/bar" in prompts_at(survey)
    assert not survey.answer_to(PromptId("tools/bar"))


def test_a_survey_with_every_reading_leaves_nothing_out(tmp_path: Path) -> None:
    driver = at(LONG, tmp_path, "f")
    assert driver.survey.takes_all
    typed(driver, "90", "90")
    assert (driver.at, driver.nth) == (FIRST, 2)
    assert not driver.survey.table(Fold)


def test_all_said_once_asks_for_everything_from_here_on(tmp_path: Path) -> None:
    driver = at(LONG, tmp_path)
    typed(driver, "90", "90")
    there = driver.at
    assert driver.say("/all").kind == "taken"
    assert driver.at == there
    prompt = load_library() and next(p for p in page(driver.survey, LONG).prompts)
    assert wanting(driver.survey, prompt)
    assert driver.say("/all").kind == "refused"
    driver.run("/undo")
    assert not wanting(driver.survey, prompt)


def told(survey: Survey) -> Iterator[tuple[str, str]]:
    """Everything that is told of a survey, by name."""
    library, now = load_library(), entries.BEGUN + timedelta(days=1)
    yield "tell", verdict_page(survey, library, now)
    yield "json", as_json(survey, library, now)
    yield "report", str(report_of(survey, library, now, Source("whole.toml", "")))
    step = library.steps[page(survey, BAR).step.id]
    results = results_of_step(survey, library, step)
    yield "mentor", str(mentor_parts(survey, library, step, results, None, False))


def test_it_is_never_called_skipped() -> None:
    survey = _whole()
    for name, text in told(survey):
        said = " ".join(text.split())
        assert "it is known without them: square" in said, name
        assert "skipped: it is known" not in text, name
    data = json.loads(as_json(survey, load_library(), entries.BEGUN))
    assert {f["id"] for f in data["not_needed"]} == {f.id for f in survey.folds()}
    assert BAR not in {gap["step"] for gap in data["not_seen"]}


def test_trail_and_list_say_why(tmp_path: Path) -> None:
    path = tmp_path / "whole.toml"
    driver = at(LONG, tmp_path)
    typed(driver, "90", "90")
    for word in ("/trail", "/readings"):
        assert "not needed, because" in driver.say(word).says
    assert not path.exists()


def test_tapes_that_do_not_fit_bring_it_back(tmp_path: Path) -> None:
    driver = at(BOXES, tmp_path)
    assert FIRST in prompts_at(driver.survey)
    said = typed(driver, "46 7/8", "46 15/16", "56 1/16", "57 1/16")
    assert "does not fit" in said[-1]
    assert FIRST not in prompts_at(driver.survey)
    assert NO_LONGER in [f.struck for f in driver.survey.table(Fold)]


@pytest.mark.parametrize("course", ["short", "recheck", "every"])
def test_no_other_survey_leaves_anything_out(course: str) -> None:
    library, survey = load_library(), _before_the_second()
    asked = next(p for p in page(survey, LONG).prompts)
    assert enough(sight_of(survey, library), entries.BEGUN, asked) is not None
    row = Answer(id="a999", prompt=PromptId("about-the-car/course"), answer=course)
    other = survey.with_row(row)
    assert enough(sight_of(other, library), entries.BEGUN, asked) is None
    again = replace(survey, follows="bramble")
    assert enough(sight_of(again, library), entries.BEGUN, asked) is None


def _before_the_second() -> Survey:
    """The long diagonals taped once, and nothing left out of them yet."""
    with tempfile.TemporaryDirectory() as folder:
        driver = at(LONG, Path(folder))
        typed(driver, "90", "90")
        folds = [f for f in driver.survey.folds() if FIRST in f.prompts]
        return driver.survey.with_struck(folds[0].id, "to look at")


OPEN = 33
"""Number of a tube ladder of tests.bench.sentences of which the length of the rails stays open."""


@cache
def _open() -> Survey:
    return one.whole(1, OPEN).known.typed.survey


def test_what_would_settle_something_open_is_offered_and_taken_for_plus(tmp_path: Path) -> None:
    survey = _open()
    library, now = load_library(), survey.standing(Reading)[-1].at
    offer = best_offer(sight_of(survey, library), now)
    assert offer is not None
    assert offer.judged.finding.id == offer.advice.finding
    path = tmp_path / "open.toml"
    save(path, survey)
    driver = Driver(tmp_path, path=path).run("/go finish")
    asked = sight_of(survey, library).case.prompts[PromptId("wheelbase/left")]
    reply = offered(driver.sitting, asked, Reply("taken"))
    assert offer_words(offer) in reply.says
    assert "type + to do that now" in reply.says
    times = len(survey.readings_of(offer.advice.prompt))
    assert driver.say("+").kind == "taken"
    target = driver.sitting.target
    assert target is not None
    assert (target.prompt.id, target.nth) == (offer.advice.prompt, times + 1)


def test_the_one_tape_that_cannot_be_right_is_offered_and_taken_in_its_place(
    tmp_path: Path,
) -> None:
    """A width typed an inch too long, of a straight frame: all that hangs on the plan was open, and
    measured again it was a mean of both, half an inch off.
    """
    given = one.Given(("straight", 0.0), None, (), bare=True)
    typed = one.whole(7, 30, given).known.typed
    path = tmp_path / "wrong.toml"
    save(path, replace(typed.survey, id="wrong"))
    driver = Driver(tmp_path, path=path).run("/go finish")
    driver.sitting.now = lambda: typed.at
    wide = PromptId("widths/center/center-left--center-right")
    asked = sight_of(typed.survey, load_library()).case.prompts[PromptId("wheelbase/left")]
    reply = offered(driver.sitting, asked, Reply("taken"))
    assert "cannot be right beside the others: left center to right center" in reply.says
    assert "Type + to measure it again now." in reply.says
    assert driver.say("+").kind == "taken"
    assert driver.at == wide
    driver.run(READ, "28 7/16")
    assert [r.typed for r in driver.survey.readings_of(wide)] == ["28 7/16"]
    assert CANNOT_BE in [r.struck for r in driver.survey.table(Reading) if r.prompt == wide]
    assert "mash" not in {j.finding.quantity for j in driver.sitting.sight.verdict(typed.at).open}


def test_the_string_is_not_set_up_for_one_reading() -> None:
    survey = _whole()
    sight = sight_of(survey, load_library())
    station = next(p for p in sight.case.prompts.values() if p.point == "string")
    judged = next(j for j in sight.judged if j.finding.quantity == station.step)
    advice = Advice(judged.finding.id, "repeat", station.id, station.ask, 2, 1.0, 0.5, True)
    verdict = sight.verdict(entries.BEGUN)._replace(advice=(advice,))
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(type(sight), "verdict", lambda *_: verdict)
        assert best_offer(sight, entries.BEGUN) is None
        assert best_offer(sight, entries.BEGUN, string=True) is not None


def test_nothing_is_offered_where_nothing_is_open() -> None:
    assert best_offer(sight_of(_whole(), load_library()), entries.BEGUN) is None


# Of a page a part alone --------------------------------------------------------------------------


@cache
def whole(layout: str) -> Survey:
    """A straight frame of that kind, surveyed to its end."""
    car, tale = entries.car_of(layout, 0)
    start = Survey(id="entries", started=entries.BEGUN, layout=layout)
    answers = entries._answers(layout, tale)
    return entries._typed(start, entries.BEGUN, load_library(), answers, car)[0]


def left_out(survey: Survey, step: str) -> set[str]:
    prompts = (id for fold in survey.folds() for id in fold.prompts.split())
    return {id for id in prompts if id.startswith(f"{step}/")}


def read_twice(survey: Survey, step: str) -> set[str]:
    ids = {str(r.prompt) for r in survey.standing(Reading)}
    return {id for id in ids if id.startswith(f"{step}/") and len(survey.readings_of(id)) > 1}


def test_where_one_box_is_open_the_others_are_not_taped_again() -> None:
    """Its rear box was not settled by the first readings; of the others nothing hangs on it."""
    survey = whole("leaf-ladder-large")
    assert {id.split("/")[1] for id in left_out(survey, BOXES)} >= {"front-box", "middle-box"}
    assert {id.split("/")[1] for id in read_twice(survey, BOXES)} == {"rear-box"}


def test_no_part_goes_while_the_plan_is_still_to_be_taped() -> None:
    """Before the plate is taped nobody knows what a repeat of the boxes is worth."""
    survey = whole("x-braced")
    assert left_out(survey, BOXES) == set()
    assert len(read_twice(survey, BOXES)) == 4
    assert read_twice(survey, "plate-to-corners") == set()


def test_the_level_is_laid_again_only_until_the_lean_is_settled() -> None:
    """Not before it was laid everywhere, and back at the first place: by that its hand is known."""
    survey = whole("boxed-perimeter")
    level = [r for r in survey.standing(Reading) if r.prompt.startswith("level/")]
    assert len({r.prompt for r in level[:12]}) == 12
    gone = left_out(survey, "level")
    assert gone
    assert {id.rpartition("/")[2] for id in gone} <= {"as-set", "turned"}
    folds = [f for f in survey.folds() if "level/" in f.prompts]  # a place goes once it is settled
    settled = {quantity for f in folds for quantity in f.settled.split()}
    assert all(quantity.startswith(("twist", "horn-height")) for quantity in settled)
    for fold in folds:  # what leans there is settled by the same save that leaves the place out
        places = {id.split("/")[1] for id in fold.prompts.split()}
        assert places & {quantity.split("/")[1] for quantity in fold.settled.split()}


def test_wherever_somebody_stops_he_goes_on_where_he_was(tmp_path: Path) -> None:
    # What is left out of a page further on was passed over by nobody.
    driver, missed = Driver(tmp_path), []
    while driver.at != "end":
        before = driver.at
        assert driver.say(answer(driver)).kind in ("taken", "ended"), before
        if step_of(driver.at) != step_of(before):
            stopped, driver = driver.at, driver.again()
            missed += [(stopped, driver.at)] if step_of(driver.at) != step_of(stopped) else []
    assert driver.survey.table(Fold), "or nothing was left out"
    assert not missed
