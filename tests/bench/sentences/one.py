"""One survey from its number: drawn, typed, judged; everything counted that a table may want."""

from __future__ import annotations

import json
import random
import time
from collections.abc import Iterator
from dataclasses import asdict, dataclass, replace
from functools import lru_cache
from typing import Any, NamedTuple

from tests.bench.sentences import faults, hands, limits, scoring, story, truth, walk
from tests.bench.sentences.frame import Fault, all_layouts, has_tips
from tests.bench.sentences.scoring import Known
from wizard.checks.finding import Finding
from wizard.checks.notes import Against, SagLifts, SagTakenOut
from wizard.judgment.claims import Claim, claims_of, of_kind
from wizard.judgment.sight import Sight, sight_of
from wizard.judgment.verdict import Verdict
from wizard.library import load_library
from wizard.library.shapes import Library

Interval = tuple[str, bool, bool, bool]
"""Quantity; whether the 95 % interval holds the truth, is told, is of a truth beyond its limit."""
FINE = ("leave", "watch")


@dataclass
class Scored:
    """What one survey came to; small enough to be sent from one process to another."""

    number: int
    layout: str
    hand: str
    ruler: str
    faults: tuple[tuple[str, float, bool], ...]
    """Kind, size, whether it is told."""
    straight: bool
    bare: bool
    """Whether every place was seen bare and nothing found."""
    true: tuple[str, ...]
    """Kinds of claim that are told and true, each once."""
    false: tuple[str, ...]
    """Kinds of claim that are told and false, each once."""
    due: tuple[str, ...]
    """Kinds of claim that the truth calls for, clearly."""
    action: str
    held: str
    intervals: tuple[Interval, ...]
    false_doubts: tuple[str, ...]
    """Steps of readings that were doubted and had not slipped."""
    slips: tuple[tuple[str, str, str], ...]
    """Step, kind, what came of it: at-prompt, named, in-set, missed."""
    sound_accused: bool
    """Whether a sound reading is accused alone."""
    seconds: float = 0.0
    open: tuple[str, ...] = ()
    """Ids of the findings that leave what to do open."""


def to_line(one: Scored) -> str:
    """A survey as one line of a file."""
    return json.dumps(asdict(one))


def from_line(line: str) -> Scored:
    """A survey as it was written in one line."""
    return Scored(**{name: _tuples(value) for name, value in json.loads(line).items()})


def _tuples(value: Any) -> Any:
    return tuple(map(_tuples, value)) if isinstance(value, list) else value


@lru_cache(maxsize=1)
def library() -> Library:
    """The content, read once."""
    return load_library()


@dataclass
class Whole:
    """One survey with everything, for somebody who looks for a cause."""

    known: Known
    hand: hands.Hand
    sight: Sight
    verdict: Verdict
    claims: tuple[Claim, ...]
    seconds: float


class Given(NamedTuple):
    """What every survey of a run is to have; the rest is drawn."""

    only: faults.Wanted | None = None
    """The one fault of each frame; none of a straight one."""
    hand: hands.Hand | None = None
    layouts: tuple[str, ...] = ()
    """The kinds of frame, by turns; all where none is given."""
    bare: bool = False
    """Whether every place is seen bare."""
    wrong: float = 0.0
    """Share of looks that are seen wrongly."""

    @property
    def kinds(self) -> tuple[str, ...]:
        """The kinds of frame that can have the fault."""
        horned = bool(self.only and self.only[0].startswith("horn"))
        named = self.layouts or all_layouts()
        return tuple(n for n in named if not horned or has_tips(n))


DRAWN = Given()


def whole(seed: int, number: int, given: Given = DRAWN) -> Whole:
    """The survey of that number, the same every time."""
    rng, began = random.Random(f"{seed}/{number}"), time.process_time()
    layouts = given.kinds
    frame = faults.drawn(rng, layouts[number % len(layouts)], given.only)
    tale = story.told_of(frame, rng)
    tale = story.misseen(tale, given.wrong, random.Random(f"wrong {seed}/{number}"))
    tale = replace(tale, bare=tale.bare or given.bare)
    hand = given.hand or hands.drawn(rng)
    frame = frame.with_(engine_in=hand.engine_in)
    typed = walk.typed(hands.bench(frame, hand, rng), tale, library(), rng)
    sight = sight_of(typed.survey, library())
    verdict = sight.verdict(typed.at)
    claims = claims_of(verdict, sight.layout)
    steps = frozenset(prompt.split("/")[0] for prompt in typed.slipped_prompts.values())
    known = Known(frame, tale, truth.truth_of(frame), typed, steps, hand.states == "bare")
    return Whole(known, hand, sight, verdict, claims, time.process_time() - began)


def scored(seed: int, number: int, given: Given = DRAWN) -> Scored | str:
    """The survey of that number, counted; where it did not come to its end, why not."""
    try:
        return score(whole(seed, number, given), number)
    except Exception as why:  # what the program cannot bear is told, and ends no run of thousands
        return f"{number}: {type(why).__name__}: {why}"


def score(found: Whole, number: int = 0) -> Scored:
    """A survey, counted."""
    known, frame, claims = found.known, found.known.frame, found.claims
    judged = [(c.kind, scoring.verdict_on(c, known)) for c in claims]
    return Scored(
        number=number,
        layout=frame.made.layout,
        hand=found.hand.name,
        ruler=found.hand.ruler,
        faults=tuple(_rows(found)),
        straight=not frame.faults,
        bare=known.story.bare and not known.story.seen,
        true=_kinds(judged, True),
        false=_kinds(judged, False),
        due=scoring.due(known),
        action=found.verdict.action,
        held=found.verdict.held,
        intervals=tuple(_intervals(found)),
        false_doubts=tuple(d.prompt.split("/")[0] for d in known.typed.doubts if not d.slip),
        slips=tuple(_slips(found)),
        sound_accused=any(scoring.verdict_on(c, known) is False for c in of_kind(claims, "slip")),
        seconds=found.seconds,
        open=tuple(str(j.finding.id) for j in found.verdict.open),
    )


def _rows(found: Whole) -> Iterator[tuple[str, float, bool]]:
    """Each fault and whether it is told; one bent horn once more, whether its side is."""
    known, claims = found.known, found.claims
    for fault in known.frame.faults:
        yield _row(fault, found.hand), fault.size, scoring.is_told(fault, claims, known)
        if fault.kind == "horn" and fault.side:
            yield "horn, its side", fault.size, scoring.is_named(fault, claims, known)


def _row(fault: Fault, hand: hands.Hand) -> str:
    """The row of the table in which a fault stands."""
    if fault.kind == "twist" and hand.states == "bare":
        return "twist on three"
    both = fault.kind.startswith("horn") and not fault.side
    return f"{fault.kind} both" if both else fault.kind


def _kinds(judged: list[tuple[str, bool | None]], how: bool | None) -> tuple[str, ...]:
    return tuple(sorted({kind for kind, right in judged if right is how}))


# Intervals -------------------------------------------------------------------------------------


def _intervals(found: Whole) -> list[Interval]:
    verdict = found.verdict
    told = {j.finding.id for j in (*verdict.reasons, *verdict.open)}
    rows = []
    for judged in found.sight.judged:
        finding = judged.finding
        value = true_value(finding, found.known, found.sight)
        if value is None or finding.disagrees:
            continue
        held = abs(finding.value - value) <= judged.told_half
        start = limits.first(finding.quantity, value) if finding.limit else None
        beyond = start is not None and abs(value) > start
        rows.append((finding.quantity, held, finding.id in told, beyond))
    return rows


def true_value(finding: Finding, known: Known, sight: Sight) -> float | None:
    """What a finding should have said; None for one without a truth here."""
    quantity, where = finding.quantity, finding.where
    if quantity == "twist" or (quantity == "horn-height" and finding.note(SagLifts) is None):
        against = finding.note(Against)
        alone = finding.note(SagTakenOut) is not None
        name = f"twist-{'alone' if alone else 'all'}-{against.place if against else ''}"
        return known.values.get((name, where))
    if quantity == "sag-difference":
        unloaded = any(f.quantity == "sag-unloaded" for f in sight.findings)
        quantity = f"sag-difference-{'unloaded' if unloaded else 'loaded'}"
    return known.values.get((quantity, where))


# Slips -----------------------------------------------------------------------------------------


def _slips(found: Whole) -> list[tuple[str, str, str]]:
    """Each slip that was typed, and what came of it."""
    typed, claims = found.known.typed, found.claims
    ends = {
        "at-prompt": typed.found,
        "named": {i for c in of_kind(claims, "slip") for i in c.sources},
        "in-set": {i for c in of_kind(claims, "slip-set") for i in c.sources},
    }
    out = [(p.split("/")[0], kind, "at-prompt") for p, kind in typed.put_right]
    for id, prompt in typed.slipped_prompts.items():
        what = next((name for name, ids in ends.items() if id in ids), "missed")
        out.append((prompt.split("/")[0], typed.slipped[id], what))
    return out
