"""What a person notes beside the answers: `/point front-left punch dot, photo 112` the mark on a
point and the number of its photo, `/remark` words, `/photo` the number of one.
"""

from __future__ import annotations

import re

from wizard.library.places import NO_PROMPT, OWN, PointId
from wizard.library.shapes import Library, OfCar
from wizard.library.templates import points_of
from wizard.sitting.reply import Reply
from wizard.sitting.sitting import Sitting
from wizard.survey.guide import layout_of
from wizard.survey.prompts import Prompt
from wizard.survey.record import Survey
from wizard.survey.rows import ANEW, CarNote, PointNote, Remark
from wizard.telling.mark_words import mark_words
from wizard.telling.of_car import LONGEST as CAR_LONGEST
from wizard.telling.of_car import of_car_text

_PHOTO = re.compile(r"[,;]?\s*\bphoto\s+(?:no\.?\s*)?(\S.{0,59}?)\s*$", re.IGNORECASE)
LONGEST = 200


def point(sitting: Sitting, rest: str) -> Reply:
    """Describe a point of this kind of frame; what was said of it before is struck out."""
    name, _, text = rest.partition(" ")
    known = points_of(layout_of(sitting.survey, sitting.library))
    named = _as_known(PointId(name.lower()), known)
    if named not in known or not text.strip():
        return Reply("refused", _remedy(sitting, known))
    mark, photo = _mark_and_photo(text)
    survey = sitting.survey
    by, at = sitting.by, sitting.at
    old = next((n for n in survey.standing(PointNote) if n.point == named), None)
    if old is not None:
        mark, photo = mark or old.mark, photo or old.photo
        survey = survey.with_struck(old.id, ANEW)
    row = PointNote(id=survey.new_id(PointNote), at=at, by=by, point=named, mark=mark, photo=photo)
    return sitting.change(survey.with_row(row)) or Reply("told", mark_words(row))


def _as_known(name: PointId, known: frozenset[PointId]) -> PointId:
    """A point's id; the owner may leave out what begins the ids of his own points."""
    own = PointId(f"{OWN}{name}")
    return own if name not in known and own in known else name


def _mark_and_photo(text: str) -> tuple[str, str]:
    """What was said of a point, and the number of its photo; empty where there is none."""
    photo = _PHOTO.search(text)
    mark = (text[: photo.start()] if photo else text).strip(" ,;")[:LONGEST]
    return mark, photo.group(1) if photo else ""


def _remedy(sitting: Sitting, known: frozenset[PointId]) -> str:
    """The points of the prompt in front come first, since it is most often one of them."""
    prompt: Prompt | None = sitting.prompt
    here = [p for p in (prompt.start, prompt.end) if p in known] if prompt else []
    names = here or sorted(known)
    first = ", ".join(map(str, names[:8]))
    return f"Type it like /point {names[0]} punch dot, photo 112. The points here are {first}."


def car(sitting: Sitting, rest: str) -> Reply:
    """`/car number A 12345`: what a paper says of the car; alone it lists what can be noted. What was
    said of it before is struck out.
    """
    word, _, text = rest.partition(" ")
    asked, text = sitting.library.paper.of_car.get(word.lower()), text.strip()
    if not rest:
        return Reply("told", of_car_text(sitting.survey, sitting.library), "Of the car")
    if asked is None or not 0 < len(text) <= CAR_LONGEST:
        return Reply("refused", _car_remedy(asked, text, sitting.library))
    survey = sitting.survey
    old = next((n for n in survey.standing(CarNote) if n.about == asked.id), None)
    if old is not None:
        survey = survey.with_struck(old.id, ANEW)
    id = survey.new_id(CarNote)
    row = CarNote(id=id, at=sitting.at, by=sitting.by, about=asked.id, text=text)
    says = f"Noted: {asked.name} {text}. A report and a brief name it."
    return sitting.change(survey.with_row(row)) or Reply("told", says)


def _car_remedy(asked: OfCar | None, text: str, library: Library) -> str:
    """How to say it, where it was not understood or is too long for a paper."""
    if asked and text:
        return (
            f"That is {len(text)} characters, and only {CAR_LONGEST} fit on paper: say it shorter."
        )
    like = asked or next(iter(library.paper.of_car.values()))
    words = ", ".join(f"/car {id}" for id in library.paper.of_car)
    return f"Type it like /car {like.id} {like.like}. You can note {words}."


def photo(sitting: Sitting, said: str) -> Reply:
    """`/photo 112` at a question, `/photo 112 left front corner` for one that every record needs;
    alone it lists those.
    """
    from wizard.telling.photos import asked_by, needed_text, plain

    if not said:
        text = needed_text(sitting.survey, sitting.library)
        return Reply("told", text, "The photos that every record needs")
    shows, number = asked_by(said, sitting.survey, sitting.library)
    return remark(sitting, "", number or (plain(said) if shows else said), shows)


def remark(sitting: Sitting, text: str, number: str = "", shows: str = "") -> Reply:
    """Words, or a photo's number, set beside the prompt in front."""
    if not text and not number:
        return Reply("refused", "Type a few words too, like /remark left rivet is worn oval.")
    survey, prompt = sitting.survey, sitting.ask.prompt.id if sitting.ask else NO_PROMPT
    row = Remark(
        id=survey.new_id(Remark),
        at=sitting.at,
        by=sitting.by,
        prompt=prompt,
        text=text[:500],
        photo=number[:60],
        shows=shows,
    )
    at = f" (at “{sitting.step.title}”)" if sitting.step else ""
    if shows:
        word = layout_of(survey, sitting.library).worded
        at = f" ({word(sitting.library.paper.photos[shows].name)})"
    return sitting.change(survey.with_row(row)) or Reply(
        "told", f"Noted: {text[:200] or 'photo ' + number[:60]}{at}"
    )


def of_prompt(survey: Survey, prompt: Prompt) -> tuple[str, ...]:
    """A sentence for each point of a prompt that was described."""
    notes = {n.point: n for n in survey.standing(PointNote)}
    ends = [p for p in dict.fromkeys((prompt.start, prompt.end)) if p in notes]
    return tuple(mark_words(notes[p]) for p in ends)
