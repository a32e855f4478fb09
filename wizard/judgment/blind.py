"""Which checks see what was bent, which are blind to it and why: the real checks on the model's
noiseless readings, the model being of the sizes of the car in a survey.

Nothing here knows a fault by name but the authored reasons; whether a check sees it is computed
each time.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache

from wizard.checks import caster
from wizard.checks.case import Case, case_of
from wizard.checks.finding import Finding
from wizard.checks.plan import plan_of
from wizard.checks.run import on_plan, on_readings
from wizard.checks.sizes import length, width
from wizard.library import marks
from wizard.library.places import SIDES, FindingId, PlaceId, PromptId, across, is_like, is_own
from wizard.library.shapes import Layout, Library
from wizard.library.shapes_model import ModelFault, Voice
from wizard.math.caster import drop_on_engine
from wizard.math.student import coverage_factor
from wizard.model.bending import bend
from wizard.model.bent import Bent
from wizard.model.frame import Frame
from wizard.model.kit import Kit
from wizard.model.readings import library_for, prompts_of, reading, survey_on
from wizard.readings.refused import Refused
from wizard.survey.prompts import Prompt
from wizard.survey.record import Survey, Unit
from wizard.survey.rows import Reading

ALONE = "one"
"""By what a check goes that knows of no other readings than its own."""
NEXT_TO_NOTHING = 0.25
"""mm: a change under this nobody reads off any scale here."""


@dataclass(frozen=True, slots=True)
class Heard:
    """What one check says of a bent frame."""

    voice: Voice
    kind: str
    """sees, faint (changed, but by less than its own doubt), blind, silent (it does not fit this
    kind of frame).
    """
    finding: Finding | None
    """The finding that changed most against the straight frame; None where there is none."""
    change: float
    """By how much it changed, mm."""
    why: str
    """Why it does not see it, as authored, or what it takes it for; empty where it simply sees it."""
    twins: tuple[tuple[Prompt, float], ...] = ()
    """The lengths behind it that are each other's mirror image, as read on the bent frame, mm; empty
    where it rests on none.
    """
    misled: bool = False
    """Whether the plan of all tapes shows that what it tells alone is not so."""


@dataclass(frozen=True, eq=False)
class Bench:
    """The model of one car: its layout with its sizes, and the content whose checks are asked."""

    layout: Layout
    library: Library

    @cached_property
    def prompts(self) -> Mapping[PromptId, Prompt]:
        """Every prompt that the steps ask of this kind of frame."""
        return prompts_of(Frame(self.layout), self.library)

    @cached_property
    def known(self) -> Library:
        """The content with this car's sizes in it."""
        return library_for(Frame(self.layout), self.library)

    def frame(self, bent: Bent) -> Frame:
        """The model, bent."""
        return Frame(self.layout, bent)

    def bend(self, lines: Iterable[str], bent: Bent | None = None, unit: Unit = "mm") -> Bent:
        """The faults after some typed lines; a bare number is in `unit`. Raises Refused."""
        found = bent or Bent()
        for line in lines:
            found = bend(found, line, self.layout, unit)
        return found

    @cached_property
    def faults(self) -> Mapping[str, ModelFault]:
        """The authored faults that this kind of frame can have."""
        found = {}
        for fault in self.library.model.faults.values():
            try:
                self.bend((*fault.bend, *fault.mirror))
            except Refused:
                continue
            found[fault.id] = fault
        return found

    def survey(self, bent: Bent) -> Survey:
        """Every reading off the bent model."""
        kit = Kit(string_below=bent.string == "below")
        return survey_on(self.frame(bent), self.prompts, kit=kit)

    @cached_property
    def found(self) -> Callable[[Bent], dict[str, dict[FindingId, Finding]]]:
        """Of a bent frame the findings by id: under `one` each check alone, under `plan` those of the
        plan of all tapes. The last few are kept with the bench.
        """
        return lru_cache(maxsize=64)(self._found)

    def _found(self, bent: Bent) -> dict[str, dict[FindingId, Finding]]:
        case = Case(self.survey(bent), self.known)
        quantities = self.known.quantities.values()
        one = on_readings(case, quantities)
        plan = plan_of(case)
        both = on_plan(case, quantities, plan) if plan else []
        one += caster.check(case, one)
        return {ALONE: {f.id: f for f in one}, "plan": {f.id: f for f in both}}

    def hear(self, bent: Bent, fault: str = "") -> tuple[Heard, ...]:
        """Every check on the bent frame against the straight one that stands the same way.

        fault: id of the authored fault, for the reasons that were written for it.
        """
        stands = Bent(engine=bent.engine, supports=bent.supports, string=bent.string)
        straight = replace(stands, lean=bent.lean)
        now, then = self.found(bent), self.found(straight)
        voices = self.library.model.voices.values()
        heard = (self._heard(v, now[v.by], then[v.by], fault) for v in voices)
        spoken = (h for h in heard if not (h.voice.called and h.kind in ("blind", "silent")))
        told = (replace(one, twins=self._twins(one, bent)) for one in spoken)
        return tuple(replace(one, misled=_misled(one, now["plan"], then["plan"])) for one in told)

    def _twins(self, heard: Heard, bent: Bent) -> tuple[tuple[Prompt, float], ...]:
        """The first two readings behind a finding where they are twins: across the frame and back;
        none of the plan, which rests on many.
        """
        if heard.finding is None or heard.kind in ("blind", "silent") or heard.voice.by != ALONE:
            return ()
        rows = {row.id: row for row in self.survey(bent).table(Reading)}
        behind = [self.prompts[rows[id].prompt] for id in heard.finding.readings[:2]]
        if not _across_and_back(behind):
            return ()
        frame = self.frame(bent)
        read = ((prompt, reading(frame, prompt)) for prompt in behind)
        return tuple((prompt, value) for prompt, value in read if value is not None)

    def _heard(
        self,
        voice: Voice,
        now: dict[FindingId, Finding],
        then: dict[FindingId, Finding],
        fault: str,
    ) -> Heard:
        ids = [id for id in now if id in then and matches(voice, id)]
        changed = {id: now[id].value - then[id].value for id in ids}
        if not changed:
            return Heard(voice, "silent", None, 0.0, "")
        worst = max(ids, key=lambda id: abs(changed[id]) / (half_width(then[id]) or 1.0))
        kind = kind_of(changed[worst], then[worst])
        general = "" if kind == "sees" else voice.blind
        why = self.library.model.reasons.get((fault, voice.id), general)
        return Heard(voice, kind, now[worst], changed[worst], why)

    def drop_of_ball(self, bent: Bent) -> float | None:
        """How far the rear ball of the axle's rod went down with the rails, the set alone, mm; None
        without one.
        """
        figures = self.layout.figures
        if "ball_x" not in figures or "rod" not in figures:
            return None
        frame = self.frame(replace(bent, engine="weight-off"))

        def low(x: float) -> float:
            return sum(frame.sag(side, x, loaded=False) for side in SIDES) / len(SIDES)

        if marks.BALL_ON_GEARBOX not in self.layout.traits:
            return low(figures["ball_x"])
        front, mount = figures["engine_front_x"], figures["engine_mount_x"]
        held = (front, low(front)), (mount, low(mount))
        return drop_on_engine(*held, figures["ball_x"]).value


def _misled(
    heard: Heard, plan: Mapping[FindingId, Finding], straight: Mapping[FindingId, Finding]
) -> bool:
    """Whether a check alone tells of what the plan of all tapes does not find."""
    id = heard.finding.id if heard.finding and heard.voice.by == ALONE else None
    if id is None or heard.kind != "sees" or id not in plan or id not in straight:
        return False
    return kind_of(plan[id].value - straight[id].value, straight[id]) != "sees"


def _across_and_back(behind: Sequence[Prompt]) -> bool:
    """Whether two tapes are twins: one crosses the frame, the other crosses it back."""
    taped = [(p.start, p.end) for p in behind if p.start and p.end and not p.kind.offsets]
    if len(taped) != 2:
        return False
    (start, end), twin = taped
    return (across(start), across(end)) == twin


def half_width(finding: Finding) -> float:
    """Half the 95 % interval of a finding, in its unit."""
    return coverage_factor(finding.number.dof) * finding.number.u


def kind_of(change: float, straight: Finding) -> str:
    """sees, faint or blind, by how a change stands to the doubt of the check on a straight frame."""
    if abs(change) > max(half_width(straight), NEXT_TO_NOTHING):
        return "sees"
    return "faint" if abs(change) >= NEXT_TO_NOTHING else "blind"


def matches(voice: Voice, id: FindingId) -> bool:
    """Whether a finding is one of those that a check makes."""
    out = any(is_like(id, p[1:]) for p in voice.finds if p.startswith("!"))
    return not out and any(is_like(id, p) for p in voice.finds if not p.startswith("!"))


LIKELY = 0.25
"""Share by which a taped size may differ from the layout's: beyond it a slip is likelier than such
a frame.
"""


def model_layout(survey: Survey, library: Library) -> Layout:
    """The survey's layout, with its own sizes wherever they were taped and can be believed."""
    case = case_of(survey, library)
    layout = case.layout
    halves, along = _half_widths(case), _stretched(case)
    if sorted(along, key=lambda p: along[p]) != _from_front(layout):
        return layout
    places = tuple(p._replace(x=along[p.id], half_width=halves[p.id]) for p in layout.places)
    return replace(layout, places=places)


def _from_front(layout: Layout) -> list[PlaceId]:
    """The places in their order along the frame."""
    return [p.id for p in sorted(layout.places, key=lambda p: p.x)]


def _half_widths(case: Case) -> dict[PlaceId, float]:
    """Half the width at each place, as taped where that can be believed."""
    halves = {p.id: p.half_width for p in case.layout.places}
    for place in case.layout.places:
        if set(place.sides) != {"left", "right"}:
            continue
        wide, ids = width(case, place.id)
        if ids and _likely(wide.value, 2 * place.half_width):
            halves[place.id] = wide.value / 2
    return halves


def _stretched(case: Case) -> dict[PlaceId, float]:
    """Where each place lies along the frame, with the boxes as long as taped."""
    layout = case.layout
    along = {p.id: p.x for p in layout.places}
    for box in layout.boxes:
        long, ids = length(case, box)
        if not ids or not _likely(long.value, layout.place(box.rear).x - layout.place(box.front).x):
            continue
        if (
            is_own(box.front) or box.front == layout.tips
        ):  # what is tied to the frame, not the frame to it
            along[box.front] = along[box.rear] - long.value
        else:
            along[box.rear] = along[box.front] + long.value
    return along


def _likely(taped: float, round_figure: float) -> bool:
    return abs(taped - round_figure) <= LIKELY * abs(round_figure)
