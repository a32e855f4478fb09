"""Stopping and going on: another evening, another day, the short survey made whole."""

from pathlib import Path

import pytest

from tests.sitting.driving import BEGUN, READ, Driver, begun, finished, likely, step_of
from wizard.survey.rows import Ack, Answer, Reading

STRING = ("/go sag-loaded", READ)


def test_going_on_behind_the_last_answer(driver: Driver) -> None:
    driver.run(*BEGUN, "i", "l")
    again = driver.again()
    assert (again.at, again.sitting.resumed) == ("state/panels", True)
    assert again.survey.rows == driver.survey.rows


def test_a_new_survey_is_not_resumed(driver: Driver) -> None:
    assert (driver.at, driver.sitting.resumed) == ("about-the-car/car", False)


def test_a_step_left_for_later_is_not_forced_on_the_person(driver: Driver) -> None:
    driver.run(*BEGUN, "/go level", "0; 0")
    assert driver.again().at == "level/front-crossmember/as-set"


def test_between_two_readings_of_a_pair(driver: Driver) -> None:
    driver.run(*BEGUN, "i", "l", "/go long-diagonals", "91", "92", "91")
    again = driver.again()
    assert (again.at, again.nth) == ("long-diagonals/whole/front-right--rear-left", 2)


def test_a_finished_survey_stays_finished(tmp_path: Path) -> None:
    driver = finished(tmp_path)
    rows = driver.survey.rows
    again = driver.again()
    assert again.at == "end"
    assert again.say("").kind == "ended"
    assert again.survey.rows == rows, "the verdict is kept once, however often it is shown"


def test_on_the_same_day_a_caution_is_not_asked_twice(driver: Driver) -> None:
    driver.run(*BEGUN, *STRING, "1/2")
    assert driver.again().at == "sag-loaded/mid-engine/left"


def test_on_another_day_the_cautions_come_before_the_next_reading(driver: Driver) -> None:
    driver.run(*BEGUN, *STRING, "1/2")
    driver.clock.next_day()
    again = driver.again()
    assert again.at == "sag-loaded/caution/string"
    again.run("understood")
    assert again.at == "sag-loaded/caution/going-under"
    again.run("understood")
    assert again.at == "sag-loaded/mid-engine/left"
    assert [a.at.day for a in again.saved.table(Ack)] == [11, 11, 12, 12]


def test_past_midnight_the_cautions_come_again_in_the_middle_of_a_step(driver: Driver) -> None:
    driver.run(*BEGUN, *STRING)
    driver.clock.next_day()
    driver.run("1/2")
    assert driver.at == "sag-loaded/caution/string"


@pytest.mark.parametrize("way", ["/back", "/go sag-loaded", "/undo"])
def test_no_way_leads_round_a_caution_of_another_day(driver: Driver, way: str) -> None:
    driver.run(*BEGUN, *STRING, "1/2", "5/8")
    driver.clock.next_day()
    driver.run("/go level")
    if way == "/back":
        while driver.at != "sag-loaded/caution/string":
            assert step_of(driver.at) != "set-supports", "went round it"
            driver.run("/back")
    else:
        driver.run(way)
    assert driver.at == "sag-loaded/caution/string"


def test_a_caution_passed_over_leads_out_of_its_step(driver: Driver) -> None:
    driver.run(*BEGUN, "i", "l", "/go sag-loaded", "/next")
    assert step_of(driver.at) == "lift-engine"
    driver.run("/back")
    assert driver.at == "sag-loaded/caution/string"


def test_the_short_survey_goes_on_as_the_whole_one(driver: Driver) -> None:
    driver.run(*begun(course="s"))
    assert driver.at == "state/engine"
    while driver.sitting.prompt is not None:
        driver.run(likely(driver.sitting.prompt))
    readings = len(driver.survey.table(Reading))
    assert driver.say("/whole").kind == "taken"
    assert driver.at == "what-to-bring/ready"
    assert driver.survey.answer_to("about-the-car/course") == "whole"
    assert len(driver.saved.table(Reading)) == readings
    assert [a.answer for a in driver.saved.table(Answer) if a.prompt == "about-the-car/course"] == ["short", "whole"]


def test_two_sittings_one_after_the_other_lose_nothing(tmp_path: Path) -> None:
    one = Driver(tmp_path).run(*BEGUN[:2])
    two = one.again().run(*BEGUN[2:4])
    three = two.again().run(*BEGUN[4:])
    alone = Driver(tmp_path / "alone").run(*BEGUN)
    assert three.saved.table(Answer) == alone.saved.table(Answer)
