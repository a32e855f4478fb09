"""What moved since the survey that this one follows: where, how far, since when; and how much would
have been seen of what did not.

Figures that tell one movement are one: the stations of a rail, the boxes and tapes of the plan.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import NamedTuple

from wizard.checks.case import case_of
from wizard.checks.finding import Finding
from wizard.judgment.change import EDGE, STATE, Apart, Change, Comparison, compare
from wizard.judgment.least import Least, least_moved, weakest
from wizard.library import marks
from wizard.library.places import (
    WHOLE_BOX,
    FindingId,
    PromptId,
    QuantityId,
    Side,
    asked_of,
    where_of,
)
from wizard.library.shapes import Library
from wizard.math.uncertain import Uncertain
from wizard.survey.again import was_read_again
from wizard.survey.guide import guide_of
from wizard.survey.record import Survey
from wizard.survey.rows import Reading

RAIL = "rail"
TOGETHER: tuple[tuple[str, tuple[QuantityId, ...]], ...] = (
    (RAIL, marks.SAGS),
    ("along", (marks.RAIL_SHIFT, marks.OWN_SIDES, marks.SWAY, marks.NOSE_OFF, marks.LENGTH)),
    ("horn", (marks.HORN_OUT, marks.HORN_APART, marks.HORN_BACK, marks.HORN_HEIGHT)),
    ("twist", (marks.TWIST,)),
    ("axle", (marks.WHEELBASE,)),
    ("thin", (marks.THICKNESS,)),
)
"""Quantities by which one part of the frame shows that it moved, the plainest of them first."""
KINDS = {q: (kind, rank) for kind, some in TOGETHER for rank, q in enumerate(some)}


class Moved(NamedTuple):
    """One part of the frame that moved."""

    kind: str
    """rail, along, horn, twist, axle, thin."""
    changes: tuple[Change, ...]
    """Every figure that shows it, the plainest first; of two rails the one that moved further."""
    sides: tuple[Side, ...] = ()
    """The rails or horns that moved; empty where it is of no side."""
    again: tuple[PromptId, ...] = ()
    """What is read again so that nobody believes a slip of the hand: where its first figure is."""
    is_read_again: bool = False
    """Whether that was done."""
    outcome: str = ""
    """What came of it, where the frame was worked on: came-back, part-left, too-far, worse, new."""

    @property
    def first(self) -> Change:
        """The figure that tells it."""
        return self.changes[0]

    @property
    def finding(self) -> Finding:
        """That figure now."""
        return self.first.new

    @property
    def number(self) -> Uncertain:
        """How far it moved, in the figure's unit and with its sign."""
        return self.first.number

    @property
    def spreads(self) -> bool:
        """Whether it shows at other stations of the rail too."""
        places = {where_of(c.new.where).place for c in self.changes}
        return self.kind == RAIL and len(places) > 1

    @property
    def is_wanted(self) -> bool:
        """Whether work on the frame was meant to move it so."""
        return self.outcome in ("came-back", "part-left")


class Since(NamedTuple):
    """A survey held against the one that it follows."""

    then: datetime
    comparison: Comparison
    moved: tuple[Moved, ...]
    """The part that moved furthest beyond what could be seen comes first."""
    untold: tuple[Change, ...]
    """Figures of which it cannot be told."""
    least: tuple[Least, ...]
    """Of each kind the smallest change that would have been told, wherever it was."""

    @property
    def compared(self) -> bool:
        """Whether any figure of the frame was read alike both times."""
        return any(not c.new.of.also for c in self.comparison.changes)

    @property
    def beside(self) -> tuple[Change, ...]:
        """What changed of what was called for beside the frame."""
        return tuple(c for c in self.comparison.of("changed") if c.new.of.also)

    @property
    def apart(self) -> tuple[Apart, ...]:
        """What of the frame was read both times and still not compared: it stood another way, or the
        string ran along another edge.
        """
        of_frame = (a for a in self.comparison.apart if not a.finding.of.also)
        return tuple(a for a in of_frame if a.why in (STATE, EDGE))

    @property
    def alarming(self) -> tuple[Moved, ...]:
        """What moved and was not meant to."""
        return tuple(m for m in self.moved if not m.is_wanted)


def since_of(earlier: Survey | None, survey: Survey, library: Library) -> Since | None:
    """What moved; None for a survey that follows none, or one that is not at hand."""
    if earlier is None:
        return None
    return since_from(compare(earlier, survey, library), library)


def since_from(comparison: Comparison, library: Library) -> Since:
    """What moved from one survey of a comparison to the other."""
    from wizard.judgment.correction import outcomes, was_corrected  # seldom wanted

    worked: dict[FindingId, str] = {}
    if was_corrected(comparison.now.survey, library):
        worked = {o.change.old.id: o.kind for o in outcomes(comparison)}
    found = [m._replace(outcome=_outcome(m, worked)) for m in moved_of(comparison, library)]
    return Since(
        comparison.then.survey.started,
        comparison,
        tuple(sorted(found, key=lambda m: (m.is_wanted, -_plain(m.first)))),
        comparison.of("cannot tell"),
        weakest(least_moved(comparison, case_of(comparison.now.survey, library))),
    )


def _outcome(moved: Moved, worked: Mapping[FindingId, str]) -> str:
    return worked.get(moved.first.old.id, "") if worked else ""


def _plain(change: Change) -> float:
    """How many times what could be seen it moved."""
    return abs(change.number.value) / (change.visible or 1.0)


def moved_of(comparison: Comparison, library: Library) -> list[Moved]:
    """Everything that changed, part by part, with what of it is read again."""
    survey = comparison.now.survey
    prompts = guide_of(survey, library).questions.by_id
    found = []
    for moved in _moved(comparison):
        again = tuple(id for id in _read_at(moved.finding, survey) if id in prompts)
        done = bool(again) and all(was_read_again(survey, prompts[id]) for id in again)
        found.append(moved._replace(again=again, is_read_again=done))
    return found


def _read_at(finding: Finding, survey: Survey) -> tuple[PromptId, ...]:
    """The prompts of a figure's readings that were read where it is; all, where it is of no place."""
    rows = set(finding.readings)
    read = dict.fromkeys(r.prompt for r in survey.standing(Reading) if r.id in rows)
    where = where_of(finding.where)
    here = (id for id in read if where.place == asked_of(id).item or str(where.place) == str(id))
    sided = tuple(id for id in here if where.side is None or asked_of(id).side is where.side)
    return sided or tuple(read)


def _moved(comparison: Comparison) -> list[Moved]:
    """Everything that changed, part by part."""
    parts: dict[tuple[str, Side | None], list[Change]] = {}
    for change in comparison.of("changed"):
        if change.new.quantity not in KINDS:
            continue
        kind, _ = KINDS[change.new.quantity]
        side = where_of(change.new.where).side if kind in ("rail", "thin") else None
        parts.setdefault((kind, side), []).append(change)
    found: dict[tuple[str, bool, object], Moved] = {}
    for (kind, side), changes in parts.items():
        rows = tuple(sorted(changes, key=_first))
        up = rows[0].number.value > 0
        key = (kind, up, rows[0].new.quantity)
        sides = (side,) if side else ()
        found[key] = _joined(found[key], rows, sides) if key in found else Moved(kind, rows, sides)
    return list(found.values())


def _joined(one: Moved, rows: Sequence[Change], sides: tuple[Side, ...]) -> Moved:
    """Both rails that moved the same way."""
    both = sorted((*one.changes, *rows), key=_first)
    return one._replace(changes=tuple(both), sides=(*one.sides, *sides))


def _first(change: Change) -> tuple[int, bool, float]:
    """The plainest quantity, first over the whole frame, then the largest movement."""
    return KINDS[change.new.quantity][1], change.new.where != WHOLE_BOX, -abs(change.number.value)
