"""The same frame, a season later: a new file, the earlier one untouched, old figures hidden until
the new are in.
"""

from __future__ import annotations

import os
import shutil
from datetime import datetime
from pathlib import Path

import pytest

from tests.checks.surveys import library
from tests.sitting.driving import BEGUN, Clock, Driver, finished, likely
from tests.told import says
from wizard.library.paths import samples_dir
from wizard.sitting.commands import handle
from wizard.sitting.foretold import foretell_with
from wizard.sitting.paging import page_of
from wizard.sitting.plain import run
from wizard.sitting.recheck import BACKUP, backup, measure_again, recalled, start
from wizard.sitting.sitting import Sitting
from wizard.survey.file import NotSaved, load, save
from wizard.survey.record import Survey
from wizard.survey.rows import Reading
from wizard.survey.toml import Unreadable

SAMPLE = "bramble-2026-04-11.toml"
NOW = datetime(2026, 10, 10, 9, 30)
SAID = {
    "since-last-time/distance": "900 miles",
    "state/body": "l",
    "set-supports/supports": "a",
}
"""It stands as it did then."""


@pytest.fixture
def earlier(tmp_path: Path) -> Path:
    return Path(shutil.copy(samples_dir() / SAMPLE, tmp_path / SAMPLE))


@pytest.fixture
def sitting(earlier: Path) -> Sitting:
    return Sitting(library(), path=start(earlier, library(), NOW), now=lambda: NOW)


def upto(sitting: Sitting, prompt: str) -> list[str]:
    """Likely answers up to a prompt; everything that was said back on the way."""
    said = []
    while sitting.prompt is not None and sitting.prompt.id != prompt:
        text = "25 7/8 in!" if sitting.prompt.kind.spans else likely(sitting.prompt)
        text = SAID.get(sitting.prompt.id, text)
        reply = handle(sitting, text)
        assert not reply.stops_burst, (sitting.prompt, text, reply)
        said.append(reply.says)
    assert sitting.prompt is not None, prompt
    return said


# The files ----------------------------------------------------------------------------------------
# --------------


def test_a_new_file_follows_the_earlier_one_in_the_same_folder(earlier: Path) -> None:
    path = start(earlier, library(), NOW)
    assert path == earlier.parent / "bramble-2026-10-10.toml"
    assert load(path).follows == "bramble-2026-04-11"
    assert start(earlier, library(), NOW).name == "bramble-2026-10-10-2.toml"


def test_the_earlier_file_is_never_written_not_even_looked_at_as_changed(earlier: Path) -> None:
    earlier.chmod(0o444)
    before, stat = earlier.read_bytes(), os.stat(earlier)
    sitting = Sitting(library(), path=start(earlier, library(), NOW), now=lambda: NOW)
    upto(sitting, "string-set-up/block")
    handle(sitting, "/change")
    handle(sitting, "/quit")
    assert earlier.read_bytes() == before
    after = os.stat(earlier)
    assert (after.st_mtime_ns, after.st_ino, after.st_mode) == (
        stat.st_mtime_ns,
        stat.st_ino,
        stat.st_mode,
    )


def test_a_backup_copy_is_kept_byte_for_byte_and_once(earlier: Path) -> None:
    start(earlier, library(), NOW)
    start(earlier, library(), NOW)
    (copy,) = (earlier.parent / BACKUP).iterdir()
    assert copy.read_bytes() == earlier.read_bytes()
    earlier.write_bytes(earlier.read_bytes() + b"\n# a note by hand\n")
    assert backup(earlier, earlier.parent).name == "bramble-2026-04-11-2.toml"
    assert copy.read_bytes() != earlier.read_bytes()


def test_another_folder_gets_both_the_new_file_and_the_copy(earlier: Path, tmp_path: Path) -> None:
    into = tmp_path / "there" / "deep"
    assert start(earlier, library(), NOW, into).parent == into
    assert (into / BACKUP / SAMPLE).exists()
    assert not (earlier.parent / BACKUP).exists()


@pytest.mark.parametrize(
    ("text", "says"),
    [("format = [", "torn"), ("format = 9\n", "newer"), ("format = 1\n", "no readings")],
)
def test_what_cannot_be_followed_is_refused_and_nothing_is_made(
    tmp_path: Path, text: str, says: str
) -> None:
    path = tmp_path / "torn.toml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(Unreadable, match=says):
        start(path, library(), NOW)
    assert [p.name for p in tmp_path.iterdir()] == ["torn.toml"]
    assert path.read_text(encoding="utf-8") == text


def test_a_folder_that_cannot_be_written_is_one_sentence(earlier: Path, tmp_path: Path) -> None:
    blocked = tmp_path / "blocked"
    blocked.write_text("a file where a folder should be")
    with pytest.raises(NotSaved, match="Not saved"):
        start(earlier, library(), NOW, blocked)


def test_an_earlier_file_that_lost_its_id_is_followed_by_its_name(earlier: Path) -> None:
    lost = earlier.parent / "lost.toml"
    lost.write_text(
        earlier.read_text(encoding="utf-8").replace('id = "bramble-2026-04-11"\n', "", 1),
        encoding="utf-8",
    )
    new = load(start(lost, library(), NOW))
    assert new.follows == "lost"
    assert Sitting(library(), path=lost.parent / f"{new.id}.toml").earlier is not None


# At the prompt
# --------------------------------------------------------------------------------------------------


def test_the_state_of_last_time_is_recalled_and_asked_after(sitting: Sitting) -> None:
    upto(sitting, "set-supports/supports")
    assert (
        recalled(sitting.prompt, sitting.earlier)
        == "Last time: four stands under the axles. Today?"
    )
    handle(sitting, "a")
    upto(sitting, "set-supports/stood")
    assert "front 24 in apart" in recalled(sitting.prompt, sitting.earlier)


def test_no_old_figure_shows_before_the_new_one_is_in(sitting: Sitting) -> None:
    prompt = "diagonals-below/whole/front-left--rear-right"
    assert sitting.earlier is not None
    old = [r.typed for r in sitting.earlier.readings_of(prompt)]
    said = [*upto(sitting, prompt), recalled(sitting.prompt, sitting.earlier)]
    assert old
    assert not [s for s in said for o in old if o in s]
    assert sitting.path is not None
    assert old[0] not in sitting.path.read_text(encoding="utf-8")
    first = handle(sitting, "91 1/16!")
    assert first.says == ""  # the second reading of it is still to come, and would be copied
    while sitting.prompt and sitting.prompt.id.startswith("diagonals-below"):
        done = sitting.prompt.id
        reply = handle(sitting, "91 1/16!")
        if done == prompt:
            assert reply.says == f"Then {old[0]} and {old[1]}, now 91 1/16 and 91 1/16."
            break


@pytest.mark.parametrize(
    ("typed", "doubted"), [("92 1/16", True), ("90 9/16", True), ("91 1/2", False), ("91", False)]
)
def test_a_slip_on_the_first_diagonal_is_doubted_and_no_figure_of_last_time_is_told(
    earlier: Path, typed: str, doubted: bool
) -> None:
    sitting = Sitting(
        library(),
        path=start(earlier, library(), NOW),
        now=lambda: NOW,
        foretell=foretell_with(library()),
    )
    upto(sitting, "diagonals-below/whole/front-left--rear-right")
    reply = handle(sitting, typed)
    assert (reply.kind == "doubted") is doubted
    if doubted:
        assert reply.says.startswith("That is far from what was read here last time.")
        assert not any(c.isdigit() for c in reply.says)
        assert handle(sitting, "").kind == "taken"


def test_a_reading_in_another_unit_is_shown_with_the_unit_of_then(earlier: Path) -> None:
    sitting = Sitting(library(), path=start(earlier, library(), NOW), now=lambda: NOW)
    handle(sitting, "m")
    assert sitting.survey.unit == "mm"
    upto(sitting, "string-set-up/block")
    assert handle(sitting, "50.8!").says == "Then 2 in, now 50.8."


def test_a_photo_of_last_time_is_recalled_where_it_was_taken(sitting: Sitting) -> None:
    upto(sitting, "sag-loaded/engine-mount/left")
    assert recalled(sitting.prompt, sitting.earlier) == "Photo of last time: 123."


def test_without_the_earlier_file_the_re_check_goes_on_without_recalling(
    earlier: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = start(earlier, library(), NOW)
    earlier.unlink()
    monkeypatch.setattr("wizard.sitting.chain.samples_dir", lambda: earlier.parent / "none")
    sitting = Sitting(library(), path=path, now=lambda: NOW)
    assert sitting.earlier is None
    upto(sitting, "since-last-time/happened")
    assert recalled(sitting.prompt, sitting.earlier) == ""
    reply = handle(sitting, "/change")
    assert reply.kind == "refused"
    assert says(reply.says, "follows bramble-2026-04-11 … not in this folder")


def test_change_is_told_so_far_and_only_by_a_survey_that_follows_one(
    sitting: Sitting, tmp_path: Path
) -> None:
    upto(sitting, "level/front-crossmember/as-set")
    reply = handle(sitting, "/change")
    assert (reply.kind, reply.title) == ("told", "Since last time")
    assert "What was not compared" in reply.says
    alone = Driver(tmp_path / "alone").run("Bramble", "i")
    assert "the first survey of this car" in alone.say("/change").says


def test_a_new_re_check_begins_at_the_top_and_goes_on_where_it_was_left(sitting: Sitting) -> None:
    assert (sitting.prompt.id if sitting.prompt else "", sitting.resumed) == (
        "about-the-car/unit",
        False,
    )
    upto(sitting, "state/body")
    again = Sitting(library(), path=sitting.path, now=lambda: NOW)
    assert (again.prompt.id if again.prompt else "", again.resumed) == ("state/body", True)


def test_whole_asks_for_everything(sitting: Sitting) -> None:
    before = len(sitting.pages())
    handle(sitting, "/whole")
    assert len(sitting.pages()) > before + 20


def test_the_date_for_the_next_time_is_asked_last_and_kept(sitting: Sitting) -> None:
    upto(sitting, "next-time/when")
    assert handle(sitting, "y").kind == "refused", (
        "what was typed here moved, and a year is too late"
    )
    assert handle(sitting, "m").kind == "ended"
    assert "2026-11-10" in handle(sitting, "/change").says


def test_the_plain_prompts_say_what_was_last_time_and_end_with_the_change(sitting: Sitting) -> None:
    upto(sitting, "set-supports/supports")
    said: list[str] = []
    assert run(sitting, ["a"], said.append, person=True) == 0
    assert "Last time: four stands under the axles. Today?" in said
    upto(sitting, "next-time/when")
    said.clear()
    run(sitting, ["m"], said.append, person=True)
    assert any("Since last time" in s for s in said)


def test_a_survey_saved_in_the_folder_has_no_word_of_the_old_readings(sitting: Sitting) -> None:
    assert sitting.path is not None
    new = load(sitting.path)
    assert new.table(Reading) == ()
    save(sitting.path, new)
    assert isinstance(load(sitting.path), Survey)


def test_a_frame_measured_again_follows_the_earlier_one(tmp_path: Path) -> None:
    old = finished(tmp_path / "a").sitting.path
    assert old is not None
    whole = old.read_bytes()
    path, words = measure_again(old, tmp_path / "b", library(), Clock()())
    assert load(path).follows == load(old).id
    assert path.parent == tmp_path / "b"
    assert "You will measure again" in words
    assert old.read_bytes() == whole


def test_a_survey_without_readings_is_not_measured_again(driver: Driver, tmp_path: Path) -> None:
    driver.run(*BEGUN)
    assert driver.sitting.path is not None
    with pytest.raises(Unreadable, match="no readings"):
        measure_again(driver.sitting.path, tmp_path, library(), driver.clock())


# The words of a second time ------------------------------------------------------------------------

FIRST_TIME = (
    *("Give the car a name", "pick the frame most like yours", "Next year you will ask"),
    *("Read this before the engine leaves", "Cut two blocks of equal height"),
    *("Two surveys show a change", "do the same way next year"),
)
"""What is said on the pages of a first survey, and is done already or untrue a second time."""


def test_a_page_of_a_re_check_speaks_to_who_was_here_before(sitting: Sitting) -> None:
    shown = dict[str, str]()
    while (prompt := sitting.prompt) is not None:
        page = page_of(sitting)
        assert page is not None
        shown[str(prompt.step)] = " ".join((page.why, *page.how, page.good))
        upto_next = SAID.get(prompt.id, "25 7/8 in!" if prompt.kind.spans else likely(prompt))
        assert not handle(sitting, upto_next).stops_burst, prompt
    assert {"about-the-car", "string-set-up", "sag-loaded", "next-time"} <= set(shown)
    assert [(s, said) for s, text in shown.items() for said in FIRST_TIME if said in text] == []
    assert "last time" in shown["string-set-up"]


def test_a_first_survey_keeps_its_own_words(tmp_path: Path) -> None:
    first = Sitting(library(), folder=tmp_path, now=lambda: NOW)
    page = page_of(first)
    assert page is not None
    assert "Give the car a name" in page.how[0]
