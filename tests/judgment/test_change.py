"""Then against now: what the two share drops out, what they do not is counted, and what is unlike
is said.
"""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from tests.checks.surveys import library
from tests.judgment.pairs import AGED, again, first, in_mm, longer, only, said, stood
from wizard.judgment.change import Change, Comparison, compare
from wizard.math.change import holm, p_value
from wizard.survey.record import Survey
from wizard.survey.rows import PointNote, Tool
from wizard.telling.change_words import unlike_line

LONG = "long-diagonals/whole/front-left--rear-right"
SAG = "sag-loaded/engine-mount/left"


def against(old: Survey, new: Survey) -> Comparison:
    return compare(old, new, library())


def by_id(found: Comparison) -> dict[str, Change]:
    return {c.new.id: c for c in found.changes}


def names(change: Change) -> set[str]:
    return {p.name.split(":")[0].split("|")[-1] for p in change.number.parts}


# What is shared
# ------------------------------------------------------------------------------------------------


def test_the_same_survey_twice_has_changed_in_nothing() -> None:
    old = first()
    found = against(old, again(old, old))
    assert len(found.changes) > 40
    assert {c.number.value for c in found.changes} == {0.0}
    assert not found.of("changed")
    assert found.apart == ()


def test_one_tapes_error_drops_out_and_two_tapes_errors_do_not() -> None:
    old = first()
    same, other = (
        by_id(against(old, again(old, old, tools)))[f"length/{LONG}"]
        for tools in ("same", "another-tape")
    )
    assert names(same) == {"hand"}
    assert names(other) == {"hand", "tape", "hang"}
    # Two tapes of class II at 2.3 m, each 0.3 + 0.2 x 3 mm rectangular (Directive 2014/32/EU
    # MI-008); with the hang
    # of each blade: identity of independent errors.
    tape, hang = (
        [p.size for p in other.number.parts if p.name.startswith(kind)] for kind in ("tape", "hang")
    )
    assert [abs(t) for t in tape] == pytest.approx([0.9 / math.sqrt(3)] * 2)
    extra = 2 * (0.9**2 / 3 + hang[0] ** 2)
    assert other.number.u == pytest.approx(math.sqrt(same.number.u**2 + extra), rel=1e-9)


def test_the_tapes_own_error_leaves_a_difference_of_two_diagonals_alone_either_way() -> None:
    old = first()
    same, other = (
        by_id(against(old, again(old, old, tools)))["rail-shift/whole"]
        for tools in ("same", "another-tape")
    )
    assert other.number.u == pytest.approx(same.number.u, rel=0.02)


def test_the_points_are_shared_until_they_are_marked_anew() -> None:
    old = first()
    kept, renewed = (
        by_id(against(old, again(old, old, "same", marks)))[f"length/{LONG}"] for marks in MARKS
    )
    assert "point" not in names(kept)
    assert "point" in names(renewed)
    assert renewed.number.u > kept.number.u


MARKS = ("all-there", "renewed")


def test_one_point_marked_elsewhere_is_that_point_alone() -> None:
    old = first()
    note = PointNote(id="q1", point="rear-right", mark="blue dot")
    old = old.with_row(note)
    new = again(old, replace(old, rows={**old.rows, "point": (replace(note, mark="red dot"),)}))
    parts = {
        p.name.split(":")[1]
        for p in by_id(against(old, new))[f"length/{LONG}"].number.parts
        if "point" in p.name
    }
    assert parts == {"rear-right"}


def test_rivets_never_marked_are_the_same_for_the_same_hand_only() -> None:
    old = said(first(), "about-the-car/by", "owner")
    mine, anothers = (
        by_id(against(old, again(old, old, "same", "never-marked", by)))
        for by in ("owner", "mentor")
    )
    assert "point" not in names(mine[f"length/{LONG}"])
    assert "point" in names(anothers[f"length/{LONG}"])


def test_a_tool_that_nobody_vouches_for_is_another_one() -> None:
    old = first()
    tools = tuple(replace(t, id=f"t7{n}") for n, t in enumerate(old.table(Tool)))
    ids = {t.id: n.id for t, n in zip(old.table(Tool), tools, strict=True)}
    readings = tuple(replace(r, tool=ids[r.tool]) for r in old.rows["reading"])  # type: ignore[attr-defined]
    new = replace(old, id="loose", rows={**old.rows, "tool": tools, "reading": readings})
    assert "tape" in names(by_id(against(old, new))[f"length/{LONG}"])
    follows = replace(new, follows=old.id)
    assert "tape" not in names(by_id(against(old, follows))[f"length/{LONG}"])


def numbered(survey: Survey, serial: str) -> Survey:
    """The survey with a number on every tool."""
    tools = tuple(replace(t, extra={**t.extra, "serial": serial}) for t in survey.table(Tool))
    return replace(survey, rows={**survey.rows, "tool": tools})


def ruled(survey: Survey, division: str) -> Survey:
    """The survey with gaps read off another rule."""
    tools = (
        replace(t, extra={**t.extra, "division": division}) if t.kind == "ruler" else t
        for t in survey.table(Tool)
    )
    return replace(survey, rows={**survey.rows, "tool": tuple(tools)})


@pytest.mark.parametrize(("serial", "shared"), [("A1", True), ("B2", False)])
def test_a_number_on_the_tape_tells_one_from_another(serial: str, shared: bool) -> None:
    old = numbered(first(), "A1")
    new = replace(numbered(first(), serial), id="new", follows=old.id)
    assert ("tape" not in names(by_id(against(old, new))[f"length/{LONG}"])) is shared


# Another unit, another tape, another reader
# --------------------------------------------------------------------


def test_in_millimeters_with_another_tape_and_reader_it_is_the_same_answer_with_the_larger_doubt() -> (
    None
):
    old = first()
    new = longer(first(seed=6), SAG, 6.0)
    inches = by_id(against(old, again(old, new)))
    metric = by_id(against(old, again(old, in_mm(new), "another-tape", "all-there", "mentor")))
    assert metric.keys() == inches.keys()
    assert inches[SAG].says == metric[SAG].says == "changed"
    for id, c in inches.items():
        assert metric[id].number.value == pytest.approx(c.number.value, abs=0.02), id
        assert metric[id].says == c.says, id
        assert metric[id].number.u >= c.number.u * (1 - 1e-6), id
    tape = f"length/{LONG}"
    assert metric[tape].number.u > 1.3 * inches[tape].number.u
    assert metric[tape].visible > 1.1 * inches[tape].visible


# Changed or not
# -------------------------------------------------------------------------------------------------


def test_changed_is_holm_over_the_whole_re_check() -> None:
    old = first()
    found = against(old, again(old, longer(first(seed=8), SAG, 5.0)))
    stand = holm([p_value(c.number.value, c.number.u, c.number.dof) for c in found.changes])
    assert [c.says == "changed" for c in found.changes] == stand
    assert by_id(found)[SAG].says == "changed"


def test_a_move_of_the_smallest_visible_size_is_called_and_half_of_it_is_not() -> None:
    old = first()
    seen = by_id(against(old, again(old, old)))[SAG].visible
    assert by_id(against(old, again(old, longer(old, SAG, seen))))[SAG].says == "changed"
    half = by_id(against(old, again(old, longer(old, SAG, seen / 2))))[SAG]
    assert half.says == "cannot tell"
    assert half.why == "one-of-many"
    assert by_id(against(old, again(old, longer(old, SAG, seen / 5))))[SAG].says == "not changed"


def test_the_smallest_visible_change_grows_with_the_number_of_figures() -> None:
    old = first()
    whole = by_id(against(old, again(old, old)))[SAG]
    few = by_id(against(old, again(old, only(old, "sag-loaded", "sag-unloaded", "string-set-up"))))[
        SAG
    ]
    assert few.number.u == whole.number.u
    assert few.visible < whole.visible
    assert few.visible_alone == whole.visible_alone < few.visible
    # k + z for many degrees of freedom, 3.605 (JCGM 100:2008 Table G.2, second hand); more for the
    # few behind this u.
    assert 3.6 < whole.visible_alone / whole.number.u < 4.2


def test_a_doubt_wider_than_what_would_matter_is_no_not_changed() -> None:
    old = first()
    rough = ruled(old, "10 mm")
    change = by_id(against(old, again(old, rough)))[SAG]
    assert (change.says, change.why) == ("cannot tell", "too-coarse")
    assert change.number.value == 0.0


# What is unlike
# -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("field", "value"), [("supports", "stands-under-axles"), ("engine", "out"), ("body", "bolted")]
)
def test_another_state_forbids_sag_and_twist_and_leaves_the_tapes(field: str, value: str) -> None:
    old = first()
    found = against(old, again(old, stood(old, **{field: value})))
    apart = {a.finding.quantity for a in found.apart}
    assert {"sag-loaded", "sag-unloaded", "twist", "horn-height"} <= apart
    assert ("wheelbase" in apart) is (field == "supports")
    assert {"length", "rail-shift", "own-sides"} <= {c.new.quantity for c in found.changes}
    assert {(u.field, u.now) for a in found.apart for u in a.unlike} == {(field, value)}
    assert (field, value) in {(u.field, u.now) for u in found.said}


def test_fuel_is_said_and_forbids_nothing() -> None:
    old = stood(first(), fuel="empty")
    found = against(old, again(old, stood(old, fuel="full")))
    assert found.apart == ()
    assert [(u.field, u.then, u.now) for u in found.said] == [("fuel", "empty", "full")]


def test_a_state_that_is_not_on_record_forbids_nothing() -> None:
    old = first()
    assert against(stood(old, supports=""), again(old, old)).apart == ()


def test_what_was_read_once_only_is_not_compared() -> None:
    old = first()
    found = against(only(old, "level"), again(old, only(old, "sag-loaded", "string-set-up")))
    assert found.changes == ()
    assert {(a.finding.quantity, a.why) for a in found.apart} == {
        ("twist", "not-now"),
        ("horn-height", "not-now"),
        ("sag-loaded", "not-then"),
    }


def test_the_frame_of_the_simulation_is_compared_with_its_own_truth() -> None:
    old = first()
    moved = replace(AGED, diamond=8.5)
    change = by_id(against(old, again(old, first(moved, seed=9))))["rail-shift/whole"]
    assert change.says == "changed"
    assert abs(change.number.value - 8.0) < change.half_width
    assert abs(change.number.value) > change.half_width


THEN = "front 24 in apart under the axle, rear 30 in apart inside the backing plates"


@pytest.mark.parametrize(
    "now",
    [
        "the same as last time",
        "As before.",
        "Front stands 24 inches apart beneath the axle; rear ones 30 inches apart inside backing plates",
        "rear 30in apart inside the backing plates, front 24in apart under the axle",
    ],
)
def test_another_wording_of_where_the_supports_stood_is_no_difference(now: str) -> None:
    old = stood(first(), stood=THEN)
    assert [
        u for u in against(old, again(old, stood(old, stood=now))).said if u.field == "stood"
    ] == []


@pytest.mark.parametrize(
    "now",
    [
        "front 26 in apart under the axle, rear 30 in apart inside the backing plates",
        "front 24 in apart under the frame, rear 30 in apart inside the backing plates",
        "not the same as last time",
    ],
)
def test_other_supports_are_told_to_be_compared_by_the_person(now: str) -> None:
    old = stood(first(), stood=THEN)
    (told,) = [
        u for u in against(old, again(old, stood(old, stood=now))).said if u.field == "stood"
    ]
    assert unlike_line(told, library()).endswith("See whether that is the same.")
