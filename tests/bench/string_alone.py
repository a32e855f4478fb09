"""What is told of the string, each statistic by itself: how often it is false, and how often it sees.

Run from the project's folder: python -m tests.bench.string_alone --surveys 100000
A part of it: --layout a-frame --rule mm --hand 0.5 --kind LU-one, each as often as is wanted.
To find the thresholds of a kink anew: python -m tests.bench.string_alone --thresholds

Frames, rails, hands and rules are made here and share nothing with `wizard/` but the functions that are
judged: the beam is integrated afresh, the stations are copied by hand from the kinds of frame. A rule
rounds, a hand scatters, a flange is uneven, the two blocks are unlike, the string hangs by another pull
than was thought, and the mount is not just where the layout says.
"""

from __future__ import annotations

import argparse
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from functools import cache
from typing import Any, TypeAlias

import numpy as np
from numpy.typing import NDArray
from scipy import stats

from tests.bench.rates import HEAD, Count, Table
from wizard.checks.gaps import SURE_BOTH, SURE_ONE, TOLD_APART, UNEVEN_U
from wizard.checks.springing import FALSE_ALARMS, FAR, UNEQUAL
from wizard.math.repeats import mean_u
from wizard.math.shape import (
    PLACES,
    Row,
    Rows,
    expected_rows,
    gains_in_room,
    gains_of_slips,
    hinge_family,
    hinge_gains,
    misfit_of_change,
    misfit_of_mean,
    own_dof,
    smooth_curve,
    smooth_family,
    smooth_room,
    threshold_for,
)
from wizard.math.uncertain import Part, Uncertain

Array: TypeAlias = "NDArray[Any]"


@dataclass(frozen=True)
class Line:
    """Where a string runs on one kind of frame, mm from the front points."""

    name: str
    xs: tuple[float, ...]
    ends: tuple[float, float]
    mount: float
    axles: tuple[float, float]

    @property
    def along(self) -> Array:
        """The stations as shares of the string."""
        return (np.array(self.xs) - self.ends[0]) / (self.ends[1] - self.ends[0])

    @property
    def load(self) -> float:
        """The mount as a share of the string."""
        return (self.mount - self.ends[0]) / (self.ends[1] - self.ends[0])


LINES = (
    Line("straight-ladder", (0, 330, 640, 1000, 1550), (-80, 2100), 640, (-120, 2500)),
    Line("leaf-ladder-light", (0, 290, 580, 950, 1400), (-60, 1850), 580, (20, 2320)),
    Line("leaf-ladder-large", (0, 420, 840, 1250, 1700, 2100), (-80, 2750), 840, (40, 3240)),
    Line("a-frame", (0, 250, 500, 800, 1200), (-350, 1550), 500, (-500, 1650)),
    Line("double-drop", (680, 850, 1050, 1250, 1700), (600, 1880), 850, (-50, 2800)),
    Line("x-braced", (0, 340, 680, 1100, 1550, 2050), (-60, 2600), 680, (-60, 2840)),
    Line("boxed-perimeter", (1080, 1380, 1700, 2000, 2270), (1000, 2350), 1675, (-20, 2930)),
    Line("torque-boxes", (1210, 1500, 1750, 2040, 2320), (1130, 2400), 1765, (-30, 2990)),
    Line("tube-ladder", (60, 330, 620, 1150, 1550), (-40, 1850), 620, (-30, 2260)),
    Line("one station left out", (330, 640, 1000, 1550), (-80, 2100), 640, (-120, 2500)),
)
RULES = {"1/16 in": 25.4 / 16, "1/32 in": 25.4 / 32, "mm": 1.0}
HANDS = (0.25, 0.5, 0.8)
UNEVEN = (0.15, 0.3)
"""How far a flange and a station are off at one place, mm."""
BLOCKS_MM = 0.15
BLOCK_HAND_MM, BLOCK_DOF = 0.15, 8.0
"""How the height of the blocks is read, once, and what is known of that beforehand."""
DIP_MM = 0.25
"""What is not known of the string's own dip in its middle, mm."""
LIMIT_MM, CROWN_MM = 25.4 / 8, 25.4 / 16
WIDE_MM = 700.0
ALL = slice(None)
CHUNK = 2_000
"""Surveys at once: more do not stay in the processor's own memory, and take longer each."""
SEEN_IN = 5
"""Every fifth chunk serves for what is told where it is so, and at half of a limit: what is told there
is told more often at the limit itself.
"""


@dataclass
class Read:
    """Many surveys of one string by one hand."""

    line: Line
    division: float
    counts: Array
    sags: dict[tuple[int, str], Array]
    """Mean sag as read, by rail (0, 1) and state (L, U): surveys x stations."""
    true: dict[tuple[int, str], Array]
    first: dict[tuple[int, str], Array]
    squares: Array
    """Of repeats about their means."""
    spare: float
    s: Array = field(default_factory=lambda: np.zeros(0))
    dof: float = 0.0

    @property
    def block_u(self) -> float:
        """Doubt of the height of the blocks, mm."""
        return mean_u(BLOCK_HAND_MM, 1, self.division)

    @property
    def known(self) -> float:
        """Degrees of freedom of a rail's sags, as a rule that asks for one number takes them."""
        block = Part("block", 1.0, BLOCK_DOF, pool="ruler/block")
        hands = (Part(f"hand:{n}", 1.0, self.dof, pool="ruler/string") for n in range(2))
        return own_dof([Uncertain(0.0, (hand, block)) for hand in hands])

    @property
    def states(self) -> list[str]:
        """The states read."""
        return sorted({state for _, state in self.sags})


def bent(line: Line, mount: float) -> Array:
    """A beam under one load, less the chord between the string's ends, 1 at its deepest station.

    By adding up the moment twice along 2,000 steps.
    """
    a, b = line.axles
    x = np.linspace(a, b, 2001)
    moment = np.where(x < mount, (b - mount) * (x - a), (mount - a) * (b - x))
    slope = np.cumsum(moment)
    down = np.cumsum(slope)
    down = down[-1] * (x - a) / (b - a) - down
    # Past a support a rail is straight and goes on with the slope that it has there.
    ahead = (down[1] - down[0]) / (x[1] - x[0])
    at = np.array([np.interp(p, x, down) + ahead * min(p - a, 0.0) for p in (*line.xs, *line.ends)])
    chord = np.interp(line.xs, line.ends, at[-2:])
    found = at[:-2] - chord
    return np.asarray(found / found.max())


@cache
def _curves(line: Line) -> Array:
    """The same with the mount up to 3 % of the string away from where it is said to be."""
    span = line.ends[1] - line.ends[0]
    return np.array([bent(line, line.mount + d * span) for d in np.linspace(-0.03, 0.03, 7)])


@cache
def _behind(line: Line) -> Array:
    """The same of a load behind the middle of the car, or as far behind as the string shows."""
    front, rear = line.ends
    far = line.axles[0] + 0.62 * (line.axles[1] - line.axles[0])
    return bent(line, min(max(far, front + 0.1 * (rear - front)), rear - 0.1 * (rear - front)))


BEHIND_MM = 9.6
"""Three times the limit of a sag."""


@dataclass(frozen=True)
class Truth:
    """What is wrong with the rails; all innocent where nothing is said."""

    kink: float = 0.0
    deepest: float | None = None
    """The deepest sag of both rails at their stations in the judged state, mm; at random if None."""
    unlike: float = 0.15
    """Share by which two rails spring unlike."""
    state: str = "U"
    """The state in which the deepest sag is what is said."""
    behind: float = 0.0
    """How deep a rail sags at most under a load behind the middle of the car, mm."""


def surveys(
    rng: np.random.Generator,
    n: int,
    line: Line,
    division: float,
    hand: float,
    states: str,
    twice: str,
    truth: Truth | None = None,
) -> Read:
    """`n` surveys. twice: none, one (the station at the mount), all."""
    truth = truth or Truth()
    along, k = line.along, len(line.xs)
    counts = np.ones(k)
    if twice != "none":
        counts[:] = 2.0 if twice == "all" else counts
        counts[np.argmin(np.abs(along - line.load))] = 2.0
    curves = _curves(line)
    parabola = 4 * along * (1 - along)
    phase = rng.uniform(0, division, (n, 1))
    spring = rng.uniform(0.4, 4.0, n)
    made = Read(line, division, counts, {}, {}, {}, np.zeros(n), 0.0)
    # The blocks are as high as a gap where there is no sag: the rule's marks lie alike for both.
    block = _as_read(rng, phase, phase, BLOCK_HAND_MM, division)
    for rail in (0, 1):
        curve = curves[rng.integers(0, 7, n)]
        rise = curve * (spring * rng.uniform(1 - truth.unlike, 1 + truth.unlike, n))[:, None]
        stays = parabola * rng.uniform(0, 8, (n, 1))
        stays = stays + curves[rng.integers(0, 7, n)] * rng.uniform(0, 5, (n, 1))
        if truth.behind:
            stays = stays / 4 + _behind(line) * rng.uniform(0, truth.behind, (n, 1))
        if truth.deepest is not None:
            if truth.deepest <= 0:
                # A rail that stands high does so as a whole.
                stays = stays / 8
            judged = stays + (rise if truth.state == "L" else 0.0)
            for _ in range(3):
                end = judged.max if truth.deepest >= 0 else judged.min
                more = (truth.deepest - end(axis=1))[:, None] * parabola / parabola.max()
                stays, judged = stays + more, judged + more
        if truth.kink and rail == 0:
            place = rng.uniform(0.2, 0.8, (n, 1))
            stays = stays + truth.kink * np.where(
                along < place, along / place, (1 - along) / (1 - place)
            )
        shared = rng.normal(size=(n, k)) * rng.uniform(*UNEVEN, (n, 1))
        ends = rng.normal(size=(n, 2)) * BLOCKS_MM
        shared += ends[:, :1] * (1 - along) + ends[:, 1:] * along
        shared += rng.normal(size=(n, 1)) * DIP_MM * parabola
        for state in states:
            true = stays + (rise if state == "L" else 0.0)
            exact = true + shared + phase
            one = _as_read(rng, exact, phase, hand, division)
            mean, again = one.copy(), counts == 2
            two = _as_read(rng, exact[:, again], phase, hand, division)
            mean[:, again] = (one[:, again] + two) / 2
            made.true[rail, state] = true
            made.first[rail, state] = one - block
            made.sags[rail, state] = mean - block
            made.squares += ((one[:, again] - two) ** 2 / 2).sum(axis=1)
            made.spare += float((counts - 1).sum())
    _learn(made)
    return made


def _as_read(
    rng: np.random.Generator, exact: Array, phase: Array, hand: float, division: float
) -> Array:
    """By the hand, to the nearest mark of the rule."""
    seen = exact + rng.normal(size=exact.shape) * hand
    return np.asarray(np.round(seen / division) * division - phase)


def _learn(read: Read) -> None:
    """The scatter as wizard/checks/gaps.py puts it together: prior, repeats, misfits."""
    rounding = read.division**2 / 12
    squares, dof = 4 * (0.5**2 + rounding) + read.squares, 4 + read.spare
    for rail in (0, 1):
        rows = [Row(read.line.along, read.sags[rail, s], read.counts) for s in read.states]
        if len(rows) == 2:
            more, spare = misfit_of_change(rows[0], rows[1], read.line.load)
            squares, dof = squares + more, dof + spare
        more, spare = misfit_of_mean(rows, read.line.load)
        squares, dof = squares + more, dof + spare
    read.s = np.maximum(np.sqrt(squares / dof), np.sqrt(rounding))
    read.dof = dof


def white(read: Read, counts: Array) -> Array:
    """What frees the sags of one rail, read so often, of their covariance.

    Only the hand differs from survey to survey, so that one set of axes serves them all.
    """
    root = np.sqrt(counts)
    sizes, ways = np.linalg.eigh(root[:, None] * _shared(read, len(counts)) * root)
    return np.asarray(ways.T * root / np.sqrt(read.s[:, None] ** 2 + sizes)[..., None])


def _shared(read: Read, stations: int) -> Array:
    """The covariance of what a rail's sags are off by that is not the hand's, mm2."""
    return np.asarray(UNEVEN_U**2 * np.eye(stations) + BLOCKS_MM**2 + read.block_u**2)


@cache
def _student(p: float) -> tuple[Array, Array]:
    rest = np.linspace(0.0, 0.5, 2_001)
    return rest, stats.t.ppf(p, 1.0 / np.maximum(rest, 1e-12))


def student(p: float, dof: Array) -> Array:
    """Student's factor for many degrees of freedom, two and more, to six figures."""
    return np.interp(1.0 / dof, *_student(p))


def kinks(read: Read) -> Array:
    """The statistic of each rail beside smooth sag in its room, 2 x surveys."""
    return np.array([_in_room(read, rail) for rail in (0, 1)])


def _mean(read: Read, rail: int) -> Array:
    """Of the states that were read."""
    return np.asarray(np.mean([read.sags[rail, s] for s in read.states], axis=0))


def _in_room(read: Read, rail: int) -> Array:
    """By how much a hinge improves the fit of one rail beside smooth sag that keeps to its room."""
    room = smooth_room(read.line.along, read.line.load)
    times = read.counts * len(read.states)
    doubt = _shared(read, len(times)) + np.square(read.s)[:, None, None] * np.diag(1 / times)
    hinges = hinge_family(read.line.along, PLACES)
    return np.asarray(gains_in_room(_mean(read, rail), doubt, hinges, room)[0].max(axis=-1))


def beside_any(read: Read, rail: int) -> Array:
    """The same beside any smooth sag at all."""
    free = white(read, read.counts * len(read.states))
    family = smooth_family(read.line.along, read.line.load)
    hinges = hinge_family(read.line.along, PLACES)
    seen = np.squeeze(free @ _mean(read, rail)[..., None], axis=-1)
    return np.asarray(hinge_gains(seen, free @ family, free @ hinges)[0].max(axis=-1))


def kinked(read: Read, rails: Sequence[int] = (0, 1)) -> Array:
    """Whether a kink is told of each of these rails, rails x surveys."""
    stations = len(read.line.xs)
    roomy, any_sag = (threshold_for(stations, read.known, in_room=r) for r in (True, False))
    told = [(_in_room(read, r) >= roomy) | (beside_any(read, r) >= any_sag) for r in rails]
    return np.array(told)


def crowns(read: Read, state: str) -> Array:
    """Whether a crown beyond its limit is told of each rail, 2 x surveys."""
    family, free = smooth_family(read.line.along, read.line.load), white(read, read.counts)
    level = 1 - 0.05 / len(read.counts)
    found = []
    for rail in (0, 1):
        curve, u = smooth_curve(read.sags[rail, state], free, family)
        far = (-curve - CROWN_MM) / u
        at = far.argmax(axis=-1)
        highest = far[np.arange(len(far)), at]
        told = highest > stats.norm.ppf(level)
        some = np.flatnonzero(told)
        told[some] = highest[some] > student(level, _curve_dof(read, free, some, at[some]))
        found.append(told)
    return np.array(found)


def _curve_dof(read: Read, free: Array, some: Array, at: Array) -> Array:
    """Degrees of freedom of the smooth curve at one station of some surveys (Welch and Satterthwaite)."""
    family, each = smooth_family(read.line.along, read.line.load), np.eye(len(read.counts))
    # Surveys x stations read x stations of the curve: what each reading adds to it.
    shares = smooth_curve(each, free[some][:, None], family)[0][np.arange(len(some)), :, at]
    hand = read.s[some] ** 2 * (shares**2 / read.counts).sum(axis=-1)
    along, whole = read.line.along, shares.sum(axis=-1) ** 2
    dip = (DIP_MM * (shares * 4 * along * (1 - along)).sum(axis=-1)) ** 2
    rest = UNEVEN_U**2 * (shares**2).sum(axis=-1) + BLOCKS_MM**2 * whole + dip
    block = read.block_u**2 * whole
    return (hand + rest + block) ** 2 / (hand**2 / read.dof + block**2 / BLOCK_DOF)


def doubts(read: Read) -> tuple[Array, Array]:
    """Standard uncertainty of each sag and its degrees of freedom (Welch and Satterthwaite)."""
    hand = read.s[:, None] ** 2 / read.counts
    along = read.line.along
    dip, block = DIP_MM * 4 * along * (1 - along), read.block_u**2
    u = np.sqrt(hand + UNEVEN_U**2 + BLOCKS_MM**2 + dip**2 + block)
    return u, u**4 / (hand**2 / read.dof + block**2 / BLOCK_DOF)


def over(read: Read, state: str) -> Array:
    """Whether any station is called over the limit."""
    u, dof = doubts(read)
    k = student(1 - 0.05 / len(read.counts), dof)
    return np.any([(read.sags[r, state] - LIMIT_MM > k * u).any(axis=1) for r in (0, 1)], axis=0)


def missed(rng: np.random.Generator, read: Read, state: str) -> dict[str, Array]:
    """Whether the interval of a sag misses the truth: at a station drawn by lot, and at the worst of a
    rail as it is told.
    """
    u, dof = doubts(read)
    rail = rng.integers(0, 2, len(u))
    sags, true = (_by_lot(rail, of[0, state], of[1, state]) for of in (read.sags, read.true))
    off = np.abs(sags - true)
    any_, worst = rng.integers(0, u.shape[1], len(u)), np.abs(sags).argmax(axis=1)
    wide = student(1 - 0.025 / len(read.counts), dof) * u
    return {
        "missed: sag of a station": _at(off > student(0.975, dof) * u, any_),
        "missed: sag of the worst station": _at(off > wide, worst),
    }


def _at(values: Array, station: Array) -> Array:
    """One station of each survey."""
    return np.asarray(np.take_along_axis(values, station[:, None], axis=1)[:, 0])


def _by_lot(rail: Array, left: Array, right: Array) -> Array:
    """One rail of each survey."""
    return np.where(rail[:, None] == 0, left, right)


def missed_apart(rng: np.random.Generator, read: Read) -> dict[str, Array]:
    """Whether the interval misses of what springs back, and of the right rail against the left, at a
    station drawn by lot.
    """
    hand = np.sqrt(2 / read.counts) * read.s[:, None]
    rail, station = rng.integers(0, 2, len(hand)), rng.integers(0, hand.shape[1], len(hand))
    sprung = [
        read.sags[r, "L"] - read.sags[r, "U"] - read.true[r, "L"] + read.true[r, "U"]
        for r in (0, 1)
    ]
    own = hand**2 + 2 * UNEVEN_U**2
    dof = own**2 / (hand**4 / read.dof)
    apart = read.sags[1, "U"] - read.sags[0, "U"] - read.true[1, "U"] + read.true[0, "U"]
    sure = stats.t.ppf(0.975, read.dof)
    return {
        "missed: what springs back": _at(np.abs(_by_lot(rail, *sprung)) > sure * hand, station),
        "missed: left against right": _at(
            np.abs(apart) > student(0.975, dof) * np.sqrt(own), station
        ),
    }


def alarms(rng: np.random.Generator, read: Read) -> dict[str, Array]:
    """Whether a sound rail's spring is doubted."""
    family = smooth_family(read.line.along, read.line.load)
    at = int(np.argmin(np.abs(read.line.along - read.line.load)))
    free = np.diag(np.sqrt(read.counts / 2))
    rise, u = [], []
    for rail in (0, 1):
        curve, doubt = smooth_curve(read.sags[rail, "L"] - read.sags[rail, "U"], free, family)
        rise.append(curve[:, at])
        u.append(doubt[at] * read.s)
    true = (read.true[0, "L"] - read.true[0, "U"])[:, at]
    foretold = true * np.exp(0.4 * rng.normal(size=len(true)))
    sure = stats.t.ppf(1 - FALSE_ALARMS / 5, read.dof)
    down = np.any([r < -sure * d for r, d in zip(rise, u, strict=True)], axis=0)
    far = np.any([r > FAR * foretold + sure * d for r, d in zip(rise, u, strict=True)], axis=0)
    apart = np.abs(rise[0] - rise[1]) > UNEQUAL * foretold + sure * np.hypot(*u)
    return {"a rail went down": down, "a rail rose far": far, "rails rise unequally": apart}


def disagrees(rng: np.random.Generator, read: Read) -> Array:
    """Whether string and level disagree at one of two places, both being sound."""
    places = [1, len(read.counts) - 2]
    slope = 0.1 * 6.0 / 1000 / np.sqrt(2.0)
    hit = np.zeros(len(read.s), dtype=bool)
    for at in places:
        share = read.line.along[at]
        level = WIDE_MM * slope * np.sqrt(1 + share**2 + (1 - share) ** 2)
        hand = 2 * read.s**2 / read.counts[at]
        u2 = hand + 2 * UNEVEN_U**2 + level**2
        dof = u2**2 / (hand**2 / read.dof + level**4 / 8)
        off = read.sags[1, "U"][:, at] - read.sags[0, "U"][:, at]
        off = (
            off - (read.true[1, "U"] - read.true[0, "U"])[:, at] + level * rng.normal(size=len(hit))
        )
        hit |= np.abs(off) > student(1 - 0.0025 / len(places), dof) * np.sqrt(u2)
    return hit


def slips(rng: np.random.Generator, read: Read) -> dict[str, Array]:
    """A gap read half an inch (1 cm by a metric rule) off: named alone, as one of a few, or another
    in its place; and whether a gap of a sound survey is named.
    """
    keys = sorted(read.first)
    k = len(read.counts)
    rows = Rows(
        np.tile(read.line.along, len(keys)),
        np.repeat([float(rail) for rail, _ in keys], k),
        np.repeat([float(state == "L") for _, state in keys], k),
    )
    sags = np.concatenate([read.first[key] for key in keys], axis=1)
    expected, full = expected_rows(
        rows, read.line.load, float(np.hypot(0.8, read.division / 12**0.5))
    )
    inverse = np.linalg.inv(full)
    sizes = (10.0, 100.0) if read.division == 1.0 else (25.4, 12.7)
    sure = SURE_BOTH if len(read.states) == 2 else SURE_ONE
    n = len(sags)
    sound = gains_of_slips(sags - expected, inverse, sizes)[0].max(axis=1) > sure
    at = rng.integers(0, sags.shape[1], n)
    size = 10.0 if read.division == 1.0 else 12.7
    wrong = sags.copy()
    wrong[np.arange(n), at] += rng.choice((-1.0, 1.0), n) * size
    gains = gains_of_slips(wrong - expected, inverse, sizes)[0]
    best, most = gains.argmax(axis=1), gains.max(axis=1)
    told = most > sure
    alone = np.sort(gains, axis=1)[:, -2] <= most - TOLD_APART
    among = gains[np.arange(n), at] > most - TOLD_APART
    return {
        "seen: a slip of 1/2 in or 1 cm, named": told & alone & (best == at),
        "seen: the same, one of a few": told & ~alone & among,
        "a sound gap named, another slipped": told & alone & (best != at),
        "a slip named, none slipped": sound,
    }


KINDS = {
    "LU-one": "both states, one station of each rail read twice",
    "LU-none": "both states, no station read twice",
    "LU-all": "both states, every station read twice",
    "U-one": "without the weight, one station of each rail read twice",
    "L-one": "with the weight, one station of each rail read twice",
}
"""Ways of reading: states, and which stations are read twice."""


def told(
    rng: np.random.Generator, n: int, line: Line, rule: str, hand: float, kind: str
) -> dict[str, Array]:
    """Of every claim that may be false, in which of `n` surveys it is told; and the slips."""
    states, twice = kind.split("-")
    last = "U" if "U" in states else "L"

    def drawn(truth: Truth | None = None) -> Read:
        return surveys(rng, n, line, RULES[rule], hand, states, twice, truth)

    read = drawn()
    found = {"a kink": kinked(read).any(axis=0)}
    found["a kink, sag behind the middle"] = kinked(drawn(Truth(behind=BEHIND_MM))).any(axis=0)
    found |= missed(rng, read, last)
    found |= slips(rng, read)
    if len(states) == 2:
        found |= missed_apart(rng, read)
        found |= alarms(rng, read)
        found["string and level disagree"] = disagrees(rng, read)
    found["at limit: a station over"] = over(drawn(Truth(deepest=LIMIT_MM, state=last)), last)
    if "L" in states:
        high = drawn(Truth(deepest=-CROWN_MM, state="L"))
        found["at limit: a crown"] = crowns(high, "L").any(axis=0)
    return found


def plain(
    rng: np.random.Generator, n: int, line: Line, rule: str, hand: float, kind: str
) -> dict[str, Array]:
    """Of what is plainly so, or plainly not, in which of `n` surveys it is told."""
    states, twice = kind.split("-")
    last = "U" if "U" in states else "L"

    def drawn(truth: Truth) -> Read:
        return surveys(rng, n, line, RULES[rule], hand, states, twice, truth)

    found = {}
    for depth in (6.0, 12.0):
        found[f"seen: a kink of {depth:.0f} mm"] = kinked(drawn(Truth(kink=depth)), [0])[0]
    half = drawn(Truth(deepest=LIMIT_MM / 2, state=last))
    found["a station over, at half the limit"] = over(half, last)
    if "L" in states:
        for name, mm in CROWNS.items():
            high = crowns(drawn(Truth(deepest=mm, state="L")), "L")
            found[name] = high[0] if name.startswith("seen") else high.any(axis=0)
    return found


CROWNS = {
    "a crown, straight rails": 0.0,
    "a crown, at half the limit": -CROWN_MM / 2,
    "seen: a crown of 3.2 mm": -3.2,
}
"""By claim, how high the highest station stands, mm, with its sign."""

Cell = tuple[Line, str, float]


def cells(given: argparse.Namespace) -> Iterator[Cell]:
    """Every kind of frame by every rule and hand that is asked for."""
    for line in LINES:
        if line.name in (given.layout or [line.name]):
            yield from ((line, rule, hand) for rule in given.rule for hand in given.hand)


def counted(kind: str, cell: Cell, n: int, seed: int) -> dict[str, Count]:
    """How often every claim is told in one cell: the same whichever other cells are drawn."""
    line, rule, hand = cell
    order = [other.name for other in LINES].index(line.name), list(RULES).index(rule)
    rng = np.random.default_rng((seed, list(KINDS).index(kind), *order, round(100 * hand)))
    found: dict[str, Count] = {}
    for done in range(0, n, CHUNK):
        size = min(CHUNK, n - done)
        hit = told(rng, size, line, rule, hand, kind)
        if done // CHUNK % SEEN_IN == 0:
            hit |= plain(rng, size, line, rule, hand, kind)
        for claim, hits in hit.items():
            found[claim] = found.get(claim, Count()) + Count(int(hits.sum()), size)
    return found


def report(given: argparse.Namespace) -> None:
    """One line for each claim and hand, by way of reading."""
    for kind in given.kind:
        table = Table()
        for cell in cells(given):
            line, rule, hand = cell
            for claim, count in counted(kind, cell, given.surveys, given.seed).items():
                table.add(claim, f"{hand} mm", f"{line.name}, {rule}", count)
        print(f"\n{KINDS[kind]}: {given.surveys} surveys a cell, seed {given.seed}")
        print(HEAD)
        print(*table.lines(), sep="\n", flush=True)


def thresholds(given: argparse.Namespace) -> None:
    """The improvement that one innocent survey in a hundred passes, beside smooth sag in its room: the
    worst cell by number of stations and degrees of freedom.
    """
    rng = np.random.default_rng(given.seed)
    worst: dict[tuple[int, float], float] = {}
    for line, rule, hand in cells(given):
        for states in ("LU", "U"):
            for twice in ("none", "one", "all"):
                for truth in (Truth(), Truth(behind=BEHIND_MM)):
                    cell = (line, RULES[rule], hand, states, twice, truth)
                    times = range(math.ceil(given.surveys / CHUNK))
                    reads = [surveys(rng, CHUNK, *cell) for _ in times]
                    most = np.quantile([kinks(read).max(axis=0) for read in reads], 0.99)
                    key = min(len(line.xs), 5), round(reads[0].known, 1)
                    worst[key] = max(worst.get(key, 0.0), float(most))
    for (stations, dof), limit in sorted(worst.items()):
        print(f"{stations} stations, {dof:5.1f} degrees of freedom: {limit:.1f}", flush=True)


def main(argv: Sequence[str] | None = None) -> None:
    """The table, or the thresholds."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--surveys", type=int, default=10_000, help="in every cell")
    parser.add_argument("--seed", type=int, default=15)
    names = [line.name for line in LINES]
    parser.add_argument("--layout", action="append", choices=names)
    for name, choices in (("rule", RULES), ("hand", HANDS), ("kind", KINDS)):
        kind = float if name == "hand" else str
        parser.add_argument(f"--{name}", action="append", choices=list(choices), type=kind)
    parser.add_argument("--thresholds", action="store_true")
    given = parser.parse_args(argv)
    given.rule, given.hand = given.rule or list(RULES), given.hand or list(HANDS)
    given.kind = given.kind or list(KINDS)
    (thresholds if given.thresholds else report)(given)


if __name__ == "__main__":
    main()
