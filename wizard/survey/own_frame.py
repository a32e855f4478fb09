"""The kind of frame that a survey is of, also where it is none of those that content has.

In the survey in which an owner sets up his own frame his answers are the record, and the layout is
made of them anew each time (wizard/survey/built_frame.py); a survey that takes it over carries the
whole text of the layout. So either opens where no other file is. Nothing that a file says is
trusted: what no frame can be is left out, and a layout that the content's own linter refuses is
none.
"""

from collections.abc import Callable
from typing import Any, NamedTuple

from wizard.library.places import kept_of
from wizard.library.shapes import Layout, Library
from wizard.survey.record import Survey
from wizard.survey.rows import Answer, OwnFrame, Row

SAID = "frame"
"""Begins every key under which is kept what an owner says of his own frame."""
MOST_KEPT = 100
"""Frames of owners that are kept at a time."""


class Frame(NamedTuple):
    """What stands for a survey's kind of frame."""

    layout: Layout
    refused: str = ""
    """Why the layout that the survey carries is none, in one sentence; empty where it is."""


def said_of(survey: Survey) -> dict[str, str]:
    """What the owner has said of his own frame, by key; of each the last."""
    return {a.keeps: a.answer for a in _answers(survey)}


def _answers(survey: Survey) -> tuple[Answer, ...]:
    return tuple([a for a in survey.standing(Answer) if kept_of(a.keeps).table == SAID])


def carried(survey: Survey) -> OwnFrame | None:
    """The layout that the survey carries for its kind of frame; None where it carries none."""
    rows = [f for f in survey.standing(OwnFrame) if f.layout == survey.layout]
    return rows[-1] if rows else None


def is_own(survey: Survey, library: Library) -> bool:
    """Whether its owner says himself what the frame is like."""
    row = carried(survey)
    if library.own is None or row is None:
        return library.own is not None and survey.layout == library.own.id
    return bool(_of_row(row, library).refused)


def frame_of(survey: Survey, library: Library) -> Frame:
    """The survey's kind of frame as it is made, without places that the owner added; one that this
    content lacks falls back, and one that a file has spoiled is set up anew.
    """
    row = carried(survey)
    refused = _of_row(row, library).refused if row else ""
    if row and not refused:
        return _of_row(row, library)
    # A model's library has its frame there, also where it is an owner's.
    if survey.layout in library.layouts:
        return Frame(library.layouts[survey.layout], refused)
    if not is_own(survey, library):
        return Frame(next(iter(library.layouts.values())), refused)
    found = _kept(library, _said_key(survey), lambda: _set_up(survey, library))
    return Frame(found.layout, refused)


def _of_row(row: OwnFrame, library: Library) -> Frame:
    """The layout that a survey carries."""
    return _kept(library, row.text, lambda: _carried_frame(row.text, library))


def base_of(survey: Survey, library: Library) -> Layout:
    """The layout of `frame_of`."""
    return frame_of(survey, library).layout


def frame_key(survey: Survey, library: Library) -> object:
    """What the survey itself says of its kind of frame: equal only where the layout is the same."""
    row = carried(survey)
    if row is None and survey.layout in library.layouts:
        return ""
    return row.text if row else "", _said_key(survey)


def _said_key(survey: Survey) -> tuple[object, ...]:
    return survey.unit, *sorted(said_of(survey).items())


def _kept(library: Library, key: object, make: Callable[[], Frame]) -> Frame:
    kept: dict[object, Frame] = library.kept.setdefault(frame_of, {})
    if key not in kept:
        if len(kept) >= MOST_KEPT:
            kept.clear()
        kept[key] = make()
    return kept[key]


def _carried_frame(text: str, library: Library) -> Frame:
    from wizard.survey.built_frame import layout_in  # only such a survey needs it

    found = layout_in(text, library)
    if isinstance(found, Layout):
        return Frame(found)
    stands = library.own or next(iter(library.layouts.values()))
    why = f"{found.key}: {found.wrong}"[:120]
    return Frame(stands, f"The kind of frame in this file cannot be used ({why}).")


def _set_up(survey: Survey, library: Library) -> Frame:
    """The layout of what was said so far; what is not said yet is as the content has it."""
    from wizard.survey.built_frame import built, faults_of  # only such a survey needs it

    template, said = library.own, said_of(survey)
    assert template is not None
    layout = built(template, said, survey.unit) if said else template
    return Frame(template if said and faults_of(layout, library) else layout)


def knows(survey: Survey, library: Library) -> bool:
    """Whether the program knows what kind of frame the survey is of."""
    there = survey.layout in library.layouts or is_own(survey, library)
    return there or carried(survey) is not None


def missing(survey: Survey, library: Library) -> str:
    """The key of what must still be said before anything of this frame can be read; empty where it
    is set up, or is a kind that is known.
    """
    if survey.layout in library.layouts or not is_own(survey, library):
        return ""
    from wizard.survey.built_frame import still_wanted  # only such a survey needs it

    return still_wanted(said_of(survey))


def same_kind(one: Survey, other: Survey, library: Library) -> bool:
    """Whether both are of frames whose points, stations and places for the level are the same."""
    if one.layout == other.layout and one.layout in library.layouts:
        return True
    if library.layouts.keys() & {one.layout, other.layout}:
        return False
    return _places_of(base_of(one, library)) == _places_of(base_of(other, library))


def _places_of(layout: Layout) -> tuple[object, ...]:
    bare = tuple(p._replace(note="") for p in layout.places)
    return bare, layout.boxes, layout.stations, layout.levels, layout.string


def own_rows(survey: Survey) -> dict[str, tuple[Row, ...]]:
    """The rows of a survey that say what its own frame is, by table."""
    frame = carried(survey)
    found: dict[str, tuple[Any, ...]] = {
        "frame": (frame,) if frame else (),
        "answer": _answers(survey),
    }
    return {name: rows for name, rows in found.items() if rows}
