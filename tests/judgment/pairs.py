"""Two surveys of one frame for the tests of change: the first as it came, the second as a re-check
of it.
"""

from __future__ import annotations

import random
from dataclasses import replace
from datetime import timedelta

from tests.bench.frame_tools import Tools, drawn
from tests.bench.frames import Bend, Truth
from tests.bench.simulation import measured
from tests.checks.surveys import library
from wizard.checks.case import Case
from wizard.survey.follow import SAME_AS
from wizard.survey.record import Survey
from wizard.survey.rows import Answer, Reading, State, Tool

AGED = Truth(left=(Bend(3.0),), right=(Bend(3.2),), diamond=0.5)


def first(truth: Truth = AGED, seed: int = 5, unit: str = "in") -> Survey:
    """A whole survey of a frame by an ordinary hand."""
    rng = random.Random(seed)
    return replace(measured(truth, _tools(rng, unit), rng, None), id="first", car="Bramble, tourer")


def _tools(rng: random.Random, unit: str) -> Tools:
    return drawn(rng, unit, dots={}, tape_scale=0.0)


def again(
    old: Survey, new: Survey, tools: str = "same", marks: str = "all-there", by: str = "owner"
) -> Survey:
    """`new` as a re-check of `old`, half a year later."""
    rows = new.table(Tool)
    if tools == "same":
        rows = tuple(replace(t, extra={**t.extra, SAME_AS: t.id}) for t in rows)
    new = replace(
        new,
        id=f"{old.id}-again",
        car=old.car,
        follows=old.id,
        started=old.started + timedelta(days=182),
        rows={**new.rows, "tool": rows},
    )
    new = said(new, "since-last-time/tools", tools)
    return said(said(new, "since-last-time/marks", marks), "about-the-car/by", by)


def said(survey: Survey, prompt: str, answer: str) -> Survey:
    """The survey with an answer more."""
    return survey.with_row(Answer(id=survey.new_id(Answer), prompt=prompt, answer=answer))


def stood(survey: Survey, **fields: str) -> Survey:
    """The survey in another state from its first reading to its last."""
    states = tuple(replace(s, **fields) for s in survey.table(State))  # type: ignore[arg-type]
    return replace(survey, rows={**survey.rows, "state": states})


def longer(survey: Survey, prompt: str, mm: float) -> Survey:
    """The survey with every reading of one prompt that much longer."""
    case = Case(survey, library())
    rows = tuple(
        replace(r, typed=f"{case.value(r) + mm:.6f} mm") if r.prompt == prompt else r
        for r in survey.table(Reading)
    )
    return replace(survey, rows={**survey.rows, "reading": rows})


def only(survey: Survey, *steps: str) -> Survey:
    """The survey with the readings of some steps alone."""
    rows = tuple(r for r in survey.table(Reading) if r.prompt.split("/")[0] in steps)
    return replace(survey, rows={**survey.rows, "reading": rows})


def in_mm(survey: Survey) -> Survey:
    """The survey as somebody with a metric tape would have written it down: the same lengths in
    other words.
    """
    case = Case(survey, library())
    rows = tuple(_metric(r, case) for r in survey.table(Reading))
    tools = tuple(
        replace(t, name="a metric tape", extra={**t.extra, "division": "1 mm"})
        if t.kind == "tape"
        else t
        for t in survey.table(Tool)
    )
    return replace(survey, unit="mm", rows={**survey.rows, "reading": rows, "tool": tools})


def _metric(row: Reading, case: Case) -> Reading:
    prompt = case.prompts[row.prompt]
    if prompt.kind.tilts:
        return row
    mm = case.value(row)
    word = f" {prompt.signs[0 if mm >= 0 else 1]}" if prompt.signs and mm else ""
    return replace(row, typed=f"{abs(mm) if prompt.signs else mm:.6f}{word}")
