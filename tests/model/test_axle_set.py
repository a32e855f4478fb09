"""The model's axle set: what is bent comes back from the real checks, and each fault has its voice."""

from __future__ import annotations

import math
from functools import cache

import pytest

from wizard.checks import axle_set
from wizard.checks.case import Case
from wizard.judgment.blind import Bench
from wizard.library import load_library
from wizard.model.bent import Bent
from wizard.model.readings import ball_caster, survey_on

THOUSANDTH = 0.001


@cache
def bench(layout: str = "straight-ladder") -> Bench:
    library = load_library()
    return Bench(library.layouts[layout], library)


def found(*lines: str, layout: str = "straight-ladder") -> dict[str, float]:
    here = bench(layout)
    frame = here.frame(here.bend(lines, Bent(engine="weight-off", supports="wheels")))
    case = Case(survey_on(frame, here.prompts), here.known)
    return {f.id: f.value for f in axle_set.check(case)}


@pytest.mark.parametrize(
    ("line", "id", "change"),
    [
        ("beam left 8", "beam-bend/left", 8.0),
        ("beam right 8 forward", "beam-bend/right", -8.0),
        ("beam twist 2", "caster-apart/difference", 2.0),
        ("beam twist 2 right", "caster-apart/difference", -2.0),
        ("camber left 1.5", "camber-apart/difference", 1.5),
        ("camber right 1.5", "camber-apart/difference", -1.5),
        ("toe 6", "toe/difference", 6.0),
        ("front spring 20", "perch-apart/difference", -20.0),
        ("rear shackle 8", "rear-shackle-apart/difference", 8.0),
        ("rear shackle 8 right", "rear-shackle-apart/difference", -8.0),
        # 12 mm over 75 mm between the bolts: by a table of sines, 35 degrees 38 minutes and 15 degrees 13.5.
        ("perch left 12", "shackle-apart/difference", 10.634),
        ("perch right 12", "shackle-apart/difference", -10.634),
        ("perch left 12 out", "shackle-apart/difference", -9.775),
    ],
)
def test_what_is_bent_comes_back_to_a_thousandth_and_nothing_else_moves(
    line: str, id: str, change: float
) -> None:
    straight, bent = found(), found(line)
    moved = {k: v - straight[k] for k, v in bent.items() if abs(v - straight[k]) > THOUSANDTH}
    assert moved[id] == pytest.approx(change, abs=THOUSANDTH)
    beside = {"beam twist": "caster-side", "camber": "camber-side", "front spring": "shackle-apart"}
    along = next((of for words, of in beside.items() if line.startswith(words)), id)
    assert all(k == id or k.startswith(along) for k in moved), moved


def test_a_settled_spring_leans_its_shackle_as_the_triangle_has_it() -> None:
    """asin(sin 25 + 10/75) and asin(sin 25 - 10/75), by hand: 5 digits off a pocket calculator."""
    assert found("front spring 20")["shackle-apart/difference"] == pytest.approx(
        33.774 - 16.815, abs=0.01
    )


def test_a_weak_rear_spring_leans_both_its_shackles_and_no_front_one() -> None:
    """8 mm across is 4 mm more on the left and 4 less on the right: asin(0.42262 + 4/75) is 28.42
    degrees, asin(0.42262 - 4/75) 21.67, off a pocket calculator.
    """
    straight, weak = found(), found("spring 8")
    assert weak["rear-shackle-apart/difference"] == pytest.approx(28.42 - 21.67, abs=0.01)
    assert weak["shackle-apart/difference"] == straight["shackle-apart/difference"]


def test_two_perches_bent_alike_are_alike_and_so_are_not_seen() -> None:
    here = bench()
    both = here.bend(("perch left 12", "perch right 12"))
    assert not {h.voice.id for h in here.hear(both) if h.voice.called}


def test_a_frame_that_sags_gives_both_sides_the_caster_of_its_ball() -> None:
    here = bench()
    lines = ("sag left 9", "sag right 9")
    frame = here.frame(here.bend(lines, Bent(engine="weight-off", supports="wheels")))
    straight, bent = found(), found(*lines)
    for side in ("left", "right"):
        gained = bent[f"caster-side/{side}"] - straight[f"caster-side/{side}"]
        assert gained == pytest.approx(ball_caster(frame), abs=THOUSANDTH)
    assert bent["caster-apart/difference"] == pytest.approx(0.0, abs=THOUSANDTH)
    # More than the string shows, which ends before the springs: 780/640 of 9 mm at the least.
    assert ball_caster(frame) > math.degrees(math.atan(9 * 780 / 640 / 900)) - 0.02


@pytest.mark.parametrize(
    ("fault", "voice"),
    [
        ("beam-left", "beam-string"),
        ("beam-right", "beam-string"),
        ("beam-twist", "caster-gauge"),
        ("camber-left", "camber-gauge"),
        ("camber-right", "camber-gauge"),
        ("toe", "toe-tape"),
        ("front-spring", "perches"),
        ("perch-left", "perches"),
        ("rear-shackle", "perches"),
    ],
)
@pytest.mark.parametrize("layout", ["straight-ladder", "leaf-ladder-large"])
def test_each_fault_of_the_axle_set_has_a_check_that_sees_it(
    fault: str, voice: str, layout: str
) -> None:
    here = bench(layout)
    heard = here.hear(here.bend(here.faults[fault].bend), fault)
    assert voice in {h.voice.id for h in heard if h.kind == "sees"}


def test_of_a_bent_frame_the_axle_sets_checks_are_silent_unless_they_see_it() -> None:
    here = bench()
    named = {h.voice.id for h in here.hear(here.bend(["diamond 6"])) if h.voice.called}
    assert named == set()
    sagged = here.hear(here.bend(["sag left 20", "sag right 20"]))
    assert "caster-gauge" in {h.voice.id for h in sagged}
