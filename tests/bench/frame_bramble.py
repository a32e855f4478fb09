"""Bramble, a two-seat tourer: both rails sagged by age, the same on both sides, and nothing else."""

from __future__ import annotations

from datetime import datetime

from tests.bench.frame_story import Story, each
from tests.bench.frames import Bend, Horn, Sizes, Truth

BRAMBLE = Story(
    id="bramble-2026-04-11",
    script="bramble",
    truth=Truth(
        sizes=Sizes(
            tip=(-448.0, 297.0, -38.0),
            front=(0.0, 312.5, 0.0),
            center=(1003.0, 367.0, 0.0),
            rear=(2194.0, 432.0, 0.0),
        ),
        left=(Bend(3.4, 640.0, 280.0),),
        right=(Bend(3.3, 640.0, 280.0),),
        diamond=0.5,
        lean=0.0024,
        twist=0.2,
        horn_left=Horn(0.6, 0.0, 0.3),
        axle_yaw=(0.0006, -0.0002),
        engine_newton=760.0,
        engine_off=(1.4, -0.6),
        pit=0.15,
    ),
    seed=117,
    tools={"unit": "in", "level_own": 0.0016, "block_unlike": 0.0},
    started=datetime(2026, 4, 11, 9, 12),
    answers={
        "about-the-car/car": "Bramble, two-seat tourer",
        "about-the-car/unit": "i",
        "about-the-car/layout": "s",
        "about-the-car/course": "f",
        "about-the-car/by": "o",
        "what-to-bring/ready": "r",
        "state/engine": "i",
        "state/body": "l",
        "state/panels": "n",
        "state/tires": "e",
        "state/fuel": "e",
        "state/temperature": "57 F",
        "history/knocked": "k",
        "history/straightened": "n",
        "history/hood-fits": "y",
        "history/doors-fit": "y",
        "history/fitted": "k",
        **each("rail-tops", "b l", where="m"),
        **each("die-marks", "b l"),
        **each("manufacture-marks", "b w"),
        **each("bracket-rivets", "p o"),
        **each("rear-crossmember", "b i"),
        **each("inside-channel", "d l", where="m"),
        **each("extra-holes", "b w"),
        **each("paint-cracks", "p o"),
        **each("body-ripples", "p o"),
        "tools/tape": "o",
        "tools/start": "t",
        "tools/ruler": "s",
        "tools/string": "h",
        "tools/level": "c",
        "tools/bar": "h",
        "set-supports/supports": "a",
        "set-supports/stood": (
            "front 24 in apart under the axle, rear 30 in apart inside the backing plates"
        ),
        "set-supports/push": "s",
        "string-set-up/where": "a",
        "string-set-up/steady": "n",
        "lift-engine/engine": "w",
        "lower-engine/engine": "b",
        "consequences/hood-gap": "o",
        "consequences/door-gaps": "e",
        "consequences/fan": "m",
        "consequences/steering": "q",
        "finish/remark": (
            "Both rails low at the rear mount by about the same. The hood fitted when it came off."
        ),
        "finish/anything-else": "w",
    },
    skips={
        "pitting": "no caliper here, a friend brings one next week",
        "box-diagonals/front-box/front-left--center-right": "engine in the way, the bar will do it",
        "box-diagonals/front-box/front-right--center-left": "engine in the way, the bar will do it",
    },
    asides={
        "rail-tops/left": ("/photo 104",),
        "die-marks/right": ("/remark lines clearest under the old grease by the step bracket",),
        "set-supports/push": ("/photo 118",),
        "long-diagonals/whole/front-left--rear-right": (
            "/remark plumbed all four dots to the floor, taped the chalk",
        ),
        "sag-loaded/engine-mount/left": ("/photo 123",),
        "sag-unloaded/engine-mount/left": ("/photo 127",),
    },
    action="leave",
)
