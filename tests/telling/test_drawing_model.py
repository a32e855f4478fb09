"""The bent model drawn: larger than it is, with the scale said, and straight when it is straight."""

from __future__ import annotations

from functools import cache

import pytest

from wizard.judgment.blind import Bench
from wizard.library import load_library
from wizard.model.bent import Bent, Horn, Sag
from wizard.telling.canvas import Charset
from wizard.telling.drawing_model import (
    end_bent,
    plan_bent,
    scale_of,
    side_bent,
    views,
)

BOXES = (38, (6, 4, 4)), (60, (11, 7, 6))
CHARSETS: tuple[Charset, ...] = ("blocks", "braille", "ascii")


@cache
def bench() -> Bench:
    library = load_library()
    return Bench(library.layouts["straight-ladder"], library)


EVERYTHING = Bent(
    diamond=20.0, sway_front=-30.0, twist=25.0, left=(Sag(30.0, 640.0),), right=(Sag(-20.0, 1000.0, 0.0),),
    horn_left=Horn(40.0, 30.0, -30.0), axle_rear=30.0,
)  # fmt: skip


@pytest.mark.parametrize("charset", CHARSETS)
@pytest.mark.parametrize(("width", "heights"), BOXES)
@pytest.mark.parametrize("bent", [Bent(), EVERYTHING], ids=["straight", "everything"])
def test_every_view_keeps_to_its_box(
    bent: Bent, width: int, heights: tuple[int, int, int], charset: Charset
) -> None:
    found = views(bench().frame(bent), width, heights, charset)
    for drawing, height in zip((found.plan, found.side, found.end), heights, strict=True):
        assert len(drawing.lines) == height
        assert all(len(row) <= width for row in drawing.lines)
        assert all(0 <= a < b <= width and 0 <= row < height for row, a, b in drawing.lit)
    assert all(len(caption) <= 38 for caption in found.captions)


@pytest.mark.parametrize("layout", sorted(load_library().layouts))
def test_every_kind_of_frame_can_be_drawn(layout: str) -> None:
    library = load_library()
    other = Bench(library.layouts[layout], library)
    found = views(
        other.frame(Bent(diamond=6.0, sway_rear=5.0, twist=6.0)), 60, (11, 7, 6), "blocks"
    )
    assert all(any(row.strip() for row in d.lines) for d in (found.plan, found.side, found.end))


def test_a_straight_frame_is_drawn_alike_on_both_sides() -> None:
    lines = plan_bent(bench().frame(Bent()), 60, 11, "ascii").lines
    points = [[col for col, letter in enumerate(row) if letter == "o" and col > 6] for row in lines]
    upper = [cols for cols in points if cols]
    assert sorted(c for row in upper[: len(upper) // 2] for c in row) == sorted(
        c for row in upper[len(upper) // 2 :] for c in row
    )


def test_a_diamond_is_drawn_with_the_right_rail_back() -> None:
    lines = plan_bent(bench().frame(Bent(diamond=8.0)), 60, 11, "ascii").lines
    rows = [[col for col, letter in enumerate(row) if letter == "o" and col > 6] for row in lines]
    right = max(rows[1] + rows[0] + rows[2])
    left = max(rows[-1] + rows[-2] + rows[-3])
    assert right > left


@pytest.mark.parametrize(
    ("draw", "bent", "words"),
    [
        (plan_bent, Bent(), "nothing moved"),
        (plan_bent, Bent(twist=8.0), "nothing moved"),
        (plan_bent, Bent(diamond=6.0), "drawn 80 times too large"),
        (side_bent, Bent(engine="weight-off"), "nothing moved"),
        (side_bent, Bent(), "drawn 10 times too large"),
        (end_bent, Bent(diamond=6.0), "nothing moved"),
        (end_bent, Bent(twist=8.0), "drawn 10 times too large"),
    ],
)
def test_the_scale_is_said(draw, bent: Bent, words: str) -> None:  # type: ignore[no-untyped-def]
    assert words in draw(bench().frame(bent), 38, 6, "blocks").words


def test_unlike_rails_are_told_apart_and_like_ones_are_not() -> None:
    one = side_bent(bench().frame(Bent(left=(Sag(8.0, 640.0),))), 60, 7, "ascii")
    both = side_bent(
        bench().frame(Bent(left=(Sag(8.0, 640.0),), right=(Sag(8.0, 640.0),))), 60, 7, "ascii"
    )
    assert any("right rail dashed" in row for row in one.lines)
    assert any("both rails alike" in row for row in both.lines)


def test_the_end_view_names_the_place_that_leans_most() -> None:
    assert any(
        "rear solid" in row
        for row in end_bent(bench().frame(Bent(twist=8.0)), 60, 6, "ascii").lines
    )
    horn = end_bent(bench().frame(Bent(horn_left=Horn(up=8.0))), 60, 6, "ascii")
    assert any("horn tip solid" in row for row in horn.lines)


def test_too_small_a_box_has_words_only() -> None:
    for draw in (plan_bent, side_bent, end_bent):
        drawing = draw(bench().frame(Bent(twist=6.0)), 20, 3, "blocks")
        assert drawing.lines == ()
        assert drawing.words


def test_the_largest_round_scale_within_a_tenth_of_the_length_is_taken() -> None:
    assert scale_of([2.0, -4.0], 900.0).times == 20
    assert scale_of([0.01], 900.0).times == 1
    assert scale_of([500.0], 900.0).words() == "drawn as large as it is"
    assert scale_of([], 900.0).words() == "nothing moved"


@pytest.mark.parametrize("bent", [Bent(twist=8.0), EVERYTHING], ids=["twist", "everything"])
def test_the_scale_is_the_same_at_every_size_and_said_over_the_picture(bent: Bent) -> None:
    frame = bench().frame(bent)
    small, large = (views(frame, w, h, "blocks") for w, h in ((38, (6, 4, 4)), (150, (16, 12, 9))))
    assert small.captions == large.captions
    for caption, drawing in zip(small.captions, (small.plan, small.side, small.end), strict=True):
        assert caption.partition(", ")[2] == drawing.words.rpartition(": ")[2].rstrip(".")
