"""Last time, at the prompt: what the state was, and the old reading once the new one is in."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import datetime
from typing import TYPE_CHECKING

from wizard.library.places import StepId, spoken, state_field
from wizard.library.shapes import Layout, Library, Step
from wizard.library.templates import misfit
from wizard.readings.plain import and_, clean_line
from wizard.survey.guide import Page, answered, layout_of, pages, short_list_of
from wizard.survey.prompts import Part, Prompt, covered_by, found_at, wanting
from wizard.survey.record import Survey
from wizard.survey.rows import Answer, Fold, PointNote, Remark
from wizard.survey.same import answer_then
from wizard.telling.asking import left_words
from wizard.telling.page import said
from wizard.telling.text import wrap

if TYPE_CHECKING:  # numpy only once there is something to compute
    from wizard.judgment.sight import Sight


def then_line(prompt: Prompt, earlier: Survey | None) -> str:
    """What is recalled before an answer: the state, the answer or the look of last time, and the
    photo's number.

    A reading of last time is never in it: the hand would copy it. Empty where there is nothing to
    recall.
    """
    if earlier is None or prompt.kind.acknowledges:
        return ""
    parts = [_said_then(prompt, earlier), *_marks(prompt, earlier)]
    return " ".join(f"{p.rstrip('.?')}{'?' if p.endswith('?') else '.'}" for p in parts if p)


def _said_then(prompt: Prompt, earlier: Survey) -> str:
    if prompt.kind.measures:
        return ""
    if prompt.kind.gathers:
        return _found_then(prompt, earlier)
    token = answer_then(prompt, earlier) if state_field(prompt.keep) else ""
    words = next((c.words for c in prompt.choices if c.token == token), token)
    words = words or said(earlier, prompt)
    return _last_time(words, prompt) if words and words != "-" else ""


def _last_time(words: str, prompt: Prompt) -> str:
    """The words; where they may be given again, it is asked whether they are true today."""
    asks = OF_THE_DAY if prompt.today else "Today?"
    return f"Last time: {clean_line(words, 200).rstrip('.')}. {asks}"


OF_THE_DAY = "Type what it is today: Enter does not keep this one."
"""Said where last time's answer stands beside a question and Enter does not give it anew."""


def _found_then(place: Prompt, earlier: Survey) -> str:
    """What was found at the looks of a place."""
    found = [p for p in place.parts if found_at(earlier, p.look)]
    words = "; ".join(f"{p.name}: {clean_line(said(earlier, p.look), 80)}" for p in found)
    return f"Last time: {words}. Today?" if words else ""


def page_words(prompts: Sequence[Prompt], now: Survey) -> str:
    """What one entry is about to write down again, question by question."""
    words = "; ".join(f"{p.short or p.ask}: {clean_line(said(now, p), 80)}" for p in prompts)
    return f"As last time on this page: {words}."


def look_words(title: str, prompt: Prompt, before: Survey, after: Survey) -> str:
    """What one look or place of many is about to be written down as: its names, and what was found."""
    looks = [(p.name, p.look) for p in covered_by(before, prompt)] or [("", prompt)]
    now = [(name, look) for name, look in looks if not wanting(after, look)]
    words = [f"{name}{_found(after, look)}" for name, look in now]
    left = [name or "this look" for name, look in looks if wanting(after, look)]
    open_ = f"still open, for nobody saw it then: {'; '.join(left)}" if left else ""
    return f"{title}: {'; '.join(filter(None, (*words, open_)))}"


def _found(survey: Survey, look: Prompt) -> str:
    """What was found there, behind its name; nothing where nothing was."""
    return f" ({clean_line(said(survey, look), 80)})" if found_at(survey, look) else ""


def looks_words(told: Sequence[str]) -> str:
    """What one entry is about to write down again, place by place."""
    return f"Seen today, and as last time. {'. '.join(told)}."


def perhaps_gone(parts: Sequence[Part], earlier: Survey) -> str:
    """Asks whether what was found last time is gone."""
    words = "; ".join(f"{p.name}: {clean_line(said(earlier, p.look), 80)}" for p in parts)
    return f"Last time: {words}. You say it is gone; where it is as it was, type b =."


def _marks(prompt: Prompt, earlier: Survey) -> list[str]:
    """Mark and photo of the points, and photos taken at this prompt."""
    found = []
    for note in earlier.standing(PointNote):
        if note.point in (prompt.start, prompt.end):
            what = ", ".join(
                w for w in (note.mark, f"photo {note.photo}" if note.photo else "") if w
            )
            found.append(clean_line(f"{spoken(note.point).capitalize()}: {what}", 120))
    photos = [r.photo for r in earlier.standing(Remark) if r.prompt == prompt.id and r.photo]
    return found + ([f"Photo of last time: {clean_line(', '.join(photos), 80)}"] if photos else [])


def then_and_now(survey: Survey, earlier: Survey | None, prompt: Prompt) -> str:
    """`Then 91 1/8 and 91 1/8, now 91 1/16.` once all readings of the prompt are in; empty before,
    or without both.
    """
    if earlier is None or not prompt.kind.measures or answered(survey, prompt) < prompt.repeats:
        return ""
    then, now = (_typed(s, prompt) for s in (earlier, survey))
    if not then or not now:
        return ""
    other = f" {earlier.unit}" if earlier.unit != survey.unit and not prompt.kind.tilts else ""
    return f"Then {then}{other}, now {now}."


def _typed(survey: Survey, prompt: Prompt) -> str:
    return " and ".join(clean_line(r.typed, 40) for r in survey.readings_of(prompt.id))


def not_as_it_stood(
    prompt: Prompt, now: Survey, earlier: Survey | None, library: Library, walk: Sequence[Page]
) -> str:
    """What cannot be held against last time as it was just said to stand, and how it could be;
    empty where it stands as it did, and where the same is still to be asked of it set up.
    """
    field = state_field(prompt.keep)
    if earlier is None or not field:
        return ""
    is_now, was = getattr(now.state(), field, ""), answer_then(prompt, earlier)
    if not was or not is_now or was == is_now or _asked_again(prompt, now, walk):
        return ""
    names = _hanging_on(field, library, walk)
    if not names:
        return ""
    stood = stood_words(prompt, now, earlier)
    return UNLIKE.format(stood=stood[:1].upper() + stood[1:], names=and_(names))


UNLIKE = (
    "{stood}. As it is now, {names} cannot be compared with last time, so you are not asked for them. To"
    " compare them, have it as it was then, and answer this again with /back. Type + to read them as it"
    " stands: they tell of today, and the next time compares with them."
)


def stood_words(prompt: Prompt, now: Survey, earlier: Survey) -> str:
    """How it stands and how it stood: `bolted tight; last time it was: on, every bolt slack`."""
    is_now, was = getattr(now.state(), state_field(prompt.keep), ""), answer_then(prompt, earlier)
    words = {c.token: c.words for c in prompt.choices}
    today, then = (words.get(token, token) for token in (is_now, was))
    return f"{today}; last time it was: {then}"


def with_apart(sight: Sight, earlier: Survey, asked: Prompt, now: datetime, by: str) -> Survey:
    """The survey without the readings that cannot be compared with last time's, now that the car is
    said to stand otherwise; as it is where it stands as it did, or the same is asked of it later.
    """
    survey, walk = sight.survey, sight.walk(now)
    said = not_as_it_stood(asked, survey, earlier, sight.library, walk)
    row = next((a for a in reversed(survey.standing(Answer)) if a.prompt == asked.id), None)
    if not said or row is None:
        return survey
    from wizard.judgment.enough import apart  # numpy only where it stands otherwise

    prompts = apart(sight, earlier, state_field(asked.keep), now)
    if not prompts:
        return survey
    fold = Fold(
        id=survey.new_id(Fold),
        at=now.replace(microsecond=0),
        by=by,
        prompts=" ".join(map(str, prompts)),
        readings=row.id,
        why=f"it cannot be compared with last time ({stood_words(asked, survey, earlier)})",
    )
    return survey.with_row(fold)


def _asked_again(prompt: Prompt, now: Survey, walk: Sequence[Page]) -> bool:
    """Whether another question, still open, asks for the same."""
    others = (
        p for page in walk for p in page.prompts if p.keep == prompt.keep and p.id != prompt.id
    )
    return any(wanting(now, p) for p in others)


def _hanging_on(field: str, library: Library, walk: Sequence[Page]) -> list[str]:
    """What is read on this walk that can only be compared where a field of the state is alike."""
    here = {page.step.id for page in walk if not page.gone and page.asked}
    names: dict[StepId, str] = {}
    for of in library.quantities.values():
        if of.compared and field in of.hangs_on and of.read_at in here:
            names.setdefault(of.read_at, of.together)
    return list(names.values())


def recalled_words(survey: Survey, library: Library) -> str:
    """What a re-check is going to ask, how long that takes, and what it leaves out, for its first
    page.
    """
    there = pages(survey, library, survey.started)
    taken = _titles(p.step for p in there if not p.gone)
    return (
        f"You will measure again, {left_words(survey, there, '')}:"
        f" {'; '.join(taken)}. Your tools, the marks and photos of the points, and your own sizes and"
        " limits are known from last time. The old figures stay hidden until the new ones are in. "
        + left_out_words(survey, library, survey.started)
    ).strip()


def left_out_words(survey: Survey, library: Library, today: datetime) -> str:
    """What the short list of a re-check leaves out, in one sentence, and how to have it; empty
    where it is no list.
    """
    if not short_list_of(survey):
        return ""
    here, layout = pages(survey, library, today), layout_of(survey, library)
    left = _not_chosen(library, layout, {p.step.id for p in here})
    words = _titles(s for s in left if s.part == "measure")
    words += [f"a part of {title}" for title in _titles(p.step for p in here if p.later)]
    words += _counted(sum(s.part == "look" for s in left))
    return f"Left out: {'; '.join(words)}; type /whole to be asked everything." if words else ""


def left_out_lines(survey: Survey, library: Library, today: datetime) -> list[str]:
    """The same in lines; none where nothing is left out."""
    words = left_out_words(survey, library, today)
    return wrap(words) if words else []


def _not_chosen(library: Library, layout: Layout, chosen: set[StepId]) -> list[Step]:
    """The steps of a re-check that fit this frame, and that no chosen step stands in for."""
    course = (library.steps[id] for id in library.courses["recheck"] if id not in chosen)
    others = (s for s in course if not s.call)
    return [s for s in others if not misfit(s.needs, layout) and s.stand_in not in chosen]


def _counted(looks: int) -> list[str]:
    """How many looks, in words; nothing of none."""
    if not looks:
        return []
    return [f"{looks} looks" if looks > 1 else "one look"]


def _titles(steps: Iterable[Step]) -> list[str]:
    """Titles of the steps that read or look at something; of two that stand in for each other the
    first.
    """
    found: dict[StepId, str] = {}
    for step in steps:
        reads = any(p.kind.counts for p in step.prompts)
        if reads and step.part in ("look", "measure") and step.stand_in not in found:
            found[step.id] = step.title
    return list(found.values())
