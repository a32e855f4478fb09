"""What every picture of the frame owes its reader: straight rails straight, dashes that reach their
dots, every word whole and on its own cells, at every size and in every kind of letters.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from itertools import pairwise, product

import pytest

from tests.checks.surveys import library
from wizard.checks.plan_shape import Displaced
from wizard.library.places import Side, point_id
from wizard.library.shapes import Layout
from wizard.survey.prompts import Prompt, expand
from wizard.telling.canvas import Charset, Drawing
from wizard.telling.cells import Ground, painted
from wizard.telling.numbering import station_numbers
from wizard.telling.print_height import POINT, wide
from wizard.telling.scene import (
    Label,
    Mark,
    Moved,
    Scene,
    Stroke,
    drawn_words,
    enlargement,
    straightest,
)
from wizard.telling.scene_found import Hung, found_figure, found_scene, off_scene, plan_figure
from wizard.telling.scene_frame import flat, plan_scene, rail_of, rails, sides, spots
from wizard.telling.scene_look import corner_of, look_of, look_scene, supports_scene
from wizard.telling.svg import WIDTH

LAYOUTS = library().layouts
CHARSETS: tuple[Charset, ...] = ("braille", "blocks", "ascii")
SIZES = ((40, 6), (76, 7), (78, 9), (116, 10), (150, 16))
QUADRANTS = " ▘▝▀▖▌▞▛▗▚▐▜▄▙▟█"
BRAILLE = ((0x01, 0x08), (0x02, 0x10), (0x04, 0x20), (0x40, 0x80))


def dots(drawing: Drawing, charset: Charset) -> Iterator[tuple[float, float]]:
    """The middle of every dot of a picture, as column and row in cells."""
    for row, line in enumerate(drawing.lines):
        for col, letter in enumerate(line):
            if charset == "braille" and "\u2800" <= letter <= "\u28ff":
                bits = ord(letter) - 0x2800
                for y, x in product(range(4), range(2)):
                    if bits & BRAILLE[y][x]:
                        yield col + (x + 0.5) / 2, row + (y + 0.5) / 4
            elif charset == "blocks" and letter in QUADRANTS[1:]:
                bits = QUADRANTS.index(letter)
                for y, x in product(range(2), range(2)):
                    if bits >> (2 * y + x) & 1:
                        yield col + (x + 0.5) / 2, row + (y + 0.5) / 2
            elif charset == "ascii" and letter == "=":
                yield col + 0.5, row + 0.5


@pytest.mark.parametrize("charset", CHARSETS)
@pytest.mark.parametrize("lean", [0.0, 37.0, 160.0, -90.0])
def test_a_straight_rail_paints_a_straight_line(charset: Charset, lean: float) -> None:
    down = {"braille": 4, "blocks": 2, "ascii": 1}[charset]
    # A rail is two dots thick in braille: each of the two is half a dot off its middle.
    thick = 0.5 if charset == "braille" else 0.0
    for width, height in SIZES:
        rail = Stroke("rail", ((0.0, 200.0), (900.0, 200.0 - lean * 0.45), (2000.0, 200.0 - lean)))
        ground = Ground((0.0, 2000.0), 400.0, width, height)
        drawing = painted(Scene((rail,), (0.0, 2000.0), 400.0, ""), width, height, charset)
        found = list(dots(drawing, charset))
        (col0, row0), (col1, row1) = ground.at((0.0, 200.0)), ground.at((2000.0, 200.0 - lean))
        for col, row in found:
            true = row0 + (row1 - row0) * (col - col0) / (col1 - col0)
            assert abs(row - true) * down <= 0.5 + thick + 1e-6, (width, height, col)
        columns = {col for col, _ in found}
        assert len(columns) >= int((col1 - col0) * (1 if charset == "ascii" else 2))


@pytest.mark.parametrize("charset", CHARSETS)
@pytest.mark.parametrize("id", LAYOUTS)
def test_the_rails_of_a_frame_taper_as_its_figures_say(id: str, charset: Charset) -> None:
    layout = LAYOUTS[id]
    at = flat(layout)
    half = max(abs(y) for _, y in at.values())
    reach = (min(x for x, _ in at.values()), max(x for x, _ in at.values()))
    drawing = painted(Scene(tuple(rails(layout, at)), reach, half, ""), 150, 30, charset)
    found, ground = set(dots(drawing, charset)), Ground(reach, half, 150, 30)
    for place in (at[id] for side in ("left", "right") for id in rail_of(layout, side)):
        col, row = ground.at(place)
        # Half a dot from its middle, of a rail two dots thick; a typed mark is a cell high.
        assert any(abs(c - col) <= 1.0 and abs(r - row) <= 0.51 for c, r in found), place


@cache
def tapes() -> tuple[tuple[Layout, Prompt], ...]:
    """One prompt for every tape of every layout."""
    return tuple(_tapes())


def _tapes() -> Iterator[tuple[Layout, Prompt]]:
    for layout in LAYOUTS.values():
        seen = set()
        for step in library().steps.values():
            for prompt in expand(step, layout, library().tools):
                pair = (prompt.start, prompt.end)
                if set(pair) <= flat(layout).keys() and pair not in seen:
                    seen.add(pair)
                    yield layout, prompt


@pytest.mark.parametrize("charset", CHARSETS)
def test_the_dashes_of_a_tape_reach_both_its_dots_and_both_are_named(charset: Charset) -> None:
    count = 0
    for (layout, prompt), (width, height) in product(tapes(), SIZES[1::2]):
        scene = plan_scene(layout, (prompt.start, prompt.end))
        tape = next(p for p in scene.parts if isinstance(p, Stroke) and p.ink == "tape")
        alone = painted(replace(scene, parts=(tape,)), width, height, charset)
        ground = Ground(scene.reach, scene.half, width, height)
        inked = {(c, r) for r, row in enumerate(alone.lines) for c, x in enumerate(row) if x != " "}
        for end in tape.points:
            if charset == "ascii" and 0.0 in {y for _, y in tape.points}:
                continue  # typed, the rails that run to a nose leave no cell for a tape between them
            row, col = ground.cell(end)
            # The bead is three cells wide and may lie across two rows; a nose's tape begins behind.
            near = ((c, r) for c in range(col - 4, col + 5) for r in range(row - 1, row + 2))
            assert any(cell in inked for cell in near), (layout.id, prompt.id, width, height)
        text = " ".join(painted(scene, width, height, charset).lines)
        assert re.search(r"\bstart\b", text), (layout.id, prompt.id, width, height)
        assert re.search(r"\bend\b", text), (layout.id, prompt.id, width, height)
        count += 1
    assert count > 60


@cache
def scenes() -> tuple[Scene, ...]:
    """Pictures of every kind from above."""
    return tuple(_scenes())


@cache
def written(number: int, width: int, height: int, charset: Charset) -> str:
    """One of them as it stands in a window: painted once for all that is asked of it."""
    return "\n".join(painted(scenes()[number], width, height, charset).lines)


def _scenes() -> Iterator[Scene]:
    supports = next(
        p for s in library().steps.values() for p in s.prompts if p.keep == "state.supports"
    )
    for layout in LAYOUTS.values():
        ids = [p.id for p in layout.places if len(p.sides) > 1]
        yield plan_scene(layout, (point_id(ids[0], "left"), point_id(ids[-1], "right")))
        yield supports_scene(layout, "", supports.choices, None)
        for on in ("wheels", "stands-under-axles", "stands-under-frame", "three-points"):
            for side, over in product(("left", "right"), (ids[0], ids[-1])):
                yield supports_scene(layout, on, (), corner_of(layout, side, over))
        for step in library().steps.values():
            if step.drawing == "look":
                yield look_scene(look_of(layout, step, "left", ""))


@pytest.mark.parametrize("charset", CHARSETS)
@pytest.mark.parametrize(("width", "height"), SIZES)
def test_every_word_is_whole_and_none_lies_on_another(
    width: int, height: int, charset: Charset
) -> None:
    for number, scene in enumerate(scenes()):
        words = [p.words for p in scene.parts if isinstance(p, Label) and p.where != "over"]
        text = written(number, width, height, charset)
        for word in words:
            # "leftt" happened once.
            assert re.search(rf"(?<![a-z]){re.escape(word)}(?![a-z])", text), (word, text)


@pytest.mark.parametrize("charset", CHARSETS)
def test_a_larger_picture_has_every_word_of_a_smaller_one(charset: Charset) -> None:
    for number, scene in enumerate(scenes()):
        words = {p.words for p in scene.parts if isinstance(p, Label)}
        before: set[str] = set()
        for width, height in SIZES:
            text = written(number, width, height, charset)
            here = {word for word in words if word in text}
            assert before <= here, (before - here, width)
            before = here


def test_the_place_that_a_page_asks_about_is_lit_and_no_other() -> None:
    layout = LAYOUTS["straight-ladder"]
    mounts = next(s for s in library().steps.values() if any(p.over for p in s.prompts) and s.joint)
    over = next(p.over for p in mounts.prompts if p.over)
    at = layout.station_by_id[over].x
    look = look_of(layout, mounts, "left", "front", over)
    assert look.part[0] < at < look.part[1]
    assert look.part[1] - look.part[0] < 600
    (lit,) = (p for p in look_scene(look).parts if isinstance(p, Stroke) and p.lit)
    assert all(y < 0 for _, y in lit.points)
    assert layout.station_by_id[over].name in look.words


@pytest.mark.parametrize("on", ["stands-under-axles", "stands-under-frame", "three-points"])
def test_the_stand_at_the_corner_that_is_asked_about_is_lit(on: str) -> None:
    layout = LAYOUTS["straight-ladder"]
    places = [p for p in layout.places if len(p.sides) > 1 and p.x >= 0]
    for side, place in product(("left", "right"), (places[0], places[-1])):
        scene = supports_scene(layout, on, (), corner_of(layout, side, place.id))
        marks = [p for p in scene.parts if isinstance(p, Mark)]
        (lit,) = (m for m in marks if m.lit)
        assert len(marks) == (3 if on == "three-points" else 4)
        middle = sum(layout.places[i].x for i in (1, -1)) / 2
        assert (lit.at[0] > middle) is (place is places[-1])
        if lit.at[1]:
            assert (lit.at[1] > 0) is (side == "right")
        assert f"{side} {place.name} corner" in scene.words


def test_sides_are_named_on_every_plan() -> None:
    for layout in LAYOUTS.values():
        assert {label.words for label in sides(layout, 400.0)} == {"left", "right", "front"}


@pytest.mark.parametrize("layout", sorted(LAYOUTS))
@pytest.mark.parametrize("apart", [-2.0, 2.0])
def test_a_frame_drawn_as_taped_keeps_every_crossmember(layout: str, apart: float) -> None:
    """Whether its front pair was taped a hair nearer to the others or further off."""
    there = LAYOUTS[layout]
    front = next(p for p in there.places if len(p.sides) == 2 and not p.horns)
    points = [
        Displaced(id, spot.at[0] + apart * (id in front.points), spot.at[1], 0, 0, 1, 1, 0)
        for id, spot in spots(there).items()
    ]
    drawn = [p for p in off_scene(points, there, "mm").parts if isinstance(p, Stroke)]
    ends = {end for box in there.boxes for end in (box.front, box.rear)}
    pairs = [p for p in there.places if p.id in ends and len(p.sides) == 2 and not p.horns]
    assert len([s for s in drawn if s.ink == "member" and not s.pale]) == len(pairs)


def off_by(dx: float, dy: float, angle: float = 0.0) -> Displaced:
    """The left front point so far off, with an ellipse of 4 mm by 2."""
    place = next(p for p in LAYOUTS["straight-ladder"].places if p.id == "front")
    return Displaced(
        point_id(place.id, "left"), place.x + dx, -place.half_width + dy, dx, dy, 4.0, 2.0, angle
    )


@pytest.mark.parametrize(
    ("dx", "dy", "angle", "off"),
    [
        (3.9, 0.0, 0.0, False),
        (4.1, 0.0, 0.0, True),
        (0.0, 1.9, 0.0, False),
        (0.0, 2.1, 0.0, True),
        (3.0, 1.5, 0.0, True),
        (0.0, 3.9, math.pi / 2, False),
        (2.1, 0.0, math.pi / 2, True),
    ],
)
def test_a_point_inside_the_ellipse_of_its_doubt_is_drawn_where_it_would_be_alike(
    dx: float, dy: float, angle: float, off: bool
) -> None:
    layout, point = LAYOUTS["straight-ladder"], off_by(dx, dy, angle)
    scene = off_scene([point], layout, "mm")
    (moved,) = (p for p in scene.parts if isinstance(p, Moved))
    assert moved.off is off
    dark = {at for p in scene.parts if isinstance(p, Stroke) and not p.pale for at in p.points}
    assert (moved.start in dark) is not off
    assert (moved.end in dark) is off
    times = int(re.search(r"drawn (\d+) times too large", scene.words)[1])  # type: ignore[index]
    assert moved.end[0] - moved.start[0] == pytest.approx(times * dx)
    assert moved.end[1] - moved.start[1] == pytest.approx(times * dy)
    assert ("not off by as much as 4 mm" in scene.words) is not off
    svg = plan_figure([point], layout, "mm").svg
    assert (svg.count("<polygon") == 1) is off
    assert "times too large" not in re.sub(r"<desc.*?</desc>", "", svg)  # said once, in the words


def test_enlargement_grows_as_the_deviation_shrinks_and_ends_at_a_hundred() -> None:
    # 300 mm of 3000: 100 times is 3 mm.
    assert [enlargement(mm, 3000.0) for mm in (0.0, 0.1, 3.0, 3.1, 30.0, 300.0, 301.0)] == [
        1, 100, 100, 80, 10, 1, 1,
    ]  # fmt: skip
    assert [drawn_words(n) for n in (1, 20)] == [
        "drawn as large as it is",
        "drawn 20 times too large",
    ]


def test_what_is_drawn_stays_inside_every_doubt_with_the_fewest_pieces() -> None:
    read = [
        (0, 0.0, 0.0),
        (1, 1.0, 0.5),
        (2, 1.4, 0.5),
        (3, 4.0, 0.5),
        (4, 0.2, 0.5),
        (5, 0.0, 0.0),
    ]
    course = straightest(read)
    for x, value, half in read:
        (x0, y0), (x1, y1) = next(p for p in pairwise(course) if p[0][0] <= x <= p[1][0])
        assert abs(y0 + (y1 - y0) * (x - x0) / (x1 - x0) - value) <= half + 1e-9
    assert straightest([(x, value, 9.0) for x, value, _ in read]) == [(0, 0.0), (5, 0.0)]
    assert straightest([(0, 1.0, 0.0)]) == [(0, 1.0)]


@pytest.mark.parametrize(("dx", "dy"), [(20.0, 0.0), (-20.0, 0.0), (9.0, -9.0), (0.0, -20.0)])
@pytest.mark.parametrize("side", ["left", "right"])
def test_an_arrow_and_its_ellipse_stay_on_the_paper(dx: float, dy: float, side: str) -> None:
    """And clear of the words at its edge: at the first point of a frame and at its last."""
    layout = LAYOUTS["straight-ladder"]
    known = spots(layout)
    for place in (layout.places[0], layout.places[-1]):
        at = known[point_id(place.id, side)]
        point = Displaced(point_id(place.id, side), at.x + dx, at.y + dy, dx, dy, 4.0, 4.0, 0.0)
        figure = plan_figure([point], layout, "mm")
        (ellipse,) = re.findall(r"<ellipse [^>]*", figure.svg)
        cx, cy, rx, ry = (
            float(re.findall(rf' {name}="([-\d.]+)"', ellipse)[0])
            for name in ("cx", "cy", "rx", "ry")
        )
        assert cx - rx > 4 + wide("right", 13) / POINT
        assert cx + rx < WIDTH
        assert cy - ry > 0
        assert cy + ry < figure.height


@pytest.mark.parametrize("larger", [0.82, 1.0, 2.0])
def test_a_number_stands_clear_of_the_arrow_that_runs_toward_it(larger: float) -> None:
    layout = LAYOUTS["straight-ladder"]
    for dy in (0.0, -20.0):
        svg = found_figure([off_by(0.0, dy)], (), (), layout, "mm", larger).svg
        rings = re.findall(r'<circle cx="([\d.]+)" cy="([\d.]+)" r="([\d.]+)" fill="#fff"', svg)
        tips = re.findall(r'<polygon points="([\d.]+),([\d.]+)', svg)
        assert len(tips) == (1 if dy else 0)
        for (cx, cy, r), (x, y) in product(rings, tips):
            assert math.hypot(float(cx) - float(x), float(cy) - float(y)) > float(r)


def hung(side: Side, *ids: str) -> list[Hung]:
    layout = LAYOUTS["straight-ladder"]
    numbers = station_numbers(layout)
    at = [s for s in layout.stations if s.id in ids]
    return [Hung(side, s.x, numbers[s.id], f"{n} mm low", n) for n, s in enumerate(at, start=8)]


@pytest.mark.parametrize("side", [Side.LEFT, Side.RIGHT])
@pytest.mark.parametrize("ids", [("engine-mount",), ("engine-mount", "center")])
def test_what_the_string_says_stands_at_the_rail_where_it_was_read(
    side: Side, ids: tuple[str, ...]
) -> None:
    layout = LAYOUTS["straight-ladder"]
    stations = hung(side, *ids)
    scene = found_scene((), (), stations, layout, "mm")
    (label,) = (p for p in scene.parts if isinstance(p, Label) and p.where == "over")
    ticks = [p for p in scene.parts if isinstance(p, Stroke) and p.points[0][0] == p.points[1][0]]
    across = [t for t in ticks if t.points[0][1] * t.points[1][1] > 0]
    assert [t.points[0][0] for t in across] == [one.at for one in stations]
    assert label.words == ", ".join(one.words for one in stations)
    assert (
        label.at[1] * side.sign > 0.5 * layout.places[1].half_width
    )  # by its rail, not in the middle
    assert min(one.at for one in stations) <= label.at[0] <= max(one.at for one in stations)
    assert all(one.words in scene.words for one in stations)


def test_of_many_stations_each_is_named_and_the_words_have_each_figure() -> None:
    layout = LAYOUTS["straight-ladder"]
    stations = hung(Side.LEFT, *(s.id for s in layout.stations[1:4]))
    scene = found_scene((), (), stations, layout, "mm")
    (label,) = (p for p in scene.parts if isinstance(p, Label) and p.where == "over")
    assert label.words == "S2, S3 and S4 up to 10 mm low"
    assert "left rail S2 8 mm low, S3 9 mm low, S4 10 mm low" in scene.words
