"""What findings and history show, as named conditions that content/signs.toml gives a weight."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from wizard.judgment import shown_plan as plan
from wizard.judgment import shown_string as string
from wizard.judgment.facts import CORNERS, Shown, Told, Zone, beyond, is_out
from wizard.library import marks
from wizard.library.places import DIFFERENCE, PromptId, WhereId
from wizard.library.shapes import Library
from wizard.survey.meant import meant
from wizard.survey.record import Survey

PULLEY = WhereId("pulley")
"""Where a hint at the engine's front end is of."""
OFF_MM = 5.0
"""A pulley nearer to the middle is no sign (this project's own figure)."""


def _pulleys(facts: Told) -> Iterator[Shown]:
    off = {w: j for w, j in facts.of(marks.HINT).items() if beyond(j, OFF_MM)}
    if off:
        yield Shown("pulley-off", tuple(j.finding.id for j in off.values()))
    knocked, centered = facts.library.asking(marks.KNOCKED), facts.library.asking(marks.PULLEY)
    was_true = facts.meant(marks.KNOCKED) == facts.meant(marks.PULLEY) == marks.YES
    if PULLEY in off and was_true and knocked and centered:
        zones = CORNERS.get(facts.meant(marks.WHERE_HIT, knocked.step), ())
        yield Shown("pulley-moved", (off[PULLEY].finding.id, str(centered.prompt)), zones)


ASKEW_MM = 3.0
"""An axle that stands less askew at the corner that was hit is no sign (the wheelbase's own limit
of what is left).
"""
SHORTER = {"left": -1.0, "right": 1.0}
"""The side on which a blow at either end shortens the wheelbase, by the sign of left less right."""


def _axle_at_the_hit(facts: Told) -> Iterator[Shown]:
    """Wheelbases unlike, the axle askew at the end that was hit, and that wheel pushed towards the
    other axle.
    """
    base = facts.of(marks.WHEELBASE).get(DIFFERENCE)
    if base is None or not is_out(base):
        return
    for side, end in _hit_ends(facts):
        axle = facts.of(marks.AXLE).get(WhereId(end))
        pushed = SHORTER[side] * base.finding.value > 0
        if pushed and axle is not None and beyond(axle, ASKEW_MM):
            ids = (base.finding.id, axle.finding.id)
            yield Shown("axle-at-the-hit", ids, ((side, end),))


def _hit_ends(facts: Told) -> tuple[Zone, ...]:
    """The corners that are known to have been hit, before or since last time."""
    found: list[Zone] = []
    for question, hit in ((marks.KNOCKED, marks.YES), (marks.HAPPENED, marks.KNOCK)):
        asked = facts.library.asking(question)
        if asked and facts.meant(question) == hit:
            found += CORNERS.get(facts.meant(marks.WHERE_HIT, asked.step), ())
    return tuple(found)


def _fitted(facts: Told) -> Iterator[Shown]:
    fitted = facts.library.asking(marks.FITTED)
    if fitted and is_fitted(facts.survey, facts.library):
        yield Shown("fitted-to-it", (str(fitted.prompt),))


def is_fitted(survey: Survey, library: Library) -> bool:
    """Whether hood and doors were fitted to the frame as it is, or shut evenly on it without being
    known not to.

    Not where anything happened to it since it was measured last: what is there now may be younger
    than the fitting. Nor before it was asked whether anybody altered them: even gaps alone say it of
    no car.
    """
    for question, quiet in QUIET.items():
        asked = library.asking(question)
        if asked and survey.answer_to(asked.prompt) and meant(survey, library, question) != quiet:
            return False
    fitted, asked = meant(survey, library, marks.FITTED), library.asking(marks.FITTED)
    if fitted == marks.YES:
        return True
    is_open = asked is not None and bool(survey.answer_to(asked.prompt)) and fitted != marks.NO
    return is_open and bool(shut_evenly(survey, library))


SHUT = (
    ((marks.HOOD_FITS, marks.YES), (marks.HOOD_GAP, marks.EVEN)),
    ((marks.DOORS_FIT, marks.YES), (marks.DOOR_GAPS, marks.EVEN)),
)
"""Hood and doors: what says that they shut evenly, as remembered of a car that is apart, or as it
is seen.
"""


def shut_evenly(survey: Survey, library: Library) -> tuple[PromptId, ...]:
    """The answers by which both hood and doors shut evenly on the frame; empty where not both are
    known to.
    """
    found = [next((p for p in _said_so(ways, survey, library)), None) for ways in SHUT]
    return tuple(p for p in found if p) if all(found) else ()


def _said_so(
    ways: tuple[tuple[str, str], ...], survey: Survey, library: Library
) -> Iterator[PromptId]:
    for question, even in ways:
        asked = library.asking(question)
        if asked and asked.means(survey.answer_to(asked.prompt)) == even:
            yield asked.prompt


QUIET = {marks.HAPPENED: marks.NOTHING, marks.CORRECTED: marks.NO}
"""What must have been answered of the time since, if anything, for the frame to be as it was."""

FINDERS: tuple[Callable[[Told], Iterator[Shown]], ...] = (
    string.sags,
    string.one_rail,
    string.kinks,
    string.crowns,
    plan.boxes,
    plan.lengths,
    plan.bowed,
    plan.twists,
    plan.horns,
    _axle_at_the_hit,
    _pulleys,
    _fitted,
)


def shown(facts: Told) -> tuple[Shown, ...]:
    """Every condition that the findings and the history bear out."""
    return tuple(s for find in FINDERS for s in find(facts))
