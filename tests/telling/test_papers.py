"""Writing papers: the kind by the name's end, whole or not at all, and never over a survey."""

from __future__ import annotations

import hashlib
from datetime import datetime
from pathlib import Path

import pytest

from tests.checks.surveys import library
from wizard.library.paths import samples_dir
from wizard.survey.file import NotSaved
from wizard.survey.toml import Unreadable
from wizard.telling.papers import REPORTS, SHEETS, NotWritten, source_of, write_report, write_sheet
from wizard.telling.sheet import sheet_of

NOW = datetime(2026, 8, 1)
SAMPLE = next(iter(sorted(samples_dir().glob("*.toml"))))


@pytest.fixture
def survey(tmp_path: Path) -> Path:
    path = tmp_path / "mine.toml"
    path.write_bytes(SAMPLE.read_bytes())
    return path


@pytest.mark.parametrize("suffix", [*REPORTS, ".HTML"])
def test_each_kind_is_written_and_the_survey_left_alone(survey: Path, suffix: str) -> None:
    before = survey.read_bytes()
    out = survey.with_suffix(suffix)
    write_report(survey, out, library(), NOW)
    assert survey.read_bytes() == before
    assert "Bramble" in out.read_text(encoding="utf-8-sig") or suffix == ".csv"
    assert sorted(p.name for p in survey.parent.iterdir()) == sorted([survey.name, out.name])


def test_a_report_is_written_over_with_a_newer_one(survey: Path) -> None:
    out = survey.with_suffix(".html")
    out.write_text("an old report")
    write_report(survey, out, library(), NOW)
    assert out.read_text(encoding="utf-8").startswith("<!DOCTYPE html>")


@pytest.mark.parametrize(
    "name", ["mine.toml", "other.toml", "mine.pdf", "mine", ".html", "mine.html.exe"]
)
def test_other_kinds_are_refused(survey: Path, name: str) -> None:
    before = survey.read_bytes()
    with pytest.raises(NotWritten, match="end its name in one of"):
        write_report(survey, survey.parent / name, library(), NOW)
    assert survey.read_bytes() == before


def test_a_survey_is_never_written_over_whatever_it_is_called(survey: Path) -> None:
    renamed, link = survey.with_name("renamed.html"), survey.with_name("link.txt")
    renamed.write_bytes(survey.read_bytes())
    link.symlink_to(survey.name)
    before = survey.read_bytes()
    for out in (renamed, link):
        with pytest.raises(NotWritten, match="never written over"):
            write_report(survey, out, library(), NOW)
        if out.suffix in SHEETS:
            with pytest.raises(NotWritten, match="never written over"):
                write_sheet(sheet_of(library(), "straight-ladder"), out)
    assert survey.read_bytes() == before == renamed.read_bytes()


def test_a_folder_that_is_not_there_is_one_sentence(survey: Path) -> None:
    with pytest.raises(NotSaved, match=r"^Not saved: r.html could not be written"):
        write_report(survey, survey.parent / "gone" / "r.html", library(), NOW)


def test_a_broken_survey_writes_nothing(tmp_path: Path) -> None:
    broken = tmp_path / "broken.toml"
    broken.write_bytes(b"\xff")
    with pytest.raises(Unreadable):
        write_report(broken, tmp_path / "r.html", library(), NOW)
    assert [p.name for p in tmp_path.iterdir()] == ["broken.toml"]


def test_the_checksum_is_that_of_the_bytes(survey: Path) -> None:
    assert source_of(survey).sha256 == hashlib.sha256(survey.read_bytes()).hexdigest()
    survey.write_bytes(survey.read_bytes() + b"\n")
    assert source_of(survey).sha256 != hashlib.sha256(SAMPLE.read_bytes()).hexdigest()
