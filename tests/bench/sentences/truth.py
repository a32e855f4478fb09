"""The true value of every quantity of a frame, from its points in space.

Signs as the program's content has them: right rail back, right short, low, left high, left further
out, to the right are plus.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from tests.bench.sentences.frame import SIDES, Frame, Made

Flat = tuple[float, float]
Key = tuple[str, str]
"""A quantity, and where."""


def truth_of(frame: Frame) -> dict[Key, float]:
    """Every value by quantity and place."""
    found = dict(_plan(frame))
    found.update(_string(frame))
    found.update(_level(frame))
    found.update(_wheels(frame))
    return found


def _pair(frame: Frame, place: str) -> tuple[Flat, Flat]:
    if place in frame.made.middle:
        return frame.plan(place), frame.plan(place)
    return frame.plan(f"{place}-left"), frame.plan(f"{place}-right")


def _middle(pair: tuple[Flat, Flat]) -> Flat:
    return (pair[0][0] + pair[1][0]) / 2, (pair[0][1] + pair[1][1]) / 2


def _along(a: Flat, b: Flat) -> Flat:
    size = math.dist(a, b)
    return (b[0] - a[0]) / size, (b[1] - a[1]) / size


def _behind(pair: tuple[Flat, Flat], way: Flat) -> float:
    """How much further along a line the right one lies."""
    left, right = pair
    return (right[0] - left[0]) * way[0] + (right[1] - left[1]) * way[1]


def _off(point: Flat, start: Flat, way: Flat) -> float:
    """How far to the right of a line that runs to the rear."""
    return (point[1] - start[1]) * way[0] - (point[0] - start[0]) * way[1]


def _fitted(points: list[Flat]) -> tuple[Flat, Flat]:
    """A point of the straight line nearest to points, and its direction."""
    n = len(points)
    x0, y0 = sum(p[0] for p in points) / n, sum(p[1] for p in points) / n
    rise = sum((p[0] - x0) * (p[1] - y0) for p in points) / sum((p[0] - x0) ** 2 for p in points)
    size = math.hypot(1.0, rise)
    return (x0, y0), (1.0 / size, rise / size)


def _plan(frame: Frame) -> Iterator[tuple[Key, float]]:
    of = frame.made
    for box, (front, rear) in of.boxes.items():
        ahead, behind = _pair(frame, front), _pair(frame, rear)
        left, right = (math.dist(ahead[n], behind[n]) for n in (0, 1))
        if front not in of.middle:
            yield ("own-sides", box), left - right
        if front == "tip":
            continue
        way = _along(_middle(ahead), _middle(behind))
        if front in of.middle:
            yield ("rail-shift", box), _behind(behind, way)
            continue
        shift = (_behind(ahead, way) + _behind(behind, way)) / 2
        yield ("rail-shift", box), shift
        yield ("mash", box), right - left
        yield ("closure", box), 0.0
        if box == "front-box":
            yield ("rail-shift", "front-box-bar"), shift
    yield from _lines(frame)


def _lines(frame: Frame) -> Iterator[tuple[Key, float]]:
    of = frame.made
    middles = [_middle(_pair(frame, p)) for p in of.rails]
    way = _along(middles[0], middles[-1])
    for place, middle in zip(of.rails[1:-1], middles[1:-1], strict=True):
        yield ("sway", place), _off(middle, middles[0], way)
    start, fit = _fitted(middles)
    if "nose" in of.places and not frame.aside:  # of a bowed frame the middle line is nobody's
        yield ("nose-off", "nose"), _off(frame.plan("nose"), start, fit)
    if of.has_horns:
        yield from _horns(frame, fit)


def _carried_from(of: Made) -> str:
    """The place from which the rails are carried on to the tips: half as far again behind the front
    as these stand ahead of it, or more.
    """
    front, tip = of.places[of.rails[0]][0], of.places["tip"][0]
    return next(p for p in of.rails[1:] if of.places[p][0] - front >= 1.5 * (front - tip))


def _horns(frame: Frame, fit: Flat) -> Iterator[tuple[Key, float]]:
    of, out = frame.made, {}
    ahead, behind = of.rails[0], _carried_from(of)
    for n, side in enumerate(SIDES):
        first, second = (_pair(frame, p)[n] for p in (ahead, behind))
        off = _off(frame.plan(f"tip-{side}"), first, _along(first, second))
        out[side] = off if side == "right" else -off
        yield ("horn-out", side), out[side]
    yield ("horn", "difference"), out["left"] - out["right"]
    tips, front = _pair(frame, "tip"), _pair(frame, of.rails[0])
    yield ("horn-back", "difference"), _behind(tips, fit) - _behind(front, fit)


def _string(frame: Frame) -> Iterator[tuple[Key, float]]:
    for station, x in frame.made.stations.items():
        low = {}
        for side in SIDES:
            with_, without = (frame.sag(side, x, weight=w) for w in (True, False))
            yield ("sag-loaded", f"{station}/{side}"), with_
            yield ("sag-unloaded", f"{station}/{side}"), without
            yield ("elastic", f"{station}/{side}"), with_ - without
            low[side] = with_, without
        for n, state in enumerate(("loaded", "unloaded")):
            yield (f"sag-difference-{state}", station), low["right"][n] - low["left"][n]


def _level(frame: Frame) -> Iterator[tuple[Key, float]]:
    """Against each other place of the level: all of the lean, and what the rails' sag leaves of it."""
    of = frame.made
    whole = {v: frame.slope_at(p) for v, p in of.levels.items()}
    alone = {v: whole[v] - _leant(frame, p) for v, p in of.levels.items()}
    for level, place in of.levels.items():
        wide = 2 * of.places[place][1]
        for against in of.levels:
            yield (f"twist-all-{against}", level), wide * (whole[level] - whole[against])
            yield (f"twist-alone-{against}", level), wide * (alone[level] - alone[against])
        yield ("string-level", level), 0.0
        if place == "tip":  # what the rail behind it lifts is no horn's
            up = {side: frame.tips.get(side, (0.0, 0.0, 0.0))[2] for side in SIDES}
            yield ("horn-height", level), up["left"] - up["right"]
        yield ("level-closing", level), 0.0


def _leant(frame: Frame, place: str) -> float:
    """Slope at a place of the level that comes of rails which hang unlike under the string."""
    x, half, _ = frame.made.places[place]
    first, last = frame.made.blocks
    if place == "tip" or not first < x < last:
        return 0.0
    left, right = (frame.sag(s, x, weight=frame.engine_in) for s in SIDES)
    return (right - left) / (2 * half)


def _wheels(frame: Frame) -> Iterator[tuple[Key, float]]:
    base = {s: math.dist(frame.wheel(0, s), frame.wheel(1, s)) for s in SIDES}
    yield ("wheelbase", "difference"), base["left"] - base["right"]
