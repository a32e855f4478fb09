"""One letter for several questions of a page, and one entry for both sides that are seen from one spot:
each question and each look has a row of its own, and what is not so is asked by itself.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.sitting.driving import BEGUN, READ, Driver
from tests.told import says
from wizard.library import load_library
from wizard.library.places import StepId
from wizard.sitting.paging import page_of
from wizard.sitting.words import taken_words
from wizard.survey.file import load
from wizard.survey.rows import Answer, Look

STATE = {"state/engine": "in", "state/found": "wheels", "state/panels": "on"}
SHOWN = {
    "consequences/hood-gap": "even",
    "consequences/door-gaps": "even",
    "consequences/fan": "middle",
    "consequences/steering": "quiet",
}


@pytest.fixture
def at_state(driver: Driver) -> Driver:
    driver.run(*BEGUN)
    assert driver.at == "state/engine"
    return driver


def choices(driver: Driver) -> tuple[str, ...]:
    page = page_of(driver.sitting)
    assert page is not None
    return page.choices


def test_a_car_that_is_together_says_so_in_one_letter(at_state: Driver) -> None:
    assert choices(at_state)[-1].startswith("a  in; ")
    at_state.run("a")
    assert {id: at_state.saved.answer_to(id) for id in STATE} == STATE
    state = at_state.saved.state()
    assert (state.engine, state.supports, state.panels) == ("in", "wheels", "on")
    assert at_state.at == "state/body"  # nobody has said how that is fixed


def test_each_question_stays_one_of_its_own(at_state: Driver) -> None:
    at_state.run("a", "l")
    rows = [r.prompt for r in at_state.saved.standing(Answer) if r.prompt in STATE]
    assert sorted(rows) == sorted(STATE)
    while at_state.at != "state/panels":
        at_state.run("/back")
    at_state.run("n")
    assert at_state.saved.state().panels == "off"


def test_all_four_that_show_in_one_letter_or_by_themselves(at_state: Driver) -> None:
    at_state.run("a", "l")
    assert at_state.at == "consequences/hood-gap"
    at_state.run("a")
    assert {id: at_state.saved.answer_to(id) for id in SHOWN} == SHOWN
    assert not at_state.at.startswith("consequences")


def test_the_letter_goes_where_one_of_them_was_answered_or_is_not_asked(at_state: Driver) -> None:
    at_state.run("a", "o")  # the body is off: no door has a gap
    assert at_state.at == "consequences/hood-gap"
    assert not [line for line in choices(at_state) if line.startswith("a  ")]
    assert at_state.say("a").kind == "refused"
    at_state.run("e")
    assert at_state.saved.answer_to("consequences/door-gaps") == ""


def test_no_letter_speaks_of_a_fan_where_there_is_no_engine(at_state: Driver) -> None:
    """It would write down a fan in the middle that nobody was asked about."""
    at_state.run("o", "l", "w", "y")
    assert at_state.at == "consequences/hood-gap"
    assert not [line for line in choices(at_state) if line.startswith("a  ")]
    assert at_state.say("a").kind == "refused"


def test_the_tape_and_where_it_starts(driver: Driver) -> None:
    driver.run(*BEGUN, "/go your-hand", READ)
    driver.run("/go tools")
    assert driver.at == "tools/tape"
    driver.run("b")
    tool = driver.saved.tool("tape")
    assert tool is not None
    assert driver.saved.answer_to("tools/start") == "mark"


# Both sides ---------------------------------------------------------------------------------------


@pytest.fixture
def below(driver: Driver) -> Driver:
    driver.run("Bramble", "i", "s", "w", "o", "/go left-front", READ)
    return driver


def looks(driver: Driver, place: str) -> dict[str, tuple[str, str]]:
    """What stands of a place, by the ids of its looks."""
    ids = [str(g.look) for g in load_library().steps[StepId(place)].gathers]
    rows = {str(k.prompt): (k.seen, k.answer) for k in driver.saved.standing(Look)}
    return {id: rows[id] for id in ids if id in rows}


def test_one_entry_for_both_sides_is_a_row_for_each_look_of_both(below: Driver) -> None:
    assert says(choices(below)[-1], "Right front, from below … b both")
    below.run("p both")
    for place in ("left-front", "right-front"):
        assert len(looks(below, place)) == 7
        assert set(looks(below, place).values()) == {("painted", "nothing-found")}
    below.run(READ)
    assert below.at == "left-rail/seen"


def test_what_there_is_to_tell_is_asked_on_either_side(below: Driver) -> None:
    below.run("b h both")
    assert below.at == "horn-welds/left"
    below.run("b c")
    while below.at != "horn-welds/right":
        below.run("/next")
    below.run("b o")
    assert looks(below, "left-front")["horn-welds/left"] == ("bare", "crack")
    assert looks(below, "right-front")["horn-welds/right"] == ("bare", "nothing-found")


def test_both_goes_only_while_nothing_is_said_of_either(below: Driver) -> None:
    below.run("/go right-front", READ, "d", "/go left-front")
    assert "both" not in choices(below)[-1]
    before = below.survey
    assert below.say("b both").kind == "refused"
    assert below.survey == before
    below.run("b")
    assert set(looks(below, "right-front").values()) == {("dirty", "nothing-found")}


def test_standing_beside_it_each_side_has_its_own(driver: Driver) -> None:
    driver.run("Bramble", "i", "s", "w", "o", "/go left-beside", READ)
    assert "both" not in choices(driver)[-1]
    assert driver.say("b both").kind == "refused"
    assert looks(driver, "right-beside") == {}


def test_it_is_taken_back_a_side_at_a_time(below: Driver) -> None:
    below.run("b both", "/strike !")
    assert looks(below, "right-front") == {} or looks(below, "left-front") == {}
    assert looks(below, "left-front") or looks(below, "right-front")


def test_a_file_with_both_sides_is_one_that_any_version_reads(below: Driver) -> None:
    below.run("b both")
    assert isinstance(below.sitting.path, Path)
    entries = [r.prompt for r in load(below.sitting.path).standing(Answer)]
    assert {"left-front/seen", "right-front/seen"} <= set(entries)


def test_one_letter_is_said_back_in_the_words_of_all_that_it_answers(at_state: Driver) -> None:
    said = taken_words("a", at_state.sitting.prompt, at_state.survey)
    assert says(said, "in; hood and fenders on")
    assert not said.endswith(" a")


def test_what_is_left_empty_is_said_to_be(driver: Driver) -> None:
    driver.run(*BEGUN)
    while driver.at != "state/temperature":
        driver.run("/next")
    said = taken_words("-", driver.sitting.prompt, driver.survey)
    assert says(said, "Left empty: How warm is it?")


def test_no_fan_is_looked_for_where_there_is_no_engine(at_state: Driver) -> None:
    at_state.run("o", "l", "w", "n")
    page = at_state.sitting.page()
    assert page is not None
    assert "consequences/fan" not in {str(p.id) for p in page.wanted}
