"""Marigold, a sedan knocked at the left front corner: left rail driven back, left horn bent in and
back, rivets loose.

Its numbers ask to be put right; loose joints come before every number, so they hold the answer
open.
"""

from __future__ import annotations

from datetime import datetime

from tests.bench.frame_story import Story, each
from tests.bench.frames import Bend, Horn, Sizes, Truth

MARIGOLD = Story(
    id="marigold-2026-05-02",
    script="marigold",
    truth=Truth(
        sizes=Sizes(
            tip=(-455.0, 293.0, -42.0),
            front=(0.0, 308.0, 0.0),
            center=(996.0, 364.0, 0.0),
            rear=(2206.0, 428.0, 0.0),
        ),
        left=(Bend(1.8, 640.0, 420.0),),
        right=(Bend(1.8, 640.0, 420.0),),
        diamond=-6.4,
        mash_left=1.6,
        lean=-0.0011,
        twist=0.4,
        horn_left=Horn(9.0, 4.0, 0.5),
        axle_yaw=(0.0008, 0.0002),
        engine_newton=520.0,
        engine_off=(-1.0, 0.5),
    ),
    seed=23,
    tools={
        "unit": "mm",
        "tape_scale": 4e-5,
        "tape_start": 100.0,
        "level_own": 0.00012,
        "level_s": 0.00006,
        "level_step": 0.0005,
    },
    started=datetime(2026, 5, 2, 13, 40),
    answers={
        "about-the-car/car": "Marigold, sedan",
        "about-the-car/unit": "m",
        "about-the-car/layout": "s",
        "about-the-car/course": "f",
        "about-the-car/by": "m",
        "what-to-bring/ready": "r",
        "state/engine": "i",
        "state/body": "o",
        "state/panels": "n",
        "state/tires": "e",
        "state/fuel": "e",
        "state/temperature": "19 C",
        "history/knocked": "y",
        "history/where": "l",
        "history/aligned": "a",
        "history/pulley": "k",
        "history/straightened": "n",
        "history/hood-fits": "n",
        "history/doors-fit": "y",
        "history/fitted": "n",
        **each("die-marks", "b l"),
        **each("front-crossmember-rivets", "b l", "b o"),
        **each("rail-sides", "b r l", "b o", left_where="f", left_fold="s"),
        **each("bracket-rivets", "b l", "b o", left_where="f"),
        **each("manufacture-marks", "b w"),
        **each("extra-holes", "b w"),
        **each("paint-cracks", "p f", "p o", left_where="f"),
        **each("body-ripples", "b r", "p o", left_where="f"),
        "tools/tape": "f",
        "tools/start": "m",
        "tools/ruler": "s",
        "tools/string": "h",
        "tools/level": "m",
        "tools/bar": "h",
        "set-supports/supports": "a",
        "set-supports/stood": "front 600 apart under the axle, rear 800 apart under the axle tubes",
        "set-supports/push": "m",
        "string-set-up/where": "a",
        "string-set-up/steady": "n",
        "lift-engine/engine": "w",
        "lower-engine/engine": "b",
        "consequences/hood-gap": "o",
        "consequences/door-gaps": "o",
        "consequences/fan": "m",
        "consequences/steering": "p",
        "finish/remark": "The owner has the bill for the left fender and no bill for the frame.",
        "finish/anything-else": "s",
        "finish/question": "can the left rail come forward with the box in place",
    },
    skips={
        "dye": "no can of dye in the house yet",
        "thin-metal": "no gauge that reaches inside",
        "box-diagonals/front-box/front-left--center-right": "engine in the way",
        "box-diagonals/front-box/front-right--center-left": "engine in the way",
    },
    asides={
        "front-crossmember-rivets/left": (
            "/photo 31",
            "/remark two of four heads weep oil, the lower ones",
        ),
        "rail-sides/left": ("/photo 33",),
        "rail-sides/left/fold": (
            "/remark a hand's length behind the crossmember, lower flange and web",
        ),
        "long-diagonals/whole/front-left--rear-right": (
            "/remark taped on the floor between plumbed marks",
        ),
        "horns/horns/tip-left--front-right": ("/photo 47",),
        "wheelbase/left": ("/remark second evening, owner held the line",),
    },
    returns={"pulley-hint": datetime(2026, 5, 3, 18, 30)},
    action="open",
)
