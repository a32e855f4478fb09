"""The judged findings of one survey, ready to be asked what they show."""

from collections.abc import Collection, Mapping, Set
from typing import NamedTuple

from wizard.checks.case import case_of
from wizard.checks.notes import OffPlan, Slip
from wizard.frozen import Frozen, cached_property
from wizard.judgment.bands import Judged
from wizard.library import marks
from wizard.library.places import (
    FRONT_BOX,
    NO_PLACE,
    NO_STEP,
    REAR_BOX,
    WHOLE_BOX,
    PlaceId,
    QuantityId,
    Source,
    StepId,
    WhereId,
    where_id,
)
from wizard.library.places import SIDES as SIDES
from wizard.library.shapes import Layout, Library
from wizard.survey.guide import guide_of
from wizard.survey.meant import meant
from wizard.survey.record import Survey

Zone = tuple[str, str]
"""A side and a third of the frame, such as ("left", "front")."""

CORNERS: dict[str, tuple[Zone, ...]] = {
    marks.LEFT_FRONT: (("left", "front"),),
    marks.RIGHT_FRONT: (("right", "front"),),
    marks.LEFT_REAR: (("left", "rear"),),
    marks.RIGHT_REAR: (("right", "rear"),),
    marks.BESIDE: (("left", "middle"), ("right", "middle")),
}
"""Answers to `where was it hit` as zones."""


class Shown(NamedTuple):
    """A condition that the findings bear out."""

    condition: str
    sources: tuple[Source, ...]
    """Ids of findings and answers."""
    zones: tuple[Zone, ...] = ()
    """Where it points; empty for the whole frame."""
    box: PlaceId = NO_PLACE
    """Id of a box; empty where it is no matter of a box."""
    weightless: bool = False
    """Whether it is only said: what it leans to and speaks against then counts for nothing."""


class Told(Frozen):
    """Judged findings, ready to be asked about."""

    judged: tuple[Judged, ...]
    survey: Survey
    layout: Layout
    library: Library
    foreign: frozenset[StepId] = frozenset()
    """Steps that this kind of frame has no place for: nobody can be sent to them."""

    def meant(self, question: str, step: StepId = NO_STEP, side: str = "") -> str:
        """What was answered to a question of wizard/library/marks.py, by its meaning."""
        return meant(self.survey, self.library, question, step, side)

    def of(self, quantity: QuantityId) -> Mapping[WhereId, Judged]:
        """Findings of a quantity by place."""
        return self._by_quantity.get(quantity, {})

    @cached_property
    def _by_quantity(self) -> dict[QuantityId, dict[WhereId, Judged]]:
        found: dict[QuantityId, dict[WhereId, Judged]] = {}
        for j in self.judged:
            found.setdefault(j.finding.quantity, {})[j.finding.where] = j
        return found

    def both_rails(self, quantity: QuantityId) -> list[tuple[Judged, Judged]]:
        """Left and right at every station at which a sag was read on both."""
        found = self.of(quantity)
        pairs = ([found.get(where_id(s.id, side)) for side in SIDES] for s in self.layout.stations)
        return [(left, right) for left, right in pairs if left and right]

    def third(self, x: float) -> str:
        """front, middle or rear: the third of the rails in which x lies."""
        along = [p.x for p in self.layout.places if p.x >= 0]
        share = (x - min(along)) / ((max(along) - min(along)) or 1.0)
        return "front" if share < 1 / 3 else "middle" if share < 2 / 3 else "rear"

    @property
    def mount(self) -> PlaceId:
        """The station nearest to the rear engine mount."""
        return mount_of(self.layout)

    def station_third(self, station: WhereId) -> str:
        """The third in which a station lies."""
        found = self.layout.station_by_id.get(station)
        return self.third(found.x if found else 0.0)


def mount_of(layout: Layout) -> PlaceId:
    """The station nearest to the rear engine mount: there an engine's weight shows most."""
    x = layout.figures.get("engine_mount_x", 0.0)
    near = min(layout.stations, key=lambda s: abs(s.x - x), default=None)
    return near.id if near else NO_PLACE


def told(judged: tuple[Judged, ...], survey: Survey, library: Library) -> Told:
    """The findings with the survey's own layout."""
    layout = case_of(survey, library).layout
    return Told(judged, survey, layout, library, guide_of(survey, library).questions.unfit)


def is_out(judged: Judged | None) -> bool:
    """Whether it is established beyond `leave it`."""
    return judged is not None and bool(judged.bands) and judged.established != "leave"


def is_true(judged: Judged | None) -> bool:
    """Whether nothing beyond `leave it` can be meant."""
    return judged is not None and judged.bands == ("leave",)


def beyond(judged: Judged, size: float) -> bool:
    """Whether the value lies further from zero than `size`, doubt included."""
    return abs(judged.finding.value) - judged.half_width > size


def accused(judged: Collection[Judged]) -> frozenset[str]:
    """Ids of the readings of which one has probably slipped: nothing rests on them alone."""
    slips = [j.finding for j in judged if j.finding.quantity in marks.SLIPS]
    return frozenset([i for f in slips if f.note(Slip) is not None for i in f.readings])


def rests_on(judged: Judged, slipped: frozenset[str]) -> bool:
    """Whether a figure of few tapes has one among them that has probably slipped; the plan has all
    tapes, and says itself where they contradict one another.
    """
    found = judged.finding
    return not slipped.isdisjoint(found.readings) and found.note(OffPlan) is None


def reaches_both_ends(boxes: Set[WhereId]) -> bool:
    """Whether these boxes, by id, cover the frame: the whole of it, or one at each end."""
    front = bool(boxes & {FRONT_BOX, marks.BY_BAR})
    return WHOLE_BOX in boxes or (front and REAR_BOX in boxes)
