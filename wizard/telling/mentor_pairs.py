"""What the mentor looks for first: each pair as it was typed, its spread, how far apart the two
are, and the result.
"""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby, zip_longest

from wizard.checks.case import Case, case_of
from wizard.checks.spread import spread_of
from wizard.judgment.bands import Judged
from wizard.judgment.verdict import Verdict
from wizard.library.places import asked_of
from wizard.library.shapes import Box, Library
from wizard.readings.plain import clean_line
from wizard.readings.written import number_about
from wizard.survey.record import Survey, Unit
from wizard.telling.document import Block, Heading, Quote

HEADING = "The pairs, as typed"
WIDTHS = (15, 13, 13, 6, 6, 21)
HEAD = ("pair", "left, as set", "right, turned", "spread", "apart", "result")

ZERO = number_about(0.0, "in")
FINEST: dict[Unit, float] = {"in": 25.4 / 32, "mm": 0.5}
"""The least size that is said, in mm."""


@dataclass(frozen=True, slots=True)
class _Pair:
    """A row of the table before it is written."""

    name: str
    left: tuple[str, ...]
    """Prompt ids."""
    right: tuple[str, ...]
    results: tuple[str, ...]
    """Ids of findings: the first that there is."""
    both: bool = False
    """Whether every one of them is told, a rail each."""


def pairs(verdict: Verdict, survey: Survey, library: Library) -> tuple[Block, ...]:
    """The table, at most 80 columns; empty where no pair was read."""
    case = case_of(survey, library)
    rows = [row for pair in _pairs(case) if (row := _row(pair, case, verdict, survey.unit))]
    lines = (line for row in (HEAD, *rows) for line in _laid(row))
    return (Heading("pairs", HEADING), Quote((*lines, ""))) if rows else ()


def _pairs(case: Case) -> Iterator[_Pair]:
    whole = [b for b in case.layout.boxes if b.role != "plate"]
    boxes = [b for b in whole if b.id != "horns"]
    yield from (_crosswise(box, case) for box in boxes)
    yield from (_sides(box, case) for box in boxes if _has_sides(box, len(whole)))
    yield _bar(case)
    tips = (_taped(case, "tip-left", "front-right"), _taped(case, "tip-right", "front-left"))
    yield _Pair("horns crosswise", *tips, ("horn/difference",))
    yield _Pair("wheelbase", ("wheelbase/left",), ("wheelbase/right",), ("wheelbase/difference",))
    yield from _heights(case)


def _bar(case: Case) -> _Pair:
    """The front box by the bar, whose tapes have no twin."""
    asked = {id: asked_of(id) for id in case.by_prompt}
    tapes = tuple(id for id, a in asked.items() if a.step == "front-box-bar" and a.tape)
    return _Pair("front box, bar", tapes, (), ("rail-shift/front-box-bar",))


def _crosswise(box: Box, case: Case) -> _Pair:
    front, rear = case.layout.place(box.front).pair, case.layout.place(box.rear).pair
    ends = rear[::-1] if front[0] != front[1] else rear
    left, right = (_taped(case, a, b) for a, b in zip(front, ends, strict=True))
    return _Pair(f"{_short(box)} diag.", left, right, (f"rail-shift/{box.id}",))


def _sides(box: Box, case: Case) -> _Pair:
    front, rear = case.layout.place(box.front).pair, case.layout.place(box.rear).pair
    left, right = (_taped(case, a, b) for a, b in zip(front, rear, strict=True))
    return _Pair(f"{_short(box)} sides", left, right, (f"mash/{box.id}", f"own-sides/{box.id}"))


def _has_sides(box: Box, boxes: int) -> bool:
    """Not the nose, and not the whole frame where its parts tell it."""
    return box.role != "nose" and not (box.id == "whole" and boxes > 2)


def _short(box: Box) -> str:
    return "whole" if box.id == "whole" else box.name


def _heights(case: Case) -> Iterator[_Pair]:
    x = case.layout.figures.get("engine_mount_x")
    if x is not None and case.layout.stations:
        mount = min(case.layout.stations, key=lambda s: abs(s.x - x)).id
        for step, name in (("sag-unloaded", "engine off"), ("sag-loaded", "engine on")):
            left, right = (f"{step}/{mount}/{side}" for side in ("left", "right"))
            yield _Pair(f"sag, {name}", (left,), (right,), (left, right), both=True)
    for level in (case.layout.levels[0], case.layout.levels[-1]) if case.layout.levels else ():
        left, right = (f"level/{level.id}/{way}" for way in ("as-set", "turned"))
        yield _Pair(
            f"level, {level.id}",
            (left,),
            (right,),
            (f"horn-height/{level.id}", f"twist/{level.id}"),
        )


def _taped(case: Case, a: str, b: str) -> tuple[str, ...]:
    """Prompts that tape the distance between two points; the hand's own exercise is not one of
    them.
    """
    between = {a, b}
    return tuple(
        id
        for id, prompt in case.prompts.items()
        if {prompt.start, prompt.end} == between
        and prompt.step not in ("your-hand", "front-box-bar")
    )


def _row(pair: _Pair, case: Case, verdict: Verdict, unit: Unit) -> tuple[str, ...] | None:
    left, right = ([id for id in ids if id in case.by_prompt] for ids in (pair.left, pair.right))
    if not left or (pair.right and not right):
        return None
    typed = (_typed(side, case) for side in (left, right))
    apart = _apart(left[0], right[0], case, unit) if right else ""
    spread = _spread([*left, *right], case, unit)
    return pair.name, *typed, spread, apart, _result(pair, verdict, unit)


def _typed(side: Sequence[str], case: Case) -> str:
    rows = (row for id in side for row in case.by_prompt[id])
    return "; ".join(_once([clean_line(row.typed, 40) for row in rows]))


def _spread(ids: Sequence[str], case: Case, unit: Unit) -> str:
    """The greatest spread of any prompt that was read more than once."""
    found = (spread_of(case.prompts[i], (r.typed for r in case.by_prompt[i]), unit) for i in ids)
    most = max((spread for spread in found if spread is not None), default=None)
    if most is None:
        return ""
    size, kind = most
    return number_about(abs(size), unit) if kind == "mm" else f"{float(size):.2g}"


def _once(typed: Sequence[str]) -> list[str]:
    """Equal readings in a row once, with their number."""
    counted = [(text, len(list(same))) for text, same in groupby(typed)]
    return [f"{text} x{n}" if n > 1 else text for text, n in counted]


def _apart(left: str, right: str, case: Case, unit: Unit) -> str:
    """How far apart the means of two prompts are; nothing of bubbles, which are turned round."""
    one, other = case.taken(left), case.taken(right)
    if one is None or other is None or one.prompt.kind.tilts:
        return ""
    return number_about(abs(one.number.value - other.number.value), unit)


def _result(pair: _Pair, verdict: Verdict, unit: Unit) -> str:
    found = {j.finding.id: j for j in verdict.judged}
    there = [found[i] for i in pair.results if i in found]
    if not there:
        return "none yet"
    if not pair.both:
        return _one(there[0], unit)
    sizes = "; ".join(_signed(j.finding.value, unit) for j in there)
    return f"{sizes} low ± {_doubt(max(there, key=lambda j: j.half_width), unit)}"


def _signed(value: float, unit: Unit) -> str:
    return ("-" if value < 0 else "") + number_about(abs(value), unit)


def _one(judged: Judged, unit: Unit) -> str:
    value, size = judged.finding.value, number_about(abs(judged.finding.value), unit)
    way = judged.finding.of.end(value)
    return f"{way + ' ' if size != ZERO else ''}{size} ± {_doubt(judged, unit)}"


def _doubt(judged: Judged, unit: Unit) -> str:
    """Never zero, as in every sentence."""
    said = number_about(judged.half_width, unit)
    return f"<{number_about(FINEST[unit], unit)}" if said == ZERO else said


def _laid(row: Sequence[str]) -> list[str]:
    """The cells side by side, each wrapped in its column."""
    widths = list(WIDTHS)
    if not row[2]:  # What has no twin may take its room.
        row, widths = (*row[:2], *row[3:]), [*widths[:1], widths[1] + 1 + widths[2], *widths[3:]]
    cells = [textwrap.wrap(text, width) or [""] for text, width in zip(row, widths, strict=True)]
    lines = zip_longest(*cells, fillvalue="")
    return [
        " ".join(p.ljust(w) for p, w in zip(line, widths, strict=True)).rstrip() for line in lines
    ]
