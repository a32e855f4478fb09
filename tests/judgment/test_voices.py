"""Looks that are no stop sign and yet no sound frame: which answers speak, and which stay harmless."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.checks.surveys import add, library
from tests.judgment.test_verdict import sound, verdict
from wizard.library.marks import VOICES
from wizard.survey.record import Survey
from wizard.survey.rows import Look


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
        ("rail-sides/left", "smooth-dent"),
        ("rail-sides/left", "ripple"),
        ("horn-welds/left", "hammer-marks"),
        ("front-crossmember-cracks/left", "scratch"),
        ("front-springs/left", "worn-shackle"),
        ("body-mounts/left", "loose-bolt"),
    ],
)
def test_what_is_harmless_stays_silent(prompt: str, answer: str) -> None:
    result = verdict(looked(prompt, answer))
    assert (result.action, result.voices) == ("leave", ())


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
