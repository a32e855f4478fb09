"""Taking lines: all or none, doubts kept or typed again, and nothing moved when nothing could be
saved.
"""

import errno
import os
from pathlib import Path

import pytest

from tests.sitting.driving import BEGUN, READ, Clock, Driver, files
from tests.told import says
from wizard.library import load_library
from wizard.library.shapes import Library
from wizard.sitting.sitting import Sitting
from wizard.survey.prompts import Prompt
from wizard.survey.record import Survey
from wizard.survey.rows import Answer, Doubt, Look, Reading
from wizard.survey.toml import Unreadable

STRING = ("/go sag-loaded", READ)


def _doubt_over_30(survey: Survey, prompt: Prompt, typed: str) -> str:
    return (
        "That is a lot; measure once more."
        if typed.split()[0].isdigit() and int(typed.split()[0]) > 30
        else ""
    )


@pytest.fixture
def doubting(tmp_path: Path) -> Driver:
    return Driver(tmp_path, foretell=_doubt_over_30).run(*BEGUN, *STRING)


# The file -----------------------------------------------------------------------------------------
# ------------


def test_nothing_is_written_before_something_is_said(tmp_path: Path) -> None:
    driver = Driver(tmp_path / "new")
    driver.run("/why", "/help", "/trail", "/next", "/back")
    assert driver.sitting.path is None
    assert not (tmp_path / "new").exists()


def test_every_answer_is_saved_before_the_next_question(driver: Driver) -> None:
    for n, line in enumerate((*BEGUN, "i", "l", "w", "y"), start=1):
        driver.run(line)
        assert len(driver.saved.table(Answer)) == n
    assert driver.sitting.path is not None
    assert driver.sitting.path.name == "bramble-2026-04-11.toml"


@pytest.mark.parametrize(
    "first", ["/skip no name yet", "/remark found in a barn", "/photo 7", "/whole", "/next"]
)
def test_what_is_done_before_the_car_has_a_name_is_saved_too(driver: Driver, first: str) -> None:
    driver.run(first, "i")
    assert driver.sitting.path is not None
    assert driver.sitting.path.name == "car-2026-04-11.toml"
    assert driver.saved.rows == driver.survey.rows


def test_a_second_survey_of_the_day_gets_a_name_of_its_own(tmp_path: Path) -> None:
    paths = [Driver(tmp_path).run("Bramble").sitting.path for _ in range(3)]
    assert [p.name for p in paths if p] == [f"bramble-2026-04-11{n}.toml" for n in ("", "-2", "-3")]
    assert Driver(tmp_path, path=paths[1]).survey.id == "bramble-2026-04-11-2"


def test_a_file_that_is_named_is_written_though_it_is_not_there(tmp_path: Path) -> None:
    driver = Driver(tmp_path, path=tmp_path / "deep" / "mine.toml").run("Bramble")
    assert files(tmp_path / "deep") == ["mine.toml"]
    assert driver.saved.id == "mine"


@pytest.mark.parametrize(
    "data", [b"", b"format = 3", b"\xff\xfe", b"format = 1\n[[reading]]\ntyped = true"]
)
def test_a_file_that_cannot_be_read_is_never_overwritten(tmp_path: Path, data: bytes) -> None:
    path = tmp_path / "broken.toml"
    path.write_bytes(data)
    with pytest.raises(Unreadable):
        Driver(tmp_path, path=path)
    assert path.read_bytes() == data
    assert os.listdir(tmp_path) == ["broken.toml"]


@pytest.mark.parametrize("name", ["n" * 300, "plain/under.toml", "round.toml", "."])
def test_a_place_where_no_file_can_be_is_not_a_new_survey(tmp_path: Path, name: str) -> None:
    (tmp_path / "plain").write_text("x")
    (tmp_path / "round.toml").symlink_to("round.toml")
    with pytest.raises(Unreadable):
        Driver(tmp_path, path=tmp_path / name)


def test_a_frame_that_the_content_lacks_is_not_measured_as_another(tmp_path: Path) -> None:
    path = tmp_path / "s.toml"
    path.write_text('format = 1\n[survey]\nlayout = "coach-fr\\u001Bame"\n')
    with pytest.raises(
        Unreadable, match="a kind of frame, coach-frame, that this program does not know"
    ):
        Driver(tmp_path, path=path)


# A save that fails
# --------------------------------------------------------------------------------------------


def _full(monkeypatch: pytest.MonkeyPatch) -> None:
    def fail(_: int) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(os, "fsync", fail)


@pytest.mark.parametrize(
    "line",
    [
        "1/2",
        "1/2; 5/8",
        "/skip tank",
        "/remark x",
        "/undo",
        "/whole",
        "/photo 3",
        "/strike !",
        "/size track 1400 mm",
    ],
)
def test_on_a_full_disk_nothing_moves(
    driver: Driver, monkeypatch: pytest.MonkeyPatch, line: str
) -> None:
    driver.run(*BEGUN, *STRING)
    assert driver.sitting.path is not None
    before = driver.survey, driver.sitting.ask, driver.sitting.path.read_bytes()
    _full(monkeypatch)
    reply = driver.say(line)
    assert reply.kind == "refused"
    assert "No space left on device" in reply.says
    assert (driver.survey, driver.sitting.ask, driver.sitting.path.read_bytes()) == before
    assert files(driver.sitting.folder) == [driver.sitting.path.name]
    monkeypatch.undo()
    driver.run("1/2")
    assert driver.at == "sag-loaded/mid-engine/left"


def test_the_first_answer_too_waits_for_a_disk_with_room(
    driver: Driver, monkeypatch: pytest.MonkeyPatch
) -> None:
    _full(monkeypatch)
    assert driver.say("Bramble").kind == "refused"
    assert (driver.at, driver.survey.car) == ("about-the-car/car", "")
    assert os.listdir(driver.sitting.folder) == []
    monkeypatch.undo()
    assert driver.run("Bramble").saved.car == "Bramble"
    assert driver.saved.id == "bramble-2026-04-11"


def test_a_doubt_kept_on_a_full_disk_waits(
    doubting: Driver, monkeypatch: pytest.MonkeyPatch
) -> None:
    doubting.say("40")
    _full(monkeypatch)
    assert doubting.say("").kind == "refused"
    assert doubting.survey.table(Reading) == ()
    monkeypatch.undo()
    assert doubting.say("").kind == "taken"
    assert [r.typed for r in doubting.saved.table(Reading)] == ["40"]


def test_a_folder_that_is_a_file(tmp_path: Path) -> None:
    (tmp_path / "f").write_text("x")
    driver = Driver(tmp_path / "f")
    reply = driver.say("Bramble")
    assert (reply.kind, driver.at) == ("refused", "about-the-car/car")
    assert "folder cannot be used" in reply.says


# Refused ------------------------------------------------------------------------------------------
# ------------


@pytest.mark.parametrize(
    "line", ["", "ninety", "25 9/8", "1/2; ninety", "ninety; 1/2", ";", " ; ; ", "/nothing", "/"]
)
def test_what_is_refused_moves_and_saves_nothing(driver: Driver, line: str) -> None:
    driver.run(*BEGUN, *STRING)
    assert driver.sitting.path is not None
    before = driver.survey, driver.sitting.ask, driver.sitting.path.stat().st_mtime_ns
    reply = driver.say(line)
    assert reply.kind == "refused"
    assert reply.stops_burst
    assert reply.says
    assert (driver.survey, driver.sitting.ask, driver.sitting.path.stat().st_mtime_ns) == before


# Several on one line
# ------------------------------------------------------------------------------------------


def test_several_readings_on_one_line_go_to_one_prompt_each(driver: Driver) -> None:
    driver.run(*BEGUN, *STRING, "1/2; 5/8 ;3/4;")
    rows = [(r.prompt.split("/")[1], r.typed) for r in driver.saved.table(Reading)]
    assert rows == [("front-crossmember", "1/2"), ("mid-engine", "5/8"), ("engine-mount", "3/4")]
    assert driver.at == "sag-loaded/center/left"


@pytest.mark.parametrize("bad", ["9/8", "3 left", "understood", "/skip"])
def test_one_bad_part_and_none_is_taken(driver: Driver, bad: str) -> None:
    driver.run(*BEGUN, *STRING)
    reply = driver.say(f"1/2; 5/8; {bad}; 3/4")
    assert reply.kind == "refused"
    assert reply.says.startswith("Answer 3 of the line (left rail, rear engine mount): ")
    assert driver.saved.table(Reading) == ()
    assert driver.at == "sag-loaded/front-crossmember/left"


def test_a_doubt_in_the_middle_takes_none_either(doubting: Driver) -> None:
    assert doubting.say("1; 40; 2").kind == "refused"
    assert doubting.saved.table(Reading) == ()
    assert doubting.say("").kind == "refused", "there is no doubt left to keep"


def test_a_mark_on_a_part_keeps_it_in_advance(doubting: Driver) -> None:
    doubting.run("1; 40!; 2")
    assert [r.typed for r in doubting.saved.table(Reading)] == ["1", "40", "2"]
    assert [d.kept for d in doubting.saved.table(Doubt)] == ["in-advance"]


def test_a_line_runs_over_the_repeats_in_their_turn(driver: Driver) -> None:
    driver.run(*BEGUN, "i", "l", "/go long-diagonals", READ, "91; 92; 91 1/8; 92 1/8")
    box = "long-diagonals/whole/"
    readings = driver.survey.readings_of
    assert [r.typed for r in readings(f"{box}front-left--rear-right")] == ["91", "91 1/8"]
    assert [r.typed for r in readings(f"{box}front-right--rear-left")] == ["92", "92 1/8"]


def test_a_line_ends_with_the_page_whose_next_was_never_before_the_eyes(driver: Driver) -> None:
    driver.run(*BEGUN, "i", "l", "/go die-marks", READ, "b m")
    assert driver.at == "die-marks/left"
    before = driver.survey
    assert says(driver.say("b o; b o; b o").says, "3 answers … 1 question … Nothing was taken")
    assert driver.survey == before
    assert driver.at == "die-marks/left"


def test_a_note_may_hold_a_semicolon(driver: Driver) -> None:
    assert driver.run("Bramble; the green one").saved.car == "Bramble; the green one"


def test_more_answers_than_questions_take_none(driver: Driver) -> None:
    driver.run(*BEGUN)
    while driver.at != "finish/anything-else":
        driver.run("understood" if "/caution/" in driver.at else "/skip step not today")
    reply = driver.say("n; n")
    assert reply.kind == "refused"
    assert driver.survey.answer_to("finish/anything-else") == ""


# Doubts -------------------------------------------------------------------------------------------
# ------------


def test_an_empty_line_keeps_a_doubted_reading_with_the_doubt(doubting: Driver) -> None:
    reply = doubting.say("40")
    assert reply.kind == "doubted"
    assert reply.stops_burst
    assert doubting.saved.table(Reading) == ()
    assert doubting.say("  ").kind == "taken"
    doubt = doubting.saved.table(Doubt)[0]
    assert (doubt.kept, doubt.text) == ("asked", "That is a lot; measure once more.")
    assert doubt.reading == doubting.saved.table(Reading)[0].id
    assert doubting.at == "sag-loaded/mid-engine/left"


def test_a_doubted_reading_typed_again_leaves_no_trace(doubting: Driver) -> None:
    doubting.say("40")
    doubting.run("4")
    assert [r.typed for r in doubting.saved.table(Reading)] == ["4"]
    assert doubting.saved.table(Doubt) == ()


@pytest.mark.parametrize(
    "between", ["/back", "/next", "/go level", "/skip tank", "/undo", "ninety", "/remark x"]
)
def test_a_doubt_is_forgotten_once_something_else_is_done(doubting: Driver, between: str) -> None:
    doubting.say("40")
    doubting.say(between)
    doubting.say("")
    assert "40" not in [r.typed for r in doubting.saved.table(Reading)]


@pytest.mark.parametrize("between", ["/why", "/words sag", "/help", "/verdict"])
def test_a_doubt_outlasts_a_question(doubting: Driver, between: str) -> None:
    doubting.say("40")
    doubting.run(between)
    assert doubting.say("").kind == "taken"
    assert [r.typed for r in doubting.saved.table(Reading)] == ["40"]


# Properties ---------------------------------------------------------------------------------------
# ------------


def test_what_a_face_may_ask(driver: Driver) -> None:
    sitting = driver.run(*BEGUN).sitting
    assert sitting.prompt is not None
    assert sitting.step is not None
    page = sitting.page()
    assert page is not None
    assert (sitting.prompt.id, sitting.step.id, page.step.id, sitting.waits()) == (
        "state/engine",
    ) + ("state",) * 2 + (True,)
    driver.run("/back")
    assert not sitting.waits()


def test_a_survey_may_be_handed_over_without_a_file(tmp_path: Path) -> None:
    library: Library = load_library()
    sitting = Sitting(library, folder=tmp_path, survey=Survey(car="Bramble"), now=Clock())
    assert sitting.resumed is False
    assert sitting.enter("Bramble II").kind == "taken"
    assert files(tmp_path) == ["bramble-ii-2026-04-11.toml"]


def test_several_things_seen_at_one_place_are_several_rows(driver: Driver) -> None:
    driver.run(*BEGUN, "/go rail-tops", READ, "b t", "b lc")
    rows = [k.answer for k in driver.saved.table(Look) if k.prompt == "rail-tops/left"]
    assert rows == ["light-pitting", "crack"]


def test_as_many_readings_as_were_offered_are_asked_one_after_another(driver: Driver) -> None:
    driver.run(*BEGUN, "/go widths", READ, "26 1/2", "26 5/8")
    last = driver.survey.standing(Reading)[-1].prompt
    then = driver.at
    assert driver.sitting.once_more(last, 3)
    for nth in (2, 3, 4):
        assert (driver.at, driver.nth) == (last, nth)
        driver.run("26 5/8")
    assert driver.at == then
