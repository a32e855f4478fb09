"""Kink or bow: whether the sags along one rail bend smoothly or at one place.

The smooth family is a parabola (weight spread along the rail, age) and the bending line of a load
at the engine mount. A kink is a hinge added to it: two straight legs meeting at one place. What
counts is how much the hinge improves the fit, a number that does not depend on how much smooth sag
there is.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from statistics import median
from typing import Literal

import numpy as np

from wizard.math.chisquare import chisquare_quantile
from wizard.math.covariance import Array, misfit, whitener
from wizard.math.uncertain import Uncertain

Kind = Literal["bow", "kink", "cannot-tell"]

LEAST_STATIONS = 4
TWENTY_TO_ONE = 5.99
"""Difference of two sums of squares at which one shape is twenty times as likely as the other: 2 ln
20.
"""
# Found by simulation of innocent rails (numpy default_rng, seed 20240611): parabola 0 to 8 mm and
# load sag
# 0 to 5 mm deep, u 0.3 to 0.8 mm, the mount at 0.25 to 0.6 of the span and up to 3 % of it away
# from where it was
# said to be; 10 000 rails for each number of stations (4 to 8, 10 and 12), evenly spread, and as
# many with
# stations at random. The figure is the 98.2 % point of the improvement, the worse of the two,
# rounded up.
_THRESHOLDS = {4: 8.0, 5: 8.8, 6: 9.0, 7: 9.5, 8: 9.7}


@dataclass(frozen=True, slots=True)
class Shape:
    """What the sags of one rail look like."""

    kind: Kind
    """"kink": a hinge is needed. "bow": smooth, and a hinge by itself would not do. Else
    "cannot-tell". Four stations leave nothing over to tell a kink from a slip of one reading: read
    that station again before believing it.
    """
    place_mm: float
    """x of the best hinge, mm; only to be shown when the kind is "kink"."""
    angle_rad: float
    """Angle at that hinge, radians, positive when the middle is low."""
    depth_mm: float
    """How far that hinge alone lowers its place below the ends, mm."""
    statistic: float
    """Improvement of the fit by the hinge: a fall of the sum of squares in units of u."""
    threshold: float
    """The improvement from which a kink is called."""
    smooth_misfit: float
    """Sum of squares left by the smooth family, in units of u."""
    hinge_misfit: float
    """Sum of squares left by one hinge without any smooth sag."""
    kink_seen_mm: float
    """Depth of a kink somewhere in the middle part that these stations would show about half the
    time, mm.
    """
    kink_seen_at_mount_mm: float
    """The same for a kink right at the mount, where it looks most like the load's own curve: two or
    three times as deep. Both are infinite with fewer than four stations.
    """


def tell_shape(
    xs: Sequence[float], sags: Sequence[Uncertain], mount: float, ends: tuple[float, float]
) -> Shape:
    """Compare a hinge with the smooth family.

    xs: mm, n stations along the rail, any order. sags: mm, one for each, each with a doubt above
    zero; shared parts are taken as shared. mount: x of the engine mount, mm. ends: x of the
    string's two ends, where sag is nil. Stations at or beyond the ends are left out; with fewer
    than four between them the answer is "cannot-tell". Raises ValueError when lists differ in
    length or a sag has no doubt.
    """
    if len(xs) != len(sags):
        raise ValueError("as many sags as stations are needed")
    start, end = min(ends), max(ends)
    inside = [(float(x), sag) for x, sag in zip(xs, sags, strict=True) if start < x < end]
    if len({x for x, _ in inside}) < LEAST_STATIONS:
        return Shape("cannot-tell", 0.0, 0.0, 0.0, 0.0, np.inf, 0.0, 0.0, np.inf, np.inf)
    along = np.array([(x - start) / (end - start) for x, _ in inside])
    return _compare(
        along, [sag for _, sag in inside], (mount - start) / (end - start), start, end - start
    )


def threshold_for(stations: int) -> float:
    """The improvement that innocent sag passes in under 2 of 100 rails, by the number of stations."""
    return _THRESHOLDS.get(stations, _THRESHOLDS[8])


def _compare(along: Array, sags: list[Uncertain], mount: float, start: float, span: float) -> Shape:
    white = whitener(sags)
    seen = white @ np.array([sag.value for sag in sags])
    smooth = white @ smooth_family(along, mount)
    places = np.linspace(0.05, 0.95, 91)
    hinges = white @ hinge_family(along, places)
    gains, depths, strengths = _gains(seen, smooth, hinges)
    best = int(np.argmax(gains))
    place, depth, gain = float(places[best]), float(depths[best]), float(gains[best])
    smooth_left, n = misfit(seen, smooth), len(sags)
    nothing = float(seen @ seen)
    hinge_left = nothing - float(np.max((hinges.T @ seen) ** 2 / np.sum(hinges * hinges, axis=0)))
    kind = _kind(n, nothing, smooth_left, hinge_left, gain)
    middle = strengths[(places > 0.2) & (places < 0.8)]
    half = median(middle.tolist())  # numpy's own would load all of numpy.ma for this one figure
    seen_from, seen_at_mount = (
        float(np.sqrt(threshold_for(n) / max(float(strength), 1e-12)))
        for strength in (half, np.interp(mount, places, strengths))
    )
    angle = depth / (place * (1 - place) * span)
    where = start + place * span
    return Shape(
        kind,
        where,
        angle,
        depth,
        gain,
        threshold_for(n),
        smooth_left,
        hinge_left,
        seen_from,
        seen_at_mount,
    )


def _kind(n: int, nothing: float, smooth_left: float, hinge_left: float, gain: float) -> Kind:
    if gain >= threshold_for(n):
        # A slip at one station can look like a hinge: what then still does not fit is not called a
        # kink.
        spare = n - 4
        return (
            "kink"
            if spare < 1 or smooth_left - gain <= chisquare_quantile(0.98, spare)
            else "cannot-tell"
        )
    fits = smooth_left <= chisquare_quantile(0.98, n - 2)
    bent = nothing - smooth_left >= chisquare_quantile(0.98, 2)
    return "bow" if fits and bent and hinge_left - smooth_left >= TWENTY_TO_ONE else "cannot-tell"


def smooth_family(along: Array, mount: float) -> Array:
    """Parabola and point-load curve, n x 2, each about 1 deep; along and mount as fractions of the
    span.

    A mount at or beyond an end leaves the parabola alone, n x 1.
    """
    parabola = 4 * along * (1 - along)
    if not 0 < mount < 1:
        return parabola[:, None]
    far = 1 - mount
    before = far * along * (1 - far**2 - along**2)
    after = mount * (1 - along) * (1 - mount**2 - (1 - along) ** 2)
    load = np.where(along <= mount, before, after) / (2 * mount**2 * far**2)
    return np.stack([parabola, load], axis=1)


def hinge_family(along: Array, places: Array) -> Array:
    """One column for each place of a hinge, 1 at the hinge and 0 at the ends, n x places."""
    x, p = along[:, None], places[None, :]
    return np.asarray(np.where(x <= p, x / p, (1 - x) / (1 - p)), dtype=np.float64)


def _gains(seen: Array, smooth: Array, hinges: Array) -> tuple[Array, Array, Array]:
    """For each hinge: the fall of the sum of squares, the depth fitted, the fall that 1 mm would
    bring.
    """
    basis = np.linalg.qr(smooth)[0]
    free = hinges - basis @ (basis.T @ hinges)
    strength = np.sum(free * free, axis=0)
    told = strength > 1e-8 * np.sum(hinges * hinges, axis=0)
    usable = np.where(told, strength, 1.0)
    depth = np.where(told, (free.T @ seen) / usable, 0.0)
    return depth**2 * strength, depth, np.where(told, strength, 0.0)
