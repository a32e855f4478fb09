"""The command line: exit statuses, one sentence for what is refused, and never a traceback."""

import gc
import io
import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

import wizard
from tests.hostile import HOSTILE
from tests.sitting.driving import begun, finished
from wizard.command import PLAIN, SHORT, USAGE, _asked, _parser, main
from wizard.library import load_library
from wizard.survey.file import load

ROOT = Path(wizard.__file__).resolve().parent.parent
BEGUN = "".join(f"{line}\n" for line in begun())


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The folder of surveys, not made yet, and a home that holds none."""
    monkeypatch.setenv("HOME", str(tmp_path / "home"))
    monkeypatch.setenv("CROSSTAPE_FOLDER", str(tmp_path / "surveys"))
    return tmp_path / "surveys"


@pytest.fixture
def done(tmp_path: Path) -> Path:
    """A survey answered to its end."""
    path = finished(tmp_path / "done").sitting.path
    assert path is not None
    return path


def _run(
    *args: str, typed: str | bytes = "", env: dict[str, str] | None = None
) -> subprocess.CompletedProcess[bytes]:
    """The program in a process of its own."""
    data = typed.encode() if isinstance(typed, str) else typed
    env = {**os.environ, "PYTHONPATH": str(ROOT), **(env or {})}
    return subprocess.run(
        [sys.executable, "-m", "wizard", *args],
        input=data,
        capture_output=True,
        env=env,
        check=False,
    )


def _typed(monkeypatch: pytest.MonkeyPatch, text: str) -> None:
    monkeypatch.setattr(sys, "stdin", io.StringIO(text))


@pytest.mark.parametrize(
    "args",
    [
        ["nonsense"],
        ["tell"],
        ["open"],
        ["tell", "a", "b"],
        ["--color"],
        ["ask", "a", "b"],
        ["tell", "a", "--x"],
    ],
)
def test_wrong_usage_is_status_2(args: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as ended:
        main(args)
    assert ended.value.code == 2
    assert "usage: crosstape" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("args", "says"), [(["--version"], "crosstape 0."), (["--help"], "usage: crosstape")]
)
def test_help_and_version_are_status_0(
    args: list[str], says: str, capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit) as ended:
        main(args)
    assert ended.value.code == 0
    assert says in capsys.readouterr().out


@pytest.mark.parametrize("name", USAGE)
def test_a_command_parsed_alone_has_the_page_it_has_among_all(
    name: str, capsys: pytest.CaptureFixture[str]
) -> None:
    pages = []
    for args in ([name, "-h"], ["--folder", "x", name, "-h"]):
        with pytest.raises(SystemExit):
            main(args)
        pages.append(capsys.readouterr().out)
    assert pages[0] == pages[1]
    assert pages[0].startswith(f"usage: crosstape {name} [-h]")


# ask ----------------------------------------------------------------------------------------------
# ------------


def test_ask_puts_a_new_survey_in_the_folder_of_the_environment(
    folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    for _ in range(2):
        _typed(monkeypatch, BEGUN)
        assert main(["ask"]) == 0
    first, second = sorted(p.stem for p in folder.iterdir())
    assert first.startswith("bramble-20")
    assert second == f"{first}-2"
    assert [load(folder / f"{s}.toml").id for s in (first, second)] == [first, second]
    assert capsys.readouterr().err == ""


def test_the_folder_asked_for_comes_before_the_environment(
    folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    _typed(monkeypatch, BEGUN)
    assert main(["--folder", str(tmp_path / "mine"), "ask"]) == 0
    assert len(list((tmp_path / "mine").iterdir())) == 1
    assert not folder.exists()


def test_without_either_it_is_crosstape_in_the_home_folder(
    folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv("CROSSTAPE_FOLDER")
    _typed(monkeypatch, BEGUN)
    assert main(["ask"]) == 0
    assert len(list((tmp_path / "home" / "Crosstape").iterdir())) == 1


def test_ask_that_is_told_nothing_leaves_nothing(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    _typed(monkeypatch, "")
    assert main(["ask"]) == 0
    assert not folder.exists()


def test_piped_ask_stops_at_the_first_refusal_with_everything_before_saved(
    folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    _typed(monkeypatch, "Bramble\ni\nhalf of it\nw\no\n")
    assert main(["ask"]) == 1
    assert capsys.readouterr().out.rstrip().endswith("The lines after it were not taken.")
    survey = load(next(folder.iterdir()))
    assert (survey.car, survey.unit) == ("Bramble", "in")
    assert survey.answer_to("about-the-car/course") == ""


def test_ask_goes_on_with_a_file(
    folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "mine.toml"
    for lines, new in ((begun()[:2], ["--new"]), (begun()[2:], [])):
        _typed(monkeypatch, "\n".join(lines))
        assert main(["ask", *new, str(path)]) == 0
    survey = load(path)
    assert (survey.id, survey.answer_to("about-the-car/by")) == ("mine", "owner")
    assert not folder.exists()


@pytest.mark.parametrize("data", [b"", b"format = 3\n", b"\xff", b"format = 1\nreading = 3\n"])
def test_ask_on_a_broken_file_leaves_it_as_it_is(
    tmp_path: Path, data: bytes, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "broken.toml"
    path.write_bytes(data)
    _typed(monkeypatch, BEGUN)
    assert main(["ask", str(path)]) == 1
    assert path.read_bytes() == data
    _one_sentence(capsys.readouterr().err)


def test_ask_takes_any_bytes_for_lines(folder: Path) -> None:
    run = _run("ask", typed=b"Br\xffamble\ni\n\xfe\xff\x00\n")
    assert run.returncode == 1
    assert b"Traceback" not in run.stderr
    assert load(next(folder.iterdir())).unit == "in"


def test_ask_in_a_terminal_without_a_locale(folder: Path) -> None:
    run = _run(
        "ask",
        typed="Été ⅞\ni\n",
        env={"LC_ALL": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0"},
    )
    assert (run.returncode, run.stderr) == (0, b"")


def test_ask_where_no_survey_can_be_saved(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("x")
    run = _run("--folder", str(tmp_path / "file"), "ask", typed=BEGUN)
    assert (run.returncode, run.stderr) == (1, b"")
    assert b"is not saved" in run.stdout


# tell ---------------------------------------------------------------------------------------------
# ------------


def _one_sentence(text: str) -> None:
    assert text.count("\n") == 1
    assert text.rstrip().endswith(".")
    assert text.rstrip("\n").isprintable()
    assert len(text) < 220


@pytest.mark.parametrize(
    "name", ["gone.toml", "round.toml", "folder", "newer.toml", "binary.toml", "\x1b[2J.toml", "."]
)
@pytest.mark.parametrize("more", [[], ["--json"], ["--mentor"]])
def test_tell_on_what_it_cannot_read(
    tmp_path: Path, name: str, more: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "round.toml").symlink_to("round.toml")
    (tmp_path / "folder").mkdir()
    (tmp_path / "newer.toml").write_text("format = 3\n")
    (tmp_path / "binary.toml").write_bytes(b"\xff\xfe")
    assert main(["tell", str(tmp_path / name), *more]) == 1
    told = capsys.readouterr()
    assert told.out == ""
    _one_sentence(told.err)


@pytest.mark.parametrize("more", [[], ["--json"], ["--mentor"]])
def test_tell_changes_nothing(
    done: Path, more: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    before = done.read_bytes(), done.stat().st_mtime_ns
    assert main(["tell", str(done), *more]) == 0
    assert (done.read_bytes(), done.stat().st_mtime_ns) == before
    told = capsys.readouterr()
    assert told.err == ""
    assert "safe to drive" not in told.out.lower()


def test_tell_as_json_is_json(done: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["tell", str(done), "--json"]) == 0
    data = json.loads(capsys.readouterr().out)
    assert data["format"] == 1
    assert data["survey"] == done.stem
    assert {r for f in data["findings"] for r in f["readings"]} <= {
        r.id for r in load(done).all_rows()
    }


@pytest.mark.parametrize("layout", ["straight-ladder", "never-heard-of"])
@pytest.mark.parametrize("more", [[], ["--json"], ["--mentor"]])
def test_tell_on_a_file_full_of_what_no_prompt_would_take(
    tmp_path: Path, layout: str, more: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "hostile.toml"
    path.write_text(HOSTILE.replace("LAYOUT", layout))
    assert main(["tell", str(path), *more]) in (0, 1)
    told = capsys.readouterr()
    assert "\x1b" not in told.out + told.err
    assert "\x07" not in told.out + told.err


@pytest.mark.parametrize(
    "args", [["tell"], ["tell", "--json"], ["tell", "--mentor"], ["ask"], ["content"]]
)
def test_a_reader_that_goes_away_is_no_fault(done: Path, args: list[str]) -> None:
    file = [] if args == ["content"] else [str(done)]
    env = {**os.environ, "PYTHONPATH": str(ROOT)}
    read, write = os.pipe()
    os.close(read)
    run = subprocess.run(
        [sys.executable, "-m", "wizard", *args, *file],
        input=b"/back\n" * 50,
        stdout=write,
        stderr=-1,
        env=env,
        check=False,
    )
    os.close(write)
    assert (run.returncode, run.stderr) == (0, b"")


# content ------------------------------------------------------------------------------------------
# ------------


def test_content_in_order_is_status_0(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["content"]) == 0
    assert capsys.readouterr().out == "The content is in order.\n"


@pytest.mark.parametrize("name", ["gone", "file", "empty"])
def test_a_folder_without_content_is_status_1_with_every_fault(
    tmp_path: Path, name: str, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "file").write_text("x")
    (tmp_path / "empty").mkdir()
    assert main(["content", str(tmp_path / name)]) == 1
    out = capsys.readouterr().out
    assert "course.toml: file: " in out
    assert "glossary.toml: file: " in out


@pytest.mark.parametrize("command", [["tell", "x.toml"], ["ask"], ["content"]])
def test_an_installation_that_lost_its_content_says_so(
    folder: Path,
    tmp_path: Path,
    command: list[str],
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    load_library.cache_clear()
    monkeypatch.setattr("wizard.library.paths.PACKAGE", tmp_path / "wizard")
    _typed(monkeypatch, BEGUN)
    assert main(command) == 1
    _one_sentence(capsys.readouterr().err)


def test_an_installation_with_faulty_content_names_the_faults(
    folder: Path,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    load_library.cache_clear()
    monkeypatch.setattr("wizard.library.paths.content_dir", lambda: tmp_path)
    _typed(monkeypatch, BEGUN)
    assert main(["ask"]) == 1
    assert "course.toml: file: is missing; put it back" in capsys.readouterr().err


def test_an_interrupt_at_the_keyboard_is_status_130(
    folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    class Interrupted(io.StringIO):
        def __next__(self) -> str:
            line = self.readline()
            if not line:
                raise KeyboardInterrupt
            return line

    monkeypatch.setattr(sys, "stdin", Interrupted("Bramble\n"))
    assert main(["ask"]) == 130
    assert "Stopped. Saved in " in capsys.readouterr().err
    assert load(next(folder.iterdir())).car == "Bramble"


@pytest.mark.parametrize("command", PLAIN)
def test_what_needs_no_parser_is_what_the_parser_makes_of_it(command):
    """A plain file behind a command, and a name that could be taken for something else."""
    for name in ("bramble", "a b", "", "./-x", "=", "2026"):
        assert vars(_asked([command, name])) == vars(_parser(command).parse_args([command, name]))
    with pytest.raises(SystemExit):
        _asked([command, "--nothing-such"])


def test_a_plain_tell_loads_no_parser(done):
    """Nor what only the words behind the answer, a short survey or a check of the content need."""
    code = "import sys; from wizard.command import main; main(sys.argv[1:]); print(*sys.modules)"
    env = {**os.environ, "PYTHONPATH": str(ROOT)}
    told = subprocess.run(
        [sys.executable, "-c", code, "tell", str(done)], capture_output=True, env=env, text=True
    ).stdout
    loaded = set(told.splitlines()[-1].split())
    assert "wizard.telling.answer_words" in loaded
    unwanted = {"argparse", "shutil", "pkgutil", "pint", "textual"}
    behind = {"wizard.telling.verdict_words", "wizard.judgment.half_hour"}
    assert not loaded & (unwanted | behind)


@pytest.mark.parametrize("command", SHORT)
def test_a_command_leaves_the_process_that_asks_for_it_as_it_was(command: str, done: Path) -> None:
    """Its own process collects no rubbish, for it ends at once; whoever calls it goes on."""
    assert gc.isenabled()
    files = {"compare": (str(done), str(done)), "content": ()}.get(command, (str(done),))
    main([command, *files])
    assert gc.isenabled()
