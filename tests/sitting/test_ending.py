"""How a sitting ends: `saved` is said of a file that was seen, and what is in memory outlives a
lost one.
"""

import io
import os
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.sitting.driving import BEGUN, Driver, files, finished
from tests.told import says
from wizard.command import main
from wizard.library import load_library
from wizard.screens.desk import Desk
from wizard.sitting.ending import ending
from wizard.sitting.plain import run
from wizard.survey.file import load

pytestmark = pytest.mark.quick

NAME = "bramble-2026-04-11.toml"


@pytest.fixture
def begun(driver: Driver) -> Driver:
    return driver.run(*BEGUN)


def _plain(driver: Driver, *lines: str) -> str:
    said: list[str] = []
    run(driver.sitting, [f"{line}\n" for line in lines], said.append, person=True)
    return " ".join("\n".join(said).split())


def _path(driver: Driver) -> Path:
    assert driver.sitting.path is not None
    return driver.sitting.path


def test_saved_is_said_of_what_is_there(begun: Driver) -> None:
    end = ending(begun.sitting)
    assert (end.saved, end.trouble) == (True, False)
    assert end.says == f"Saved in {_path(begun)}."
    assert begun.say("/quit").says == f"{end.says} Start Crosstape again to go on."


@pytest.mark.parametrize("named", [True, False])
def test_nothing_typed_is_not_called_saved(tmp_path: Path, named: bool) -> None:
    driver = Driver(tmp_path, path=tmp_path / "new.toml" if named else None)
    assert _plain(driver).endswith("You stopped before the end. You wrote nothing down yet.")
    assert driver.say("/quit").says == "You wrote nothing down yet."
    assert files(tmp_path) == []


def test_a_survey_that_was_only_looked_at_is_not_called_saved(begun: Driver) -> None:
    again = begun.again()
    assert "You wrote down nothing new. " in _plain(again, "/why")
    assert "saved" not in again.say("/quit").says.lower()


def test_a_survey_open_elsewhere_is_not_called_saved(begun: Driver) -> None:
    second = Driver(begun.sitting.folder, path=_path(begun), clock=begun.clock)
    assert second.say("/quit").says.startswith("Nothing was saved from here: ")


LOST: dict[str, Callable[[Path], object]] = {
    "gone": lambda p: p.unlink(),
    "emptied": lambda p: p.write_bytes(b""),
}


@pytest.mark.parametrize("how", LOST)
@pytest.mark.parametrize("way", ["/quit", "end of the lines", "model", "screen", "screen's model"])
def test_what_is_in_memory_is_written_again_and_told(begun: Driver, how: str, way: str) -> None:
    path, before = _path(begun), begun.survey
    if way.startswith("screen"):
        assert begun.sitting.kept is not None
        begun.sitting.kept.release()
        desk = Desk(load_library(), begun.sitting.folder, begun.clock)
        desk.open(path)
        LOST[how](path)
        if way == "screen's model":
            desk.line("/model")
        desk.key("f10")
        told = desk.farewell
    else:
        LOST[how](path)
        lines = {"/quit": ["/quit"], "model": ["/model", "quit"], "end of the lines": []}[way]
        told = _plain(begun, *lines)
    assert (
        "was gone from its folder" if how == "gone" else "had been emptied by another program"
    ) in told
    assert "written again whole" in told
    assert load(path).rows == before.rows


def test_a_folder_that_is_gone_too_is_made_again(begun: Driver) -> None:
    path = _path(begun)
    for inside in path.parent.iterdir():
        inside.unlink()
    path.parent.rmdir()
    assert "written again whole" in ending(begun.sitting).says
    assert load(path).rows == begun.survey.rows


def test_an_answer_after_the_file_was_emptied_is_saved_with_all_before_it(begun: Driver) -> None:
    _path(begun).write_bytes(b"")
    reply = begun.say("/remark still here")
    assert "had been emptied by another program" in reply.says
    assert load(_path(begun)).rows == begun.survey.rows


def test_what_another_program_wrote_stays_and_what_it_dropped_is_in_a_copy(begun: Driver) -> None:
    path, mine = _path(begun), begun.survey
    theirs = 'format = 1\n[survey]\ncar = "Other"\n'
    path.write_text(theirs)
    end = ending(begun.sitting)
    assert says(end.says, "Another program has changed … left as it is … you wrote is saved in")
    assert path.read_text() == theirs
    assert load(_path(begun)).rows == mine.rows
    assert _path(begun) != path


def test_an_editor_that_kept_all_rows_makes_no_copy(begun: Driver) -> None:
    path = _path(begun)
    path.write_bytes(path.read_bytes().replace(b"Bramble", b"Brambel"))
    end = ending(begun.sitting)
    assert says(end.says, "Another program has changed … so it is left as it is.")
    assert files(path.parent) == [NAME]


def test_what_was_only_looked_at_makes_no_copy(begun: Driver) -> None:
    again = begun.again()
    path = _path(again)
    path.write_text('format = 1\n[survey]\ncar = "Other"\n')
    said = ending(again.sitting).says
    assert says(said, "Another program has changed … so it is left as it is.")
    assert files(path.parent) == [NAME]


def test_where_nothing_can_be_written_it_is_never_called_saved(
    begun: Driver, monkeypatch: pytest.MonkeyPatch
) -> None:
    _path(begun).unlink()

    def full(*_: object, **__: object) -> int:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "open", full)
    end = ending(begun.sitting)
    assert end.trouble
    assert not end.saved
    assert "could NOT be saved" in end.says


# Names on the command line
# --------------------------------------------------------------------------------------


@pytest.fixture
def shelf(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("CROSSTAPE_FOLDER", str(tmp_path / "surveys"))
    (tmp_path / "here").mkdir()
    monkeypatch.chdir(tmp_path / "here")
    return tmp_path / "surveys"


def _ask(monkeypatch: pytest.MonkeyPatch, typed: str, *args: str) -> int:
    monkeypatch.setattr("sys.stdin", io.StringIO(typed))
    return main(["ask", *args])


@pytest.mark.parametrize("name", ["bramble", "bramble.toml", "deep/bramble.toml"])
def test_a_mistyped_name_is_refused_and_begins_nothing(
    shelf: Path, name: str, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    assert _ask(monkeypatch, "Bramble\ni\n", name) == 1
    told = capsys.readouterr()
    assert told.out == ""
    assert told.err.count("\n") == 1
    assert "crosstape ask --new" in told.err
    assert files(shelf.parent) == ["here"]
    assert files(shelf.parent / "here") == []


def test_a_bare_name_is_a_survey_of_the_folder(
    shelf: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    assert _ask(monkeypatch, "Bramble\ni\n", "--new", "bramble") == 0
    assert files(shelf) == ["bramble.toml"]
    assert files(shelf.parent / "here") == []
    for name in ("bramble", "bramble.toml"):
        assert main(["tell", name]) == 0
    assert _ask(monkeypatch, "s\n", "bramble") == 0
    assert _ask(monkeypatch, "s\n", "--new", "bramble") == 1
    assert "There is already a survey" in capsys.readouterr().err


def test_the_beginning_of_a_name_will_do_where_only_one_begins_so(
    shelf: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    assert _ask(monkeypatch, "Old Post\ni\n") == 0
    assert main(["tell", "old-post"]) == 0
    assert main(["tell", "Old Post"]) == 0
    assert _ask(monkeypatch, "Old Post\ni\n") == 0
    capsys.readouterr()
    assert main(["tell", "old-post"]) == 1
    assert capsys.readouterr().err.startswith("2 surveys begin with old-post (old-post-20")


def test_a_file_of_the_folder_one_stands_in_comes_first(
    shelf: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    shelf.mkdir()
    (shelf / "b.toml").write_text('format = 1\n[survey]\ncar = "Shelved"\n')
    Path("b.toml").write_text('format = 1\n[survey]\ncar = "Here"\n')
    assert main(["tell", "b.toml"]) == 0
    assert main(["tell", "b"]) == 0
    assert [
        line for line in capsys.readouterr().out.splitlines() if line in ("Here", "Shelved")
    ] == ["Here", "Shelved"]


@pytest.mark.parametrize("line", ["27 13/16", "27 13/16; 28"])
def test_a_figure_where_no_question_is_open_is_told_as_not_taken(tmp_path: Path, line: str) -> None:
    driver = finished(tmp_path / "end")
    before = driver.survey
    reply = driver.say(line)
    assert reply.kind == "refused"
    assert says(reply.says, f"No question is open … {line} is not written down")
    assert "/go" in reply.says
    assert driver.survey is before
    assert "Every question is answered" in driver.say("").says


def test_enter_alone_where_words_must_stand_is_told_in_both_faces(tmp_path: Path) -> None:
    assert "You typed nothing: type a few words." in _plain(Driver(tmp_path / "plain"), "")
    desk = Desk(load_library(), tmp_path / "screen", Driver(tmp_path).clock)
    desk.line("n")
    for typed in ("", "  "):
        desk.line(typed)
        assert "You typed nothing: type a few words." in desk.said.says
