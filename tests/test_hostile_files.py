"""Files that were made to harm: too large, too deep, too long, too far; told or refused, within
time and memory.
"""

import contextlib
import io
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from tests.hostile import HOSTILE
from wizard.command import main
from wizard.library.load import read_content
from wizard.library.paths import content_dir, samples_dir
from wizard.survey.file import TOO_LARGE, load
from wizard.survey.toml import Unreadable

resource = pytest.importorskip("resource", reason="no limits on a program here")

ROOT = Path(__file__).resolve().parent.parent
SAMPLE = sorted(samples_dir().glob("*.toml"))[0].read_text(encoding="utf-8")
UNSHOWABLE = re.compile("[\x00-\x09\x0b-\x1f\x7f-\x9f\u200e\u200f\u202a-\u202e\u2066-\u2069]")
LIMITED = """
import resource, sys
resource.setrlimit(resource.RLIMIT_AS, (1_500_000_000, 1_500_000_000))
from wizard.command import main
status = main(sys.argv[1:])
most = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
try:  # on Linux the figure above begins with what the process that started this one held
    most = int(next(line for line in open("/proc/self/status") if line.startswith("VmHWM")).split()[1])
except OSError:
    pass
print("MB", most // 1024, file=sys.stderr)
sys.exit(status)
"""


def _run(*args: str, seconds: float = 60.0, typed: str = "") -> tuple[int, str, str, int]:
    """Status, what was said, what was complained of, and the most memory in MB."""
    run = subprocess.run(
        [sys.executable, "-c", LIMITED, *args],
        input=typed,
        capture_output=True,
        text=True,
        cwd=ROOT,
        timeout=seconds,
        check=False,
    )
    found = re.search(r"MB (\d+)\n", run.stderr)
    assert found, run.stderr[-2000:]
    assert "Traceback" not in run.stderr
    assert not UNSHOWABLE.search(run.stdout + run.stderr)
    return run.returncode, run.stdout, run.stderr.replace(found[0], ""), int(found[1])


def test_fifty_megabytes_are_refused_unread(tmp_path: Path) -> None:
    path = tmp_path / "big.toml"
    with path.open("wb") as file:
        file.write(b"format = 1\n")
        file.seek(50_000_000)
        file.write(b"\n")
    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    with pytest.raises(
        Unreadable,
        match=r"big\.toml is over 4 MB, too large for a survey, so it was left unread\.",
    ):
        load(path)
    assert resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before < 20_000
    assert _run("tell", str(path))[:3] == (
        1,
        "",
        "big.toml is over 4 MB, too large for a survey, so it was left unread.\n",
    )


def test_four_megabytes_of_readings_are_told(tmp_path: Path) -> None:
    """Every reading of a sample some hundred times over: more than anybody could take in a life."""
    rows = [f"[[reading]]{part}" for part in SAMPLE.split("[[reading]]")[1:]]
    rows[-1] = rows[-1].split("\n[[")[0] + "\n"
    text, n = SAMPLE, 10_000
    while len(text) < TOO_LARGE - 30_000:
        more = []
        for row in rows:
            n += 1
            more.append(re.sub(r'id = "r\d+"', f'id = "r{n}"', row, count=1))
        text += "\n".join(more)
    path = tmp_path / "full.toml"
    path.write_text(text[:TOO_LARGE].rpartition("\n[[")[0], encoding="utf-8")
    status, said, complained, memory = _run("tell", str(path))
    assert (status, complained) == (0, "")
    assert "Nothing to put right" in said
    assert memory < 400
    status, said, _, _ = _run("ask", str(path), typed="/quit\n")
    assert status == 0


DEEP = {
    "array": "format = 1\nx = " + "[" * 5000 + "]" * 5000,
    "table": "format = 1\nx = " + "{a=" * 5000 + "1" + "}" * 5000,
    "key": "format = 1\n" + ".".join(["a"] * 5000) + " = 1",
    "header": "format = 1\n[" + ".".join(["a"] * 5000) + "]",
    "array-in-a-row": "format = 1\n[[reading]]\nx = " + "[" * 5000 + "]" * 5000,
}


@pytest.mark.parametrize(
    ("command", "name"),
    [
        *(("tell", name) for name in DEEP),
        *((c, "array") for c in ("ask", "compare", "report", "model")),
    ],
)
def test_five_thousand_deep_is_one_sentence(tmp_path: Path, name: str, command: str) -> None:
    path = tmp_path / "deep.toml"
    path.write_text(DEEP[name])
    args = [command, str(path), *([str(path)] if command == "compare" else [])]
    status, said, complained, memory = _run(*args)
    assert (status, said) == (1, "")
    assert "deep.toml" in complained
    assert complained.count("\n") <= len(args) - 1
    assert memory < 200


NUMBERS = [
    "1e5000",
    "-1e5000",
    "1e-5000",
    "nan",
    "-inf",
    "inf",
    "9223372036854775807",
    "1e308",
    "5e-324",
    "-0.0",
    "1_0",
]
NUMBERS += [
    "9" * 5000,
    "-" + "9" * 4000,
    "0x" + "f" * 5000,
    "9" * 4299,
    "9999-12-31T23:59:59.999999Z",
]
NUMBERS += ["0001-01-01T00:00:00+23:59", "0001-01-01T00:00:00-23:59", "23:59:60", "2026-02-30"]


def _refusal(path: Path) -> str:
    """Why a file is not read, empty when it is."""
    try:
        load(path)
    except Unreadable as error:
        return str(error)
    return ""


def _with(value: str) -> list[str]:
    """A survey with the value in every place at once where a number or a time may stand, and in each
    place alone.
    """
    base = HOSTILE.replace("LAYOUT", "straight-ladder")
    texts = [re.sub(r'typed = "[^"]*"', f"typed = {value}", base)]
    texts += [base.replace('car = "', f'started = {value}\nreader = {value}\ncar = "', 1)]
    texts += [base.replace('id = "r1"\n', f'id = "r1"\nat = {value}\n', 1), base + f"x = {value}\n"]
    texts += [
        base.replace('id = "r1"', f"id = {value}", 1),
        base.replace("format = 1", f"format = {value}", 1),
    ]
    texts += [
        base.replace(
            'class = "IX"',
            f"class = {value}\nsensitivity = {value}\nmass = {value}\npull = {value}",
            1,
        )
    ]
    return texts


TOLD = """
import contextlib, io, sys
from wizard.command import main
for file in sys.argv[1:]:
    for how in ((), ("--mentor",), ("--json",)):
        complained = io.StringIO()
        try:
            with contextlib.redirect_stderr(complained):
                main(["tell", *how, file])
        except BaseException as fault:
            print(f"{file} {how}: {fault!r}", file=sys.stderr)
        if complained.getvalue():
            print(f"{file} {how}: {complained.getvalue()}", file=sys.stderr)
"""
"""Tells each file in each way; who complains, or is at fault, is named."""


@pytest.mark.parametrize("quoted", [False, True], ids=["bare", "quoted"])
def test_every_number_at_its_extreme(tmp_path: Path, quoted: bool) -> None:
    """A folder for each of NUMBERS, by its place there; all that can be read is told by one program."""
    told = []
    for n, number in enumerate(NUMBERS):
        (tmp_path / f"number-{n}").mkdir()
        for k, text in enumerate(_with(f'"{number}"' if quoted else number)):
            path = tmp_path / f"number-{n}" / f"s{k}.toml"
            path.write_text(text)
            refused = _refusal(path)
            assert not UNSHOWABLE.search(refused), path
            assert len(refused) < 300, path
            told += [str(path)] if not refused else []
    run = subprocess.run(
        [sys.executable, "-c", TOLD, *told],
        capture_output=True,
        text=True,
        cwd=ROOT,
        timeout=120,
        check=False,
    )
    assert (run.returncode, run.stderr) == (0, "")
    assert not UNSHOWABLE.search(run.stdout)
    assert len(told) > len(NUMBERS)


def _in_here(monkeypatch: pytest.MonkeyPatch, *args: str, typed: str) -> str:
    """All that a command says, without a program of its own."""
    out = io.StringIO()
    monkeypatch.setattr("sys.stdin", io.StringIO(typed))
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(out):
        main(list(args))
    assert not UNSHOWABLE.search(out.getvalue())
    return out.getvalue()


def test_no_path_is_followed_from_inside_a_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "in").mkdir()
    secret = tmp_path / "secret.toml"
    secret.write_text(SAMPLE.replace('car = "Bramble', 'car = "Secret', 1))
    for follows in (
        "../secret",
        str(secret),
        str(secret)[:-5],
        "..\\\\secret",
        "/etc/passwd",
        "secret\\u0000",
    ):
        path = tmp_path / "in" / "s.toml"
        path.write_text(
            re.sub(r'follows = "[^"]*"\n', "", SAMPLE).replace(
                "[survey]", f'[survey]\nfollows = "{follows}"', 1
            )
        )
        for args in (["tell", str(path)], ["report", str(path)], ["ask", str(path)]):
            said = _in_here(monkeypatch, *args, typed="/change\n/quit\n")
            assert len(said) > 100
            assert "Secret" not in said, (follows, args)
    assert sorted(os.listdir(tmp_path)) == ["in", "secret.toml"]


def test_content_of_another_cannot_drive_the_terminal_or_hold_it_up(tmp_path: Path) -> None:
    (tmp_path / "steps").mkdir()
    (tmp_path / "layouts").mkdir()
    (tmp_path / "limits.toml").write_text('format = 1\n["a\\u001b[2J\\u202e"]\nx = 1\n')
    (tmp_path / "steps" / "e\x1b[2J.toml").write_text('id = "x"')
    (tmp_path / "tools.toml").write_text("x = " + "[" * 5000)
    os.mkfifo(tmp_path / "course.toml")
    os.mkfifo(tmp_path / "layouts" / "a.toml")
    (tmp_path / "signs.toml").write_bytes(b"#" * 2_000_000)
    status, said, complained, _ = _run("content", str(tmp_path), seconds=20)
    assert (status, complained) == (1, "")
    for words in (
        "course.toml: file: is not a file",
        "signs.toml: file: is over 1 MB",
        "tools.toml: file: is not TOML",
    ):
        assert words in said
    assert read_content(content_dir())[1] == [], "the twin: the program's own is in order"
