"""Every gap that was read under the string: how the hand scatters there, and which gap is a slip.

Nobody knows beforehand how well somebody reads a rule under a string. It is learned from the survey
itself: stations read twice, how far the change between two states misses a smooth curve, and how far
the mean of both does after a hinge. Each counts once. A gap that does not fit the curve of its rail,
its twin and the other state together stays out of it, and is named.
Source: pooled variance, JCGM 100:2008 H.5.2; the curves stand in wizard/math/shape.py.
"""

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import lru_cache
from typing import NamedTuple

import numpy as np

from wizard.frozen import Frozen
from wizard.library.places import SIDES, PromptId, StepId, prompt_id
from wizard.library.shapes import Layout
from wizard.math.covariance import Array
from wizard.math.repeats import Pooled, mean, squares
from wizard.math.shape import (
    Row,
    Rows,
    expected_rows,
    gains_of_all,
    gains_of_slips,
    misfit_of_change,
    misfit_of_mean,
)

POINT = "string"
"""What the hand aims at under a string: a key of the hand's scatter in content/tools.toml."""
WORST_HAND_MM = 0.8
"""Nobody's hand scatters more under a string: slips are looked for as if everybody's did (this
project's own figure).
"""
UNEVEN_U = 0.3
"""mm: a flange is not even, and the rule does not stand just at the station: no repeat shows it, and
loaded and unloaded it is the same (this project's own figure, the worst of 0.15 to 0.3 mm).
"""
UNEVEN_AS_A_RULE = math.sqrt((0.15**2 + 0.15 * 0.3 + 0.3**2) / 3) / UNEVEN_U
"""What it is in the mean of that range, as a share of its worst."""
STATION = "station"
"""What that part of a doubt is named, before the station."""
ALIKE_MM = 3.0
"""Two readings of one gap that are no further apart bear each other out: neither is a slip."""
SURE_BOTH, SURE_ONE = 18.0, 25.0
"""How much better the survey fits once a slip is taken for one, where the station was read in both
states and where it was read in one (tests/bench/string_alone.py).
"""
SURE_OF_NO_KIND = 40.0
"""The same for a slip of no known size."""
TOLD_APART = 9.0
"""By so much one slip must explain the readings better than another to be named alone: a hundred to
one (2 ln 100).
"""
FAR_FROM_KIND = 3.0
"""Standard uncertainties by which a slip of a known size may miss that size."""
MOST_SLIPS = 4
SIZES: Mapping[str, tuple[tuple[float, str], ...]] = {
    "in": ((25.4, "1 in"), (12.7, "1/2 in")),
    "mm": ((10.0, "10 mm"), (100.0, "100 mm")),
}
"""Slips of a rule by the survey's unit, mm: an inch rule cannot be misread by 10 mm."""


class Gap(NamedTuple):
    """One reading from the string to the metal."""

    id: str
    """Of the reading."""
    prompt: PromptId
    x: float
    """Where along the rail, as a share of the string."""
    right: bool
    loaded: bool
    mm: float


class Line(NamedTuple):
    """All gaps of one survey, and what the string was set up on."""

    gaps: tuple[Gap, ...]
    mount: float
    """Where the engine's weight acts, as a share of the string."""
    block: float | None
    """Height of the blocks, mm; None where it was not read."""
    below: bool
    """Whether the string runs below the rail: there a wider gap is a crown."""
    division: float
    """Of the coarsest rule used, mm."""
    unit: str


class GapSlip(NamedTuple):
    """One gap that does not fit, or several of which nothing can say which."""

    readings: tuple[str, ...]
    """Ids; empty for the height of the blocks."""
    prompts: tuple[PromptId, ...]
    mm: float
    """By how much the gap was read too long."""
    u: float
    """Standard uncertainty of that, mm."""
    kind: str
    """`1 in`, `10 mm`, ...; empty where it looks like nothing known."""


def share(layout: Layout, x: float) -> float:
    """Where x lies along the string."""
    front, rear = layout.string
    return (x - front) / (rear - front)


def mount_of(layout: Layout) -> float:
    """Where the engine's weight acts along the string; its middle where the layout does not say."""
    return share(layout, layout.figures.get("engine_mount_x", sum(layout.string) / 2))


def places_of(layout: Layout, pages: Sequence[StepId]) -> dict[PromptId, tuple[float, bool, bool]]:
    """By prompt, where its gap is along the string, whether on the right rail, whether loaded.

    pages: on which gaps are read, with the engine's weight on and without it.
    """
    return {
        prompt_id(page, station.id, side): (share(layout, station.x), side == SIDES[1], loaded)
        for page, loaded in zip(pages, (True, False), strict=True)
        for station in layout.stations
        for side in SIDES
        if 0.0 < share(layout, station.x) < 1.0
    }


# The hand
# ----------------------------------------------------------------------------------------------


@lru_cache(maxsize=64)
def hand_of(line: Line, prior_s: float, prior_dof: float) -> Pooled:
    """The scatter of one gap, mm, from all that shows it and the prior.

    prior_s: with rounding in it.
    """
    slips = slips_in(line)
    kept = _without(line.gaps, slips)
    # Without the blocks, or with them in doubt, only the change from one state to the other is known.
    block = line.block if all(slip.readings for slip in slips) else None
    sums = [(prior_s**2 * prior_dof, prior_dof), *_repeats(kept)]
    for right in (False, True):
        sums += _misfits([g for g in kept if g.right is right], block, line.mount)
    dof = math.fsum(d for _, d in sums)
    return Pooled(math.sqrt(math.fsum(s for s, _ in sums) / dof), dof)


def _without(gaps: Iterable[Gap], slips: Iterable[GapSlip]) -> list[Gap]:
    """The gaps that are no slips."""
    gone = {i for slip in slips for i in slip.readings}
    return [g for g in gaps if g.id not in gone]


def _repeats(gaps: Iterable[Gap]) -> Iterator[tuple[float, float]]:
    """Sum of squares and degrees of freedom of every gap that was read twice."""
    for values in _by_prompt(gaps).values():
        if len(values) > 1:
            yield squares(values), len(values) - 1.0


def _by_prompt(gaps: Iterable[Gap]) -> dict[PromptId, list[float]]:
    found: dict[PromptId, list[float]] = {}
    for gap in gaps:
        found.setdefault(gap.prompt, []).append(gap.mm)
    return found


def _misfits(rail: Sequence[Gap], block: float | None, mount: float) -> list[tuple[float, float]]:
    """Sums of squares and degrees of freedom of one rail's misfits."""
    states = [_at(g for g in rail if g.loaded is loaded) for loaded in (True, False)]
    both = sorted(set(states[0]) & set(states[1]))
    found = []
    if len(both) >= 3:
        rows = [_row(state, both, block or 0.0) for state in states]
        found.append(misfit_of_change(rows[0], rows[1], mount))
    else:
        longer = max(states, key=len)
        rows = [_row(longer, sorted(longer), block or 0.0)]
    if block is not None and len(rows[0].along) >= 3:
        found.append(misfit_of_mean(rows, mount))
    return [(float(squares), dof) for squares, dof in found if dof]


def _at(gaps: Iterable[Gap]) -> dict[float, list[float]]:
    found: dict[float, list[float]] = {}
    for gap in gaps:
        found.setdefault(gap.x, []).append(gap.mm)
    return found


def _row(state: Mapping[float, Sequence[float]], xs: Sequence[float], block: float) -> Row:
    return Row(
        np.array(xs),
        np.array([mean(state[x]) - block for x in xs]),
        np.array([float(len(state[x])) for x in xs]),
    )


# Slips
# ----------------------------------------------------------------------------------------------


@lru_cache(maxsize=64)
def slips_in(line: Line) -> tuple[GapSlip, ...]:
    """The gaps that do not fit their rail's curve, its twin and the other state, the worst first."""
    found: list[GapSlip] = []
    gaps = _fitting(line)
    while len(found) < MOST_SLIPS:
        slip = _worst(_without(gaps, found), line)
        if slip is None:
            break
        found.append(slip)
        if not slip.readings:
            break  # With the blocks in doubt no single gap can be blamed.
    return tuple(found)


def _fitting(line: Line) -> list[Gap]:
    """The gaps that may blame one another: not one that a second reading bears out and that fits
    nothing else, for whatever it is, the others are no slips for its sake.
    """
    gaps = list(line.gaps)
    borne_out = [g for g, sure in zip(gaps, _sure(gaps), strict=True) if math.isinf(sure)]
    if not borne_out or line.block is None:
        return gaps
    off, inverse = unexpected(gaps, line)
    strange = set()
    for prompt in {g.prompt for g in borne_out}:
        here = np.array([float(g.prompt == prompt) for g in gaps])
        if float(here @ inverse @ off) ** 2 / float(here @ inverse @ here) > SURE_BOTH:
            strange.add(prompt)
    return [g for g in gaps if g.prompt not in strange]


def _worst(gaps: list[Gap], line: Line) -> GapSlip | None:
    """The slip that explains most, be it of one gap or of the blocks; None where none is sure."""
    if line.block is None or len(gaps) < 3:
        return None
    off, inverse = unexpected(gaps, line)
    sizes = [s for s, _ in SIZES[line.unit]]
    gains, sized = gains_of_slips(off, inverse, sizes)
    blocks, size = gains_of_all(off, inverse, sizes)
    if blocks > max(SURE_ONE, float(np.max(gains)) + TOLD_APART):
        u = 1.0 / math.sqrt(float(np.sum(inverse)))
        return GapSlip((), (), _as_gap(-size, line), u, _kind(size, line.unit))
    sure = np.array(_sure(gaps))
    stiff = np.diag(inverse)
    most = (off @ inverse) / stiff
    near = np.abs(most - sized) * np.sqrt(stiff) <= FAR_FROM_KIND
    gains = np.where(near, gains, 0.0)
    if not np.any(gains > sure):
        # No size that slips have: one that is beyond all doubt, whatever its size.
        gains, sized = most**2 * stiff, most
        sure = np.where(np.isinf(sure), np.inf, SURE_OF_NO_KIND)
    return _named(gaps, gains - sure, sized, stiff, line)


def _named(
    gaps: Sequence[Gap], beyond: Array, sizes: Array, stiff: Array, line: Line
) -> GapSlip | None:
    """The gap that explains it best, with all that explain it nearly as well."""
    best = int(np.argmax(beyond))
    if not beyond[best] > 0.0:
        return None
    near = [g for g, gain in zip(gaps, beyond, strict=True) if gain > beyond[best] - TOLD_APART]
    named = sorted(near, key=lambda g: g is not gaps[best])
    size, u = float(sizes[best]), float(stiff[best]) ** -0.5
    prompts = tuple(dict.fromkeys(g.prompt for g in named))
    ids = tuple(g.id for g in named)
    return GapSlip(ids, prompts, _as_gap(size, line), u, _kind(size, line.unit))


def unexpected(gaps: Sequence[Gap], line: Line) -> tuple[Array, Array]:
    """By how much each gap's sag is off what is expected of any frame, and the inverse of what is
    expected of that.
    """
    expected = _foretold(gaps, line)
    return _sags(gaps, line) - expected.sags, expected.inverse


def _sags(gaps: Sequence[Gap], line: Line) -> Array:
    return np.array([_as_gap(g.mm - (line.block or 0.0), line) for g in gaps])


Where = tuple[float, bool, bool]
"""Of a gap where it is along the string, whether on the right rail, whether loaded."""


class Foretold(Frozen):
    """What the sags of any frame are before anybody reads them, by where they are read."""

    __eq__, __hash__ = object.__eq__, object.__hash__

    sags: Array
    doubts: Array
    """The standard uncertainty of each."""
    inverse: Array
    """Of their covariance."""


def _foretold(gaps: Sequence[Gap], line: Line) -> Foretold:
    hand = math.hypot(WORST_HAND_MM, line.division / math.sqrt(12.0))
    return _foretold_at(tuple([(g.x, g.right, g.loaded) for g in gaps]), line.mount, hand)


@lru_cache(maxsize=4)
def _foretold_at(places: tuple[Where, ...], mount: float, hand: float) -> Foretold:
    """It hangs on no figure that was read, so surveys of one row share it. Nobody writes into it."""
    along, right, loaded = np.array(places, dtype=np.float64).T
    expected, full = expected_rows(Rows(along, right, loaded), mount, hand)
    inverse = np.asarray(np.linalg.inv(full), dtype=np.float64)
    return Foretold(expected, np.sqrt(np.diag(full)), inverse)


def _as_gap(sag: float, line: Line) -> float:
    """A sag as a change of the gap, and the other way about."""
    return -sag if line.below else sag


def _sure(gaps: Sequence[Gap]) -> list[float]:
    """Of each gap how much better all must fit before it is called a slip; infinite where a second
    reading bears it out.
    """
    alike: dict[PromptId, list[Gap]] = {}
    for gap in gaps:
        alike.setdefault(gap.prompt, []).append(gap)
    read = {(g.x, g.right, g.loaded) for g in gaps}
    return [_sure_of(g, alike[g.prompt], (g.x, g.right, not g.loaded) in read) for g in gaps]


def _sure_of(gap: Gap, here: Sequence[Gap], in_other_state: bool) -> float:
    same = [g for g in here if g.id != gap.id]
    if any(abs(g.mm - gap.mm) <= ALIKE_MM for g in same):
        return math.inf
    return SURE_BOTH if in_other_state or same else SURE_ONE


def _kind(mm: float, unit: str) -> str:
    return next((k for s, k in SIZES.get(unit, ()) if abs(abs(mm) - s) < 1e-6), "")


def misfit_of(line: Line, new: Gap) -> tuple[float, float]:
    """By how much a new gap is read too long, mm, by all the others that are no slips, and the doubt
    of that.
    """
    off, inverse = unexpected([*_without(line.gaps, slips_in(line)), new], line)
    stiff = float(inverse[-1, -1])
    return _as_gap(float(off @ inverse[-1]) / stiff, line), 1.0 / math.sqrt(stiff)


def stranger_before(line: Line, new: Gap) -> bool:
    """Whether a gap that stands on the same rail already is as far from any frame, and the same way:
    then the new one agrees with what was kept.
    """
    gaps = [*(g for g in line.gaps if g.right is new.right), new]
    expected = _foretold(gaps, line)
    far = (_sags(gaps, line) - expected.sags) / expected.doubts
    return bool(
        np.any(far[:-1] * np.sign(far[-1]) > FAR_FROM_KIND) and abs(far[-1]) > FAR_FROM_KIND
    )
