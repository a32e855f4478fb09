"""A plan against its own mirror image.

Expected values by hand (identity): what is moved at one point alone is shared between it and its
twin, less what the best rigid fit of the image takes up.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from wizard.math.mirror import mirrored

TWINS = [1, 0, 3, 2]
FRAME = np.array([[0.0, -300.0], [0.0, 300.0], [2000.0, -400.0], [2000.0, 400.0]])


def turned(at: np.ndarray, degrees: float) -> np.ndarray:
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return at @ np.array([[c, s], [-s, c]]) + np.array([123.0, -45.0])


@pytest.mark.parametrize("degrees", [0.0, 3.0, -20.0])
def test_a_frame_alike_on_both_sides_is_off_nowhere_however_it_lies(degrees: float) -> None:
    shape = mirrored(turned(FRAME, degrees), TWINS)
    assert np.abs(shape.off).max() < 1e-9
    assert shape.at[0, 1] == pytest.approx(-shape.at[1, 1], abs=1e-9)
    assert shape.at[2, 0] - shape.at[0, 0] == pytest.approx(2000.0)


def test_a_diamond_is_shared_by_both_rails() -> None:
    """Right rail 6 mm back: each rail is 3 mm off, but for the turn that the fit takes out of the
    pairs' lean.
    """
    bent = FRAME + np.array([[0, 0], [6, 0], [0, 0], [6, 0]])
    off = mirrored(bent, TWINS).off
    assert off[1, 0] == pytest.approx(3.0, abs=0.7)
    assert off[0] == pytest.approx(off[1] * [-1, 1])
    assert off[2] == pytest.approx(off[3] * [-1, 1])


def test_symmetric_changes_are_not_seen() -> None:
    """The twin that must fail to show: wider in front on both sides alike is no deviation."""
    wider = FRAME + np.array([[0, -9], [0, 9], [0, 0], [0, 0]])
    assert np.abs(mirrored(wider, TWINS).off).max() < 1e-9


def test_a_bow_goes_one_way_in_the_middle_and_the_other_at_the_ends() -> None:
    frame = np.array(
        [
            [0.0, -300.0],
            [0.0, 300.0],
            [1000.0, -350.0],
            [1000.0, 350.0],
            [2000.0, -400.0],
            [2000.0, 400.0],
        ]
    )
    bent = frame + np.array([[0, 0], [0, 0], [0, 9], [0, 9], [0, 0], [0, 0]])
    off = mirrored(bent, [1, 0, 3, 2, 5, 4]).off
    assert off[:, 1] == pytest.approx([-3, -3, 6, 6, -3, -3], abs=0.05)


def test_slopes_by_complex_steps_agree_with_differences() -> None:
    step = np.zeros(FRAME.shape, dtype=complex)
    step[1, 0] = 1e-30j
    slope = mirrored(FRAME + step, TWINS).off.imag / 1e-30
    near = np.zeros(FRAME.shape)
    near[1, 0] = 1e-4
    plain = (mirrored(FRAME + near, TWINS).off - mirrored(FRAME - near, TWINS).off) / 2e-4
    assert slope == pytest.approx(plain, abs=1e-6)
