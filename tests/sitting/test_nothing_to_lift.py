"""What the engine's weight bends, and what would explain a find: left out where the string with the
weight on, and all that was read and seen, leave nothing open; asked for where they do not.
"""

from __future__ import annotations

import tempfile
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from tests.bench import entries
from tests.sitting.driving import Driver, step_of
from tests.sitting.test_enough import answer, at, on_to, prompts_at, told
from wizard.judgment.enough import enough
from wizard.judgment.half_hour import half_hour
from wizard.judgment.seen import gaps
from wizard.judgment.sight import sight_of, verdict_of
from wizard.judgment.sound import is_known_without, within_without
from wizard.library import load_library
from wizard.library.places import PromptId
from wizard.survey.guide import pages
from wizard.survey.record import Survey
from wizard.survey.rows import NO_LONGER, WANTED, Ack, Fold, Reading
from wizard.telling.asking import trail_text
from wizard.telling.enough_words import needless

BAR = "front-box-bar"
LOADED, UNLOADED, LIFT = "sag-loaded", "sag-unloaded", "lift-engine"
HISTORY, STEERING = "history/straightened", "consequences/steering"
"""What explains a find, and what also tells of the axle, which is asked in any case."""
GAPS = 10
"""Stations and sides along the string of a straight ladder."""


def last_gap(folder: Path) -> Driver:
    """Before the last gap with the weight on."""
    driver = at(LOADED, folder)
    for _ in range(GAPS + 1):
        assert driver.say(answer(driver)).kind == "taken"
    return driver


def test_where_every_station_is_true_with_the_weight_nobody_lifts_the_engine(
    tmp_path: Path,
) -> None:
    driver = last_gap(tmp_path)
    assert LIFT not in {step_of(id) for id in prompts_at(driver.survey)}
    reply = driver.say(answer(driver))
    assert (
        "weight on tells that without it both rails may stay as they are (limit 1/8 in)"
        in " ".join(reply.says.split())
    )
    left = {step_of(id) for id in prompts_at(driver.survey)}
    assert {LIFT, UNLOADED} <= left
    assert step_of(driver.at) == "finish"
    assert "battery" not in {a.caution for a in driver.survey.standing(Ack)}


def test_all_of_it_is_one_save_and_one_undo(tmp_path: Path) -> None:
    driver = last_gap(tmp_path)
    there, before = driver.at, prompts_at(driver.survey)
    driver.run(answer(driver))
    assert prompts_at(driver.saved) == prompts_at(driver.survey)
    driver.run("/undo")
    assert (driver.at, prompts_at(driver.survey)) == (there, before)


def test_plus_lifts_it_after_all(tmp_path: Path) -> None:
    driver = last_gap(tmp_path)
    driver.run(answer(driver))
    while UNLOADED in {step_of(id) for id in prompts_at(driver.survey)}:
        assert driver.say("+").kind == "taken"
    assert WANTED in {f.struck for f in driver.survey.table(Fold)}
    driver.run("/go lift-engine")
    assert step_of(driver.at) == LIFT


@pytest.mark.parametrize("lower", [3, 5, 8])
def test_rails_that_hang_lower_are_read_without_the_weight_too(
    tmp_path: Path, lower: float
) -> None:
    driver = at(LOADED, tmp_path)
    while step_of(driver.at) == LOADED:
        place = driver.at.split("/")[1]
        ends = {"front-crossmember": 0.3, "behind": 0.8}
        assert driver.say(f"{_block(driver) + ends.get(place, 1.0) * lower / 16:.3f} in!").kind == (
            "taken"
        )
    assert step_of(driver.at) == LIFT
    assert UNLOADED not in {step_of(id) for id in prompts_at(driver.survey)}


def _block(driver: Driver) -> float:
    """Height of the blocks, inches."""
    prompt = PromptId("string-set-up/block")
    case = sight_of(driver.survey, load_library()).case
    taken = case.taken(prompt)
    assert taken is not None
    return taken.number.value / 25.4


@pytest.mark.parametrize("higher", [1.2, 2.2])
def test_a_rail_that_stands_high_is_read_without_the_weight_too(
    tmp_path: Path, higher: float
) -> None:
    driver = at(LOADED, tmp_path)
    while step_of(driver.at) == LOADED:
        assert driver.say(f"{_block(driver) - higher / 16:.3f} in!").kind == "taken"
    assert step_of(driver.at) == LIFT


@cache
def _whole() -> Survey:
    return on_to(Driver(Path(tempfile.mkdtemp())), "end").survey


def _without_folds() -> Survey:
    """The whole survey with nothing left out behind the string yet."""
    survey = _whole()
    for fold in survey.folds():
        if {step_of(id) for id in fold.prompts.split()} & {LIFT, "history"}:
            survey = survey.with_struck(fold.id, "to look at")
    return survey


def _within(survey: Survey) -> float:
    sight = sight_of(survey, load_library())
    return within_without(sight.case, sight.judged, GAPS)


def test_under_a_bolted_body_the_string_is_read_to_the_last() -> None:
    survey = _without_folds()
    assert _within(survey) == pytest.approx(25.4 / 8)
    bolted = replace(survey.state(), id="s99", body="bolted")
    moved = survey.with_row(bolted)
    for row in survey.standing(Reading):
        if step_of(row.prompt) == LOADED:
            moved = moved.with_replaced(replace(row, state="s99"))
    assert _within(moved) == 0.0


def test_a_station_that_was_not_read_leaves_it_open() -> None:
    survey = _without_folds()
    gone = next(r for r in survey.standing(Reading) if step_of(r.prompt) == LOADED)
    short = survey.with_struck(gone.id, "slip")
    assert _within(short) == 0.0


def test_what_would_explain_a_find_is_not_asked_where_there_is_none() -> None:
    survey = _whole()
    assert {HISTORY, "pulley-hint/pulley"} <= prompts_at(survey)
    assert survey.answer_to(PromptId(STEERING))
    assert survey.answer_to(PromptId("history/knocked"))
    for name, text in told(survey):
        said = " ".join(text.split())
        assert name == "mentor" or "nothing was found that it would explain" in said, name


def test_what_is_not_lifted_is_neither_missing_nor_left_out_for_this_car() -> None:
    library, survey = load_library(), _whole()
    assert UNLOADED not in {gap.step for gap in gaps(survey, library, entries.BEGUN)}
    page = next(p for p in pages(survey, library, entries.BEGUN) if p.step.id == UNLOADED)
    assert page.needless
    assert page.gone.startswith("Not needed, because it is known without them: the string")
    walk = sight_of(survey, library).walk(entries.BEGUN)
    lines = trail_text(survey, walk, None).splitlines()
    here = next(n for n, line in enumerate(lines) if f"({UNLOADED})" in line)
    assert "[+]" in lines[here]
    assert lines[here + 1].strip() == page.gone
    said = dict(told(survey))["tell"]
    assert "read the string once more with the engine's weight off" not in " ".join(said.split())


def test_what_was_known_stays_known_where_the_engine_could_not_be_lifted_after_all() -> None:
    """He wanted it all the same, and the hoist was not there: nothing was read since."""
    library, survey = load_library(), _whole()
    fold = next(f for f in survey.folds() if LIFT in {step_of(id) for id in f.prompts.split()})
    wanted = survey.with_struck(fold.id, WANTED)
    now = survey.standing(Reading)[-1].at
    ages = [verdict_of(s, library, now).causes["age"].answer for s in (survey, wanted)]
    assert ages == ["none", "none"]
    assert UNLOADED not in {gap.step for gap in gaps(wanted, library, entries.BEGUN)}
    assert any("both rails may stay as they are" in said for _, said in needless(wanted, library))
    below = next(r for r in survey.standing(Reading) if step_of(r.prompt) == LOADED)
    moved = wanted.with_row(replace(below, id="r999"))
    assert verdict_of(moved, library, now).causes["age"].answer == "cannot-tell"
    assert not is_known_without(moved, library)


def test_nothing_is_known_by_a_tool_that_was_never_used(tmp_path: Path) -> None:
    """The bar's readings are left out in place of read: its box is known by the tape."""
    library, survey = load_library(), on_to(Driver(tmp_path), "end", "f").survey
    now = survey.standing(Reading)[-1].at
    bar = [r for r in survey.standing(Reading) if step_of(r.prompt) == BAR]
    assert BAR in {topic.steps[0] for topic in half_hour(survey, library, now).known}
    for row in bar:
        survey = survey.with_struck(row.id, "slip")
    prompts = " ".join(dict.fromkeys(str(r.prompt) for r in bar))
    survey = survey.with_row(Fold(id="f990", at=now, prompts=prompts, why="known without"))
    assert BAR not in {topic.steps[0] for topic in half_hour(survey, library, now).known}


def test_a_known_hit_is_explained() -> None:
    library, survey = load_library(), _without_folds()
    now = survey.standing(Reading)[-1].at
    assert sight_of(survey, library).verdict(now).explains_itself
    said = next(a for a in survey.rows["answer"] if a.prompt == "history/knocked")
    hit = survey.with_replaced(replace(said, answer="yes"))
    where = replace(said, id="a998", prompt=PromptId("history/where"), answer="left-front")
    hit = hit.with_row(where)
    assert not sight_of(hit, library).verdict(now).explains_itself
    asked = sight_of(hit, library).case.prompts[PromptId("sag-loaded/behind/right")]
    found = enough(sight_of(hit, library), entries.BEGUN, asked)
    assert found is None or HISTORY not in found.prompts


def test_a_sign_found_afterwards_asks_for_it_again(tmp_path: Path) -> None:
    driver = on_to(Driver(tmp_path), "finish")
    assert HISTORY in prompts_at(driver.survey)
    driver.run("/go left-front", "b h")
    said = driver.say("b t").says  # a torn weld
    assert HISTORY not in prompts_at(driver.survey)
    assert NO_LONGER in {f.struck for f in driver.survey.table(Fold)}
    assert "What the car has been through" in said
    assert UNLOADED in {step_of(id) for id in prompts_at(driver.survey)}
