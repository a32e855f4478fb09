"""Surveys off the model for each kind of frame, and the same survey again with no more than its
short list.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from functools import cache

from tests.checks.surveys import TOOLS, library
from wizard.judgment.blind import Bench
from wizard.library.paths import samples_dir
from wizard.library.places import step_of
from wizard.model.bent import Bent
from wizard.survey.file import load
from wizard.survey.record import Survey
from wizard.survey.rows import Answer, Reading
from wizard.survey.state import with_tool, with_tool_start

DAY = datetime(2027, 1, 1)
LAYOUTS = (
    *("straight-ladder", "leaf-ladder-light", "leaf-ladder-large", "a-frame"),
    *("double-drop", "x-braced", "boxed-perimeter", "torque-boxes", "tube-ladder"),
    *("cruciform", "wooden-sills", "backbone"),
)
SAMPLES = tuple(sorted(p.stem for p in samples_dir().glob("*.toml")))


@cache
def bench(layout: str) -> Bench:
    """The model of a kind of frame."""
    return Bench(library().layouts[layout], library())


def sound(layout: str) -> Survey:
    """A whole survey of a straight frame of that kind: no noise, but the doubts of ordinary tools."""
    return surveyed(layout, Bent())


def faulty(layout: str, fault: str) -> Survey:
    """The same with one authored fault."""
    return surveyed(layout, bench(layout).bend(bench(layout).faults[fault].bend))


def surveyed(layout: str, bent: Bent) -> Survey:
    """Every reading that everybody is asked for, as often as the steps ask."""
    survey, steps = bench(layout).survey(bent), library().steps
    rows = [r for r in survey.table(Reading) if not steps[step_of(r.prompt)].called]
    said = [a for a in survey.table(Answer) if not steps[step_of(a.prompt)].called]
    once = replace(survey, rows={**survey.rows, "reading": (), "answer": tuple(said)})
    for name in TOOLS:
        once = with_tool(once, library().tools[name], DAY, "owner")
    once = with_tool_start(once, "taken-off", DAY, "owner")
    for row in rows:
        prompt = bench(layout).prompts[row.prompt]
        tool = once.tool(prompt.tool or "tape")
        for _ in range(prompt.repeats):
            once = once.with_row(
                replace(row, id=once.new_id(Reading), tool=tool.id if tool else "")
            )
    return replace(once, id=f"sound-{layout}", started=DAY)


def sample(name: str) -> Survey:
    """A sample survey."""
    return load(samples_dir() / f"{name}.toml")


def listed(prompt: str, entries: tuple[str, ...]) -> bool:
    """Whether a prompt is on the list."""
    return any(f"{prompt}/".startswith(f"{entry}/") for entry in entries)


def again(old: Survey, entries: tuple[str, ...] = ()) -> Survey:
    """A re-check that reads every figure of last time once more: of all prompts, or of those on a
    list.
    """
    rows = tuple(r for r in old.table(Reading) if not entries or listed(r.prompt, entries))
    return replace(old, id=f"{old.id}-again", follows=old.id, rows={**old.rows, "reading": rows})
