"""Surveys made for tests: readings by prompt, or a whole sitting driven by typed text."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import datetime
from functools import cache
from pathlib import Path
from unittest import mock

from wizard.checks.case import Case
from wizard.checks.finding import Finding
from wizard.checks.notes import Note
from wizard.checks.run import findings_of
from wizard.library import load_library
from wizard.library.shapes import Library, Quantity
from wizard.library.templates import misfit
from wizard.math.uncertain import Uncertain
from wizard.sitting.commands import handle
from wizard.sitting.sitting import Sitting
from wizard.survey.prompts import expand
from wizard.survey.record import Survey, Unit
from wizard.survey.rows import Answer, Look, OwnLimit, Reading, State
from wizard.survey.state import with_tool

DAY = datetime(2026, 4, 11, 9, 0)
TOOLS = ("ordinary-tape", "steel-ruler", "masons-line-hard", "carpenters-level", "home-made-bar")
FLAT = {"string-set-up/block": ["2"], "string-set-up/span": ["85 7/8"]}
"""The string set up: blocks of 2 in, 2181 mm apart."""


@cache
def library() -> Library:
    """The shipped content, read once."""
    return load_library()


def found(
    quantity: str,
    where: str,
    number: Uncertain,
    *notes: Note,
    readings: tuple[str, ...] = (),
    limit: str = "",
    unit: str = "",
) -> Finding:
    """A finding of the content's own quantity; of one in another unit where that is given."""
    of = library().quantities.get(quantity) or Quantity(quantity, unit or "mm")
    of = replace(of, unit=unit) if unit else of
    return Finding(of, where, number, readings, limit, notes)


def survey_of(
    readings: Mapping[str, Iterable[str]],
    *,
    unit: Unit = "in",
    tools: Iterable[str] = TOOLS,
    answers: Mapping[str, str] | None = None,
) -> Survey:
    """A survey with these readings by prompt, taken with ordinary tools."""
    survey = Survey(id="test", car="Bramble", started=DAY, unit=unit)
    for tool in tools:
        survey = with_tool(survey, library().tools[tool], DAY, "owner")
    for prompt, answer in (answers or {}).items():
        survey = survey.with_row(Answer(id=survey.new_id(Answer), prompt=prompt, answer=answer))
    for prompt, typed in readings.items():
        survey = add(survey, prompt, *typed)
    return survey


def add(survey: Survey, prompt: str, *typed: str, tool: str | None = None) -> Survey:
    """The survey with readings more, taken with the prompt's own kind of tool or the one named."""
    found = survey.tool(Case(survey, library()).prompts[prompt].tool)
    for text in typed:
        row = Reading(
            id=survey.new_id(Reading),
            at=DAY,
            prompt=prompt,
            typed=text,
            tool=tool or (found.id if found else ""),
        )
        survey = survey.with_row(row)
    return survey


def with_looks(
    survey: Survey, seen: str = "bare", answer: str = "nothing-found", share: float = 1.0
) -> Survey:
    """The survey with that look at every place of the frame (or the first share of them), not where
    a jack goes and not on a page that is asked only once it is called for.
    """
    layout = library().layouts["straight-ladder"]
    looks = [s for s in library().steps.values() if s.part == "look" and not s.called]
    steps = [s for s in looks if not misfit(s.needs, layout)]
    prompts = [p.id for s in steps for p in expand(s, layout) if p.kind.looks]
    for prompt in prompts[: round(share * len(prompts))]:
        survey = survey.with_row(
            Look(id=survey.new_id(Look), prompt=prompt, seen=seen, answer=answer)
        )
    return survey


BARE = {"supports": "three-points", "engine": "out", "body": "off"}
"""The bare frame on three points: the one state in which a twist is believed."""


def level_on(survey: Survey, **state: str) -> Survey:
    """The survey with the level read in this state, by default the bare frame on three points; it
    stands so now.
    """
    row = State(id=survey.new_id(State), at=DAY, **(BARE | state))
    read = [r for r in survey.standing(Reading) if r.prompt.startswith("level/")]
    survey = survey.with_row(row)
    for reading in read:
        survey = survey.with_replaced(replace(reading, state=row.id))
    return survey


def with_limit(survey: Survey, limit: str, band: str, upto: str, source: str = "") -> Survey:
    """The survey with an owner's limit."""
    row = OwnLimit(id=survey.new_id(OwnLimit), limit=limit, band=band, upto=upto, source=source)
    return survey.with_row(row)


def retyped(survey: Survey, unit: Unit) -> Survey:
    """The survey with another unit for bare numbers; what was typed carries its own."""
    return replace(survey, unit=unit)


def case_of(readings: Mapping[str, Iterable[str]], **more: object) -> Case:
    """The same, ready for the checks."""
    return Case(survey_of(readings, **more), library())  # type: ignore[arg-type]


def findings(survey: Survey) -> dict[str, Finding]:
    """Every finding by id."""
    return {f.id: f for f in findings_of(survey, library())}


def sit(
    folder: Path,
    lengths: Mapping[str, Iterable[str]],
    choices: Mapping[str, str],
    look: str = "b o",
) -> Sitting:
    """A whole sitting by typed text: the readings given, the choices given (else the first), the
    rest skipped.
    """
    from wizard.checks.foretell import foretelling

    left = {prompt: list(typed) for prompt, typed in lengths.items()}
    sitting = Sitting(library(), folder=folder, now=lambda: DAY, foretell=foretelling(library()))
    while sitting.ask is not None:
        prompt = sitting.ask.prompt
        if prompt.kind.acknowledges:
            text = "understood"
        elif prompt.kind.gathers:
            text = look.partition(" ")[0] or "/skip not today"
        elif prompt.kind.looks:
            text = choices.get(prompt.id, look) or "/skip not today"
        elif prompt.kind.tells:
            text = choices.get(prompt.id, "-" if prompt.optional else "Bramble")
        elif prompt.kind.chooses:
            text = choices.get(prompt.id, prompt.choices[0].letter)
        else:
            text = left[prompt.id].pop(0) if left.get(prompt.id) else "/skip not today"
        with mock.patch(
            "os.fsync"
        ):  # A test's disk may lose power: flushing it 200 times takes ten seconds.
            reply = handle(sitting, text)
        assert reply.kind in ("taken", "ended"), (prompt.id, text, reply)
    assert not any(left.values()), {k: v for k, v in left.items() if v}
    return sitting


LADDER = {
    "tip-left": (-450.0, -295.0),
    "tip-right": (-450.0, 295.0),
    "front-left": (0.0, -310.0),
    "front-right": (0.0, 310.0),
    "center-left": (1000.0, -365.0),
    "center-right": (1000.0, 365.0),
    "rear-left": (2200.0, -430.0),
    "rear-right": (2200.0, 430.0),
}
"""A square frame as x rearward and y to the car's right, mm: the tests' own, to tape distances
from.
"""


def moved(
    points: Mapping[str, tuple[float, float]], **by: tuple[float, float]
) -> dict[str, tuple[float, float]]:
    """The same points with some moved; `front_right=(6, 0)` moves front-right 6 mm rearward."""
    out = dict(points)
    for name, (dx, dy) in by.items():
        x, y = out[name.replace("_", "-")]
        out[name.replace("_", "-")] = (x + dx, y + dy)
    return out


def taped(
    points: Mapping[str, tuple[float, float]], steps: Iterable[str] = ()
) -> dict[str, list[str]]:
    """What a perfect tape reads at every prompt between two of the points, in typed mm; steps: only
    these.
    """
    layout, found = library().layouts["straight-ladder"], {}
    for step in library().steps.values():
        for p in expand(step, layout) if not steps or step.id in steps else ():
            if p.kind.spans and p.start in points and p.end in points:
                (x1, y1), (x2, y2) = points[p.start], points[p.end]
                found[p.id] = [f"{((x2 - x1) ** 2 + (y2 - y1) ** 2) ** 0.5:.5f} mm"]
    return found


def bent() -> Survey:
    """Nearly everything read and much of it wrong: right rail back, right horn out, sag, twist of
    the bare frame.
    """
    readings = taped(moved(LADDER, front_right=(7, 0), tip_right=(12, 9), center_right=(2, 0)))
    readings |= {"string-set-up/block": ["50 mm"], "string-set-up/span": ["2180 mm"]}
    depths = {
        "front-crossmember": 0.0,
        "mid-engine": 1.5,
        "engine-mount": 3.0,
        "center": 2.0,
        "behind": 0.0,
    }
    for side, times in (("left", 1), ("right", 3)):
        for station, depth in depths.items():
            readings[f"sag-loaded/{station}/{side}"] = [f"{50 + 1.2 * times * depth:.2f} mm"]
            readings[f"sag-unloaded/{station}/{side}"] = [f"{50 + times * depth:.2f} mm"]
    for place, read in (
        ("horns", "1 left"),
        ("front-crossmember", "0"),
        ("center", "1/4 right"),
        ("rear", "1 right"),
    ):
        readings |= {f"level/{place}/as-set": [read], f"level/{place}/turned": [read]}
    readings |= {"level/horns/again-as-set": ["1 left"], "level/horns/again-turned": ["1 left"]}
    readings |= {
        "front-box-bar/front-right--center-left": ["4 mm past"] * 3,
        "pulley-hint/pulley": ["8 mm right"],
    }
    readings |= {"wheelbase/left": ["2620 mm"], "wheelbase/right": ["2625 mm"]}
    return level_on(survey_of(readings, answers={"string-set-up/where": "above"}))
