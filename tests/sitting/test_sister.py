"""A sister frame from end to end: kept by a command, told in every form, compared, measured again."""

import json
import shutil
from datetime import datetime
from pathlib import Path

import pytest

from tests.sitting.driving import Driver
from wizard.command import main
from wizard.library.paths import samples_dir
from wizard.sitting.recheck import start
from wizard.survey.file import load
from wizard.survey.rows import Sister, SisterFigure
from wizard.telling.sister_words import CANNOT, HEADING

BRAMBLE = "bramble-2026-04-11"
LATER = "bramble-2026-10-10"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Bramble's two surveys, and a sister of the same kind called Larch: out of square, as another
    of the samples is.
    """
    for name in (BRAMBLE, LATER):
        shutil.copy(samples_dir() / f"{name}.toml", tmp_path)
    text = (samples_dir() / "bramble-2027-05-08.toml").read_text(encoding="utf-8")
    text = text.replace("Bramble, ", "Larch, ").replace("bramble-2027-05-08", "larch-2027-05-08")
    text = text.replace('follows = "bramble-2026-10-10"', 'follows = ""')
    (tmp_path / "larch-2027-05-08.toml").write_text(text, encoding="utf-8")
    return tmp_path


@pytest.fixture
def driver(folder: Path) -> Driver:
    return Driver(folder, path=folder / f"{BRAMBLE}.toml")


@pytest.fixture
def kept(driver: Driver) -> Path:
    """The file of a survey that keeps the sister."""
    driver.run("/sister larch")
    assert driver.sitting.kept
    driver.sitting.kept.release()
    assert driver.sitting.path
    return driver.sitting.path


def test_it_is_kept_by_its_name_and_told_at_once(driver: Driver) -> None:
    reply = driver.say("/sister larch")
    assert reply.kind == "told"
    said = " ".join(reply.says.split())
    assert "The sister frame: Larch, two-seat tourer, 2027-05-08." in said
    assert "Its own survey says: frame out of square" in said
    assert CANNOT in said
    assert [s.name for s in driver.saved.standing(Sister)] == ["larch-2027-05-08"]
    assert driver.say("/sister").says == reply.says


def test_without_one_it_says_how(driver: Driver) -> None:
    reply = driver.say("/sister")
    assert (reply.kind, "type /sister and the name of its survey" in reply.says) == (
        "refused",
        True,
    )
    assert driver.say("/sister drop").kind == "refused"


def test_it_is_left_out_again_and_taken_back(driver: Driver) -> None:
    driver.run("/sister larch", "/sister drop")
    assert not driver.saved.standing(Sister)
    assert driver.say("/sister").kind == "refused"
    driver.run("/sister larch", "/undo")
    assert not driver.saved.standing(Sister)


def test_the_record_tells_it_without_the_other_file(
    kept: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (kept.parent / "larch-2027-05-08.toml").unlink()
    assert main(["tell", str(kept), "--all"]) == 0
    told = " ".join(capsys.readouterr().out.split())
    assert HEADING in told
    assert "Compared with the sister frame: 9/32 in left rail back there, 1/32 in right" in told
    assert "11 figures were compared: 7 differ." in told
    assert CANNOT in told


def test_a_mentor_sees_both_doubts(kept: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["tell", str(kept), "--mentor"]) == 0
    told = " ".join(capsys.readouterr().out.split())
    assert "here less there" in told
    assert "the survey of the sister frame, with its own tools and hand" in told


def test_it_is_data_too(kept: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["tell", str(kept), "--json"]) == 0
    sister = json.loads(capsys.readouterr().out)["sister"]
    assert (sister["survey"], sister["car"]) == ("larch-2027-05-08", "Larch, two-seat tourer")
    pairs = {p["id"]: p for p in sister["pairs"]}
    square = pairs["rail-shift/whole"]
    assert square["says"] == "changed"
    assert square["sister_out"]
    assert square["change"] == pytest.approx(square["new"] - square["old"], abs=1e-3)
    assert {n["reason"] for n in sister["not_compared"]} == {"not-then"}
    assert main(["tell", str(samples_dir() / f"{BRAMBLE}.toml"), "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["sister"] is None


@pytest.mark.parametrize("suffix", ["html", "md", "txt"])
def test_it_is_reported(kept: Path, suffix: str) -> None:
    out = kept.with_suffix(f".{suffix}")
    assert main(["report", str(kept), "-o", str(out)]) == 0
    text = " ".join(out.read_text(encoding="utf-8").replace("\\", "").split())
    assert HEADING in text
    assert "Compared with the sister frame:" in text


def test_another_file_is_compared_for_once_and_not_kept(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    before = (folder / f"{BRAMBLE}.toml").read_bytes()
    sister = str(folder / "larch-2027-05-08.toml")
    assert main(["tell", str(folder / f"{BRAMBLE}.toml"), "--sister", sister, "--all"]) == 0
    assert HEADING in capsys.readouterr().out
    assert (folder / f"{BRAMBLE}.toml").read_bytes() == before


def test_a_re_check_keeps_it_and_compare_says_how_far_it_was_then_and_is_now(
    kept: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    again = load(
        start(kept, Driver(kept.parent).sitting.library, datetime(2026, 10, 1), kept.parent)
    )
    assert [s.name for s in again.standing(Sister)] == ["larch-2027-05-08"]
    assert len(again.standing(SisterFigure)) == len(load(kept).standing(SisterFigure))
    later = Driver(kept.parent, path=kept.parent / f"{LATER}.toml").run("/sister larch")
    assert later.sitting.kept
    later.sitting.kept.release()
    assert main(["compare", str(kept), str(later.sitting.path)]) == 0
    told = " ".join(capsys.readouterr().out.split())
    assert "The sister frame: Larch, two-seat tourer, 2027-05-08. Then:" in told
    assert main(["compare", str(kept), str(later.sitting.path), "--json"]) == 0
    assert "Then:" in json.loads(capsys.readouterr().out)["sister"][0]
    assert "The sister frame" in later.say("/change").says


def test_two_frames_of_one_kind_are_compared_figure_by_figure(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    files = [str(folder / f"{name}.toml") for name in (BRAMBLE, "larch-2027-05-08")]
    assert main(["compare", *files]) == 0
    told = " ".join(capsys.readouterr().out.split())
    assert "Where the two frames differ, figure by figure" in told
    assert "1/32 in right rail back on the first, 9/32 in left rail back on the second" in told
    assert "Frames of one kind need not be of one make" in told


HOSTILE = {
    "not-there": (None, "There is no file"),
    "empty": ("", "no format number"),
    "noise": ("\x00\x01", "cannot be read as a survey"),
    "newer": ("format = 99\n", "Get a newer Crosstape"),
    "nothing": (
        'format = 2\n[survey]\nid = "x"\nlayout = "straight-ladder"\n',
        "Nothing is measured",
    ),
    "other": ('format = 2\n[survey]\nid = "x"\nlayout = "a-frame"\n', "another kind of frame"),
    "itself": (BRAMBLE, "this very frame"),
    "later": (LATER, "this very frame"),
}


@pytest.mark.parametrize("name", HOSTILE)
def test_what_is_no_sister_gets_one_sentence(
    name: str, folder: Path, driver: Driver, capsys: pytest.CaptureFixture[str]
) -> None:
    text, why = HOSTILE[name]
    file = folder / f"{name}.toml"
    if text in (BRAMBLE, LATER):
        file = folder / f"{text}.toml"
    elif text is not None:
        file.write_text(text, encoding="utf-8")
    before = driver.survey
    reply = driver.say(f"/sister {file}")
    assert reply.kind == "refused"
    assert why in reply.says
    assert reply.says.count("\n") == 0
    assert driver.survey is before
    assert main(["tell", str(driver.sitting.path), "--sister", str(file)]) == 1
    said = capsys.readouterr()
    assert said.out == ""
    assert why in said.err
    assert said.err.count("\n") == 1


def test_a_folder_is_no_sister(driver: Driver, folder: Path) -> None:
    assert "is not a file" in driver.say(f"/sister {folder}/.").says


def test_a_sister_with_hostile_words_is_told_in_plain_ones(
    folder: Path, driver: Driver, capsys: pytest.CaptureFixture[str]
) -> None:
    file = folder / "larch-2027-05-08.toml"
    text = file.read_text(encoding="utf-8")
    file.write_text(text.replace("Larch, two-seat", "\\u001b[31mL\\u202e[b]"), encoding="utf-8")
    driver.run("/sister larch")
    assert driver.sitting.kept
    driver.sitting.kept.release()
    for form in ([], ["--all"], ["--mentor"], ["--json"]):
        assert main(["tell", str(driver.sitting.path), *form]) == 0
        said = capsys.readouterr().out
        assert "\x1b" not in said
        assert "\u202e" not in said
