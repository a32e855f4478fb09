"""What a sound rail gives under the engine, and rails that do not behave so."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.checks.surveys import library, survey_of
from wizard.checks import sag, springing
from wizard.checks.case import Case
from wizard.checks.notes import Note, Rises
from wizard.survey.rows import State

STATIONS = {
    "front-crossmember": 0.0,
    "mid-engine": 330.0,
    "engine-mount": 640.0,
    "center": 1000.0,
    "behind": 1550.0,
}


def bow(x: float) -> float:
    """A parabola between the string's ends, 1 deep."""
    return 4 * (x + 80) * (2100 - x) / 2180**2


def case(left: float, right: float | None, supports: str = "wheels") -> Case:
    """Both rails read with and without the weight; left, right: how far each rose at the mount, mm."""
    readings = {"string-set-up/block": ["50"]}
    for side, rise in (("left", left), ("right", right)):
        for station, x in STATIONS.items() if rise is not None else ():
            up = (rise or 0.0) * bow(x) / bow(STATIONS["engine-mount"])
            readings[f"sag-loaded/{station}/{side}"] = [f"{50 + 6 * bow(x):.2f}"]
            readings[f"sag-unloaded/{station}/{side}"] = [f"{50 + 6 * bow(x) - up:.2f}"]
    survey = survey_of(readings, unit="mm", answers={"string-set-up/where": "above"})
    return Case(survey.with_row(State(id="s90", supports=supports)), library())


def notes(left: float, right: float | None) -> tuple[Note, ...]:
    there = case(left, right)
    (finding,) = springing.check(there, sag.check(there))
    return finding.notes


def test_the_foretold_rise_is_that_of_the_beam_less_the_strings_chord() -> None:
    """Point load on two supports, P b x (L² - b² - x²) / 6 E I L (identity), written out afresh for
    x = a.
    """
    foretold = springing.expected(case(1.0, 1.0))
    assert foretold is not None
    length, a = 2620.0, 640 + 120.0
    b, load = length - a, 200 * 9.80665 / 4
    d, f, t, young = 100.0, 44.0, 3.0, 205e3
    inertia = t * d**3 / 12 + 2 * ((f - t) * t**3 / 12 + (f - t) * t * ((d - t) / 2) ** 2) - t * 0

    def down(x: float) -> float:
        if x <= a:
            return load * b * x * (length**2 - b**2 - x**2) / (6 * young * inertia * length)
        y = length - x
        return load * a * y * (length**2 - a**2 - y**2) / (6 * young * inertia * length)

    front, rear = -80 + 120.0, 2100 + 120.0
    share = (a - front) / (rear - front)
    chord = down(front) * (1 - share) + down(rear) * share
    assert foretold.value == pytest.approx(down(a) - chord, rel=0.03)
    assert foretold.u == pytest.approx(0.4 * foretold.value)


@pytest.mark.parametrize(
    ("left", "right", "says"),
    [
        (1.0, 1.0, ()),
        (-3.0, None, (Rises((("down", "left"),), unequal=False),)),
        (1.0, 9.0, (Rises((("far", "right"),), unequal=True),)),
        (0.5, 2.6, (Rises((), unequal=True),)),
        # Inside what a hand may scatter that nobody knew before it read:
        (-0.5, None, ()),
        (0.5, 1.5, ()),
    ],
)
def test_rails_that_do_not_behave_are_noted(
    left: float, right: float | None, says: tuple[Note, ...]
) -> None:
    assert notes(left, right) == says


def test_where_it_is_not_known_what_holds_the_frame_nothing_is_foretold() -> None:
    there = case(1.0, 1.0, supports="three-points")
    assert springing.check(there, sag.check(there)) == []


@pytest.mark.parametrize("figures", [{}, {"engine_mount_x": 5000.0}])
def test_a_layout_without_the_figures_foretells_nothing(figures: dict[str, float]) -> None:
    there = case(1.0, 1.0)
    layout = replace(there.layout, figures={**there.layout.figures, **figures} if figures else {})
    other = Case(there.survey, replace(library(), layouts={layout.id: layout}))
    assert springing.expected(other) is None


def test_without_both_readings_there_is_nothing_to_hold_against_it() -> None:
    there = case(1.0, None)
    assert springing.check(there, []) == []


def test_without_the_weight_a_station_hangs_higher_by_what_the_beam_gives_there() -> None:
    """The closed form of a beam's deflection under a point load (identity), less the string's chord, at
    a station behind the load.
    """
    there = case(1.0, 1.0)
    found = {str(f.where): f for f in sag.check(there) if f.quantity == "sag-loaded"}
    length, a = 2620.0, 640 + 120.0
    load, young = 200 * 9.80665 / 4, 205e3
    d, f, t = 100.0, 44.0, 3.0
    inertia = t * d**3 / 12 + 2 * ((f - t) * t**3 / 12 + (f - t) * t * ((d - t) / 2) ** 2)

    def down(x: float) -> float:
        b = length - a
        if x > a:  # the same beam from its other end
            x, b = length - x, a
        return load * b * x * (length**2 - b**2 - x**2) / (6 * young * inertia * length)

    for place, x in STATIONS.items():
        part = (x + 80) / 2180
        chord = down(40.0) * (1 - part) + down(2220.0) * part
        loaded = found[f"{place}/left"]
        less = springing.without_weight(there, loaded)
        assert less.value == pytest.approx(loaded.value - (down(x + 120.0) - chord), abs=0.02)
        assert less.value < loaded.value
        assert less.u > loaded.number.u


def test_where_nobody_knows_what_a_rail_springs_it_hangs_as_low_as_with_the_weight() -> None:
    there = case(1.0, 1.0, "stands-under-frame")
    for loaded in (f for f in sag.check(there) if f.quantity == "sag-loaded"):
        assert springing.without_weight(there, loaded) == loaded.number
