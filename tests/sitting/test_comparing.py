"""`crosstape compare`: words and JSON, two and more, two frames, old files with holes in them, and
broken ones.
"""

from __future__ import annotations

import json
import re
import shutil
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest

from tests.checks.surveys import library
from tests.sitting.driving import Clock, finished
from wizard.command import main
from wizard.library.paths import samples_dir
from wizard.readings.refused import Refused
from wizard.sitting.comparing import compare_files, compared

FIRST, SEASON, HARD = (
    samples_dir() / f"bramble-{day}.toml" for day in ("2026-04-11", "2026-10-10", "2027-05-08")
)
OTHER = samples_dir() / "marigold-2026-05-02.toml"
TODAY = datetime(2027, 6, 1)
PAIR = {"quantity", "old", "new", "change", "u", "says", "smallest_visible"}


def crosstape(capsys: pytest.CaptureFixture[str], *args: str | Path) -> tuple[int, str, str]:
    status = main(["compare", *map(str, args)])
    out, err = capsys.readouterr()
    return status, out, err


def as_json(*paths: Path) -> dict[str, Any]:
    found = compare_files(paths, library(), TODAY, as_json=True)
    return json.loads(found.text)  # type: ignore[no-any-return]


def pairs(told: dict[str, Any]) -> dict[str, dict[str, Any]]:
    return {p["id"]: p for p in told["pairs"]}


def edited(tmp_path: Path, change: Callable[[str], str], path: Path = FIRST) -> Path:
    """The sample with its text changed."""
    text = path.read_text(encoding="utf-8")
    other = tmp_path / path.name
    other.write_text(change(text), encoding="utf-8")
    assert other.read_text(encoding="utf-8") != text, "nothing was changed"
    return other


# One frame twice
# ------------------------------------------------------------------------------------------------


def test_after_a_still_season_nothing_is_said_to_have_moved(
    capsys: pytest.CaptureFixture[str],
) -> None:
    status, out, err = crosstape(capsys, FIRST, SEASON)
    assert (status, err) == (0, "")
    assert "Nothing has moved since 2026-04-11" in " ".join(out.split())
    assert "What has changed" not in out
    assert "182 days, 900 miles" in " ".join(out.split())


def test_the_tempting_half_millimeter_is_not_taken_for_a_change() -> None:
    told = pairs(as_json(FIRST, SEASON))
    tempting = [p for p in told.values() if abs(p["change"]) > 0.4]
    assert tempting
    assert {p["says"] for p in tempting} == {"not changed"}


def test_after_a_hard_season_what_moved_is_named_and_what_did_not_is_not(
    capsys: pytest.CaptureFixture[str],
) -> None:
    status, out, _ = crosstape(capsys, SEASON, HARD)
    assert status == 0
    changed = out[out.index("What has changed") : out.index("What has not changed")]
    assert "Left rail at the rear engine mount, engine on: then" in changed
    assert "Right rail at the rear engine mount" not in changed
    assert "ditch" in out


def test_json_has_every_field_that_is_promised() -> None:
    told = as_json(FIRST, HARD)
    assert told.keys() >= {"format", "pairs", "not_compared"}
    assert (told["old"], told["new"]) == (FIRST.stem, HARD.stem)
    for pair in told["pairs"]:
        assert pair.keys() >= PAIR
        assert pair["change"] == pytest.approx(pair["new"] - pair["old"], abs=1e-9)
        assert pair["says"] in ("changed", "not changed", "cannot tell")
        assert pair["smallest_visible"] > 3 * pair["u"] > 0
    assert told["not_compared"]
    assert all(n["why"] and n["quantity"] for n in told["not_compared"])
    assert {p["says"] for p in told["pairs"]} >= {"changed", "not changed"}


def test_the_figures_are_those_that_tell_gives(capsys: pytest.CaptureFixture[str]) -> None:
    told = pairs(as_json(FIRST, SEASON))
    for path, which in ((FIRST, "old"), (SEASON, "new")):
        assert main(["tell", "--json", str(path)]) == 0
        found = {f["id"]: f["value"] for f in json.loads(capsys.readouterr().out)["findings"]}
        shapes = [p for p in told.values() if p["quantity"] != "length"]
        assert len(shapes) >= 8
        for pair in shapes:
            assert pair[which] == pytest.approx(found[pair["id"]], abs=1e-12)


def test_the_files_are_left_as_they_are(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    copies = [Path(shutil.copy(p, tmp_path)) for p in (FIRST, SEASON, HARD)]
    before = [(p.read_bytes(), p.stat().st_mtime_ns) for p in copies]
    crosstape(capsys, *copies)
    assert [(p.read_bytes(), p.stat().st_mtime_ns) for p in copies] == before
    assert len(list(tmp_path.iterdir())) == 3


# Three and more
# -------------------------------------------------------------------------------------------------


def test_three_are_a_trend_in_the_order_of_their_days(capsys: pytest.CaptureFixture[str]) -> None:
    told = as_json(HARD, FIRST, SEASON)
    assert told["kind"] == "trend"
    assert told["surveys"] == [FIRST.stem, SEASON.stem, HARD.stem]
    assert (told["old"], told["new"]) == (SEASON.stem, HARD.stem)
    assert told["since_first"]["old"] == FIRST.stem
    sag = next(t for t in told["trend"] if t["id"] == "sag-loaded/engine-mount/left")
    assert sag["surveys"] == told["surveys"]
    assert sag["says"] in ("moving", "jumped")
    assert sag["low"] < sag["slope"] < sag["high"]
    assert [t for t in told["trend"] if t["says"] == "not moving"]
    status, out, _ = crosstape(capsys, FIRST, SEASON, HARD)
    assert status == 0
    assert "The trend over 3 surveys, 2026-04-11 to 2027-05-08" in out
    assert max(map(len, out.splitlines())) <= 80


# Two frames ---------------------------------------------------------------------------------------
# --------------


def test_two_cars_are_shown_side_by_side(capsys: pytest.CaptureFixture[str]) -> None:
    status, out, _ = crosstape(capsys, FIRST, OTHER)
    assert status == 0
    for heading in (
        "Two frames side by side",
        "What repair it would need",
        "What was not seen or not measured",
    ):
        assert heading in out
    assert "Bramble" in out
    assert "Marigold" in out
    assert max(map(len, out.splitlines())) <= 80
    told = as_json(FIRST, OTHER)
    assert (told["kind"], told["pairs"]) == ("two-frames", [])
    assert "two frames" in told["not_compared"][0]["why"]
    assert [f["survey"] for f in told["frames"]] == [FIRST.stem, OTHER.stem]


def test_a_strange_frame_among_three_is_named_and_left_out() -> None:
    found = compare_files([FIRST, OTHER, SEASON, HARD], library(), TODAY, as_json=True)
    told = json.loads(found.text)
    assert told["surveys"] == [FIRST.stem, SEASON.stem, HARD.stem]
    assert len(found.faults) == 1
    assert OTHER.stem in found.faults[0]


# Old files ----------------------------------------------------------------------------------------
# --------------


def reordered(text: str) -> str:
    """The tables in another order, the keys of every row turned round."""
    parts = re.split(r"(?m)^(?=\[)", text)
    head, rows = parts[0], parts[1:]

    def turned(part: str) -> str:
        first, *lines = part.strip("\n").split("\n")
        return "\n".join([first, *reversed(lines)]) + "\n\n"

    # Rows of one table keep their order: which tool was chosen last is said by it.
    names = sorted({p.split("\n")[0] for p in rows}, reverse=True)
    return head + "".join(turned(p) for n in names for p in rows if p.split("\n")[0] == n)


@pytest.mark.parametrize(
    "change",
    [
        reordered,
        lambda t: re.sub(r"(?m)^(at|by) = .*\n", "", t),
        lambda t: re.sub(r"(?m)^(program|started|unit|follows|layout) = .*\n", "", t),
        lambda t: re.sub(r"(?m)^(stood|tires|fuel|temperature|panels) = .*\n", "", t),
        lambda t: (
            t.replace("[survey]\n", '[survey]\nmood = "good"\n', 1) + "\n[[weather]]\nwind = 3.5\n"
        ),
        lambda t: t.replace("[[reading]]\n", "[[reading]]\nlight = [1, 2]\n"),
    ],
    ids=["reordered", "no times", "no head", "no small states", "unknown tables", "unknown keys"],
)
def test_an_old_file_with_holes_in_it_still_compares(
    tmp_path: Path, change: Callable[[str], str]
) -> None:
    whole, old = (pairs(as_json(p, SEASON)) for p in (FIRST, edited(tmp_path, change)))
    assert old.keys() == whole.keys()
    for id, pair in whole.items():
        assert old[id]["change"] == pytest.approx(pair["change"], abs=1e-9), id
        assert old[id]["says"] == pair["says"], id


def test_a_file_without_states_or_tools_compares_with_the_larger_doubt(tmp_path: Path) -> None:
    bare = edited(tmp_path, lambda t: re.sub(r"(?ms)^\[\[(state|tool)\]\]\n.*?\n\n", "", t))
    whole, old = (pairs(as_json(p, SEASON)) for p in (FIRST, bare))
    assert old.keys() == whole.keys()
    tape = "length/diagonals-below/whole/front-left--rear-right"
    assert old[tape]["u"] > 1.2 * whole[tape]["u"]


@pytest.mark.parametrize(
    "text",
    [
        "",
        "format = [",
        "\x00",
        "format = 3\n",
        'format = 1\n[[reading]]\nid = "a"\n[[look]]\nid = "a"\n',
    ],
)
def test_a_broken_file_is_named_and_left_alone(
    tmp_path: Path, text: str, capsys: pytest.CaptureFixture[str]
) -> None:
    torn = tmp_path / "torn.toml"
    torn.write_text(text, encoding="utf-8")
    status, out, err = crosstape(capsys, FIRST, torn)
    assert (status, out) == (1, "")
    assert err.count("\n") == 1
    assert "torn.toml" in err
    status, out, err = crosstape(capsys, FIRST, torn, SEASON, "--json")
    assert status == 1
    assert err.count("torn.toml") >= 1
    told = json.loads(out)
    assert told["surveys"] == [FIRST.stem, SEASON.stem]
    assert told["not_read"][0]["file"] == "torn.toml"
    assert torn.read_text(encoding="utf-8") == text


def test_a_missing_file_is_one_sentence(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    status, out, err = crosstape(capsys, tmp_path / "none.toml", FIRST)
    assert (status, out, err) == (1, "", "There is no file none.toml.\n")


@pytest.mark.parametrize("args", [[], ["one.toml"]])
def test_fewer_than_two_files_are_wrong_usage(args: list[str]) -> None:
    with pytest.raises(SystemExit) as ended:
        main(["compare", *args])
    assert ended.value.code == 2


def test_another_kind_of_frame_is_said_and_not_compared(tmp_path: Path) -> None:
    other = edited(
        tmp_path,
        lambda t: t.replace('layout = "straight-ladder"', 'layout = "x-braced"', 1),
        SEASON,
    )
    found = compare_files([FIRST, other], library(), TODAY)
    assert found.text == ""
    assert "another kind of frame" in found.faults[0]


def test_two_surveys_are_compared_and_one_is_too_few(tmp_path: Path) -> None:
    path = finished(tmp_path).sitting.path
    assert path is not None
    other = path.with_name("other.toml")
    other.write_bytes(path.read_bytes())
    assert "against" in compared([path, other], library(), Clock()()).says
    with pytest.raises(Refused):
        compared([path], library(), Clock()())
    other.write_text("format = [", encoding="utf-8")
    with pytest.raises(Refused, match=r"other\.toml"):
        compared([path, other], library(), Clock()())
