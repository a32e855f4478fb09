"""The verdict: what to do, why, what is open, what was not seen. Tokens and facts; telling/ has the words.

It acts on what is established and names what is open. A stop sign in the looks outranks every number, and a
survey in which too little was seen says so and never says `fine`.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from wizard.checks.run import findings_of
from wizard.judgement.bands import ORDER, Judged, judge
from wizard.judgement.seen import Gap, Seen, gaps, looks_of, stops
from wizard.library.shapes import Library
from wizard.survey.record import Survey

CORE = ("rail-shift", "sag", "twist")
"""Without a word on each of these no survey can say that nothing is to be put right."""
LOOKS_NEEDED = 0.5
"""Share of the looks that must have been seen before `leave it` is said of a whole frame (our own figure)."""


@dataclass(frozen=True, slots=True)
class Verdict:
    """What to do about the frame."""

    action: str
    """stop, specialist, put-right, axle-first, watch, leave, open (a band is open too wide), not-enough"""
    stops: tuple[Seen, ...]
    judged: tuple[Judged, ...]
    """Every finding, judged, in the survey's order."""
    reasons: tuple[Judged, ...]
    """The findings that decide, the strongest first, at most three."""
    open: tuple[Judged, ...]
    """Findings whose bands do not settle what to do."""
    not_seen: tuple[Gap, ...]
    lacking: tuple[str, ...]
    """Of the core, what nothing was measured of: rail-shift, sag, twist, looks."""
    seen: tuple[Seen, ...]


def verdict_of(survey: Survey, library: Library, today: datetime) -> Verdict:
    """The verdict over everything that was set down."""
    judged = tuple(judge(f, survey, library) for f in findings_of(survey, library))
    seen = looks_of(survey, library)
    limited = [j for j in judged if j.bands]
    stop = stops(seen)
    lacking = _lacking(limited, seen, library)
    action = _action(limited, stop, lacking)
    return Verdict(
        action=action,
        stops=stop,
        judged=judged,
        reasons=_reasons(limited),
        open=tuple(j for j in _per_quantity(limited) if is_open(j)),
        not_seen=gaps(survey, library, today),
        lacking=lacking,
        seen=seen,
    )


def is_open(judged: Judged) -> bool:
    """Whether it cannot be told yet what to do: `leave or watch` asks for nothing, so it is not open."""
    return len(judged.bands) > 1 and judged.bands != ("leave", "watch")


def weight(band: str) -> int:
    """Place of a band from the mildest to the gravest."""
    return ORDER.index(band) if band in ORDER else 0


def _action(limited: list[Judged], stop: tuple[Seen, ...], lacking: tuple[str, ...]) -> str:
    if stop:
        return "stop"
    worst = max((j.established for j in limited), key=weight, default="")
    if worst in ("specialist", "put-right", "axle-first"):
        return worst
    if lacking:
        return "not-enough"
    if any(is_open(j) for j in limited):
        return "open"
    return worst


def _lacking(limited: list[Judged], seen: tuple[Seen, ...], library: Library) -> tuple[str, ...]:
    have = {j.finding.quantity.split("-loaded")[0].split("-unloaded")[0] for j in limited}
    lacking = [name for name in CORE if name not in have]
    wanted = sum(2 for s in library.steps.values() if s.part == "look")
    reached = {s.prompt.id for s in seen if s.look.seen != "not-reached" and s.choice}
    return tuple(lacking + (["looks"] if len(reached) < LOOKS_NEEDED * wanted else []))


def _per_quantity(limited: list[Judged]) -> list[Judged]:
    """One finding for each quantity (and side of the string), the gravest: stations need not all be named."""
    best: dict[str, Judged] = {}
    for judged in limited:
        f = judged.finding
        key = f"{f.quantity}/{f.where.rsplit('/', 1)[-1]}" if "/" in f.where else f.id
        if key not in best or _rank(judged) > _rank(best[key]):
            best[key] = judged
    return sorted(best.values(), key=_rank, reverse=True)


def _rank(judged: Judged) -> tuple[int, int, float]:
    first = judged.edges[0]
    limit = first.high if judged.finding.value >= 0 or first.low is None else -first.low
    return weight(judged.established), weight(judged.worst), abs(judged.finding.value) / (limit or 1.0)


def _reasons(limited: list[Judged]) -> tuple[Judged, ...]:
    return tuple(_per_quantity(limited)[:3])
