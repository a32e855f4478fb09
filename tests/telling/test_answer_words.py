"""The answer: each headline by itself says what, where, how much and what now; at most five lines."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from tests.bench.answers import DAY, Case, cases
from tests.checks.surveys import library, with_looks
from tests.judgment.pairs import AGED, first
from tests.judgment.remeasured import SAMPLES, sample
from tests.judgment.stories import stories, survey, verdict
from tests.judgment.test_fact import of
from tests.telling.saying import tells
from wizard.judgment.answer import HEADS, NOT_MOVED, answer_of, answered
from wizard.survey.guide import layout_of
from wizard.survey.rows import Opinion, Reading
from wizard.telling.answer_words import (
    HEADLINES,
    LINES,
    MOST,
    Told,
    answer_blocks,
    brief,
    headline,
    lines,
    told_of,
)
from wizard.telling.fact_words import named_places
from wizard.telling.not_driven import NOT_DRIVEN
from wizard.telling.quantity_names import name_of
from wizard.telling.tell import PARTS, findings_section, tell_text
from wizard.telling.text import lines_of
from wizard.telling.verdict_words import sections

GUIDE = Path(__file__).parents[2] / "DEVELOPERS.md"
SAYS = {
    "what": (
        r"rail|frame|box|horn|corner|crossmember|wheelbase|crack|kink|bulge|weld|pits|seam|"
        r"rocks|reads|put right|stain|moved|sag"
    ),
    "where": r"\b(left|right|both|two|front|rear|frame|middle)\b",
    "amount": r"\d (in|mm|%)\b",
    "way": (
        r"\b(low|high|higher|back|forward|in|out|sideways|shorter|rose|dropped|along|to the \w+)\b"
    ),
    "since": r"since \d{4}-\d\d-\d\d",
    "do": (r"\b(have|take|keep|look|measure|read|set|clean|get|tape|leave|do the push test)\b"),
    "forbids": re.escape(NOT_DRIVEN),
    "seen": r"would have been seen",
    "would-tell": r"To find out, ",
}
"""What a headline must have for each of its parts."""
NEVER = ("Something wants", "The joints come first", "Not enough was seen", "Something is out")


@cache
def told() -> tuple[Case, ...]:
    return tuple(cases())


def head(case: Case) -> str:
    return headline(told_of(case.answer, case.survey, library()))


def test_every_kind_of_headline_is_among_them() -> None:
    assert {case.answer.kind for case in told()} == set(HEADS) == set(HEADLINES)
    assert len(told()) >= 20


def test_each_headline_has_the_parts_of_its_kind() -> None:
    missing, never = [], []
    for case in told():
        said = head(case)
        for part in HEADS[case.answer.kind].parts:
            if not re.search(SAYS[part], said, re.IGNORECASE):
                missing.append((case.name, part, said))
        never += [(case.name, words, said) for words in NEVER if words in said]
    assert missing == []
    assert never == []


def test_a_part_that_is_not_there_is_missed() -> None:
    """Twin that must fail: the headlines that once stood there."""
    assert not re.search(SAYS["amount"], "Something wants putting right.")
    assert not re.search(SAYS["where"], "Not enough was seen to say.")
    assert not re.search(SAYS["since"], "One figure has changed.")


def test_a_recheck_of_which_nothing_moved_says_so_first_and_how_much_would_have_shown() -> None:
    case = next(c for c in told() if c.name == "not moved: a still season")
    for part in NOT_MOVED:
        assert re.search(SAYS[part], head(case)), part
    assert head(case).startswith("Nothing has moved since 2026-04-11")


def test_of_which_figures_it_is_not_known_is_said_by_name_and_no_command_is() -> None:
    """It stands on paper too, where nobody can type."""
    case = next(c for c in told() if c.name == "not moved: a still season")
    since = case.answer.since
    assert since is not None
    some = since.comparison.changes[:4]
    facts = case.answer._replace(since=since._replace(untold=some), untold=())
    said = {label: item.text for label, item in lines(told_of(facts, case.survey, library()))}
    line = next(text for text in said.values() if "whether they changed" in text.lower())
    names = [name_of(c.new, layout_of(case.survey, library())) for c in some]
    assert all(name in line for name in names[:3]), line
    assert "1 more" in line
    assert "/" not in line.replace("1/", "")


def test_a_rail_that_dropped_is_told_first_with_how_far_and_since_when() -> None:
    case = next(c for c in told() if c.name == "moved: a rail dropped")
    tells(
        head(case),
        "Left rail dropped ",
        " in ",
        " since ",
        "Read that place once more",
        "bare metal",
    )
    said = {label: item.text for label, item in lines(_told(case))}
    tells(said["Until then"], "still moving", NOT_DRIVEN)


def _told(case: Case):  # type: ignore[no-untyped-def]
    return told_of(case.answer, case.survey, library())


def test_at_most_five_lines_and_the_gravest_is_never_cut() -> None:
    for case in told():
        found = lines(_told(case))
        assert len(found) <= MOST == 5
        labels = [label for label, _ in found]
        if case.answer.reads:
            assert "As it reads now" in labels, case.name
        if case.answer.then:
            assert "Then" in labels, case.name
        order = [one.label for one in LINES]
        assert labels == sorted(labels, key=order.index)


@pytest.mark.parametrize("name", SAMPLES)
def test_tell_is_short_and_all_of_it_is_behind(name: str) -> None:
    made = sample(name)
    short, whole = (tell_text(made, library(), DAY, whole=w) for w in (False, True))
    assert len(short.splitlines()) <= 45
    assert len(whole.splitlines()) > 100
    assert "--all" in short


def test_a_straight_frame_is_told_in_25_lines() -> None:
    case = told()[0]
    assert (case.name, case.answer.kind) == ("quiet-frame", "straight")
    assert len(tell_text(case.survey, library(), DAY).splitlines()) <= 25
    assert len(case.lines()) + 4 <= 25


def test_every_part_of_the_verdict_is_opened_by_a_letter() -> None:
    known = {id for part in PARTS for id in part.sections} | {"nothing"}
    for case in told():
        there = {s.id for s in sections(case.answer.verdict, case.survey, library())}
        assert there <= known
    assert len({p.letter for p in PARTS}) == len(PARTS)


def test_a_signed_opinion_stands_right_under_the_headline() -> None:
    case = told()[0]
    row = Opinion(id="o900", at=DAY, by="A. Mentor", text="agreed, leave it")
    signed = case.survey.with_row(row)
    said = lines_of(answer_blocks(told_of(case.answer, signed, library())))
    first = next(n for n, line in enumerate(said) if line.startswith("  "))
    assert "agreed, leave it" in said[first]
    assert said[:first] == case.lines()[:first]


def _story(name: str, **state: str) -> str:
    story = stories()[name]
    story = {**story, "state": {**story.get("state", {}), **state}} if state else story
    made = survey(story)
    told = told_of(answered(verdict(story), made, library()), made, library())
    return " ".join(lines_of(answer_blocks(told)))


def test_a_known_hit_with_nothing_to_see_proves_the_negative() -> None:
    said = " ".join(_story("known-hit-nothing-to-see").split())
    tells(said, "The collision", "The readings show nothing of it", "19 times in 20")
    tells(
        said,
        "they would have called out",
        "a rail moved forward or back by",
        " in;",
        "Not covered:",
    )


@pytest.mark.parametrize(
    ("supports", "why"),
    [
        ("stands-under-axles", "Springs can lean a frame or twist it"),
        ("stands-under-frame", "Four stands can twist any frame"),
    ],
)
def test_a_twist_that_was_read_where_it_proves_nothing_is_not_told_as_not_looked_at(
    supports: str, why: str
) -> None:
    bare = " ".join(_story("known-hit-nothing-to-see").split())
    assert "a twist of" in bare
    assert "rule a twist out" not in bare
    said = " ".join(_story("known-hit-nothing-to-see", supports=supports).split())
    assert f"{why}, so the level cannot rule a twist out." in said
    assert "a twist" not in said.partition("Not covered:")[2].partition(".")[0]
    assert "a twist of" not in said


def test_a_string_read_under_a_bolted_body_is_not_told_as_not_drawn() -> None:
    said = " ".join(_story("known-hit-nothing-to-see", body="bolted").split())
    assert (
        "The bolted body props the rails, so the string cannot rule out a rail bent down." in said
    )
    assert "a rail down" not in said


VERBS = re.compile(r"\b(?:is|are|stand|move|have)\b|\{is\}")


def test_what_is_in_order_is_said_in_sentences_that_agree() -> None:
    """`Every box square, rails equally long and the wheelbase alike` was no sentence."""
    for limit in library().limits.values():
        if limit.well:
            assert VERBS.search(limit.well), limit.id
            assert ("{is}" in limit.well) == limit.well.startswith("{where}"), limit.id
    bare = _lines_of_story("known-hit-nothing-to-see")
    assert bare.startswith("Every box is square; both rails are straight by the string")
    assert "; and the wheelbase is the same left and right." in bare


def _lines_of_story(name: str) -> str:
    return " ".join(_story(name).partition("In order")[2].split())


def test_what_is_out_elsewhere_is_not_tied_to_the_hit() -> None:
    said = " ".join(_story("hit-at-one-corner-and-out-at-the-other").split())
    assert "nothing ties it to the corner that was hit" in said
    assert "show nothing of it" not in said


def test_of_two_horns_neither_is_named_where_the_tape_cannot_say() -> None:
    said = " ".join(_story("bent-horn-true-box").split())
    tells(said, "The two horns differ by", " in", "cannot say which is bent", "Look at both")
    assert "left horn" not in said
    assert "right horn" not in said


def _made(*findings: list[Any], **more: Any) -> Told:
    story = of(*findings, **more)
    made = survey(story)
    return told_of(answered(verdict(story), made, library()), made, library())


def _lines(answer: Told) -> dict[str, str]:
    return {label: item.text for label, item in lines(answer)}


def _why(answer: Told) -> str:
    tale = answer.tale
    parts = {s.id: s.lines for s in sections(tale.verdict, tale.survey, tale.library)}
    return " ".join([*parts.get("decides", ()), *parts.get("reasons", ())])


DIAMOND = [["rail-shift", b, -7.5, 0.4] for b in ("whole", "front-box", "rear-box")]
WRINKLE = [["rail-sides", "left", "front", "bare", "wrinkle-lower-flange"]]
BENT = [
    ["horn-welds", "left", "", "bare", "bent-round"],
    ["horn-welds", "right", "", "bare", "nothing-found"],
]


def test_a_wrinkle_is_told_before_what_is_to_be_put_right() -> None:
    answer = _made(*DIAMOND, looks=WRINKLE)
    tells(headline(answer), "Wrinkled lower flange", "look at it. ", "put right before paint.")
    tells(_why(answer), "wrinkle, lower flange", "the left rail sat")


def test_whoever_must_look_at_a_crack_is_shown_the_wrinkle_at_once() -> None:
    """Marigold: loose rivets, a crack in the paint and a wrinkle, behind them a rail that is back."""
    marigold = sample("marigold-2026-05-02")
    answer = told_of(answer_of(marigold, library(), DAY), marigold, library())
    tells(headline(answer), "resh crack", "wrinkled lower flange", "loose.", NOT_DRIVEN)
    tells(_lines(answer)["As it reads now"], "Left rail 7.5 mm back", "put right")


def test_pits_that_whoever_surveys_measures_alone_come_after_what_is_to_be_put_right() -> None:
    pits = [["rail-tops", "left", "front", "bare", "heavy-pitting"]]
    answer = _made(*DIAMOND, looks=pits)
    assert headline(answer).endswith("put right before paint.")
    assert "caliper" not in headline(answer)
    assert "caliper" in _lines(answer)["Then"]


def test_the_reasons_have_the_figure_of_the_headline() -> None:
    """By size alone that of the front box would stand there, and the headline tells the whole frame's."""
    shifts = {"whole": -7.5, "front-box": -9.0, "rear-box": -7.0}
    answer = _made(*(["rail-shift", box, mm, 0.4] for box, mm in shifts.items()))
    fact = next(f for f in answer.answer.facts if f.judged)
    parts = {s.id: s for s in sections(answer.tale.verdict, answer.tale.survey, library())}
    assert fact.judged[0].finding.where == "whole"
    assert fact.judged[0].finding.id in parts["reasons"].items[0].sources


def test_a_box_that_may_be_left_is_not_asked_why_it_is_out_of_square() -> None:
    """Beside a frame that is in order the front box may be out by no more than its doubt."""
    shifts = [["rail-shift", "whole", 0.3, 0.4], ["rail-shift", "front-box", 2.6, 1.0]]
    answer = _made(["horn", "difference", -9.0, 0.6], *shifts, looks=BENT)
    assert any(f.kind == "square" for f in answer.answer.facts)
    assert "out of square" not in " ".join([headline(answer), *_lines(answer).values()])


def _sag(mm: float, u: float) -> Told:
    return _made(*(["sag-unloaded", f"engine-mount/{s}", mm, u] for s in ("left", "right")))


def test_a_small_sag_that_may_be_left_is_not_to_be_watched() -> None:
    """2.6 mm give or take 1: it stands out of its doubt, and its band may be `leave`."""
    answer = _sag(2.6, 0.5)
    assert answer.answer.facts[0].judged[0].bands == ("leave", "watch")
    said = _lines(answer)
    assert said["May stay"] == "Both rails up to 3/32 in low at the rear engine mount."
    assert "eye" not in headline(answer) + " ".join(said.values())


def test_a_sag_inside_its_doubt_is_not_told() -> None:
    said = _lines(_sag(1.0, 1.0))
    assert "low at" not in " ".join(said.values())


def test_a_sag_that_is_surely_worth_an_eye_is_told_first() -> None:
    answer = _sag(4.5, 0.3)
    tells(headline(answer), "Both rails up to 3/16 in low", "keep an eye on them", "Nothing to put")


def test_the_horn_that_was_seen_bent_is_named_among_all_figures_too() -> None:
    answer = _made(["horn", "difference", -9.0, 0.6], looks=BENT)
    tale = answer.tale
    (said,) = [
        line
        for line in findings_section(tale.verdict, tale.survey, library()).lines
        if "horn" in line
    ]
    tells(headline(answer), "Left front horn bent in")
    tells(said, "The left horn, which was seen bent,")
    assert "cannot say" not in said


def test_of_the_horns_it_is_said_what_of_them_was_read() -> None:
    both = _made()
    assert "the horns are alike" in _lines(both)["In order"]
    height = [["horn-height", "horns", 0.1, 0.2], ["rail-shift", "whole", 0.1, 0.2]]
    only = _made(*height, rest_findings="")
    assert "the horns are alike in height" in _lines(only)["In order"]


def test_a_diagonal_that_is_missing_is_named_and_its_box_is_not_in_order() -> None:
    id = "box-diagonals/front-box/front-left--center-right"
    whole = with_looks(first())
    half = whole
    for row in whole.standing(Reading):
        half = half.with_struck(row.id, "not asked") if row.prompt == id else half
    tales = (told_of(answer_of(s, library(), DAY), s, library()) for s in (whole, half))
    all_, said = ({label: item.text for label, item in lines(tale)} for tale in tales)
    assert "every box is square" in all_["In order"].lower()
    assert said["Not covered"] == "The diagonal “left front to right center”."
    assert "every box" not in said["In order"].lower()
    assert "front box is square" not in said["In order"]


def test_bare_is_asked_only_of_places_that_must_be_seen_bare() -> None:
    """Spring seats may be seen painted: whoever did not see them at all was told that they were not
    seen bare.
    """
    made = sample("old-post-2026-06-20")
    answer = answer_of(made, library(), DAY)
    fact = next(f for f in answer.facts if f.kind == "unseen")
    assert {u.bare for u in fact.steps} == {True, False}
    said = _lines(told_of(answer, made, library()))
    bare, _, rest = said["Then"].partition("; not seen yet: ")
    for place in named_places(fact):
        assert place.title.lower() in (bare if place.bare else rest).lower()
        assert place.title.lower() not in (rest if place.bare else bare).lower()
        assert place.title.lower() not in said.get("Not covered", "").lower()


def test_the_few_words_of_a_list_are_few() -> None:
    for case in told():
        said = brief(_told(case))
        assert said
        assert not said.endswith(".")
        kinks = any(f.kind == "kink" for f in case.answer.head)
        assert ("perhaps a kink" in said) == kinks, (case.name, said)


# The guide ----------------------------------------------------------------------------------------


def table() -> list[str]:
    """The rows of the guide's table, as the code has them."""
    rows = [(name, one.parts) for name, one in HEADS.items()]
    return [f"| {name} | {', '.join(parts)} |" for name, parts in (*rows, ("not moved", NOT_MOVED))]


def test_the_guide_has_the_parts_of_every_headline() -> None:
    text = GUIDE.read_text(encoding="utf-8")
    head_row = "| kind of answer | parts of its headline |\n|---|---|\n"
    assert head_row + "\n".join(table()) + "\n" in text


@pytest.mark.parametrize(("seed", "pushed", "way"), [(8, 14.0, "left"), (9, -12.0, "right")])
def test_a_frame_bent_sideways_is_told_as_that_and_its_boxes_by_it(
    seed: int, pushed: float, way: str
) -> None:
    """Its front end pushed aside so many mm: the boxes are out of square by that, and why is known."""
    swayed = with_looks(first(replace(AGED, sway_front=pushed), seed=seed))
    said = " ".join(tell_text(swayed, library(), DAY).split())
    tells(
        said, "Frame bowed", f"to the {way} at the center crossmember", "which puts the front box"
    )
    assert "cannot say why" not in said
    assert "a diamond" not in said
