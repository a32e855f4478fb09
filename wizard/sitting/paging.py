"""The page in front as it may be shown: blind for a second reader, its result held back for a
guess, and held against the survey that this one follows, or answered as it was then.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from wizard.judgment.bands import Judged
from wizard.library import marks
from wizard.library.kinds import named
from wizard.library.places import asked_of, step_of
from wizard.library.shapes import Step
from wizard.readings.plain import clean_line
from wizard.sitting.aside import blind
from wizard.sitting.marks import of_prompt
from wizard.sitting.reply import Reply
from wizard.sitting.sitting import Sitting
from wizard.survey.answer import Doubted, Refusal
from wizard.survey.follow import THEN
from wizard.survey.guide import Ask, Page, Person, front, guide_of, layout_of, wanting
from wizard.survey.prompts import Prompt
from wizard.survey.record import Survey
from wizard.survey.rows import Guess, PointNote
from wizard.survey.same import SAME, SEEN_LETTERS, By, kept, marked, page_kept, says_same
from wizard.telling.page import PageView, Row, choice_lines, results_of_step, said, view
from wizard.telling.then_words import look_words, looks_words, page_words, then_line
from wizard.telling.written_down import written_text

if TYPE_CHECKING:
    from wizard.judgment.change import Change

HIDDEN = "hidden until both are in"
SOONER = "Something has moved since last time, so do not wait for half a year."
"""Said where the next time is chosen."""
LATE = (marks.SEASON, marks.YEAR, marks.TWO_YEARS, marks.NO_DATE)
SAME_HINT = "Enter: as last time"
WAITING = (
    "The result waits for you: type /guess and what you expect, like /guess left rail back 1/8, or"
    " type /show."
)
CHANGED, STILL, WAS = "changed", "No change", "Last time"
SAYS = {
    "changed": "{name} has changed since last time: then {then}, now {now}.",
    "not changed": f"{STILL} that these readings can show; last time: {{then}}.",
    "cannot tell": f"{WAS}: {{then}}. Whether it has changed is not known yet.",
}


def page_of(sitting: Sitting) -> PageView | None:
    """What every face shows of the page in front; None at the end."""
    if sitting.ask is None:
        return None
    page = view(may_see(sitting), sitting.library, sitting.walk(), sitting.ask)
    if sitting.aside.second:
        rows = tuple(_row_hidden(row, sitting) for row in page.rows)
        return replace(page, rows=rows, nth="(second reader)", live=())
    page = _with_then(page, sitting)
    if page.live and waits(sitting, sitting.step):
        page = replace(page, live=(WAITING,))
    return page


def _with_then(page: PageView, sitting: Sitting) -> PageView:
    """The page with what last time says to it: what Enter keeps, when it is measured again, and
    whether the result has changed.
    """
    if sitting.keeps(sitting.prompt) and sitting.waits():
        return replace(page, hint=f"{SAME_HINT}; {page.hint}")
    if _asks_when(sitting) and _moved(sitting):
        return replace(page, choices=tuple(c for c in page.choices if c not in _late(sitting)))
    if page.live and (then := since_line(sitting, sitting.step)):
        # What has changed comes before a result that by itself asks for nothing.
        first = (page.live[0], then) if then.startswith((STILL, WAS)) else (then, page.live[0])
        return replace(page, live=(*first, *page.live[1:]))
    return page


def _row_hidden(row: Row, sitting: Sitting) -> Row:
    """A row of the readings as the second reader may see it."""
    read = sitting.survey.readings_of(row.prompt)
    left = may_see(sitting).readings_of(row.prompt)
    return replace(row, values=HIDDEN) if len(left) < len(read) and not left else row


def may_see(sitting: Sitting) -> Survey:
    """The survey as far as whoever reads just now may see it."""
    return blind(sitting.survey, sitting.aside)


def results_shown(sitting: Sitting) -> tuple[Judged, ...]:
    """The results of the step in front; none while they are held back, or a second reads blind."""
    step = sitting.step
    if step is None or sitting.aside.second or waits(sitting, step):
        return ()
    return results_of_step(may_see(sitting), sitting.library, step)


def recalled(sitting: Sitting) -> tuple[str, ...]:
    """What is recalled before the answer: last time's state or look, and the marks of the points,
    never a reading.
    """
    if sitting.prompt is None or sitting.prompt.kind.acknowledges:
        return ()
    then = then_line(sitting.prompt, sitting.earlier)
    if _asks_when(sitting) and _moved(sitting):
        then = SOONER
    own = replace(sitting.survey, rows={"point": _own_marks(sitting)})
    return (*((then,) if then else ()), *of_prompt(own, sitting.prompt))


def _own_marks(sitting: Sitting) -> tuple[PointNote, ...]:
    """The marks set down today; those that were carried over are told with last time's."""
    notes = sitting.survey.standing(PointNote)
    return tuple(n for n in notes if sitting.earlier is None or THEN not in n.extra)


def waits(sitting: Sitting, step: Step | None) -> bool:
    """Whether the result of a step is held back for a guess: mentor's view on, a result there, no
    guess yet.
    """
    if not sitting.aside.mentor or step is None or step.id in sitting.aside.shown:
        return False
    if any(step_of(g.prompt) == step.id for g in sitting.survey.standing(Guess)):
        return False
    return bool(results_of_step(blind(sitting.survey, sitting.aside), sitting.library, step))


def _asks_when(sitting: Sitting) -> bool:
    """Whether the day of the next survey is asked, in a survey that follows another."""
    asked = sitting.prompt is not None and sitting.prompt.asks == marks.WHEN_AGAIN
    return asked and sitting.earlier is not None


def _moved(sitting: Sitting) -> bool:
    """Whether anything moved that was not meant to."""
    from wizard.judgment.since import since_of  # numpy only once there is something to compute

    since = since_of(sitting.earlier, sitting.survey, sitting.library)
    return since is not None and bool(since.alarming)


def _late(sitting: Sitting) -> tuple[str, ...]:
    """The lines of the answers that put the next survey off too long for a frame that moved."""
    assert sitting.prompt is not None
    late = tuple(c for c in sitting.prompt.choices if c.says in LATE)
    return choice_lines(replace(sitting.prompt, choices=late), sitting.survey)


def too_late(sitting: Sitting, text: str) -> Reply | None:
    """A refusal of an answer that puts the next survey off too long for a frame that moved; None
    for any other line.
    """
    prompt = sitting.prompt
    if prompt is None or not _asks_when(sitting):
        return None
    found = named(prompt.choices, text, loosely=True)
    if not found or found[0].says not in LATE or not _moved(sitting):
        return None
    sooner = " or ".join(f"{c.letter} “{c.words}”" for c in prompt.choices if c.says not in LATE)
    return Reply("refused", f"{SOONER} Type {sooner}.")


# Since last time ----------------------------------------------------------------------------------


def since_line(sitting: Sitting, step: Step | None) -> str:
    """What last time's figures say to the results of a step, once nothing more is read there: to
    what has changed, else to the gravest; else empty.

    Earlier it would lead the hand: no old figure shows before the new one is in.
    """
    if sitting.earlier is None or step is None or sitting.aside.second:
        return ""
    if not _all_in(sitting, step):
        return ""
    results = results_of_step(sitting.survey, sitting.library, step)
    return _of_results(sitting, sitting.earlier, results) if results else ""


def _of_results(sitting: Sitting, earlier: Survey, results: Sequence[Judged]) -> str:
    from wizard.judgment.change import compare  # numpy only once there is something to compute

    compared = compare(earlier, sitting.survey, sitting.library).changes
    by_id = {change.new.id: change for change in compared}
    there = [by_id.get(j.finding.id) for j in results]
    moved = [c for c in there if c is not None and c.says == CHANGED]
    told = next(iter(moved), there[0])
    return _held_against(sitting, told) if told is not None else ""


def _held_against(sitting: Sitting, change: Change) -> str:
    """What last time's figure says to today's, in a sentence."""
    from wizard.telling.quantity_names import amount, cap, name_of

    survey = sitting.survey
    then, now = (amount(f, survey.unit) for f in (change.old, change.new))
    name = cap(name_of(change.new, layout_of(survey, sitting.library)))
    return SAYS[change.says].format(name=name, then=then, now=now)


def _all_in(sitting: Sitting, step: Step) -> bool:
    """Whether the step is in the course and nothing more is wanted there."""
    page = next((p for p in sitting.pages() if p.step.id == step.id), None)
    return page is not None and not any(
        wanting(sitting.survey, p) for p in page.prompts if not p.kind.acknowledges
    )


def not_as_then(sitting: Sitting, asked: Prompt, step: Step) -> str:
    """What of a page that was just finished is asked for again, since it does not read as last time."""
    if sitting.earlier is None or not asked.kind.measures:
        return ""
    if sitting.step is step and not _leaves_a_rail(sitting, asked, step):
        return ""
    from wizard.sitting.recheck import read_again  # numpy only once there is something to compute

    return read_again(sitting, step)


def _leaves_a_rail(sitting: Sitting, asked: Prompt, step: Step) -> bool:
    """Whether the string, once all of one rail is read, is about to be moved to the other one."""
    pages = (sitting.library.page[mark] for mark in (marks.STRING_LOADED, marks.STRING_UNLOADED))
    page, side = sitting.page(), asked_of(asked.id).side
    if step.id not in pages or page is None or sitting.prompt is None:
        return False
    if side is None or asked_of(sitting.prompt.id).side in (side, None):
        return False
    here = (p for p in page.prompts if asked_of(p.id).side is side)
    return not any(wanting(sitting.survey, p) for p in here)


# As last time -------------------------------------------------------------------------------------


def kept_then(sitting: Sitting, asked: Prompt | None, text: str, reply: Reply) -> Reply:
    """The reply with the words of last time that now stand for today's too."""
    if asked is None or sitting.earlier is None or asked.kind.gathers or asked.kind.measures:
        return reply
    # A word of an answer may be `same`: only a look is told with how well it is seen beside it.
    is_same = SAME in marked(text) if asked.kind.looks else says_same(text)
    is_same = is_same or not text.strip()
    words = said(sitting.survey, asked) if is_same else ""
    return replace(reply, says=f"As last time: {clean_line(words, 80)}.") if words else reply


NOTHING_THEN = "There is nothing of last time to keep here. Answer it for today."


def _same_looks(sitting: Sitting, earlier: Survey | None, rest: str) -> Reply:
    """The look or the place in front as last time, or every one that is left."""
    all_of_them, _, how = rest.strip().partition(" ")
    if all_of_them.lower() == EVERYWHERE:
        return _everywhere(sitting, earlier, how)
    return sitting.enter(rest and f"{rest} {SAME}")


EVERYWHERE = "all"
"""What, behind /same, stands for every look that is left."""
SAY_HOW = "Say how well you see them today too, like /same all b: b bare, p paint, d dirt."


def _everywhere(sitting: Sitting, earlier: Survey | None, how: str) -> Reply:
    """Every look that is left and that may be kept, as last time and seen so well: listed first, and
    kept by Enter.
    """
    if earlier is None or how.strip().lower() not in SEEN_LETTERS:
        return Reply("refused", SAY_HOW)
    survey, by = sitting.survey, By(sitting.at, sitting.reader)
    by_id = guide_of(survey, sitting.library).questions.by_id
    told = list[str]()
    for stop, prompt in _to_look(sitting):
        found = kept(survey, prompt, f"{how} {SAME}", earlier, by, by_id)
        if isinstance(found, Refusal):
            return Reply("refused", found.says)
        told.append(look_words(stop.title, prompt, survey, found))
        survey = found
    return replace(
        sitting.doubt(Doubted(looks_words(told), survey), f"/same all {how}"), kind="told"
    )


def _to_look(sitting: Sitting) -> Iterator[tuple[Page, Prompt]]:
    """The places and looks that are open, may be kept, and stand behind no caution that he has still to
    read: nobody has looked where he may not be yet.
    """
    person = Person(sitting.reader, sitting.now())
    for stop in sitting.walk():
        for prompt in stop.prompts:
            looks = prompt.kind.looks or prompt.kind.gathers
            if not (looks and wanting(sitting.survey, prompt) and sitting.keeps(prompt)):
                continue
            asked = Ask(prompt)
            if front(sitting.survey, sitting.library, asked, person) == asked:
                yield stop, prompt


def readings(sitting: Sitting, _: str) -> Reply:
    """All that was written down, as far as the reader may see it."""
    text = written_text(may_see(sitting), sitting.library, sitting.walk())
    return Reply("told", text, "What you wrote down")


def same(sitting: Sitting, rest: str) -> Reply:
    """The rest of a page as last time: its questions all at once, its looks with how well seen."""
    prompt, page, earlier = sitting.prompt, sitting.page(), sitting.earlier
    if prompt is None:
        return Reply("refused", NOTHING_THEN)
    looks = prompt.kind.looks or prompt.kind.gathers
    if looks and sitting.keeps(prompt):
        return _same_looks(sitting, earlier, rest)
    if page is None or earlier is None or prompt.kind.counts:
        return Reply("refused", NOTHING_THEN)
    survey, lines = page_kept(sitting.survey, page, earlier, By(sitting.at, sitting.reader))
    if not lines:
        return Reply("refused", NOTHING_THEN)
    listed = Doubted(page_words([p for p, _ in lines], survey), survey)
    return replace(sitting.doubt(listed, "/same"), kind="told")
