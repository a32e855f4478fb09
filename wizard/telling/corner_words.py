"""The plain thing in one line: which corner stands where, and that the rest is true; and a rail
that is short.
"""

from __future__ import annotations

from wizard.judgment.bands import Judged
from wizard.judgment.corner import Corner, corner_of
from wizard.judgment.facts import is_out
from wizard.judgment.seen import Seen
from wizard.judgment.verdict import Verdict
from wizard.library import marks
from wizard.library.shapes import Layout
from wizard.survey.record import Unit
from wizard.telling.amounts import about, doubt
from wizard.telling.document import Item as Line

HORNS_ALIKE = "The horns are equal. Equal does not say unbent: hold bumper irons and shell to them."


def corner_lines(verdict: Verdict, layout: Layout, unit: Unit) -> list[Line]:
    """Where one corner explains the plan; nothing where none does."""
    found = corner_of(verdict.judged, layout)
    return [Line(_corner(found, layout, unit), found.sources)] if found else []


def _corner(found: Corner, layout: Layout, unit: Unit) -> str:
    other = "right" if found.side == "left" else "left"
    way, past, edge = (
        ("back", "ahead of", "rear") if found.end == "front" else ("forward", "behind", "front")
    )
    size = about(found.by.finding.value, "mm", unit)
    names = {b.id: b.name for b in layout.boxes}
    true = names[found.true[0]] if len(found.true) == 1 else "rest"
    box = next(b for b in layout.boxes if b.id == found.box)
    place = _place(box.rear if edge == "rear" else box.front, layout)
    return (
        f"The {found.side} {found.end} corner stands {size} {way} of the {other},"
        f" {doubt(found.by, unit)}. The {true} is square and equal. The bend is {past} the {place}."
    )


def _place(id: str, layout: Layout) -> str:
    """A place by the name of the crossmember at it, where it has one."""
    level = next((v.name for v in layout.levels if v.place == id), "")
    return level or layout.place(id).name


def short_rail(verdict: Verdict) -> Judged | None:
    """The rail that is surely shorter than its twin, in the smallest box that shows it; None where
    there is none.
    """
    short = [j for j in verdict.judged if j.finding.quantity == "mash" and is_out(j)]
    return next((j for j in short if j.finding.where != "whole"), short[0] if short else None)


def short_rail_lines(verdict: Verdict, layout: Layout | None, unit: Unit) -> list[Line]:
    """What to do before a short rail is believed: steel leaves a trace where its length went."""
    short = short_rail(verdict)
    if short is None:
        return []
    side = "left" if short.finding.value > 0 else "right"
    rail = _looks(verdict, marks.RAIL_SIDE, side)
    if any(s.choice and not s.nothing for s in rail):
        return []
    ahead = [s for s in _looks(verdict, marks.HORN, side) if s.carries(marks.BENT)]
    if ahead:
        why = f"The bend seen at the {side} horn lies ahead of that box and does not explain it. "
    else:
        why = _nothing_to_see(rail, about(short.finding.value, "mm", unit))
    text = (
        f"{why}Tape it again from another rivet. If it stands, look for the"
        f" fold{_between(short, layout)}, "
    )
    text += "or for joints that slipped."
    return [Line(text, (short.finding.id, *(s.look.id for s in (*rail, *ahead))))]


def _looks(verdict: Verdict, mark: str, side: str) -> list[Seen]:
    """What was seen on one side at the steps that carry the mark."""
    return [s for s in verdict.seen if mark in s.step.marks and s.side == side]


def _nothing_to_see(rail: list[Seen], size: str) -> str:
    """What the steel says against the tape, where it was seen bare."""
    bare = any(s.look.seen == "bare" and s.choice for s in rail)
    return f"A rail cannot be {size} short with nothing to see. " if bare else ""


def _between(short: Judged, layout: Layout | None) -> str:
    box = next((b for b in layout.boxes if b.id == short.finding.where), None) if layout else None
    if layout is None or box is None:
        return ""
    return f" between {_place(box.front, layout)} and {_place(box.rear, layout)}"


def horns_alike_lines(verdict: Verdict) -> list[Line]:
    """Behind `the horns` among what is in order: two horns bent alike are equal too."""
    ids = tuple(
        j.finding.id
        for j in verdict.judged
        if j.finding.quantity == "horn" and j.bands == ("leave",)
    )
    return [Line(HORNS_ALIKE, ids)] if ids else []
