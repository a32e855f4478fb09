"""What was measured and is in order: a person who reads only what is out would think the rest was
never looked at.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from itertools import chain

from wizard.judgment.bands import Judged
from wizard.judgment.facts import is_true
from wizard.judgment.verdict import Verdict
from wizard.library.places import SIDES, where_of
from wizard.library.shapes import Layout, Library, Limit
from wizard.telling.document import Item as Line

TWINS = {"front-box": "front-box-bar", "front-box-bar": "front-box"}
"""The front box is read in two ways; where the one is out the other is no comfort."""

Named = tuple[str, tuple[str, ...]]
"""Words, and the ids of the findings behind them."""


def sound_lines(verdict: Verdict, layout: Layout, library: Library) -> list[Line]:
    """One line that names everything within the limit of what may be left, doubt included; none
    where nothing is.
    """
    found = list(_named(verdict, layout, library))
    if not found:
        return []
    text = "; ".join(words for words, _ in found)
    lead = (
        "As far as these figures can be trusted, nothing"
        if verdict.held in ("joints", "rocks")
        else "Nothing"
    )
    return [
        Line(f"{lead} to do at: {text}.", tuple(dict.fromkeys(i for _, ids in found for i in ids)))
    ]


def _named(verdict: Verdict, layout: Layout, library: Library) -> Iterator[Named]:
    """What is in order, limit by limit, in the order of telling."""
    names = {b.id: b.name for b in layout.boxes} | {"front-box-bar": "front box by the bar"}
    for told, name in TOLD.items():
        for limit in (one for one in library.limits.values() if one.told == told):
            yield from name(limit, _of(verdict, limit), names)


def _of(verdict: Verdict, limit: Limit) -> list[Judged]:
    return [j for j in verdict.judged if j.finding.limit == limit.id]


def _box(limit: Limit, judged: list[Judged], names: Mapping[str, str]) -> Iterator[Named]:
    """Box by box: one that is out takes none of the others with it."""
    here = [j for j in judged if j.finding.where in names]
    out = {j.finding.where for j in here if not is_true(j)}
    true = [j for j in here if not {j.finding.where, TWINS.get(j.finding.where)} & out]
    if not true:
        return
    every = len(true) == len(here) > 1
    said = "all boxes" if every else ", ".join(names[j.finding.where] for j in true)
    yield f"{said} ({limit.sound})", _ids(true)


def _rail(limit: Limit, judged: list[Judged], names: Mapping[str, str]) -> Iterator[Named]:
    """Rail by rail: that one of them is straight is worth as much as that the other is not."""
    sides = {s: [j for j in judged if where_of(j.finding.where).side == s] for s in SIDES}
    true = {s: here for s, here in sides.items() if here and all(map(is_true, here))}
    if true:
        which = "" if len(true) == 2 else f", {next(iter(true))} rail"
        yield f"{limit.sound}{which}", _ids(chain(*true.values()))


def _whole(limit: Limit, judged: list[Judged], names: Mapping[str, str]) -> Iterator[Named]:
    if judged and all(map(is_true, judged)):
        yield limit.sound, _ids(judged)


TOLD = {"box": _box, "rail": _rail, "whole": _whole}
"""Who names what is in order, by what a limit is told of; they speak in this order."""


def _ids(judged: Iterable[Judged]) -> tuple[str, ...]:
    return tuple(j.finding.id for j in judged)
