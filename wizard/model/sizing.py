"""How large a frame is, by what was taped of it so far: the likeliest sizes, and how well each is
known.

Source: least squares with the round figures as readings of their own, by Gauss and Newton's steps.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from wizard.library.places import axle_end_of, point_id
from wizard.library.shapes import Layout
from wizard.model.marks import Marks, Vector, pairs_of
from wizard.survey.prompts import Prompt

READING_MM = 15.0
"""Standard mm by which a distance may differ from the straight frame's: its bends, and the hand."""
STEPS = 4
FURTHEST = 8.0
"""Standard deviations beyond which no factor is carried: a file may hold anything."""


@dataclass(frozen=True, slots=True)
class Taped:
    """One taped distance."""

    start: str
    """A point such as `front-left`, or `axle-front`, `axle-rear`, `block-front`, `block-rear`."""
    end: str
    mm: float


AXLES = ("axle-front", "axle-rear")
"""What a wheelbase lies between."""


def ends(layout: Layout, prompt: Prompt) -> tuple[str, str] | None:
    """What a taped prompt lies between; None for what is no such distance on this layout."""
    if not prompt.kind.spans:
        return None
    what = prompt.name
    if prompt.step == "string-set-up":
        return ("block-front", "block-rear") if what == "span" else None
    if prompt.step == "wheelbase":
        return _to_axle(layout, what)
    known = {point for place in layout.places for point in place.points}
    return (prompt.start, prompt.end) if {prompt.start, prompt.end} <= known else None


def _to_axle(layout: Layout, what: str) -> tuple[str, str] | None:
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
        base = self.layout.figures.get("wheelbase", 0.0)
        if "wheelbase" in self.given and base > 0:
            taped.append(Taped("axle-front", "axle-rear", base))
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

    def distance(self, start: str, end: str) -> float:
        """Likeliest distance between two marks on the straight frame, mm.

        Raises KeyError for no mark.
        """
        return float(self.marks.distances(self._fit[0], [(start, end)])[0].item())

    def doubt(self, start: str, end: str) -> float:
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
            replace(p, x=float(x[at[p.points[0]]]), half_width=abs(float(y[at[p.points[0]]])))
            for p in self.layout.places
        )
        axles = {f"{end}_axle_x": float(x[at[f"axle-{end}"]]) for end in ("front", "rear")}
        string = float(x[at["block-front"]]), float(x[at["block-rear"]])
        return replace(
            self.layout, places=places, string=string, figures={**self.layout.figures, **axles}
        )
