"""What can be done about what was found: a choice for each thing that asks for something, none for what
may stay, and nothing that says how.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from datetime import datetime
from functools import cache

import pytest

from tests.checks.surveys import found as finding
from tests.judgment.stories import stories, survey, verdict
from tests.judgment.test_voices import looked
from tests.test_no_leave_to_drive import plain, refused
from tests.told import HOME, says, sentences
from wizard.judgment.bands import Judged, judge
from wizard.judgment.choices import Choice, choices_of, in_turn, works_for
from wizard.judgment.fact import DEEDS, Fact, facts_of
from wizard.judgment.sight import verdict_of
from wizard.judgment.verdict import Verdict
from wizard.library import load_library, marks
from wizard.library.shapes import Library, Quantity
from wizard.math.uncertain import Part, Uncertain
from wizard.survey.file import load
from wizard.survey.record import Survey
from wizard.telling.json_out import as_json
from wizard.telling.papers import report_as, source_of
from wizard.telling.sheet_text import form_text
from wizard.telling.shop_brief import shop_brief
from wizard.telling.tell import PARTS, part_of_letter, part_sections, tell_text
from wizard.telling.verdict_words import sections
from wizard.telling.work_order import choice_lines

DAY = datetime(2027, 6, 1)
SAMPLES = {path.stem: path for path in sorted((HOME / "sample_sessions").glob("*.toml"))}
EVERY = (*stories(), *SAMPLES)
STAYS = ("leave", "bare", "measure", "stand")
"""Deeds of facts about which nothing is chosen: they may stay, or nobody has looked or measured yet."""


@cache
def library() -> Library:
    return load_library()


@cache
def told(name: str) -> tuple[Verdict, Survey]:
    if name in SAMPLES:
        found = load(SAMPLES[name])
        return verdict_of(found, library(), DAY), found
    return verdict(stories()[name]), survey(stories()[name])


def choices(name: str) -> tuple[Choice, ...]:
    return choices_of(*told(name), library())


def beyond(found: Verdict) -> Iterator[Judged]:
    """Findings that are surely beyond `leave it`, but for those that another one tells."""
    for judged in found.judged:
        sure = judged.bands and judged.bands[0] != "leave" and not judged.quiet
        if sure and not judged.finding.disagrees:
            yield judged


@pytest.mark.parametrize("name", EVERY)
def test_each_finding_beyond_leave_has_a_choice(name: str) -> None:
    found, made = told(name)
    chosen = {j.finding.id for c in choices(name) for j in c.fact.judged if c.works}
    stays = {
        j.finding.id
        for f in facts_of(found, made, library())
        if f.deed == "leave"
        for j in f.judged
    }
    quantities = {id_.partition("/")[0] for id_ in map(str, chosen | stays)}
    for judged in beyond(found):
        assert str(judged.finding.quantity) in quantities, judged.finding.id


@pytest.mark.parametrize("name", EVERY)
def test_each_look_that_is_no_sound_metal_has_a_choice(name: str) -> None:
    found, _ = told(name)
    seen = {s.look.id for c in choices(name) for s in c.fact.seen}
    joints = {s.joint for c in choices(name) for s in c.fact.seen if c.fact.deed == "loose"}
    assert {s.look.id for s in found.stops} <= seen
    assert {s.look.id for v in found.voices for s in v.seen} <= seen
    assert {s.joint for s in found.loose} == joints


@pytest.mark.parametrize("name", EVERY)
def test_nothing_for_what_may_stay_and_none_without_a_choice(name: str) -> None:
    for choice in choices(name):
        assert choice.fact.deed not in STAYS
        assert choice.works
        assert [w.turn == 0 for w in choice.works] == sorted(w.turn == 0 for w in choice.works)


def test_over_all_of_them_every_work_is_a_choice_somewhere() -> None:
    named = {w.id for name in EVERY for w in in_turn(choices(name))}
    assert named == {w.id for w in library().paper.brief.works}


def test_a_sound_frame_has_none() -> None:
    assert choices("quiet-frame") == ()
    assert choice_lines(*told("quiet-frame"), library()) == []


def test_every_thing_that_a_work_goes_by_is_one_that_a_fact_can_ask_for() -> None:
    assert set(marks.ASKED_FOR) <= set(DEEDS)
    assert set(marks.ASKED_FOR).isdisjoint(STAYS)


# What is offered for what -------------------------------------------------------------------------


def names(name: str) -> dict[str, list[str]]:
    return {c.fact.kind: [w.id for w in c.works] for c in choices(name)}


@pytest.mark.parametrize(
    ("name", "kind", "offered"),
    [
        ("equal-sag", "sag", ["shim", "leave"]),
        ("axle-not-frame", "axle", ["axle"]),
        ("whole-diamond", "diamond", ["straighten"]),
    ],
)
def test_what_is_offered(name: str, kind: str, offered: list[str]) -> None:
    assert names(name)[kind] == offered


def test_a_crack_or_a_kink_is_looked_at_first_and_never_left_or_shimmed() -> None:
    [stop] = [c for c in choices("kink-alone") if c.fact.deed == "stop"]
    assert [w.id for w in stop.works] == ["opinion", "part", "another"]


def test_a_joint_comes_before_a_measurement_and_a_measurement_before_the_bench() -> None:
    order = [w.id for w in in_turn(choices("marigold-2026-05-02"))]
    assert order.index("joint") < order.index("measure") < order.index("straighten")


def test_deep_pits_are_calipered_before_a_piece_is_talked_of() -> None:
    made = looked("rail-tops/left", "heavy-pitting")
    found = choices_of(verdict_of(made, library(), DAY), made, library())
    assert [[w.id for w in c.works] for c in found if c.fact.way == "pits"] == [["closer"]]


def test_what_somebody_must_see_first_is_told_so() -> None:
    found, made = told("marigold-2026-05-02")
    text = " ".join(item.text for item in choice_lines(found, made, library()))
    assert "third: first have it looked at; then, if need be, replace a piece." in text
    assert "your own hand" not in text


@pytest.mark.parametrize(
    "quantity",
    [q for q in library().quantities.values() if q.limit],
    ids=lambda q: str(q.id),
)
def test_each_figure_with_a_limit_has_a_work_of_its_own(quantity: Quantity) -> None:
    """Whatever an author judges, something besides an opinion, leaving it and another frame answers."""
    named = [w for w in library().paper.brief.works if quantity.id in w.of]
    assert {w.id for w in named} - {"leave"}, quantity.id


@pytest.mark.parametrize("degrees", [1.0, 5.0])
def test_an_axle_that_is_out_is_no_reason_for_another_frame(degrees: float) -> None:
    sure, made = told("quiet-frame")
    number = Uncertain(degrees, (Part("story", 0.05),))
    off = judge(finding("caster-apart", "front", number, limit="caster-apart"), made, library())
    assert off.established in ("watch", "specialist")
    out = sure._replace(judged=(*sure.judged, off))
    [choice] = choices_of(out, made, library())
    assert choice.fact.judged == (off,)
    offered = [w.id for w in choice.works]
    assert offered == (["axle", "leave"] if off.established == "watch" else ["axle"])
    assert "another frame" not in " ".join(i.text for i in choice_lines(out, made, library()))


def test_what_nobody_thought_of_is_looked_at() -> None:
    odd = Fact("added", "put-right")
    assert [w.id for w in works_for(odd, library())] == ["opinion"]


# How it is told -----------------------------------------------------------------------------------


def test_by_its_letter_in_tell_all_and_as_data() -> None:
    found, made = told("marigold-2026-05-02")
    part = part_of_letter("d")
    assert part in PARTS
    assert part is not None
    [section] = part_sections(part, found, made, library())
    assert section.id == "choices"
    text = tell_text(made, library(), DAY, whole=True)
    wanted = (
        "What can be done about it … Left rail 7.5 mm back, hit at the left front: straighten on a"
        " bench. … Straighten on a bench. … Who: somebody who straightens frames for a living. It"
        " leaves: some of it may spring back … Measure or look again after it:"
    )
    assert says(text, wanted)
    for suffix in (".txt", ".md", ".html"):
        report = report_as(made, library(), DAY, source_of(SAMPLES[made.id]), suffix)
        assert says(plain(report, suffix), "What can be done about it … It leaves: ")
    data = json.loads(as_json(made, library(), DAY))["choices"]
    [rail] = [
        row for row in data if row["kind"] == "diamond" or row["what"].startswith("Left rail")
    ]
    assert rail["deed"] == "put-right"
    assert [work["id"] for work in rail["choices"]] == ["straighten"]
    assert "long-diagonals" in rail["again"]


def test_a_shop_is_asked_for_no_work_of_the_owner() -> None:
    text = form_text(shop_brief(told("marigold-2026-05-02")[1], library(), DAY))
    ours = {w.name for w in library().paper.brief.works if w.ours}
    assert ours
    assert not any(f"[   ] {name}." in text for name in ours)
    assert says(text, "[ ] Straighten on a bench.")


@pytest.mark.parametrize("name", EVERY)
def test_no_line_says_how_or_gives_leave(name: str) -> None:
    found, made = told(name)
    lines = [
        item.text for s in sections(found, made, library()) if s.id == "choices" for item in s.items
    ]
    assert refused(tuple((name, s) for line in lines for s in sentences(line))) == []
