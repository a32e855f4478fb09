"""The mark on a point, in a few words."""

from __future__ import annotations

from wizard.library.places import PointId, point_of, spoken, without_own
from wizard.readings.plain import clean_line
from wizard.survey.rows import PointNote


def point_words(point: PointId) -> str:
    """A point's id as it is said: `left front` for `front-left`."""
    found = point_of(without_own(point))
    return f"{found.side} {spoken(found.place)}" if found.side else spoken(found.place)


def mark_words(note: PointNote) -> str:
    """`Left front: punch dot, photo 112.`"""
    photo = clean_line(note.photo, 60)
    said = ", ".join(w for w in (clean_line(note.mark, 120), photo and f"photo {photo}") if w)
    name = clean_line(point_words(note.point), 60)
    return f"{name[:1].upper()}{name[1:]}: {said or 'no mark'}."
