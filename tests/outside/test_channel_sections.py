"""Channels against a shapes table, and what thinning costs."""

import pytest

from wizard.math.channel import Channel, Face, Loss, Skin, left_of, section

# AISC Shapes Database v16; read in a package: depth, flange, flange thickness, web thickness in
# inches;
# area in², I in⁴, S in³. The table rounds its figures and its flanges taper: 1 % on I and S, 1.5 %
# on A.
TABLE = {
    "C3x4.1": ((3.00, 1.41, 0.273, 0.170), 1.20, 1.65, 1.10),
    "C4x5.4": ((4.00, 1.58, 0.296, 0.184), None, 3.85, 1.92),
    "C5x6.7": ((5.00, 1.75, 0.320, 0.190), None, 7.48, 2.99),
}


@pytest.mark.parametrize("name", TABLE)
def test_rolled_channel_is_as_tabulated(name: str) -> None:
    (depth, flange, flange_t, web_t), area, inertia, modulus = TABLE[name]
    found = section(Channel(depth, flange, web_t, flange_t))
    assert found.inertia == pytest.approx(inertia, rel=0.01)
    assert found.modulus == pytest.approx(modulus, rel=0.01)
    assert area is None or found.area == pytest.approx(area, rel=0.015)


@pytest.mark.parametrize("name", TABLE)
def test_rolled_channel_with_web_and_flange_thickness_swapped_is_not(name: str) -> None:
    (depth, flange, flange_t, web_t), _, inertia, modulus = TABLE[name]
    found = section(Channel(depth, flange, flange_t, web_t))
    assert found.inertia != pytest.approx(inertia, rel=0.05)
    assert found.modulus != pytest.approx(modulus, rel=0.05)


def all_faces(skin: Skin, depth: float) -> list[Loss]:
    faces: list[Face] = ["top", "web", "bottom"]
    return [Loss(face, skin, depth) for face in faces]


RAIL = Channel(100, 44, 3, 3)


# TB 9-2510-242-40; read: "10 percent loss of material thickness is approximately a 10 percent loss
# of frame strength".
@pytest.mark.parametrize(("outside", "inside"), [(0.0, 0.3), (0.3, 0.0), (0.15, 0.15)])
def test_ten_percent_thinner_is_ten_percent_weaker(outside: float, inside: float) -> None:
    strength = left_of(RAIL, all_faces("outside", outside) + all_faces("inside", inside))[1]
    assert 0.895 <= strength <= 0.915


def test_twenty_percent_thinner_is_not_ten_percent_weaker() -> None:
    assert left_of(RAIL, all_faces("inside", 0.6))[1] < 0.83


# Identity: off the outer face of the top flange of 100 x 44 x 3; percent of stiffness and of
# strength gone.
@pytest.mark.parametrize(
    ("gone", "stiffness", "strength"), [(0.3, 4, 6), (0.6, 8, 12), (1.0, 14, 20)]
)
def test_rust_on_the_top_flange_alone(gone: float, stiffness: float, strength: float) -> None:
    left = left_of(RAIL, [Loss("top", "outside", gone)])
    assert [round(100 * (1 - part)) for part in left] == [stiffness, strength]


def test_the_same_rust_on_the_web_costs_far_less() -> None:
    stiffness, strength = left_of(RAIL, [Loss("web", "outside", 1.0)])
    assert round(100 * (1 - stiffness)) < 14
    assert round(100 * (1 - strength)) < 20
