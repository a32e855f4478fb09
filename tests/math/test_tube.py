"""A tube's section, round and oval, whole and with metal lost, against closed formulas.

Round tube: I = π (D⁴ - d⁴) / 64. Hollow ellipse: I = π (w h³ - w' h'³) / 64, h upright. Both stand in
any table of sections. A thin ring's wall: area 2 π r t.
"""

import math

import pytest

from wizard.math.channel import Loss
from wizard.math.tube import Tube, rail, section_of

ROUND = Tube(76, 76, 2)


@pytest.mark.parametrize(("across", "wall"), [(76, 2), (50, 3), (101.6, 1.6)])
def test_a_round_tube_is_the_outer_disc_less_the_inner(across: float, wall: float) -> None:
    found, inner = Tube(across, across, wall).section(), across - 2 * wall
    inertia = math.pi / 64 * (across**4 - inner**4)
    assert found.inertia == pytest.approx(inertia, rel=3e-3)
    assert found.modulus == pytest.approx(inertia / (across / 2), rel=3e-3)
    assert found.area == pytest.approx(math.pi / 4 * (across**2 - inner**2), rel=1e-3)
    assert found.centroid == pytest.approx(across / 2, rel=1e-9)


def outline(width: float, depth: float, wall: float, out: float) -> list[tuple[float, float]]:
    """A closed line so far out from the middle line of an oval tube's wall, square to it."""
    a, b, found = (width - wall) / 2, (depth - wall) / 2, []
    for n in range(2000):
        c, s = math.cos(n * math.pi / 1000), math.sin(n * math.pi / 1000)
        far = math.hypot(b * c, a * s)
        found.append((a * c + out * b * c / far, b * s + out * a * s / far))
    return found


def second_moment(line: list[tuple[float, float]]) -> float:
    """Of a polygon about the level axis through its middle: Green's theorem, as any text has it."""
    total = 0.0
    for (x, y), (u, v) in zip(line, [*line[1:], line[0]], strict=True):
        total += (x * v - u * y) * (y * y + y * v + v * v)
    return total / 12


def test_an_oval_tube_is_its_outer_outline_less_its_inner_one() -> None:
    found = Tube(100, 60, 2).section()
    outer, inner = (second_moment(outline(60, 100, 2, out)) for out in (1.0, -1.0))
    assert found.inertia == pytest.approx(outer - inner, rel=2e-3)
    # The inner one is no ellipse where the wall is as thick all around, but nearly.
    ellipses = math.pi / 64 * (60 * 100**3 - 56 * 96**3)
    assert found.inertia == pytest.approx(ellipses, rel=0.03)
    # Laid flat it is far softer.
    assert Tube(60, 100, 2).section().inertia < found.inertia / 2


def test_all_around_outside_lost_is_a_smaller_tube_and_inside_a_thinner_one() -> None:
    outside = ROUND.section([Loss(f, "outside", 0.5) for f in ("top", "bottom")])
    inside = ROUND.section([Loss(f, "inside", 0.5) for f in ("top", "bottom")])
    assert outside.inertia == pytest.approx(Tube(75, 75, 1.5).section().inertia, rel=5e-3)
    assert inside.inertia == pytest.approx(Tube(76, 76, 1.5).section().inertia, rel=5e-3)
    assert outside.inertia < inside.inertia


@pytest.mark.parametrize("sizes", [(60, 100), (100, 60)])
def test_an_oval_tube_loses_square_to_its_wall(sizes: tuple[int, int]) -> None:
    """0.5 mm off all around outside: between the line half a mm out from the wall's middle and the one
    a whole mm in.
    """
    width, depth = sizes
    lost = [Loss(face, "outside", 0.5) for face in ("top", "bottom")]
    found = Tube(depth, width, 2).section(lost)
    outer, inner = (second_moment(outline(width, depth, 2, out)) for out in (0.5, -1.0))
    assert found.inertia == pytest.approx(outer - inner, rel=4e-3)
    assert found.modulus == pytest.approx(found.inertia / (depth / 2 - 0.5), rel=1e-4)


def test_the_crest_and_the_bottom_count_most_and_the_side_least() -> None:
    """Of a thin ring a short piece at the crest has z = r; at the side z = 0."""
    part = (0.45, 0.55)
    left = {
        face: ROUND.section([Loss(face, "outside", 1.0, part)]).inertia
        for face in ("top", "web", "bottom")
    }
    sound = ROUND.section().inertia
    assert left["top"] == pytest.approx(left["bottom"], rel=1e-6)
    assert sound - left["web"] < (sound - left["top"]) / 20
    # A strip of w t at z = r takes w t r², to first order in the strip: 5 % of the way around.
    strip, r = 0.05 * math.pi * 74 * 1.0, 37.5
    assert sound - left["top"] == pytest.approx(strip * r**2, rel=0.08)


def test_a_hole_takes_the_wall_and_no_more() -> None:
    deep, through = (ROUND.section([Loss("top", "outside", d, (0.4, 0.6))]) for d in (2.0, 9.0))
    assert deep.area == pytest.approx(through.area)
    with pytest.raises(ValueError, match="nothing is left"):
        ROUND.section([Loss(face, "outside", 9.0) for face in ("top", "bottom")])


@pytest.mark.parametrize("sizes", [(76, 76, 0), (76, 76, 38), (76, 4, 2)])
def test_sizes_that_make_no_tube_are_refused(sizes: tuple[float, float, float]) -> None:
    with pytest.raises(ValueError, match="no tube"):
        Tube(*sizes)


def test_each_sort_of_rail_has_its_own_section() -> None:
    """As deep and as thick, a tube is softer than a box, and an open channel than both."""
    inertia = {s: section_of(rail(s, 76, 76, 2)).inertia for s in ("tube", "box", "channel")}
    assert inertia["tube"] < inertia["channel"] < inertia["box"]
    assert inertia["box"] == pytest.approx((76**4 - 72**4) / 12, rel=1e-9)
