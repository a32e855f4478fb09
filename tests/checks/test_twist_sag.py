"""A sag of one rail is taken out of the twist, with its doubt, and only where the string says so."""

from __future__ import annotations

import itertools
from collections.abc import Mapping

import pytest

from tests.checks.surveys import DAY, findings, library, survey_of
from wizard.checks.finding import Finding
from wizard.checks.notes import Lean, SagLifts, SagTakenOut
from wizard.checks.twist import explained
from wizard.math.uncertain import Part, Uncertain, combine
from wizard.survey.record import Survey
from wizard.survey.rows import Reading, State

DIVISION = 0.006
WIDE = 730.0
"""mm between the center points of the layout, so that one division of the level is 4.38 mm across."""
STATIONS = ("front-crossmember", "mid-engine", "engine-mount", "center", "behind")


def made(
    level: Mapping[str, float],
    left: Mapping[str, float],
    quantity: str = "sag-unloaded",
    at_level: Mapping[str, str] | None = None,
    at_string: Mapping[str, str] | None = None,
) -> Survey:
    """A frame with the level in divisions, left high plus, and the left rail low by mm; the right
    one straight.
    """
    survey = survey_of(
        {"string-set-up/block": ["50"]}, unit="mm", answers={"string-set-up/where": "above"}
    )
    states = {}
    for name, state in (("level", at_level), ("string", at_string)):
        row = State(id=survey.new_id(State), at=DAY, **(state or {}))  # type: ignore[arg-type]
        survey, states[name] = survey.with_row(row), row.id if state else ""
    typed = {}
    for place in ("front-crossmember", "center", "rear"):
        slope = level.get(place, 0.0)
        read = f"{abs(slope):.3f} {'left' if slope > 0 else 'right'}" if slope else "0"
        typed |= {f"level/{place}/{way}": (read, "level") for way in ("as-set", "turned")}
    for station in STATIONS if left else ():
        typed[f"{quantity}/{station}/left"] = (f"{50 + left.get(station, 0.0):.3f}", "string")
        typed[f"{quantity}/{station}/right"] = ("50", "string")
    for prompt, (text, what) in typed.items():
        row = Reading(
            id=survey.new_id(Reading), at=DAY, prompt=prompt, typed=text, state=states[what]
        )
        survey = survey.with_row(row)
    return survey


def twist(survey: Survey) -> dict[str, Finding]:
    return {f.where: f for f in findings(survey).values() if f.quantity == "twist"}


LOW = {"mid-engine": 3.5, "engine-mount": 5.0, "center": 4.38, "behind": 2.0}


def taken(found: Finding) -> tuple[str, float] | None:
    note = found.note(SagTakenOut)
    return (note.side, round(note.mm, 1)) if note else None


def test_a_rail_that_hangs_low_leans_the_level_and_is_no_twist() -> None:
    """The left rail 4.38 mm down at the center: the right side stands that much higher there, by
    the width.
    """
    found = twist(made({"center": -1.0}, LOW))["center"]
    assert found.value == pytest.approx(0.0, abs=found.number.u / 2)
    assert taken(found) == ("left", 4.4)


def test_its_doubt_is_carried_and_its_readings_are_named() -> None:
    alone, found = (
        twist(made({"center": -1.0}, {}))["center"],
        twist(made({"center": -1.0}, LOW))["center"],
    )
    assert found.number.u > alone.number.u
    hands = {p.name for p in found.number.parts}
    assert {"hand:sag-unloaded/center/left", "hand:sag-unloaded/center/right"} <= hands
    assert "blocks" not in hands  # The same blocks carried both strings.
    assert set(alone.readings) < set(found.readings)


def test_without_a_string_nothing_changes() -> None:
    found = twist(made({"center": -1.0}, {}))["center"]
    assert found.value == pytest.approx(-WIDE * DIVISION, rel=1e-3)
    assert taken(found) is None


def test_between_the_ends_it_is_a_twist_all_the_same() -> None:
    """Beyond the blocks the string says nothing: front against rear stays as the level read it."""
    found = twist(made({"center": -1.0, "rear": -1.0}, LOW))["rear"]
    assert found.value == pytest.approx(-860.0 * DIVISION, rel=1e-3)
    assert taken(found) is None


def test_a_twist_on_top_of_a_sag_is_what_is_left() -> None:
    found = twist(made({"center": -2.0}, LOW))["center"]
    assert found.value == pytest.approx(-WIDE * DIVISION, abs=found.number.u / 2)


def test_a_string_that_the_level_contradicts_makes_no_twist() -> None:
    """Left low by the string and leaning to the left by the level: one of them is wrong, and it is
    told elsewhere.
    """
    found = twist(made({"center": 0.25}, LOW))["center"]
    assert found.value == pytest.approx(0.25 * WIDE * DIVISION, rel=1e-3)
    straight = twist(made({"center": 0.0}, LOW))["center"]
    assert straight.value == 0.0


def of(value: float, u: float, name: str) -> Uncertain:
    return Uncertain(value, (Part(name, u),))


def test_where_all_of_a_small_lean_is_explained_none_of_it_need_be() -> None:
    """A lean of 0.09 mm by a good level, that is 0.15 in truth, and rails that hang alike: the string
    read 0.6 mm between them, and the twist was told as nothing, give or take 0.13.
    """
    found = explained(of(0.6, 0.3, "string"), 0.09, 0.04)
    assert found is not None
    left = combine(0.09 - found.value, [(1.0, of(0.0, 0.04, "level")), (-1.0, found)])
    assert left.value == pytest.approx(0.02, abs=0.05)
    assert left.value + 2.0 * left.u > 0.15


def test_a_difference_within_the_strings_own_doubt_takes_nothing_out() -> None:
    found = twist(made({"center": -0.25}, {"center": 0.3}))["center"]
    assert taken(found) is None


AXLES = {"engine": "in", "supports": "stands-under-axles"}


def test_the_string_in_the_levels_own_state_is_as_sure_as_it_can_be() -> None:
    alike = twist(made({"center": -1.0}, LOW, "sag-loaded", AXLES, AXLES))["center"]
    assert "string:elsewhere" not in {p.name for p in alike.number.parts}
    unknown = twist(made({"center": -1.0}, LOW, "sag-loaded", AXLES))["center"]
    assert "string:elsewhere" not in {p.name for p in unknown.number.parts}


@pytest.mark.parametrize("other", [{"supports": "three-points"}, {"engine": "weight-off"}])
def test_another_weight_or_other_supports_are_one_more_doubt(other: dict[str, str]) -> None:
    """Else a frame set on three points, as it was told to be, would have its sag called a twist
    again.
    """
    found = twist(made({"center": -1.0}, LOW, "sag-loaded", AXLES | other, AXLES))["center"]
    assert taken(found) == ("left", 4.4)
    assert "string:elsewhere" in {p.name for p in found.number.parts}


def test_weight_off_and_engine_out_are_one_weight() -> None:
    found = twist(
        made({"center": -1.0}, LOW, "sag-unloaded", {"engine": "out"}, {"engine": "weight-off"})
    )["center"]
    assert "string:elsewhere" not in {p.name for p in found.number.parts}


def test_between_two_stations_the_rail_is_taken_as_straight_with_a_doubt() -> None:
    """No gap at the center: 5.0 at the mount (640) and 2.0 behind (1550) make 3.81 at 1000."""
    survey = made({"center": -1.0}, LOW)
    for side in ("left", "right"):
        for row in survey.readings_of(f"sag-unloaded/center/{side}"):
            survey = survey.with_struck(row.id, "a slip")
    found = twist(survey)["center"]
    assert taken(found) == ("left", 3.8)
    assert found.value == pytest.approx(
        -WIDE * DIVISION + 5.0 - 3.0 * 360 / 910, abs=found.number.u / 2
    )
    assert "string:between" in {p.name for p in found.number.parts}


@pytest.mark.parametrize("low", [0.3, 0.6, 1.0, 1.4, 2.0, 3.0])
def test_a_sag_is_taken_out_with_its_value_and_its_doubt_however_well_it_is_known(
    low: float,
) -> None:
    """Never all or nothing: with s the sag and u its doubt, the share s^2 / (s^2 + u^2) of it."""
    alone = twist(made({"center": -1.0}, {}))["center"]
    found = twist(made({"center": -1.0}, {"center": low}))["center"]
    u = twist(made({"center": -1.0}, {"center": 50.0}))["center"]
    share = (found.value - alone.value) / low
    assert 0.0 < share < 1.0
    assert alone.number.u < found.number.u <= u.number.u + 0.01


def test_nothing_jumps_where_the_string_becomes_sure() -> None:
    """A hundredth of a millimeter more of sag moves the twist by about as much, and no further."""
    lows = [n / 100 for n in range(20, 300, 5)]
    values = [twist(made({"center": -1.0}, {"center": low}))["center"].value for low in lows]
    steps = [after - before for before, after in itertools.pairwise(values)]
    assert all(0.0 <= step < 0.1 for step in steps)


def test_a_rail_low_on_one_side_that_the_string_hardly_knows_is_no_twist_for_a_specialist() -> None:
    """3 mm of twist is a specialist's; 4.4 mm of lean and a rail 2.4 mm low leave about 2 mm."""
    found = twist(made({"center": -1.0}, {"center": 2.4}))["center"]
    assert abs(found.value) + 1.645 * found.number.u > 1.5
    assert abs(found.value) - 1.645 * found.number.u < 3.0


# A jump of the lean at one joint
# ------------------------------------------------------------------------------------------------

JUMP = {"center": 2.0, "rear": 2.0}


@pytest.mark.parametrize(
    ("left", "kind"),
    [
        (dict.fromkeys(STATIONS, 0.0), "one-joint"),
        (LOW, "cannot-tell"),
        ({"center": 9.0}, "cannot-tell"),
        ({}, "cannot-tell"),
    ],
)
def test_a_jump_is_a_joint_s_only_where_the_string_shows_both_rails_alike(
    left: Mapping[str, float], kind: str
) -> None:
    """A rail that hangs or stands high at one place makes the level jump there as a joint does."""
    shape = findings(made(JUMP, left))["twist-shape/rails"].note(Lean)
    assert shape is not None
    assert shape.kind == kind
    assert bool(shape.between) == (kind == "one-joint")


# The heights of the horns ------------------------------------------------------------------------


def horns(lean: float, left: Mapping[str, float]) -> Finding:
    """The heights of the horns, the level leaning there by so many divisions against the front."""
    survey = made({}, left)
    typed = f"{abs(lean):.3f} {'left' if lean > 0 else 'right'}" if lean else "0"
    for way in ("as-set", "turned"):
        row = Reading(id=survey.new_id(Reading), at=DAY, prompt=f"level/horns/{way}", typed=typed)
        survey = survey.with_row(row)
    return next(f for f in findings(survey).values() if f.quantity == "horn-height")


def lifted(found: Finding) -> tuple[str, float] | None:
    note = found.note(SagLifts)
    return (note.side, round(note.mm, 1)) if note else None


def test_a_rail_that_hangs_low_lifts_its_horn_and_no_horn_is_bent() -> None:
    """The left rail 6.0 mm down 410 mm behind the front block. Run on straight, 1.0 to 1.4 times as
    steep as that (a beam on two supports), its tip stands 5.4 to 7.6 mm over where it was, its front
    point 1.0 down: so much higher is the left tip.
    """
    low = {"front-crossmember": 1.2, "mid-engine": 6.0, "engine-mount": 9.0, "center": 8.0}
    wide = next(p for p in library().layouts["straight-ladder"].places if p.id == "tip")
    lean = 6.5 / (2 * wide.half_width) / DIVISION
    found, without = horns(lean, low), horns(lean, {})
    assert without.value == pytest.approx(6.5, abs=0.01)
    assert lifted(without) is None
    assert abs(found.value) < 1.0
    assert found.number.u > without.number.u
    note = lifted(found)
    assert note is not None
    assert note[0] == "left"
    assert 5.4 < note[1] < 8.6


def test_a_horn_that_is_bent_up_on_a_low_rail_is_what_is_left() -> None:
    low = {"front-crossmember": 0.6, "mid-engine": 3.0, "engine-mount": 4.5, "center": 4.0}
    lean = (3.3 + 9.0) / 590.0 / DIVISION
    assert horns(lean, low).value == pytest.approx(9.0, abs=1.5)


def test_a_horn_that_stands_the_other_way_is_no_rails_doing() -> None:
    low = {"front-crossmember": 0.6, "mid-engine": 3.0, "engine-mount": 4.5, "center": 4.0}
    assert horns(-1.0, low).value == pytest.approx(horns(-1.0, {}).value)
