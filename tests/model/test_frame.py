"""The frame as points: straight when nothing is bent, and each slider moves what it names by what
it says.
"""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from wizard.judgment.blind import Bench
from wizard.model.bent import Bent, Horn, Sag
from wizard.model.frame import Frame
from wizard.model.rail import below, settled, sprung, turned
from wizard.model.readings import readings

pytestmark = pytest.mark.quick


def _twin(id: str) -> str:
    """The prompt that mirrors one left to right."""
    swap = id.replace("left", "\0").replace("right", "left").replace("\0", "right")
    return swap


def test_with_every_slider_at_zero_every_pair_is_equal(bench: Bench) -> None:
    found = readings(bench.frame(Bent()), bench.prompts.values())
    pairs = [(id, _twin(id)) for id in found if _twin(id) in found and _twin(id) != id]
    assert len(pairs) > 30
    for id, twin in pairs:
        assert found[id] == pytest.approx(found[twin], abs=1e-9), id


def test_with_every_slider_at_zero_every_sag_is_zero_and_every_bubble_the_same(
    bench: Bench,
) -> None:
    frame = bench.frame(Bent())
    for station in bench.layout.stations:
        for side in ("left", "right"):
            assert frame.sag(side, station.x, loaded=False) == 0.0
    found = readings(frame, bench.prompts.values())
    assert {v for id, v in found.items() if id.startswith("level/")} == {0.0}


def test_a_bent_frame_fails_the_same(bench: Bench) -> None:
    """The twin that must fail."""
    found = readings(bench.frame(Bent(diamond=6.0, lean=0.002)), bench.prompts.values())
    a, b = (
        "long-diagonals/whole/front-left--rear-right",
        "long-diagonals/whole/front-right--rear-left",
    )
    assert found[a] - found[b] > 10
    assert found["level/rear/as-set"] == pytest.approx(0.002, abs=1e-12)


@pytest.mark.parametrize(
    ("bent", "point", "moved"),
    [
        (Bent(diamond=6.0), "front-right", (3.0, 0.0, 0.0)),
        (Bent(diamond=6.0), "rear-left", (-3.0, 0.0, 0.0)),
        (Bent(mash_left=5.0), "front-left", (5.0, 0.0, 0.0)),
        (Bent(mash_left=5.0), "tip-left", (5.0, 0.0, 0.0)),
        (Bent(mash_left=5.0), "center-left", (0.0, 0.0, 0.0)),
        (Bent(sway_front=8.0), "front-left", (0.0, 8.0, 0.0)),
        (Bent(sway_front=8.0), "center-left", (0.0, 0.0, 0.0)),
        (Bent(sway_rear=8.0), "rear-right", (0.0, 8.0, 0.0)),
        (Bent(twist=8.0), "rear-left", (0.0, 0.0, 4.0)),
        (Bent(twist=8.0), "rear-right", (0.0, 0.0, -4.0)),
        (Bent(twist=8.0), "front-left", (0.0, 0.0, 0.0)),
        (Bent(horn_left=Horn(inward=4.0, back=2.0, up=1.0)), "tip-left", (2.0, 4.0, 1.0)),
        (Bent(horn_right=Horn(inward=4.0)), "tip-right", (0.0, -4.0, 0.0)),
        (Bent(weak_spring=8.0), "rear-left", (0.0, 0.0, -4.0)),
        (Bent(weak_spring=8.0, supports="three-points"), "rear-left", (0.0, 0.0, 0.0)),
        (Bent(stand_low=8.0, supports="stands-under-frame"), "rear-left", (0.0, 0.0, -4.0)),
        (Bent(stand_low=8.0), "rear-left", (0.0, 0.0, 0.0)),
    ],
)
def test_a_slider_moves_what_it_names(
    bench: Bench, bent: Bent, point: str, moved: tuple[float, float, float]
) -> None:
    was = bench.frame(Bent(supports=bent.supports)).point(point)
    now = bench.frame(bent).point(point)
    assert [b - a for a, b in zip(was, now, strict=True)] == pytest.approx(moved, abs=1e-9)


def test_the_horns_bend_whatever_their_place_is_called(bench: Bench) -> None:
    bent = Bent(horn_left=Horn(3.0, 2.0, -4.0))
    tips = bench.layout.tips
    places = tuple(p._replace(id="ends") if p.id == tips else p for p in bench.layout.places)
    other = Frame(replace(bench.layout, places=places), bent)
    for side in ("left", "right"):
        assert other.point(f"ends-{side}") == bench.frame(bent).point(f"{tips}-{side}")
    assert other.pairs == bench.frame(bent).pairs


def test_no_point_is_made_up(bench: Bench) -> None:
    with pytest.raises(KeyError):
        bench.frame(Bent()).point("middle-left")


@pytest.mark.parametrize("spread", [0.0, 40.0, 600.0])
@pytest.mark.parametrize("depth", [8.0, -4.0])
def test_a_bend_lies_at_its_depth_below_the_string_at_its_place(
    bench: Bench, spread: float, depth: float
) -> None:
    frame = bench.frame(Bent(left=(Sag(depth, 640.0, spread),)))
    assert frame.sag("left", 640.0, loaded=False) == pytest.approx(depth, abs=1e-9)
    assert frame.sag("right", 640.0, loaded=False) == 0.0


def test_a_bend_beyond_the_blocks_is_refused(bench: Bench) -> None:
    with pytest.raises(ValueError, match="between the string's blocks"):
        settled(Sag(5.0, 2500.0), bench.layout.string, (-120.0, 2500.0))


def test_a_kink_is_two_straight_pieces_and_a_bow_is_not(bench: Bench) -> None:
    """Identity: between its ends and its hinge a hinged line is straight."""
    for spread, straight in ((0.0, True), (600.0, False)):
        frame = bench.frame(Bent(left=(Sag(8.0, 640.0, spread),)))
        a, b, c = (frame.sag("left", x, loaded=False) for x in (-80.0, 280.0, 640.0))
        assert (abs(a + c - 2 * b) < 1e-9) is straight


def test_the_curve_of_a_bend_is_the_integral_of_its_curvature() -> None:
    """Raised cosine integrated twice by small steps (identity): the closed form must agree."""
    spread, step = 300.0, 0.05
    slope = height = u = 0.0
    while u < 450.0:
        curvature = (
            (1 + math.cos(math.pi * (u + step / 2) / spread)) / (2 * spread) if u < spread else 0.0
        )
        height += (slope + curvature * step / 2) * step
        slope += curvature * step
        u += step
    assert turned(u, spread) - turned(0.0, spread) == pytest.approx(height, abs=1e-3)
    assert slope == pytest.approx(0.5, abs=1e-6)


def test_the_springing_is_the_beam_of_an_exercise() -> None:
    """8 m, 70 kN at 3 m, I 2.8e4 cm⁴, E 210 GPa: 11.16 mm under the load (identity; an exercise
    gives the same).
    """
    line = sprung(70_000.0, 3000.0, 2.8e8, (0.0, 8000.0))
    assert line(3000.0) == pytest.approx(11.16, abs=0.005)
    assert sprung(70_000.0, 9000.0, 2.8e8, (0.0, 8000.0))(3000.0) == 0.0


def test_the_weight_on_lowers_both_rails_alike_and_off_leaves_them(bench: Bench) -> None:
    on, off = bench.frame(Bent()), bench.frame(Bent(engine="weight-off"))
    sags = [on.sag(side, 640.0, loaded=True) for side in ("left", "right")]
    assert sags[0] == sags[1] > 0.4
    assert off.point("center-left")[2] == 0.0
    assert on.point("center-left")[2] < 0.0
    assert "sag-loaded/center/left" not in readings(off, bench.prompts.values())


def test_the_frame_carries_another_cars_sizes(bench: Bench) -> None:
    wider = replace(
        bench.layout,
        places=tuple(p._replace(half_width=p.half_width + 5.0) for p in bench.layout.places),
    )
    assert Frame(wider).point("front-right")[1] == 315.0
    assert below(lambda x: 0.0, 5.0, (0.0, 10.0)) == 0.0
