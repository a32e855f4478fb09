"""Kink or bow of each rail."""

from __future__ import annotations

import pytest

from tests.checks.surveys import findings, survey_of
from wizard.checks.finding import Finding
from wizard.checks.notes import Bend

STATIONS = ("front-crossmember", "mid-engine", "engine-mount", "center", "behind")


def found(
    depths: tuple[float, ...], step: str = "sag-unloaded", side: str = "left"
) -> dict[str, Finding]:
    readings = {"string-set-up/block": ["50"]}
    readings |= {
        f"{step}/{s}/{side}": [f"{50 + d:.2f}"] for s, d in zip(STATIONS, depths, strict=False)
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
    assert "bend/right" in found((0, 1, 2, 1, 0), "sag-loaded", "right")


def test_two_stations_show_no_shape() -> None:
    assert "bend/left" not in found((0, 1))
