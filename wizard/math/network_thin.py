"""Which points a set of taped distances fixes, and which further distances would fix the rest.

A point is fixed when no motion other than moving the whole leaves every distance unchanged to first
order. A row of points taped only along a straight rail is not fixed: each may slide out of line
without any tape noticing.
"""

from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple, Protocol

import numpy as np

from wizard.math.network_solve import Array, Ends, Flags, design, joins, rigid_motions

WEAK = 0.01
"""A motion that changes the distances by less than this part of itself counts as unseen. Braced
ladders of 6 to 20 points lie between 0.18 and 0.55; at 0.01 a tape good to 0.5 mm would place a
point to 50 mm.
"""

STILL = 0.02
"""A point that moves less than this part of a whole unseen motion counts as standing still."""

Pair = tuple[str, str]
Places = Mapping[str, tuple[float, float]]


class Tie(Protocol):
    """Anything taped between two points."""

    @property
    def a(self) -> str: ...
    @property
    def b(self) -> str: ...


class TooThin(ValueError):
    """No three points are fixed to one another: there is no plan to compute."""


class Completion(NamedTuple):
    """Distances that would make a thin network whole."""

    pairs: tuple[Pair, ...]
    """Chosen candidates, the most telling first."""
    loose: tuple[str, ...]
    """Points that stay loose even with all of them; empty when the network would be whole."""


def fixed_points(points: Places, ties: Iterable[Tie], held: Sequence[str] = ()) -> tuple[str, ...]:
    """The largest set of points that the distances fix to one another, in the order of `points`.

    points: places in mm, about right. held: points that stay put; then all that are fixed to them.
    The answer may be a single pair, or nothing.
    """
    pairs = [(t.a, t.b) for t in ties]
    names = tuple(points)
    while True:
        body = _body(points, names, pairs, held)
        if len(body) == len(names) or len(body) < 3:
            return body
        # A body may lean on what was dropped where the places are special: look again without it.
        names = body
        pairs = [p for p in pairs if p[0] in body and p[1] in body]


def completing(points: Places, ties: Iterable[Tie], candidates: Sequence[Pair]) -> Completion:
    """The fewest of `candidates` that make the network whole, each the most telling of those left.

    points: places in mm, about right. candidates: pairs that could be taped; earlier ones win a
    draw.
    """
    names = tuple(points)
    xy = _places(points, names)
    pairs = [(t.a, t.b) for t in ties]
    rows = _rows(xy, _ends(candidates, names))
    chosen: list[Pair] = []
    while (unseen := _unseen(xy, _ends(pairs, names))).shape[1] and len(candidates):
        seen = np.round(np.linalg.norm(rows @ unseen, axis=1), 6)
        best = int(np.argmax(seen))
        if seen[best] < WEAK:
            break
        chosen.append(candidates[best])
        pairs.append(candidates[best])
    body = _body(points, names, pairs, ())
    return Completion(tuple(chosen), tuple(p for p in names if p not in body))


def whole(xy: Array, joined: Array) -> bool:
    """True when the distances leave nothing open but moving the whole; the quick test."""
    if len(joined) < 2 * len(xy) - 3:
        return False
    rows = np.concatenate([design(xy, joined)[0], rigid_motions(xy).T])
    try:
        # Cholesky's roots exist just when every eigenvalue is above WEAK², and cost a tenth of
        # finding them.
        square = rows.T @ rows
        np.fill_diagonal(square, square.diagonal() - WEAK * WEAK)
        np.linalg.cholesky(square)
    except np.linalg.LinAlgError:
        return False
    return True


def _body(
    points: Places, names: Sequence[str], pairs: Sequence[Pair], held: Sequence[str]
) -> tuple[str, ...]:
    xy, ends = _places(points, names), _ends(pairs, names)
    if held:
        base = np.array([names.index(p) for p in held])
        still = _standing(_null(_rows(xy, ends)), base)
    else:
        still = _largest(xy, ends)
    return tuple(p for p, stands in zip(names, still, strict=True) if stands)


def _largest(xy: Array, ends: Ends) -> Flags:
    unseen = _unseen(xy, ends)
    if not unseen.shape[1]:
        return np.ones(len(xy), dtype=np.bool_)
    motions = np.hstack([unseen, rigid_motions(xy)])
    bodies = [_standing(motions, pair) for pair in ends]
    return max(bodies, key=lambda body: int(body.sum()), default=np.zeros(len(xy), dtype=np.bool_))


def _standing(motions: Array, base: Ends) -> Flags:
    """Points that stand still in every one of the motions (2n, k) that leaves the `base` points
    still.
    """
    split = motions.reshape(-1, 2, motions.shape[1])
    rest = motions @ _null(split[base].reshape(-1, motions.shape[1]), STILL)
    return np.asarray(np.linalg.norm(rest.reshape(len(split), -1), axis=1) < STILL)


def _unseen(xy: Array, ends: Ends) -> Array:
    """Orthonormal motions (2n, k) of the parts against each other that no distance sees."""
    return _null(np.vstack([_rows(xy, ends), rigid_motions(xy).T]))


def _rows(xy: Array, ends: Ends) -> Array:
    return design(xy, joins(ends, len(xy)))[0]


def _null(rows: Array, weak: float = WEAK) -> Array:
    _, sizes, across = np.linalg.svd(rows)
    return np.asarray(across[int((sizes > weak).sum()) :].T)


def _places(points: Places, names: Sequence[str]) -> Array:
    return np.array([points[p] for p in names], dtype=np.float64)


def _ends(pairs: Sequence[Pair], names: Sequence[str]) -> Ends:
    index = {p: k for k, p in enumerate(names)}
    return np.array([(index[a], index[b]) for a, b in pairs], dtype=np.intp).reshape(-1, 2)
