"""What the samples' verdicts claim, as data: each claim beside the sentence that it stands for."""

from __future__ import annotations

from datetime import datetime
from functools import cache
from pathlib import Path

import pytest

from tests.judgment.stories import causes
from wizard.judgment.claims import OF_QUANTITY, Claim, claims_of, of_box, of_kind
from wizard.judgment.sight import sight_of
from wizard.library import load_library
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
