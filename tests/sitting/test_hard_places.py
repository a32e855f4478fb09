"""What the system and the terminal may do to a sitting: full, closed, piped, forbidden, too much;
one sentence each.
"""

import os
import shutil
import subprocess
import sys
from datetime import datetime
from pathlib import Path

import pytest

from tests.sitting.driving import BEGUN, Driver, files
from tests.told import says
from wizard.library import load_library
from wizard.sitting import recheck
from wizard.sitting.naming import free_id
from wizard.sitting.plain import run
from wizard.survey import file
from wizard.survey.file import NotSaved, load, make_folder
from wizard.survey.kept import CHANGED
from wizard.survey.rows import Remark
from wizard.telling.report_csv import cell

ROOT = Path(__file__).parents[2]
SAMPLE = ROOT / "sample_sessions" / "bramble-2026-04-11.toml"
NAME = "bramble-2026-04-11.toml"
DAY = datetime(2026, 4, 11, 9)


def _plain(driver: Driver, *lines: str) -> str:
    said: list[str] = []
    run(driver.sitting, [f"{line}\n" for line in lines], said.append, person=True)
    return "\n".join(said)


# The question is asked again
# ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "line", ["/why", "/photo 12", "/remark rust", "/words", "/trail", "/readings", "/spoils"]
)
def test_the_question_stands_behind_what_was_asked_for(driver: Driver, line: str) -> None:
    driver.run(*BEGUN)
    assert driver.sitting.prompt is not None
    told = _plain(driver, line, "/quit")
    behind = told.split("\n")
    asked = [n for n, said in enumerate(behind) if said.startswith(driver.sitting.prompt.ask)]
    assert len(asked) == 2
    assert behind[asked[1] + 1].startswith("Saved in")


# Streams ------------------------------------------------------------------------------------------
# --------------


def _shell(line: str, folder: Path) -> "subprocess.CompletedProcess[str]":
    env = {
        **os.environ,
        "PYTHONPATH": str(ROOT),
        "CROSSTAPE_FOLDER": str(folder),
        "PY": sys.executable,
    }
    return subprocess.run(
        ["sh", "-c", line], capture_output=True, text=True, env=env, timeout=60, check=False
    )


COMMANDS = ("tell b.toml", "ask b.toml", "content", "report b.toml", "sheet", "model b.toml")


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no device that is always full")
@pytest.mark.parametrize("command", COMMANDS)
def test_words_that_cannot_be_written_are_one_sentence_and_status_1(
    tmp_path: Path, command: str
) -> None:
    shutil.copy(SAMPLE, tmp_path / "b.toml")
    run = _shell(f'"$PY" -m wizard {command} < /dev/null > /dev/full', tmp_path)
    assert run.returncode == 1
    assert says(run.stderr, "could not be written out (No space left on device) … answers are kept")
    assert ". " not in run.stderr


@pytest.mark.skipif(os.name == "nt", reason="no such shell")
@pytest.mark.parametrize("closed", ["<&-", "< /dev/null >&-", "< /dev/null 2>&-", "<&- >&- 2>&-"])
@pytest.mark.parametrize("command", COMMANDS[:2])
def test_a_closed_stream_is_an_empty_one(tmp_path: Path, closed: str, command: str) -> None:
    shutil.copy(SAMPLE, tmp_path / "b.toml")
    run = _shell(f'"$PY" -m wizard {command} {closed}', tmp_path)
    assert (run.returncode, run.stderr) == (0, "")
    assert (tmp_path / "b.toml").read_bytes() == SAMPLE.read_bytes()


@pytest.mark.skipif(os.name == "nt", reason="no such shell")
def test_the_full_screen_without_streams_says_what_it_wants(tmp_path: Path) -> None:
    run = _shell('"$PY" -m wizard <&- >&-', tmp_path)
    assert run.returncode == 1
    assert run.stderr.startswith("This is no terminal")


# Files --------------------------------------------------------------------------------------------
# --------------


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="no named pipes here")
def test_a_pipe_in_the_files_place_is_waited_for_by_nothing(driver: Driver) -> None:
    path = driver.run(*BEGUN).sitting.path
    assert path is not None
    path.unlink()
    os.mkfifo(path)
    assert driver.sitting.kept is not None
    assert driver.sitting.kept.stands() == CHANGED
    for line in ("/remark rust", "/report", "/verdict", "/readings"):
        assert driver.say(line).kind in ("refused", "told")
    said = driver.say("/quit").says
    assert says(said, "Another program has changed … left as it is … you wrote is saved in")
    assert load(path.with_name(f"{path.stem}-2.toml")).rows == driver.survey.rows


def test_the_thousandth_survey_of_one_day_has_a_name(tmp_path: Path) -> None:
    for n in range(1, 1001):
        (tmp_path / f"bramble-2026-04-11{f'-{n}' if n > 1 else ''}.toml").touch()
    assert free_id("Bramble", DAY, tmp_path) == "bramble-2026-04-11-1001"


def test_the_thousandth_copy_has_a_name(tmp_path: Path) -> None:
    (tmp_path / "backup").mkdir()
    for n in range(1, 1001):
        (tmp_path / "backup" / f"s{f'-{n}' if n > 1 else ''}.toml").write_text(str(n))
    path = tmp_path / "s.toml"
    path.write_text("another")
    assert recheck.backup(path, tmp_path).name == "s-1001.toml"


def test_a_full_disk_at_a_recheck_names_the_copy(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = Path(shutil.copy(SAMPLE, tmp_path))

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(file, "_write", full)
    with pytest.raises(NotSaved) as caught:
        recheck.start(path, load_library(), DAY, tmp_path)
    said = f"not begun: … backup/{NAME} could not be written (No space left on device)."
    assert says(str(caught.value), said)


def test_a_new_folder_is_flushed_into_the_one_that_holds_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    flushed: list[str] = []
    monkeypatch.setattr(file, "_sync_folder", flushed.append)
    make_folder(tmp_path / "a" / "b")
    assert sorted(flushed) == [str(tmp_path), str(tmp_path / "a")]
    make_folder(tmp_path / "a" / "b")
    assert len(flushed) == 2
    Driver(tmp_path / "c").run("Bramble")
    assert flushed[2:] == [
        str(tmp_path),
        str(tmp_path / "c"),
    ], "the new folder, then the file in it"


def test_more_than_can_be_read_again_is_not_written(
    driver: Driver, monkeypatch: pytest.MonkeyPatch
) -> None:
    driver.run(*BEGUN)
    path = driver.sitting.path
    assert path is not None
    monkeypatch.setattr(file, "TOO_LARGE", path.stat().st_size + 200)
    before, survey = path.read_bytes(), driver.survey
    reply = driver.say(f"/remark {'x' * 400}")
    assert reply.kind == "refused"
    assert "would be over 4 MB" in reply.says
    assert (path.read_bytes(), driver.survey) == (before, survey)
    driver.run("/remark short")
    assert [m.text for m in load(path).table(Remark)] == ["short"]


@pytest.mark.parametrize("sign", "＝＋－＠")
def test_a_full_width_sign_begins_no_formula(sign: str) -> None:
    assert cell(f"{sign}1+1") == f"'{sign}1+1"


def test_a_folder_of_content_without_rights_is_named(tmp_path: Path) -> None:
    content = tmp_path / "content"
    shutil.copytree(ROOT / "content", content)
    before = (
        ["setpriv", "--bounding-set=-all", "--inh-caps=-all"]
        if os.name != "nt" and os.geteuid() == 0
        else []
    )
    if before and not shutil.which("setpriv"):
        pytest.skip("rights do not bind root, and there is no setpriv to drop its privileges")
    (content / "steps").chmod(0)
    done = subprocess.run(
        [*before, sys.executable, "-m", "wizard", "content", str(content)],
        capture_output=True,
        text=True,
        cwd=ROOT,
        check=False,
    )
    (content / "steps").chmod(0o755)
    assert done.returncode == 1
    assert done.stderr == ""
    assert says(done.stdout, "steps: … cannot be read (Permission denied) … rights")
    assert "content" in files(tmp_path)
