"""What the opening page does with a folder: measure again, compare, print a sheet."""

from pathlib import Path

import pytest

from tests.sitting.driving import BEGUN, Clock, Driver, finished
from wizard.library import load_library
from wizard.sitting.starting import CannotStart, compared, kinds, measure_again, print_sheet
from wizard.survey.file import load
from wizard.survey.toml import Unreadable


def test_a_frame_measured_again_follows_the_earlier_one(tmp_path: Path) -> None:
    old = finished(tmp_path / "a").sitting.path
    assert old is not None
    whole = old.read_bytes()
    path, words = measure_again(old, tmp_path / "b", load_library(), Clock()())
    assert load(path).follows == load(old).id
    assert path.parent == tmp_path / "b"
    assert "To be taken again" in words
    assert old.read_bytes() == whole


def test_a_survey_without_readings_is_not_measured_again(driver: Driver, tmp_path: Path) -> None:
    driver.run(*BEGUN)
    assert driver.sitting.path is not None
    with pytest.raises(Unreadable, match="no readings"):
        measure_again(driver.sitting.path, tmp_path, load_library(), driver.clock())


def test_two_surveys_are_compared_and_one_is_too_few(tmp_path: Path) -> None:
    path = finished(tmp_path).sitting.path
    assert path is not None
    other = path.with_name("other.toml")
    other.write_bytes(path.read_bytes())
    assert "against" in compared([path, other], load_library(), Clock()())
    with pytest.raises(CannotStart):
        compared([path], load_library(), Clock()())
    other.write_text("format = [", encoding="utf-8")
    with pytest.raises(CannotStart, match=r"other\.toml"):
        compared([path, other], load_library(), Clock()())


@pytest.mark.parametrize(
    ("said", "name"), [("1", "straight-ladder.html"), ("x-braced TXT", "x-braced.txt")]
)
def test_a_sheet_is_written_for_the_kind_of_frame(said: str, name: str, tmp_path: Path) -> None:
    out = print_sheet(said, tmp_path / "new", load_library())
    assert out == tmp_path / "new" / f"sheet-{name}"
    assert "Tape" in out.read_text(encoding="utf-8")


@pytest.mark.parametrize("said", ["0", "99", "moon", "../x", "[/"])
def test_a_kind_that_there_is_not_is_refused(said: str, tmp_path: Path) -> None:
    with pytest.raises(CannotStart, match="from 1 to"):
        print_sheet(said, tmp_path, load_library())
    assert list(tmp_path.iterdir()) == []


def test_a_folder_that_cannot_be_made_is_told(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("", encoding="utf-8")
    with pytest.raises(CannotStart, match="Not"):
        print_sheet("1", tmp_path / "file", load_library())


def test_every_kind_has_a_number() -> None:
    library = load_library()
    assert [id for _, id, _ in kinds(library)] == list(library.layouts)
