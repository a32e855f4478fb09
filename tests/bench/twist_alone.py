"""The twist by itself: how often its 95 % interval holds the truth, by what the level is and how it is
read, at each place and as it is told.

    python -m tests.bench.twist_alone --surveys 8000 --seed 1

Frames, hands and the string are those of the sentences bench, which share nothing with `wizard/`. Of each
survey only the level and the string are read, and no line is typed through a sitting, so that thousands
take a minute. A level is what its kind says it is to some percent; nobody's hand is better than a quarter
of a line. Counted apart: places within the string's blocks and beyond them, what is told as more than its
doubt, and intervals of which the string took something off.
"""

from __future__ import annotations

import argparse
import math
import random
from collections.abc import Iterator, Mapping
from dataclasses import replace
from functools import cache
from typing import NamedTuple

from tests.bench.rates import HEAD, Count, Table
from tests.bench.sentences import faults, hands, limits, one, truth
from tests.bench.sentences.frame import all_layouts
from tests.bench.sentences.hands import RULERS, Bench, Hand
from wizard.checks.finding import Finding
from wizard.checks.notes import Against, SagLifts, SagTakenOut
from wizard.checks.run import findings_of
from wizard.judgment.bands import judge
from wizard.library import load_library
from wizard.library.shapes import Library
from wizard.survey.prompts import expand
from wizard.survey.record import Survey
from wizard.survey.rows import Answer, Reading, State
from wizard.survey.state import with_tool


class Kind(NamedTuple):
    """A level, as a hand reads it."""

    tool: str
    """As content/tools.toml names it."""
    slope: float
    """Of one of what is said: a line, a degree, a mm of card."""
    step: float
    """To which it is said."""
    word: str
    """Behind the figure."""
    off: float = 0.03
    """Share by which one of them is more or less, one standard deviation."""


LEVELS = {
    "lines": Kind("carpenters-level", hands.DIVISION, 0.25, "", 0.05),
    "fine": Kind("machinists-level", 0.0005, 0.25, "", 0.05),
    "gauge": Kind("angle-gauge", math.radians(1.0), 0.1, "°", 0.0),
    "cards": Kind("level-with-shims", 1.0 / 600.0, 0.5, " mm", 0.01),
}
SCATTERS: Mapping[str, tuple[float, float]] = {
    "lines": (0.07, 0.12),
    "fine": (0.07, 0.12),
    "gauge": (0.04, 0.07),
    "cards": (0.1, 0.2),
}
"""How a steady and a hasty hand scatter, before it is rounded to the step."""
HANDS = ("steady", "hasty")


@cache
def library() -> Library:
    """The content, read once."""
    return load_library()


class Car(NamedTuple):
    """A frame, a hand under its string, and a level."""

    bench: Bench
    kind: Kind
    scatter: float
    off: float
    """What one line is in truth, as a share of what it should be."""

    def level(self, prompt: str) -> str:
        """What is typed for one bubble."""
        slope = self.bench.true(prompt)[0] / (self.kind.slope * self.off)
        marks = math.floor((slope + self.bench.rng.gauss(0.0, self.scatter)) / self.kind.step + 0.5)
        if not marks:
            return "0"
        said = f"{abs(marks) * self.kind.step:.6g}{self.kind.word}"
        return f"{said} {'left' if marks > 0 else 'right'}"


def drawn(layout: str, level: str, hand: str, rng: random.Random) -> Car:
    """A car of that kind; how it leans is what such a level can still show."""
    kind, by = LEVELS[level], HANDS.index(hand)
    scale, s = rng.choice(list(RULERS)), (0.35, 0.65)[by]
    states = rng.choices(("both", "loaded", "unloaded"), (40, 50, 10))[0]
    who = Hand(hand, scale, 0.9, s, states=states)
    frame = faults.drawn(rng, layout)
    lean = frame.lean * (0.2 if level == "fine" else 1.0)
    frame = frame.with_(engine_in=who.engine_in, lean=lean)
    bench = hands.bench(frame, who, rng)
    bench.level_own *= 0.2 if level == "fine" else 1.0
    return Car(bench, kind, SCATTERS[level][by], rng.gauss(1.0, kind.off))


@cache
def begun(layout: str, ruler: str, level: str) -> Survey:
    """Before anything is read: what is to hand, and how the car stands with and without the weight."""
    unit, _, rule = RULERS[ruler]
    survey = Survey(id="bench", layout=layout, unit="in" if unit == "in" else "mm")
    for tool in ("ordinary-tape", rule, "masons-line-hard", level):
        survey = with_tool(survey, library().tools[tool], survey.started, "owner")
    rows = (
        Answer(id="a1", prompt="string-set-up/where", answer="above"),
        State(id="in", engine="in", body="off", supports="stands-under-axles"),
        State(id="out", engine="out", body="off", supports="stands-under-axles"),
    )
    for row in rows:
        survey = survey.with_row(row)
    return survey


def read(car: Car) -> Survey:
    """The level at all its places and back at the first, the string in the states of the hand."""
    frame, hand = car.bench.frame, car.bench.hand
    start = begun(frame.made.layout, hand.ruler, car.kind.tool)
    tools = {t.kind: t.id for t in start.rows["tool"]}
    rows: list[Reading] = []

    def take(prompt: str, typed: str, tool: str, state: str) -> None:
        id = f"r{len(rows) + 1}"
        rows.append(Reading(id=id, prompt=prompt, typed=typed, tool=tools[tool], state=state))

    stands = "in" if hand.engine_in else "out"
    for prompt, times in asked("level", frame.made.layout):
        for _ in range(times):
            take(prompt, car.level(prompt), "level", stands)
    take("string-set-up/block", car.bench.read("string-set-up/block"), "ruler", stands)
    take("string-set-up/span", car.bench.read("string-set-up/span"), "tape", stands)
    for prompt, times in asked("widths", frame.made.layout):
        for _ in range(times):
            take(prompt, car.bench.read(prompt), "tape", stands)
    for step, state in (("sag-loaded", "in"), ("sag-unloaded", "out")):
        if hand.states in ("both", step.removeprefix("sag-")):
            for prompt, times in asked(step, frame.made.layout):
                for _ in range(times):
                    take(prompt, car.bench.read(prompt), "ruler", state)
    return replace(start, rows={**start.rows, "reading": tuple(rows)})


@cache
def asked(step: str, layout: str) -> tuple[tuple[str, int], ...]:
    """What a page reads on that kind of frame, and how often."""
    prompts = expand(library().steps[step], library().layouts[layout], library().tools)
    return tuple((str(p.id), p.repeats) for p in prompts if p.kind.measures)


# What is told -------------------------------------------------------------------------------------


class Seen(NamedTuple):
    """One twist of one survey."""

    held: bool
    """Whether the interval by which it is judged holds the truth."""
    held_told: bool
    """Whether the one that is told does."""
    is_told: bool
    """Whether it stands out of its doubt and is not settled as one to leave: of that nothing is told."""
    by_string: bool
    """Whether the string took something off it."""
    false: bool
    """Told past `leave it`, where half of that limit is not there."""
    fine: bool | None
    """Of a frame that is not twisted by half that limit, whether it is settled as one that asks for nothing."""


def seen(car: Car) -> Iterator[Seen]:
    """Each twist of a survey of the car, whether of the rails or of the horns."""
    survey, values = read(car), truth.truth_of(car.bench.frame)
    for finding in findings_of(survey, library()):
        if finding.quantity in ("twist", "horn-height"):
            true = values[_true(finding), str(finding.where)]
            judged = judge(finding, survey, library())
            off = abs(finding.value - true)
            half = (limits.first("twist", 1.0) or math.inf) / 2
            yield Seen(
                held=off <= judged.half_width,
                held_told=off <= judged.told_half,
                is_told=judged.is_told and judged.bands != ("leave",),
                by_string=any(p.name.startswith("hand:sag") for p in finding.number.parts),
                false=judged.established not in ("", "leave") and abs(true) < half,
                fine=judged.worst in one.FINE if abs(true) < half else None,
            )


def _true(finding: Finding) -> str:
    if finding.note(SagLifts) is not None:
        return "horn-height"
    against = finding.note(Against)
    assert against is not None
    alone = "alone" if finding.note(SagTakenOut) else "all"
    return f"twist-{alone}-{against.place}"


def main() -> None:
    """Run and print."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench.twist_alone")
    parser.add_argument("--surveys", type=int, default=8000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--layout", action="append")
    parser.add_argument("--level", action="append", choices=LEVELS)
    args = parser.parse_args()
    layouts, levels = args.layout or all_layouts(), args.level or list(LEVELS)
    cells = [(y, v, h) for y in layouts for v in levels for h in HANDS]
    each, table = math.ceil(args.surveys / len(cells)), Table()
    for layout, level, hand in cells:
        for n in range(each):
            rng = random.Random(f"{args.seed} {layout} {level} {hand} {n}")
            for read_of in seen(drawn(layout, level, hand, rng)):
                _count(table, read_of, f"{level} {hand}", layout)
    print(HEAD)
    print("\n".join(table.lines()))


def _count(table: Table, one: Seen, hand: str, layout: str) -> None:
    table.add("missed: 95 %", hand, layout, Count(not one.held, 1))
    table.add("false: told past leave it", hand, layout, Count(one.false, 1))
    if one.fine is not None:
        table.add("seen: straight, settled as fine", hand, layout, Count(one.fine, 1))
    if one.by_string:
        table.add("missed: 95 %, string off", hand, layout, Count(not one.held, 1))
    if one.is_told:
        table.add("missed: as told", hand, layout, Count(not one.held_told, 1))


if __name__ == "__main__":
    main()
