"""What is typed bends the model, and nothing else does."""

from __future__ import annotations

import pytest

from wizard.judgment.blind import Bench
from wizard.model.bending import bend, said
from wizard.model.bent import Bent, Horn, Sag
from wizard.model.sliders import SLIDERS
from wizard.readings.refused import Refused

pytestmark = pytest.mark.quick

GOOD: list[tuple[str, Bent]] = [
    ("diamond 6", Bent(diamond=6.0)),
    ("diamond -6", Bent(diamond=-6.0)),
    ("left rail back 6 mm (a diamond)", Bent(diamond=-6.0)),
    ("DIAMOND 1/4 in", Bent(diamond=6.35)),
    ("sway front 8 left", Bent(sway_front=-8.0)),
    ("mash left 5", Bent(mash_left=5.0)),
    ("sag left 8 at engine-mount", Bent(left=(Sag(8.0, 640.0),))),
    ("sag left 8", Bent(left=(Sag(8.0, 640.0),))),
    ("sag right 8 at center crossmember", Bent(right=(Sag(8.0, 1000.0),))),
    ("sag right 8 at 900", Bent(right=(Sag(8.0, 900.0),))),
    ("crown left 4", Bent(left=(Sag(-4.0, 640.0),))),
    ("kink left 5 at behind", Bent(left=(Sag(5.0, 1550.0, 0.0),))),
    ("twist 6 right", Bent(twist=-6.0)),
    ("horn left in 5", Bent(horn_left=Horn(inward=5.0))),
    ("horn left 5 out", Bent(horn_left=Horn(inward=-5.0))),
    ("horn left 5", Bent(horn_left=Horn(inward=5.0))),
    ("horn right down 3", Bent(horn_right=Horn(up=-3.0))),
    ("horn right back 3", Bent(horn_right=Horn(back=3.0))),
    ("axle front 9", Bent(axle_front=9.0)),
    ("spring 10", Bent(weak_spring=10.0)),
    ("stand 4", Bent(stand_low=4.0)),
    ("engine off", Bent(engine="weight-off")),
    ("supports three", Bent(supports="three-points", engine="weight-off")),
    ("supports four", Bent(supports="stands-under-frame")),
    # In the words that people type
    ("left back 6", Bent(diamond=-6.0)),
    ("the left rail slipped back 1/4 in", Bent(diamond=-6.35)),
    ("right rail 6 mm forward", Bent(diamond=-6.0)),
    ("right shift 6", Bent(diamond=6.0)),
    ("left front back 6", Bent(mash_left=6.0)),
    ("left corner pushed back by 6", Bent(mash_left=6.0)),
    ("left rail down 8 at 900", Bent(left=(Sag(8.0, 900.0),))),
    ("both rails low 8", Bent(left=(Sag(8.0, 640.0),), right=(Sag(8.0, 640.0),))),
    ("right rail high 4", Bent(right=(Sag(-4.0, 640.0),))),
    ("left horn in 5", Bent(horn_left=Horn(inward=5.0))),
    ("left horn in 1/4 in", Bent(horn_left=Horn(inward=6.35))),
    ("right horn down 3", Bent(horn_right=Horn(up=-3.0))),
    ("right rear low 6", Bent(twist=6.0)),
    ("rear axle left forward 9", Bent(axle_rear=-9.0)),
    ("nose right 8", Bent(sway_front=8.0)),
]
BAD = [
    ("left rear corner back 6", "cannot bend anything of that name"),
    ("left 6", "cannot bend anything of that name"),
    ("banjo 6", "cannot bend anything of that name"),
    ("diamond", "You typed nothing: type a length"),
    ("diamond sixty", "There is no number"),
    ("diamond 61", "by 60 mm .* at most"),
    ("diamond 6 at center", "only for a sag, a crown or a kink"),
    ("sag left 5 at nowhere", "There is no station of that name"),
    ("sag left 5 at 2300", "beyond the string's blocks"),
    ("supports two", "stands on: its wheels"),
    ("engine sideways", "on or off"),
    ("sag 5", "cannot bend anything of that name"),
]


@pytest.mark.parametrize(("line", "bent"), GOOD, ids=lambda v: v if isinstance(v, str) else "")
def test_a_line_bends_what_it_names(bench: Bench, line: str, bent: Bent) -> None:
    assert bend(Bent(), line, bench.layout) == bent


@pytest.mark.parametrize(("line", "why"), BAD)
def test_what_cannot_be_bent_is_refused_in_one_sentence(bench: Bench, line: str, why: str) -> None:
    with pytest.raises(Refused, match=why) as refused:
        bend(Bent(), line, bench.layout)
    assert str(refused.value).endswith(".")
    assert len(str(refused.value)) < 200


def test_lines_add_up_and_zero_takes_one_away(bench: Bench) -> None:
    both = bench.bend(["diamond 6", "kink left 4", "sag left 3", "twist 2"])
    assert both == Bent(diamond=6.0, left=(Sag(4.0, 640.0, 0.0), Sag(3.0, 640.0)), twist=2.0)
    assert bench.bend(["kink left 0", "diamond 0", "twist 0", "sag left 0"], both) == Bent()


def test_a_bare_number_is_in_the_unit_of_the_survey(bench: Bench) -> None:
    assert bend(Bent(), "diamond 1/4", bench.layout, "in").diamond == 6.35


@pytest.mark.parametrize("slider", SLIDERS, ids=lambda s: s.id)
def test_every_slider_gives_back_what_was_put(slider, bench: Bench) -> None:  # type: ignore[no-untyped-def]
    for value in (5.0, -5.0):
        bent = slider.put(Bent(), value, 640.0)
        assert slider.get(bent) == value
        assert bent != Bent()
        assert slider.put(bent, 0.0, 640.0) == Bent()
        assert len(said(bent, bench.layout, lambda mm: f"{mm:.0f} mm")) == 1


@pytest.mark.parametrize("slider", SLIDERS, ids=lambda s: s.id)
def test_every_slider_is_reached_by_its_words(slider, bench: Bench) -> None:  # type: ignore[no-untyped-def]
    assert slider.get(bend(Bent(), f"{slider.id} 4 {slider.unit}", bench.layout)) == 4.0


def test_what_is_bent_is_said(bench: Bench) -> None:
    bent = bench.bend(["diamond -6", "sag left 8 at center", "horn right down 3"])
    assert said(bent, bench.layout, lambda mm: f"{mm:.0f} mm") == (
        "left rail back 6 mm (a diamond)",
        "sag left 8 mm low at center",
        "horn right 3 mm down",
    )


def test_a_frame_on_three_points_carries_no_engine(bench: Bench) -> None:
    with pytest.raises(Refused, match="On three points it must be a bare frame"):
        bench.bend(["supports three", "engine on"])
    assert bench.bend(["supports three", "supports four", "engine on"]) == Bent(
        supports="stands-under-frame"
    )


def test_a_fault_can_be_made_larger_and_stands_as_it_stood(bench: Bench) -> None:
    bent = bench.bend(["diamond 4", "sag left 2", "horn left up 1", "supports three"]).scaled(2.0)
    assert bent == bench.bend(["diamond 8", "sag left 4", "horn left up 2", "supports three"])
