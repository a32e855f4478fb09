"""A rail with thin stretches, from end to end: against a beam bent step by step, a hollow box, and a
pressed section counted dot by dot.
"""

from __future__ import annotations

import numpy as np
import pytest

from wizard.checks.section_left import LOSS_U
from wizard.math.channel import Channel, Loss, closed_inertia, left_of, section
from wizard.math.rail_left import Left, Thin, along, stiffness_of, weakest

RAIL = Channel(100, 44, 3, 3)
TOP = Loss("top", "outside", 0.6)


def test_where_nothing_is_lost_all_is_left() -> None:
    found = along(RAIL, [], (-400, 2200))
    assert found == (Left(-400, 2200, 1.0, 1.0),)
    assert stiffness_of(found) == 1.0


def test_it_is_cut_wherever_a_loss_begins_or_ends() -> None:
    low = Loss("bottom", "inside", 0.3)
    found = along(RAIL, [Thin(500, 700, TOP), Thin(600, 900, low)], (0, 2000))
    assert [(one.start, one.end) for one in found] == [
        (0, 500),
        (500, 600),
        (600, 700),
        (700, 900),
        (900, 2000),
    ]
    assert (found[2].stiffness, found[2].strength) == left_of(RAIL, [TOP, low])
    assert weakest(found) is found[2]


def test_what_lies_beyond_the_rail_is_cut_off() -> None:
    assert [one[:2] for one in along(RAIL, [Thin(-50, 100, TOP)], (0, 2000))] == [
        (0, 100),
        (100, 2000),
    ]
    assert along(RAIL, [Thin(2500, 2600, TOP)], (0, 2000)) == (Left(0, 2000, 1.0, 1.0),)


@pytest.mark.parametrize("rail", [(0, 0), (10, 0)])
def test_a_rail_without_a_length_is_refused(rail: tuple[float, float]) -> None:
    with pytest.raises(ValueError, match="ends behind"):
        along(RAIL, [], rail)


def test_a_beam_bent_step_by_step_turns_as_much() -> None:
    """Curvature M / E I added up in slices of 0.1 mm under an even moment (the definition, nothing of
    the program), against the sum of a few stretches.
    """
    thin = [Thin(300, 420, TOP), Thin(400, 900, Loss("web", "inside", 1.0)), Thin(880, 905, TOP)]
    x = np.arange(0.05, 2000, 0.1)
    losses = [[one.loss for one in thin if one.start <= at <= one.end] for at in x]
    turned = sum(0.1 / left_of(RAIL, lost)[0] for lost in losses)
    assert stiffness_of(along(RAIL, thin, (0, 2000))) == pytest.approx(2000 / turned, rel=1e-6)


def test_one_pit_is_one_pit() -> None:
    """An inch of half the top flange, two thirds gone: a fifth of the strength there, and a thousandth
    of the rail's stiffness.
    """
    found = along(RAIL, [Thin(800, 825, Loss("top", "outside", 2.0, (0.0, 0.5)))], (-450, 2200))
    assert 1 - weakest(found).strength == pytest.approx(0.2, abs=0.02)
    assert 1 - stiffness_of(found) < 0.002


def test_a_closed_rail_is_a_hollow_box() -> None:
    """(b d^3 - (b - 2t)(d - 2t)^3) / 12, any table of sections."""
    box = Channel(100, 50, 2, 2, closed=True)
    assert section(box).inertia == pytest.approx(closed_inertia(Channel(100, 50, 2, 2)), rel=1e-12)
    assert section(box).inertia == pytest.approx((50 * 100**3 - 46 * 96**3) / 12, rel=1e-12)
    thin = [Loss(face, "inside", 0.5) for face in ("top", "bottom")]  # type: ignore[arg-type]
    hollow = (50 * 100**3 - 46 * 96**3 - 48 * (97**3 - 96**3)) / 12
    assert section(box, thin).inertia == pytest.approx(hollow, rel=1e-12)


def _dotted(depth: float, flange: float, lost: float, radius: float) -> tuple[float, float]:
    """Second moment and modulus of a 3 mm sheet pressed around corners of that outer radius, its top
    worn flat by so much: dots of 0.05 mm.
    """
    dot, t = 0.05, 3.0
    y, z = np.meshgrid(np.arange(dot / 2, flange, dot), np.arange(dot / 2, depth, dot))
    metal = (y < t) | (z < t) | (z > depth - t)
    for at, corner in ((radius, z < radius), (depth - radius, z > depth - radius)):
        far = np.hypot(y - radius, z - at)
        metal = np.where(corner & (y < radius), (far <= radius) & (far >= radius - t), metal)
    height = z[metal & (z < depth - lost)]
    center = height.mean()
    inertia = ((height - center) ** 2).sum() * dot**2
    return inertia, inertia / max(height.max() - center, center - height.min())


@pytest.mark.parametrize("lost", [0.3, 0.6, 1.0])
@pytest.mark.parametrize("sizes", [(100, 44), (110, 44), (90, 44), (100, 48), (100, 40)])
def test_round_corners_and_another_size_lie_within_the_doubt_of_what_is_lost(
    lost: float, sizes: tuple[float, float]
) -> None:
    """Pressed with an outer radius of twice the sheet, and a tenth deeper, flatter, wider or narrower
    than the round figures say: within twice the doubt that is told.
    """
    sound, worn = _dotted(*sizes, 0.0, 6.0), _dotted(*sizes, lost, 6.0)
    told = left_of(RAIL, [Loss("top", "outside", lost)])
    for before, after, left in zip(sound, worn, told, strict=True):
        gone = 1 - after / before
        assert abs(gone - (1 - left)) <= 2 * LOSS_U * (1 - left)
