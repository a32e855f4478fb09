"""Looks that are no stop sign and yet no sound frame: which answers speak, and which stay harmless."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from tests.checks.surveys import DAY, LADDER, add, library, survey_of, taped, with_looks
from tests.judgment.test_verdict import sound, verdict, without
from tests.telling.saying import tells
from wizard.judgment.answer import answer_of
from wizard.library.marks import BENT_HORN, BENT_METAL, DENT, VOICES
from wizard.library.places import PromptId
from wizard.library.shapes import Choice, Step
from wizard.survey.guide import guide_of
from wizard.survey.record import Survey
from wizard.survey.rows import Answer, Look, Skip
from wizard.telling.answer_words import headline, lines, told_of
from wizard.telling.fact_words import thing


def looked(prompt: str, answer: str, seen: str = "bare", survey: Survey | None = None) -> Survey:
    """The sound frame with one look otherwise."""
    survey = survey or sound()
    row = next(k for k in survey.standing(Look) if k.prompt == prompt)
    return survey.with_replaced(replace(row, answer=answer, seen=seen))


@pytest.mark.parametrize(
    ("prompt", "answer", "voice"),
    [
        ("rail-tops/left", "heavy-pitting", "pits"),
        ("inside-channel/right", "heavy-pitting", "pits"),
        ("rail-tops/left", "flaking", "rust"),
        ("inside-channel/left", "rust-swelling", "rust"),
        ("rail-sides/left", "hole-away", "rust"),
        ("sectioned-rails/left", "seam-all-round", "welds"),
        ("inside-channel/left", "hidden-repair", "welds"),
        ("front-crossmember-cracks/left", "old-crack-welded", "welds"),
        ("horn-welds/left", "re-welded", "welds"),
        ("engine-mounts/right", "repaired-hole", "welds"),
        ("front-crossmember-rivets/left", "welded", "welds"),
        ("heat-and-clamps/left", "heat-and-bites", "heat"),
        ("rail-sides/left", "wrinkle-lower-flange", "wrinkle"),
        ("rail-sides/left", "wrinkle-upper-flange", "wrinkle"),
        ("engine-mounts/left", "wrinkle", "wrinkle"),
        ("front-crossmember-rivets/left", "rust-ring", "rust-ring"),
        ("rear-crossmember/left", "rust-ring", "rust-ring"),
        ("paint-cracks/left", "fresh-paint-crack", "moves"),
        ("paint-cracks/left", "rust-bleeding", "moves"),
        ("front-crossmember-cracks/left", "bent-crossmember", "bent"),
        ("rear-crossmember/right", "bent-crossmember", "bent"),
        ("front-springs/left", "bent-hanger", "bent"),
        ("rear-springs/right", "loose-bolt", "slack"),
        ("rail-sides/left", "ripple", "ripple"),
        ("horn-welds/left", "bent-round", "bent-horn"),
        ("horn-welds/right", "ripple", "bent-horn"),
        ("steering-mount/left", "loose-box", "slack"),
        ("steering-mount/right", "repaired-hole", "welds"),
        ("body-mounts/left", "rust-swelling", "rust"),
    ],
)
def test_what_speaks_keeps_the_verdict_open(prompt: str, answer: str, voice: str) -> None:
    result = verdict(looked(prompt, answer))
    assert (result.action, result.held, result.numbers) == ("open", "seen", "leave")
    assert [(v.id, [s.prompt.id for s in v.seen]) for v in result.voices] == [(voice, [prompt])]


@pytest.mark.parametrize(
    ("prompt", "answer"),
    [
        ("rail-tops/left", "light-pitting"),
        ("inside-channel/left", "light-pitting"),
        ("rear-crossmember/left", "pitting"),
        ("paint-cracks/left", "old-paint-line"),
        ("manufacture-marks/left", "mirrored-marks"),
        ("front-crossmember-rivets/left", "bolts"),
        ("bracket-rivets/left", "welded"),
        ("welded-plates/left", "welded-plate"),
        ("rail-sides/left", "jack-or-chain-mark"),
        ("horn-welds/left", "hammer-marks"),
        ("front-crossmember-cracks/left", "scratch"),
        ("front-springs/left", "worn-shackle"),
        ("body-mounts/left", "loose-bolt"),
    ],
)
def test_what_is_harmless_stays_silent(prompt: str, answer: str) -> None:
    result = verdict(looked(prompt, answer))
    assert (result.action, result.voices) == ("leave", ())


NO_BEND = {
    ("rail-sides", "jack-or-chain-mark"): "a dent that a jack or a chain left, and known for one",
    ("body-ripples", "ripples"): "of the body, and not of the frame",
    ("body-ripples", "beaten-out"): "of the body, and not of the frame",
}
BENDS = re.compile(r"\b(bent|bow|bulg|buckl|dent|fold|kink|rippl|twist|wave|wrinkl)")


def _bends() -> list[tuple[Step, Choice]]:
    """Every answer to a look that tells by its words of metal that is bent."""
    looks = [(s, p) for s in library().steps.values() for p in s.prompts if p.kind.looks]
    found = [(s, c) for s, p in looks for c in p.choices if BENDS.search(c.words)]
    return [(s, c) for s, c in found if not c.nothing and (s.id, c.token) not in NO_BEND]


def test_every_answer_that_tells_of_bent_metal_is_marked_so() -> None:
    marked = [
        c.stop or c.speaks in (*BENT_METAL, BENT_HORN) or DENT in c.marks for _, c in _bends()
    ]
    assert len(marked) > 20
    assert [
        (s.id, c.token) for (s, c), told in zip(_bends(), marked, strict=True) if not told
    ] == []


def test_bent_metal_is_never_beside_nothing_to_put_right_unnamed() -> None:
    """On a frame of which every figure is in order, that was known to be hit there."""
    here = {str(k.prompt) for k in sound().standing(Look)}
    asked = 0
    for step, choice in _bends():
        prompt = f"{step.id}/left"
        if prompt not in here or choice.stop:
            continue
        asked += 1
        of = looked(prompt, choice.token)
        for n, (to, said) in enumerate([("knocked", "yes"), ("where", "left-front")]):
            row = Answer(id=f"a90{n}", prompt=PromptId(f"history/{to}"), answer=said)
            of = of.with_row(row)
        told = told_of(answer_of(of, library(), DAY), of, library())
        assert told.answer.kind != "straight", prompt
        head = headline(told)
        assert thing(next(s for s in told.answer.verdict.seen if s.prompt.id == prompt)) in (
            head[:1].lower() + head[1:]
        )
        assert "show nothing of it" not in " ".join(item.text for _, item in lines(told)), prompt
        if DENT not in choice.marks:
            assert "Nothing to put right" not in head, prompt
    assert asked > 8


def test_a_dent_on_one_rail_is_worth_an_eye_and_the_same_on_both_is_the_makers() -> None:
    one = looked("rail-sides/left", "smooth-dent")
    assert (verdict(one).action, len(verdict(one).dented)) == ("watch", 1)
    both = looked("rail-sides/right", "smooth-dent", survey=one)
    assert (verdict(both).action, verdict(both).dented) == ("leave", ())


def head(of: Survey) -> str:
    return headline(told_of(answer_of(of, library(), DAY), of, library()))


def test_a_bent_horn_asks_for_the_tape_and_where_nobody_can_tape_it_for_somebody_who_looks() -> (
    None
):
    untaped = looked("horn-welds/left", "bent-round", survey=without("horns/"))
    tells(head(untaped), "Gentle bend in the left front horn", "tape the horns")
    asked = [p for p in guide_of(untaped, library()).questions.by_id if p.startswith("horns/")]
    assert asked
    for n, id in enumerate(asked):
        untaped = untaped.with_row(Skip(id=f"z{n}", prompt=id, why="no tape that long"))
    tells(
        head(untaped), "Gentle bend in the left front horn", "have somebody who knows frames look"
    )
    taped_alike = with_looks(survey_of(taped(LADDER), unit="mm"))
    bent = looked("horn-welds/left", "bent-round", survey=taped_alike)
    tells(head(bent), "Gentle bend in the left front horn", "have somebody who knows frames look")


def test_a_caliper_settles_pits_and_layers_on_its_own_rail_only() -> None:
    pits = looked("rail-tops/left", "heavy-pitting")
    left = add(add(pits, "pitting/left/clean", "0.120"), "pitting/left/pitted", "0.118")
    right = add(add(pits, "pitting/right/clean", "0.120"), "pitting/right/pitted", "0.118")
    assert verdict(left).voices == ()
    assert [v.id for v in verdict(right).voices] == ["pits"]
    swollen = looked("inside-channel/left", "rust-swelling", survey=left)
    assert [v.id for v in verdict(swollen).voices] == ["rust"]


def test_heat_under_paint_may_be_bad_paint() -> None:
    assert verdict(looked("heat-and-clamps/right", "heat-scale", "painted")).voices == ()
    assert [v.id for v in verdict(looked("heat-and-clamps/right", "heat-scale")).voices] == ["heat"]


def test_an_upper_wrinkle_alike_on_both_rails_is_the_sags_and_a_lower_one_is_not() -> None:
    for answer, voices in (("wrinkle-upper-flange", []), ("wrinkle-lower-flange", ["wrinkle"])):
        both = looked("rail-sides/left", answer, survey=looked("rail-sides/right", answer))
        assert [v.id for v in verdict(both).voices] == voices, answer


def test_a_stop_sign_needs_no_voice() -> None:
    result = verdict(looked("rail-sides/left", "kink"))
    assert (result.action, result.held, result.voices) == ("stop", "", ())


def test_every_voice_is_spoken_by_an_answer_and_by_no_stop_and_nothing_loose() -> None:
    """Content says which; the linter holds each, so that none falls silent."""
    choices = [c for s in library().steps.values() for p in s.prompts for c in p.choices]
    assert {c.speaks for c in choices} == {"", *VOICES}
    assert [c.token for c in choices if c.speaks and (c.stop or c.loose)] == []


def test_a_caliper_that_found_much_gone_at_one_place_speaks_in_place_of_the_look() -> None:
    pits = looked("rail-tops/left", "heavy-pitting")
    deep = add(add(pits, "pitting/left/clean", "0.120"), "pitting/left/pitted", "0.090")
    found = verdict(deep)
    assert (found.voices, [j.finding.id for j in found.deep]) == ((), ["thickness/left"])
    assert (found.action, found.held) == ("open", "seen")
    shallow = add(add(pits, "pitting/left/clean", "0.120"), "pitting/left/pitted", "0.118")
    assert verdict(shallow).voices == ()
    long = add(deep, "pitting/left/stretch", "50")
    assert verdict(long).action == "specialist"
