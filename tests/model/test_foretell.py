"""How far off the straight frame's reading any frame could read."""

from __future__ import annotations

from dataclasses import replace

import pytest

from wizard.library import load_library
from wizard.model.bending import MOST
from wizard.model.foretell import Foretold, Seen, foretell
from wizard.model.frame import Frame
from wizard.model.readings import prompts_of
from wizard.model.sizing import Sizing, Taped

LIBRARY = load_library()
LADDER = LIBRARY.layouts["straight-ladder"]
PROMPTS = prompts_of(Frame(LADDER), LIBRARY)
WIDTH, D1 = "widths/front/front-left--front-right", "long-diagonals/whole/front-left--rear-right"
ROUND = [
    Taped(f"{p}-left", f"{p}-right", 2 * LADDER.place(p).half_width)
    for p in ("front", "center", "rear")
]
LONG = [Taped(f"front-{side}", f"rear-{side}", 2203.3) for side in ("left", "right")]


def told(prompt: str, *taped: Taped, seen: Seen | None = None) -> Foretold:
    found = foretell(Sizing(LADDER, taped), PROMPTS[prompt], seen or Seen())
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("share", "holds"),
    [(0.7, True), (0.75, True), (1.0, True), (1.3, True), (1.4, True), (0.55, False), (1.7, False)],
)
def test_a_first_tape_may_be_a_third_off_the_round_figure_and_no_half(
    share: float, holds: bool
) -> None:
    for prompt, mm in ((WIDTH, 620.0), (D1, 2321.1), ("wheelbase/left", 2620.0)):
        assert told(prompt).holds(share * mm) == holds, prompt


def test_once_the_frame_is_taped_little_more_than_a_bend_is_allowed() -> None:
    found = told(D1, *ROUND, *LONG)
    assert found.value == pytest.approx(2321.1, abs=1.0)
    assert MOST < found.high - found.value < 1.6 * MOST
    assert found.holds(found.value + MOST)
    assert not found.holds(found.value - 100.0)


def test_twice_and_half_are_equally_far() -> None:
    found = told(WIDTH)
    assert found.value / found.low == pytest.approx(found.high / found.value)


def test_an_axle_may_stand_right_above_its_dot_but_not_a_meter_off() -> None:
    found = told("wheelbase/front-axle-left")
    assert found.holds(0.0)
    assert found.holds(300.0)
    assert not found.holds(1200.0)


@pytest.mark.parametrize(
    ("prompt", "seen", "fits", "beyond"),
    [
        ("string-set-up/block", Seen(), (10.0, 50.8, 150.0), (2.0, 508.0)),
        ("sag-loaded/center/left", Seen(), (10.0, 100.0, 200.0), (400.0,)),
        ("sag-loaded/center/left", Seen(block=50.8), (20.0, 50.0, 85.0), (2.0, 5.0, 127.0, 508.0)),
        (
            "sag-unloaded/center/left",
            Seen(block=100.0, string_below=True),
            (70.0, 135.0),
            (50.8, 10.0),
        ),
        ("level/rear/as-set", Seen(), (-0.08, 0.0, 0.05), (0.12, -0.2)),
        ("level/rear/as-set", Seen(slopes=(0.04, 0.06)), (0.0, 0.1), (-0.05, 0.15)),
        ("pulley-hint/pulley", Seen(), (-80.0, 0.0, 50.0), (203.2, -300.0)),
        ("front-box-bar/front-right--center-left", Seen(), (-25.4, 0.0, 50.0), (76.2,)),
        ("front-box-bar/closing", Seen(), (-2.0, 0.0, 25.4), (50.8,)),
        ("pitting/left/clean", Seen(), (1.5, 3.0, 6.0), (0.3, 76.2)),
        ("pitting/left/pitted", Seen(metal=3.1), (0.1, 2.5), (30.0,)),
    ],
)
def test_readings_that_are_no_tape(
    prompt: str, seen: Seen, fits: tuple[float, ...], beyond: tuple[float, ...]
) -> None:
    found = told(prompt, seen=seen)
    assert [v for v in fits if not found.holds(v)] == []
    assert [v for v in beyond if found.holds(v)] == []


@pytest.mark.parametrize(
    "prompt", ["panel-gaps/left/top", "engine-mounts/left", "about-the-car/car"]
)
def test_of_what_the_model_cannot_read_it_foretells_nothing(prompt: str) -> None:
    assert foretell(Sizing(LADDER), PROMPTS[prompt], Seen()) is None


def test_sizes_that_are_no_frame_foretell_nothing() -> None:
    """An edited file may give a track of zero; the twin with a track is foretold."""
    broken = replace(LADDER, figures={**LADDER.figures, "track": 0.0})
    assert foretell(Sizing(broken), PROMPTS["wheelbase/left"], Seen()) is None
    assert foretell(Sizing(LADDER), PROMPTS["wheelbase/left"], Seen()) is not None
