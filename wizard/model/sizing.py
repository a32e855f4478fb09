"""How large a frame is, by what was taped of it so far: the likeliest sizes, and how well each is
known.

A straight frame's points, axles and string blocks are numbers here, that move with the frame's
sizes. Each length along a rail and each width is its round figure times a factor; the logarithms of
the factors are normal about zero, in part common to the whole frame. The shares are this project's
own figures.

Source: least squares with the round figures as readings of their own, by Gauss and Newton's steps.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from wizard.library import marks
from wizard.library.places import PointId, axle_end_of, is_own, point_id
from wizard.library.shapes import Layout, Place
from wizard.survey.prompts import Prompt

# A straight frame in numbers
# ------------------------------------------------------------------------------------------------


COMMON, WAY, WIDTH, GAP, END = 0.05, 0.09, 0.06, 0.1, 0.12
"""Standard share by which frames of one kind differ from the round figures: the whole frame, all
lengths or all widths of it, one width alone, one length from crossmember to crossmember alone, one
at the frame's end such as a horn's.
"""
AXLE_MM, GIVEN_MM = 60.0, 25.0
"""Standard mm by which an axle stands off its round place on the rail, and anything off the owner's
own figure.
"""
BLOCK_SHARE = 0.05
"""Standard share of the string's length by which either block is set down off its round place."""
FORWARD, ACROSS, FACTORS = 1, 2, 3
"""Numbers of the factors that all lengths and all widths have in common; zero is the whole frame's."""
Vector = NDArray[np.float64]


def pairs_of(layout: Layout) -> tuple[Place, ...]:
    """The layout's places with a point on each side, front to rear, without horns and the owner's
    own.
    """
    pairs = (p for p in layout.places if not p.horns and len(p.sides) == 2 and not is_own(p.id))
    return tuple(sorted(pairs, key=lambda p: p.x))


@dataclass(frozen=True, slots=True)
class _Mark:
    """A place that a tape is laid to, as the layout has it, mm."""

    name: PointId
    x: float
    own: bool
    """Whether x is the owner's own figure."""
    offset: float
    """Standard mm off x."""
    y: float = math.nan
    z: float = 0.0
    place: int = 0
    """Number of the layout's place whose width it shares."""

    @property
    def fixed(self) -> float:
        """x where it is the owner's figure, else zero."""
        return self.x if self.own else 0.0

    def along(self, gaps: Sequence[tuple[float, float, float]]) -> list[float]:
        """How much of each gap lies between the front points and it; none of the owner's own."""
        return [0.0 if self.own else overlap(self.x, a, b) for a, b, _ in gaps]


class Marks:
    """Every place that a tape is laid to, by name: points, `axle-front`, `axle-rear`,
    `block-front`, `block-rear`.

    A frame's sizes are a vector of factors, each in its own standard deviations: zero is the round
    figure.
    """

    def __init__(self, layout: Layout, given: frozenset[str] = frozenset()) -> None:
        """given: names of the layout's figures that are the owner's own and no matter of scale."""
        self.gaps = _gaps(layout)
        """Lengths along the rail from place to place: from, to, standard share."""
        marks = [*_points(layout), *_others(layout, given)]
        self.at = {mark.name: n for n, mark in enumerate(marks)}
        """Name to row."""
        self.fixed = np.array([mark.fixed for mark in marks])
        """x where it is the owner's figure, else zero."""
        self.along = np.array([mark.along(self.gaps) for mark in marks])
        """How much of each gap lies between the front points and the mark; negative ahead of them."""
        self.offset = np.array([mark.offset for mark in marks])
        """Standard mm of its own along the rail."""
        self.y = np.array([mark.y for mark in marks])
        """Not a number for an axle or a block, to which only the way along the rail counts."""
        self.z = np.array([mark.z for mark in marks])
        self.width = np.array([mark.place for mark in marks])
        """Number of the place."""
        self.gap_shares = np.array([share for *_, share in self.gaps])
        self.width_shares = np.array([_width_share(p) for p in layout.places])
        self.count = FACTORS + len(self.gaps) + len(layout.places) + len(marks)
        """How many factors there are."""

    def placed(self, theta: Vector) -> tuple[Vector, Vector, Vector, Vector]:
        """x and y of every mark, and what each gains with each factor (marks by factors), mm."""
        gaps = slice(FACTORS, FACTORS + len(self.gaps))
        widths = slice(gaps.stop, gaps.stop + len(self.width_shares))
        parts = self.along * np.exp(
            COMMON * theta[0] + WAY * theta[FORWARD] + self.gap_shares * theta[gaps]
        )
        scaled = parts.sum(axis=1)
        x = self.fixed + scaled + self.offset * theta[widths.stop :]
        y = self.y * np.exp(
            COMMON * theta[0]
            + WAY * theta[ACROSS]
            + (self.width_shares * theta[widths])[self.width]
        )
        dx, dy = np.zeros((len(x), len(theta))), np.zeros((len(x), len(theta)))
        dx[:, 0], dx[:, FORWARD], dx[:, gaps] = (
            COMMON * scaled,
            WAY * scaled,
            parts * self.gap_shares,
        )
        dx[:, widths.stop :] = np.diag(self.offset)
        dy[:, 0], dy[:, ACROSS] = COMMON * y, WAY * y
        dy[np.arange(len(y)), widths.start + self.width] = y * self.width_shares[self.width]
        return x, y, dx, dy

    def distances(
        self, theta: Vector, pairs: Sequence[tuple[PointId, PointId]]
    ) -> tuple[Vector, Vector]:
        """Distances between marks, mm, and what each gains with each factor.

        Raises KeyError for no mark.
        """
        x, y, dx, dy = self.placed(theta)
        a, b = (np.array([self.at[pair[n]] for pair in pairs]) for n in (0, 1))
        flat = np.isnan(y[a] - y[b])
        run, wide, high = (
            x[b] - x[a],
            np.where(flat, 0.0, y[b] - y[a]),
            np.where(flat, 0.0, self.z[b] - self.z[a]),
        )
        far = np.sqrt(run**2 + wide**2 + high**2)
        across = np.where(flat[:, None], 0.0, dy[b] - dy[a])
        gain = run[:, None] * (dx[b] - dx[a]) + wide[:, None] * across
        return far, gain / np.maximum(far, 1e-6)[:, None]


def _points(layout: Layout) -> Iterator[_Mark]:
    """Every point of the layout, place by place."""
    signs = {"left": -1.0, "right": 1.0}
    for n, place in enumerate(layout.places):
        own = is_own(place.id)
        for name, side in zip(place.points, place.sides, strict=True):
            y = signs.get(side, 0.0) * place.half_width
            yield _Mark(name, place.x, own, GIVEN_MM if own else 0.0, y, place.z, n)


def _others(layout: Layout, given: frozenset[str]) -> Iterator[_Mark]:
    """The string's blocks and the axles."""
    front, rear = layout.string
    for end, x in (("front", front), ("rear", rear)):
        yield _Mark(PointId(f"block-{end}"), x, False, BLOCK_SHARE * (rear - front))
    pairs = pairs_of(layout)
    plain = {"front": pairs[0].x if pairs else 0.0, "rear": pairs[-1].x if pairs else rear}
    for end, x in plain.items():
        own = f"{end}_axle_x" in given
        at = layout.figures.get(f"{end}_axle_x", x)
        yield _Mark(PointId(f"axle-{end}"), at, own, GIVEN_MM if own else AXLE_MM)


def _width_share(place: Place) -> float:
    """Standard share of a place's width; one of the owner's own is a rough figure."""
    return 2 * END if is_own(place.id) else WIDTH


def _gaps(layout: Layout) -> list[tuple[float, float, float]]:
    xs = sorted({p.x for p in layout.places if not is_own(p.id)})
    first = min((p.x for p in pairs_of(layout)), default=0.0)
    found = [(a, b, END if a < first else GAP) for a, b in itertools.pairwise(xs)] or [
        (0.0, 1.0, GAP)
    ]
    # What lies beyond the last places, such as an axle, is as much larger as the part beside it.
    found[0] = (-np.inf, *found[0][1:])
    found[-1] = (found[-1][0], np.inf, found[-1][2])
    return found


def overlap(x: float, start: float, end: float) -> float:
    """How much of the way from zero to x lies between start and end; negative ahead of zero.

    >>> overlap(1500.0, 1000.0, 2200.0), overlap(-450.0, -450.0, 0.0)
    (500.0, -450.0)
    """
    low, high = min(x, 0.0), max(x, 0.0)
    return max(0.0, min(high, end) - max(low, start)) * (1.0 if x > 0 else -1.0)


# Its likeliest sizes
# ------------------------------------------------------------------------------------------------


READING_MM = 15.0
"""Standard mm by which a distance may differ from the straight frame's: its bends, and the hand."""
STEPS = 4
FURTHEST = 8.0
"""Standard deviations beyond which no factor is carried: a file may hold anything."""


@dataclass(frozen=True, slots=True)
class Taped:
    """One taped distance."""

    start: PointId
    """A point such as `front-left`, or `axle-front`, `axle-rear`, `block-front`, `block-rear`."""
    end: PointId
    mm: float


AXLES = (PointId("axle-front"), PointId("axle-rear"))
"""What a wheelbase lies between."""
BLOCKS = (PointId("block-front"), PointId("block-rear"))
"""What the string lies between."""


def ends(layout: Layout, prompt: Prompt) -> tuple[PointId, PointId] | None:
    """What a taped prompt lies between; None for what is no such distance on this layout."""
    if not prompt.kind.spans:
        return None
    what = prompt.name
    if prompt.reads == marks.STRING_BLOCKS:
        return BLOCKS if what == "span" else None
    if prompt.reads == marks.AXLES:
        return _to_axle(layout, what)
    known = {point for place in layout.places for point in place.points}
    return (prompt.start, prompt.end) if {prompt.start, prompt.end} <= known else None


def _to_axle(layout: Layout, what: str) -> tuple[PointId, PointId] | None:
    if what in ("left", "right"):
        return AXLES
    end, pairs = axle_end_of(what), pairs_of(layout)
    if end is None or not pairs:
        return None
    front = end.axle == "front"
    return AXLES[not front], point_id(pairs[0 if front else -1].id, end.side)


@dataclass(frozen=True, eq=False)
class Sizing:
    """The sizes of one frame, from its layout and what was taped of it."""

    layout: Layout
    """Round figures, and the owner's where he gave them."""
    taped: tuple[Taped, ...] = ()
    given: frozenset[str] = frozenset()
    """Names of the layout's figures that are the owner's own."""

    @cached_property
    def marks(self) -> Marks:
        """The frame's points, axles and blocks as numbers."""
        return Marks(self.layout, self.given)

    @cached_property
    def _fit(self) -> tuple[Vector, Vector]:
        """The likeliest factors and their covariance."""
        taped = [t for t in self.taped if {t.start, t.end} <= self.marks.at.keys()]
        base = self.layout.figures.get(marks.BASE, 0.0)
        if marks.BASE in self.given and base > 0:
            taped.append(Taped(*AXLES, base))
        theta: Vector = np.zeros(self.marks.count)
        covariance: Vector = np.eye(self.marks.count)
        if not taped:
            return theta, covariance
        pairs, said = [(t.start, t.end) for t in taped], np.array([t.mm for t in taped])
        weight = 1.0 / READING_MM**2
        for _ in range(STEPS):
            far, gain = self.marks.distances(theta, pairs)
            covariance = np.asarray(
                np.linalg.inv(np.eye(len(theta)) + weight * gain.T @ gain), dtype=np.float64
            )
            theta = np.clip(
                weight * covariance @ gain.T @ (said - far + gain @ theta), -FURTHEST, FURTHEST
            )
        return theta, covariance

    def distance(self, start: PointId, end: PointId) -> float:
        """Likeliest distance between two marks on the straight frame, mm.

        Raises KeyError for no mark.
        """
        return float(self.marks.distances(self._fit[0], [(start, end)])[0].item())

    def doubt(self, start: PointId, end: PointId) -> float:
        """Standard doubt of that distance, mm. Raises KeyError for no mark."""
        theta, covariance = self._fit
        gain = self.marks.distances(theta, [(start, end)])[1]
        return float(np.sqrt(max((gain @ covariance @ gain.T).item(), 0.0)))

    @cached_property
    def sized(self) -> Layout:
        """The layout with the likeliest sizes in place of the round figures."""
        x, y, _, _ = self.marks.placed(self._fit[0])
        at = self.marks.at
        places = tuple(
            p._replace(x=float(x[at[p.points[0]]]), half_width=abs(float(y[at[p.points[0]]])))
            for p in self.layout.places
        )
        axles = {f"{end}_axle_x": float(x[at[PointId(f"axle-{end}")]]) for end in ("front", "rear")}
        string = float(x[at[BLOCKS[0]]]), float(x[at[BLOCKS[1]]])
        return replace(
            self.layout, places=places, string=string, figures={**self.layout.figures, **axles}
        )
