"""What a paper says of the car as it was typed: the number on its frame, other marks, the place of
the survey.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from wizard.library.places import spoken
from wizard.library.shapes import Library
from wizard.readings.plain import clean_line
from wizard.survey.follow import THEN
from wizard.survey.record import Survey
from wizard.survey.rows import CarNote

LONGEST = 120
"""Letters of what is typed that a paper has room for."""
LAST_TIME = "(noted last time)"
"""Behind what is of the day and was carried over."""


class Of(NamedTuple):
    """One thing that was noted of the car."""

    id: str
    name: str
    text: str
    """As it was typed, in one line without controls; whoever writes markup escapes it."""
    stays: bool

    @property
    def words(self) -> str:
        """`number on the frame, as typed: A 12345`."""
        return f"{self.name}, as typed: {self.text}"


def of_car(survey: Survey, library: Library) -> tuple[Of, ...]:
    """What was noted, the last of each, in the order of content; what it does not know comes last."""
    rows = {row.about: row for row in survey.standing(CarNote) if row.text.strip()}
    asked = library.paper.of_car
    order = [*(id for id in asked if id in rows), *(id for id in rows if id not in asked)]
    return tuple(_of(rows[id], library) for id in order)


def _of(row: CarNote, library: Library) -> Of:
    asked = library.paper.of_car.get(row.about)
    stays = asked is None or asked.stays
    text = clean_line(row.text, LONGEST)
    name = asked.name if asked else clean_line(spoken(row.about), 40) or "mark"
    then = "" if stays or THEN not in row.extra else f" {LAST_TIME}"
    return Of(row.about, name, f"{text}{then}", stays)


def lacking(survey: Survey, library: Library) -> tuple[str, ...]:
    """Names of what a paper says of the car and nobody noted."""
    noted = {one.id for one in of_car(survey, library)}
    return tuple(one.name for one in library.paper.of_car.values() if one.id not in noted)


def of_car_text(survey: Survey, library: Library) -> str:
    """What can be noted, what was, and how to do it."""
    return "\n".join(_lines(survey, library))


def _lines(survey: Survey, library: Library) -> Iterator[str]:
    noted = {one.id: one for one in of_car(survey, library)}
    yield "A report and a brief name these. Nothing else needs them."
    yield ""
    for id, asked in library.paper.of_car.items():
        said = f"Noted: {noted[id].text}." if id in noted else "Not noted yet."
        yield f"- {asked.name}: {asked.how}. {said}"
        yield f"  /car {id} {asked.like}"
