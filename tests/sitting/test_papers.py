"""`/report` at the keyboard: the same in both faces, beside the survey, and a refusal in one
sentence.
"""

from __future__ import annotations

import re
import shutil
from dataclasses import replace
from datetime import UTC, timedelta
from pathlib import Path

import pytest

from tests.checks.surveys import library
from tests.pictures import jpeg
from tests.sitting.driving import BEGUN, Driver
from tests.told import says
from wizard.command import main
from wizard.library.paths import samples_dir
from wizard.readings.refused import Refused
from wizard.sitting.papers import earlier_for, kinds, print_sheet
from wizard.survey.file import load, save

FIRST, SEASON, HARD = (
    samples_dir() / f"bramble-{day}.toml" for day in ("2026-04-11", "2026-10-10", "2027-05-08")
)


@pytest.fixture
def begun(driver: Driver) -> Driver:
    return driver.run("Bramble", "i")


def test_nothing_to_report_before_the_first_answer(driver: Driver) -> None:
    assert driver.say("/report").kind == "refused"


@pytest.mark.parametrize(
    ("said", "suffix"), [("", ".html"), (" md", ".md"), (" .TXT", ".txt"), (" csv", ".csv")]
)
def test_it_is_written_beside_the_survey(begun: Driver, said: str, suffix: str) -> None:
    path = begun.sitting.path
    assert path is not None
    before = path.read_bytes()
    reply = begun.say(f"/report{said}")
    assert reply.kind == "told"
    assert path.with_suffix(suffix).name in reply.says
    assert path.with_suffix(suffix).read_bytes()
    assert path.read_bytes() == before


def test_a_name_of_its_own(begun: Driver, tmp_path: Path) -> None:
    begun.run("/report for-a-buyer.html")
    assert (tmp_path / "for-a-buyer.html").exists()


@pytest.mark.parametrize("name", ["bramble.toml", "gone/report.html", "report.pdf"])
def test_what_cannot_be_written_is_refused_and_the_prompt_stays(begun: Driver, name: str) -> None:
    at = begun.at
    reply = begun.say(f"/report {name}")
    assert reply.kind == "refused"
    assert reply.says.count("\n") == 0
    assert begun.at == at
    assert BEGUN[0] == begun.survey.car


# The earlier surveys
# -----------------------------------------------------------------------------------------------


@pytest.fixture
def garage(tmp_path: Path) -> Path:
    """Three surveys of one frame under ids that no sample has, each following the one before, and a
    stranger.
    """
    for path, id, follows in ((FIRST, "one", ""), (SEASON, "two", "one"), (HARD, "three", "two")):
        save(tmp_path / f"{id}.toml", replace(load(path), id=id, follows=follows))
    shutil.copy(samples_dir() / "marigold-2026-05-02.toml", tmp_path)
    return tmp_path


def back(folder: Path, id: str = "three") -> tuple[list[str], tuple[str, ...]]:
    found = earlier_for(load(folder / f"{id}.toml"), folder)
    return [s.id for s in found.surveys], found.missing


def change(folder: Path, id: str, **fields: object) -> None:
    path = folder / f"{id}.toml"
    save(path, replace(load(path), **fields))  # type: ignore[arg-type]


def test_a_survey_is_followed_back_to_the_first(garage: Path) -> None:
    assert back(garage) == (["one", "two"], ())
    assert back(garage, "two") == (["one"], ())
    assert back(garage, "one") == ([], ())


def test_files_of_other_names_are_found_by_their_ids(garage: Path) -> None:
    (garage / "two.toml").rename(garage / "after the winter.toml")
    assert back(garage) == (["one", "two"], ())


def test_a_copy_that_branches_off_is_not_counted_twice(garage: Path) -> None:
    save(garage / "copy.toml", replace(load(garage / "two.toml"), id="copy"))
    save(
        garage / "three again.toml", replace(load(garage / "two.toml"), id="three-b", follows="one")
    )
    assert back(garage) == (["one", "two"], ())


def test_a_sample_measured_again_finds_it_among_the_samples(tmp_path: Path) -> None:
    path = tmp_path / "mine.toml"
    save(path, replace(load(HARD), id="mine"))
    assert [s.id for s in earlier_for(load(path), tmp_path).surveys] == [FIRST.stem, SEASON.stem]


@pytest.mark.parametrize(("id", "left"), [("two", []), ("one", ["two"])])
def test_a_file_that_is_gone_is_one_sentence(garage: Path, id: str, left: list[str]) -> None:
    (garage / f"{id}.toml").unlink()
    there, (told,) = back(garage)
    assert there == left
    assert says(told, f"earlier survey {id} is not in … folder … before it … left out.")
    assert ". " not in told


def test_a_file_with_a_broken_body_is_one_sentence_and_those_before_it_stay(garage: Path) -> None:
    torn = garage / "two.toml"
    torn.write_text(torn.read_text() + "[[reading]\n")
    found, missing = back(garage)
    assert found == ["one"]
    assert len(missing) == 1
    assert missing[0].startswith("An earlier survey is left out: two.toml")
    assert missing[0].count(".") == 2  # the file's own dot and the end


@pytest.mark.parametrize("data", [b"", b"\xff\xfe", b"format = [", b"x" * 4_000_001])
def test_a_file_that_is_no_survey_any_more_ends_the_line(garage: Path, data: bytes) -> None:
    (garage / "two.toml").write_bytes(data)
    found, missing = back(garage)
    assert found == []
    assert len(missing) == 1
    assert missing[0].startswith("An earlier survey is left out, and any before it: two.toml")


def test_another_kind_of_frame_and_a_later_day_are_left_out_and_named(garage: Path) -> None:
    change(garage, "two", layout="x-braced")
    there, (told,) = back(garage)
    assert there == ["one"]
    assert says(told, "two … another kind of frame … left out.")
    change(garage, "two", layout="straight-ladder", started=load(HARD).started + timedelta(days=1))
    assert back(garage) == (["one"], ("two is dated later than this survey; it was left out.",))
    change(garage, "two", started=load(SEASON).started.replace(tzinfo=UTC))
    assert back(garage) == (["one", "two"], ())


@pytest.mark.parametrize("follows", ["three", "two", "../secret", "x" * 300, "\x1b[2J", "nul\x00"])
def test_a_ring_a_path_or_a_hostile_name_ends_the_walk(garage: Path, follows: str) -> None:
    change(garage, "one", follows=follows)
    _, missing = back(garage)
    assert all("\x1b" not in m and len(m) < 250 for m in missing)
    assert [s.id for s in earlier_for(load(garage / "three.toml"), garage).surveys] == [
        "one",
        "two",
    ]


def test_the_report_of_the_command_line_has_the_earlier_ones_or_says_what_is_missing(
    garage: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    before = {p.name: p.read_bytes() for p in garage.iterdir()}
    assert main(["report", str(garage / "three.toml")]) == 0
    assert "The trend over 3 surveys" in capsys.readouterr().out
    for suffix in ("html", "md", "csv"):
        out = garage / f"r.{suffix}"
        assert main(["report", str(garage / "three.toml"), "-o", str(out)]) == 0
        plain = re.sub(r"\\(.)", r"\1", out.read_text(encoding="utf-8-sig"))
        assert ("The same frame over time" in plain) == (suffix != "csv")
        out.unlink()
    assert {p.name: p.read_bytes() for p in garage.iterdir()} == before
    (garage / "one.toml").unlink()
    (garage / "two.toml").write_text("torn")
    assert main(["report", str(garage / "three.toml")]) == 0
    told = capsys.readouterr()
    assert "An earlier survey is left out, and any before it: two.toml" in " ".join(
        told.out.split()
    )
    assert "Every finding" in told.out
    assert told.err == ""


def test_the_wizards_own_report_has_them_too(garage: Path) -> None:
    Driver(garage, path=garage / "three.toml").run("/report")
    assert "The trend over 3 surveys" in (garage / "three.html").read_text()


@pytest.mark.parametrize(
    ("said", "name"), [("1", "straight-ladder.html"), ("x-braced TXT", "x-braced.txt")]
)
def test_a_sheet_is_written_for_the_kind_of_frame(said: str, name: str, tmp_path: Path) -> None:
    out = print_sheet(said, tmp_path / "new", library())
    assert out == tmp_path / "new" / f"sheet-{name}"
    assert "Tape" in out.read_text(encoding="utf-8")


@pytest.mark.parametrize("said", ["0", "99", "moon", "../x", "[/"])
def test_a_kind_that_there_is_not_is_refused(said: str, tmp_path: Path) -> None:
    with pytest.raises(Refused, match="from 1 to"):
        print_sheet(said, tmp_path, library())
    assert list(tmp_path.iterdir()) == []


def test_a_folder_that_cannot_be_made_is_told(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("", encoding="utf-8")
    with pytest.raises(Refused, match="not written"):
        print_sheet("1", tmp_path / "file", library())


def test_every_kind_has_a_number(tmp_path: Path) -> None:
    own = library().own
    assert own
    assert [id for _, id, _ in kinds(library(), tmp_path)] == [*library().layouts, own.id]


# Photos -------------------------------------------------------------------------------------------


@pytest.fixture
def pictured(begun: Driver, tmp_path: Path) -> Driver:
    """A survey that names two photos, one of them in the folder."""
    folder = tmp_path / "my photos"
    folder.mkdir()
    (folder / "IMG_0112.JPG").write_bytes(jpeg())
    return begun.run("/photo 112 left front corner", "/photo 113 right front corner")


@pytest.mark.parametrize(
    "line", ["/report photos my photos", '/report html photos "my photos"', "/report PHOTOS {full}"]
)
def test_the_report_takes_a_folder_of_photos(pictured: Driver, tmp_path: Path, line: str) -> None:
    reply = pictured.say(line.format(full=tmp_path / "my photos"))
    assert reply.kind == "told"
    assert "1 photo is in it." in reply.says
    assert "Photo 113 is not in the folder" in reply.says
    path = pictured.sitting.path
    assert path is not None
    assert path.with_suffix(".html").read_text(encoding="utf-8").count("<img ") == 1


def test_another_name_and_photos_go_together(pictured: Driver, tmp_path: Path) -> None:
    pictured.run("/report buyer.html photos my photos")
    assert "<img " in (tmp_path / "buyer.html").read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("line", "why"),
    [
        ("/report photos nowhere", "cannot be looked into"),
        ("/report brief photos my photos", "A brief holds no photos"),
        ("/report photos ~nobody-of-that-name/x", "home folder"),
    ],
)
def test_what_is_no_folder_is_refused_in_a_sentence(
    pictured: Driver, tmp_path: Path, line: str, why: str
) -> None:
    reply = pictured.say(line)
    assert reply.kind == "refused"
    assert why in reply.says
    assert not list(tmp_path.glob("*.html"))
