"""A survey that is somebody else's too: a second wizard, an editor, a sync folder; nothing of
theirs is overwritten.
"""

import errno
import os
from pathlib import Path

import pytest

from tests.sitting.driving import BEGUN, Driver, files
from tests.told import says
from wizard.library import load_library
from wizard.screens.desk import Desk
from wizard.screens.stage import stage
from wizard.sitting.plain import run
from wizard.survey.file import load
from wizard.survey.kept import KeptFile

pytestmark = pytest.mark.quick

NAME, COPY = "bramble-2026-04-11.toml", "bramble-2026-04-11-2.toml"
BUSY = f"{NAME} is open in another window … nothing can be saved here … /copy"


@pytest.fixture
def first(tmp_path: Path) -> Driver:
    return Driver(tmp_path).run(*BEGUN[:2])


def _second(first: Driver) -> Driver:
    return Driver(first.sitting.folder, path=first.sitting.path, clock=first.clock)


# A second wizard
# ----------------------------------------------------------------------------------------------


def test_the_second_is_told_may_read_and_writes_nothing(first: Driver) -> None:
    second = _second(first)
    before = first.sitting.folder / NAME, (first.sitting.folder / NAME).read_bytes()
    assert says(second.sitting.busy, BUSY)
    second.run("/why", "/trail", "/help")
    for line in (BEGUN[2], "/remark rust", "/undo", "/skip not today"):
        reply = second.say(line)
        assert reply.kind == "refused"
        assert says(reply.says, BUSY)
    assert before[0].read_bytes() == before[1]
    first.run(BEGUN[2])
    assert len(first.saved.rows["answer"]) == 3


def test_the_second_goes_on_in_a_new_file(first: Driver) -> None:
    second = _second(first)
    reply = second.say("/copy")
    assert (reply.kind, reply.says) == ("taken", f"You go on in {COPY}. {NAME} stays as it is.")
    second.run(BEGUN[2])
    first.run("/remark the first goes on too")
    assert files(first.sitting.folder) == sorted([NAME, COPY])
    assert second.saved.id == COPY[:-5]
    assert (len(second.saved.rows["answer"]), len(first.saved.rows["answer"])) == (3, 2)
    assert second.sitting.busy == ""


def test_once_the_first_is_done_the_second_may_write_if_nothing_was_changed(first: Driver) -> None:
    second = _second(first)
    assert first.sitting.kept
    first.sitting.kept.release()
    second.run(BEGUN[2])
    assert len(second.saved.rows["answer"]) == 3
    assert second.sitting.busy == ""


def test_once_the_first_has_written_the_second_still_may_not(first: Driver) -> None:
    second = _second(first)
    first.run(BEGUN[2])
    assert first.sitting.kept
    first.sitting.kept.release()
    reply = second.say(BEGUN[2])
    assert reply.kind == "refused"
    assert "another program has changed" in reply.says
    assert len(first.saved.rows["answer"]) == 3


def test_two_that_start_the_same_car_at_once_get_a_file_each(tmp_path: Path) -> None:
    one, two = Driver(tmp_path), Driver(tmp_path)
    held = KeptFile(tmp_path / NAME)
    held.hold()  # another wizard stands just before its first save
    one.run("Bramble")
    two.run("Bramble")
    assert [d.sitting.path.name for d in (one, two) if d.sitting.path] == [
        COPY,
        COPY.replace("-2.", "-3."),
    ]


def test_plain_prompts_tell_first_and_a_pipe_stops(first: Driver) -> None:
    said: list[str] = []
    status = run(_second(first).sitting, ["x\n", "y\n"], said.append, person=False)
    assert says(said[0], BUSY)
    assert status == 1
    assert said[-1] == "The lines after it were not taken."


def test_the_screen_tells_first_and_keeps_telling(first: Driver) -> None:
    desk = Desk(load_library(), first.sitting.folder, first.clock)
    desk.open(first.sitting.path)
    assert says(desk.said.says, BUSY)
    shown = stage(desk, 100, 30, "ascii")
    assert "open elsewhere, not saved here" in "".join(text for text, _ in shown.top[0])
    assert desk.line("/copy").stops_burst is False
    assert desk.said.says.startswith(f"You go on in {COPY}")
    shown = stage(desk, 100, 30, "ascii")
    assert "open elsewhere" not in "".join(text for text, _ in shown.top[0])


# Changed on disk
# ----------------------------------------------------------------------------------------------


def _edit(path: Path, keep_times: bool) -> bytes:
    """As an editor would, with the same length and, like a careful copy, the same times."""
    data, times = path.read_bytes().replace(b"Bramble", b"Brambel"), path.stat()
    path.write_bytes(data)
    if keep_times:
        os.utime(path, ns=(times.st_atime_ns, times.st_mtime_ns))
    return data


@pytest.mark.parametrize("keep_times", [False, True])
def test_what_an_editor_wrote_is_not_overwritten(first: Driver, keep_times: bool) -> None:
    path = first.sitting.folder / NAME
    theirs, before = _edit(path, keep_times), first.survey
    reply = first.say(BEGUN[2])
    assert reply.kind == "refused"
    assert says(reply.says, f"Not saved: another program has changed {NAME} … /copy")
    assert (path.read_bytes(), first.survey) == (theirs, before)
    first.run("/copy", BEGUN[2])
    assert path.read_bytes() == theirs
    assert len(first.saved.rows["answer"]) == 3
    assert files(path.parent) == sorted([NAME, COPY])


def test_a_sync_folder_that_puts_the_same_bytes_there_changes_nothing(first: Driver) -> None:
    path = first.sitting.folder / NAME
    fresh = path.with_suffix(".part")
    fresh.write_bytes(path.read_bytes())
    os.replace(fresh, path)
    os.utime(path, (1, 1))
    first.run(BEGUN[2])
    assert len(first.saved.rows["answer"]) == 3


def test_a_file_that_appeared_where_a_new_one_was_to_be_is_left(tmp_path: Path) -> None:
    driver = Driver(tmp_path, path=tmp_path / "mine.toml")
    (tmp_path / "mine.toml").write_text("theirs")
    assert "another program has changed" in driver.say("Bramble").says
    assert (tmp_path / "mine.toml").read_text() == "theirs"


def test_a_file_that_vanished_is_written_again_whole_and_told(first: Driver) -> None:
    path = first.sitting.folder / NAME
    path.unlink()
    reply = first.say(BEGUN[2])
    assert reply.says.startswith(f"{NAME} was gone from its folder, so it was written again whole.")
    assert len(load(path).rows["answer"]) == 3
    assert "was gone" not in first.say("/remark x").says


def test_a_folder_that_vanished_is_made_again(first: Driver) -> None:
    folder = first.sitting.folder
    for name in os.listdir(folder):
        (folder / name).unlink()
    folder.rmdir()
    first.run(BEGUN[2])
    assert len(load(folder / NAME).rows["answer"]) == 3


def test_a_copy_that_cannot_be_written_leaves_things_as_they_were(
    first: Driver, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(_: int) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(os, "fsync", fail)
    assert first.say("/copy").kind == "refused"
    monkeypatch.undo()
    assert files(first.sitting.folder) == [NAME]
    first.run(BEGUN[2])
    assert len(load(first.sitting.folder / NAME).rows["answer"]) == 3


def test_after_a_flush_of_the_folder_that_failed_the_same_answer_can_be_given_again(
    first: Driver, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(_: str) -> None:
        raise OSError(errno.EIO, "Input/output error")

    monkeypatch.setattr("wizard.survey.file._sync_folder", fail)
    assert first.say(BEGUN[2]).kind == "refused"
    monkeypatch.undo()
    first.run(BEGUN[2])
    assert len(first.saved.rows["answer"]) == 3


def test_nothing_to_copy_yet(tmp_path: Path) -> None:
    assert Driver(tmp_path).say("/copy").kind == "refused"
