"""Marigold after the work: the survey that follows hers once the frame was straightened.

    python -m tests.bench.after_the_work FOLDER

Her crossmember and her bracket are tight, the left rail came forward again and stays a little back,
as metal that springs does; the horn was left as it was. It writes that survey into FOLDER,
beside a copy of hers.
"""

from __future__ import annotations

import sys
from dataclasses import replace
from datetime import datetime
from pathlib import Path

from tests.bench.frame_marigold import MARIGOLD
from tests.bench.frame_samples import tools_of
from tests.bench.frame_story import Story, each
from tests.bench.frames import Horn, Truth
from tests.bench.recheck_samples import played
from wizard.library import load_library

_FIRST = tools_of(MARIGOLD)[1]
_TOOLS = {
    "unit": "mm",
    "tape_scale": _FIRST.tape_scale,
    "tape_start": _FIRST.tape_start,
    "dots": _FIRST.dots,
    "level_own": _FIRST.level_own,
    "level_s": _FIRST.level_s,
    "level_step": _FIRST.level_step,
}
STRAIGHT = replace(MARIGOLD.truth, diamond=-0.4, mash_left=0.2, horn_left=Horn(9.0, 4.0, 0.5))
"""Her frame as it came back from the shop."""


def after(truth: Truth = STRAIGHT, seed: int = 61, **answers: str) -> Story:
    """The survey after the work, with a frame of another shape or with other answers by prompt."""
    told = {
        **MARIGOLD.answers,
        "about-the-car/by": "o",
        "since-last-time/distance": "-",
        "since-last-time/happened": "n",
        "since-last-time/incidents": "-",
        "since-last-time/corrected": "s",
        "since-last-time/marks": "a",
        "since-last-time/tools": "s",
        **each("front-crossmember-rivets", "b o"),
        **each("bracket-rivets", "b o"),
        **each("rail-sides", "b o"),
        **each("paint-cracks", "b o"),
        "set-supports/push": "s",
        "finish/remark": "-",
        "finish/anything-else": "n",
        "next-time/when": "m",
        **answers,
    }
    return Story(
        id="marigold-2026-07-18",
        script="marigold-after",
        truth=truth,
        seed=seed,
        tools=_TOOLS,
        started=datetime(2026, 7, 18, 9, 0),
        answers=told,
    )


def main() -> None:
    """Write the survey into the folder that was named."""
    folder = Path(sys.argv[1])
    folder.mkdir(parents=True, exist_ok=True)
    lines = played(after(), MARIGOLD.id, load_library(), folder)
    print(f"{after().id}: {len(lines)} lines")


if __name__ == "__main__":
    main()
