"""Kink or bow: whether the sags along one rail bend smoothly or at one place.

The smooth family is a parabola (weight spread along the rail, age) and the bending line of a load
at the engine mount. A kink is a hinge added to it: two straight legs meeting at one place. What
counts is how much the hinge improves the fit, in units of a scatter that was itself learned from the
readings. Smooth sag has room there as rails do sag, and no more: with any room at all a parabola of
30 mm up and a load's line of 30 mm down make most of what a kink makes.

And what else the curve says: how far the readings miss it, which is the hand's scatter, and which
single reading cannot be the frame's. Functions on plain arrays take many surveys at once: the last
axis runs along the stations, whatever stands before it is kept.
"""

import math
from collections.abc import Sequence
from functools import lru_cache
from statistics import median
from typing import Literal, NamedTuple

import numpy as np

from wizard.frozen import Frozen
from wizard.math.chisquare import fisher_quantile
from wizard.math.covariance import Array, regular, regular_covariance, spread
from wizard.math.student import t_cdf, t_quantile
from wizard.math.uncertain import Uncertain, learned_of

Kind = Literal["bow", "kink", "cannot-tell"]
Thresholds = dict[int, tuple[tuple[float, float], ...]]
"""By the number of stations: from so many degrees of freedom on, so much."""

LEAST_STATIONS = 4
TWENTY = 20.0
"""How much likelier one shape must be than the other to be told."""
LEFT_OF_ONE = 0.6
"""Of each degree of freedom that smooth sag and one hinge leave, what the search for the best place
of the hinge leaves: 0.4 to 0.7 for the stations of the layouts (simulated).
"""
PLACES = np.linspace(0.05, 0.95, 37)
"""Where a hinge is looked for, as shares of the string."""
BOTH_MM, EACH_MM, LIKE_LOAD_MM = 3.6, 2.5, 3.0
"""How deep rails sag by age and weight: bow and load's line together, each by itself, and one in
place of the other, one standard deviation (this project's own figures: most rails hang under 10
mm).
"""
LOADS = (0.2, 0.35, 0.5, 0.65, 0.8)
"""Where else a weight may have bent a rail, as shares of the string."""
DEEP_MM = 15.0
"""A rail that hangs deeper than this sags beyond what most do: its smooth sag has as much more
room.
"""
# The improvement that innocent sag passes on neither rail in 99 of 100 surveys, by the number of
# stations (what stands at 5 serves from there on) and by the degrees of freedom of the learned
# scatter: the worst of every layout's stations, of rules in 1/16 in, 1/32 in and mm, and of hands of
# 0.25 to 0.8 mm, with an uneven flange, unlike blocks and a mount up to 3 % away from where it is said
# to be; the second table with a sag of up to 9.6 mm under a load behind the middle of the car as well.
# Made by `python -m tests.bench.string_alone --thresholds`; between two, the greater is taken. The first
# is 1.4 times what was found, and from 12 degrees of freedom on no less than what a sag behind the middle
# of the car passes in 1 of 100: no curve of that family is such a sag, so it stands out the more the
# better the hand is known (it was told as a kink in up to 6 of 100 where every station was read twice).
_BESIDE_ANY: Thresholds = {
    4: ((4.0, 27.9), (6.0, 26.3), (8.0, 22.3), (12.0, 19.9)),
    5: (
        *((5.2, 28.8), (6.4, 27.3), (8.4, 25.1), (11.2, 22.3), (14.4, 21.5)),
        (24.0, 23.5),
    ),
}
_IN_ROOM: Thresholds = {
    4: ((4.0, 14.3), (6.0, 14.0), (8.0, 12.3), (12.0, 12.1), (24.0, 8.8)),
    5: ((5.2, 15.5), (7.2, 14.8), (8.4, 13.9), (11.2, 12.7), (14.4, 12.2), (31.2, 10.4)),
}


class Shape(NamedTuple):
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
    depth_u_mm: float
    """About its standard uncertainty in the middle part of the string, mm."""
    statistic: float
    """Improvement of the fit by the hinge, as a share of that from which a kink is called: a fall
    of the sum of squares in units of u, which is Fisher's F as u was learned. The larger of two:
    beside any smooth sag at all, and beside smooth sag that keeps to its room.
    """
    smooth_misfit: float
    """Sum of squares left by the smooth family, in units of u."""
    hinge_misfit: float
    """Sum of squares left by one hinge without any smooth sag."""
    kink_seen_mm: float
    """Depth of a kink somewhere in the middle part that these stations would show about half the
    time, mm.
    """
    kink_seen_at_mount_mm: float
    """The same for a kink right at the mount, where it looks most like the load's own curve: half
    as deep again. Both are infinite with fewer than four stations.
    """


def tell_shape(
    xs: Sequence[float],
    sags: Sequence[Uncertain],
    mount: float,
    ends: tuple[float, float],
    dof: float,
) -> Shape:
    """Compare a hinge with the smooth family.

    xs: mm, n stations along the rail, any order. sags: mm, one for each, each with a doubt above
    zero; shared parts are taken as shared. mount: x of the engine mount, mm. ends: x of the
    string's two ends, where sag is nil. dof: degrees of freedom of the scatter behind the doubts. Stations at or beyond the ends are left out; with fewer
    than four between them the answer is "cannot-tell". Raises ValueError when lists differ in
    length or a sag has no doubt.
    """
    if len(xs) != len(sags):
        raise ValueError("as many sags as stations are needed")
    start, end = min(ends), max(ends)
    inside = [(float(x), sag) for x, sag in zip(xs, sags, strict=True) if start < x < end]
    if len({x for x, _ in inside}) < LEAST_STATIONS:
        return Shape("cannot-tell", 0.0, 0.0, 0.0, np.inf, 0.0, 0.0, 0.0, np.inf, np.inf)
    along = tuple([(x - start) / (end - start) for x, _ in inside])
    place = (mount - start) / (end - start)
    return _compare(along, [sag for _, sag in inside], place, dof, start, end - start)


@lru_cache(maxsize=64)
def threshold_for(stations: int, dof: float, *, in_room: bool = False) -> float:
    """The improvement from which a kink is called: innocent sag passes it on either rail in under 1
    of 100 surveys. in_room: beside smooth sag that keeps to its room, and not beside any.
    """
    table = _IN_ROOM if in_room else _BESIDE_ANY
    rows = table[min(max(stations, LEAST_STATIONS), max(table))]
    return max([limit for known, limit in rows if known <= dof + 0.1][-1:] or [rows[0][1]])


def _compare(
    along: tuple[float, ...],
    sags: list[Uncertain],
    mount: float,
    dof: float,
    start: float,
    span: float,
) -> Shape:
    values, doubt = np.array([sag.value for sag in sags]), regular_covariance(sags)
    white = _freeing(doubt)
    seen, (smooth, bent, room) = white @ values, _families(along, mount)
    places, hinges, n = PLACES, white @ bent, len(sags)
    basis = np.linalg.qr(white @ smooth)[0]
    rough = seen - basis @ (basis.T @ seen)
    smooth_left, nothing = float(rough @ rough), float(seen @ seen)
    hinge_left = nothing - float(((hinges.T @ seen) ** 2 / (hinges * hinges).sum(axis=0)).max())
    free, _, alone = _gains_beside(seen, basis, hinges)
    gains, depths, strengths = gains_in_room(values, doubt, bent, room)
    best = int(gains.argmax())
    place, depth = float(places[best]), float(depths[best])
    limits = threshold_for(n, dof, in_room=True), threshold_for(n, dof)
    statistic = max(float(gains[best]) / limits[0], float(free.max()) / limits[1])
    kind = _kind(n, dof, nothing, smooth_left, hinge_left, statistic, smooth_left - free[best])
    # How deep a kink would have to be at each place, by whichever of the two shows it sooner.
    shown = 1.0 / np.sqrt(np.maximum(np.maximum(strengths / limits[0], alone / limits[1]), 1e-12))
    middle = (places > 0.2) & (places < 0.8)
    half = median(shown[middle].tolist())  # numpy's own would load all of numpy.ma for it
    return Shape(
        kind,
        start + place * span,
        depth / (place * (1 - place) * span),
        depth,
        half / limits[0] ** 0.5,
        statistic,
        smooth_left,
        hinge_left,
        half,
        float(np.interp(mount, places, shown)),
    )


def _kind(
    n: int,
    dof: float,
    nothing: float,
    smooth_left: float,
    hinge_left: float,
    statistic: float,
    both_left: float,
) -> Kind:
    """nothing, ..._left: sums of squares left by no sag, smooth sag, one hinge, and both."""
    if statistic >= 1.0:
        # A slip at one station can look like a hinge: what then still does not fit is not called a
        # kink.
        spare = n - 4
        fits = spare < 1 or both_left / spare <= fisher_quantile(0.99, spare, dof)
        return "kink" if fits else "cannot-tell"
    fits = smooth_left <= (n - 2) * fisher_quantile(0.98, n - 2, dof)
    bent = nothing - smooth_left >= 2 * fisher_quantile(0.98, 2, dof)
    # Student's likelihood in place of the normal one, for the scatter was learned.
    apart = dof * (TWENTY ** (2 / dof) - 1)
    return "bow" if fits and bent and hinge_left - smooth_left >= apart else "cannot-tell"


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


@lru_cache(maxsize=64)
def _families(along: tuple[float, ...], mount: float) -> tuple[Array, Array, Array]:
    """Both families at these stations, and the room of smooth sag: the rails and states of a survey
    have the same ones, and every answer asks for them again. Nobody writes into them.
    """
    at = np.array(along)
    return smooth_family(at, mount), hinge_family(at, PLACES), smooth_room(at, mount)


def smooth_room(along: Array, mount: float) -> Array:
    """How smooth sag varies from rail to rail, as a covariance, mm2, n x n: deep or not at all,
    more of a bow or more of a load's line, the load at the engine or anywhere else.

    along and mount as for `smooth_family`.
    """
    bow, *rest = smooth_family(along, mount).T
    at_mount = rest[0] if rest else bow
    elsewhere = [smooth_family(along, at)[:, 1] for at in LOADS]
    columns = [BOTH_MM * (bow + at_mount), EACH_MM * bow, EACH_MM * at_mount]
    columns += [LIKE_LOAD_MM * (load - bow) for load in (at_mount, *elsewhere)]
    room = np.stack(columns, axis=-1)
    return np.asarray(room @ room.T)


def gains_in_room(
    values: Array, doubt: Array, hinges: Array, room: Array
) -> tuple[Array, Array, Array]:
    """For each hinge as `hinge_gains` has it, beside smooth sag that keeps to its room; a rail that
    hangs deeper than most has as much more.

    values: sags, ... x n, mm; doubt: their covariance, ... x n x n; hinges: n x places.
    """
    deep = np.maximum(1.0, abs(values).max(axis=-1) / DEEP_MM)
    weighed = np.linalg.solve(doubt + np.square(deep)[..., None, None] * room, hinges)
    strength = (hinges * weighed).sum(axis=-2)
    depth = (values[..., None, :] @ weighed)[..., 0, :] / strength
    return depth**2 * strength, depth, strength


def _freeing(doubt: Array) -> Array:
    """What frees numbers of their covariance, ... x n x n."""
    return np.asarray(np.linalg.inv(np.linalg.cholesky(doubt)))


def hinge_gains(seen: Array, smooth: Array, hinges: Array) -> tuple[Array, Array, Array]:
    """For each hinge: the fall of the sum of squares, the depth fitted, the fall that 1 mm would
    bring.

    seen: ... x n, of equal doubt 1; smooth: ... x n x parameters; hinges: ... x n x places.
    """
    return _gains_beside(seen, np.linalg.qr(smooth)[0], hinges)


def _gains_beside(seen: Array, basis: Array, hinges: Array) -> tuple[Array, Array, Array]:
    """The same beside an orthonormal basis of the smooth family."""
    return _gains_by(seen, _beside(basis, hinges))


class Beside(Frozen):
    """What is left of hinges that a smooth family does not explain."""

    __eq__, __hash__ = object.__eq__, object.__hash__

    free: Array
    """... x n x places."""
    strength: Array
    """The fall that 1 mm would bring, ... x places; 0 where nothing is left of a hinge."""
    usable: Array
    """The same with 1 in place of 0."""


def _beside(basis: Array, hinges: Array) -> Beside:
    free = hinges - basis @ (np.swapaxes(basis, -1, -2) @ hinges)
    strength = np.add.reduce(free * free, axis=-2)
    told = strength > 1e-8 * np.add.reduce(hinges * hinges, axis=-2)
    return Beside(free, np.where(told, strength, 0.0), np.where(told, strength, 1.0))


def _gains_by(seen: Array, hinges: Beside) -> tuple[Array, Array, Array]:
    along = np.squeeze(seen[..., None, :] @ hinges.free, axis=-2)
    depth = np.where(hinges.strength > 0.0, along / hinges.usable, 0.0)
    return depth**2 * hinges.strength, depth, hinges.strength


class Row(Frozen):
    """One rail's sags in one state, mm; stations in the order of `along`."""

    along: Array
    """Where each station lies, as a share of the string, n."""
    sags: Array
    """Mean sag at each, ... x n."""
    counts: Array
    """How often each was read, n."""


def misfit_of_change(one: Row, other: Row, mount: float) -> tuple[Array, float]:
    """Sum of squares, in squares of one reading's scatter, by which the difference of two states
    misses a smooth curve, and its degrees of freedom.

    What is set cancels, kinks and the flange's unevenness with it: only the hand is left. Both rows
    have the same stations.
    """
    weights = one.counts * other.counts / (one.counts + other.counts)
    smooth = _smooth_at(tuple(one.along.tolist()), mount, tuple(weights.tolist()))
    spare = len(one.along) - smooth.basis.shape[1]
    if spare < 1:
        return np.zeros(one.sags.shape[:-1]), 0.0
    return _left((one.sags - other.sags) * smooth.root, smooth.basis), float(spare)


def misfit_of_mean(rows: Sequence[Row], mount: float) -> tuple[Array, float]:
    """The same for the mean of the states, which does not depend on their difference, after the
    best hinge.

    The hinge costs its depth and its place: with four stations nothing is left over.
    """
    along = rows[0].along
    weights = np.sum([r.counts for r in rows], axis=0)
    mean = np.sum([r.sags * r.counts for r in rows], axis=0) / weights
    smooth = _smooth_at(tuple(along.tolist()), mount, tuple(weights.tolist()))
    spare = len(along) - smooth.basis.shape[1] - 2
    if spare < 1:
        return np.zeros(mean.shape[:-1]), 0.0
    white = mean * smooth.root
    gains, _, _ = _gains_by(white, smooth.hinges)
    return _left(white, smooth.basis) - gains.max(axis=-1), LEFT_OF_ONE * spare


class Smooth(Frozen):
    """The smooth family at stations that count so much each."""

    __eq__, __hash__ = object.__eq__, object.__hash__

    root: Array
    """What makes their sags of equal doubt, n."""
    basis: Array
    """Of the family, orthonormal, n x parameters."""
    hinges: Beside
    """What is left of each hinge beside it."""


@lru_cache(maxsize=64)
def _smooth_at(along: tuple[float, ...], mount: float, counts: tuple[float, ...]) -> Smooth:
    """It hangs on no figure that was read, so the surveys of a row share it. Nobody writes into it."""
    at, root = np.array(along), np.sqrt(np.array(counts))
    basis = np.linalg.qr(smooth_family(at, mount) * root[:, None])[0]
    return Smooth(root, basis, _beside(basis, hinge_family(at, PLACES) * root[:, None]))


def _left(white: Array, basis: Array) -> Array:
    left = white - (white @ basis) @ basis.T
    return np.asarray(np.sum(left * left, axis=-1))


def smooth_curve(seen: Array, white: Array, family: Array) -> tuple[Array, Array]:
    """The smooth curve of one rail at its stations, mm, and its standard uncertainty there.

    seen: sags, ... x n. white: what frees them of their covariance, ... x n x n. family: n x
    parameters.
    """
    model = white @ family
    normal = np.linalg.inv(np.swapaxes(model, -1, -2) @ model)
    found = normal @ np.swapaxes(model, -1, -2) @ white @ seen[..., None]
    curve = np.squeeze(family @ found, axis=-1)
    doubt = np.sqrt(np.einsum("ij,...jk,ik->...i", family, normal, family))
    return curve, doubt


class Rows(NamedTuple):
    """Single readings under the string, of both rails and both states, N of them."""

    along: Array
    """Where each was read, as a share of the string, N."""
    right: Array
    """1.0 where it was read on the right rail, else 0.0, N."""
    loaded: Array
    """1.0 where it was read with the weight on, else 0.0, N."""


RISE_MM = 1.5
"""What a rail is expected to spring under the engine (0.4 to 4 mm, computed for common rails)."""


def smoothed(
    xs: Sequence[float], sags: Sequence[Uncertain], mount: float, ends: tuple[float, float]
) -> list[Uncertain]:
    """The smooth curve through all stations of one rail, at each of them, mm.

    xs, sags, mount, ends: as for `tell_shape`; three stations or more.
    """
    start, end = min(ends), max(ends)
    along = tuple([(float(x) - start) / (end - start) for x in xs])
    family, _, _ = _families(along, (mount - start) / (end - start))
    sources, sizes = spread(sags)
    weighed = np.linalg.solve(regular(sizes), family)
    # What each station adds to the curve at each.
    shares = family @ np.linalg.solve(family.T @ weighed, weighed.T)
    curve = (shares @ [sag.value for sag in sags]).tolist()
    rows, learned = (shares @ sizes).tolist(), learned_of(sources.values())
    return [
        Uncertain.computed(value, dict(zip(sources, row, strict=True)), sources, learned)
        for value, row in zip(curve, rows, strict=True)
    ]


def surely_beyond(curve: Sequence[Uncertain], p: float) -> float:
    """Student's factor one-sided by which the highest of several points of one curve is beyond a
    limit with chance p, were none of them: points of a smooth curve go up and down together, so it
    is less than for as many that know nothing of one another.

    p: over a half. Source: the tube around a curve on a sphere (Hotelling 1939, Naiman 1986, from
    memory): P(max > c) <= P(T > c) + length / (2 pi) * (1 + c2 / dof) ** (-dof / 2), the length
    that of the path of the points, as angles whose cosines are their correlations.
    """
    doubt, dof = regular_covariance(curve), min(number.dof for number in curve)
    root = np.sqrt(np.diag(doubt))
    alike = np.diag(doubt, 1) / (root[:-1] * root[1:])
    length = float(np.sum(np.arccos(np.clip(alike, -1.0, 1.0))))

    def chance(c: float) -> float:
        power = math.exp(-c * c / 2) if math.isinf(dof) else (1 + c * c / dof) ** (-dof / 2)
        return 1.0 - t_cdf(c, dof) + length / (2 * math.pi) * power

    low, high = t_quantile(p, dof), t_quantile(1.0 - (1.0 - p) / len(curve), dof)
    if chance(high) > 1.0 - p:  # so many that stand apart are as many by themselves
        return high
    for _ in range(20):
        middle = (low + high) / 2
        low, high = (middle, high) if chance(middle) > 1.0 - p else (low, middle)
    return high


def learned_dof(sags: Sequence[Uncertain]) -> float:
    """Degrees of freedom of the scatter behind these numbers: of the part that is known least."""
    learned = [(name in sag.sizes, dof) for sag in sags for name, (_, dof) in sag.learned.items()]
    return min([dof for counts, dof in learned if counts], default=np.inf)


def own_dof(sags: Sequence[Uncertain]) -> float:
    """The same of what is each station's own: by what all of them share, as the height of the
    blocks, no station stands out from its neighbors.
    """
    shared = set.intersection(*[set(sag.sizes) for sag in sags])
    own = [
        dof
        for sag in sags
        for name, (_, dof) in sag.learned.items()
        if name in sag.sizes and name not in shared
    ]
    return min(own, default=np.inf)


def expected_rows(rows: Rows, mount: float, hand: float) -> tuple[Array, Array]:
    """What single readings are before anybody reads them, and their covariance, N and N x N.

    hand: the scatter of one reading, mm. The curve of a rail, its kinks, its spring and how unlike
    its twin it is are given room enough for any frame that is worth a string (this project's own
    figures): what then does not fit is a slip, not a frame.
    """
    family = smooth_family(rows.along, mount)
    if family.shape[1] == 1:
        family = np.concatenate([family, family], axis=1)
    parabola, load = family.T
    columns = [np.full_like(parabola, 0.5), 6.0 * parabola, 4.0 * load]
    columns += [1.5 * rows.loaded * load, 0.7 * rows.loaded * parabola]
    hinges = hinge_family(rows.along, np.linspace(0.1, 0.9, 9))
    for side in (rows.right, 1.0 - rows.right):
        columns += [5.0 * side * parabola, 4.0 * side * load]
        columns += [0.7 * side * rows.loaded * load, 0.4 * side * rows.loaded * parabola]
        columns += list((1.2 * side[:, None] * hinges).T)
    room = np.stack(columns, axis=-1)
    full = room @ room.T + hand**2 * np.eye(len(parabola))
    same = (rows.along[:, None] == rows.along) & (rows.right[:, None] == rows.right)
    return RISE_MM * rows.loaded * load, full + 0.3**2 * same


def gains_of_slips(off: Array, inverse: Array, sizes: Sequence[float]) -> tuple[Array, Array]:
    """For each reading, the fall of the sum of squares if it were off by the likeliest of these
    sizes, and that size with its sign; ... x N.

    off: readings less what was expected of them. inverse: of their covariance.
    """
    pull, stiff = off @ inverse, np.diag(inverse)
    signed = np.array([s * size for size in sizes for s in (1.0, -1.0)])
    gains = 2 * pull[..., None] * signed - stiff[:, None] * signed**2
    best = np.argmax(gains, axis=-1)
    return np.max(gains, axis=-1), signed[best]


def gains_of_all(off: Array, inverse: Array, sizes: Sequence[float]) -> tuple[float, float]:
    """The same if all readings were off alike, as by a slip at the height of the blocks."""
    pull, stiff = float(np.sum(off @ inverse)), float(np.sum(inverse))
    found = ((2 * pull * s - stiff * s**2, s) for size in sizes for s in (size, -size))
    return max(found)
