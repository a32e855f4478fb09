"""Content with one defect each: the fault names the file, the key and the remedy, and reading goes
on to the end.
"""

import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.library.defects import BAR, DIAGONALS, EDITS, TOPS, says
from wizard.library.load import TOO_LARGE, read_content
from wizard.library.paths import content_dir


def _copy(tmp_path: Path) -> Path:
    return Path(shutil.copytree(content_dir(), tmp_path / "content"))


def _faults(folder: Path) -> list[str]:
    return [str(f) for f in read_content(folder)[1]]


@pytest.mark.parametrize("defect", EDITS)
def test_one_defect_is_named_with_its_remedy(tmp_path: Path, defect: str) -> None:
    file, old, new, wanted = EDITS[defect]
    folder = _copy(tmp_path)
    text = (folder / file).read_text(encoding="utf-8")
    assert old in text, "the content changed: give this test another place to break"
    (folder / file).write_text(text.replace(old, new, 1), encoding="utf-8")
    faults = _faults(folder)
    assert any(says(f, wanted) for f in faults), faults
    assert all("; " in f and f.split(":")[0].endswith((".toml", "layouts")) for f in faults)


def test_a_fault_that_leaves_a_part_out_or_turns_it_round_would_be_found() -> None:
    fault = "level.toml: drawing: 'axle' is not known; did you mean 'axles'?"
    assert says(fault, "level.toml: drawing: … 'axle' … 'axles'")
    assert not says(fault, "level.toml: drawing: … 'axle' … 'axis'")
    assert not says(fault, "'axles' … 'axle'")


def _binary(path: Path) -> None:
    path.write_bytes(b'format = 1\ntitle = "\xff"\n')


def _large(path: Path) -> None:
    path.write_text("#" * (TOO_LARGE + 1))


def _deep(path: Path) -> None:
    path.write_text("x = " + "[" * 20_000)


def _long(path: Path) -> None:
    path.write_text("x = " + "9" * 5000)


def _folder(path: Path) -> None:
    path.unlink()
    path.mkdir()


def _empty(path: Path) -> None:
    path.write_text("")


@pytest.mark.parametrize(
    ("spoil", "wanted"),
    [
        (_binary, "file: is not UTF-8 text; save it as UTF-8"),
        (_large, "file: is over 1 MB; split it"),
        (_deep, "file: is not TOML ("),
        (_long, "file: is not TOML ("),
        (_folder, "file: is not a file; put a file in its place"),
        (Path.unlink, "file: is missing; put it back"),
        (_empty, "format: is missing; add format"),
    ],
)
@pytest.mark.parametrize("file", ["course.toml", "limits.toml", "glossary.toml"])
def test_a_file_that_cannot_be_read(
    tmp_path: Path, file: str, spoil: Callable[[Path], None], wanted: str
) -> None:
    folder = _copy(tmp_path)
    spoil(folder / file)
    assert any(f.startswith(f"{file}: {wanted}") for f in _faults(folder))


@pytest.mark.parametrize("spoil", [_binary, _large, _deep, _long, _folder, _empty])
def test_a_step_that_cannot_be_read(tmp_path: Path, spoil: Callable[[Path], None]) -> None:
    folder = _copy(tmp_path)
    spoil(folder / DIAGONALS)
    assert any(f.startswith("long-diagonals.toml: ") for f in _faults(folder))


def test_an_empty_folder_is_all_faults_and_no_crash(tmp_path: Path) -> None:
    faults = _faults(tmp_path)
    assert "layouts: folder: holds no layout; add one file" in faults
    files = len(list(content_dir().glob("*.toml")))
    assert len([f for f in faults if "is missing; put it back" in f]) == files


def test_a_row_that_is_no_table(tmp_path: Path) -> None:
    folder = _copy(tmp_path)
    (folder / "cautions.toml").write_text("format = 1\ncaution = [ 3 ]\n")
    wanted = "cautions.toml: caution: … not a table … [[caution]]"
    assert any(says(f, wanted) for f in _faults(folder))


def test_every_fault_is_listed_not_only_the_first(tmp_path: Path) -> None:
    folder = _copy(tmp_path)
    for file in (DIAGONALS, TOPS, BAR):
        path = folder / file
        path.write_text(
            path.read_text(encoding="utf-8").replace("why =", "whi =", 1), encoding="utf-8"
        )
    assert len([f for f in _faults(folder) if "whi: is not a key" in f]) == 3


@pytest.mark.parametrize(
    ("layout", "looked_at"),
    [
        ("leaf-ladder-light", True),
        ("straight-ladder", False),
        ("", True),
        ("of-no-such-kind", True),
    ],
)
def test_the_prompts_of_one_kind_of_frame_are_looked_at_where_only_that_is_wanted(
    tmp_path: Path, layout: str, looked_at: bool
) -> None:
    folder = _copy(tmp_path)
    path = folder / "layouts" / "leaf-ladder-light.toml"
    path.write_text(
        path.read_text(encoding="utf-8").replace('rear = "front"', 'rear = "rear"', 1),
        encoding="utf-8",
    )
    assert (
        any("is not a point of the layout" in str(f) for f in read_content(folder, layout)[1])
        == looked_at
    )
