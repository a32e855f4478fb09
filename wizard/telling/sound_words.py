"""What is in order, named: every box, rail and figure that lies within what may be left, doubt
included.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from itertools import chain
from typing import NamedTuple

from wizard.judgment.bands import Judged
from wizard.judgment.facts import is_true
from wizard.judgment.verdict import Verdict
from wizard.library import marks
from wizard.library.places import FRONT_BOX, SIDES, FindingId, PlaceId, WhereId, where_of
from wizard.library.shapes import Layout, Library, Limit
from wizard.readings.plain import and_
from wizard.telling.document import Item

TWINS: Mapping[WhereId, PlaceId] = {FRONT_BOX: marks.BY_BAR, marks.BY_BAR: FRONT_BOX}
"""The front box is read in two ways; where the one is out the other is no comfort."""

Named = tuple[str, tuple[FindingId, ...]]
"""Words, and the ids of the findings behind them."""


def sound_lines(verdict: Verdict, layout: Layout, library: Library) -> list[Item]:
    """One line that names everything within the limit of what may be left, doubt included; none
    where nothing is.
    """
    found = list(in_order(verdict, layout, library))
    if not found:
        return []
    text = "; ".join(words for words, _ in found)
    lead = (
        "As far as these figures can be trusted, nothing needs doing here"
        if verdict.held in ("joints", "rocks")
        else "Nothing needs doing here"
    )
    return [Item(f"{lead}: {text}.", tuple(dict.fromkeys(i for _, ids in found for i in ids)))]


def in_order(verdict: Verdict, layout: Layout, library: Library) -> Iterator[Named]:
    """What is in order, limit by limit, in the order of telling."""
    names: dict[WhereId, str] = {b.id: f"the {b.name}" for b in layout.boxes}
    names[marks.BY_BAR] = "the front box by the bar"
    boxes = Boxes(names, frozenset(b.id for b in layout.boxes if b.front != layout.tips))
    for of, name in NAMERS.items():
        for limit in (one for one in library.limits.values() if one.told == of):
            yield from name(limit, _judged_by(verdict, limit), boxes)


class Boxes(NamedTuple):
    """The boxes of a frame, to be named."""

    names: Mapping[WhereId, str]
    every: frozenset[WhereId]
    """Those of which something must be known before it is said of every box: all but the horns."""

    def named(self, found: Iterable[Judged]) -> str:
        """The boxes of these findings, in words."""
        return and_([self.names[j.finding.where] for j in found])


def _judged_by(verdict: Verdict, limit: Limit) -> list[Judged]:
    return [j for j in verdict.judged if j.finding.limit == limit.id]


def _sound_box(limit: Limit, judged: list[Judged], boxes: Boxes) -> Iterator[Named]:
    """Box by box: one that is out takes none of the others with it, and one of which nothing is
    known is not among them.
    """
    here = [j for j in judged if j.finding.where in boxes.names]
    out = {j.finding.where for j in here if not is_true(j)}
    true = [j for j in here if not {j.finding.where, TWINS.get(j.finding.where)} & out]
    if not true:
        return
    if len(true) > 1 and boxes.every <= {j.finding.where for j in true}:
        yield _well(limit, "every box", several=False), _ids(true)
        return
    yield _well(limit, boxes.named(true), several=len(true) > 1), _ids(true)


def _well(limit: Limit, where: str, *, several: bool) -> str:
    """What a limit says of boxes or rails that are in order."""
    if not limit.well:
        return f"{limit.sound} ({where})"
    return limit.well.replace("{where}", where).replace("{is}", "are" if several else "is")


def _sound_rail(limit: Limit, judged: list[Judged], boxes: Boxes) -> Iterator[Named]:
    """Rail by rail: that one of them is straight is worth as much as that the other is not."""
    sides = {s: [j for j in judged if where_of(j.finding.where).side == s] for s in SIDES}
    true = {s: here for s, here in sides.items() if here and all(map(is_true, here))}
    if true:
        which = "both rails" if len(true) == 2 else f"the {next(iter(true))} rail"
        yield _well(limit, which, several=len(true) == 2), _ids(chain(*true.values()))


def _sound_whole(limit: Limit, judged: list[Judged], boxes: Boxes) -> Iterator[Named]:
    if judged and all(map(is_true, judged)):
        parts = dict.fromkeys(j.finding.of.part for j in judged)
        read = and_(list(filter(None, parts)))
        yield " ".join(filter(None, (limit.well or limit.sound, read))), _ids(judged)


NAMERS = {"box": _sound_box, "rail": _sound_rail, "whole": _sound_whole}
"""Who names what is in order, by what a limit is told of; they speak in this order."""


def _ids(judged: Iterable[Judged]) -> tuple[FindingId, ...]:
    return tuple(j.finding.id for j in judged)


HORNS_ALIKE = "The horns are equal. Equal does not say unbent: hold bumper irons and shell to them."


def horns_alike(verdict: Verdict) -> list[Item]:
    """Behind `the horns` among what is in order: two horns bent alike are equal too."""
    ids = tuple(
        j.finding.id
        for j in verdict.judged
        if j.finding.quantity == marks.HORN_APART and j.bands == ("leave",)
    )
    return [Item(HORNS_ALIKE, ids)] if ids else []
