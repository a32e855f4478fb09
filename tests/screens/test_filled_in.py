"""The opening page is up before any survey is read; each is filled in as it is, and keys work
meanwhile.
"""

from __future__ import annotations

import re
import threading
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.screens.conftest import NAMED, NOON, text_of, type_line
from tests.sitting.driving import finished
from wizard.library import load_library
from wizard.screens.desk import Desk
from wizard.screens.mode import Space
from wizard.screens.opening import Opening
from wizard.screens.paper import as_text
from wizard.sitting import shelf

FOLDER = Path("Surveys")


@pytest.fixture
def surveys() -> Path:
    """A finished one, one that goes on, and one that cannot be opened; the newest last."""
    finished(FOLDER)
    desk = Desk(load_library(), FOLDER, lambda: NOON)
    for line in ("n", "Old Post", *NAMED[1:]):
        desk.line(line)
    assert desk.sitting
    assert desk.sitting.kept
    desk.sitting.kept.release()
    (FOLDER / "torn.toml").write_text("format = [", encoding="utf-8")
    return FOLDER


class Disk:
    """A disk that answers when it is let."""

    def __init__(self) -> None:
        self.may = threading.Event()
        self.asked = 0

    def listed(self, path: Path, *about: object) -> shelf.Listed:
        """What it says of a survey, in its time."""
        self.asked += 1
        assert self.may.wait(60), "nobody let the disk answer"
        return shelf.listed(path, *about)  # type: ignore[arg-type]


@pytest.fixture
def disk(monkeypatch: pytest.MonkeyPatch) -> Iterator[Disk]:
    """In the way of the wizard's own reading."""
    disk = Disk()
    monkeypatch.setattr("wizard.screens.app.listed", disk.listed)
    yield disk
    disk.may.set()


def _opening(folder: Path, later: bool) -> Opening:
    return Opening(folder, load_library(), lambda: NOON, later=later)


def _lines(opening: Opening) -> str:
    return as_text(opening.lines(Space(100, 40, "blocks")))


def test_once_all_are_read_the_page_is_the_one_that_waited(surveys: Path) -> None:
    at_once, later = _opening(surveys, False), _opening(surveys, True)
    assert len(later.unread) == 3
    for n, path in enumerate(later.unread):
        assert _lines(later).count("being read") == 3 - n
        assert not any(item.name.isdigit() for item in later.items)
        later.take(shelf.listed(path, load_library(), NOON))
    assert later.unread == ()
    assert _lines(later) == _lines(at_once)
    assert [i.name for i in later.items] == [i.name for i in at_once.items]


def test_one_survey_alone_has_its_number_before_it_is_read() -> None:
    finished(FOLDER)
    opening = _opening(FOLDER, True)
    assert [i.name for i in opening.items if i.kind == "survey"] == ["1"]
    assert "Go on with a survey" not in _lines(opening)
    assert re.search(r"^Your surveys\n> 1 ", _lines(opening), re.MULTILINE)
    opening.take(shelf.listed(opening.unread[0], load_library(), NOON))
    assert re.search(r"^Finished\n> 1 ", _lines(opening), re.MULTILINE)


def test_no_survey_is_read_for_the_first_page(
    surveys: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def read(*_: object) -> None:
        raise AssertionError("a survey was read")

    monkeypatch.setattr("wizard.survey.file.read", read)
    assert "Old Post" in _lines(_opening(surveys, True))
    with pytest.raises(AssertionError):
        _opening(surveys, False)


def test_a_number_typed_early_means_what_it_will_stand_for(surveys: Path) -> None:
    chosen = {_opening(surveys, later).line("2").file for later in (False, True)}
    assert len(chosen) == 1
    assert None not in chosen


def test_the_mark_stays_on_its_survey(surveys: Path) -> None:
    opening = _opening(surveys, True)
    opening.marked = next(n for n, i in enumerate(opening.items) if i.words == "Old Post")
    for path in opening.unread:
        opening.take(shelf.listed(path, load_library(), NOON))
    assert opening.items[opening.marked].words == "Old Post"
    assert opening.items[opening.marked].name


def test_what_is_read_twice_or_is_not_listed_changes_nothing(surveys: Path) -> None:
    opening = _opening(surveys, True)
    path = opening.unread[0]
    one = shelf.listed(path, load_library(), NOON)
    opening.take(one)
    before = opening.items
    opening.take(one)
    opening.take(shelf.Listed(Path("elsewhere.toml"), "x", NOON))
    assert opening.items == before


async def test_keys_work_while_the_disk_does_not_answer(surveys: Path, disk: Disk, build) -> None:
    app = build()
    async with app.run_test() as pilot:
        while not disk.asked:
            await pilot.pause()
        assert text_of(app).count("being read") == 3
        await type_line(pilot, "n")
        assert "What do you call this car?" in text_of(app)
        disk.may.set()


async def test_each_is_filled_in_as_it_is_read(surveys: Path, disk: Disk, build) -> None:
    app = build()
    async with app.run_test() as pilot:
        await pilot.pause()
        disk.may.set()
        while app.desk.opening.unread:
            await pilot.pause()
        await pilot.pause()
        text = text_of(app)
    assert "being read" not in text
    assert "Finished" in text
    assert "cannot be opened: torn.toml" in text


async def test_a_fault_while_reading_is_told_in_its_line(
    surveys: Path, monkeypatch: pytest.MonkeyPatch, build
) -> None:
    def broken(*_: object) -> None:
        raise ZeroDivisionError

    monkeypatch.setattr("wizard.screens.app.listed", broken)
    app = build()
    async with app.run_test() as pilot:
        while app.desk.opening.unread:
            await pilot.pause()
        await pilot.pause()
        assert text_of(app).count("cannot be opened") == 3
        await type_line(pilot, "n")
        assert "What do you call this car?" in text_of(app)
