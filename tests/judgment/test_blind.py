"""Which checks see what was bent: computed by bending the model, and explained where they see
nothing.
"""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache

import pytest

from wizard.judgment.blind import Bench, kind_of, model_layout
from wizard.library import load_library
from wizard.model.bent import Bent, Horn, Sag

THOUSANDTH = 0.001
TAPER = math.atan2(55.0, 1000.0)
"""The rail's slant in front, radians, from 310 to 365 mm half width over 1000 mm."""


@cache
def bench() -> Bench:
    library = load_library()
    return Bench(library.layouts["straight-ladder"], library)


SEEN: list[tuple[str, Bent, str, str, float]] = [
    # (what, bent, by, finding, value)
    ("diamond", Bent(diamond=6.0), "one", "rail-shift/whole", 6.0),
    ("diamond", Bent(diamond=6.0), "one", "rail-shift/front-box", 6.0),
    ("diamond", Bent(diamond=-4.0), "plan", "rail-shift/rear-box", -4.0),
    ("diamond by bar", Bent(diamond=3.0), "one", "rail-shift/front-box-bar", 3.0),
    ("short rail", Bent(mash_left=5.0), "plan", "mash/front-box", 5.0),
    ("short rail", Bent(mash_right=5.0), "plan", "mash/front-box", -5.0),
    ("sway", Bent(sway_front=8.0), "plan", "sway/center", -8.0 * 1200.0 / 2200.0),
    ("sway", Bent(sway_rear=8.0), "plan", "sway/center", -8.0 * 1000.0 / 2200.0),
    (
        "left horn in",
        Bent(horn_left=Horn(inward=8.0)),
        "plan",
        "horn/difference",
        -8.0 * math.cos(TAPER),
    ),
    (
        "right horn in",
        Bent(horn_right=Horn(inward=8.0)),
        "plan",
        "horn/difference",
        8.0 * math.cos(TAPER),
    ),
    ("horn back", Bent(horn_right=Horn(back=5.0)), "plan", "horn-back/difference", 5.0),
    ("horn up", Bent(horn_left=Horn(up=5.0)), "one", "horn-height/horns", 5.0),
    ("sag", Bent(left=(Sag(6.0, 640.0),)), "one", "sag-unloaded/engine-mount/left", 6.0),
    ("crown", Bent(right=(Sag(-5.0, 640.0),)), "one", "sag-unloaded/engine-mount/right", -5.0),
    ("kink", Bent(left=(Sag(7.0, 1000.0, 0.0),)), "one", "sag-unloaded/center/left", 7.0),
    ("twist", Bent(twist=6.0), "one", "twist/rear", 6.0),
    ("front axle", Bent(axle_front=9.0), "one", "wheelbase/difference", -9.0),
    ("rear axle", Bent(axle_rear=9.0), "one", "wheelbase/difference", 9.0),
]


@pytest.mark.parametrize(
    ("what", "bent", "by", "id", "value"), SEEN, ids=lambda v: v if isinstance(v, str) else ""
)
def test_a_single_fault_is_recovered_to_a_thousandth(
    what: str, bent: Bent, by: str, id: str, value: float
) -> None:
    assert bench().found(bent)[by][id].value == pytest.approx(value, abs=THOUSANDTH), what


@pytest.mark.parametrize("spread", [0.0, 600.0])
def test_a_bent_rails_caster_is_recovered_to_a_thousandth_of_a_degree(spread: float) -> None:
    """Both rails hinged at the mount, or bowed: the engine hangs on two stations, so that what lies
    between stations changes nothing.
    """
    sag = Sag(9.0, 640.0, spread)
    bent = Bent(left=(sag,), right=(sag,))
    drop = bench().drop_of_ball(bent)
    assert drop is not None
    found = bench().found(bent)["one"]["caster/ball"].value
    assert found == pytest.approx(math.degrees(math.atan(drop / 900.0)), abs=THOUSANDTH)


BLIND: list[tuple[str, Bent, tuple[str, ...]]] = [
    (
        "pure twist",
        Bent(twist=8.0),
        ("long-diagonals", "box-diagonals", "bar", "own-sides", "string", "wheelbase"),
    ),
    (
        "horns alike",
        Bent(horn_left=Horn(6.0), horn_right=Horn(6.0)),
        ("horn-crosses", "plan", "level-horns", "string"),
    ),
    (
        "shifted axle",
        Bent(axle_front=10.0),
        ("long-diagonals", "box-diagonals", "plan", "horn-crosses", "level"),
    ),
    ("diamond", Bent(diamond=6.0), ("own-sides", "string", "level", "level-horns", "wheelbase")),
    (
        "both rails sagged",
        Bent(left=(Sag(6, 640),), right=(Sag(6, 640),)),
        ("long-diagonals", "plan", "level", "bar"),
    ),
    (
        "spring on three points",
        Bent(weak_spring=12.0, supports="three-points"),
        ("level", "level-horns", "plan"),
    ),
    ("stand under wheels", Bent(stand_low=9.0), ("level", "plan", "string")),
]


@pytest.mark.parametrize(
    ("what", "bent", "voices"), BLIND, ids=lambda v: v if isinstance(v, str) else ""
)
def test_what_cannot_be_seen_is_reported_as_nothing(
    what: str, bent: Bent, voices: tuple[str, ...]
) -> None:
    heard = {h.voice.id: h for h in bench().hear(bent)}
    for voice in voices:
        assert heard[voice].kind == "blind", voice
        assert abs(heard[voice].change) < 0.25


def test_the_straight_frame_is_heard_by_nobody() -> None:
    for bent in (
        Bent(),
        Bent(engine="weight-off"),
        Bent(supports="three-points"),
        Bent(lean=0.004),
    ):
        assert {h.kind for h in bench().hear(bent)} == {"blind"}


def test_a_weak_spring_looks_just_like_a_twist_until_it_stands_on_three_points() -> None:
    spring = bench().found(Bent(weak_spring=8.0))["one"]
    twist = bench().found(Bent(twist=-8.0))["one"]
    assert spring["twist/rear"].value == pytest.approx(twist["twist/rear"].value, abs=1e-9)
    three = bench().found(Bent(weak_spring=8.0, supports="three-points"))["one"]
    assert three["twist/rear"].value == pytest.approx(0.0, abs=1e-9)


def test_too_little_is_faint_and_more_is_seen() -> None:
    kinds = {}
    for amount in (0.1, 1.0, 6.0):
        heard = {h.voice.id: h.kind for h in bench().hear(Bent(diamond=amount))}
        kinds[amount] = heard["long-diagonals"]
    assert kinds == {0.1: "blind", 1.0: "faint", 6.0: "sees"}
    finding = bench().found(Bent())["one"]["rail-shift/whole"]
    assert kind_of(0.24, finding) == "blind"


# The content --------------------------------------------------------------------------------------
# ----------------


def test_every_fault_of_the_content_can_be_bent_and_is_seen_by_some_check_or_said_to_be_by_none() -> (
    None
):
    for fault in bench().library.model.faults.values():
        for lines in (fault.bend, fault.mirror):
            kinds = {h.kind for h in bench().hear(bench().bend(lines))} if lines else {"sees"}
            assert "sees" in kinds or fault.id in ("horns-both", "sun-left"), fault.id


def test_every_check_that_sees_nothing_says_why_and_one_that_plainly_sees_needs_no_excuse() -> None:
    for fault in bench().library.model.faults.values():
        for heard in bench().hear(bench().bend(fault.bend), fault.id):
            assert heard.kind == "sees" or len(heard.why) > 20, (fault.id, heard.voice.id)


def test_an_authored_blindness_is_a_computed_one() -> None:
    """A reason that speaks of equal diagonals must not stand where they differ."""
    misled = {
        "diamond",
        "mash-left",
        "mash-right",
        "sway-front",
        "sway-rear",
        "sag-left",
        "sag-right",
        "spring",
        "deep-middle",
        "arched",
        "sun-left",
    }
    for fault, voice in bench().library.model.reasons:
        heard = {
            h.voice.id: h
            for h in bench().hear(bench().bend(bench().library.model.faults[fault].bend), fault)
        }
        assert heard[voice].kind != "sees" or fault in misled, (fault, voice)


def test_every_check_finds_something_to_say_on_the_ladder() -> None:
    assert [h.voice.id for h in bench().hear(Bent()) if h.kind == "silent"] == []


def test_every_layout_can_be_bent_and_heard() -> None:
    for layout in bench().library.layouts.values():
        other = Bench(layout, bench().library)
        kinds = {h.voice.id: h.kind for h in other.hear(Bent(diamond=6.0, twist=6.0))}
        assert "sees" in kinds.values(), layout.id


# Sizes --------------------------------------------------------------------------------------------
# ----------------


def test_the_model_takes_the_sizes_that_were_taped() -> None:
    layout = bench().layout
    wider = replace(
        layout, places=tuple(p._replace(half_width=p.half_width + 6.0) for p in layout.places)
    )
    survey = Bench(wider, bench().library).survey(Bent())
    assert model_layout(survey, bench().library).place("rear").half_width == pytest.approx(
        436.0, abs=1e-6
    )
    assert model_layout(survey, bench().library).place("rear").x == pytest.approx(2200.0, abs=0.001)
    assert model_layout(survey, bench().library).place("tip").x == pytest.approx(-450.0, abs=2.0)


def test_a_slip_of_the_tape_does_not_make_another_frame() -> None:
    layout = bench().layout
    huge = replace(
        layout, places=tuple(p._replace(half_width=2 * p.half_width) for p in layout.places)
    )
    survey = Bench(huge, bench().library).survey(Bent())
    assert model_layout(survey, bench().library).place("rear").half_width == 430.0
