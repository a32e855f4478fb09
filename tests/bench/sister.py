"""How often two frames that are quite alike are told to differ: each is surveyed by a hand, a tape, a
ruler and a level of its own, and one keeps the other as its sister.

Of a comparison as a whole at most 5 in 100 may say so of anything (Holm's step-down). Beside it, how
often a diagonal that is longer by so many mm on the one is told.
Run from the project's folder: python -m tests.bench.sister [pairs] [seed]
"""

from __future__ import annotations

import random
import sys
from collections import Counter
from dataclasses import replace
from fractions import Fraction

from tests.bench.frame_coverage import DAY, surveyed
from tests.bench.frame_draw import frame
from tests.bench.frame_tools import drawn
from wizard.judgment.sister import Beside, beside, with_sister
from wizard.library import load_library
from wizard.library.shapes import Library
from wizard.survey.record import Survey

LONGER = 8.0
"""mm by which both rails of one frame are made longer behind the center."""


def pair(rng: random.Random, library: Library, longer: float = 0.0) -> Beside:
    """One frame twice, read by two hands; longer: by how much the second is in truth."""
    truth = frame(rng)
    rear, *rest = truth.sizes.rear
    other = replace(truth, sizes=replace(truth.sizes, rear=(rear + longer, *rest)))
    found = []
    for name, one in (("bench-one", other), ("bench-two", truth)):
        tools = drawn(rng, "in", slips=0.0, tape_step=Fraction(1, 16))
        survey = surveyed(one, tools, rng, library)
        found.append(Survey(id=name, car=name, unit=survey.unit, rows=survey.rows))
    told = beside(with_sister(found[0], found[1], library, DAY, ("bench", "")), library)
    assert told is not None
    return told


def main(pairs: int = 100, seed: int = 1) -> None:
    """Print of how many pairs anything is told to differ that does not, and how often a true one is."""
    library, rng = load_library(), random.Random(seed)
    false: Counter[str] = Counter()
    surveys = figures = seen = 0
    for _ in range(pairs):
        told = pair(rng, library)
        out = told.says("changed")
        surveys += bool(out)
        figures += len(told.changes)
        false.update(str(c.new.quantity) for c in out)
        longer = pair(rng, library, LONGER)
        seen += any("own-sides/whole" in str(c.new.id) for c in longer.says("changed"))
    print(f"{pairs} pairs, {figures / pairs:.0f} figures each")
    print(f"told to differ though they do not: {surveys / pairs:.1%} of the pairs {dict(false)}")
    print(f"rails {LONGER:g} mm longer told: {seen / pairs:.1%}")


if __name__ == "__main__":
    main(*(int(text) for text in sys.argv[1:]))
