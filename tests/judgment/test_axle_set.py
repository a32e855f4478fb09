"""What the frame explains of an axle set, that nothing of it judges the frame, and where to look for a
wobble: the frame last.
"""

from __future__ import annotations

from itertools import product
from typing import Any

import pytest

from tests.judgment.stories import judged, stories, survey, verdict
from wizard.checks.notes import AT_LEAST
from wizard.judgment.consequences import FRAME, FramePart, frame_parts, where_to_look
from wizard.library import load_library, marks
from wizard.telling.answer_words import headline_of

LADDER, LEAF = "straight-ladder", "leaf-ladder-light"


def parts(*rows: list[Any], layout: str = LADDER, story: str = "quiet-frame") -> list[FramePart]:
    told = {**stories()[story], "findings": [*stories()[story].get("findings", []), *rows]}
    found = judged(told, survey(told))
    return list(frame_parts(found, load_library().layouts[layout]))


OFF = ["caster-book", "left", 4.0, 0.3]
APART = ["caster-apart", "difference", 2.0, 0.2]
PERCH = ["perch-apart", "difference", 22.0, 0.6]
SQUARE_WHOLE = ["rail-shift", "whole", 0.2, 0.4]


@pytest.mark.parametrize(
    ("rows", "layout", "kind"),
    [
        ((OFF, ["caster", "ball", 1.2, 0.1]), LADDER, "ball"),
        ((OFF, ["caster", "ball", -1.2, 0.1]), LADDER, "ball-other-way"),
        ((OFF, ["caster", "ball", 0.1, 0.1]), LADDER, "ball-still"),
        ((OFF,), LADDER, "ball-unread"),
        ((OFF,), LEAF, "no-ball"),
        ((APART,), LADDER, "one-ball"),
        ((APART,), LEAF, "square"),
        ((APART, ["twist", "rear", 7.0, 0.4]), LEAF, "out"),
        ((APART, ["twist", "rear", 2.4, 2.0]), LEAF, "open"),
        # One box that is square says nothing of another: of 300 such frames the whole was called square
        # in 4 that were not.
        ((APART, SQUARE_WHOLE, ["rail-shift", "rear-box", 4.0, 1.2]), LEAF, "open"),
        ((PERCH, ["twist", "rear", 7.0, 0.4]), LADDER, "twist"),
        ((PERCH,), LADDER, "no-twist"),
        ((PERCH, ["twist", "rear", 2.4, 2.0]), LADDER, "twist-open"),
    ],
)
def test_what_the_frame_has_to_do_with_a_figure(
    rows: tuple[list[Any], ...], layout: str, kind: str
) -> None:
    assert [p.kind for p in parts(*rows, layout=layout)] == [kind]


def test_a_figure_inside_its_doubt_or_small_enough_to_leave_is_not_explained() -> None:
    assert (
        parts(["caster-apart", "difference", 0.3, 0.3], ["perch-apart", "difference", 2, 0.4]) == []
    )


@pytest.mark.parametrize(
    ("side", "wheelbase", "explained"),
    [("left", -9.0, True), ("right", 9.0, True), ("left", 9.0, False), ("left", -0.3, False)],
)
def test_a_beam_end_that_lies_back_and_the_short_wheelbase_of_that_side_are_one_thing(
    side: str, wheelbase: float, explained: bool
) -> None:
    found = parts(["beam-bend", side, 8.0, 0.5], ["wheelbase", "difference", wheelbase, 0.8])
    assert bool(found) is explained
    assert all((p.kind, p.side) == ("short-wheelbase", side) for p in found)


def test_at_least_goes_with_the_ball_of_a_short_string() -> None:
    told = stories()["quiet-frame"]
    told = {**told, "findings": [*told.get("findings", []), OFF, ["caster", "ball", 1.2, 0.1]]}
    found = [
        j._replace(finding=j.finding.noted(AT_LEAST)) if j.finding.quantity == "caster" else j
        for j in judged(told, survey(told))
    ]
    (part,) = frame_parts(found, load_library().layouts[LADDER])
    assert part.at_least


WORST = [
    ["beam-bend", "left", 30.0, 0.3],
    ["caster-apart", "difference", 6.0, 0.1],
    ["camber-apart", "difference", 6.0, 0.1],
    ["perch-apart", "difference", 60.0, 0.4],
    ["shackle-apart", "difference", 40.0, 0.4],
    ["toe-book", "difference", 30.0, 0.4],
]


@pytest.mark.parametrize("name", ["quiet-frame", "equal-sag", "front-box-out-alone"])
def test_the_verdict_on_the_frame_hangs_on_nothing_of_the_axle_set(name: str) -> None:
    before = verdict(stories()[name])
    told = stories()[name]
    after = verdict({**told, "findings": [*told.get("findings", []), *WORST]})
    assert {j.established for j in after.beside} == {"specialist"}
    assert after.is_out_beside
    for what in ("action", "numbers", "held", "reasons", "open", "lacking", "foretold", "causes"):
        assert getattr(after, what) == getattr(before, what), what
    assert after.of_frame == before.judged


def test_nothing_to_put_right_is_said_of_the_frame_alone_where_its_axle_is_out() -> None:
    told, library = stories()["quiet-frame"], load_library()
    worse = {**told, "findings": [*told.get("findings", []), *WORST]}
    straight, bent = (headline_of(verdict(s), survey(s), library) for s in (told, worse))
    assert straight.startswith("Nothing to put right on what was seen and measured.")
    assert bent.startswith("Nothing to put right in the frame on what was seen and measured.")


def test_the_frame_is_always_the_last_to_be_looked_at() -> None:
    answers = [("", *marks.QUESTIONS[q]) for q in (marks.FELT, marks.FELT_WHEN, marks.FELT_SINCE)]
    for felt, when, since in product(*answers):
        order = where_to_look(felt, when, since)
        assert order[-1] == FRAME
        assert len(set(order)) == len(order) > 4


@pytest.mark.parametrize(
    ("felt", "when", "since", "first"),
    [
        (marks.SHAKE, marks.SLOW, "", "tires"),
        (marks.SHAKE, marks.BRAKING, "", "brakes"),
        (marks.WANDER, "", "", "joints"),
        (marks.WANDER, "", marks.NEW_TIRES, "tires"),
        (marks.PULL, "", marks.A_HIT, "axle"),
        (marks.HOP, marks.FAST, "", "tires"),
        (marks.SHAKE, "", marks.AXLE_WORK, "toe"),
        (marks.SHAKE, "", marks.BY_AND_BY, "joints"),
        ("", "", "", "tires"),
    ],
)
def test_what_was_felt_says_where_to_look_first(
    felt: str, when: str, since: str, first: str
) -> None:
    assert where_to_look(felt, when, since)[0] == first
