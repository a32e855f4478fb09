"""Whether the rails are known well enough that nobody need take the engine's weight off them.

The string with the engine's weight on says what it would say without: a rail that loses a weight
comes up, by as much as its section and the weight make it (`wizard.checks.springing`), and is not
lower than it was. So where every station asks for nothing with the weight on and would ask for
nothing without, and the smooth curve of each rail stays within the first limit without it and
stands no higher with it than a crown may, the sag without the weight is known. A kink deep enough
to be told puts a station further down than that (tests/bench/string_alone.py).
"""

from typing import NamedTuple

from wizard.checks.case import Case
from wizard.checks.notes import Bend
from wizard.checks.springing import curve_through, least_crown, without_weight
from wizard.judgment.bands import Judged, judge
from wizard.judgment.body import is_propped
from wizard.library import marks
from wizard.library.places import SIDES, PlaceId, PromptId, StepId, step_of, where_of
from wizard.library.shapes import Library
from wizard.math.shape import LEAST_STATIONS
from wizard.math.uncertain import Uncertain
from wizard.survey.record import Survey
from wizard.survey.rows import WANTED, Fold, Reading

KNOWN = 10.0
"""Degrees of freedom with which a doubt is known: to about a fifth (JCGM 100:2008 G.4.2)."""
LEAVE, WATCH = "leave", "watch"
SHAPES = (marks.KINK_OR_BOW, marks.CROWN, marks.GAP_SLIP)
"""What is told of how a rail bends, and what is told only where a rail or a gap is not in order."""
KINK = "kink"


def within_without(case: Case, judged: tuple[Judged, ...], places: int) -> float:
    """The limit within which the curve of both rails would lie without the engine's weight, mm, by
    what was read with it; 0 where that is not known.

    judged: all that is found. places: how many gaps are read in one state.
    """
    loaded = (j for j in judged if j.finding.quantity == marks.SAG_LOADED)
    stations = [_Station(case, j) for j in loaded]
    if len(stations) != places or _has_shape(judged) or not all(s.asks_nothing for s in stations):
        return 0.0
    limits = [_upto(case, [s for s in stations if s.side == side]) for side in SIDES]
    return max(limits) if all(limits) else 0.0


def is_known_without(survey: Survey, library: Library) -> bool:
    """Whether the string is not read without the weight since it is known what it would say; also
    of whoever wanted to read it all the same and then could not lift the engine: what was read
    with its weight on still says so.
    """
    page = library.page[marks.STRING_UNLOADED]
    return any(_is_of(f, page) for f in survey.folds()) or bool(wanted_in_vain(survey, library))


def wanted_in_vain(survey: Survey, library: Library) -> tuple[Fold, ...]:
    """What was wanted of the string without the engine's weight though it need not be read, and was
    not read after all.
    """
    page = library.page[marks.STRING_UNLOADED]
    wanted = (f for f in survey.table(Fold) if f.struck == WANTED and _is_of(f, page))
    return tuple([f for f in wanted if _still_holds(survey, f, page)])


def _is_of(fold: Fold, page: StepId) -> bool:
    return any(step_of(PromptId(id)) == page for id in fold.prompts.split())


def _still_holds(survey: Survey, fold: Fold, page: StepId) -> bool:
    """Whether nothing was read since of what it rests on, nor any of what it left out."""
    rests = set(fold.readings.split())
    now = survey.standing(Reading)
    pages = {page, *(step_of(r.prompt) for r in now if r.id in rests)}
    return not survey.takes_all and {r.id for r in now if step_of(r.prompt) in pages} == rests


def _has_shape(judged: tuple[Judged, ...]) -> bool:
    """Whether a rail is told to be kinked or crowned, or a gap to be a slip."""
    shaped = (j.finding for j in judged if j.finding.quantity in SHAPES)
    bends = [found.note(Bend) for found in shaped]
    return any(bend is None or bend.kind == KINK for bend in bends)


class _Station(NamedTuple):
    """A gap that was read with the weight on."""

    case: Case
    loaded: Judged

    @property
    def place(self) -> PlaceId:
        return where_of(self.loaded.finding.where).place

    @property
    def side(self) -> str | None:
        return where_of(self.loaded.finding.where).side

    @property
    def less(self) -> Uncertain:
        """The sag that it would have without the weight, mm."""
        return without_weight(self.case, self.loaded.finding)

    def without(self, number: Uncertain) -> Judged:
        """That number judged as its sag without the weight."""
        found = self.loaded.finding
        as_if = self.case.found(marks.SAG_UNLOADED, found.where, number, found.readings)
        return judge(as_if, self.case.survey, self.case.library)

    @property
    def asks_nothing(self) -> bool:
        """Whether nothing is to be done for it, with the weight on or without, by what is known
        with ten degrees of freedom; what the body may hold up is not known.
        """
        found = self.loaded.finding
        if found.number.dof < KNOWN or is_propped(found, self.case.survey):
            return False
        return _is_fine(self.loaded) and _is_fine(self.without(self.less))


def _is_fine(judged: Judged) -> bool:
    return judged.bands in ((LEAVE,), (LEAVE, WATCH))


def _upto(case: Case, rail: list[_Station]) -> float:
    """The limit within which the curve of a rail lies without the weight, mm; 0 where it may be
    over, or stands higher with the weight on than a crown may.
    """
    if len(rail) < LEAST_STATIONS:
        return 0.0
    loaded = curve_through(case, {s.place: s.loaded.finding.number for s in rail})
    if min(point.value for point in loaded) < -least_crown(case):
        return 0.0
    curve = curve_through(case, {s.place: s.less for s in rail})
    judged = [s.without(point) for s, point in zip(rail, curve, strict=True)]
    if any(j.bands != (LEAVE,) for j in judged):
        return 0.0
    return judged[0].edges[0].high or 0.0
