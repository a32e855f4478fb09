"""Where a figure is, what it is called there, and how much it is, with the way it goes."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from wizard.checks.finding import Finding
from wizard.library import marks
from wizard.library.places import (
    PointId,
    PromptId,
    QuantityId,
    WhereId,
    asked_of,
    point_of,
    where_of,
)
from wizard.library.shapes import Layout, Library
from wizard.readings.plain import clean_line
from wizard.readings.written import write_length
from wizard.survey.guide import layout_of
from wizard.survey.record import Survey, Unit
from wizard.survey.rows import Doubt, Verdict
from wizard.telling.amounts import FINEST, about, at, is_zero
from wizard.telling.amounts import size as size

SIDES = ("left", "right")


class Spot:
    """The place of a finding, ready to fill the braces of its quantity's words."""

    def __init__(self, finding: Finding, layout: Layout) -> None:
        self.finding, self.layout = finding, layout

    def __getitem__(self, field: str) -> str:
        """One {field}, as authored content may name it."""
        return WORDS[field](self)

    @property
    def id(self) -> WhereId:
        """The box, station or place, without its side."""
        return where_of(self.finding.where).place or self.finding.where

    @property
    def side(self) -> str:
        """left or right; empty where it has none."""
        return where_of(self.finding.where).side or ""

    @property
    def name(self) -> str:
        """What the box, station or place is called; its id where nothing is known of it."""
        return self.known or str(self.id)

    @property
    def known(self) -> str:
        """The same; empty where nothing is known of it."""
        found = self.finding.of.places.get(self.id)
        return found or self.layout.names.get(self.id, "")

    @property
    def role(self) -> str:
        """What the box is, for all kinds of frame: nose, plate, ...; empty for any other place."""
        box = self.layout.box_by_id.get(self.id)
        return box.role if box else ""


WORDS: Mapping[str, Callable[[Spot], str]] = {
    "where": lambda spot: spot.name,
    "Where": lambda spot: cap(spot.name),
    "at": lambda spot: at(spot.name),
    "At": lambda spot: cap(at(spot.name)),
    "side": lambda spot: spot.side,
    "tape": lambda spot: tape_name(PromptId(str(spot.finding.where)), spot.layout),
}
"""What stands in braces in content/quantities.toml, for its place."""


def cap(text: str) -> str:
    """The first letter large."""
    return text[:1].upper() + text[1:]


def name_of(finding: Finding, layout: Layout) -> str:
    """What the figure is: `left rail at the rear engine mount, engine on`."""
    return finding.of.name.format_map(Spot(finding, layout))


def tape_name(prompt: PromptId, layout: Layout) -> str:
    """A taped distance: `left front to right rear`."""
    tape = asked_of(prompt).tape
    return " to ".join(point_name(end, layout) for end in tape.ends) if tape else str(prompt)


def point_name(point: PointId, layout: Layout) -> str:
    """A point in words: `left front`."""
    found, place = point_of(point), layout.place_by_point.get(point)
    name = place.name if place else str(found.place)
    return f"{found.side} {name}" if found.side else name


def amount(finding: Finding, unit: Unit) -> str:
    """How much it is and which way: `3/16 in low`, `91 1/8 in`, `0`."""
    if finding.of.size:
        return f"{write_length(finding.value, unit, FINEST[unit])} {unit}"
    said = about(finding.value, finding.unit, unit)
    if is_zero(finding.value, finding.unit, unit):
        return said
    return f"{said} {finding.of.way(finding.value)}".rstrip()


HORN_WAYS: Mapping[QuantityId, tuple[str, str, str]] = {
    marks.HORN_APART: ("sideways", "in", "out"),
    marks.HORN_OUT: ("sideways", "in", "out"),
    marks.HORN_HEIGHT: ("in height", "down", "up"),
    marks.HORN_BACK: ("fore and aft", "forward", "back"),
}
"""What each figure of both horns is of, and the ways in which the one that is bent may go."""


INWARD = {"in": "inward", "out": "outward"}
"""The same behind a figure in inches: `13/32 in in` is hard to read."""


def horn_way(finding: Finding, bent: str) -> str:
    """Which way the horn went that was seen bent, the other one being as it was: `in`."""
    _, below, above = HORN_WAYS[finding.quantity]
    left_goes = finding.value < 0 if finding.quantity == marks.HORN_BACK else finding.value > 0
    return above if left_goes == (bent == SIDES[0]) else below


def of_bent_horn(finding: Finding, unit: Unit, bent: str) -> tuple[str, str] | None:
    """What the figure of both horns is and how much, where it is told which of them is bent: `left
    horn, sideways, against the right one`, `13/32 in inward`; None for any other figure.
    """
    if not bent or finding.quantity not in HORN_WAYS or is_zero(finding.value, finding.unit, unit):
        return None
    what, other = HORN_WAYS[finding.quantity][0], SIDES[bent == SIDES[0]]
    way = INWARD.get(horn_way(finding, bent), horn_way(finding, bent))
    said = f"{about(finding.value, finding.unit, unit)} {way}"
    return f"{bent} horn, {what}, against the {other} one", said


KM_IN_A_MILE = 1.609344


def distance(km: float, unit: Unit) -> str:
    """A distance driven: `900 miles`, `1448 km`."""
    return f"{km / KM_IN_A_MILE:.0f} miles" if unit == "in" else f"{km:.0f} km"


ACROSS = "cross-springs"
"""The trait of a frame whose springs lie across it."""


def holds(layout: Layout | None) -> str:
    """What keeps an axle in its place on this kind of frame."""
    if layout is None:
        return "what holds it to the frame"
    if ACROSS in layout.traits:
        return "the radius rods, their ball, perches and shackles"
    return "the center bolts, springs and shackles"


WRITTEN = ("text", "why", "answer", "mark", "name", "number", "place")
"""Fields of a row in which somebody's own words stand."""


OURS = (Doubt, Verdict)
"""Rows whose words are the program's own."""


def wording(survey: Survey, library: Library) -> Callable[[str], str]:
    """What puts a text into the words for the survey's kind of frame: where a frame has no rails,
    none are named. A text with what somebody wrote himself stays as it is.
    """
    layout = layout_of(survey, library)
    his = (row for row in survey.all_rows() if not isinstance(row, OURS))
    rows = (getattr(row, name, "") for row in his for name in WRITTEN)
    texts = (survey.car, *(text for text in rows if isinstance(text, str)))
    own = [clean_line(t, 60).lower().rstrip(".") for t in texts if "rail" in t.lower()]

    def word(text: str) -> str:
        low = text.lower()
        return text if any(said in low for said in own) else layout.worded(text)

    return word if own else layout.worded
