"""What may be the matter with a frame, drawn: one fault, two, or none, and bent accordingly."""

from __future__ import annotations

import itertools
import random
from collections.abc import Callable, Mapping

from tests.bench.sentences import curves
from tests.bench.sentences.curves import Curve
from tests.bench.sentences.frame import GRAVITY, SIDES, Fault, Frame, Made, made, sign

SIZES: Mapping[str, tuple[float, ...]] = {
    "diamond": (1.5, 3.0, 6.0, 9.0),
    "corner": (1.5, 3.0, 8.0, 9.0),
    "box-out": (1.5, 3.0, 6.0, 9.0),
    "sway": (1.5, 3.0, 6.0, 9.0),
    "bow": (1.5, 3.0, 6.0, 9.0),
    "mash": (1.5, 3.0, 6.0, 9.0),
    "kink": (3.0, 6.0, 12.0, 18.0),
    "sag": (1.6, 3.2, 6.4, 9.6),
    "one-sag": (1.6, 3.2, 6.4, 9.6),
    "crown": (0.8, 1.6, 3.2, 4.8),
    "horn": (1.6, 3.2, 8.0, 9.6),
    "horn-up": (1.6, 3.2, 6.4, 9.6),
    "twist": (0.75, 1.5, 3.0, 4.5),
}
"""Half the limit, at it, about twice and three times it; and the sizes that must be told."""
SHAPES = ("sag", "one-sag", "crown")
"""Of these a frame has one at most."""
ENDS = ("front", "rear")
LOWEST = 40.0
"""mm that a rail hangs at any of its places at most: four times the largest sag that is drawn."""


Wanted = tuple[str, float]
"""A kind of fault and its size, mm, without its way."""


def drawn(rng: random.Random, layout: str, only: Wanted | None = None) -> Frame:
    """One frame of that kind that can be. A bend is drawn as deep as it is to be between the blocks;
    where these stand on a short stretch, as under a center box, that can make the rail hang by a hand's
    width elsewhere, lean the level by more lines than it has and slant the tapes.

    only: the one fault that it has; without, none to two are drawn.
    """
    while True:
        frame = once(rng, layout, only)
        if most_hung(frame) <= LOWEST:
            return frame


def most_hung(frame: Frame) -> float:
    """How far a rail is off what it was made to wherever it is taped, leveled or read by the string, with
    the weight or without, mm.
    """
    along = [*(x for x, _, _ in frame.made.places.values()), *frame.made.stations.values()]
    curves_of = [frame.hang(side, weight=w) for side in SIDES for w in (True, False)]
    return max(abs(hang(x)) for hang in curves_of for x in along)


def once(rng: random.Random, layout: str, only: Wanted | None = None) -> Frame:
    """One frame of that kind, whether or not it can be."""
    of = made(layout, rng)
    frame = _as_made(of, rng)
    faults = _chosen(of, rng) if only is None else _only(of, rng, *only)
    shaped = {f.kind for f in faults} & {*SHAPES, "kink"}
    if not shaped and rng.random() < 0.15:  # made so, or set so, that the weight brings it level
        frame = _raised(frame, rng.uniform(0.7, 1.1))
    for fault in faults:
        frame = BENT[fault.kind](frame, fault, rng)
    return frame.with_(faults=faults)


def _chosen(of: Made, rng: random.Random) -> tuple[Fault, ...]:
    wanted = rng.choices((0, 1, 2), (25, 50, 25))[0]
    kinds = [k for k in SIZES if of.has_horns or not k.startswith("horn")]
    taken: list[str] = []
    while len(taken) < wanted:
        kind = rng.choice(kinds)
        twice = kind in taken or (kind in SHAPES and set(taken) & set(SHAPES))
        if not twice:
            taken.append(kind)
    return tuple(_fault(kind, of, rng) for kind in taken)


STRAIGHT = "straight"
"""What is asked for where a frame is to have no fault."""


def _only(of: Made, rng: random.Random, kind: str, size: float) -> tuple[Fault, ...]:
    return () if kind == STRAIGHT else (_fault(kind, of, rng, size),)


def _fault(kind: str, of: Made, rng: random.Random, size: float = 0.0) -> Fault:
    """One fault of that kind; of a size that is drawn where none is given."""
    size = size or rng.choice(SIZES[kind])
    side, way = rng.choice(SIDES), rng.choice((1.0, -1.0))
    end = rng.choice(ENDS)
    if kind in ("corner", "kink", "one-sag"):
        low, high = of.blocks
        x = rng.uniform(low + 0.12 * (high - low), high - 0.12 * (high - low))
        return Fault(kind, size, side, end, x)
    if kind in ("box-out", "sway"):
        return Fault(kind, way * size, at=end)
    if kind in ("diamond", "bow"):
        return Fault(kind, way * size)
    if kind == "mash":
        pairs = list(itertools.pairwise(of.rails))[1:]
        return Fault(kind, size, side, "--".join(rng.choice(pairs)))
    if kind == "twist":
        return Fault(kind, way * size, at=rng.choice(("steady", "joint")))
    if kind == "sag":
        return Fault(kind, size, at=rng.choice(("mount", "mount", "behind")))
    if kind == "crown":
        return Fault(kind, size, rng.choice(("", "left", "right")))
    if kind == "horn":
        both = rng.random() < 0.25
        return Fault(
            kind, size, "" if both else side, rng.choice(("in", "out", "aside")[: 2 + both])
        )
    return Fault(kind, size, "" if rng.random() < 0.15 else side)


# As it was made --------------------------------------------------------------------------------


def _as_made(of: Made, rng: random.Random) -> Frame:
    """Neither maker nor years leave a frame quite true: each figure well within its limit."""
    points = [p if p in of.middle else f"{p}-{s}" for p in of.places for s in SIDES]
    years = rng.uniform(0.0, 0.6)
    low = {s: (_smooth(of, years * rng.gauss(1.0, 0.1), rng),) for s in SIDES} if years else {}
    frame = Frame(
        of,
        springs=_springs(of, rng),
        low=low,
        off={p: (rng.gauss(0.0, 0.25), rng.gauss(0.0, 0.25)) for p in points},
        lean=rng.gauss(0.0, 0.003),
        yaw=(rng.gauss(0.0, 0.0004), rng.gauss(0.0, 0.0004)),
    )
    return _twisted(frame, Fault("twist", rng.gauss(0.0, 0.2), at="steady"), rng)


def _springs(of: Made, rng: random.Random) -> dict[str, Curve]:
    """What each rail gives under the engine: as a beam, or in some other smooth curve."""
    load = of.mass * GRAVITY / 4
    beam = curves.loaded(load, of.mount, of.axles, of.section.inertia)
    if rng.random() < 0.25:
        depth = curves.deepest(beam, of.blocks) * rng.uniform(0.7, 1.5)
        beam = curves.to_depth(curves.arch(of.axles), depth, of.blocks)
    return {s: curves.scaled(beam, rng.gauss(1.0, 0.05)) for s in SIDES}


def _smooth(of: Made, depth: float, rng: random.Random, at: str = "mount") -> Curve:
    """A smooth curve that stays, so deep below the string."""
    low, high = of.blocks
    x = of.mount if at == "mount" else of.axles[0] + 0.62 * (of.axles[1] - of.axles[0])
    x = min(max(x, low + 0.1 * (high - low)), high - 0.1 * (high - low))
    point = curves.to_depth(curves.loaded(1e3, x, of.axles, 1e6), 1.0, of.blocks)
    bow = curves.to_depth(curves.arch(of.axles), 1.0, of.blocks)
    share = rng.uniform(0.3, 1.0)
    whole = curves.added(curves.scaled(point, share), curves.scaled(bow, 1.0 - share))
    return curves.to_depth(whole, depth, of.blocks)


def _lower(frame: Frame, **by_side: Curve) -> Frame:
    low = {s: (*frame.low.get(s, ()), *([by_side[s]] if s in by_side else [])) for s in SIDES}
    return frame.with_(low=low)


def _raised(frame: Frame, share: float) -> Frame:
    return _lower(frame, **{s: curves.scaled(frame.springs[s], -share) for s in SIDES})


# Each fault ------------------------------------------------------------------------------------


def _pushed(frame: Frame, **by_side: Curve) -> Frame:
    back = {s: (*frame.back.get(s, ()), *([by_side[s]] if s in by_side else [])) for s in SIDES}
    return frame.with_(back=back)


def _always(by: float) -> Curve:
    return lambda _x: by


def _ramp(full: float, none: float, by: float) -> Curve:
    """So much at one place and beyond it, nothing at the other."""

    def curve(x: float) -> float:
        share = (x - none) / (full - none)
        return by * min(max(share, 0.0), 1.0)

    return curve


def _xs(of: Made, end: str) -> tuple[float, float]:
    """x of the outer and of the inner place of the box at that end."""
    front, rear = (of.places[p][0] for p in of.joint[end])
    return (front, rear) if end == "front" else (rear, front)


def _diamond(frame: Frame, fault: Fault, _rng: random.Random) -> Frame:
    return _pushed(frame, left=_always(-fault.size / 2), right=_always(fault.size / 2))


def _corner(frame: Frame, fault: Fault, _rng: random.Random) -> Frame:
    outer, inner = _xs(frame.made, fault.at)
    by = fault.size if fault.at == "front" else -fault.size
    return _pushed(frame, **{fault.side: _ramp(outer, inner, by)})


def _box_out(frame: Frame, fault: Fault, _rng: random.Random) -> Frame:
    outer, inner = _xs(frame.made, fault.at)
    left, right = (_ramp(outer, inner, by) for by in (-fault.size, fault.size))
    return _pushed(frame, left=left, right=right)


def _mash(frame: Frame, fault: Fault, _rng: random.Random) -> Frame:
    front, rear = (frame.made.places[p][0] for p in fault.at.split("--"))
    return _pushed(frame, **{fault.side: _ramp(front, rear, fault.size)})


def _aside(frame: Frame, curve: Curve, size: float) -> Frame:
    """Rails moved sideways so that an inner place lies so far off the line of the two ends."""
    xs = [frame.made.places[p][0] for p in frame.made.rails]
    off = curves.below(curve, (xs[0], xs[-1]))
    most = max((off(x) for x in xs[1:-1]), key=abs)
    return frame.with_(aside=(*frame.aside, curves.scaled(curve, size / most)))


def _sway(frame: Frame, fault: Fault, _rng: random.Random) -> Frame:
    outer, inner = _xs(frame.made, fault.at)
    return _aside(frame, lambda x: max(0.0, (x - inner) / (outer - inner)), fault.size)


def _bow(frame: Frame, fault: Fault, _rng: random.Random) -> Frame:
    first, last = (frame.made.places[frame.made.rails[n]][0] for n in (0, -1))

    def curve(x: float) -> float:
        share = (x - first) / (last - first)
        straight_on = min(share, 1.0 - share)
        return 4 * straight_on if straight_on < 0 else 4 * share * (1.0 - share)

    return _aside(frame, curve, fault.size)


def _kink(frame: Frame, fault: Fault, _rng: random.Random) -> Frame:
    sharp = curves.hinge(fault.x, frame.made.axles)
    return _lower(frame, **{fault.side: curves.to_depth(sharp, fault.size, frame.made.blocks)})


def _sag(frame: Frame, fault: Fault, rng: random.Random) -> Frame:
    sides = (fault.side,) if fault.side else SIDES
    at = fault.at if fault.kind == "sag" else "mount"
    hung = {s: _smooth(frame.made, fault.size * rng.gauss(1.0, 0.05), rng, at) for s in sides}
    return _lower(frame, **hung)


def _crown(frame: Frame, fault: Fault, rng: random.Random) -> Frame:
    """So high with the engine's weight on."""
    sides = (fault.side,) if fault.side else SIDES
    bare = frame.with_(low={s: c for s, c in frame.low.items() if s not in sides})
    high = {
        s: curves.added(
            curves.scaled(_smooth(frame.made, fault.size, rng), -1.0),
            curves.scaled(frame.springs[s], -1.0),
        )
        for s in sides
    }
    return _lower(bare, **high)


def _horn(frame: Frame, fault: Fault, _rng: random.Random) -> Frame:
    tips = dict(frame.tips)
    for side in (fault.side,) if fault.side else SIDES:
        back, aside, up = tips.get(side, (0.0, 0.0, 0.0))
        if fault.kind == "horn-up":
            tips[side] = (back, aside, up + fault.size)
            continue
        ways = {"out": sign(side), "in": -sign(side), "aside": 1.0}
        tips[side] = (back, aside + ways[fault.at] * fault.size, up)
    return frame.with_(tips=tips)


def _twisted(frame: Frame, fault: Fault, rng: random.Random) -> Frame:
    of = frame.made
    front, rear = (of.places[of.rails[n]] for n in (0, -1))
    whole = fault.size / (2 * rear[1])
    start, end = front[0], rear[0]
    if fault.at == "joint":
        levels = sorted(x for x in (of.places[p][0] for p in of.levels.values()) if x >= start)
        first, second = rng.choice(list(itertools.pairwise(levels)))
        middle = (first + second) / 2
        start, end = middle - 40.0, middle + 40.0

    def turn(x: float) -> float:
        return whole * min(max((x - start) / (end - start), 0.0), 1.0)

    return frame.with_(turn=(*frame.turn, turn))


BENT: Mapping[str, Callable[[Frame, Fault, random.Random], Frame]] = {
    "diamond": _diamond,
    "corner": _corner,
    "box-out": _box_out,
    "sway": _sway,
    "bow": _bow,
    "mash": _mash,
    "kink": _kink,
    "sag": _sag,
    "one-sag": _sag,
    "crown": _crown,
    "horn": _horn,
    "horn-up": _horn,
    "twist": _twisted,
}
