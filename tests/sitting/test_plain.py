"""The same survey line by line: for a screen reader, a dumb terminal, a pipe."""

from pathlib import Path

import pytest

from tests.sitting.driving import BEGUN, READ, Driver, finished, likely
from tests.told import says
from wizard.sitting.plain import WIDTH, run
from wizard.survey.rows import Answer
from wizard.telling.big_letters import big


def _told(driver: Driver, *lines: str, person: bool = False) -> tuple[int, str]:
    said: list[str] = []
    status = run(driver.sitting, [f"{line}\n" for line in lines], said.append, person=person)
    return status, "\n".join(said)


def test_a_pipe_that_ends_early_is_no_fault(driver: Driver) -> None:
    status, told = _told(driver, *BEGUN)
    assert status == 0
    assert says(told, "You stopped before the end … saved in bramble-2026-04-11.toml.")
    assert driver.saved.car == "Bramble"


def test_a_pipe_stops_at_the_first_refusal_with_everything_before_saved(driver: Driver) -> None:
    status, told = _told(driver, *BEGUN[:2], "all of it", *BEGUN[2:])
    assert status == 1
    assert told.endswith("The lines after it were not taken.")
    assert driver.saved.unit == "in"
    assert [a.prompt for a in driver.saved.table(Answer)] == [
        "about-the-car/car",
        "about-the-car/unit",
    ]


def test_a_pipe_stops_at_a_doubt_too(tmp_path: Path) -> None:
    driver = Driver(tmp_path, foretell=lambda *_: "That is odd; measure once more.")
    driver.run(*BEGUN, "/go sag-loaded", READ)
    before = driver.survey
    status, told = _told(driver, "1/2", "")
    assert status == 1
    assert "That is odd; measure once more." in told
    assert driver.survey is before


def test_at_a_keyboard_a_refusal_asks_again(driver: Driver) -> None:
    status, told = _told(driver, "Bramble", "neither", "i", "/quit", person=True)
    assert status == 0
    assert told.count("When you type only a number, is it inches or millimeters?  [") == 2
    assert driver.saved.unit == "in"


def test_quit_ends_and_the_rest_is_not_read(driver: Driver) -> None:
    status, told = _told(driver, "Bramble", "/quit", "i", "nonsense")
    assert (status, driver.at) == (0, "about-the-car/unit")
    assert " ".join(told.split()).endswith(
        "bramble-2026-04-11.toml. Start Crosstape again to go on."
    )


def test_a_step_is_told_once_and_each_question_every_time(driver: Driver) -> None:
    told = _told(driver, *BEGUN)[1]
    assert told.count("== About the car ==") == 1
    assert told.count("== The car as you found it ==") == 1
    assert "    m  millimeters, such as 657" in told
    assert "[one letter]" in told


def test_a_caution_is_read_out_whole(driver: Driver) -> None:
    driver.run(*BEGUN, "/go level", READ)
    told = _told(driver, "/go sag-loaded")[1]
    caution = driver.sitting.library.cautions["string"]
    for line in (f"Caution: {caution.title}", *caution.lines):
        assert line in told
    assert all(f"Source: {source}" in told for source in caution.sources)


def test_the_moves_of_a_page_come_after_all_that_is_read_before_it(driver: Driver) -> None:
    driver.run(*BEGUN, "/go level", READ)
    step = driver.sitting.library.steps["sag-loaded"]
    moves = (step.why, step.good, *(move for move in step.how if "string" in move))
    for caution in ("string", "old-paint"):
        told = " ".join(_told(driver, "/go sag-loaded")[1].split())
        assert driver.at == f"sag-loaded/caution/{caution}"
        told = told.partition("Before the page: Sag with the engine's weight on")[2]
        assert driver.sitting.library.cautions[caution].lines[0] in told
        assert not [move for move in moves if move in told]
        driver.run("understood")
    told = " ".join(_told(driver)[1].split())
    assert [move for move in moves if move not in told] == []
    assert "Caution: " not in told


def test_what_holds_the_car_is_told_in_the_largest_letters(driver: Driver) -> None:
    told = _told(driver, *BEGUN, "/go sag-loaded")[1]
    caution = driver.sitting.library.cautions["hold-unpushed"]
    for row in big(caution.big):
        assert row.strip() in told
    for line in (f"Caution: {caution.title}", *caution.lines):
        assert line in told


def test_what_was_asked_for_is_told_and_the_question_stays(driver: Driver) -> None:
    told = _told(driver, "Bramble", "/why", "i")[1]
    assert "\nWhy this matters\n" in told
    assert told.count("When you type only a number, is it inches or millimeters?  [") == 2, (
        "before what was asked for and behind it"
    )


def test_no_line_is_wider_than_a_terminal(driver: Driver) -> None:
    lines = []
    probe = Driver(driver.sitting.folder / "probe", clock=driver.clock)
    while probe.sitting.prompt is not None:
        lines.append(likely(probe.sitting.prompt))
        probe.run(lines[-1])
    status, told = _told(driver, *lines)
    assert status == 0
    assert max(map(len, told.splitlines())) <= 110
    prose = [
        line for line in told.splitlines() if line.startswith("  ") and line.strip()[:1].isdigit()
    ]
    assert max(map(len, prose)) <= WIDTH + 4


def test_at_the_end_the_verdict_is_told(tmp_path: Path) -> None:
    driver = finished(tmp_path)
    status, told = _told(driver)
    assert status == 0
    assert "The answer" in told
    assert "safe to drive" not in told.lower()


@pytest.mark.parametrize("end", ["\n", "\r\n", ""])
def test_line_ends_of_any_system(driver: Driver, end: str) -> None:
    run(driver.sitting, [f"Bramble{end}", f"i{end}"], lambda _: None, person=False)
    assert (driver.saved.car, driver.saved.unit) == ("Bramble", "in")
