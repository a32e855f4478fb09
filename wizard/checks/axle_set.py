"""The axle set, once the frame is known: the front beam by a string, how it stands by an angle
gauge,
toe, spring perches and shackles.

Geometry, and common practice, no published source. Left is held against right, for what floor,
rake and
the gauge's own zero do to both is then out of it; a figure of the car's own book is what each
side is
held against where the owner has it. None of it judges the frame.
"""

from collections.abc import Callable, Iterator
from typing import NamedTuple

from wizard.checks.case import GAUGE, Case
from wizard.checks.finding import Finding
from wizard.checks.notes import FLOOR_OPEN
from wizard.checks.sizes import round_figure
from wizard.library import marks
from wizard.library.kinds import book_angle, book_length
from wizard.library.places import (
    DIFFERENCE,
    NO_PLACE,
    SIDES,
    QuantityId,
    Side,
    StepId,
    WhereId,
    part_of,
    prompt_id,
)
from wizard.math.caster import beam_end, wheel_lean
from wizard.math.uncertain import GUESS, Part, Uncertain
from wizard.readings.refused import Refused

RETURNS = (
    *(marks.BEAM_BEND, marks.PERCH_APART, marks.SHACKLE_APART, marks.REAR_SHACKLE_APART),
    *(marks.CASTER_SIDE, marks.CASTER_APART, marks.CASTER_BOOK),
    *(marks.CAMBER_SIDE, marks.CAMBER_APART, marks.CAMBER_BOOK),
    *(marks.TOE, marks.TOE_BOOK),
)
REACH, REACH_RELATIVE = 0.35, 0.3
"""How far an end of the beam lies outside its mark, as a part of the distance between the two
marks;
a round figure from memory.
"""
FORGED_U = 0.5
"""mm; how unlike the two halves of a beam come from the forge (this project's own guess)."""
RAKE_U = 0.5
"""Degrees; how the car stands on its floor, nose up or down (this project's own guess)."""
FLOOR_U = 0.5
"""Degrees that a floor leans from left to right where nobody read it (this project's own guess)."""


class Read(NamedTuple):
    """A number with the readings behind it."""

    number: Uncertain
    ids: tuple[str, ...]


def check(case: Case) -> list[Finding]:
    """Bend of each half of the beam, mm; caster and camber, degrees: each side, left minus right,
    and
    off the car's book; toe, mm; perches and shackles, left minus right.
    """
    if case.uncalled.issuperset(case.library.page[reads] for reads in marks.AXLE_SET):
        return []
    return [*_beam(case), *_perches(case), *_casters(case), *_cambers(case), *_toes(case)]


def _read(case: Case, page: StepId, name: str) -> Read | None:
    """The readings of one prompt of a page."""
    taken = case.taken(prompt_id(page, NO_PLACE, name))
    return Read(taken.number, taken.ids) if taken else None


def _both(case: Case, page: StepId, name: str = "{side}") -> tuple[Read, Read] | None:
    """What was read left and right; None unless both were."""
    left, right = (_read(case, page, name.format(side=side)) for side in SIDES)
    return (left, right) if left and right else None


def _apart(case: Case, quantity: QuantityId, both: tuple[Read, Read] | None) -> Iterator[Finding]:
    """Left minus right."""
    if both is not None:
        left, right = both
        number = left.number - right.number
        yield case.found(quantity, DIFFERENCE, number, (*left.ids, *right.ids))


# The beam, perches and shackles -------------------------------------------------------------------


def _beam(case: Case) -> Iterator[Finding]:
    """How far each end lies behind the straight line through the two marks, mm."""
    page = case.library.page[marks.BEAM]
    both, block = _both(case, page), _read(case, page, "block")
    if both is None or block is None:
        return
    reach = round_figure("beam-reach", REACH, REACH_RELATIVE)
    for n, side in enumerate(SIDES):
        here, other = both[n], both[1 - n]
        forged = Part("forged:beam", FORGED_U, source="a forged face", whose=GUESS)
        number = beam_end(block.number, here.number, other.number, reach).with_parts(forged)
        ids = (*here.ids, *other.ids, *block.ids)
        yield case.found(marks.BEAM_BEND, WhereId(side), number, ids)


def _perches(case: Case) -> Iterator[Finding]:
    page = case.library.page[marks.PERCHES]
    yield from _apart(case, marks.PERCH_APART, _both(case, page))
    yield from _apart(case, marks.SHACKLE_APART, _both(case, page, "shackle-{side}"))
    yield from _apart(case, marks.REAR_SHACKLE_APART, _both(case, page, "rear-shackle-{side}"))


# Caster and camber --------------------------------------------------------------------------------


def _casters(case: Case) -> Iterator[Finding]:
    """The car's rake and the gauge's zero are alike on both sides, and so are no part of what lies
    between them.
    """
    page = case.library.page[marks.WHEEL_LEANS]
    rake = Part("floor:rake", RAKE_U, shared=True, source="how the car stands", whose=GUESS)
    sides = {s: _read(case, page, f"caster-{s}") for s in SIDES}
    known = {s: Read(read.number.with_parts(rake), read.ids) for s, read in sides.items() if read}
    yield from _sides(case, known, (marks.CASTER_SIDE, marks.CASTER_APART, marks.CASTER_BOOK))


def _cambers(case: Case) -> Iterator[Finding]:
    """A floor that leans to one side leans both wheels that way: it takes from the one and gives to
    the other. A gauge that keeps its face the same way round is wrong alike all three times,
    which is
    outward on the left, inward on the right, and toward the right on the floor.
    """
    page = case.library.page[marks.WHEEL_LEANS]
    floor = _read(case, page, "floor")
    lean = _faced_about(floor.number) if floor else Uncertain(0.0, (UNREAD_FLOOR,))
    known = {}
    for side in SIDES:
        read = _read(case, page, f"camber-{side}")
        if read is not None:
            left = side == SIDES[0]
            own = read.number if left else _faced_about(read.number)
            ids = (*read.ids, *(floor.ids if floor else ()))
            known[side] = Read(wheel_lean(own, lean, left=left), ids)
    kinds = (marks.CAMBER_SIDE, marks.CAMBER_APART, marks.CAMBER_BOOK)
    for finding in _sides(case, known, kinds):
        yield finding if floor else finding.noted(FLOOR_OPEN)


UNREAD_FLOOR = Part("floor:lean", FLOOR_U, source="a floor that nobody read", whose=GUESS)


def _faced_about(number: Uncertain) -> Uncertain:
    """The same number where the gauge's own zero counts the other way."""
    zeros = [p for p in number.parts if part_of(p.name).kind == GAUGE]
    return number.with_parts(*(p._replace(size=-2.0 * p.size) for p in zeros))


def _sides(
    case: Case, known: dict[Side, Read], kinds: tuple[QuantityId, QuantityId, QuantityId]
) -> Iterator[Finding]:
    """Each side, the two against each other, each against the car's book."""
    of_side, apart, off_book = kinds
    for side, read in known.items():
        yield case.found(of_side, WhereId(side), read.number, read.ids)
    if len(known) == len(SIDES):
        left, right = (known[side] for side in SIDES)
        yield from _apart(case, apart, (left, right))
    book = _book(case, off_book)
    if book is None:
        return
    for side, read in known.items():
        yield case.found(off_book, WhereId(side), read.number - Uncertain(book), read.ids)


# Toe ----------------------------------------------------------------------------------------------


def _toes(case: Case) -> Iterator[Finding]:
    """How much further apart the tires are behind than in front, mm."""
    page = case.library.page[marks.TOE_TAPES]
    ahead, behind = (_read(case, page, end) for end in ("front", "back"))
    if ahead is None or behind is None:
        return
    number, ids = behind.number - ahead.number, (*behind.ids, *ahead.ids)
    yield case.found(marks.TOE, DIFFERENCE, number, ids)
    book = _book(case, marks.TOE_BOOK)
    if book is not None:
        yield case.found(marks.TOE_BOOK, DIFFERENCE, number - Uncertain(book), ids)


# The car's own book -------------------------------------------------------------------------------


def _toe_of(line: str, case: Case) -> float:
    """As typed; a fraction that a metric survey does not take is one of inches."""
    try:
        return float(book_length(line, case.survey.unit))
    except Refused:
        return float(book_length(line, "in"))


def _angle_of(line: str, case: Case) -> float:
    return float(book_angle(line))


BOOKS: dict[QuantityId, tuple[str, Callable[[str, Case], float]]] = {
    marks.CASTER_BOOK: (marks.BOOK_CASTER, _angle_of),
    marks.CAMBER_BOOK: (marks.BOOK_CAMBER, _angle_of),
    marks.TOE_BOOK: (marks.BOOK_TOE, _toe_of),
}
"""Where a figure of the car's own book stands, and how it is read."""


def _book(case: Case, quantity: QuantityId) -> float | None:
    """The figure of the car's own book for what is held against it; None where the owner has
    none.
    """
    question, read = BOOKS[quantity]
    asked = case.library.asking(question)
    line = case.survey.answer_to(asked.prompt).strip() if asked else ""
    try:
        return read(line, case) if line and line != "-" else None
    except Refused:  # A file may hold anything.
        return None
