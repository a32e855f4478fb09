"""Bramble again: after a season in which nothing moved, and after a hard one in which something
did.

The frame, the tape, the level and the dots on the rivets are those of the first survey; the hand is
not steadier.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from tests.bench.frame_bramble import BRAMBLE
from tests.bench.frame_samples import tools_of
from tests.bench.frame_story import Story
from tests.bench.frames import Bend, Horn

_FIRST = tools_of(BRAMBLE)[1]
_TOOLS = {
    "unit": "in",
    "tape_scale": _FIRST.tape_scale,
    "dots": _FIRST.dots,
    "level_own": _FIRST.level_own,
    "block_unlike": 0.0,
}
_ANSWERS = {
    "about-the-car/unit": "i",
    "about-the-car/by": "o",
    "since-last-time/happened": "n",
    "since-last-time/incidents": "-",
    "since-last-time/corrected": "n",
    "since-last-time/marks": "a",
    "since-last-time/tools": "s",
    "state/engine": "i",
    "state/body": "l",
    "state/panels": "n",
    "state/tires": "e",
    "state/fuel": "e",
    "state/temperature": "61 F",
    "set-supports/supports": "a",
    "set-supports/stood": (
        "front 24 in apart under the axle, rear 30 in apart inside the backing plates"
    ),
    "set-supports/push": "s",
    "string-set-up/where": "a",
    "string-set-up/steady": "n",
    "finish/remark": "-",
    "finish/anything-else": "n",
    "next-time/when": "s",
}

SEASON = Story(
    id="bramble-2026-10-10",
    script="bramble-again",
    truth=BRAMBLE.truth,
    seed=204,
    tools=_TOOLS,
    started=datetime(2026, 10, 10, 9, 30),
    answers={**_ANSWERS, "since-last-time/distance": "900 miles"},
    asides={"sag-loaded/engine-mount/left": ("/photo 201",)},
)
"""Nothing moved."""

HARD = Story(
    id="bramble-2027-05-08",
    script="bramble-third",
    truth=replace(
        BRAMBLE.truth,
        left=(*BRAMBLE.truth.left, Bend(5.0, 640.0, 280.0)),
        diamond=BRAMBLE.truth.diamond - 7.0,
        horn_left=Horn(5.0, 3.0, 0.3),
    ),
    seed=305,
    tools=_TOOLS,
    started=datetime(2027, 5, 8, 10, 0),
    answers={
        **_ANSWERS,
        "since-last-time/distance": "1400 miles",
        "since-last-time/happened": "k",
        "since-last-time/where": "l",
        "since-last-time/incidents": (
            "Left front wheel went into a ditch in March, at walking pace."
        ),
        "state/temperature": "58 F",
        "finish/anything-else": "w",
        "finish/remark": "The left mount had to be shimmed to close the hood.",
        "next-time/when": "m",
    },
)
"""A knock at the left front, and the left rail gave way under the engine."""

AGAIN = ((BRAMBLE.id, SEASON), (SEASON.id, HARD))
"""Id of the survey that is followed, and the story that follows it."""
