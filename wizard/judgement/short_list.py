"""Which steps a re-check takes again: what the earlier survey found, and what matters most on any frame."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from wizard.judgement.bands import Judged
from wizard.judgement.seen import stops
from wizard.judgement.verdict import Verdict, verdict_of, weight
from wizard.library.shapes import Library
from wizard.survey.record import Survey
from wizard.survey.rows import Reading

ALWAYS = ("tools", "set-supports", "level")
"""Twist by the level, and what every reading stands on."""
DIAGONALS = ("long-diagonals", "diagonals-below", "nose-diagonals", "plate-to-corners", "box-diagonals")
"""One pair of diagonals, the better one first."""
STRING = {"sag-loaded": ("string-set-up", "sag-loaded"), "sag-unloaded": ("string-set-up", "sag-unloaded")}
LIFT = ("lift-engine", "lower-engine")
SIZES = ("widths", "string-set-up")
"""Steps that only give a size to the check: that is known from last time."""
MORE = 3
"""Findings of last time that bring steps of their own."""


def steps_worth(old: Survey, library: Library, today: datetime) -> tuple[str, ...]:
    """Ids of the steps for a re-check of `old`, in the order of its course.

    Always a pair of diagonals, sag at the engine's mount in the state it was read in, and twist; then the places of
    looks that said stop, and the steps behind the findings that were worst, open, or nearest to a limit, but for what
    is surely to be left. The engine is lifted again only for a sag that may want putting right.
    """
    verdict = verdict_of(old, library, today)
    read = {r.prompt.split("/", 1)[0] for r in old.standing(Reading)}
    wanted = {*ALWAYS, *_diagonals(read), *_sag(read), "paint-cracks"}
    wanted |= {s.prompt.step for s in stops(verdict.seen)}
    for judged in [j for j in worst(verdict) if j.worst != "leave"][:MORE]:
        wanted |= _steps_of(judged, old)
    course = library.courses.get("recheck", library.courses["whole"])
    return tuple(s for s in course if s in wanted)


def worst(verdict: Verdict) -> list[Judged]:
    """The findings with a limit, the gravest first: the worst band not excluded, then how near to its next bound."""
    limited: Iterable[Judged] = (j for j in verdict.judged if j.bands)
    return sorted(limited, key=lambda j: (weight(j.worst), weight(j.established), _nearness(j)), reverse=True)


def _nearness(judged: Judged) -> float:
    """How much of the way to the first bound that it is not surely over, doubt included; 1 is there."""
    value = judged.finding.value
    edge = next((e for e in judged.edges if not e.is_over), judged.edges[-1])
    bound = edge.high if value >= 0 or edge.low is None else -edge.low
    return (abs(value) + judged.half_width) / bound if bound else 0.0


def _diagonals(read: set[str]) -> tuple[str, ...]:
    return (next((d for d in DIAGONALS if d in read), DIAGONALS[0]),)


def _sag(read: set[str]) -> tuple[str, ...]:
    """With the weight where that was read; it needs no lifting."""
    if "sag-loaded" in read or "sag-unloaded" not in read:
        return STRING["sag-loaded"]
    return STRING["sag-unloaded"]


def _steps_of(judged: Judged, old: Survey) -> set[str]:
    """The steps whose readings the finding leans on. A plan leans on all: then the diagonals of its box will do."""
    if "plan" in judged.finding.notes:
        return {"horns"} if judged.finding.quantity.startswith("horn") else {"own-sides", "box-diagonals"}
    ids = set(judged.finding.readings)
    steps = {r.prompt.split("/", 1)[0] for r in old.standing(Reading) if r.id in ids}
    steps -= set(SIZES)
    if "sag-unloaded" not in steps:
        return steps
    return steps | set(LIFT) if weight(judged.worst) > weight("watch") else set()
