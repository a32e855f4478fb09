"""`crosstape sheet` and `crosstape report` on the command line."""

from __future__ import annotations

from pathlib import Path

import pytest

from wizard.command import main
from wizard.library.paths import samples_dir

SAMPLE = str(sorted(samples_dir().glob("*.toml"))[0])


def test_a_sheet_is_printed(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["sheet"]) == 0
    told = capsys.readouterr()
    assert told.out.startswith("Crosstape worksheet: straight ladder")
    assert told.err == ""


@pytest.mark.parametrize("name", ["s.html", "s.txt"])
def test_a_sheet_is_written(tmp_path: Path, name: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert (
        main(
            [
                "sheet",
                "--layout",
                "straight-ladder",
                "--state",
                "body=off",
                "-o",
                str(tmp_path / name),
            ]
        )
        == 0
    )
    assert capsys.readouterr().out == ""
    assert "body: off" in " ".join((tmp_path / name).read_text().split())


def test_a_survey_s_sheet_is_for_the_car_as_it_stands(capsys: pytest.CaptureFixture[str]) -> None:
    bare = str(samples_dir() / "bramble-2026-04-11.toml")
    assert main(["sheet", bare]) == 0
    told = capsys.readouterr().out
    assert "body: on, every bolt slack" in told
    assert main(["sheet", bare, "--state", "body=bolted"]) == 0
    assert "body: on, every bolt slack" not in capsys.readouterr().out


@pytest.mark.parametrize(
    "args",
    [
        ["sheet", "--layout", "no-such"],
        ["sheet", "--state", "engine=sideways"],
        ["sheet", "--state", "engine"],
        ["sheet", "-o", "s.pdf"],
        ["report", "gone.toml"],
        ["report", "gone.toml", "-o", "r.html"],
        ["report", SAMPLE, "-o", "r.toml"],
        ["report", SAMPLE, "-o", SAMPLE],
    ],
)
def test_what_is_refused_is_one_sentence_and_status_1(
    args: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(args) == 1
    told = capsys.readouterr()
    assert told.out == ""
    assert told.err.count("\n") == 1
    assert told.err.rstrip().endswith(".")


@pytest.mark.parametrize("suffix", ["html", "md", "txt", "csv"])
def test_a_report_is_written(
    tmp_path: Path, suffix: str, capsys: pytest.CaptureFixture[str]
) -> None:
    before = Path(SAMPLE).read_bytes()
    out = tmp_path / f"r.{suffix}"
    assert main(["report", SAMPLE, "-o", str(out)]) == 0
    assert capsys.readouterr().out == ""
    assert out.stat().st_size > 3000
    assert Path(SAMPLE).read_bytes() == before


def test_a_report_without_a_file_is_text(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["report", SAMPLE]) == 0
    assert "a record of what was found" in capsys.readouterr().out
