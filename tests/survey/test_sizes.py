"""The owner's own sizes take the place of the layout's round ones."""

import pytest

from wizard.library.shapes import Library
from wizard.readings.refused import Refused
from wizard.survey.record import Survey
from wizard.survey.rows import Size
from wizard.survey.sizes import own_layout, size_of


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
    assert size_of(name, typed) == pytest.approx(value, abs=1e-9)


@pytest.mark.parametrize(("name", "typed"), [("rail_depth", "thick"), ("engine_mass_kg", "4 in"), ("rail_depth", "")])
def test_a_size_that_is_none(name: str, typed: str) -> None:
    with pytest.raises(Refused):
        size_of(name, typed)


def _sized(*rows: tuple[str, str]) -> Survey:
    survey = Survey()
    for name, typed in rows:
        survey = survey.with_row(Size(id=survey.new_id(Size), name=name, typed=typed))
    return survey


def test_the_last_size_that_can_be_read_counts(library: Library) -> None:
    layout = library.layouts["straight-ladder"]
    survey = _sized(("rail_depth", "90"), ("rail_depth", "4 in"), ("rail_depth", "thick"), ("colour", "3"))
    own = own_layout(layout, survey)
    assert own.figures["rail_depth"] == pytest.approx(101.6)
    assert "colour" not in own.figures
    assert layout.figures["rail_depth"] != own.figures["rail_depth"]


def test_a_struck_size_gives_the_round_figure_back(library: Library) -> None:
    layout = library.layouts["straight-ladder"]
    assert own_layout(layout, _sized(("rail_depth", "90")).with_struck("z1", "slip")) is layout
