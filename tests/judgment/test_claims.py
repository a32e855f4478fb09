"""What the samples' verdicts claim, as data: each claim beside the sentence that it stands for."""

from __future__ import annotations

from datetime import datetime
from functools import cache
from pathlib import Path

import pytest

from tests.checks.surveys import found
from tests.judgment.stories import causes, stories, verdict
from wizard.checks.notes import (
    BODY_GAVE,
    DEEP_THERE,
    DEEPER_THERE,
    FURTHER,
    STRAIGHTER,
    Mark,
)
from wizard.judgment.bands import Judged
from wizard.judgment.claims import (
    EXPLAINS,
    OF_QUANTITY,
    Claim,
    claims_of,
    of_box,
    of_finding,
    of_foretold,
    of_kind,
)
from wizard.judgment.consequences import Prediction
from wizard.judgment.sight import sight_of
from wizard.library import load_library
from wizard.math.uncertain import Part, Uncertain
from wizard.survey.file import load
from wizard.telling.verdict_words import sections

SAMPLES = Path(__file__).parents[2] / "sample_sessions"
TODAY = datetime(2027, 6, 1)


@cache
def claims(sample: str) -> tuple[Claim, ...]:
    sight = sight_of(load(SAMPLES / f"{sample}.toml"), load_library())
    return claims_of(sight.verdict(TODAY), sight.layout)


def short(found: tuple[Claim, ...]) -> set[tuple[str, str, str, str]]:
    return {(c.kind, c.where.place, str(c.where.side or ""), c.way or c.strength) for c in found}


@pytest.mark.parametrize(
    ("sample", "said"),
    [
        ("bramble-2026-04-11", {("age", "", "", "strong"), ("action", "", "", "leave")}),
        (
            "bramble-2027-05-08",
            {
                ("action", "", "", "put-right"),
                # The whole frame's diagonals alone were taped: out of square, and no diamond.
                ("shift", "whole", "", "left-back"),
                ("collision", "", "", "likely"),
                ("gathered", "front", "left", ""),
                ("sag", "engine-mount", "left", "watch"),
            },
        ),
        ("marigold-2026-05-02", {("horn", "difference", "", "watch")}),
        ("old-post-2026-06-20", {("repair", "", "", "strong"), ("crown", "", "", "")}),
    ],
)
def test_what_a_sample_is_told_is_claimed(
    sample: str, said: set[tuple[str, str, str, str]]
) -> None:
    assert said <= short(claims(sample))


def test_a_frame_with_nothing_to_put_right_claims_nothing_to_act_on() -> None:
    assert short(claims("bramble-2026-10-10")) == {("action", "", "", "leave")}


def test_a_figure_beyond_its_limit_is_claimed_with_its_size_its_band_and_its_readings() -> None:
    (shift,) = of_kind(claims("bramble-2027-05-08"), "shift")
    assert shift.way == "left-back"
    assert shift.size is not None
    assert shift.size < 0
    assert shift.sources[0] == "rail-shift/whole"
    assert len(shift.sources) > 1


FIGURES = frozenset(OF_QUANTITY.values()) | {"sag", "crown", "horn"}
OFFERED = ("choice",)
"""What is claimed beside a verdict: that something can be done about it."""
ELSEWHERE = FIGURES | {"twist-joint", "contradict"}
"""Kinds that may be told on a page or in a table alone, where graver ones crowd them out."""


@pytest.mark.parametrize("sample", sorted(p.stem for p in SAMPLES.glob("*.toml")))
def test_each_line_of_a_verdict_carries_what_it_claims_and_all_claims_are_told(sample: str) -> None:
    survey = load(SAMPLES / f"{sample}.toml")
    verdict = sight_of(survey, load_library()).verdict(TODAY)
    parts = sections(verdict, survey, load_library())
    told = {claim for part in parts for item in part.items for claim in item.claims}
    told = {claim for claim in told if claim.kind not in OFFERED}
    assert told <= set(claims(sample))
    assert {c.kind for c in set(claims(sample)) - told} <= ELSEWHERE


def test_horns_that_only_the_tape_tells_of_are_claimed_and_told_without_a_side() -> None:
    survey = load(SAMPLES / "marigold-2026-05-02.toml")
    verdict = sight_of(survey, load_library()).verdict(TODAY)
    items = [i for part in sections(verdict, survey, load_library()) for i in part.items]
    said = {i.text for i in items if of_kind(i.claims, "horn")}
    assert said
    assert all("two horns differ" in text for text in said)
    assert {c.where.side for i in items for c in of_kind(i.claims, "horn")} == {None}


@pytest.mark.parametrize(
    ("findings", "kind"),
    [
        ([["twist", "rear", 6.0, 0.4]], "whole"),
        (
            [["rail-shift", w, 8.0, 0.5] for w in ("whole", "front-box", "rear-box")],
            "diamond",
        ),
    ],
)
def test_a_frame_that_is_out_because_it_is_twisted_is_no_diamond(
    findings: list[list[object]], kind: str
) -> None:
    told = causes({"id": "made-up", "findings": findings})
    assert [c.kind for c in of_box(told)] == [kind]


def beside(*rows: list[object], layout: str = "leaf-ladder-light") -> set[tuple[str, str, str]]:
    """Claims of an axle set under a quiet frame: kind, side, way."""
    told = stories()["quiet-frame"]
    told = {**told, "layout": layout, "findings": [*told.get("findings", []), *rows]}
    found = claims_of(verdict(told), load_library().layouts[layout])
    return {(c.kind, str(c.where.side or ""), c.way) for c in found if c.kind != "action"}


@pytest.mark.parametrize(
    ("rows", "said"),
    [
        ([["beam-bend", "left", 8.0, 0.5]], {("bent-beam", "left", "")}),
        (
            [["beam-bend", "left", 8.0, 0.5], ["wheelbase", "difference", -9.0, 0.8]],
            {("bent-beam", "left", ""), ("beam-first", "left", "short-wheelbase")},
        ),
        ([["caster-apart", "difference", 2.0, 0.2]], {("caster-apart", "", ""), ("frame-square", "", "square")}),
        ([["perch-apart", "difference", 22.0, 0.6]], {("perch", "", ""), ("no-frame-twist", "", "no-twist")}),
        ([["toe-book", "difference", 9.0, 0.6]], {("toe", "", "")}),
        ([["toe-book", "difference", 0.5, 0.6]], set()),
    ],
)  # fmt: skip
def test_what_is_said_beside_the_frame_is_claimed(
    rows: list[list[object]], said: set[tuple[str, str, str]]
) -> None:
    assert said <= beside(*rows)
    assert not {k for k, _, _ in beside(*rows) - said} & {*EXPLAINS.values(), "toe", "perch"}


@pytest.mark.parametrize(
    ("note", "kind", "way"),
    [
        (DEEP_THERE, "thin-place", ""),
        (DEEPER_THERE, "thin-place", ""),
        (STRAIGHTER, "body-helps", "straighter"),
        (FURTHER, "body-helps", "further"),
        (BODY_GAVE, "body-gave", ""),
    ],
)
def test_what_a_check_notes_of_metal_and_of_the_bodys_bolts_is_claimed(
    note: Mark, kind: str, way: str
) -> None:
    number = Uncertain(3.0, (Part("it", 0.2),))
    claimed = of_finding(Judged(found("body-pull", "center/left", number, note), (), ()))
    assert [(c.kind, c.way) for c in claimed] == [(kind, way)]


def test_a_ball_that_moved_and_a_fan_are_claimed_and_other_things_to_look_at_are_not() -> None:
    ball = Prediction("caster", ("caster/ball",), amount=1.2)
    assert of_foretold(ball) == (Claim("ball", size=1.2, sources=("caster/ball",)),)
    assert [c.kind for c in of_foretold(Prediction("fan", ("fan-drop/fan",), kind="low"))] == [
        "fan"
    ]
    assert of_foretold(Prediction("doors", ("twist/rear",), kind="twist")) == ()


def test_a_choice_is_claimed_by_what_it_is_offered_for() -> None:
    survey = load(SAMPLES / "bramble-2027-05-08.toml")
    told = sight_of(survey, load_library()).verdict(TODAY)
    items = [i for part in sections(told, survey, load_library()) for i in part.items]
    offered = [c for i in items for c in of_kind(i.claims, "choice")]
    assert offered
    assert all(c.sources for c in offered)
