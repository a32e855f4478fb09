"""What belongs together is one fact; what a fact asks for comes from the verdict."""

from __future__ import annotations

from typing import Any

import pytest

from tests.checks.surveys import library
from tests.judgment.stories import DAY, stories, survey, verdict
from wizard.judgment.answer import HEADS, answered
from wizard.judgment.fact import DEEDS, Fact, facts_of, remarks_at
from wizard.library import marks
from wizard.survey.rows import Remark


def facts(story: dict[str, Any]) -> tuple[Fact, ...]:
    return facts_of(verdict(story), survey(story), library())


def of(*findings: list[Any], **more: Any) -> dict[str, Any]:
    return {
        "id": "made",
        "findings": list(findings),
        "rest_findings": "true",
        "rest_looks": "bare",
        **more,
    }


HORN_IN = ["horn", "difference", -9.0, 0.6]
HORN_UP = ["horn-height", "horns", 9.0, 0.5]
BENT = [["horn-welds", "left", "", "bare", "bent-round"]]


def test_a_horn_in_and_up_is_one_fact_with_its_look() -> None:
    (horn,) = [f for f in facts(of(HORN_IN, HORN_UP, looks=BENT)) if f.kind == "horn"]
    assert {j.finding.quantity for j in horn.judged} == {marks.HORN_APART, marks.HORN_HEIGHT}
    assert horn.where.side == "left"
    assert [s.choice and s.choice.token for s in horn.seen] == ["bent-round"]
    assert horn.deed == "put-right"


def test_without_a_look_neither_horn_is_named() -> None:
    (horn,) = [f for f in facts(of(HORN_IN)) if f.kind == "horn"]
    assert horn.where.side is None


def test_a_diamond_takes_the_boxes_and_the_bar_with_it() -> None:
    rows = [
        ["rail-shift", b, -7.5, 0.4] for b in ("whole", "front-box", "rear-box", "front-box-bar")
    ]
    found = [f for f in facts(of(*rows)) if f.kind in ("diamond", "box", "square")]
    assert len(found) == 1
    assert len(found[0].judged) == 4
    assert found[0].judged[0].finding.where == "whole"


def test_both_rails_are_one_sag_and_one_rail_has_its_side() -> None:
    both = [["sag-unloaded", f"engine-mount/{s}", 8.0, 0.4] for s in ("left", "right")]
    (two,) = [f for f in facts(of(*both)) if f.kind == "sag"]
    assert (two.where.side, len(two.judged)) == (None, 2)
    (one,) = [
        f
        for f in facts(of(both[0], ["sag-unloaded", "engine-mount/right", 0.1, 0.4]))
        if f.kind == "sag"
    ]
    assert one.where.side == "left"


@pytest.mark.parametrize("name", stories())
def test_the_gravest_comes_first(name: str) -> None:
    found = facts(stories()[name])
    assert [f.gravity for f in found] == sorted(f.gravity for f in found)
    assert all(f.deed in DEEDS for f in found)
    assert all(f.sources or f.kind in ("rocks", "lacking") for f in found)


@pytest.mark.parametrize("name", stories())
def test_every_story_has_its_headline_by_what_holds_or_stops_it(name: str) -> None:
    found, made = verdict(stories()[name]), survey(stories()[name])
    answer = answered(found, made, library())
    assert answer.kind in HEADS
    if found.action == "stop":
        assert answer.kind == "stop"
        told = {s.look.id for f in answer.head for s in f.seen}
        assert {s.look.id for s in found.stops} <= told
        assert answer.head[0].deed == "stop"
    if found.held == "joints":
        assert answer.kind == "loose"


def test_a_note_comes_back_where_its_place_is_judged_and_nowhere_else() -> None:
    story = of(looks=[["rail-sides", "left", "front", "bare", "kink"]])
    made = survey(story)
    for id, prompt, text in (
        ("m1", "rail-sides/left", "behind the spring"),
        ("m2", "rail-sides/right", "the other side"),
        ("m3", "rail-tops/left", "another page"),
    ):
        made = made.with_row(Remark(id=id, at=DAY, prompt=prompt, text=text))
    fact = facts(story)[0]
    assert [r.text for r in remarks_at(fact, made)] == ["behind the spring"]
