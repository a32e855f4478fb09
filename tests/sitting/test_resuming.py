"""Stopping and going on: another evening, another day, the short survey made whole."""

from datetime import timedelta
from pathlib import Path

import pytest

from tests.sitting.driving import BEGUN, READ, Driver, begun, finished, likely, step_of
from tests.told import says
from wizard.survey.rows import Ack, Answer, Reading

STRING = ("/go sag-loaded", READ)


def test_going_on_behind_the_last_answer(driver: Driver) -> None:
    driver.run(*BEGUN, "i", "l", "w")
    again = driver.again()
    assert (again.at, again.sitting.resumed) == ("state/panels", True)
    assert again.survey.rows == driver.survey.rows


def test_a_new_survey_is_not_resumed(driver: Driver) -> None:
    assert (driver.at, driver.sitting.resumed) == ("about-the-car/car", False)


def test_a_step_left_for_later_is_not_forced_on_the_person(driver: Driver) -> None:
    driver.run(*BEGUN, "/go level", READ, "0; 0")
    assert driver.again().at == "level/front-crossmember/as-set"


def test_between_two_readings_of_a_pair(driver: Driver) -> None:
    driver.run(*BEGUN, "i", "l", "/go long-diagonals", READ, "91", "92", "91")
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


def test_on_another_day_the_car_is_pushed_and_the_cautions_come_before_the_next_reading(
    driver: Driver,
) -> None:
    driver.run(*BEGUN, *STRING, "1/2")
    driver.clock.next_day()
    again = driver.again()
    assert again.at == "sag-loaded/caution/hold-stale"
    met = []
    while again.at != "sag-loaded/mid-engine/left":
        met.append(again.at)
        assert again.sitting.prompt is not None
        again.run(likely(again.sitting.prompt))
    assert met[-4:] == ["set-supports/push", *GATE]
    assert [a.at.day for a in again.saved.table(Ack) if a.caution == "string"] == [11, 12]


@pytest.mark.parametrize("hours", [2, 24])
def test_a_pause_brings_the_whole_gate_back_in_the_middle_of_a_step(
    driver: Driver, hours: int
) -> None:
    driver.run(*BEGUN, *STRING)
    driver.clock.at += timedelta(hours=hours)
    assert driver.at == "sag-loaded/caution/hold-stale"
    assert driver.say("1/2").kind == "refused"
    driver.run(*AGAIN)
    assert driver.at == GATE[0]
    driver.run("understood", "understood", "understood")
    assert driver.at == "sag-loaded/front-crossmember/left"
    assert driver.saved.table(Reading) == ()


def test_as_long_as_somebody_answers_nothing_is_read_again(driver: Driver) -> None:
    driver.run(*BEGUN, *STRING)
    for typed in ("1/2", "5/8", "3/4"):
        driver.clock.at += timedelta(hours=1, minutes=59)
        driver.run(typed)
    assert [r.typed for r in driver.saved.table(Reading)] == ["1/2", "5/8", "3/4"]


GATE = [f"sag-loaded/caution/{id}" for id in ("under-on-wheels", "string", "old-paint")]
"""What is read before the sag of a car on its wheels, once it was pushed again."""
AGAIN = ("understood", "understood", "understood", "s")
"""On another day: that it was pushed another time, before it rolls, before it is lifted, and the
push test.
"""
WAYS = {
    "/back": ("/back",),
    "/go sag-loaded": ("/go sag-loaded",),
    "/undo": ("/undo",),
    "/strike !": ("/strike !",),
    "/second": ("/second",),
    "/second step": ("/second step",),
    "/add string": ("/add string by the mount, 20 in",),
    "/add drop": ("/add drop cowl",),
    "/mentor": ("/mentor",),
    "/whole": ("/whole", "/go sag-loaded"),
    "a prompt by its words": ("/go left rail, rear engine mount",),
}
"""How one comes before a reading of the page on another day, beside answering."""


def _evening(driver: Driver) -> Driver:
    """Two stations of the sag read, and a place of one's own added."""
    return driver.run(*BEGUN, "/go widths", READ, "/add tape cowl, hole, 62", *STRING, "1/2", "5/8")


@pytest.mark.parametrize("way", WAYS.values(), ids=WAYS)
def test_no_way_leads_round_a_caution_of_another_day(driver: Driver, way: tuple[str, ...]) -> None:
    readings = _evening(driver).survey.table(Reading)
    driver.clock.next_day()
    for line in way:
        driver.say(line)
    assert driver.at == "sag-loaded/caution/hold-stale"
    for line in ("1/2", "0; 0", "b o", "/skip no time"):
        assert driver.say(line).kind == "refused"
    assert len(driver.survey.table(Reading)) == len(readings)
    driver.run("understood")
    assert driver.at.startswith("set-supports/caution/")
    driver.run("understood", "understood")
    assert driver.at == "set-supports/push"
    driver.run("s")
    for caution in GATE:
        assert driver.at == caution
        driver.run("understood")
    assert driver.at.startswith("sag-loaded/")
    assert "/caution/" not in driver.at


def test_all_the_way_back_nothing_near_the_car_is_met_without_its_gate(driver: Driver) -> None:
    _evening(driver)
    driver.clock.next_day()
    driver.run("/go finish")
    met = set()
    while driver.say("/back").kind == "taken":
        met.add(driver.at)
        assert driver.sitting.step is not None
        near = "under" in driver.sitting.step.exposes
        assert "/caution/" in driver.at or not near, driver.at
    assert driver.at == "about-the-car/car"
    assert "sag-loaded/caution/hold-stale" in met


RAIL = "; ".join(["1/2"] * 6)
"""The five stations of one rail, and one of them again."""


@pytest.mark.parametrize("way", ["/go sag-loaded", "/back", "/strike !", "/undo"])
def test_a_finished_page_shows_its_gate_first_on_another_day(driver: Driver, way: str) -> None:
    driver.run(*BEGUN, *STRING, RAIL, RAIL)
    assert driver.at.split("/")[0] != "sag-loaded"
    driver.clock.next_day()
    driver.run(way)
    assert driver.at == "sag-loaded/caution/hold-stale"
    driver.run(*AGAIN)
    assert driver.at == GATE[0]
    driver.run("understood", "understood", "understood")
    assert driver.at.startswith("sag-loaded/")
    assert driver.sitting.waits() is (way in ("/strike !", "/undo"))


def test_on_the_same_evening_a_finished_page_is_come_back_to_without_reading_again(
    driver: Driver,
) -> None:
    driver.run(*BEGUN, *STRING, RAIL, RAIL, "/go sag-loaded")
    assert driver.at == "sag-loaded/front-crossmember/left"


def test_a_line_of_several_answers_ends_before_the_gate_of_the_next_page(driver: Driver) -> None:
    """What is read before the supports holds for all that is done there, whatever it rests on then."""
    driver.run(*BEGUN, "/go set-supports")
    while "/caution/" in driver.at:
        driver.run("understood")
    assert driver.at == "set-supports/supports"
    reply = driver.say("w; s; b o")
    assert (reply.kind, driver.at) == ("refused", "set-supports/supports")
    assert says(reply.says, "3 answers … 2 questions … Nothing was taken")
    assert driver.saved.state().supports == ""
    driver.run("w; s")
    assert driver.survey.answer_to("set-supports/push") == "still"
    assert driver.at == "history/knocked"
    driver.run("n")
    assert driver.at == "left-beside/caution/under-on-wheels"


def test_a_line_does_not_begin_at_a_caution(driver: Driver) -> None:
    driver.run(*BEGUN, "/go set-supports")
    for line in ("w; s", "understood; understood", "understood; w"):
        assert driver.say(line).kind == "refused"
    assert driver.saved.table(Ack) == ()


@pytest.fixture
def pushing(driver: Driver) -> Driver:
    """Before the push test, and all that the page asks before it answered."""
    driver.run(*BEGUN, "/go set-supports")
    while driver.at != "set-supports/push":
        assert driver.sitting.prompt is not None
        driver.run(likely(driver.sitting.prompt))
    return driver


@pytest.mark.parametrize("line", ["r", "r;"])
def test_after_a_push_test_that_rocks_one_stays_before_it(pushing: Driver, line: str) -> None:
    pushing.run(line)
    assert pushing.at == "set-supports/caution/hold-rocks"
    pushing.run("understood")
    assert pushing.at == "set-supports/push"


def test_a_line_does_not_run_on_over_a_push_test_that_rocks(pushing: Driver) -> None:
    assert pushing.say("r; s").kind == "refused"
    assert pushing.survey.answer_to("set-supports/push") == ""
    assert pushing.at == "set-supports/push", "a line that was refused makes nobody read again"


def test_a_caution_passed_over_leads_out_of_its_step(driver: Driver) -> None:
    driver.run(*BEGUN, "i", "l", "/go level", READ, "/go sag-loaded")
    assert driver.at == "sag-loaded/caution/string"
    driver.run("/next")
    assert step_of(driver.at) == "lift-engine"
    driver.run("/back")
    assert driver.at == "sag-loaded/caution/string"


def test_what_holds_the_car_passed_over_leads_past_all_that_waits_for_it_and_not_round_it(
    driver: Driver,
) -> None:
    driver.run(*BEGUN, "i", "l", "/go sag-loaded", "/next")
    assert driver.sitting.step is not None
    assert driver.sitting.step.unexposed
    assert "/caution/" not in driver.at
    driver.run("/back")
    while "/caution/" not in driver.at:
        driver.run("/back")
    assert driver.at.endswith("/caution/hold-unpushed")


def test_on_another_day_next_leads_to_a_page_that_needs_nobody_near_the_car(driver: Driver) -> None:
    _evening(driver)
    driver.clock.next_day()
    for _ in range(12):
        driver.run("/next")
        assert driver.sitting.step is not None
        # It stands on its wheels, where nothing is lifted.
        free = not {*driver.sitting.step.exposes} - {"beside-lifted"}
        assert "/caution/" in driver.at or free, driver.at


def test_the_engine_let_down_brings_the_cautions_back(driver: Driver) -> None:
    driver.run(*BEGUN, "i", "l", *STRING, "/go lift-engine", READ, "w", "s")
    driver.run("/go sag-unloaded", READ, "1/2", "/go lower-engine", READ)
    assert driver.at == "lower-engine/engine"
    driver.run("b")
    assert driver.at == "lower-engine/push", (
        "what was read on this visit holds until one leaves the page"
    )
    driver.run("s", "/go sag-loaded")
    for caution in GATE:
        assert driver.at == caution
        driver.run("understood")
    assert driver.at == "sag-loaded/front-crossmember/left"


def test_the_engine_let_down_and_not_pushed_holds_every_page_near_the_car(driver: Driver) -> None:
    driver.run(
        *BEGUN, "i", "l", *STRING, "/go lift-engine", READ, "w", "s", "/go lower-engine", READ, "b"
    )
    for step in ("sag-loaded", "level", "lower-engine", "left-beside"):
        driver.run(f"/go {step}")
        assert driver.at == f"{step}/caution/hold-changed"
    driver.run("/go history")
    assert step_of(driver.at) == "history"
    assert "/caution/" not in driver.at


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
    assert [a.answer for a in driver.saved.table(Answer) if a.prompt == "about-the-car/course"] == [
        "short",
        "whole",
    ]


def test_two_sittings_one_after_the_other_lose_nothing(tmp_path: Path) -> None:
    one = Driver(tmp_path).run(*BEGUN[:2])
    two = one.again().run(*BEGUN[2:4])
    three = two.again().run(*BEGUN[4:])
    alone = Driver(tmp_path / "alone").run(*BEGUN)
    assert three.saved.table(Answer) == alone.saved.table(Answer)


@pytest.mark.parametrize("left", ["/skip step rain", "/go horns", "/skip rain"])
def test_a_car_that_was_rolled_is_pushed_again_before_anybody_reaches_under_it(
    driver: Driver, left: str
) -> None:
    """However the page is left: its chocks were pulled, and nobody knows whether they are back."""
    driver.run(*BEGUN, "i", "t", "w", "/go set-supports", READ)
    while driver.sitting.prompt.step == "set-supports":
        driver.run(likely(driver.sitting.prompt))
    driver.run("/go wheelbase", READ, "103")
    assert step_of(driver.at) == "wheelbase", "on its own page it goes on"
    driver.run(left, "/go horns")
    assert driver.at == "horns/caution/hold-changed"
    driver.run(READ)
    assert step_of(driver.at) == "horns"
    assert [a.prompt for a in driver.survey.standing(Answer)][-1] == "set-supports/push"


def test_a_push_test_passed_over_after_a_roll_holds_the_rest_and_is_not_asked_for_ever(
    driver: Driver,
) -> None:
    driver.run(*BEGUN, "i", "t", "w", "/go set-supports", READ)
    while driver.sitting.prompt.step == "set-supports":
        driver.run(likely(driver.sitting.prompt))
    driver.run("/go wheelbase", READ, "103", "/go horns")
    for _ in range(9):
        if driver.sitting.prompt.kind.acknowledges:
            driver.run("understood")
    assert driver.at == "set-supports/push"
    driver.run("/skip nobody to help")
    assert driver.at.endswith("hold-skipped")
    driver.run("understood")
    for _ in range(60):
        if driver.sitting.prompt is not None:
            driver.run(
                "understood" if driver.sitting.prompt.kind.acknowledges else "/skip step no time"
            )
    assert driver.sitting.prompt is None
