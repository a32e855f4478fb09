"""The words that go somewhere: back, on, to a step, past one."""

from __future__ import annotations

from wizard.library.shapes import Step
from wizard.sitting.reply import Reply
from wizard.sitting.sitting import Sitting
from wizard.survey.guide import LENGTH_PROMPT, Page, wanting
from wizard.survey.prompts import Prompt
from wizard.survey.record import Survey
from wizard.survey.rows import Answer, Skip
from wizard.telling.asking import trail_text
from wizard.telling.text import wrap
from wizard.telling.then_words import left_out_words


def passed(sitting: Sitting, step: Step) -> str:
    """The pages between that are not for this car as it stands: a number left out looks like a page
    missed.
    """
    there = sitting.pages()
    ids = [p.step.id for p in there]
    if sitting.step is None or step.id not in ids or sitting.step.id not in ids:
        return ""
    between = there[ids.index(step.id) + 1 : ids.index(sitting.step.id)]
    names = [p.step.title for p in between if p.gone]
    return (
        f"Not for this car as it stands: {'; '.join(names)}. /trail (F6) says why." if names else ""
    )


def end() -> Reply:
    return Reply(
        "ended",
        "Every question is answered. /verdict shows the result, /back goes back, /quit ends.",
    )


def skip(sitting: Sitting, why: str) -> Reply:
    """Pass over the prompt, or with `step` before the reason the rest of the step."""
    if sitting.ask is None:
        return end()
    if sitting.ask.prompt.kind.acknowledges:
        return Reply(
            "refused", "A caution is not skipped; /next passes over its page, /go goes to another."
        )
    whole, why = _whole_and_why(why)
    if not why:
        return Reply(
            "refused",
            "Say why in a few words, like /skip tank in the way, or /skip step no level to hand.",
        )
    asked, page = sitting.ask, sitting.page()
    prompts = _left_on(page, sitting.survey) if whole and page else [asked.prompt]
    failed = sitting.change(_with_skips(sitting, prompts, why[:500]))
    if failed:
        return failed
    sitting.go_on(asked)
    more = not whole and _still_on(page, sitting)
    rest = " /skip step and a reason passes over the rest of this page." if more else ""
    return Reply("taken" if sitting.ask else "ended", f"Skipped: {why[:200].rstrip('.')}.{rest}")


def _whole_and_why(said: str) -> tuple[bool, str]:
    """Whether the rest of the step is passed over, and the reason."""
    first, _, rest = said.partition(" ")
    return (True, rest) if first.lower() == "step" else (False, said)


def _left_on(page: Page, survey: Survey) -> list[Prompt]:
    """What is still to be read or answered on a page."""
    return [p for p in page.prompts if wanting(survey, p)]


def _with_skips(sitting: Sitting, prompts: list[Prompt], why: str) -> Survey:
    survey = sitting.survey
    for prompt in prompts:
        row = Skip(id=survey.new_id(Skip), at=sitting.at, by=sitting.by, prompt=prompt.id, why=why)
        survey = survey.with_row(row)
    return survey


def _still_on(page: Page | None, sitting: Sitting) -> bool:
    """Whether that page is still in front."""
    return bool(page and sitting.step and sitting.step.id == page.step.id)


def back(sitting: Sitting, _: str) -> Reply:
    if sitting.back():
        return Reply(
            "taken",
            "Back. Type to add a reading here, /strike takes the last one out, /next goes on.",
        )
    return Reply("refused", "This is the first question.")


def on(sitting: Sitting, _: str) -> Reply:
    before = sitting.target
    sitting.forward()
    if before is not None and sitting.target == before:
        return Reply(
            "refused", "This is the only question left; answer it or /skip it with a reason."
        )
    return Reply("taken") if sitting.ask else end()


def go(sitting: Sitting, step: str) -> Reply:
    step = step.strip().lower()
    if not step:
        return trail(sitting, "")
    step = _step_named(sitting, step)
    if sitting.go(step):
        return Reply("taken")
    named = _prompt_named(sitting, step)
    if named:
        sitting.stand_before(named.id)
        return Reply("taken")
    gone = next((p.gone for p in sitting.pages() if p.step.id == step), "")
    return Reply("refused", gone or "There is no such step; /trail lists them by number and name.")


def _step_named(sitting: Sitting, name: str) -> str:
    """The id of the step of that number or title; the name itself where there is none."""
    steps = [p.step for p in sitting.pages()]
    if name.isdecimal() and 1 <= int(name) <= len(steps):
        name = steps[int(name) - 1].id
    return next((s.id for s in steps if s.title.lower() == name), name)


def _prompt_named(sitting: Sitting, name: str) -> Prompt | None:
    """The first prompt of the course that asks in those words."""
    asked = [p for page in sitting.pages() for p in page.prompts]
    return next((p for p in asked if p.ask.lower() == name), None)


def trail(sitting: Sitting, _: str) -> Reply:
    survey, today = sitting.survey, sitting.now()
    left_out = left_out_words(survey, sitting.library, today)
    text = "\n".join(
        [
            trail_text(survey, sitting.pages(), sitting.step, today),
            *(wrap(left_out) if left_out else ()),
        ]
    )
    return Reply("told", text, "Where you are")


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
    return Reply("taken", "On with the whole survey; what you did already is kept.")
