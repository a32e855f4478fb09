"""How often the program's give-or-take holds the truth, over frames drawn at random. It should be
19 times in 20.

Run from the project's folder: python -m tests.bench.frame_coverage [frames] [seed] [slips, such as
0.02]
"""

from __future__ import annotations

import random
import sys
from collections import defaultdict
from collections.abc import Iterator
from datetime import datetime
from fractions import Fraction

from tests.bench.frame_draw import frame
from tests.bench.frame_tools import Tools, drawn
from tests.bench.frame_truths import expected
from tests.bench.frames import Truth, reading
from wizard.judgment.bands import judge
from wizard.library import load_library
from wizard.library.shapes import Library
from wizard.survey.answer import answer
from wizard.survey.prompts import Prompt, expand
from wizard.survey.record import Survey
from wizard.survey.rows import Reading

DAY = datetime(2026, 1, 1, 9)
CHOSEN = {
    "about-the-car/unit": "in",
    "about-the-car/layout": "straight-ladder",
    "state/engine": "in",
    "state/body": "off",
    "tools/tape": "ordinary-tape",
    "tools/start": "taken-off",
    "tools/ruler": "steel-ruler",
    "tools/string": "masons-line-hard",
    "tools/level": "carpenters-level",
    "tools/bar": "home-made-bar",
    "set-supports/supports": "stands-under-axles",
    "string-set-up/where": "above",
    "string-set-up/steady": "not-tried",
}


def surveyed(truth: Truth, tools: Tools, rng: random.Random, library: Library) -> Survey:
    """Every reading that the steps can ask, with the choices above; looks and cautions are left
    out.
    """
    survey = Survey(id="bench")
    for prompt in prompts(library):
        if prompt.id in CHOSEN:
            taken = answer(survey, prompt, CHOSEN[prompt.id], at=DAY, by="owner")
            assert isinstance(taken, Survey), taken
            survey = taken
    rows = tuple(_rows(survey, truth, tools, rng, library))
    return Survey(id="bench", unit=survey.unit, rows={**survey.rows, "reading": rows})


def prompts(library: Library) -> Iterator[Prompt]:
    """Every prompt of the whole course that is asked of everybody."""
    for step in (id for id in library.courses["whole"] if not library.steps[id].called):
        yield from expand(library.steps[step], library.layouts["straight-ladder"], library.tools)


def _rows(
    survey: Survey, truth: Truth, tools: Tools, rng: random.Random, library: Library
) -> Iterator[Reading]:
    number = survey.last_number()
    for prompt in prompts(library):
        if not prompt.kind.measures or prompt.step == "diagonals-below":
            continue
        chosen = survey.tool(prompt.tool)
        for _ in range(prompt.repeats):
            number += 1
            yield Reading(
                id=f"r{number}",
                at=DAY,
                by="owner",
                prompt=prompt.id,
                typed=reading(truth, prompt.id, rng, tools),
                tool=chosen.id if chosen else "",
                state=survey.state().id,
            )


def main(frames: int = 100, seed: int = 1, slips: float = 0.0) -> None:
    """Print, for each quantity, how many there were, the share held, and the mean and spread of
    (found - true) / u.
    """
    from wizard.checks.run import findings_of

    library, rng = load_library(), random.Random(seed)
    off: dict[str, list[tuple[float, float]]] = defaultdict(list)
    for _ in range(frames):
        truth, tools = frame(rng), drawn(rng, "in", slips=slips, tape_step=Fraction(1, 16))
        survey = surveyed(truth, tools, rng, library)
        for finding in findings_of(survey, library):
            true = expected(truth, tools, finding.id)
            if true is not None and finding.number.u > 0:
                judged = judge(finding, survey, library)
                off[finding.quantity].append(((finding.value - true) / finding.number.u, judged.k))
    for quantity, found in sorted(off.items()):
        held = sum(abs(z) <= k for z, k in found) / len(found)
        mean = sum(z for z, _ in found) / len(found)
        spread = (sum((z - mean) ** 2 for z, _ in found) / len(found)) ** 0.5
        print(
            f"{quantity:16} {len(found):6}  held {held:6.1%}  mean {mean:+.2f}  spread {spread:.2f}"
        )


if __name__ == "__main__":
    main(*(kind(text) for kind, text in zip((int, int, float), sys.argv[1:], strict=False)))
