"""The owner's own sizes take the place of the layout's round ones."""

from dataclasses import replace
from datetime import datetime

import pytest

from wizard.library.shapes import Library
from wizard.readings.refused import Refused
from wizard.survey.follow import following
from wizard.survey.record import Survey
from wizard.survey.rows import Size
from wizard.survey.sizes import misfit, own_layout, size_of, sizes_of, with_unit


@pytest.mark.parametrize(
    ("name", "typed", "value"),
    [
        ("rail_depth", "4 in", 101.6),
        ("rail_depth", "101.6", 101.6),
        ("front_axle_x", "120 forward", -120.0),
        ("front_axle_x", "-120", -120.0),
        ("engine_mass_kg", "180", 180.0),
        ("engine_mass_kg", "400 lb", 181.436948),  # identity: 1 lb = 0.45359237 kg
    ],
)
def test_a_size_as_typed(name: str, typed: str, value: float) -> None:
    assert size_of(name, typed, "mm") == pytest.approx(value, abs=1e-9)


@pytest.mark.parametrize(
    ("name", "typed"), [("rail_depth", "thick"), ("engine_mass_kg", "4 in"), ("rail_depth", "")]
)
def test_a_size_that_is_none(name: str, typed: str) -> None:
    with pytest.raises(Refused):
        size_of(name, typed, "mm")


def _sized(*rows: tuple[str, str]) -> Survey:
    survey = Survey(unit="mm")
    for name, typed in rows:
        survey = survey.with_row(Size(id=survey.new_id(Size), name=name, typed=typed))
    return survey


def test_the_last_size_that_can_be_read_counts(library: Library) -> None:
    layout = library.layouts["straight-ladder"]
    survey = _sized(
        ("rail_depth", "90"), ("rail_depth", "4 in"), ("rail_depth", "thick"), ("color", "3")
    )
    own = own_layout(layout, survey)
    assert own.figures["rail_depth"] == pytest.approx(101.6)
    assert "color" not in own.figures
    assert layout.figures["rail_depth"] != own.figures["rail_depth"]


def test_a_struck_size_gives_the_round_figure_back(library: Library) -> None:
    layout = library.layouts["straight-ladder"]
    assert own_layout(layout, _sized(("rail_depth", "90")).with_struck("z1", "slip")) is layout


def test_a_bare_number_is_in_the_surveys_unit() -> None:
    assert size_of("rail_depth", "4", "in") == pytest.approx(101.6)
    assert size_of("rail_thickness", "1/8", "in") == pytest.approx(3.175)
    assert size_of("rail_depth", "4", "mm") == 4.0


@pytest.mark.parametrize(
    ("typed", "kept"),
    [
        ("4", "4 in"),
        ("1/8", "1/8 in"),
        ("5 forward", "5 in forward"),
        ("4 mm", "4 mm"),
        ("6' 2", "6' 2"),
        ("-5", "-5 in"),
    ],
)
def test_a_bare_number_is_kept_with_its_unit(typed: str, kept: str) -> None:
    assert with_unit("rail_depth", typed, "in") == kept


ALONE = [
    ("rail_depth", "4"),
    ("track", "0"),
    ("rod", "-5"),
    ("wheelbase", "50 m"),
    ("color", "3"),
    ("track", "wide"),
]


@pytest.mark.parametrize("row", ALONE)
def test_a_size_that_cannot_be_leaves_the_round_figure(
    library: Library, row: tuple[str, str]
) -> None:
    layout = library.layouts["straight-ladder"]
    found = sizes_of(layout, _sized(row))
    assert [(z.name, z.typed) for z, _ in found.left_out] == [row]
    assert found.given == frozenset()
    assert own_layout(layout, _sized(row)) is layout


def test_sizes_that_make_no_frame_together_are_left_out_and_the_others_stay(
    library: Library,
) -> None:
    layout = library.layouts["straight-ladder"]
    found = sizes_of(
        layout, _sized(("rail_thickness", "20"), ("rail_depth", "38"), ("track", "1400"))
    )
    assert [z.name for z, _ in found.left_out] == ["rail_depth"]
    assert (found.figures["rail_thickness"], found.figures["track"]) == (20.0, 1400.0)
    assert found.figures["rail_depth"] == layout.figures["rail_depth"]


def test_every_kind_of_frame_is_one_with_its_round_figures(library: Library) -> None:
    assert [misfit(layout.figures, "mm") for layout in library.layouts.values()] == [""] * len(
        library.layouts
    )


def test_a_size_carried_over_keeps_the_unit_it_was_meant_in(library: Library) -> None:
    old = replace(_sized(("rail_depth", "4")), unit="in", id="old")
    assert [z.typed for z in following(old, library, datetime(2027, 1, 1)).table(Size)] == ["4 in"]
