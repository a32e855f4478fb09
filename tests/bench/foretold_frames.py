"""Sound surveys reading by reading, for what is foretold at the prompt: every kind of frame, in
many sizes.

Plain geometry on the layouts' own round figures, scaled and bent; it shares no code with the
program's model. Straight ladders come off the simulation's frames too, with its hands, scales, age
and blows.
"""

from __future__ import annotations

import itertools
import math
import random
from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import cache
from pathlib import Path

from tests.bench import frame_draw, frames
from tests.bench.frame_scales import say_bubble, say_gap, say_length
from tests.bench.frame_tools import Tools, drawn
from tests.bench.simulation import AT, blank
from wizard.checks.case import Case
from wizard.library import load_library
from wizard.library.shapes import Layout
from wizard.survey.file import load
from wizard.survey.prompts import Prompt, expand
from wizard.survey.record import Survey, number_of
from wizard.survey.rows import Reading

SMALLEST, LARGEST = 0.75, 1.3
"""Size of a car's frame beside the round figures of its kind."""
Say = Callable[[Prompt], str]
Typed = Iterator[tuple[Survey, Prompt, str]]
"""Each reading: the survey as it stands before it, what is asked, what is typed."""


@cache
def asked(layout: str, course: str) -> tuple[Prompt, ...]:
    """Every measuring prompt of a course that is asked of everybody, in the order of asking."""
    library = load_library()
    steps = (s for id in library.courses[course] if not (s := library.steps[id]).called)
    fitting = (s for s in steps if not s.layouts or layout in s.layouts)
    prompts = itertools.chain.from_iterable(
        expand(s, library.layouts[layout], library.tools) for s in fitting
    )
    return tuple(p for p in prompts if p.kind.measures and p.step != "panel-gaps")


def surveyed(layout: str, course: str, unit: str, say: Say) -> Typed:
    """One survey from its first reading to its last."""
    survey = replace(blank(unit), layout=layout)
    kinds = {t.kind: t.id for t in survey.rows["tool"]}  # type: ignore[attr-defined]
    for prompt in asked(layout, course):
        for _ in range(prompt.repeats):
            text, tool = say(prompt), kinds.get(prompt.tool, "")
            yield survey, prompt, text
            id = survey.new_id(Reading)
            survey = survey.with_row(
                Reading(id=id, at=AT, prompt=prompt.id, typed=text, tool=tool, state="s1")
            )


def sampled(path: Path) -> Typed:
    """A saved survey's readings as they were typed."""
    whole = load(path)
    prompts = Case(whole, load_library()).prompts
    for row in whole.table(Reading):
        before = {
            k: tuple(r for r in v if number_of(r.id) < number_of(row.id))
            for k, v in whole.rows.items()
        }
        yield replace(whole, rows=before), prompts[row.prompt], row.typed


def aged(rng: random.Random) -> Typed:
    """A straight ladder of the simulation, near its round figures, with all its bends."""
    truth, unit = frame_draw.frame(rng), rng.choice(("in", "mm"))
    tools = drawn(rng, unit)
    course = rng.choice(("whole", "short"))
    return surveyed(
        "straight-ladder", course, unit, lambda p: frames.reading(truth, p.id, rng, tools)
    )


def drawn_survey(layout: Layout, rng: random.Random, apart: bool = False) -> Typed:
    """A frame of any kind and size. apart: its lengths and its widths scaled each on its own."""
    unit, course = rng.choice(("in", "mm")), rng.choice(("whole", "short"))
    return surveyed(layout.id, course, unit, hand(layout, rng, unit, apart))


def hand(layout: Layout, rng: random.Random, unit: str, apart: bool) -> Say:
    """What is read off one frame that is sound, or bent as frames are."""
    long = rng.uniform(SMALLEST, LARGEST)
    wide = rng.uniform(SMALLEST, LARGEST) if apart else long
    at = _points(layout, rng, long, wide)
    axles = {
        e: layout.figures[f"{e}_axle_x"] * long + rng.uniform(-40.0, 40.0)
        for e in ("front", "rear")
    }
    block, low, lean = (
        rng.choice((25.4, 38.0, 50.8, 75.0, 100.0)),
        rng.uniform(-3.0, 14.0),
        rng.gauss(0.0, 0.008),
    )
    plain = {
        "block": block,
        "span": (layout.string[1] - layout.string[0]) * long * rng.uniform(0.92, 1.05),
        "clean": layout.figures["rail_thickness"] * rng.uniform(0.8, 1.2),
        "pitted": layout.figures["rail_thickness"] * rng.uniform(0.4, 0.8),
    }
    tools = Tools() if unit == "in" else drawn(random.Random(1), "mm")

    def say(prompt: Prompt) -> str:
        what = prompt.id.rsplit("/", 1)[-1]
        if prompt.kind.tilts:
            return say_bubble(lean + rng.gauss(0.0, 0.003), tools.level_step, "div")
        if prompt.kind.offsets:
            off = rng.gauss(0.0, 1.0 if what == "closing" else 10.0)
            return say_gap(off, tools.rule_step, unit, (prompt.signs[0], prompt.signs[1]))
        if prompt.tool == "caliper":
            return f"{plain[prompt.id.split('/')[1] if what in ('left', 'right') else what]:.1f} mm"
        if prompt.start and prompt.end:
            true = math.dist(at[prompt.start], at[prompt.end])
        elif prompt.step == "wheelbase":
            true = _axle(layout, at, axles, what)
        else:
            true = plain.get(what, block + max(low + rng.gauss(0.0, 4.0), 6.0 - block))
        return say_length(
            true + rng.gauss(0.0, 0.5),
            tools.tape_step if prompt.tool == "tape" else tools.rule_step,
            unit,
        )

    return say


def _points(
    layout: Layout, rng: random.Random, long: float, wide: float
) -> dict[str, tuple[float, float, float]]:
    """Every point: scaled, each place a little its own way, a rail pushed back, the front swayed,
    the tips bent.
    """
    push, sway, found = rng.uniform(-15.0, 15.0), rng.uniform(-12.0, 12.0), {}
    for p in layout.places:
        end = p.id in ("tip", "nose")
        x = p.x * long * (rng.uniform(0.85, 1.15) if end else rng.uniform(0.95, 1.05))
        half = p.half_width * wide * rng.uniform(0.94, 1.06)
        for point, side in zip(p.points, p.sides, strict=True):
            sign = {"left": -1.0, "right": 1.0}.get(side, 0.0)
            bent = (rng.uniform(-15.0, 15.0), rng.uniform(-15.0, 15.0)) if end else (0.0, 0.0)
            found[point] = (
                x + sign * push / 2 + bent[0],
                sign * half + sway * (p.x <= 0) + bent[1],
                p.z,
            )
    return found


def _axle(
    layout: Layout, at: dict[str, tuple[float, float, float]], axles: dict[str, float], what: str
) -> float:
    end, _, side = what.partition("-axle-")
    if not side:
        return axles["rear"] - axles["front"] + (8.0 if what == "left" else 0.0)
    pairs = sorted(
        (p for p in layout.places if len(p.sides) == 2 and p.id != "tip"), key=lambda p: p.x
    )
    return abs(at[f"{pairs[0 if end == 'front' else -1].id}-{side}"][0] - axles[end]) + 1.0
