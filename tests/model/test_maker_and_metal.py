"""The model's thin metal, maker's shapes, sun and shims: each comes back from the real checks, and
what thin metal gives under the engine meets the formula of a stepped beam.
"""

from __future__ import annotations

import math
from functools import cache

import pytest

from wizard.checks.case import Case
from wizard.checks.sag import check as sag
from wizard.judgment.blind import Bench
from wizard.library import load_library, marks
from wizard.math.beam import STEEL_MPA, Beam, deflection
from wizard.model.bending import bend, said
from wizard.model.bent import Bent
from wizard.model.frame import THIN_LONG
from wizard.model.kit import Kit
from wizard.model.rail import bowed, softened
from wizard.model.readings import DAY, survey_on
from wizard.readings.refused import Refused
from wizard.survey.rows import Answer

LOAD, INERTIA = 500.0, 800_000.0


@cache
def bench(layout: str = "straight-ladder") -> Bench:
    library = load_library()
    return Bench(library.layouts[layout], library)


def heard(fault: str, layout: str = "straight-ladder") -> dict[str, tuple[str, float]]:
    here = bench(layout)
    bent = here.bend(here.faults[fault].bend)
    return {h.voice.id: (h.kind, h.change) for h in here.hear(bent, fault)}


# Thin metal ---------------------------------------------------------------------------------------


@pytest.mark.parametrize("left", [0.9, 0.5, 0.2])
def test_a_rail_thin_from_end_to_end_gives_as_one_of_that_inertia(left: float) -> None:
    beam = Beam(2000, LOAD, 700, INERTIA)
    more = softened(LOAD, 800.0, INERTIA, (100.0, 2100.0), (100.0, 2100.0, left))
    for x in (0.0, 400.0, 800.0, 1500.0, 2300.0):
        whole = deflection(beam, x - 100.0) / left
        assert deflection(beam, x - 100.0) + more(x) == pytest.approx(whole, rel=1e-9, abs=1e-12)


@pytest.mark.parametrize("reach", [0.1, 0.25, 0.4])
def test_a_rail_thin_in_the_middle_meets_the_stepped_beam(reach: float) -> None:
    """δ = P L³ / 48 E I · (1 + (I/I' - 1) (1 - (2a/L)³)), a from support to step: a beam of two
    sections under a load at its middle, from memory, by Mohr's second theorem.
    """
    span, left = 2400.0, 0.6
    start, end = (0.5 - reach) * span, (0.5 + reach) * span
    more = softened(LOAD, span / 2, INERTIA, (0.0, span), (start, end, left))
    plain = LOAD * span**3 / (48 * STEEL_MPA * INERTIA)
    step = 1 - (2 * start / span) ** 3
    assert more(span / 2) == pytest.approx(plain * (1 / left - 1) * step, rel=1e-9)


def test_what_one_mm_of_rust_costs_and_who_sees_it() -> None:
    """1 mm of 3 mm, all across the top of 100 x 44: by hand, three rectangles and Steiner."""
    areas = [(44 * 2, 98.0), (94 * 3, 50.0), (44 * 3, 1.5)]
    middle = sum(a * z for a, z in areas) / sum(a for a, _ in areas)
    own = 44 * 2**3 / 12 + 3 * 94**3 / 12 + 44 * 3**3 / 12
    inertia = own + sum(a * (z - middle) ** 2 for a, z in areas)
    sound = (44 * 100**3 - 41 * 94**3) / 12
    strength = (inertia / max(99 - middle, middle)) / (sound / 50)
    told = heard("thin-left")
    assert told["caliper"] == ("sees", pytest.approx(100 / 3, abs=0.01))
    assert told["section-left"] == ("sees", pytest.approx(100 * (strength - 1), abs=0.5))
    assert told["string"][0] == "blind"
    assert "springs-back" not in told, "what it gives more no ruler shows"


def test_a_thin_rail_springs_more_and_its_twin_does_not() -> None:
    frame = bench().frame(bench().bend(["thin left 1 mm"]))
    x = bench().layout.figures["engine_mount_x"]
    sound = bench().frame(Bent()).drop("left", x, loaded=True)
    assert sound < frame.drop("left", x, loaded=True) < 1.3 * sound
    assert frame.drop("right", x, loaded=True) == sound
    assert frame.drop("left", x, loaded=False) == 0.0
    assert frame.thin_place("left") == (THIN_LONG, 44.0, x)


def test_a_tube_loses_more_by_the_same_rust() -> None:
    """1 mm of a 2 mm wall over its upper half, and of 3 mm over one flange of three faces."""
    here = heard("thin-left", "tube-ladder")
    assert here["caliper"] == ("sees", pytest.approx(50.0, abs=0.01))
    assert here["section-left"][1] < heard("thin-left")["section-left"][1]


def test_no_more_goes_than_there_is_and_rust_puts_none_on() -> None:
    assert bench().frame(bench().bend(["thin left 9 mm"])).thin("left") == 3.0
    with pytest.raises(Refused, match="one way only"):
        bench().bend(["thin left 1 mm more"])


# The maker's shapes -------------------------------------------------------------------------------


def sags(bent: Bent, *, below: bool, edges: str = "") -> dict[str, float]:
    here = bench()
    survey = survey_on(here.frame(bent), here.prompts, kit=Kit(string_below=below))
    for prompt in here.prompts.values():
        if prompt.asks == marks.EDGES and edges:
            token = next(c.token for c in prompt.choices if c.says == edges)
            survey = survey.with_row(Answer(id="a99", at=DAY, prompt=prompt.id, answer=token))
    found = sag(Case(survey, here.known))
    return {f.id: f.value for f in found if f.id.startswith("sag-unloaded")}


def test_a_string_below_a_deeper_middle_reads_a_sag_that_the_depths_take_off() -> None:
    bent = bench().bend(["deeper 12 mm"])
    worst = "sag-unloaded/center/left"
    # Of a parabola from block to block, at x = 1000 of -80 to 2100 mm: 4 s (1 - s) of 12 mm.
    share = 1080 / 2180
    assert sags(bent, below=True)[worst] == pytest.approx(12 * 4 * share * (1 - share), abs=1e-3)
    known = sags(bent, below=True, edges=marks.TOP_STRAIGHT)
    assert max(map(abs, known.values())) < 1e-3
    assert max(map(abs, sags(bent, below=False).values())) < 1e-3


def test_an_arch_reads_as_a_crown_of_both_rails_from_either_edge() -> None:
    bent = bench().bend(["arched 5 mm"])
    for below in (False, True):
        found = sags(bent, below=below)
        assert found["sag-unloaded/center/left"] == pytest.approx(-5.0, abs=0.01)
        assert found["sag-unloaded/center/right"] == found["sag-unloaded/center/left"]


def test_the_string_takes_a_makers_shape_for_a_bend_and_says_so() -> None:
    for fault in ("deep-middle", "arched"):
        told = {
            h.voice.id: h for h in bench().hear(bench().bend(bench().faults[fault].bend), fault)
        }
        assert told["string"].kind == "sees"
        assert "maker's" in told["string"].why


# Sun ----------------------------------------------------------------------------------------------


def test_a_rail_in_the_sun_bows_as_a_warm_beam_does() -> None:
    """α ΔT L² / 8 h, 11.6e-6 x 10 x 2180² / 800 = 0.689 mm by hand; the trade's table has 0.7."""
    found = sags(bench().bend(["sun left 10"]), below=False)
    share = 1080 / 2180
    assert found["sag-unloaded/center/left"] == pytest.approx(
        -0.689 * 4 * share * (1 - share), abs=0.002
    )
    assert abs(found["sag-unloaded/center/right"]) < 1e-6
    assert bowed(8e-6, (0.0, 1000.0))(500.0) == pytest.approx(-1.0)


def test_what_the_sun_does_stays_within_the_doubt_of_the_string() -> None:
    assert heard("sun-left")["string"][0] == "faint"
    frame = bench().frame(bench().bend(["sun left 10"]))
    left = math.dist(frame.point("front-left"), frame.point("rear-left"))
    straight = math.dist(bench().frame(Bent()).point("front-left"), frame.point("rear-right"))
    assert 0.1 < left - math.dist(frame.point("front-right"), frame.point("rear-right")) < 0.2
    assert straight > left


def test_the_sun_is_typed_in_degrees_with_or_without_their_unit() -> None:
    layout = bench().layout
    for line in ("sun left 10", "sun left 10 c", "sun left 10°c", "sun left 10 warmer"):
        assert bend(Bent(), line, layout).sun_left == 10.0, line
    assert bend(Bent(), "sun right 5 colder", layout).sun_right == -5.0
    with pytest.raises(Refused, match="40 °C"):
        bend(Bent(), "sun left 55", layout)
    assert said(bend(Bent(), "sun left 10", layout), layout, str) == ("sun left 10 °C warmer",)


# Shims --------------------------------------------------------------------------------------------


@pytest.mark.parametrize("side", ["left", "right"])
def test_missing_shims_are_found_by_their_height_and_by_the_bolts(side: str) -> None:
    here = bench()
    told = {h.voice.id: h for h in here.hear(here.bend([f"shims {side} 6 mm"]))}
    apart = -6.0 if side == "left" else 6.0
    assert told["shims"].finding
    assert told["shims"].finding.id == "mount-shims/pair-2"
    assert told["shims"].change == pytest.approx(apart, abs=1e-6)
    assert told["body-bolts"].finding
    assert str(told["body-bolts"].finding.id).endswith(side)
    assert told["body-bolts"].change == pytest.approx(6.0, abs=0.01)
    assert told["string"].kind == "blind"


def test_the_string_can_be_drawn_above_or_below() -> None:
    here = bench()
    assert here.bend(["string below"]).string == "below"
    assert here.bend(["string below", "string above"]) == Bent()
    with pytest.raises(Refused, match="above or below"):
        here.bend(["string beside"])
