"""`/strike` and `/undo`: what was written down is taken out, and stays in the file as struck out. `+`:
what was left out is taken after all, and what would settle something that is open. `/again`: what is in
doubt is measured once more.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from wizard.library import marks
from wizard.library.places import NO_PROMPT, PromptId, also_named, step_of, tool_kind
from wizard.library.shapes import Step
from wizard.readings.plain import clean_line
from wizard.sitting.own import leave_gone
from wizard.sitting.reply import Reply
from wizard.sitting.sitting import Sitting
from wizard.survey.again import AGAIN_PROMPT, asked_again, asking_again
from wizard.survey.answer import FIXED, Doubted
from wizard.survey.guide import LENGTH_PROMPT, STEPS_PROMPT, Ask, Page, course_name
from wizard.survey.prompts import Prompt
from wizard.survey.record import Survey, number_of
from wizard.survey.rows import (
    AFTER_ALL,
    ANEW,
    SECOND,
    WANTED,
    Answer,
    CarNote,
    Fold,
    Guess,
    Look,
    Opinion,
    OwnFrame,
    OwnLimit,
    OwnPlace,
    PointNote,
    Reading,
    Remark,
    Row,
    Sister,
    Size,
    Skip,
    Tool,
)
from wizard.survey.sizes import words
from wizard.survey.state import settle, without_tool
from wizard.telling.enough_words import offer_words, pages_of, wrong_words

WRITTEN: tuple[type[Row], ...] = (
    *(Reading, Look, Answer, Skip, Remark),
    *(Size, OwnLimit, Guess, Opinion, PointNote, CarNote, OwnPlace, Sister),
)
"""What `/undo` may take back."""


NOTHING = Reply("refused", "There is nothing to take out yet.")
LIKE_A_NUMBER = re.compile(r"[a-z]\d{1,18}")


def strike(sitting: Sitting, why: str) -> Reply:
    """Say what is about to be taken out: the last standing answer to the prompt in front, else the
    one given last. An empty line then takes it out, anything else leaves it.

    `/strike z12 slip` takes out the row of that number, as `/readings` and `tell` show it, and
    `/strike left front to right rear` the last answer to what asks in those words; `!` behind takes
    out at once.
    """
    at_once, why = why.endswith("!"), why.rstrip("!").rstrip()
    found = _to_strike(sitting, why)
    if isinstance(found, Reply):
        return found
    row, why = found
    if at_once:
        return struck(sitting, row, why)
    sitting.striking = row, why
    asked = _asked(sitting, row)
    said, to = _said(sitting, row), f", the answer to “{asked}”" if asked else ""
    return Reply("doubted", f"Take out “{said}”{to}? Press Enter to do it; anything else keeps it.")


def _asked(sitting: Sitting, row: Row) -> str:
    """The question that a row answers; empty for what answers none."""
    prompt = getattr(row, "prompt", "")
    asked = (p for page in sitting.pages() for p in page.prompts)
    return next((p.ask for p in asked if p.id == prompt), "")


def _to_strike(sitting: Sitting, why: str) -> tuple[Row, str] | Reply:
    """The row that is meant, and the reason; a Reply where none can be."""
    number, _, rest = why.partition(" ")
    named = next((r for r in _standing(sitting.survey, (*WRITTEN, Tool)) if r.id == number), None)
    if LIKE_A_NUMBER.fullmatch(rest.partition(" ")[0]):
        return Reply("refused", "Take them out one at a time, each by /strike and its number.")
    if named is not None:
        return named, rest
    if LIKE_A_NUMBER.fullmatch(number):
        return Reply(
            "refused", f"Nothing has the number {number}. Type /readings to see the numbers."
        )
    asked = _in_words(sitting, why)
    if asked is not None:
        rows = _rows_of(sitting.survey, asked.id)
        return (rows[-1], why[len(asked.ask) :].strip()) if rows else NOTHING
    row = _last_here(sitting) or _entry(sitting, _last(sitting.survey))
    return (row, why) if row else NOTHING


def _in_words(sitting: Sitting, said: str) -> Prompt | None:
    """What asks in the words with which a line begins; the longest where several do."""
    asked = (p for page in sitting.pages() for p in page.prompts if len(p.ask) > MEANT)
    found = [p for p in asked if said.lower().startswith(p.ask.lower())]
    return max(found, key=lambda p: len(p.ask), default=None)


MEANT = 5
"""A shorter question may be the first word of a reason."""


def _last_here(sitting: Sitting) -> Row | None:
    """The last standing answer to the prompt in front; the first reader's slip is not the
    second's.
    """
    rows = _rows_of(sitting.survey, sitting.target.prompt.id) if sitting.target else []
    rows = [r for r in rows if r.by != SECOND] or rows
    return rows[-1] if rows else None


def struck(sitting: Sitting, row: Row, why: str) -> Reply:
    """Take out what `strike` has named."""
    before = sitting.survey
    reply = _take_out(sitting, row, why or "struck", "Struck")
    if reply.kind == "taken":
        sitting.struck_now, sitting.before_strike = row.id, before
    return reply


def _put_back(sitting: Sitting) -> Reply | None:
    """What was struck last stands again; None where it is no longer the last thing that was done."""
    survey, before = sitting.survey, sitting.before_strike
    row = next((r for r in survey.all_rows() if r.id == sitting.struck_now and r.struck), None)
    sitting.struck_now = ""
    if row is None:
        return None
    again = _as_it_was(before, survey) if before else survey.with_replaced(replace(row, struck=""))
    failed = sitting.change(again)
    if failed:
        return failed
    if isinstance(row, OwnPlace):
        return Reply("taken", f"Undone: you will be asked for {row.name} again.")
    if isinstance(row, Fold):
        sitting.forward()
        return Reply("taken", f"Undone: the rest is not needed, because {row.why}.")
    if not sitting.return_from(PromptId(getattr(row, "prompt", ""))):
        sitting.stand_before(PromptId(getattr(row, "prompt", "")))
    return Reply("taken", f"Undone: {_said(sitting, row)} stands again.")


def _as_it_was(before: Survey, now: Survey) -> Survey:
    """The survey before a strike; what the strike itself had written, such as a state, stays as
    struck out.
    """
    known = {r.id for r in before.all_rows()}
    rows = {}
    for name, table in now.rows.items():
        since = tuple(replace(r, struck=r.struck or "undone") for r in table if r.id not in known)
        rows[name] = (*before.rows.get(name, ()), *since)
    return replace(before, rows=rows)


def _standing(survey: Survey, kinds: tuple[type[Row], ...]) -> list[Row]:
    return [r for kind in kinds for r in survey.standing(kind)]


def _tools_set(survey: Survey) -> list[Row]:
    """Tools whose figure was set by `/tool`: no answer brought them, and another of the kind stood
    before.
    """
    answers = {number_of(a.id) for a in survey.table(Answer)}
    kinds: set[str] = set()
    found: list[Row] = []
    for tool in survey.table(Tool):
        if tool.kind in kinds and not tool.struck and number_of(tool.id) - 1 not in answers:
            found.append(tool)
        kinds.add(tool.kind)
    return found


def _rows_of(survey: Survey, prompt: PromptId) -> list[Row]:
    kinds: tuple[type[Reading] | type[Look] | type[Answer] | type[Skip], ...] = (
        Reading,
        Look,
        Answer,
        Skip,
    )
    rows = [r for kind in kinds for r in survey.standing(kind) if r.prompt == prompt]
    return sorted(rows, key=lambda r: number_of(r.id))


def undo(sitting: Sitting, _: str) -> Reply:
    """Take back the last thing written down; right after a strike, put back what was struck."""
    if sitting.struck_now and (back := _put_back(sitting)):
        return back
    row = _entry(sitting, _last(sitting.survey))
    return _take_out(sitting, row, "undone", "Undone") if row else NOTHING


# More than was asked for ---------------------------------------------------------------------------


def more(sitting: Sitting, _: str) -> Reply:
    """Take the reading that was offered, else what was left out as not needed: on the page in front,
    else what was left out last.
    """
    offered, sitting.offered = sitting.offered, NO_PROMPT
    if offered and (taken := _as_offered(sitting, offered)):
        return taken
    survey, page = sitting.survey, sitting.page()
    here = {str(p.id) for p in page.prompts} if page else set()
    folds = survey.folds()
    fold = next((f for f in folds if here & set(f.prompts.split())), None) or next(
        reversed(folds), None
    )
    if fold is None:
        return Reply("refused", "Nothing was left out as not needed.")
    failed = sitting.change(survey.with_struck(fold.id, WANTED))
    if failed:
        return failed
    sitting.struck_now, sitting.before_strike = fold.id, survey
    sitting.stand_before(PromptId(fold.prompts.split()[0]))
    return Reply("taken", f"All of it, then: {pages_of(fold, sitting.library)}. /undo leaves it.")


def _as_offered(sitting: Sitting, offered: PromptId) -> Reply | None:
    """Before the reading that was offered; None where it is not asked now."""
    if offered == _accused_alone(sitting):
        return again(sitting, "")
    times = sitting.offered_times
    said = "One reading more." if times == 1 else f"{times} readings more, one after another."
    return Reply("taken", said) if sitting.once_more(offered, times) else None


def full(sitting: Sitting, _: str) -> Reply:
    """The full record from here on: nothing is left out as not needed."""
    survey = sitting.survey
    if survey.takes_all or course_name(survey) != marks.WHOLE:
        return Reply("refused", "Nothing is left out here as not needed: you are asked for it all.")
    row = Answer(
        id=survey.new_id(Answer),
        at=sitting.at,
        by=sitting.by,
        prompt=LENGTH_PROMPT,
        answer=marks.EVERY,
    )
    failed = sitting.change(survey.with_row(row))
    if failed:
        return failed
    if sitting.target is None:
        sitting.go_on(None)
    also = " What was left out comes at the end." if survey.folds() else ""
    return Reply("taken", f"The full record: you are asked for every reading.{also}")


def offered(sitting: Sitting, asked: Prompt | None, reply: Reply) -> Reply:
    """The reply with the one reading that cannot be right beside the others, else with that which
    would settle best what is open: before something is changed that nobody sets back for one
    reading, and before the end; and once such a reading is in.
    """
    sitting.offered = NO_PROMPT
    page = sitting.page()
    if asked is None or page is None:
        return reply
    more = asked.kind.measures and len(sitting.survey.readings_of(asked.id)) > asked.repeats
    if not more and (sitting.step is sitting.steps[asked.step] or not _changes(page)):
        return reply
    from wizard.judgment.enough import best_offer  # numpy only once there is something to compute

    string = marks.ENGINE_WEIGHT in page.step.marks  # it hangs until the weight is off, and after
    offer = best_offer(sitting.sight, sitting.now(), string=string)
    wrong = NO_PROMPT if more else _accused_alone(sitting)
    if wrong:
        sitting.offered, words = wrong, wrong_words(sitting.sight.case.prompts[wrong])
    elif offer is not None:
        sitting.offered, words = offer.advice.prompt, offer_words(offer)
        sitting.offered_times = offer.advice.times
    else:
        return reply
    return replace(reply, says=f"{reply.says} {words}".strip())


CHANGES = ("state.engine", "state.supports", "state.body")
"""What a page may change, after which nothing is read as it was read before."""


def _changes(page: Page) -> bool:
    """Whether the car is changed on a page, or put away."""
    return page.step.part == "finish" or any(p.keep in CHANGES for p in page.prompts)


# The one entry for a place ------------------------------------------------------------------------


def _entry(sitting: Sitting, row: Row | None) -> Row | None:
    """The row of the entry for a place by which this look was written down; else the row itself."""
    if not isinstance(row, Look):
        return row
    entries = [a for a in sitting.survey.standing(Answer) if _is_place(sitting, a)]
    return next((a for a in reversed(entries) if row in _rows_by(sitting, a)), row)


def _is_place(sitting: Sitting, row: Row) -> bool:
    return isinstance(row, Answer) and bool(_gathered(sitting, row.prompt))


def _gathered(sitting: Sitting, prompt: PromptId) -> frozenset[PromptId]:
    """The looks that a place gathers; none for any other prompt."""
    step = sitting.library.steps.get(step_of(prompt))
    return frozenset(g.look for g in step.gathers) if step else frozenset()


def _rows_by(sitting: Sitting, entry: Answer) -> list[Look]:
    """The looks that one entry for a place has written down, and that still stand."""
    gathered = _gathered(sitting, entry.prompt) - {PromptId(id) for id in entry.answer.split()}
    looks = [k for k in sitting.survey.standing(Look) if k.prompt in gathered]
    return [k for k in looks if k.at == entry.at and number_of(k.id) > number_of(entry.id)]


def _passed_with(sitting: Sitting, row: Skip) -> list[Skip]:
    """The looks of a place that were passed over in one line, this one among them."""
    steps = sitting.library.steps.values()
    looks = {g.look for s in steps for g in s.gathers if row.prompt in _looks_of(s)}
    alike = (s for s in sitting.survey.standing(Skip) if (s.at, s.why) == (row.at, row.why))
    return [s for s in alike if s.prompt in looks] or [row]


def _looks_of(step: Step) -> frozenset[PromptId]:
    return frozenset(g.look for g in step.gathers)


def _last(survey: Survey) -> Row | None:
    """What was written down last and still stands."""
    rows = [*_standing(survey, WRITTEN), *_tools_set(survey)]
    rows = [r for r in rows if getattr(r, "prompt", "") != AGAIN_PROMPT]  # nobody has typed it
    return max(rows, key=lambda r: number_of(r.id), default=None)


def _take_out(sitting: Sitting, row: Row, why: str, says: str) -> Reply:
    """Strike a row and what hangs on it, and stand before its prompt until it is answered again; then
    one is back where one was.
    """
    survey = _without(sitting, row, why[:200])
    if any(survey.table(Reading) and f(survey) != f(sitting.survey) for f in FIXED.values()):
        return Reply(
            "refused", "You have written readings down already, so this answer must stay as it is."
        )
    failed = sitting.change(survey)
    if failed:
        return failed
    before = sitting.target
    prompt = PromptId(getattr(row, "prompt", ""))
    if before is None or before.prompt.id != prompt:
        sitting.leave_for([prompt], before)
    sitting.stand_before(prompt, stay=True)
    leave_gone(sitting)
    said = f"{says}: {_said(sitting, row)}. It stays in the file as struck out."
    return Reply("taken", said + _way_back(sitting, before))


def _way_back(sitting: Sitting, before: Ask | None) -> str:
    """Where one comes back to; empty for who stands on the page where he stood."""
    if before is None or sitting.target is None or before.prompt.step == sitting.target.prompt.step:
        return ""
    title = sitting.steps[before.prompt.step].title
    return f" Type it again here; then you are back at “{before.prompt.ask}” ({title})."


def _said(sitting: Sitting, row: Row) -> str:
    """What a row says, in a few words."""
    if isinstance(row, Size):
        return f"{words(row.name)} {row.typed}"
    if isinstance(row, Answer) and (said := _entry_said(sitting, row)):
        return said
    return clean_line(
        _as_said(sitting, row)
        or getattr(row, "typed", "")
        or getattr(row, "answer", "")
        or getattr(row, "why", "")
        or getattr(row, "name", "")
        or getattr(row, "point", "")
        or getattr(row, "text", "")
        or row.id,
        200,
    )


def _entry_said(sitting: Sitting, row: Answer) -> str:
    """Of the entry for a place, and of a call for something, what it is; empty for other answers."""
    if also := sitting.library.also.get(also_named(str(row.prompt))):
        return f"the call for {also.name}"
    if not _gathered(sitting, row.prompt):
        return ""
    title = sitting.steps[step_of(row.prompt)].title
    return f"the entry for “{title}”, {len(_rows_by(sitting, row))} looks"


ON_THE_LIST = "the page is on the list of this re-check"
"""Of the row that keeps the list: what stands in it are names of the file's."""


def _as_said(sitting: Sitting, row: Row) -> str:
    """The words of a choice, not its inner name; empty for what was typed freely."""
    if getattr(row, "prompt", "") == STEPS_PROMPT:
        return ON_THE_LIST
    token = row.answer if isinstance(row, Answer | Look) else ""
    prompts = (
        p for page in sitting.pages() for p in page.prompts if p.id == getattr(row, "prompt", "")
    )
    return next((c.words for p in prompts for c in p.choices if token and c.token == token), "")


def _displaced(survey: Survey, row: Row) -> Row | None:
    """The row in whose place this one had come, where nothing else has come there since."""
    if isinstance(row, PointNote | CarNote):
        return _last_struck(_alike(survey, row), ANEW)
    prompt = PromptId(getattr(row, "prompt", ""))
    if isinstance(row, Skip) or not prompt or _rows_of(survey, prompt):
        return None
    return _last_struck([p for p in survey.table(Skip) if p.prompt == prompt], AFTER_ALL)


def _alike(survey: Survey, row: PointNote | CarNote) -> Sequence[Row]:
    """What was ever said of the same point, or of the same thing of the car."""
    if isinstance(row, PointNote):
        return [n for n in survey.table(PointNote) if n.point == row.point]
    return [n for n in survey.table(CarNote) if n.about == row.about]


def _last_struck(rows: Sequence[Row], why: str) -> Row | None:
    """The last of these that was struck for that reason; None where one of them stands."""
    if any(not r.struck for r in rows):
        return None
    return max((r for r in rows if r.struck == why), key=lambda r: number_of(r.id), default=None)


def _without(sitting: Sitting, row: Row, why: str) -> Survey:
    """The survey with the row struck out, and with what the row had brought about taken back."""
    survey, at, by = sitting.survey.with_struck(row.id, why), sitting.at, sitting.by
    for other in _with(sitting, row):
        survey = _put_in_place(survey.with_struck(other.id, why), other)
    survey = _put_in_place(survey, row)
    if isinstance(row, Answer) and tool_kind(row.keeps):
        return without_tool(survey, row, sitting.library.tools, why, at, by)
    if isinstance(row, Answer) and row.keeps:
        return settle(survey, row.keeps, at, by)
    return survey


def _with(sitting: Sitting, row: Row) -> Sequence[Row]:
    """What one line has written down together with this row: it is taken back together."""
    match row:
        case Skip():
            return _passed_with(sitting, row)
        case Answer():
            return [*_rows_by(sitting, row), *_frames_by(sitting.survey, row)]
        case Reading():
            return [f for f in sitting.survey.standing(Fold) if row.id in f.readings.split()]
        case Look():
            return [k for k in sitting.survey.looks_at(row.prompt) if k.at == row.at]
    return ()


def _frames_by(survey: Survey, row: Answer) -> Sequence[Row]:
    """The owner's layout that an answer brought in: nothing of it is left where the answer is none."""
    return [f for f in survey.standing(OwnFrame) if f.layout == row.answer and f.at == row.at]


def _put_in_place(survey: Survey, row: Row) -> Survey:
    """What a row that is struck now had come in the place of stands again."""
    back = _displaced(survey, row)
    return survey if back is None else survey.with_replaced(replace(back, struck=""))


# Once more ----------------------------------------------------------------------------------------

NOT_DOUBTED = "No measurement is in doubt just now. /go and a page opens one to measure again."


def again(sitting: Sitting, _: str) -> Reply:
    """Asks once more for each measurement that cannot be right beside the others, else for what the
    answer asks to be read again, then goes back.
    """
    doubted, before, prompt = sitting.pending, sitting.target, sitting.prompt
    if doubted is not None and doubted.others and prompt is not None:
        asked = [prompt.id, *(id for id in doubted.others if id != prompt.id)]
        if failed := sitting.change(_kept(sitting, doubted, asked)):
            return failed
    else:
        accused = _accused(sitting)
        asked = accused or _advised(sitting)
        if failed := _in_its_place(sitting, accused):
            return failed
    if not asked:
        return Reply("refused", NOT_DOUBTED)
    sitting.leave_for(asked, before)
    several = f"Each of {len(asked)} measurements is asked once more, this one first"
    return Reply(
        "taken",
        f"{several if len(asked) > 1 else 'Measure this one once more'}; then you are back.",
    )


def _kept(sitting: Sitting, doubted: Doubted, asked: list[PromptId]) -> Survey:
    """The survey with what was doubted; where each of them is a pair that is set up anew, what is
    read then counts in its place.
    """
    if not doubted.then_others:
        return doubted.kept
    return asking_again(doubted.kept, asked, Answer(id="", at=sitting.at, by=sitting.by))


def _advised(sitting: Sitting) -> list[PromptId]:
    """The prompts of what the answer asks to be read again; of a re-check, where it asks for none,
    those of what may have changed.
    """
    from wizard.judgment.next import to_read_again  # numpy only once there is something to compute
    from wizard.judgment.since import to_tell

    sight, earlier = sitting.sight, sitting.earlier
    advice = sight.verdict(sitting.now()).advice
    asked = to_read_again(advice, sight.judged, sight.case) if advice else []
    return asked or (to_tell(earlier, sight.survey, sight.library) if earlier else [])


def _in_its_place(sitting: Sitting, asked: list[PromptId]) -> Reply | None:
    """Of the one measurement that cannot be right, what is read now counts alone: a mean of both
    would pull the plan halfway to a slip. Of several nobody knows which. A Reply only where it
    could not be saved.
    """
    if len(asked) != 1:
        return None
    row = Answer(id="", at=sitting.at, by=sitting.by)
    return sitting.change(asking_again(sitting.survey, asked, row))


def _accused_alone(sitting: Sitting) -> PromptId:
    """The one distance that has probably slipped, not measured again since."""
    asked = _accused(sitting)
    alone = len(asked) == 1 and asked[0] not in asked_again(sitting.survey)
    return asked[0] if alone and sitting.sight.case.prompts[asked[0]].kind.spans else NO_PROMPT


def _accused(sitting: Sitting) -> list[PromptId]:
    """The prompts of the readings of which one has probably slipped."""
    from wizard.judgment.facts import accused  # numpy only once there is something to compute

    rows = accused(sitting.sight.judged)
    readings = sitting.survey.standing(Reading)
    return list(dict.fromkeys(r.prompt for r in readings if r.id in rows))
