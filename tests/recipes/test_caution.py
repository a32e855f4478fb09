"""DEVELOPERS.md, "A caution", carried out: it is read before its pages and before no other."""

from __future__ import annotations

import contextlib
import io
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.bench import exposures
from tests.recipes.carried_out import (
    answered,
    carried_out,
    faults,
    flat,
    piped,
    reading,
    recipe,
    said,
    sample,
    screen,
    unnamed,
)
from tests.sitting.driving import READ
from wizard.library import load_library

RECIPE = recipe("A caution")
PAGES = ("left-beside", "right-beside", "stacked-shims")
"""The page and the places at which its looks are taken."""
MASK = "A mask made for fine dust, gloves, and no vacuum cleaner."


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """A folder in which the recipe was carried out; the program reads the content there."""
    folder = tmp_path_factory.mktemp("caution")
    with reading(carried_out(RECIPE, folder)):
        yield folder


def test_the_content_is_in_order_with_it(tmp_path: Path) -> None:
    assert faults(carried_out(RECIPE, tmp_path)) == []


def test_each_part_left_out_is_named(tmp_path: Path) -> None:
    exposure, caution, page, left, right, *_ = RECIPE
    pages = (page, left, right)
    assert faults(carried_out((exposure, *pages), tmp_path / "no-caution")) == [
        "cautions.toml: caution: nothing is read before 'nests' where the car stands as"
        f" '{stance}'; write a caution against it, or name the stances of the exposure"
        for stance in ("wheels", "lifted", "bare")
    ]
    found = [f.split(";")[0] for f in faults(carried_out((caution, *pages), tmp_path / "no-name"))]
    assert found == [
        *(f"{id}.toml: exposes: 'nests' is not known" for id in PAGES),
        "cautions.toml: nests.against: 'nests' is not known",
    ]


def test_words_that_give_it_away_are_named_on_a_page_that_forgot_it(tmp_path: Path) -> None:
    content = carried_out(RECIPE, tmp_path)
    page = content / "steps" / "body-ripples.toml"
    text = page.read_text(encoding="utf-8")
    page.write_text(
        text.replace("Fresh thick paint: it hides ripples.", "Horsehair in the way."),
        encoding="utf-8",
    )
    assert [f.split(";")[0] for f in faults(content)] == [
        "body-ripples.toml: exposes: 'horsehair' is on the page, but 'nests' is not declared"
    ]


def test_each_field_is_named(tmp_path: Path) -> None:
    silent = unnamed(RECIPE, tmp_path, "straight-ladder")
    # One word that gives it away less, one line of the caution less: still a caution.
    assert [line for line in silent if not line.startswith('"')] == []
    assert not [line for line in silent if "licensed professional" in line]


def test_the_wizard_shows_it_before_its_page(home: Path) -> None:
    file = sample("bramble-2026-04-11", home / "screen")
    answered(file, "/go rail-sides", READ)
    lines = ["/go stacked-shims", *["understood"] * 3]
    pages = [flat(screen(file, *lines[: n + 1])) for n in range(len(lines))]
    told = [page for page in pages if "Mice and wasps" in page]
    assert told
    assert all(MASK in page for page in told)
    assert all("Common practice, no published source" in page for page in told)
    assert all("type understood" in page for page in told)


def test_the_plain_prompts_read_it_out_once_and_then_ask(home: Path) -> None:
    file = sample("bramble-2026-04-11", home / "plain")
    answered(file, "/go rail-sides", READ)
    told = flat(piped(file, "/go stacked-shims", *["understood"] * 3))
    assert told.count(MASK) == 1
    assert "k shims under the body" in told.split(MASK)[1]
    assert "shims under the body" not in told.split(MASK)[0]
    assert MASK not in piped(file, "/go heat-and-clamps", *["understood"] * 3)


def test_the_sheet_prints_it_before_its_page(home: Path) -> None:
    sheet = flat(said("sheet", "--layout", "straight-ladder"))
    before, _, after = sheet.partition(MASK)
    assert before.count("LEFT SIDE, STANDING") == 1
    assert before.count("Mice and wasps") == 1
    assert "Body mounts on the left side: how many shims?" in after


def test_what_was_read_stands_in_the_record(home: Path) -> None:
    file = sample("bramble-2026-04-11", home / "record")
    answered(file, "/go stacked-shims", READ)
    assert 'caution = "nests"' in file.read_text(encoding="utf-8")


def test_the_table_says_what_is_read_before_the_page(home: Path) -> None:
    out = io.StringIO()
    with contextlib.redirect_stdout(out):
        exposures.main(["stacked-shims"])
    rows = [line for line in out.getvalue().splitlines() if " reads " in line]
    assert len(rows) == 3
    assert all("nests" in row for row in rows)


def test_what_is_written_by_hand_for_the_gates_names_it_too(home: Path) -> None:
    names: dict[str, object] = {}
    text = (home / "tests" / "survey" / "exposures_by_hand.py").read_text(encoding="utf-8")
    exec(compile(text, "exposures_by_hand.py", "exec"), names)
    by_hand, caution = names["BY_HAND"], names["CAUTION"]
    assert isinstance(by_hand, dict)
    assert isinstance(caution, dict)
    for id in PAGES:
        assert by_hand[id] == set(load_library().steps[id].exposes)
    assert caution["nests", "wheels"] == "nests"
