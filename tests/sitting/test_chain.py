"""Names of a folder's surveys from the heads of their files, and which follows which."""

from __future__ import annotations

import os
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from wizard.library.paths import samples_dir
from wizard.sitting.chain import HEAD, chain_of, earlier_of, find, head_of, heads, whole
from wizard.survey.file import load, save
from wizard.survey.record import Survey
from wizard.survey.toml import Unreadable

pytestmark = pytest.mark.quick

DAY = datetime(2026, 4, 11, 9, 12)


def put(
    folder: Path, id: str, follows: str = "", days: int = 0, car: str = "Bramble", name: str = ""
) -> Path:
    path = folder / f"{name or id}.toml"
    save(path, Survey(id=id, car=car, started=DAY + timedelta(days=days), follows=follows))
    return path


def ids(folder: Path, id: str) -> list[str]:
    return [h.id for h in chain_of(heads(folder), id)]


@pytest.mark.parametrize("path", sorted(samples_dir().glob("*.toml")), ids=lambda p: p.stem)
def test_the_head_says_what_the_whole_file_says(path: Path) -> None:
    head, survey = head_of(str(path)), load(path)
    assert (head.id, head.car, head.follows) == (survey.id, survey.car, survey.follows)
    assert head.started == f"{survey.started:%Y-%m-%d %H:%M:%S}"
    assert head.sure


def test_names_with_quotes_and_letters_of_other_scripts(tmp_path: Path) -> None:
    put(tmp_path, "one", car='The "Été" \\ tourer, ünfinished')
    (head,) = heads(tmp_path)
    assert head.car == 'The "Été" \\ tourer, ünfinished'


@pytest.mark.parametrize(
    "text",
    [
        "",
        "format = [",
        "\x00\x01",
        "format = 1\n",
        "[survey\nid = 'x'",
        "format = 1\n" + "# long\n" * HEAD + "[survey]\nid = 'x'\n",
    ],
)
def test_a_head_that_cannot_be_made_out_is_called_by_its_file(tmp_path: Path, text: str) -> None:
    path = tmp_path / "odd.toml"
    path.write_text(text, encoding="utf-8")
    head = head_of(str(path))
    assert (head.id, head.name, head.sure) == ("odd", "odd", False)
    assert path.read_text(encoding="utf-8") == text


def test_keys_in_another_order_and_unknown_ones_are_no_hindrance(tmp_path: Path) -> None:
    path = tmp_path / "old.toml"
    path.write_text(
        'extra = 3\n[survey]\nfollows = "first"\nmood = "good"\nstarted = 2026-04-11T09:12:00\nid ='
        ' "second"\n\n[[reading]]\nid = "r1"\nfollows = "not me"\n',
        encoding="utf-8",
    )
    head = head_of(str(path))
    assert (head.id, head.car, head.follows, head.sure) == ("second", "", "first", True)
    assert head.started == "2026-04-11 09:12:00"


def test_the_newest_come_first_and_other_files_are_passed_over(tmp_path: Path) -> None:
    put(tmp_path, "old")
    put(tmp_path, "new", days=400)
    (tmp_path / "notes.txt").write_text("id = 'no'")
    (tmp_path / ".hidden.toml").write_text("[survey]\nid = 'no'\n")
    (tmp_path / "backup").mkdir()
    put(tmp_path / "backup", "old")
    assert [h.id for h in heads(tmp_path)] == ["new", "old"]
    assert heads(tmp_path / "none") == ()


# The chain ----------------------------------------------------------------------------------------
# -------------


def test_a_chain_is_found_from_any_of_its_surveys(tmp_path: Path) -> None:
    put(tmp_path, "c", "b", 700)
    put(tmp_path, "a")
    put(tmp_path, "b", "a", 300)
    put(tmp_path, "stranger", days=100)
    for id in ("a", "b", "c"):
        assert ids(tmp_path, id) == ["a", "b", "c"]
    assert ids(tmp_path, "stranger") == ["stranger"]
    assert ids(tmp_path, "nobody") == []


def test_two_that_follow_the_same_one_are_both_in_it(tmp_path: Path) -> None:
    put(tmp_path, "a")
    put(tmp_path, "b", "a", 300)
    put(tmp_path, "c", "a", 200)
    assert ids(tmp_path, "b") == ["a", "c", "b"]


def test_a_chain_whose_first_is_gone_begins_with_the_second(tmp_path: Path) -> None:
    put(tmp_path, "b", "a", 300)
    put(tmp_path, "c", "b", 700)
    assert ids(tmp_path, "c") == ["b", "c"]


@pytest.mark.parametrize(
    "links", [{"a": "a"}, {"a": "b", "b": "a"}, {"a": "c", "b": "a", "c": "b"}]
)
def test_files_that_follow_one_another_in_a_ring_end_the_walk(
    tmp_path: Path, links: dict[str, str]
) -> None:
    for n, (id, follows) in enumerate(links.items()):
        put(tmp_path, id, follows, n)
    assert sorted(ids(tmp_path, "a")) == sorted(links)


def test_of_two_files_with_one_id_the_one_of_that_name_counts(tmp_path: Path) -> None:
    copy = put(tmp_path, "a", name="copy of a")
    own = put(tmp_path, "a")
    assert [h.path for h in chain_of(heads(tmp_path), "a")] == [own]
    own.unlink()
    assert [h.path for h in chain_of(heads(tmp_path), "a")] == [copy]


# The whole ----------------------------------------------------------------------------------------
# -------------


def test_a_broken_file_is_named_and_the_rest_is_read(tmp_path: Path) -> None:
    put(tmp_path, "a")
    put(tmp_path, "b", days=1)
    torn = tmp_path / "torn.toml"
    torn.write_text('[survey]\nid = "torn"\n', encoding="utf-8")
    found = {head.id: survey for head, survey in whole(heads(tmp_path))}
    assert isinstance(found["torn"], Unreadable)
    assert "torn.toml" in str(found["torn"])
    assert [found[i].id for i in "ab" if isinstance(found[i], Survey)] == ["a", "b"]  # type: ignore[union-attr]
    assert torn.read_text(encoding="utf-8") == '[survey]\nid = "torn"\n'


def test_a_survey_is_found_by_its_id_whatever_its_file_is_called(tmp_path: Path) -> None:
    put(tmp_path, "a", name="renamed by hand")
    assert (found := find(tmp_path, "a")) is not None
    assert found.id == "a"
    assert find(tmp_path, "b") is None
    assert find(tmp_path, "") is None
    assert find(tmp_path, "../a") is None


def test_the_earlier_survey_is_looked_for_here_and_among_the_samples(tmp_path: Path) -> None:
    here = load(put(tmp_path, "b", "a"))
    assert earlier_of(here, tmp_path) is None
    put(tmp_path, "a")
    assert (found := earlier_of(here, tmp_path)) is not None
    assert found.id == "a"
    sample = earlier_of(replace(here, follows="bramble-2026-04-11"), tmp_path)
    assert sample is not None
    assert sample.car == "Bramble, two-seat tourer"
    assert earlier_of(replace(here, follows=""), tmp_path) is None


def test_a_thousand_names_are_found_and_no_file_is_read_whole(tmp_path: Path) -> None:
    """How quickly is measured by tests/bench/folder_bench."""
    text = (samples_dir() / "bramble-2026-04-11.toml").read_bytes()
    for n in range(1000):
        (tmp_path / f"s{n}.toml").write_bytes(
            text.replace(b'id = "bramble-2026-04-11"', b'id = "s%d"' % n)
        )
    found = heads(tmp_path)
    assert len(found) == 1000
    assert os.stat(found[0].path).st_size > 10 * HEAD


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no such pipes")
def test_a_pipe_among_the_surveys_is_not_waited_for(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe.toml")
    (head,) = heads(tmp_path)
    assert (head.id, head.sure) == ("pipe", False)
