"""Frames at random: age, a blow or nothing, in likely sizes."""

from __future__ import annotations

import random
from dataclasses import replace

from tests.bench.frames import Bend, Horn, Sizes, Truth


def frame(rng: random.Random) -> Truth:
    """One frame out of the many that there are: nearly all have age, a third had a blow, some were
    mended.
    """
    age = max(0.0, rng.gauss(2.5, 1.5))
    left, right = (
        (Bend(age * rng.gauss(1.0, 0.1), 640.0, rng.uniform(450.0, 800.0)),) for _ in range(2)
    )
    truth = Truth(
        sizes=sizes(rng),
        left=left,
        right=right,
        lean=rng.gauss(0.0, 0.004),
        engine_newton=rng.uniform(300.0, 700.0),
        engine_off=(rng.gauss(0.0, 2.0), rng.gauss(0.0, 2.0)),
        twist=rng.gauss(0.0, 0.7),
        diamond=rng.gauss(0.0, 0.8),
        axle_yaw=(rng.gauss(0.0, 0.001), rng.gauss(0.0, 0.001)),
    )
    return knocked(truth, rng) if rng.random() < 1 / 3 else truth


def sizes(rng: random.Random) -> Sizes:
    """A frame of its own kind's sizes, each a little off the round figures."""
    plain = Sizes()
    scale = rng.gauss(1.0, 0.01)
    rail = tuple(v * rng.gauss(1.0, 0.02) for v in plain.rail)
    return replace(
        plain,
        tip=(plain.tip[0] * scale, plain.tip[1] * scale, plain.tip[2] + rng.gauss(0.0, 5.0)),
        front=(0.0, plain.front[1] * scale, 0.0),
        center=(plain.center[0] * scale, plain.center[1] * scale, 0.0),
        rear=(plain.rear[0] * scale, plain.rear[1] * scale, 0.0),
        rail=(rail[0], rail[1], rail[2]),
    )


def knocked(truth: Truth, rng: random.Random) -> Truth:
    """The same frame after a blow at one front corner, sometimes with a kink."""
    horn = Horn(rng.uniform(-2.0, 12.0), rng.uniform(0.0, 8.0), rng.gauss(0.0, 2.0))
    kink = (
        (Bend(rng.uniform(2.0, 9.0), rng.uniform(200.0, 1400.0), 25.0),)
        if rng.random() < 0.3
        else ()
    )
    push, sway, mash = rng.uniform(0.0, 10.0), rng.uniform(0.0, 8.0), rng.uniform(0.0, 2.0)
    if rng.random() < 0.5:
        return replace(
            truth,
            horn_left=horn,
            left=truth.left + kink,
            diamond=-push,
            sway_front=sway,
            mash_left=mash,
        )
    return replace(
        truth,
        horn_right=horn,
        right=truth.right + kink,
        diamond=push,
        sway_front=-sway,
        mash_right=mash,
    )
