"""What is saved where readings that are not needed are left out, and what that costs.

Each survey is typed twice through a sitting, by the same hand at the same frame, with the same error
in the same reading: once as everybody is asked, once with the full record. Frames, hands and stories are those of
`tests.bench.sentences`; so is what counts as true and false. Minutes are the pages' own, by the share
of a page that was answered.

    python -m tests.bench.enough --surveys 300 --jobs 2 --seed 1

`--keep FILE` writes each pair down as it comes in and leaves out those that stand there already, so
that a run of hours may be cut off and taken up again; the file is of one seed. `--no-curve` leaves
out the verdict after each half hour, which takes half of the time.
"""

from __future__ import annotations

import argparse
import json
import math
import multiprocessing
import os
import random
import sys
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import asdict, dataclass, field
from functools import partial
from pathlib import Path
from typing import Any

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # before numpy: small matrices, many processes

from tests.bench.sentences import faults, hands, scoring, story, truth, walk
from tests.bench.sentences.frame import all_layouts
from tests.bench.sentences.one import library
from tests.bench.sentences.scoring import Known
from wizard.judgment.claims import claims_of
from wizard.judgment.sight import sight_of
from wizard.sitting.sitting import Sitting
from wizard.survey.guide import Page, stop_of
from wizard.survey.prompts import Prompt
from wizard.survey.record import Survey
from wizard.survey.rows import Ack, Fold, Reading

HALF_HOUR = 30.0
FULL = "about-the-car/course", "f"
"""What is answered by whoever wants every reading."""


class Hand(hands.Bench):
    """A car and a hand whose every reading has an error of its own, whatever was read before."""

    def read(self, prompt: str, *, careful: bool = False) -> str:
        """What is typed: the nth reading of a prompt is the same in both surveys."""
        counts: Counter[str] = self.__dict__.setdefault("counts", Counter())
        counts[prompt] += 1
        seed = self.__dict__.setdefault("seed", self.rng.random())
        self.rng = random.Random(f"{seed} {prompt} {counts[prompt]}")
        return super().read(prompt, careful=careful)


@dataclass
class Way:
    """One of the two surveys."""

    entries: int
    cautions: int
    readings: int
    minutes: float
    action: str
    false: tuple[str, ...]
    true: tuple[str, ...]
    folds: tuple[str, ...]
    """Steps on which something was left out, and those on which that was taken back."""
    course: tuple[str, ...] = ()
    """The action after each half hour."""


@dataclass
class Pair:
    """A frame, surveyed both ways."""

    number: int
    layout: str
    straight: bool
    slips: bool
    """Whether this hand makes slips."""
    enough: Way = field(default_factory=lambda: Way(0, 0, 0, 0.0, "", (), (), ()))
    full: Way = field(default_factory=lambda: Way(0, 0, 0, 0.0, "", (), (), ()))


def pair(seed: int, number: int, curve: bool = True) -> Pair | str:
    """The frame of that number; where a survey did not come to its end, why not."""
    try:
        rng = random.Random(f"{seed}/{number}")
        layouts = all_layouts()
        frame = faults.drawn(rng, layouts[number % len(layouts)])
        tale, hand = story.told_of(frame, rng), hands.drawn(rng)
        frame = frame.with_(engine_in=hand.engine_in)
        found = Pair(number, frame.made.layout, not frame.faults, bool(hand.slips))
        ways = []
        for said in ({}, dict([FULL])):
            own = random.Random(f"{seed}/{number}/hand")
            car = Hand(**{**hands.bench(frame, hand, own).__dict__})
            ways.append(_way(car, tale, said, own, curve))
        found.enough, found.full = ways
        return found
    except Exception as why:  # what the program cannot bear is told, and ends no run of thousands
        return f"{number}: {type(why).__name__}: {why}"


class Clock:
    """The minutes of the pages as they are answered, and what the verdict was at each half hour."""

    def __init__(self, curve: bool) -> None:
        self.minutes, self.curve = 0.0, curve
        self.kept: list[Survey] = []

    def line(self, sitting: Sitting, prompt: Prompt) -> None:
        """A line was taken."""
        page = stop_of(sitting.walk(), prompt)
        if page is None or prompt.kind.acknowledges:
            return
        self.minutes += _share(page)
        if self.curve and self.minutes >= HALF_HOUR * (len(self.kept) + 1):
            self.kept.append(sitting.survey)


def _share(page: Page) -> float:
    return page.step.minutes / max(page.of, len(page.asks), 1)


def _way(
    car: Hand, tale: story.Story, said: dict[str, str], rng: random.Random, curve: bool
) -> Way:
    clock = Clock(curve)
    typed = walk.typed(car, tale, library(), rng, said, clock.line)
    survey = typed.survey
    sight = sight_of(survey, library())
    verdict = sight.verdict(typed.at)
    claims = claims_of(verdict, sight.layout)
    steps = frozenset(prompt.split("/")[0] for prompt in typed.slipped_prompts.values())
    known = Known(
        car.frame, tale, truth.truth_of(car.frame), typed, steps, car.hand.states == "bare"
    )
    judged = [(c.kind, scoring.verdict_on(c, known)) for c in claims]
    cautions = len(survey.table(Ack))
    return Way(
        entries=typed.lines - cautions,
        cautions=cautions,
        readings=sum(answered_at(survey)),
        minutes=clock.minutes,
        action=f"{verdict.action} {verdict.held}".strip(),
        false=tuple(sorted({kind for kind, right in judged if right is False})),
        true=tuple(sorted({kind for kind, right in judged if right is True})),
        folds=tuple(_folds(survey)),
        course=tuple(_action(s, typed) for s in clock.kept),
    )


def answered_at(survey: Survey) -> Iterator[int]:
    """How many readings stand."""
    yield len(survey.standing(Reading))


def _folds(survey: Survey) -> Iterator[str]:
    for fold in survey.table(Fold):
        step = fold.prompts.split("/")[0]
        yield f"{step} back" if fold.struck else step


def _action(survey: Survey, typed: walk.Typed) -> str:
    verdict = sight_of(survey, library()).verdict(typed.at)
    return f"{verdict.action} {verdict.held}".strip()


# The table -----------------------------------------------------------------------------------------


def table(pairs: Sequence[Pair]) -> Iterator[str]:
    """What was saved, what it cost, and when the verdict was the last one."""
    yield f"{'':26}surveys  entries      readings          minutes     same action"
    straight = [p for p in pairs if p.straight]
    bent = [p for p in pairs if not p.straight]
    groups = [("straight", straight), ("bent", bent)]
    groups += [
        (f"straight, {name}", [p for p in straight if p.layout == name]) for name in all_layouts()
    ]
    for name, group in groups:
        if group:
            yield _row(name, group)
    yield ""
    yield from _false(pairs)
    yield ""
    yield from _folded(straight, bent)
    yield ""
    yield from _curve(straight, bent)


def _row(name: str, group: Sequence[Pair]) -> str:
    def both(what: str) -> tuple[float, float]:
        return tuple(  # type: ignore[return-value]
            sum(getattr(w, what) for w in ways) / len(group)
            for ways in ([p.full for p in group], [p.enough for p in group])
        )

    entries, readings, minutes = both("entries"), both("readings"), both("minutes")
    same = sum(p.full.action == p.enough.action for p in group) / len(group)
    return (
        f"{name:<26}{len(group):>7}  {entries[0]:>5.0f} {entries[1]:>5.0f}"
        f"  {readings[0]:>5.1f} {readings[1]:>5.1f} {readings[1] / readings[0]:>4.0%}"
        f"  {minutes[0]:>5.0f} {minutes[1]:>5.0f}  {same:>9.1%}"
    )


def _false(pairs: Sequence[Pair]) -> Iterator[str]:
    """False claims each way, in percent of surveys: more with less read, and how sure that is."""
    yield f"{'false claims, %':26}   full  enough    more  (95 %)   true: full  enough"
    kinds = {k for p in pairs for way in (p.full, p.enough) for k in (*way.false, *way.true)}
    for kind in sorted(kinds):
        full = [kind in p.full.false for p in pairs]
        less = [kind in p.enough.false for p in pairs]
        more = sum(b and not a for a, b in zip(full, less, strict=True))
        fewer = sum(a and not b for a, b in zip(full, less, strict=True))
        n = len(pairs)
        wide = 1.96 * math.sqrt(max(more + fewer, 1)) / n
        true = [100 * sum(kind in w.true for w in ways) / n for ways in _ways(pairs)]
        yield (
            f"{kind:<26}{100 * sum(full) / n:>7.2f} {100 * sum(less) / n:>7.2f}"
            f" {100 * (more - fewer) / n:>+7.2f}  ±{100 * wide:.2f}"
            f"      {true[0]:>7.2f} {true[1]:>7.2f}"
        )


def _ways(pairs: Sequence[Pair]) -> tuple[list[Way], list[Way]]:
    return [p.full for p in pairs], [p.enough for p in pairs]


def _folded(straight: Sequence[Pair], bent: Sequence[Pair]) -> Iterator[str]:
    yield "left out on             straight    bent   of surveys; back: asked for after all"
    steps = Counter(s for p in (*straight, *bent) for s in set(p.enough.folds))
    for step in sorted(steps):
        shares = [
            sum(step in p.enough.folds for p in group) / max(len(group), 1)
            for group in (straight, bent)
        ]
        yield f"{step:<24}{shares[0]:>8.0%} {shares[1]:>7.0%}"


def _curve(straight: Sequence[Pair], bent: Sequence[Pair]) -> Iterator[str]:
    """How often the verdict after each half hour is the one of the whole survey with every reading."""
    longest = max((len(p.full.course) for p in (*straight, *bent)), default=0)
    if not longest:
        return
    yield "verdict as in the end, after    straight: full  enough    bent: full  enough"
    for n in range(longest):
        shares = [
            _share_of(group, n, way) for group in (straight, bent) for way in ("full", "enough")
        ]
        yield f"{(n + 1) * 30:>4} min {'':24}{shares[0]:>6.0%} {shares[1]:>7.0%} {shares[2]:>12.0%} {shares[3]:>7.0%}"


def _share_of(group: Sequence[Pair], n: int, way: str) -> float:
    """A survey that has ended stays at its end."""
    same = 0
    for one in group:
        found: Way = getattr(one, way)
        action = found.course[n] if n < len(found.course) else found.action
        same += action == one.full.action
    return same / max(len(group), 1)


# From a command line -------------------------------------------------------------------------------


def to_line(found: Pair) -> str:
    """A pair as one line of a file."""
    return json.dumps(asdict(found))


def from_line(line: str) -> Pair:
    """A pair as it was written in one line."""
    data: dict[str, Any] = json.loads(line)
    ways = {
        name: Way(**{k: tuple(v) if isinstance(v, list) else v for k, v in data[name].items()})
        for name in ("enough", "full")
    }
    return Pair(**{**data, **ways})


def pairs_of(
    numbers: range, seed: int, jobs: int, curve: bool, keep: Path | None
) -> Iterator[Pair]:
    """Those that were kept, then the others as they come in."""
    lines = keep.read_text(encoding="utf-8").splitlines() if keep and keep.exists() else []
    kept = {one.number: one for one in map(from_line, lines) if one.number in numbers}
    yield from kept.values()
    work = partial(pair, seed, curve=curve)
    left = [n for n in numbers if n not in kept]
    with multiprocessing.Pool(jobs) as pool:
        for one in pool.imap(work, left, chunksize=2):
            if isinstance(one, str):
                print(f"not to its end: {one}", file=sys.stderr)
                continue
            if keep:
                with keep.open("a", encoding="utf-8") as file:
                    file.write(to_line(one) + "\n")
            yield one


def main() -> None:
    """Run and print."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench.enough")
    parser.add_argument("--surveys", type=int, default=300)
    parser.add_argument("--first", type=int, default=0, help="number of the first frame")
    parser.add_argument("--jobs", type=int, default=2)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--keep", type=Path, help="a file for the pairs, one in a line")
    parser.add_argument("--no-curve", action="store_true", help="no verdict after each half hour")
    args = parser.parse_args()
    numbers = range(args.first, args.first + args.surveys)
    found = list(pairs_of(numbers, args.seed, args.jobs, not args.no_curve, args.keep))
    print("\n".join(table(found)))


if __name__ == "__main__":
    main()
