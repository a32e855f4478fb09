"""Two surveys of different frames side by side, for the person who must choose one.

It says what each would want and what nobody saw; it never says which to buy, and nothing of the
road.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from itertools import zip_longest
from typing import Any

from wizard.checks.notes import EDGE_NOT_KNOWN
from wizard.judgment.bands import Judged
from wizard.judgment.seen import Gap
from wizard.judgment.sight import verdict_of
from wizard.judgment.verdict import Verdict, is_open, weight
from wizard.library.places import QuantityId
from wizard.library.shapes import Layout, Library
from wizard.readings.plain import clean_line
from wizard.survey.guide import layout_of
from wizard.survey.record import Survey, Unit
from wizard.telling.amounts import day, is_inside
from wizard.telling.answer_words import headline_of
from wizard.telling.quantity_names import amount, name_of
from wizard.telling.text import wrap

WANTS = {
    "specialist": "needs a specialist",
    "put-right": "must be put right before paint",
    "axle-first": "look at axle, spring and center bolt first",
    "watch": "keep an eye on it",
}
MOST = 6
"""Findings shown of each frame, the gravest first."""
COLUMN, GAP, WHOLE = 37, "  ", 76
HONEST = (
    "Neither column says which one to take. A frame may look better only because less of it was"
    " seen: ask what it would cost to see the rest first. Both say nothing of the road: for that,"
    " local rules and a licensed professional come first."
)


@dataclass(frozen=True, slots=True)
class Frame:
    """One of the two, in words."""

    survey: Survey
    verdict: Verdict
    headline: str
    name: str
    findings: tuple[str, ...]
    wants: tuple[str, ...]
    """What repair it would need: of what is established."""
    open: tuple[str, ...]
    """What may want more than is known."""
    not_seen: tuple[str, ...]


def frame_of(survey: Survey, library: Library, today: datetime) -> Frame:
    """One frame's verdict as short lines."""
    verdict = verdict_of(survey, library, today)
    limited = sorted((j for j in verdict.of_frame if j.bands), key=_gravity, reverse=True)
    said = Said(survey.unit, layout_of(survey, library))
    return Frame(
        survey,
        verdict,
        headline_of(verdict, survey, library),
        f"{clean_line(survey.car or survey.id or 'no name', 60)}, {day(survey)}",
        tuple(said.found(j) for j in _one_each(limited)[:MOST]),
        (*_stops(verdict), *said.wanted([j for j in limited if j.established in WANTS])),
        tuple(said.found(j) for j in _one_each(filter(is_open, limited))),
        tuple(_gap(g) for g in verdict.not_seen),
    )


@dataclass(frozen=True, slots=True)
class Said:
    """How a finding of one frame is said."""

    unit: Unit
    layout: Layout

    def found(self, judged: Judged) -> str:
        """What it is and how much; a difference inside its own doubt is none."""
        return f"{name_of(judged.finding, self.layout)}: {self._size(judged)}"

    def _size(self, judged: Judged) -> str:
        if judged.finding.has(EDGE_NOT_KNOWN):
            return "not known, for the maker may have shaped that edge so"
        if not judged.is_told or is_inside(judged, self.unit):
            return "none that shows"
        return amount(judged.finding, self.unit)

    def wanted(self, grave: Sequence[Judged]) -> list[str]:
        """What repair each would want."""
        return [f"{self.found(j)}: {WANTS[j.established]}" for j in _one_each(grave)]


def _stops(verdict: Verdict) -> list[str]:
    """What stops everything, for the one who must see it."""
    return [f"{s.title}: {s.choice.words}: a specialist" for s in verdict.stops if s.choice]


def _gravity(judged: Judged) -> tuple[int, int, float]:
    edge = judged.edges[0]
    bound = edge.high if judged.finding.value >= 0 or edge.low is None else -edge.low
    return (
        weight(judged.worst),
        weight(judged.established),
        abs(judged.finding.value) / (bound or 1.0),
    )


def _one_each(judged: Iterable[Judged]) -> list[Judged]:
    """The gravest of each quantity: the stations along one rail are one repair."""
    first: dict[QuantityId, Judged] = {}
    for j in judged:
        first.setdefault(j.finding.quantity, j)
    return list(first.values())


def _gap(gap: Gap) -> str:
    return f"{gap.what}: {gap.why}".rstrip(".")


def two_frames(a: Survey, b: Survey, library: Library, today: datetime) -> str:
    """Both frames in two columns: what to do, what was found, what repair each would want, what was
    not seen; of one kind, where their figures differ too.
    """
    left, right = frame_of(a, library, today), frame_of(b, library, today)
    lines = ["Two frames side by side", ""]
    lines += _columns([left.name], [right.name])
    for heading, one, other in _parts(left, right):
        lines += ["", heading, *_columns(one or ("nothing",), other or ("nothing",))]
    unlike = [row for line in _unlike(a, b, library) for row in wrap(line, WHOLE, "- ", "  ")]
    if unlike:
        lines += ["", "Where the two frames differ, figure by figure", *unlike]
    return "\n".join([*lines, "", *wrap(HONEST)])


def _parts(a: Frame, b: Frame) -> list[tuple[str, tuple[str, ...], tuple[str, ...]]]:
    return [
        ("What to do", (a.headline,), (b.headline,)),
        ("What was found, the gravest first", a.findings, b.findings),
        ("What repair it would need", a.wants, b.wants),
        ("What is not known well enough yet", a.open, b.open),
        ("What was not seen or not measured", a.not_seen, b.not_seen),
    ]


def _unlike(a: Survey, b: Survey, library: Library) -> tuple[str, ...]:
    """Figure by figure, where both are of one kind."""
    from wizard.telling.sister_words import unlike_lines

    return tuple(unlike_lines(a, b, library)) if a.layout == b.layout else ()


def _columns(one: Sequence[str], other: Sequence[str]) -> list[str]:
    left, right = (
        [row for line in lines for row in wrap(line, COLUMN, "- " if len(lines) > 1 else "", "  ")]
        for lines in (one, other)
    )
    return [f"{a:<{COLUMN}}{GAP}{b}".rstrip() for a, b in zip_longest(left, right, fillvalue="")]


def frames_json(surveys: Sequence[Survey], library: Library) -> list[dict[str, Any]]:
    """Both frames as data."""
    found = []
    for survey in surveys:
        frame = frame_of(survey, library, survey.started)
        found.append(
            {
                "survey": survey.id,
                "car": survey.car,
                "action": frame.verdict.action,
                "headline": frame.headline,
                "findings": [
                    {
                        "id": j.finding.id,
                        "value": j.finding.value,
                        "u": j.finding.number.u,
                        "bands": list(j.bands),
                    }
                    for j in frame.verdict.judged
                    if j.bands
                ],
                "wants": list(frame.wants),
                "open": list(frame.open),
                "not_seen": list(frame.not_seen),
            }
        )
    return found
