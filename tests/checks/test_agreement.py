"""String against level, and rail against rail."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.checks.surveys import findings, found, library, survey_of
from wizard.checks.notes import OneOf
from wizard.checks.run import findings_of
from wizard.judgment.bands import judge
from wizard.judgment.blind import Bench
from wizard.math.uncertain import Part, Uncertain
from wizard.model.bent import Bent, Sag
from wizard.survey.rows import Reading, State

SLOPE = 0.006
"""One division of the carpenter's level, as a ratio."""


def made(quarters: dict[str, int], right: dict[str, float]) -> dict[str, float]:
    """Findings of a frame with these bubbles in quarter divisions (left high plus) and right sags
    in mm.
    """
    readings = {"string-set-up/block": ["50"]}
    for place, q in quarters.items():
        read = f"{abs(q) / 4} {'left' if q > 0 else 'right'}" if q else "0"
        readings |= {f"level/{place}/as-set": [read], f"level/{place}/turned": [read]}
    for station, low in right.items():
        readings[f"sag-unloaded/{station}/left"] = ["50"]
        readings[f"sag-unloaded/{station}/right"] = [f"{50 + low:.4f}"]
    survey = survey_of(readings, unit="mm", answers={"string-set-up/where": "above"})
    return {id: f.value for id, f in findings(survey).items()}


def test_the_right_rail_lower_is_plus() -> None:
    assert made({}, {"center": 3.0})["sag-difference/center"] == pytest.approx(3.0)
    assert made({}, {"center": -3.0})["sag-difference/center"] == pytest.approx(-3.0)


def test_a_level_that_leans_where_the_right_rail_sags_agrees_with_the_string() -> None:
    """sag right - sag left = W × (slope - the straight line in slope between the string's ends)."""
    low = 0.730 * 1000 * SLOPE / 2
    # The line is drawn between the string's ends, of which the rear one lies ahead of the level's
    # last place.
    agree = made({"horns": 0, "front-crossmember": 0, "center": 2, "rear": 0}, {"center": low})
    assert agree["string-level/center"] == pytest.approx(0.0, abs=0.1)
    against = made({"horns": 0, "front-crossmember": 0, "center": -2, "rear": 0}, {"center": low})
    assert against["string-level/center"] == pytest.approx(2 * low, abs=0.1)


def test_a_steady_twist_is_no_bend_of_either_rail() -> None:
    """Slopes in proportion to x leave both rails straight against their own strings."""
    steady = {"horns": -450, "front-crossmember": 0, "center": 1000, "rear": 2200}
    readings = {"string-set-up/block": ["50"]}
    for place, x in steady.items():
        value = abs(x) / 1000
        read = f"{value:.2f} {'left' if x > 0 else 'right'}" if x else "0"
        readings |= {f"level/{place}/as-set": [read], f"level/{place}/turned": [read]}
    readings |= {f"sag-unloaded/center/{side}": ["50"] for side in ("left", "right")}
    found = findings(survey_of(readings, unit="mm", answers={"string-set-up/where": "above"}))
    assert found["string-level/center"].value == pytest.approx(0.0, abs=0.02)


def test_without_the_level_beyond_the_string_nothing_is_held_against_it() -> None:
    assert "string-level/center" not in made(
        {"front-crossmember": 0, "center": 2, "rear": 0}, {"center": 1.0}
    )


def test_the_level_is_held_against_the_string_of_its_own_state() -> None:
    """Read in another state of the car they would disagree, and nothing is wrong."""
    readings = {"string-set-up/block": ["50"]}
    for place in ("horns", "front-crossmember", "center", "rear"):
        readings |= {f"level/{place}/as-set": ["0"], f"level/{place}/turned": ["0"]}
    for step, low in (("sag-loaded", 0.0), ("sag-unloaded", 3.0)):
        readings[f"{step}/center/left"] = ["50"]
        readings[f"{step}/center/right"] = [f"{50 + low}"]
    survey = survey_of(readings, unit="mm", answers={"string-set-up/where": "above"})
    loaded, bare = State(id="s1", engine="in"), State(id="s2", engine="out")
    rows = [
        replace(r, state="s2" if r.prompt.startswith("sag-unloaded") else "s1")
        for r in survey.table(Reading)
    ]
    for level_in, expected in ((loaded, 0.0), (bare, 3.0)):
        read = tuple(
            replace(r, state=level_in.id) if r.prompt.startswith("level") else r for r in rows
        )
        here = replace(survey, rows={**survey.rows, "state": (loaded, bare), "reading": read})
        found = findings(here)["string-level/center"]
        assert found.value == pytest.approx(expected, abs=0.1)


def test_string_and_level_disagree_no_oftener_the_more_places_were_looked_at() -> None:
    survey = survey_of({})
    one, four = (
        judge(
            found("string-level", "center", Uncertain(2.9, (Part("x", 1.0),)), OneOf(n)),
            survey,
            library(),
        )
        for n in (1, 4)
    )
    assert one.stands_out
    assert not four.stands_out


def test_a_kinked_rail_is_no_quarrel_where_the_level_stands_far_from_the_string_s_ends() -> None:
    """A cruciform's string ends halfway between two places of the level: straight lines in slope have
    nothing to say there of a rail that is bent at one place.
    """
    for layout, said in (("cruciform", False), ("straight-ladder", True)):
        bench = Bench(library().layouts[layout], library())
        bent = bench.survey(Bent(right=(Sag(8.0, 1900.0, 0.0),)))
        found = {f.id for f in findings_of(bent, bench.known)}
        assert "twist/center" in found
        assert ("string-level/center" in found) == said
