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
from wizard.library.shapes import Library
from wizard.readings.plain import clean_line
from wizard.survey.record import Survey, Unit
from wizard.telling.amounts import about, doubt
from wizard.telling.document import Block, Heading, Quote

HEADING = "The pairs, as typed"
WIDTHS = (15, 13, 13, 6, 6, 21)
HEAD = ("pair", "left, as set", "right, turned", "spread", "apart", "result")


@dataclass(frozen=True, slots=True)
class _Pair:
    """A row of the table before it is written."""

    name: str
    left: tuple[str, ...]
    """Prompt ids."""
    right: tuple[str, ...]
    results: tuple[str, ...]
    """Ids of findings: the first that there is; two for a sag, a rail each."""


def pairs(verdict: Verdict, survey: Survey, library: Library) -> tuple[Block, ...]:
    """The table, at most 80 columns; empty where no pair was read."""
    case = case_of(survey, library)
    rows = [row for pair in _pairs(case) if (row := _row(pair, case, verdict, survey.unit))]
    lines = (line for row in (HEAD, *rows) for line in _laid(row))
    return (Heading("pairs", HEADING), Quote((*lines, ""))) if rows else ()


def _pairs(case: Case) -> Iterator[_Pair]:
    boxes = [b for b in case.layout.boxes if b.role != "plate"]
    for kind, results in (("diag.", ("rail-shift",)), ("sides", ("mash", "own-sides"))):
        for box in boxes:
            told_by_its_parts = box.id == "whole" and len(boxes) > 2
            if box.id == "horns" or (kind == "sides" and (box.role == "nose" or told_by_its_parts)):
                continue
            front, rear = case.layout.place(box.front).pair, case.layout.place(box.rear).pair
            ends = rear[::-1] if kind == "diag." and front[0] != front[1] else rear
            left, right = (_taped(case, a, b) for a, b in zip(front, ends, strict=True))
            name = f"{box.name.replace('whole frame', 'whole')} {kind}"
            yield _Pair(name, left, right, tuple(f"{r}/{box.id}" for r in results))
    bar = tuple(p for p in case.by_prompt if p.startswith("front-box-bar/") and "--" in p)
    yield _Pair("front box, bar", bar, (), ("rail-shift/front-box-bar",))
    tips = (_taped(case, "tip-left", "front-right"), _taped(case, "tip-right", "front-left"))
    yield _Pair("horns crosswise", *tips, ("horn/difference",))
    yield _Pair("wheelbase", ("wheelbase/left",), ("wheelbase/right",), ("wheelbase/difference",))
    yield from _heights(case)


def _heights(case: Case) -> Iterator[_Pair]:
    x = case.layout.figures.get("engine_mount_x")
    if x is not None and case.layout.stations:
        mount = min(case.layout.stations, key=lambda s: abs(s.x - x)).id
        for step, name in (("sag-unloaded", "engine off"), ("sag-loaded", "engine on")):
            left, right = (f"{step}/{mount}/{side}" for side in ("left", "right"))
            yield _Pair(f"sag, {name}", (left,), (right,), (left, right))
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
    sides = [
        [(id, case.by_prompt[id]) for id in ids if id in case.by_prompt]
        for ids in (pair.left, pair.right)
    ]
    if not sides[0] or (pair.right and not sides[1]):
        return None
    typed = [
        "; ".join(_once([clean_line(r.typed, 40) for _, rows in side for r in rows]))
        for side in sides
    ]
    spreads = [
        spread_of(case.prompts[id], (r.typed for r in rows), unit)
        for side in sides
        for id, rows in side
    ]
    most = max((s for s in spreads if s is not None), default=None)
    spread = (
        ""
        if most is None
        else _bare(float(most[0]), unit)
        if most[1] == "mm"
        else f"{float(most[0]):.2g}"
    )
    return pair.name, *typed, spread, _apart(sides, case, unit), _result(pair, verdict, unit)


def _once(typed: Sequence[str]) -> list[str]:
    """Equal readings in a row once, with their number."""
    counted = [(text, len(list(same))) for text, same in groupby(typed)]
    return [f"{text} x{n}" if n > 1 else text for text, n in counted]


def _apart(sides: Sequence[Sequence[tuple[str, object]]], case: Case, unit: Unit) -> str:
    means = [case.taken(side[0][0]) for side in sides if side]
    if len(means) < 2 or means[0] is None or means[1] is None or means[0].prompt.kind == "bubble":
        return ""
    return _bare(means[0].number.value - means[1].number.value, unit)


def _result(pair: _Pair, verdict: Verdict, unit: Unit) -> str:
    found = {j.finding.id: j for j in verdict.judged}
    there = [found[i] for i in pair.results if i in found]
    if not there:
        return "none yet"
    if pair.name.startswith("sag"):
        sizes = "; ".join(
            ("-" if j.finding.value < 0 else "") + _bare(j.finding.value, unit) for j in there
        )
        return f"{sizes} low ± {_doubt(max(there, key=lambda j: j.half_width), unit)}"
    return _one(there[0], unit)


def _one(judged: Judged, unit: Unit) -> str:
    value, size = judged.finding.value, _bare(judged.finding.value, unit)
    way = judged.finding.of.end(value)
    return f"{way + ' ' if size != '0' else ''}{size} ± {_doubt(judged, unit)}"


def _doubt(judged: Judged, unit: Unit) -> str:
    """Never zero, as in every sentence."""
    return (
        doubt(judged, unit)
        .removeprefix("give or take ")
        .replace("less than ", "<")
        .removesuffix(f" {unit}")
    )


def _bare(value: float, unit: Unit) -> str:
    return about(value, "mm", unit).removesuffix(f" {unit}")


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
