"""Kink or bow of each rail."""

from __future__ import annotations

import pytest

from tests.checks.surveys import findings, survey_of
from wizard.checks.finding import Finding
from wizard.checks.notes import Bend, Crown

STATIONS = ("front-crossmember", "mid-engine", "engine-mount", "center", "behind")


BOTH = ("sag-loaded", "sag-unloaded")
"""Both states, once each: how far they miss one another shows what the hand is worth."""


def found(
    depths: tuple[float, ...],
    steps: tuple[str, ...] = BOTH,
    sides: tuple[str, ...] = ("left",),
    times: int = 1,
) -> dict[str, Finding]:
    readings = {"string-set-up/block": ["50"]}
    readings |= {
        f"{step}/{s}/{side}": [f"{50 + d:.2f}"] * times
        for s, d in zip(STATIONS, depths, strict=False)
        for step in steps
        for side in sides
    }
    return findings(survey_of(readings, unit="mm", answers={"string-set-up/where": "above"}))


def test_a_sharp_bend_at_the_center_is_a_kink_near_it() -> None:
    """A hinge of 14 mm at the center crossmember: straight from the blocks to it on both sides."""
    hinge = tuple(14 * min((x + 80) / 1080, (2100 - x) / 1100) for x in (0, 330, 640, 1000, 1550))
    finding = found(hinge)["bend/left"]
    note = finding.note(Bend)
    assert note
    assert (note.kind, note.near) == ("kink", "center")
    assert finding.value == pytest.approx(14.0, rel=0.15)


def test_a_smooth_bow_is_no_kink() -> None:
    bow = tuple(4 * 4 * (x + 80) * (2100 - x) / 2180**2 for x in (0, 330, 640, 1000, 1550))
    note = found(bow)["bend/left"].note(Bend)
    assert note
    assert note.kind != "kink"


def test_the_loaded_string_serves_where_there_is_no_other() -> None:
    assert "bend/right" in found((0, 1, 2, 1, 0), ("sag-loaded",), ("right",))


def test_two_stations_show_no_shape() -> None:
    assert "bend/left" not in found((0, 1))


HINGE = tuple(14 * min((x + 80) / 1080, (2100 - x) / 1100) for x in (0, 330, 640, 1000, 1550))


def kind(by: dict[str, Finding], side: str = "left") -> str:
    note = by[f"bend/{side}"].note(Bend)
    assert note
    return note.kind


def test_a_kink_stands_in_both_states_and_one_state_read_once_shows_less() -> None:
    """What was told of one reading a station took the hand for better than anybody had seen."""
    six = tuple(0.5 * d for d in HINGE)
    assert kind(found(HINGE)) == "kink"
    assert kind(found(six, ("sag-unloaded",))) == "cannot-tell"
    assert kind(found(six, times=2)) == "kink"


def test_readings_that_scatter_are_no_kink() -> None:
    """Straight rails by a hand of 0.8 mm, read to a sixteenth: this was told as a kink."""
    read = (0.8, -0.8, 1.6, -0.8, 0.8)
    assert kind(found(read, ("sag-unloaded",))) != "kink"


CROWN = tuple(-3.6 * 4 * (x + 80) * (2100 - x) / 2180**2 for x in (0, 330, 640, 1000, 1550))


def crown(by: dict[str, Finding], side: str = "left") -> Crown | None:
    return by[f"crown/{side}"].note(Crown) if f"crown/{side}" in by else None


def test_a_crown_is_told_of_the_whole_rail_with_the_weight_on() -> None:
    told = crown(found(CROWN))
    assert told
    assert (told.near, told.loaded, told.counts) == ("center", True, True)
    assert found(CROWN)["crown/left"].value == pytest.approx(-3.6, abs=0.4)


def test_blocks_measured_once_make_the_crown_no_less_sure_than_the_gaps_do() -> None:
    """Their one figure counted as if the whole curve were known as little: 2.7 mm was not told."""
    assert crown(found(tuple(0.75 * d for d in CROWN)))
    assert crown(found(tuple(0.5 * d for d in CROWN))) is None


@pytest.mark.parametrize("at", range(5))
def test_one_station_makes_no_crown(at: int) -> None:
    """One of twenty gaps below -1 mm was told as a crown, and that as a repair."""
    depths = tuple(-3.0 if n == at else 0.0 for n in range(5))
    for steps in (BOTH, ("sag-loaded",), ("sag-unloaded",)):
        assert crown(found(depths, steps)) is None


def test_a_crown_without_the_weight_counts_only_beyond_what_the_rail_springs() -> None:
    sprung = crown(found(CROWN, ("sag-unloaded",)))
    assert sprung
    assert (sprung.loaded, sprung.counts) == (False, False)
    high = crown(found(tuple(3 * d for d in CROWN), ("sag-unloaded",)))
    assert high
    assert high.counts
    assert crown(found(tuple(0.5 * d for d in CROWN), ("sag-unloaded",))) is None


def test_a_crown_that_the_weight_brings_level_is_none() -> None:
    readings = {"string-set-up/block": ["50"]}
    for station, d in zip(STATIONS, CROWN, strict=True):
        readings[f"sag-loaded/{station}/left"] = ["50"]
        readings[f"sag-unloaded/{station}/left"] = [f"{50 + d:.2f}"]
    survey = survey_of(readings, unit="mm", answers={"string-set-up/where": "above"})
    assert crown(findings(survey)) is None
