"""Saving: an old file or a new one at any instant, the calls in their order, and nothing left
behind on failure.
"""

import errno
import os
import re
import stat
import subprocess
import sys
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
import tomli_w

from tests.survey.asking import TAPED, one_sentence, taken
from wizard.library.paths import samples_dir
from wizard.survey.file import SUFFIX, NotSaved, Texts, load, save, sweep, write_atomic
from wizard.survey.record import Survey
from wizard.survey.rows import Reading
from wizard.survey.toml import to_toml

OLD, NEW = taken(Survey(car="Old"), TAPED, "91"), taken(Survey(car="New"), TAPED, "91", "92")


@pytest.fixture
def path(tmp_path: Path) -> Path:
    path = tmp_path / "s.toml"
    save(path, OLD)
    return path


def test_what_was_saved_is_what_is_loaded(path: Path) -> None:
    save(path, NEW)
    assert load(path).rows == NEW.rows
    assert os.listdir(path.parent) == ["s.toml"]


def test_a_symlink_stays_one_and_its_target_gets_the_survey(path: Path) -> None:
    there = path.parent / "there"
    there.mkdir()
    target = path.rename(there / "real.toml")
    path.symlink_to("there/real.toml")
    save(path, NEW)
    assert path.is_symlink()
    assert load(target).car == "New"
    assert os.listdir(there) == ["real.toml"]


@pytest.mark.parametrize("mode", [0o600, 0o640, 0o664, 0o444])
def test_the_mode_is_kept(path: Path, mode: int) -> None:
    path.chmod(mode)
    save(path, NEW)
    assert stat.S_IMODE(path.stat().st_mode) == mode


def test_a_new_file_gets_the_mode_that_the_person_wants(tmp_path: Path) -> None:
    before = os.umask(0o027)
    try:
        save(tmp_path / "new.toml", NEW)
    finally:
        os.umask(before)
    assert stat.S_IMODE((tmp_path / "new.toml").stat().st_mode) == 0o640


def _spy(monkeypatch: pytest.MonkeyPatch, calls: list[str]) -> None:
    """Note the calls that matter, each with what it is about, and let them happen."""

    def noted(name: str, real: Callable[..., Any], about: Callable[..., str]) -> Callable[..., Any]:
        def call(*args: Any, **rest: Any) -> Any:
            calls.append(f"{name} {about(*args)}")
            return real(*args, **rest)

        return call

    def kind(handle: int) -> str:
        return "folder" if stat.S_ISDIR(os.fstat(handle).st_mode) else "file"

    real_fdopen = os.fdopen

    def fdopen(*args: Any, **rest: Any) -> Any:
        out = real_fdopen(*args, **rest)
        return _Noting(out, calls)

    monkeypatch.setattr(os, "fdopen", fdopen)
    monkeypatch.setattr(os, "fchmod", noted("mode", os.fchmod, lambda *_: "file"))
    monkeypatch.setattr(os, "fsync", noted("fsync", os.fsync, lambda h, *_: kind(h)))
    monkeypatch.setattr(os, "replace", noted("replace", os.replace, lambda *_: "file"))


class _Noting:
    """A file that notes when it is written, flushed and closed."""

    def __init__(self, out: Any, calls: list[str]) -> None:
        self.out, self.calls = out, calls

    def __enter__(self) -> "_Noting":
        return self

    def __exit__(self, *_: object) -> None:
        self.calls.append("close file")
        self.out.close()

    def fileno(self) -> int:
        return int(self.out.fileno())

    def write(self, data: bytes) -> None:
        self.calls.append("write file")
        self.out.write(data)

    def flush(self) -> None:
        self.calls.append("flush file")
        self.out.flush()


def test_the_order_of_the_calls(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    calls: list[str] = []
    _spy(monkeypatch, calls)
    save(path, NEW)
    assert calls == [
        "write file",
        "flush file",
        "mode file",
        "fsync file",
        "close file",
        "replace file",
        "fsync folder",
    ]


def _failing(code: int) -> Callable[..., None]:
    def fail(*_: Any, **__: Any) -> None:
        raise OSError(code, os.strerror(code))

    return fail


@pytest.mark.parametrize(
    ("call", "code"),
    [
        ("fsync", errno.EIO),
        ("fsync", errno.ENOSPC),
        ("replace", errno.EACCES),
        ("open", errno.EDQUOT),
    ],
)
def test_a_failed_call_leaves_the_old_file_whole_and_nothing_behind(
    path: Path, monkeypatch: pytest.MonkeyPatch, call: str, code: int
) -> None:
    before = path.read_bytes()
    monkeypatch.setattr(os, call, _failing(code))
    with pytest.raises(NotSaved) as refused:
        save(path, NEW)
    monkeypatch.undo()
    assert path.read_bytes() == before
    assert os.listdir(path.parent) == ["s.toml"]
    assert one_sentence(str(refused.value))
    assert os.strerror(code) in str(refused.value)


def test_a_failed_flush_is_never_tried_again(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    tries = []

    def fail_once(handle: int) -> None:
        tries.append(handle)
        if len(tries) == 1:
            raise OSError(errno.EIO, "Input/output error")

    monkeypatch.setattr(os, "fsync", fail_once)
    with pytest.raises(NotSaved):
        save(path, NEW)
    assert len(tries) == 1


def _folder_sync(monkeypatch: pytest.MonkeyPatch, code: int) -> None:
    real = os.fsync

    def fsync(handle: int) -> None:
        if stat.S_ISDIR(os.fstat(handle).st_mode):
            raise OSError(code, os.strerror(code))
        real(handle)

    monkeypatch.setattr(os, "fsync", fsync)


def test_a_folder_that_cannot_be_flushed_at_all_is_let_pass(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    _folder_sync(monkeypatch, errno.EINVAL)
    save(path, NEW)
    assert load(path).car == "New"


def test_a_folder_whose_flush_fails_is_not_called_saved(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    _folder_sync(monkeypatch, errno.EIO)
    with pytest.raises(NotSaved):
        save(path, NEW)
    assert os.listdir(path.parent) == ["s.toml"]


def test_a_folder_that_is_gone(tmp_path: Path) -> None:
    with pytest.raises(NotSaved, match=r"^Not saved: s\.toml .*\(No such file or directory\)"):
        save(tmp_path / "gone" / "s.toml", NEW)


def test_a_target_that_is_a_folder(tmp_path: Path) -> None:
    (tmp_path / "s.toml").mkdir()
    with pytest.raises(NotSaved):
        save(tmp_path / "s.toml", NEW)
    assert os.listdir(tmp_path) == ["s.toml"]


def test_a_temporary_file_left_by_a_killed_program_of_the_same_number_is_no_hindrance(
    path: Path,
) -> None:
    (path.parent / f".{os.getpid()}{SUFFIX}").write_text("torn")
    save(path, NEW)
    assert os.listdir(path.parent) == ["s.toml"]


class _Busy(PermissionError):
    winerror = 32


def test_a_target_that_is_busy_for_a_moment_is_waited_for(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    real, tries = os.replace, []

    def busy(temp: str, target: str) -> None:
        tries.append(temp)
        if len(tries) < 3:
            raise _Busy(errno.EACCES, "busy")
        real(temp, target)

    monkeypatch.setattr(os, "replace", busy)
    monkeypatch.setattr("time.sleep", lambda _: None)
    save(path, NEW)
    assert len(tries) == 3
    assert load(path).car == "New"


def test_a_target_that_stays_busy_is_given_up(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    tries = []

    def busy(temp: str, target: str) -> None:
        tries.append(temp)
        raise _Busy(errno.EACCES, "busy")

    monkeypatch.setattr(os, "replace", busy)
    monkeypatch.setattr("time.sleep", lambda _: None)
    with pytest.raises(NotSaved):
        save(path, NEW)
    assert len(tries) == 20


FULL = """
import resource, signal, sys
from pathlib import Path
from wizard.survey.file import NotSaved, write_atomic
signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
resource.setrlimit(resource.RLIMIT_FSIZE, (4096, 4096))
try:
    write_atomic(Path(sys.argv[1]), b"x" * 200_000)
except NotSaved as error:
    print(error)
"""


def test_a_full_disk_leaves_the_old_file_whole(path: Path) -> None:
    before = path.read_bytes()
    run = subprocess.run(
        [sys.executable, "-c", FULL, str(path)], capture_output=True, text=True, check=True
    )
    assert run.stdout.strip() == "Not saved: s.toml could not be written (File too large)."
    assert path.read_bytes() == before
    assert os.listdir(path.parent) == ["s.toml"]


def test_a_name_in_the_message_cannot_drive_the_terminal(tmp_path: Path) -> None:
    with pytest.raises(NotSaved) as refused:
        write_atomic(tmp_path / "gone" / "\x1b[2J.toml", b"")
    assert one_sentence(str(refused.value))


def test_only_old_temporary_files_are_swept(tmp_path: Path) -> None:
    old, young, other = tmp_path / f".1{SUFFIX}", tmp_path / f".2{SUFFIX}", tmp_path / "kept.toml"
    for file in (old, young, other):
        file.write_text("x")
    for file in (old, other):
        os.utime(file, (0, 0))
    sweep(tmp_path)
    assert sorted(os.listdir(tmp_path)) == sorted([young.name, other.name])
    sweep(tmp_path / "gone")


def _at_once(survey: Survey) -> str:
    """The text as the writer makes it of the whole survey, in one go."""
    text = tomli_w.dumps(to_toml(survey), indent=101)
    return re.sub(r"\n((?: {101})+)", lambda m: "\n" + "    " * (len(m[1]) // 101), text)


STRANGE = replace(
    Survey(id="x", extra={"odd": {"a": [{"b": 1}]}}, extra_survey={"own": {"k": [1, {"c": 2}]}}),
    rows={"reading": (Reading(id="r1", typed="1", extra={"list": [1, 2], "table": {"a": "b"}}),)},
)


@pytest.mark.parametrize(
    "survey",
    [*map(load, sorted(samples_dir().glob("*.toml"))), STRANGE, replace(STRANGE, extra={})],
    ids=lambda s: s.id,
)
def test_a_text_made_of_kept_rows_is_the_text_made_at_once(survey: Survey) -> None:
    texts = Texts()
    first, *_ = survey.table(Reading)
    row = replace(first, id=survey.new_id(Reading), typed="another")
    more = survey.with_row(row)
    fewer = replace(more, rows={**more.rows, "reading": more.table(Reading)[1:]})
    steps = (survey, more, more.with_struck(first.id, "misread"), survey, fewer)
    for step in (*steps, replace(fewer, rows={}), replace(more, car="Another", extra={"n": 1})):
        assert texts.of(step) == _at_once(step)
