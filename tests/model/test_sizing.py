"""A frame's sizes from what was taped of it."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from wizard.library import load_library
from wizard.model.frame import Frame
from wizard.model.readings import prompts_of
from wizard.model.sizing import Sizing, Taped, ends

LIBRARY = load_library()
LADDER = LIBRARY.layouts["straight-ladder"]
D1 = "front-left", "rear-right"
WIDTHS = [
    Taped(f"{place}-left", f"{place}-right", mm)
    for place, mm in (("front", 620), ("center", 730), ("rear", 860))
]
SIDES = [
    Taped(f"front-{side}", f"rear-{side}", math.hypot(2200.0, 120.0)) for side in ("left", "right")
]


def scaled(taped: list[Taped], times: float) -> tuple[Taped, ...]:
    return tuple(replace(t, mm=t.mm * times) for t in taped)


def test_before_anything_is_taped_a_size_is_the_round_figure_known_to_an_eighth() -> None:
    sizing = Sizing(LADDER)
    assert sizing.sized == replace(LADDER, string=sizing.sized.string)
    assert sizing.distance(*D1) == pytest.approx(math.hypot(2200.0, 740.0))
    assert 0.10 < sizing.doubt(*D1) / sizing.distance(*D1) < 0.13


@pytest.mark.parametrize("times", [0.75, 1.0, 1.3])
def test_widths_and_sides_foretell_a_diagonal_of_any_size_to_some_percent(times: float) -> None:
    sizing = Sizing(LADDER, scaled(WIDTHS + SIDES, times))
    true = times * math.hypot(2200.0, 740.0)
    assert sizing.distance(*D1) == pytest.approx(true, rel=0.02)
    assert sizing.doubt(*D1) < 0.02 * true
    # What was not taped follows in part and stays less well known.
    assert (
        0.02
        < sizing.doubt("tip-left", "front-left") / sizing.distance("tip-left", "front-left")
        < 0.2
    )


def test_the_more_is_taped_the_better_a_size_is_known() -> None:
    doubts = [Sizing(LADDER, scaled((WIDTHS + SIDES)[:n], 1.1)).doubt(*D1) for n in range(6)]
    assert doubts == sorted(doubts, reverse=True)
    assert doubts[5] < doubts[3] / 2 < doubts[0] / 2


def test_one_width_says_more_of_another_width_than_of_a_length() -> None:
    sizing = Sizing(LADDER, scaled(WIDTHS[:1], 1.3))
    wide = sizing.distance("rear-left", "rear-right") / 860.0
    long = sizing.distance("axle-front", "axle-rear") / 2620.0
    assert 1.3 > wide > long > 1.02


def test_the_sized_layout_is_a_frame_that_reads_so() -> None:
    sizing = Sizing(LADDER, scaled(WIDTHS + SIDES, 1.2))
    frame = Frame(sizing.sized)
    assert math.dist(frame.point(D1[0]), frame.point(D1[1])) == pytest.approx(sizing.distance(*D1))


def test_an_owners_wheelbase_is_taken_at_his_word() -> None:
    own = replace(LADDER, figures={**LADDER.figures, "wheelbase": 3000.0})
    axles = "axle-front", "axle-rear"
    assert Sizing(own, given=frozenset({"wheelbase"})).distance(*axles) == pytest.approx(
        3000.0, abs=10.0
    )
    assert Sizing(own).distance(*axles) == pytest.approx(2620.0)


@pytest.mark.parametrize(
    ("prompt", "between"),
    [
        ("long-diagonals/whole/front-left--rear-right", D1),
        ("wheelbase/left", ("axle-front", "axle-rear")),
        ("wheelbase/rear-axle-right", ("axle-rear", "rear-right")),
        ("string-set-up/span", ("block-front", "block-rear")),
        ("string-set-up/block", None),
        ("sag-loaded/center/left", None),
        ("front-box-bar/front-right--center-left", None),
    ],
)
def test_what_a_tape_lies_between(prompt: str, between: tuple[str, str] | None) -> None:
    assert ends(LADDER, prompts_of(Frame(LADDER), LIBRARY)[prompt]) == between


def test_a_size_that_no_frame_has_is_borne() -> None:
    """The twin that must fail in no other way: an edited file may hold anything."""
    sizing = Sizing(
        LADDER, (Taped("front-left", "front-right", 1e9), Taped("nobody", "front-right", 620.0))
    )
    assert math.isfinite(sizing.distance(*D1))
    assert math.isfinite(sizing.doubt(*D1))
