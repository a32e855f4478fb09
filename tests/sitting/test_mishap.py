"""A fault of the program that nobody foresaw: one sentence, a few lines in a file, and on it goes."""

import io
import os
from pathlib import Path

import pytest

from tests.sitting.driving import BEGUN, Driver, files
from tests.told import says
from wizard.command import main
from wizard.sitting import commands, plain
from wizard.sitting.commands import Command
from wizard.sitting.mishap import LARGEST, LOG, mishap
from wizard.sitting.modes import PageMode
from wizard.sitting.reply import Reply
from wizard.sitting.sitting import Sitting
from wizard.survey.file import load
from wizard.survey.rows import Remark

pytestmark = pytest.mark.quick


def _broken(sitting: Sitting, rest: str) -> Reply:
    secret = "the owner's own words"  # noqa: F841
    raise ZeroDivisionError(f"on purpose {rest}")


@pytest.fixture
def fault(monkeypatch: pytest.MonkeyPatch) -> None:
    broken = (*commands.COMMANDS, Command("fall", "breaks", _broken))
    monkeypatch.setattr(commands, "COMMANDS", broken)


def _plain(driver: Driver, *lines: str, person: bool = True) -> tuple[int, str]:
    said: list[str] = []
    status = plain.run(driver.sitting, [f"{line}\n" for line in lines], said.append, person=person)
    return status, " ".join("\n".join(said).split())


@pytest.mark.usefixtures("fault")
def test_plain_prompts_tell_it_and_go_on(driver: Driver) -> None:
    driver.run(*BEGUN)
    status, told = _plain(driver, "/fall", "/remark after it", "/quit")
    assert status == 0
    assert says(told, "made a mistake (ZeroDivisionError) … Your answers are kept in")
    assert f"{LOG}." in told
    assert [m.text for m in driver.saved.table(Remark)] == ["after it"]


@pytest.mark.usefixtures("fault")
def test_a_pipe_stops_there_with_status_1(driver: Driver) -> None:
    driver.run(*BEGUN)
    status, told = _plain(driver, "/fall", "/remark after it", person=False)
    assert status == 1
    assert told.endswith("The lines after it were not taken.")


def test_a_page_that_cannot_be_told_still_asks_its_question(
    driver: Driver, monkeypatch: pytest.MonkeyPatch
) -> None:
    driver.run(*BEGUN)

    def broken(*_: object) -> None:
        raise KeyError("on purpose")

    monkeypatch.setattr(plain, "page_of", broken)
    status, told = _plain(driver, "/quit")
    assert status == 0
    assert "The program made a mistake (KeyError)" in told
    assert driver.sitting.prompt is not None
    assert driver.sitting.prompt.ask in told


def test_a_fault_in_the_model_leads_back_to_the_survey(
    driver: Driver, monkeypatch: pytest.MonkeyPatch
) -> None:
    driver.run(*BEGUN)

    def broken(*_: object) -> None:
        raise KeyError("on purpose")

    monkeypatch.setattr("wizard.sitting.model_desk.handle", broken)
    status, told = _plain(driver, "/model", "sag left 8 mm", "/remark after it", "/quit")
    assert status == 0
    assert "The program made a mistake (KeyError)" in told
    assert [m.text for m in driver.saved.table(Remark)] == ["after it"]


@pytest.mark.parametrize("command", ["tell", "report", "compare", "sheet", "content"])
def test_the_command_line_tells_it_in_one_sentence(
    tmp_path: Path,
    command: str,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    path = Driver(tmp_path).run(*BEGUN).sitting.path

    def broken(*_: object, **__: object) -> None:
        raise RecursionError("on purpose")

    for name in ("wizard.library.load_library", "wizard.library.load.read_content"):
        monkeypatch.setattr(name, broken)
    args = {"compare": [str(path), str(path)], "content": []}.get(command, [str(path)])
    assert main(["--folder", str(tmp_path), command, *args]) == 1
    told = capsys.readouterr().err
    assert told.startswith("The program made a mistake (RecursionError).")
    assert told.count("\n") == 1
    assert LOG in files(tmp_path)


@pytest.mark.usefixtures("fault")
def test_the_file_names_the_place_and_nothing_that_was_in_hand(driver: Driver) -> None:
    driver.run(*BEGUN)
    _plain(driver, "/fall \x1b[2J x", "/quit")
    told = (driver.sitting.folder / LOG).read_text()
    assert "test_mishap.py" in told
    assert "ZeroDivisionError: on purpose" in told
    assert "owner's own words" not in told
    assert "\x1b" not in told
    assert len(told) < 3000
    mishap(ValueError("\x1b[2J\nsecond line"), driver.sitting.folder)
    assert "\x1b" not in (driver.sitting.folder / LOG).read_text()


def test_the_file_never_grows_without_end_and_no_pipe_or_link_is_followed(tmp_path: Path) -> None:
    for _ in range(1200):
        mishap(ValueError("x" * 500), tmp_path)
    assert (tmp_path / LOG).stat().st_size < 2 * LARGEST
    (tmp_path / LOG).unlink()
    os.mkfifo(tmp_path / LOG)
    assert LOG not in mishap(ValueError("x"), tmp_path)
    (tmp_path / LOG).unlink()
    (tmp_path / LOG).symlink_to(tmp_path / "elsewhere")
    assert LOG not in mishap(ValueError("x"), tmp_path)
    assert not (tmp_path / "elsewhere").exists()


def test_without_a_folder_nothing_is_made(tmp_path: Path) -> None:
    assert mishap(ValueError("x"), tmp_path / "gone") == "The program made a mistake (ValueError)."
    assert not (tmp_path / "gone").exists()


# Names --------------------------------------------------------------------------------------------
# --------------


def test_a_report_named_by_a_home_that_there_is_not_is_one_sentence(driver: Driver) -> None:
    driver.run(*BEGUN)
    reply = driver.say("/report ~draft.html")
    assert reply.kind == "refused"
    assert says(reply.says, "~draft.html … no home folder … leave out the ~")
    assert ". " not in reply.says
    assert not (driver.sitting.folder / "~draft.html").exists()


@pytest.mark.parametrize("name", ["x" * 5000, "a/" * 3000, "..", ".", "/"])
def test_an_odd_name_is_one_sentence(
    tmp_path: Path, name: str, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("CROSSTAPE_FOLDER", str(tmp_path))
    monkeypatch.setattr("sys.stdin", io.StringIO(""))
    for args in (["tell", name], ["ask", name], ["ask", "--new", name]):
        status = main(args)
        told = capsys.readouterr()
        assert (status, told.err.count("\n")) == (1, 1), (args[:-1], told)
        assert "The program made a mistake" not in told.err


def test_a_file_name_in_bytes_of_another_kind_takes_answers(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("CROSSTAPE_FOLDER", str(tmp_path))
    monkeypatch.setattr("sys.stdin", io.StringIO("Bramble\ni\n"))
    assert main(["ask", "--new", os.fsdecode(b"br\xe9mble")]) == 0
    assert "The program made a mistake" not in capsys.readouterr().out
    (name,) = files(tmp_path)
    assert load(tmp_path / name).car == "Bramble"
    assert main(["tell", os.fsdecode(b"br\xe9mble")]) == 0


def test_a_fault_behind_an_answer_that_is_kept_is_never_told_as_not_taken(
    driver: Driver, monkeypatch: pytest.MonkeyPatch
) -> None:
    driver.run(*BEGUN)

    def broken(*_: object) -> None:
        raise KeyError("on purpose")

    monkeypatch.setattr("wizard.sitting.words.said_back", broken)
    reply = PageMode(driver.sitting).line("/remark it stands")
    assert [m.text for m in driver.saved.table(Remark)] == ["it stands"]
    assert reply.kind == "taken"
    assert reply.says.startswith("Your answer is kept.")
    assert LOG in files(driver.sitting.folder)
    with pytest.raises(KeyError):
        PageMode(driver.sitting).line("/why")
