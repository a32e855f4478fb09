"""The list of surveys, and copies of samples."""

from __future__ import annotations

import os
from dataclasses import replace
from datetime import datetime
from pathlib import Path

import pytest

from wizard.library import load_library
from wizard.sitting.shelf import (
    MOST,
    Listed,
    Shelf,
    _in_order,
    copy_sample,
    load_known,
    shelf_of,
)
from wizard.sitting.sitting import Sitting
from wizard.survey.file import load, save
from wizard.survey.record import Survey
from wizard.survey.rows import Verdict
from wizard.survey.toml import Unreadable

pytestmark = pytest.mark.quick

NOON = datetime(2026, 4, 11, 12, 0)


def _survey(path: Path, car: str, age: int = 0) -> Path:
    sitting = Sitting(load_library(), path=path, now=lambda: NOON)
    for line in (car, "i", "s", "w", "o"):
        sitting.enter(line)
    os.utime(path, (1_000_000 - age, 1_000_000 - age))
    return path


def _shelf(tmp_path: Path):
    samples = tmp_path / "samples"
    samples.mkdir(exist_ok=True)
    return shelf_of(tmp_path, load_library(), NOON, samples)


def test_newest_first_with_name_date_and_how_far(tmp_path: Path) -> None:
    _survey(tmp_path / "old.toml", "Old Post", age=500)
    _survey(tmp_path / "new.toml", "Bramble")
    first, second = _shelf(tmp_path).surveys
    assert (first.name, second.name) == ("Bramble", "Old Post")
    assert first.worked == NOON
    assert first.done == 1 < first.steps


def test_a_missing_folder_is_empty_and_is_not_made(tmp_path: Path) -> None:
    assert shelf_of(tmp_path / "none", load_library(), NOON, tmp_path).surveys == ()
    assert not (tmp_path / "none").exists()


@pytest.mark.parametrize("text", ["", "format = [", "format = 99\n", "\x00"])
def test_a_damaged_file_is_listed_with_its_fault_and_not_touched(tmp_path: Path, text: str) -> None:
    path = tmp_path / "torn.toml"
    path.write_text(text, encoding="utf-8")
    (listed,) = _shelf(tmp_path).surveys
    assert "torn.toml" in listed.fault
    assert path.read_text(encoding="utf-8") == text


def test_a_frame_that_the_program_does_not_know_is_a_fault(tmp_path: Path) -> None:
    save(tmp_path / "odd.toml", Survey(id="odd", car="Odd", started=NOON, layout="no-such-frame"))
    with pytest.raises(Unreadable, match="no-such-frame"):
        load_known(tmp_path / "odd.toml", load_library())
    (listed,) = _shelf(tmp_path).surveys
    assert "no-such-frame" in listed.fault


def test_only_the_newest_are_read(tmp_path: Path) -> None:
    path = _survey(tmp_path / "s0.toml", "Bramble")
    for n in range(1, MOST + 3):
        (tmp_path / f"s{n}.toml").write_bytes(path.read_bytes())
    shelf = _shelf(tmp_path)
    assert (len(shelf.surveys), shelf.more) == (MOST, 3)


def test_hidden_files_and_other_kinds_are_no_surveys(tmp_path: Path) -> None:
    (tmp_path / ".1.ct-tmp").write_text("x", encoding="utf-8")
    (tmp_path / ".hidden.toml").write_text("x", encoding="utf-8")
    (tmp_path / "notes.txt").write_text("x", encoding="utf-8")
    assert _shelf(tmp_path).surveys == ()


def test_a_sample_is_copied_whole_under_a_free_id(tmp_path: Path) -> None:
    sample = _survey(tmp_path / "sample.toml", "Bramble, tourer")
    whole = sample.read_bytes()
    paths = [copy_sample(sample, tmp_path / "mine", load_library(), NOON) for _ in range(2)]
    assert [p.name for p in paths] == ["bramble-2026-04-11.toml", "bramble-2026-04-11-2.toml"]
    assert sample.read_bytes() == whole
    kept, copied = load(sample), load(paths[1])
    assert copied.id == "bramble-2026-04-11-2"
    assert replace(copied, id=kept.id) == kept


def test_samples_of_the_program_are_listed() -> None:
    assert all(
        not s.fault and s.name
        for s in shelf_of(Path("no-such-folder"), load_library(), NOON).samples
    )


# The answer of each --------------------------------------------------------------------------------


def _finished(folder: Path, name: str, brief: str = "", text: str = "", follows: str = "") -> None:
    """A survey with an answer kept, saved under its id."""
    path = _survey(folder / f"{name}.toml", "Bramble")
    survey = replace(load(path), id=name, follows=follows)
    row = Verdict(id=survey.new_id(Verdict), at=NOON, text=text, brief=brief)
    save(path, survey.with_row(row))


def test_a_survey_is_listed_with_its_answer_in_a_few_words(tmp_path: Path) -> None:
    _finished(tmp_path, "one", brief="crack and loose joint", text="Crack.\n\nWhat to do")
    assert _shelf(tmp_path).surveys[0].brief == "crack and loose joint"


def test_an_older_file_shows_the_headline_that_it_kept(tmp_path: Path) -> None:
    _finished(tmp_path, "one", text="The joints come\nfirst. Do not drive it.\n\nWhat to do")
    assert _shelf(tmp_path).surveys[0].brief == "The joints come first"


def test_a_recheck_stands_under_the_survey_that_it_follows(tmp_path: Path) -> None:
    _finished(tmp_path, "first", brief="nothing to put right")
    _finished(tmp_path, "third", brief="nothing has moved", follows="second")
    _finished(tmp_path, "second", brief="a rail dropped", follows="first")
    _finished(tmp_path, "other", brief="crack")
    found = [(s.id, s.under) for s in _shelf(tmp_path).surveys]
    at = found.index(("first", False))
    assert found[at : at + 3] == [("first", False), ("second", True), ("third", True)]
    assert ("other", False) in found


def test_surveys_that_follow_each_other_in_a_ring_are_all_listed(tmp_path: Path) -> None:
    _finished(tmp_path, "a", follows="b")
    _finished(tmp_path, "b", follows="a")
    assert sorted(s.id for s in _shelf(tmp_path).surveys) == ["a", "b"]


def _listed(id: str, done: int, follows: str = "", **more: bool) -> Listed:
    return Listed(Path(f"{id}.toml"), id, NOON, done, 40, id=id, follows=follows, **more)


def test_a_finished_survey_stays_with_the_finished_ones_while_it_is_measured_again() -> None:
    begun, old, open_ = _listed("begun", 3), _listed("old", 40), _listed("again", 3, "old")
    other = _listed("other", 40)
    rows = _in_order(Shelf((other, open_, begun, old))).surveys
    # What goes on, then the frame that is being measured again, then what is finished.
    assert [(s.id, s.goes_on, s.under) for s in rows] == [
        ("begun", True, False),
        ("old", False, False),
        ("again", False, True),
        ("other", False, False),
    ]


def test_a_first_survey_that_goes_on_keeps_what_measures_it_again_under_it() -> None:
    rows = _in_order(Shelf((_listed("again", 40, "old"), _listed("old", 3)))).surveys
    assert [(s.id, s.goes_on) for s in rows] == [("old", True), ("again", True)]
