"""What can be held of Windows without Windows: line ends, names, flags; by stand-ins, not by
running there.
"""

import os
from pathlib import Path, PureWindowsPath
from typing import Any

import pytest

from tests.survey.asking import TAPED, taken
from wizard.sitting.naming import slug
from wizard.survey import file
from wizard.survey.file import load, save
from wizard.survey.kept import opened
from wizard.survey.record import Survey

RESERVED = ("con", "prn", "aux", "nul", "com1", "lpt9")


class _Windows:
    """`os` as it is there, as far as saving needs it."""

    name, O_BINARY = "nt", 0o100000000

    def __init__(self) -> None:
        self.flags: list[int] = []

    def __getattr__(self, name: str) -> Any:
        if name == "fchmod":
            raise AttributeError(name)
        return getattr(os, name)

    def open(self, path: str, flags: int, mode: int = 0o777) -> int:
        """Note the flags; a folder cannot be opened."""
        if os.path.isdir(path):
            raise PermissionError(13, "Permission denied")
        self.flags.append(flags)
        return os.open(path, flags & ~self.O_BINARY, mode)


def test_it_saves_without_what_is_not_there(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    fake = _Windows()
    monkeypatch.setattr(file, "os", fake)
    for answers in (("91",), ("91", "92")):
        save(tmp_path / "s.toml", taken(Survey(car="Bramble"), TAPED, *answers))
    assert all(flags & fake.O_BINARY for flags in fake.flags)
    assert len(fake.flags) == 2
    monkeypatch.undo()
    assert len(load(tmp_path / "s.toml").rows["reading"]) == 2
    assert b"\r" not in (tmp_path / "s.toml").read_bytes()


def test_a_file_that_its_editor_saved_goes_on(tmp_path: Path) -> None:
    path = tmp_path / "s.toml"
    save(path, taken(Survey(car="Bramble"), TAPED, "91"))
    path.write_bytes(b"\xef\xbb\xbf" + path.read_bytes().replace(b"\n", b"\r\n"))
    kept, survey, busy = opened(path)
    assert not busy
    kept.save(taken(survey, TAPED, "92"))
    assert [r.typed for r in load(path).rows["reading"]] == ["91", "92"]  # type: ignore[attr-defined]
    assert b"\r" not in path.read_bytes()


@pytest.mark.parametrize(
    "car", [*RESERVED, "C:\\Cars\\Bramble", "a/b", "x:y", "wh*t?", "<>|", "trailing. ", "..", ""]
)
def test_no_name_of_a_car_makes_a_name_that_it_refuses(car: str) -> None:
    name = f"{slug(car)}-2026-04-11.toml"
    assert not set(name) & set('<>:"/\\|?*')
    assert PureWindowsPath(name).name == name
    assert name.split(".")[0].lower() not in RESERVED
    assert PureWindowsPath(f".{name}.ct-lock").name.startswith(".")
