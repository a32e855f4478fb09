"""Words that go about in the course: past a question, back, on, to a page, to what is in doubt, from
the short survey to the whole one, and to what is asked only when it is called for.
"""

from __future__ import annotations

import re
from collections.abc import Mapping

from wizard.library import marks
from wizard.library.places import NO_STEP, PromptId, StepId, step_of
from wizard.library.shapes import CALLED, Also
from wizard.readings.plain import clean_line
from wizard.sitting.reply import Reply
from wizard.sitting.sitting import Sitting
from wizard.survey.guide import (
    LENGTH_PROMPT,
    STEPS_PROMPT,
    Page,
    called_for,
    short_list_of,
    wanting,
)
from wizard.survey.prompts import Prompt, need_met
from wizard.survey.record import Survey
from wizard.survey.rows import AFTER_ALL, Answer, Reading, Skip
from wizard.telling.also_words import also_of, also_text
from wizard.telling.evening_words import TITLE, open_blocks, open_text, trail_page
from wizard.telling.page import row_of
from wizard.telling.then_words import left_out_lines

WHOLE_PAGE = ("page", "step")
"""What people type for all that a page asks."""


def end() -> Reply:
    return Reply(
        "ended",
        "Every question is answered. /verdict shows the answer, /back goes back, /quit stops.",
    )


def skip(sitting: Sitting, why: str) -> Reply:
    """Pass over the prompt, or with `step` before the reason the rest of the step."""
    if sitting.ask is None:
        return end()
    whole, why = _whole_and_why(why)
    asked, page = sitting.ask, sitting.page()
    guards = asked.prompt.kind.acknowledges
    if not why or (guards and not whole):
        return Reply("refused", CAUTION if guards else SAY_WHY)
    prompts = [] if guards else _of(sitting, asked.prompt)
    if whole:  # also what is asked anew there, such as the push test of a car that was rolled
        prompts = list({p.id: p for p in (*prompts, *_left_on(page, sitting.survey))}.values())
    failed = sitting.change(_with_skips(sitting, prompts, why[:500]))
    if failed:
        return failed
    sitting.go_on(sitting.target if guards else asked)
    return _skipped(sitting, why, None if whole else page)


def _skipped(sitting: Sitting, why: str, page: Page | None) -> Reply:
    """What is said of it. page: the one that it was of, where it was not passed over whole."""
    more = _still_on(page, sitting)
    rest = " To skip the rest of this page, type /skip page and why." if more else ""
    return Reply("taken" if sitting.ask else "ended", f"Skipped: {why[:200].rstrip('.')}.{rest}")


SAY_WHY = "Say why in a few words, like /skip tank in the way, or /skip page no level to hand."
CAUTION = (
    "You cannot skip a caution. To leave out the page that it guards, type /skip page and why; /next"
    " leaves that page for later."
)


def _whole_and_why(said: str) -> tuple[bool, str]:
    """Whether the rest of the step is passed over, and the reason."""
    first, _, rest = said.partition(" ")
    return (True, rest) if first.lower() in WHOLE_PAGE else (False, said)


def _left_on(page: Page | None, survey: Survey) -> list[Prompt]:
    """What is still to be read or answered on a page."""
    return [p for p in page.wanted if wanting(survey, p)] if page else []


def _of(sitting: Sitting, prompt: Prompt) -> list[Prompt]:
    """What is passed over with a prompt: with the entry for a place each look that it covers."""
    if not prompt.kind.gathers:
        return [prompt]
    return [p.look for p in prompt.parts if wanting(sitting.survey, p.look)]


def _with_skips(sitting: Sitting, prompts: list[Prompt], why: str) -> Survey:
    survey = sitting.survey
    for prompt in prompts:
        row = Skip(id=survey.new_id(Skip), at=sitting.at, by=sitting.by, prompt=prompt.id, why=why)
        survey = survey.with_row(row)
    return survey


def _still_on(page: Page | None, sitting: Sitting) -> bool:
    """Whether that page is still in front."""
    return bool(page and sitting.step and sitting.step.id == page.step.id)


BACK = "You went back. {here}Press Enter to keep this answer, or type another."
BACK_AT_READING = (
    "You went back. {here}Press Enter to keep what is here, type a figure to add it, or type /strike to"
    " take the last one out."
)


def _here(sitting: Sitting, prompt: Prompt | None) -> str:
    """What stands at the prompt that he went back to; nothing of what is to be read afresh."""
    if prompt is None or prompt.kind.gathers or sitting.aside.second:
        return ""
    found = row_of(sitting.survey, prompt).values
    return f"Here stands: {clean_line(found, 60)}. " if found else ""


def back(sitting: Sitting, _: str) -> Reply:
    if sitting.back():
        measures = sitting.prompt is not None and sitting.prompt.kind.measures
        here = _here(sitting, sitting.prompt)
        return Reply("taken", (BACK_AT_READING if measures else BACK).format(here=here))
    return Reply("refused", "This is the first question.")


LAST = "This is the only question left. Answer it, or type /skip and why."
LAST_GUARDED = "Only the page that this guards is left. Read on, or type /skip page and why."


def on(sitting: Sitting, _: str) -> Reply:
    before = sitting.target
    sitting.forward()
    if before is not None and sitting.target == before:
        guards = sitting.prompt is not None and sitting.prompt.kind.acknowledges
        return Reply("refused", LAST_GUARDED if guards else LAST)
    return Reply("taken") if sitting.ask else end()


def go(sitting: Sitting, typed: str) -> Reply:
    name = re.sub(r"^(?:page|step) (?=\d)", "", typed.strip().lower()).rstrip(".")
    if not name:
        return trail(sitting, "")
    walk = sitting.walk()
    if name.isdecimal() and 1 <= int(name) <= len(walk):
        return _go_to(sitting, walk[int(name) - 1])
    return _to_page(sitting, name)


def _to_page(sitting: Sitting, name: str) -> Reply:
    """To the page, or the question, of that name."""
    step = _step_named(sitting, name)
    if sitting.go(step):
        return Reply("taken")
    named = _prompt_named(sitting, str(step)) or _tool_found(sitting, step)
    if named:
        sitting.stand_before(named)
        return Reply("taken")
    gone = next((p.gone for p in sitting.pages() if p.step.id == step), "")
    return _beside_the_list(sitting, name) or Reply("refused", gone or NO_SUCH_PAGE)


NO_SUCH_PAGE = "There is no such page. Type /trail to see them all."


def _beside_the_list(sitting: Sitting, name: str) -> Reply | None:
    """A page of the whole survey that a re-check's list leaves out, taken up into it; None where it
    is no re-check by a list, or there is no such page.
    """
    survey, library = sitting.survey, sitting.library
    chosen = short_list_of(survey)
    steps = (sitting.steps[id] for id in library.courses[marks.WHOLE])
    step = _titled({s.title.lower(): s.id for s in steps}, name) if chosen else NO_STEP
    if step not in library.courses[marks.WHOLE] or any(step_of(part) == step for part in chosen):
        return None
    row = Answer(
        id=survey.new_id(Answer),
        at=sitting.at,
        by=sitting.by,
        prompt=STEPS_PROMPT,
        answer=" ".join(map(str, (*chosen, step))),
    )
    if failed := sitting.change(survey.with_row(row)):
        return failed
    sitting.go(step)
    return Reply("taken", f"“{sitting.steps[step].title}” is asked today too. /undo leaves it.")


def _go_to(sitting: Sitting, stop: Page) -> Reply:
    if sitting.go_to(stop):
        return Reply("taken")
    return Reply("refused", stop.gone or "Nothing is asked there just now; /trail lists the pages.")


def _step_named(sitting: Sitting, name: str) -> StepId:
    """The id of the step of that title, or of the one title that begins so; the name itself where there
    is none.
    """
    return _titled(
        {p.step.title.lower(): p.step.id for p in (*sitting.pages(), *sitting.walk())}, name
    )


def _titled(titles: Mapping[str, StepId], name: str) -> StepId:
    """The id of the step of that title, or of the one title that begins so, `the` or not; the name
    itself where there is none.
    """
    begun = [id for title, id in titles.items() if title.removeprefix("the ").startswith(name)]
    alone = begun[0] if len(begun) == 1 else StepId(name)
    return titles.get(name, titles.get(f"the {name}", alone))


def _tool_found(sitting: Sitting, step: StepId) -> PromptId | None:
    """The question for the tool for want of which a page is gone, asked anew: whoever goes there
    has it now. None where the page lacks none.
    """
    there, survey = sitting.library.steps.get(step), sitting.survey
    needs = [n for n in there.needs if n.usual] if there else []
    lacking = next((n.prompt for n in needs if not need_met(survey, n)), None)
    for skip in survey.standing(Skip):
        if skip.prompt == lacking:
            survey = survey.with_struck(skip.id, AFTER_ALL)
    if survey is not sitting.survey:
        sitting.change(survey)
    return lacking


def _prompt_named(sitting: Sitting, name: str) -> PromptId | None:
    """The first prompt of the course that asks in those words, or that has a reading of that number."""
    asked = [p.id for page in sitting.pages() for p in page.prompts if p.ask.lower() == name]
    read = [r.prompt for r in sitting.survey.standing(Reading) if r.id == name]
    return next(iter([*asked, *read]), None)


def trail(sitting: Sitting, _: str) -> Reply:
    left_out = left_out_lines(sitting.survey, sitting.library, sitting.now())
    text = trail_page(sitting.survey, sitting.library, sitting.walk(), sitting.page(), left_out)
    return Reply("told", text, "Where you are")


def is_open(sitting: Sitting, _: str) -> Reply:
    """What is known, what is open, and what would settle it."""
    blocks = open_blocks(sitting.survey, sitting.library, sitting.now())
    return Reply("told", open_text(blocks), TITLE, blocks=blocks)


def whole(sitting: Sitting, _: str) -> Reply:
    """From the short survey to the whole one."""
    survey = sitting.survey
    row = Answer(
        id=survey.new_id(Answer), at=sitting.at, by=sitting.by, prompt=LENGTH_PROMPT, answer="whole"
    )
    failed = sitting.change(survey.with_row(row))
    if failed:
        return failed
    sitting.target = None
    sitting.go_on(None)
    return Reply("taken", "You go on with the whole survey. What you did already is kept.")


# What is asked only when it is called for --------------------------------------------------------------


def also(sitting: Sitting, typed: str) -> Reply:
    """What can be called for; with a name it is."""
    said = typed.strip().lower()
    if not said:
        return Reply("told", also_text(sitting.survey, sitting.library), "What else can be asked")
    meant = _meant(sitting, said)
    if meant is None:
        return Reply(
            "refused", "There is no such thing to call for. Type /also to see what there is."
        )
    if _asks_for(sitting, meant):
        return Reply("refused", f"You are asked for {meant.name} already: /go and its page.")
    survey = sitting.survey
    id, prompt = survey.new_id(Answer), meant.call.prompt
    row = Answer(id=id, at=sitting.at, by=sitting.by, prompt=prompt, answer=CALLED)
    failed = sitting.change(survey.with_row(row))
    if failed:
        return failed
    if sitting.target is None:
        sitting.go_on(None)
    step = sitting.step
    here = step is not None and step.called == meant.id
    turn = "You are asked for {} now" if here else "You will be asked for {} as its turn comes"
    return Reply("taken", f"{turn.format(meant.name)}. /undo leaves it.")


def _asks_for(sitting: Sitting, also: Also) -> bool:
    """Whether it is called for and its pages are asked; a re-check's short list may leave them out."""
    there = {page.step.called for page in sitting.pages()}
    in_list = also.id in there or all(also.id != s.called for s in sitting.library.steps.values())
    return in_list and called_for(sitting.survey, also.call)


def _meant(sitting: Sitting, said: str) -> Also | None:
    """What goes by that id or name, or the one that begins so."""
    there = {t: a for a in also_of(sitting.survey, sitting.library) for t in (a.id, a.name)}
    begun = {a.id: a for typed, a in there.items() if typed.lower().startswith(said)}
    found = [there[said]] if said in there else list(begun.values())
    return found[0] if len(found) == 1 else None
