"""Content that is kept: the same as read, never an old one, and nothing worse than not kept."""

from __future__ import annotations

import marshal
import os
import pickle
import shutil
import subprocess
import sys
import zlib
from collections.abc import Callable
from dataclasses import fields, is_dataclass
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from wizard.library import kept
from wizard.library.fields import ContentError
from wizard.library.load import read_content
from wizard.library.paths import PACKAGE, content_dir
from wizard.library.shapes import Library


@pytest.fixture
def content(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A copy of the content that has lain still, where code may be kept."""
    monkeypatch.setattr(sys, "dont_write_bytecode", False)
    monkeypatch.setattr(kept, "SETTLED_NS", -(10**18))
    return Path(shutil.copytree(content_dir(), tmp_path / "content"))


@pytest.fixture
def place(tmp_path: Path) -> Path:
    """Where it is kept."""
    return tmp_path / "kept" / "x.content"


def _read(folder: Path) -> Library:
    library, faults = read_content(folder)
    assert faults == []
    return library


def _kept(folder: Path, place: Path) -> Library | None:
    """What is kept of the folder as it is now."""
    return kept._kept(place, kept.stamp_of(folder))


def _step(folder: Path) -> Path:
    return next(p for p in sorted((folder / "steps").iterdir()) if "minutes" in p.read_text())


def _kinds(value: Any) -> Any:
    """A value with the kind of every part of it: equal is not enough, for a named tuple equals a
    plain one.
    """
    if isinstance(value, dict):
        return type(value), [(_kinds(k), _kinds(v)) for k, v in value.items()]
    if is_dataclass(value) and not isinstance(value, type):
        return type(value), [_kinds(getattr(value, f.name)) for f in fields(value)]
    if isinstance(value, (tuple, list)):
        return type(value), [_kinds(v) for v in value]
    return type(value), value


def test_what_is_kept_is_what_was_read(content: Path, place: Path) -> None:
    assert _kept(content, place) is None
    first = kept.library_of(content, place)
    again = _kept(content, place)
    assert again is not None
    assert again is not first
    assert _kinds(again) == _kinds(_read(content)) == _kinds(first)
    assert os.listdir(place.parent) == [place.name]


def test_it_is_taken_and_not_read(
    content: Path, place: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    kept.library_of(content, place)
    monkeypatch.setattr("wizard.library.load.read_content", None)
    assert kept.library_of(content, place).steps


def _longer(folder: Path) -> None:
    path = _step(folder)
    path.write_text(path.read_text() + "\n# a remark\n")


def _other_figure_of_the_same_length(folder: Path) -> None:
    """The same size and, as a copy or a checkout may leave it, the same date."""
    path = _step(folder)
    before, text = path.stat(), path.read_text()
    at = text.index("minutes = ") + len("minutes = ")
    path.write_text(f"{text[:at]}{'8' if text[at] != '8' else '7'}{text[at + 1 :]}")
    os.utime(path, ns=(before.st_atime_ns, before.st_mtime_ns))
    assert path.stat().st_size == before.st_size
    assert path.stat().st_mtime_ns == before.st_mtime_ns


def _another_in_its_place(folder: Path) -> None:
    path = _step(folder)
    new = path.with_suffix(".new")
    shutil.copy2(path, new)
    os.replace(new, path)


def _one_more(folder: Path) -> None:
    (folder / "steps" / "one-more.toml").write_text("format = 1\n")


def _one_less(folder: Path) -> None:
    _step(folder).unlink()


def _renamed(folder: Path) -> None:
    _step(folder).rename(folder / "steps" / "zz.toml")


CHANGES = (
    _longer,
    _other_figure_of_the_same_length,
    _another_in_its_place,
    _one_more,
    _one_less,
    _renamed,
)


@pytest.mark.parametrize("change", CHANGES, ids=lambda c: c.__name__.strip("_"))
def test_a_change_is_seen_at_once(
    content: Path, place: Path, change: Callable[[Path], None]
) -> None:
    before = kept.library_of(content, place)
    change(content)
    assert _kept(content, place) is None
    try:
        after = kept.library_of(content, place)
    except ContentError:
        assert read_content(content)[1] != []
    else:
        assert _kinds(after) == _kinds(_read(content))
        assert (after != before) == (change is _other_figure_of_the_same_length)


def test_other_code_that_reads_it_is_seen(
    content: Path, place: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    code = Path(shutil.copytree(PACKAGE / "library", tmp_path / "library"))
    monkeypatch.setattr(kept, "CODE", (code,))
    kept.library_of(content, place)
    assert _kept(content, place) is not None
    (code / "steps.py").write_text((code / "steps.py").read_text() + "\n")
    assert _kept(content, place) is None


def test_the_code_that_reads_it_is_all_looked_at() -> None:
    said = subprocess.run(
        [sys.executable, "-c", "import wizard.library.load, sys; print(*sys.modules)"],
        capture_output=True,
        text=True,
        check=True,
        env=os.environ | {"PYTHONPATH": str(PACKAGE.parent)},
    )
    ours = [name.split(".") for name in said.stdout.split() if name.startswith("wizard.")]
    rooms = {tuple(names[1:-1]) for names in ours}
    assert {PACKAGE.joinpath(*room) for room in rooms} <= set(kept.CODE)


def test_another_version_or_folder_is_another_content(
    content: Path, place: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    kept.library_of(content, place)
    other = Path(shutil.copytree(content, tmp_path / "other"))
    assert _kept(other, place) is None
    monkeypatch.setattr("wizard.__version__", "99")
    assert _kept(content, place) is None


def test_nothing_is_kept_of_a_file_that_has_just_changed(
    content: Path, place: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(kept, "SETTLED_NS", 3_600_000_000_000)
    _longer(content)
    assert kept.library_of(content, place).steps
    assert not place.exists()


def test_nothing_is_kept_where_the_content_has_a_fault(content: Path, place: Path) -> None:
    text = (content / "limits.toml").read_text()
    (content / "limits.toml").write_text("odd = ")
    for _ in range(2):
        with pytest.raises(ContentError):
            kept.library_of(content, place)
    assert not place.exists()
    (content / "limits.toml").write_text(text)
    assert kept.library_of(content, place) == _read(content)


def test_nothing_is_written_where_no_compiled_code_is(
    content: Path, place: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sys, "dont_write_bytecode", True)
    assert kept.library_of(content, place) == _read(content)
    assert kept.library_of(content, None) == _read(content)
    assert not place.exists()


def test_a_place_that_cannot_be_written_costs_nothing_but_time(
    content: Path, tmp_path: Path
) -> None:
    (tmp_path / "file").write_text("")
    for place in (tmp_path / "file" / "x.content", tmp_path):  # under a file; a folder
        assert kept.library_of(content, place) == _read(content)
    assert sorted(os.listdir(tmp_path)) == ["content", "file"]


def _whole(body: bytes) -> bytes:
    """With a head that fits it."""
    return kept.HEAD + zlib.crc32(body).to_bytes(4, "big") + body


def _broken(good: bytes, stamp: kept.Stamp) -> dict[str, bytes]:
    """Files that are none of ours."""
    found = {
        "empty": b"",
        "head alone": good[: len(kept.HEAD)],
        "cut": good[:-1],
        "longer": good + b"x",
        "other head": b"X" + good[1:],
        "text": b"format = 1\n" * 50,
        "no marshal": _whole(b"\xff" * 90),
        "nothing": _whole(b""),
    }
    for n in range(len(kept.HEAD) + 8, len(good), len(good) // 40):
        found[f"byte {n}"] = good[:n] + bytes([good[n] ^ 0x20]) + good[n + 1 :]
    for said in (None, 5, "x", [], {}, os.getcwd, ("Library",), Fraction(1, 2)):
        found[f"says {said}"[:40]] = _whole(marshal.dumps((stamp, pickle.dumps(said))))
    for names in ((b"wizard.library.shapes", b"Step"), (b"os", b"Library"), (b"os", b"system")):
        found[f"makes {names}"] = _whole(marshal.dumps((stamp, _making(*names))))
    found["no pickle"] = _whole(marshal.dumps((stamp, b"\x80\x05x")))
    found["no bytes"] = _whole(marshal.dumps((stamp, ["Library"])))
    found["alone"] = _whole(marshal.dumps((stamp,)))
    found["code"] = _whole(marshal.dumps((stamp, compile("1/0", "x", "exec"))))
    deep = b"\x80\x02" + b"]" * 50_000 + b"a" * 49_999 + b"."
    found["deep"] = _whole(marshal.dumps((stamp, deep)))
    return found


def _making(module: bytes, name: bytes) -> bytes:
    """A pickle that calls a class or function with one argument."""
    return b"\x80\x02c" + module + b"\n" + name + b"\nX\x04\x00\x00\x00true\x85R."


def test_nothing_is_made_but_shapes_of_content() -> None:
    with pytest.raises(TypeError, match="OnlyWords"):  # a shape, though one lacks a field
        kept._made(_making(b"wizard.library.shapes", b"OnlyWords"))
    for module, name in ((b"os", b"system"), (b"builtins", b"eval"), (b"os", b"Library")):
        with pytest.raises((KeyError, pickle.UnpicklingError)):
            kept._made(_making(module, name))


def test_whatever_lies_there_the_content_is_read(
    content: Path, place: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    true = kept.library_of(content, place)
    stamp = kept.stamp_of(content)
    assert stamp is not None
    for name, data in _broken(place.read_bytes(), stamp).items():
        place.write_bytes(data)
        assert _kept(content, place) is None, name
    assert kept.library_of(content, place) == true
    assert _kept(content, place) == true
    assert capsys.readouterr() == ("", "")


def test_a_program_of_its_own_keeps_it_beside_its_compiled_code(tmp_path: Path) -> None:
    env = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}
    env |= {"PYTHONPYCACHEPREFIX": str(tmp_path), "PYTHONPATH": str(PACKAGE.parent)}
    code = (
        "from wizard.library import load_library; print(len(load_library('straight-ladder').steps))"
    )
    told = [
        subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, env=env)
        for _ in range(2)
    ]
    assert {t.stderr for t in told} == {""}
    assert len({t.stdout for t in told}) == 1
    assert all(p.name.startswith("kept.") for p in tmp_path.rglob("*.content"))
