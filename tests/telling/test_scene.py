"""One scene, two painters: what is drawn, named and lit is the same in cells and on paper."""

from __future__ import annotations

import re
from itertools import pairwise
from pathlib import Path
from xml.etree import ElementTree

import pytest

from wizard.library import load_library
from wizard.telling.cells import Ground, painted
from wizard.telling.scene import Label, Mark, Moved, Scene, Stroke
from wizard.telling.scene_frame import flat, frame, plan_scene, rail_of, sides, spots
from wizard.telling.sheet_form import numbered_scene
from wizard.telling.svg_scene import drawn

LAYOUTS = load_library().layouts
NAMES = ("right", "front", "left")


def numbered(id: str) -> Scene:
    layout = LAYOUTS[id]
    at = flat(layout)
    along = [x for x, _ in at.values()]
    half = max(abs(y) for _, y in at.values())
    marks = [Mark("number", place, str(n)) for n, place in enumerate(at.values(), start=1)]
    parts = (*frame(layout, at), *sides(layout, half), *marks)
    return Scene(parts, (min(along), max(along)), half, "told")


def on_paper(scene: Scene) -> dict[str, tuple[float, float]]:
    """Every word of the drawing on paper, with its place."""
    root = ElementTree.fromstring(drawn("k", "title", scene, 20, 20).svg)
    texts = [e for e in root.iter() if e.tag.endswith("}text")]
    return {str(e.text): (float(e.attrib["x"]), float(e.attrib["y"])) for e in texts}


def in_cells(scene: Scene) -> dict[str, tuple[float, float]]:
    """Every word and number in cells, with its column and row."""
    lines = painted(scene, 200, 60, "ascii").lines
    found = [
        (m.group().strip("()"), (m.start(), row))
        for row, line in enumerate(lines)
        for m in re.finditer(r"[a-z]{3,}|\(\d+\)", line)
    ]
    return dict(found)


@pytest.mark.parametrize("id", LAYOUTS)
def test_both_painters_show_the_same_words_in_the_same_order_on_the_page(id: str) -> None:
    cells, paper = in_cells(numbered(id)), on_paper(numbered(id))
    assert (
        set(cells) == set(paper) == {*NAMES, *(str(n + 1) for n in range(len(flat(LAYOUTS[id]))))}
    )
    for axis in (0, 1):
        ordered = sorted(paper, key=lambda word: paper[word][axis])
        places = [cells[word][axis] for word in ordered if word not in NAMES]
        assert all(b >= a - 1 for a, b in pairwise(places)), (id, axis)


@pytest.mark.parametrize("id", LAYOUTS)
def test_the_words_for_the_sides_stand_level_with_where_the_rails_begin(id: str) -> None:
    scene, known = numbered(id), spots(LAYOUTS[id])
    begins = {side: known[rail_of(LAYOUTS[id], side)[0]].y for side in ("left", "right")}
    if 0.0 in begins.values():  # a nose, where both begin in one point
        return
    labels = {p.words: p.at[1] for p in scene.parts if isinstance(p, Label)}
    assert labels == {**begins, "front": 0.0}


def test_what_is_pale_lies_behind_and_is_thinner_or_dotted() -> None:
    was = Stroke("rail", ((0.0, 0.0), (1000.0, 0.0)), pale=True)
    now = Stroke("rail", ((0.0, 200.0), (1000.0, 200.0)))
    scene = Scene((was, now), (0.0, 1000.0), 400.0, "")
    svg = drawn("k", "t", scene, 10, 10).svg
    assert re.findall(r'opacity="([^"]*)"', svg) == ["0.3"]
    assert re.findall(r'stroke-width="([^"]*)"', svg) == ["3", "1.8"]
    rows = painted(scene, 60, 11, "ascii").lines
    assert sum("=" * 20 in row for row in rows) == 1
    assert sum("." in row or "'" in row for row in rows) == 1


def test_a_moved_point_turns_its_ellipse_against_the_page() -> None:
    """The car's right is up on the page: what turns toward it on the frame turns the other way."""
    moved = Moved((0.0, 0.0), (100.0, 50.0), 40.0, 10.0, 0.5)
    svg = drawn("k", "t", Scene((moved,), (0.0, 1000.0), 400.0, ""), 10, 10).svg
    assert "rotate(-28.65 " in svg


def test_a_picture_that_ends_where_it_begins_is_only_told() -> None:
    scene = Scene((Mark("point", (0.0, 0.0)),), (5.0, 5.0), 1.0, "told")
    assert (painted(scene, 60, 9, "ascii").lines, painted(scene, 60, 9, "ascii").words) == (
        (),
        "told",
    )


def test_the_ground_holds_a_scene_between_its_margins() -> None:
    ground = Ground((0.0, 2000.0), 400.0, 76, 9)
    assert ground.cell((0.0, 400.0)) == (1, 8)
    assert ground.cell((2000.0, -400.0)) == (7, 73)


def test_a_scene_says_what_it_does_not_know_of() -> None:
    scene = plan_scene(LAYOUTS["straight-ladder"], ("gone", "rear-left"))
    assert "not on this drawing" in scene.words
    told = [p.words for p in scene.parts if isinstance(p, Label)]
    assert sorted(told) == sorted(["end", *NAMES])


def test_no_painter_is_named_where_a_scene_is_made() -> None:
    """A scene of the frame knows of millimeters alone."""
    source = Path("wizard/telling/scene_frame.py").read_text(encoding="utf-8")
    assert not re.search(r"canvas|svg|cells|width: int|charset", source)


def test_where_two_words_at_the_edge_want_one_row_each_has_its_own() -> None:
    """In a low box the middle and a rail are one row; `left` over `front` read `leftt`."""
    words = (Label("front", (0.0, 0.0), "margin"), Label("left", (0.0, -1.0), "margin"))
    rail = (Stroke("rail", ((0.0, -400.0), (2000.0, -400.0))),)
    scene = Scene((*rail, *words), (0.0, 2000.0), 400.0, "a frame")
    told = [line.split()[0] for line in painted(scene, 60, 9, "ascii").lines if line[:1].isalpha()]
    assert told == ["front", "left"]


SANS = 0.5 * 11
"""Units that a letter of 11 takes on average: half its height, as sans serif letters are wide."""


@pytest.mark.parametrize("id", LAYOUTS)
def test_no_two_stations_on_paper_have_names_that_touch(id: str) -> None:
    layout = LAYOUTS[id]
    named = {
        w: at
        for w, at in on_paper(numbered_scene(layout, dict.fromkeys(flat(layout), 0))).items()
        if w[0] == "S"
    }
    assert len(named) == len(layout.stations)
    for low in {y for _, y in named.values()}:
        row = sorted((x, len(word)) for word, (x, y) in named.items() if y == low)
        for (x0, first), (x1, second) in pairwise(row):
            assert x1 - x0 >= SANS * (first + second) / 2, (id, named)
