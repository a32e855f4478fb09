"""Sections with metal lost: overlaps, parts, holes."""

import pytest

from wizard.math.channel import Channel, Loss, left_of, section

RAIL = Channel(100, 44, 3, 3)


def test_sound_channel_is_the_outer_block_less_the_inner() -> None:
    found = section(RAIL)
    assert found.area == pytest.approx(100 * 44 - 94 * 41, rel=1e-12)
    assert found.inertia == pytest.approx((44 * 100**3 - 41 * 94**3) / 12, rel=1e-12)
    assert found.modulus == pytest.approx(found.inertia / 50, rel=1e-12)
    assert found.centroid == pytest.approx(50, rel=1e-12)


def test_a_corner_lost_from_two_faces_is_taken_once() -> None:
    both = section(RAIL, [Loss("top", "outside", 1), Loss("web", "outside", 1)])
    assert both.area == pytest.approx(section(RAIL).area - 44 - 100 + 1, rel=1e-12)
    assert both.area != pytest.approx(section(RAIL).area - 44 - 100, rel=1e-6)


def test_all_outside_lost_is_a_smaller_channel() -> None:
    lost = section(
        RAIL, [Loss("top", "outside", 1), Loss("bottom", "outside", 1), Loss("web", "outside", 1)]
    )
    small = section(Channel(98, 43, 2, 2))
    assert lost.inertia == pytest.approx(small.inertia, rel=1e-12)
    assert lost.centroid == pytest.approx(small.centroid + 1, rel=1e-12)


def test_all_inside_lost_is_a_thinner_channel() -> None:
    lost = section(
        RAIL, [Loss("top", "inside", 1), Loss("bottom", "inside", 1), Loss("web", "inside", 1)]
    )
    thin = section(Channel(100, 44, 2, 2))
    # The square bits where two inner faces meet belong to neither face.
    assert lost.area == pytest.approx(thin.area + 2, rel=1e-12)
    assert lost.inertia == pytest.approx(thin.inertia + 2 * (1 / 12 + 47.5**2), rel=1e-12)


def test_top_and_bottom_mirror_each_other() -> None:
    for skin in ("outside", "inside"):
        top, bottom = (
            section(RAIL, [Loss("top", skin, 1)]),
            section(RAIL, [Loss("bottom", skin, 1)]),
        )
        assert top.inertia == pytest.approx(bottom.inertia, rel=1e-12)
        assert top.modulus == pytest.approx(bottom.modulus, rel=1e-12)
        assert top.centroid == pytest.approx(100 - bottom.centroid, rel=1e-12)
        assert top.centroid < 50


def test_metal_lost_outside_costs_more_than_inside() -> None:
    outside, inside = (left_of(RAIL, [Loss("top", skin, 1)]) for skin in ("outside", "inside"))
    assert outside[0] < inside[0]
    assert outside[1] < inside[1]


def test_half_a_flange_costs_about_half() -> None:
    whole = 1 - left_of(RAIL, [Loss("top", "outside", 0.3)])[0]
    half = 1 - left_of(RAIL, [Loss("top", "outside", 0.3, (0.5, 1.0))])[0]
    assert half == pytest.approx(whole / 2, rel=0.03)


def test_the_foot_of_the_web_counts_more_than_its_middle() -> None:
    foot = left_of(RAIL, [Loss("web", "outside", 1, (0.0, 0.2))])[0]
    middle = left_of(RAIL, [Loss("web", "outside", 1, (0.4, 0.6))])[0]
    assert foot < middle < 1


def test_more_than_the_thickness_is_a_hole_and_no_more() -> None:
    assert section(RAIL, [Loss("top", "outside", 9)]) == section(RAIL, [Loss("top", "outside", 3)])
    assert (
        section(RAIL, [Loss("top", "inside", 9)]).area
        > section(RAIL, [Loss("top", "outside", 9)]).area
    )


def test_no_loss_leaves_all() -> None:
    assert left_of(RAIL, []) == left_of(RAIL, [Loss("web", "inside", 0.0)]) == (1.0, 1.0)


@pytest.mark.parametrize(
    "sizes", [(100, 44, 3, 50), (100, 3, 3, 3), (100, 44, 0, 3), (100, 44, 3, 0)]
)
def test_sizes_that_make_no_channel_are_refused(sizes: tuple[float, ...]) -> None:
    with pytest.raises(ValueError, match="make no channel"):
        Channel(*sizes)


@pytest.mark.parametrize(("depth", "part"), [(-1, (0, 1)), (1, (0.6, 0.4)), (1, (0, 1.5))])
def test_an_impossible_loss_is_refused(depth: float, part: tuple[float, float]) -> None:
    with pytest.raises(ValueError, match="a loss is"):
        Loss("top", "outside", depth, part)


def test_a_channel_rusted_away_is_refused() -> None:
    gone = [Loss("top", "outside", 3), Loss("web", "outside", 3), Loss("bottom", "outside", 3)]
    with pytest.raises(ValueError, match="nothing is left"):
        section(RAIL, gone)
