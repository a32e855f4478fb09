"""The true value of what the program reports, straight from the frame's points: vectors, no
formulas of tapes.
"""

from __future__ import annotations

import math

from tests.bench.frame_tools import Tools
from tests.bench.frames import Place, Truth, point, sag, slope_across, wheel

BOXES = {
    "whole": ("front", "rear"),
    "front-box": ("front", "center"),
    "rear-box": ("center", "rear"),
    "horns": ("tip", "front"),
}
LEVELS = {"horns": "tip", "front-crossmember": "front", "center": "center", "rear": "rear"}
Flat = tuple[float, float]


def expected(truth: Truth, tools: Tools, finding: str) -> float | None:
    """The value that an errorless survey would give a finding, in its unit; None where this page
    knows none.
    """
    quantity, _, where = finding.partition("/")
    if quantity in ("sag-loaded", "sag-unloaded", "elastic", "sag-difference", "caster"):
        return _string(truth, quantity, where)
    if quantity in ("twist", "horn-height"):
        place = LEVELS[where]
        wide = math.dist(point(truth, f"{place}-left"), point(truth, f"{place}-right"))
        return wide * (slope_across(truth, place) - slope_across(truth, "front"))
    if quantity == "level-error":
        return 1000.0 * tools.level_own
    if quantity in ("closure", "level-closing", "string-level"):
        return 0.0
    if quantity == "wheelbase":
        left, right = (math.dist(wheel(truth, 0, s), wheel(truth, 1, s)) for s in ("left", "right"))
        return left - right
    if quantity == "hint":
        return truth.engine_off[0 if where == "pulley" else 1]
    return _plan(truth, quantity, where)


def without_sag(truth: Truth, place: str) -> float:
    """The twist at a place of the level without what the two rails' unlike sag under the string
    does there, mm.
    """

    def lower(name: str) -> float:
        x = point(truth, f"{name}-left")[0]
        return sag(truth, "right", x, loaded=True) - sag(truth, "left", x, loaded=True)

    def wide(name: str) -> float:
        return math.dist(point(truth, f"{name}-left"), point(truth, f"{name}-right"))

    at = LEVELS[place]
    bent = lower(at) - lower("front") * wide(at) / wide("front")
    return wide(at) * (slope_across(truth, at) - slope_across(truth, "front")) - bent


def _string(truth: Truth, quantity: str, where: str) -> float:
    def low(station: str, side: str, loaded: bool) -> float:
        return sag(truth, side, dict(truth.sizes.stations)[station], loaded=loaded)

    if quantity == "caster":
        sizes = truth.sizes  # The ball hangs on the gearbox, and that on the front and rear mounts.
        mounts = (0.0, dict(sizes.stations)["engine-mount"])
        front, mount = (
            sum(sag(truth, s, x, loaded=False) for s in ("left", "right")) / 2 for x in mounts
        )
        drop = front + (mount - front) * sizes.ball_x / mounts[1]
        return math.degrees(math.atan(drop / truth.sizes.rod))
    if quantity == "sag-difference":
        return low(where, "right", False) - low(where, "left", False)
    station, side = where.split("/")
    if quantity == "elastic":
        return low(station, side, True) - low(station, side, False)
    return low(station, side, quantity == "sag-loaded")


def _plan(truth: Truth, quantity: str, where: str) -> float | None:
    if quantity in ("rail-shift", "mash"):
        front, rear = BOXES["front-box" if where == "front-box-bar" else where]
        along = _unit(_less(_middle(truth, rear), _middle(truth, front)))
        ahead, behind = (_dot(_across(truth, place), along) for place in (front, rear))
        return (ahead + behind) / 2 if quantity == "rail-shift" else behind - ahead
    if quantity == "own-sides":
        front, rear = BOXES[where]
        left, right = (
            math.dist(point(truth, f"{front}-{s}"), point(truth, f"{rear}-{s}"))
            for s in ("left", "right")
        )
        return left - right
    if quantity == "sway":
        start = _middle(truth, "front")
        along = _unit(_less(_middle(truth, "rear"), start))
        return _dot(_less(_middle(truth, where), start), (-along[1], along[0]))
    if quantity in ("horn", "horn-out"):
        out = {side: _horn_out(truth, side) for side in ("left", "right")}
        return out["left"] - out["right"] if quantity == "horn" else out[where]
    if quantity == "horn-back":
        along = _unit(_less(_middle(truth, "rear"), _middle(truth, "front")))
        return _dot(_across(truth, "tip"), along) - _dot(_across(truth, "front"), along)
    return None


def _horn_out(truth: Truth, side: str) -> float:
    """How far a tip stands outward of its own rail carried straight on from center and front."""
    tip, front, center = (
        _flat(point(truth, f"{place}-{side}")) for place in ("tip", "front", "center")
    )
    along = _unit(_less(center, front))
    to_right = _dot(_less(tip, front), (-along[1], along[0]))
    return -to_right if side == "left" else to_right


def _flat(place: Place) -> Flat:
    return place[0], place[1]


def _middle(truth: Truth, place: str) -> Flat:
    left, right = (point(truth, f"{place}-{side}") for side in ("left", "right"))
    return (left[0] + right[0]) / 2, (left[1] + right[1]) / 2


def _across(truth: Truth, place: str) -> Flat:
    return _less(_flat(point(truth, f"{place}-right")), _flat(point(truth, f"{place}-left")))


def _less(a: Flat, b: Flat) -> Flat:
    return a[0] - b[0], a[1] - b[1]


def _dot(a: Flat, b: Flat) -> float:
    return a[0] * b[0] + a[1] * b[1]


def _unit(a: Flat) -> Flat:
    size = math.hypot(*a)
    return a[0] / size, a[1] / size
