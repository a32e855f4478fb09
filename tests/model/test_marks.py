"""The straight frame's points as numbers: the same distances as the model's own, and how they grow."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from wizard.library import load_library
from wizard.library.shapes import Layout
from wizard.model.bent import Bent
from wizard.model.frame import Frame
from wizard.model.readings import prompts_of, reading
from wizard.model.sizing import COMMON, FORWARD, WAY, Marks, ends, overlap

LIBRARY = load_library()
each_layout = pytest.mark.parametrize("layout", LIBRARY.layouts.values(), ids=lambda v: v.id)


@each_layout
def test_at_the_round_figures_every_distance_is_the_models_own_reading(layout: Layout) -> None:
    frame, marks, seen = Frame(layout, Bent(engine="weight-off")), Marks(layout), 0
    for prompt in prompts_of(frame, LIBRARY).values():
        between = ends(layout, prompt)
        if between:
            far = marks.distances(np.zeros(marks.count), [between])[0].item()
            assert far == pytest.approx(reading(frame, prompt), abs=1e-9), prompt.id
            seen += 1
    assert seen > 15


@each_layout
def test_what_a_distance_gains_is_its_slope(layout: Layout) -> None:
    marks = Marks(layout)
    theta = np.linspace(-1.0, 1.0, marks.count)
    points = [p for place in layout.places for p in place.points]
    pairs = [
        (points[0], points[-1]),
        (points[-1], points[-2]),
        ("axle-front", "axle-rear"),
        (points[1], "axle-rear"),
    ]
    gain = marks.distances(theta, pairs)[1]
    for n in range(marks.count):
        step = np.zeros(marks.count)
        step[n] = 1e-5
        slope = (
            marks.distances(theta + step, pairs)[0] - marks.distances(theta - step, pairs)[0]
        ) / 2e-5
        assert gain[:, n] == pytest.approx(slope, abs=1e-4), n


def test_a_frame_longer_by_a_tenth_is_longer_everywhere_and_no_wider() -> None:
    """The factor that all lengths share; ln 1.1 by hand.

    Points at one height, so the diagonal is plane.
    """
    layout = LIBRARY.layouts["straight-ladder"]
    marks = Marks(layout)
    theta = np.zeros(marks.count)
    theta[FORWARD] = math.log(1.1) / WAY
    width, side, cross, base = marks.distances(
        theta,
        [("rear-left", "rear-right"), ("front-left", "center-left"), ("front-left", "rear-right"),
         ("axle-front", "axle-rear")],
    )[0]  # fmt: skip
    assert width == pytest.approx(860.0)
    assert side == pytest.approx(math.hypot(1100.0, 55.0))
    assert cross == pytest.approx(math.hypot(2420.0, 740.0))
    assert base == pytest.approx(2620.0 * 1.1)
    theta[0] = 1.0
    assert marks.distances(theta, [("rear-left", "rear-right")])[0].item() == pytest.approx(
        860.0 * math.exp(COMMON)
    )


def test_an_owners_axle_is_no_matter_of_scale() -> None:
    layout = LIBRARY.layouts["straight-ladder"]
    layout = replace(layout, figures={**layout.figures, "rear_axle_x": 2600.0})
    longer = np.zeros(Marks(layout).count)
    longer[FORWARD] = 3.0
    given, plain = Marks(layout, frozenset({"rear_axle_x"})), Marks(layout)
    assert given.placed(longer)[0][given.at["axle-rear"]] == 2600.0
    assert plain.placed(longer)[0][plain.at["axle-rear"]] > 3000.0


@pytest.mark.parametrize(
    ("x", "start", "end", "share"),
    [(1500.0, 1000.0, 2200.0, 500.0), (1500.0, 0.0, 1000.0, 1000.0), (-450.0, -450.0, 0.0, -450.0),
     (-450.0, 0.0, 1000.0, 0.0), (300.0, -np.inf, 0.0, 0.0), (2500.0, 2200.0, np.inf, 300.0)],
)  # fmt: skip
def test_how_much_of_a_gap_lies_before_a_mark(
    x: float, start: float, end: float, share: float
) -> None:
    assert overlap(x, start, end) == share
