"""How often what is said of an open thing comes true: `probably not`, `perhaps` or `yes` to whether it
changes what to do; and how soon the verdict is the one of the whole survey.

Frames, hands and looks as in `tests/bench/sentences`, every layout in turn, a quarter of them straight.
Each survey is typed in the order of asking. Where the first page of a topic comes in front its word
is kept with what there is to do then; where its last answer is in, it is seen whether that is another:
another action, or another set of what must be seen to or put right. Time runs by the table.

Run from the project's folder: python -m tests.bench.half_hour --surveys 60 --seed 1
"""

from __future__ import annotations

import argparse
import random
from collections import Counter
from collections.abc import Iterator
from datetime import timedelta
from typing import NamedTuple

from tests.bench.entries import TOGETHER, line_of
from tests.bench.sentences import faults, hands, story
from tests.bench.sentences.frame import all_layouts
from tests.bench.sentences.story import LAYOUT, STANDING
from tests.bench.sentences.walk import BEGUN, Unsaved
from wizard.judgment.fact import GRAVE, facts_of
from wizard.judgment.half_hour import half_hour
from wizard.judgment.sight import verdict_of
from wizard.library import load_library
from wizard.library.shapes import Library
from wizard.sitting.foretold import foretell_with
from wizard.survey.record import Survey
from wizard.survey.topics import matters

HALF = 30
"""Minutes between two looks at the verdict."""
URGENT = ("stop", "loose", "moves", *GRAVE)
MOST = 900


class ToDo(NamedTuple):
    """What there is to do."""

    action: str
    things: frozenset[tuple[str, str]]
    """What must be seen to or put right: its kind and its deed."""


class Kept(NamedTuple):
    """A word that was said of a topic, and what came of it."""

    topic: str
    word: str
    action: bool
    """Whether the action became another."""
    things: bool
    """Whether what must be seen to or put right became other things."""


class Walked(NamedTuple):
    """One survey."""

    kept: tuple[Kept, ...]
    actions: tuple[str, ...]
    """The verdict's action after each half hour; the last is that of the whole survey."""


def to_do(survey: Survey, library: Library) -> ToDo:
    """What there is to do by what is read so far."""
    verdict = verdict_of(survey, library, BEGUN)
    facts = facts_of(verdict, survey, library)
    return ToDo(verdict.action, frozenset((f.kind, f.deed) for f in facts if f.deed in URGENT))


def walked(seed: int, number: int, library: Library) -> Walked:
    """The survey of that number."""
    rng = random.Random(f"half hour {seed} {number}")
    layout = sorted(all_layouts())[number % len(all_layouts())]
    frame = faults.drawn(rng, layout)
    tale, car = story.told_of(frame, rng), hands.bench(frame, hands.REFERENCE, rng)
    answers = {**STANDING, "about-the-car/unit": "i", "about-the-car/layout": LAYOUT[layout]}
    answers |= {**TOGETHER, **tale.answers}
    clock, start = [BEGUN], Survey(id="half-hour", started=BEGUN, layout=layout)
    foretell = foretell_with(library)
    sitting = Unsaved(library, survey=start, now=lambda: clock[0], foretell=foretell)
    said: dict[str, tuple[str, ToDo]] = {}
    kept: list[Kept] = []
    actions: list[str] = []
    page = None
    for _ in range(MOST):
        prompt, stop = sitting.prompt, sitting.page()
        if prompt is None or stop is None:
            break
        if stop.step is not page:
            page = stop.step
            _note(sitting.survey, library, str(page.id), said)
        share = stop.step.minutes / max(len(stop.asks), 1)
        clock[0] += timedelta(minutes=min(share, 19.0))
        reply = sitting.enter(line_of(sitting.survey, prompt, answers, car))
        if reply.kind == "doubted":
            reply = sitting.enter("")
        if reply.kind == "refused":
            raise LookupError(f"{prompt.id}: {reply.says}")
        kept += _came_of_it(sitting.survey, library, said)
        while (clock[0] - BEGUN) >= timedelta(minutes=HALF * (len(actions) + 1)):
            actions.append(to_do(sitting.survey, library).action)
    return Walked(tuple(kept), (*actions, to_do(sitting.survey, library).action))


def _note(survey: Survey, library: Library, step: str, said: dict[str, tuple[str, ToDo]]) -> None:
    """What is said of the topic whose first page is in front."""
    for one in half_hour(survey, library, BEGUN).open:
        if step in map(str, one.topic.steps) and one.topic.id not in said:
            said[one.topic.id] = one.changes, to_do(survey, library)


def _came_of_it(
    survey: Survey, library: Library, said: dict[str, tuple[str, ToDo]]
) -> Iterator[Kept]:
    """What came of the topics that were finished with this answer."""
    from wizard.survey.guide import guide_of

    waiting = [id for id, (word, _) in said.items() if word]
    if not waiting:
        return
    for matter in matters(survey, library, guide_of(survey, library).walk(BEGUN)):
        id = matter.topic.id
        if id in waiting and not matter.left:
            word, before = said[id]
            said[id] = "", before
            after = to_do(survey, library)
            yield Kept(id, word, after.action != before.action, after.things != before.things)


def table(surveys: list[Walked]) -> Iterator[str]:
    """How often each word came true, by topic; and how soon the verdict was the last one."""
    kept = [k for one in surveys for k in one.kept]
    for word in ("no", "perhaps", "yes"):
        some = [k for k in kept if k.word == word]
        if some:
            action, things = sum(k.action for k in some), sum(k.things for k in some)
            yield f"{word:<8} {len(some):>4}  another action {action}  other things to do {things}"
    by = Counter((k.topic, k.word) for k in kept)
    for (topic, word), count in sorted(by.items()):
        some = [k for k in kept if (k.topic, k.word) == (topic, word)]
        action, things = sum(k.action for k in some), sum(k.things for k in some)
        yield f"  {topic:<8} {word:<8} {count:>4}  {action:>4} {things:>4}"
    for n in range(max(len(one.actions) for one in surveys) - 1):
        there = [one.actions for one in surveys if len(one.actions) > n + 1]
        same = sum(a[n] == a[-1] for a in there)
        yield f"after {HALF * (n + 1):>3} min the verdict of the whole survey in {same} of {len(there)}"


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench.half_hour")
    parser.add_argument("--surveys", type=int, default=60)
    parser.add_argument("--seed", type=int, default=1)
    args = parser.parse_args()
    library = load_library()
    found = [walked(args.seed, n, library) for n in range(args.surveys)]
    print("\n".join(table(found)))


if __name__ == "__main__":
    main()
