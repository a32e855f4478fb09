"""`/second`: a second reader takes the same readings, blind to the first."""

from __future__ import annotations

from wizard.library.places import NO_STEP, StepId, step_of
from wizard.readings.plain import clean_line
from wizard.sitting.reply import Kind, Reply
from wizard.sitting.sitting import Sitting
from wizard.survey.guide import Ask, Page, answered, asks_of, is_open
from wizard.survey.prompts import Prompt
from wizard.survey.rows import SECOND, Reading

WAITS = (
    "verdict",
    "report",
    "change",
    "show",
    "mentor",
    "undo",
    "strike",
    "readings",
    "open",
    "model",
    "whole",
    "copy",
)
"""Words that would show what the first read, or take it out, while the second reads."""
GOES_ON = "The first reader goes on."
WAITS_FOR_BOTH = "What the first read is said when you are done."
TITLE = "What both have read"
AT_ONCE = 2
"""Readings that are said in one message; more are a page."""
NOTHING_READ = (
    "The first reader has read nothing on this page yet. Let him read first, then type /second."
)
NO_FIGURES = (
    "Only readings are taken a second time blind, and nothing is measured on this page. Look at it"
    " together; where you see it differently, write that down with /remark."
)
UNTIL = "That waits until the second reader is done. Type /second stop to end his turn."


def second(sitting: Sitting, rest: str) -> Reply:
    """`/second` for the reading in front, else the one taken last here; `/second step` for all of
    the step.
    """
    word = rest.strip().lower()
    if word == "stop" or sitting.aside.second:
        return stop(sitting) if word == "stop" else Reply("refused", UNTIL)
    read = _read_here(sitting)
    if not read:
        return Reply("refused", NOTHING_READ if _is_read_on(sitting.page()) else NO_FIGURES)
    front = sitting.target.prompt if sitting.target else None
    chosen = (
        read
        if word in ("page", "step")
        else [front]
        if front in read and front
        else [_last(sitting, read)]
    )
    sitting.aside.back = sitting.target
    sitting.aside.second, sitting.aside.both = tuple(p.id for p in chosen), ()
    _stand(sitting)
    return Reply(
        "taken",
        "Now the second reader reads. What the first one read is hidden until both are in.",
    )


def stop(sitting: Sitting) -> Reply:
    """Back to the first reader."""
    if not sitting.aside.second:
        return Reply("refused", "No second reader is reading now. Type /second to let one read.")
    return _done(sitting)


def _done(sitting: Sitting) -> Reply:
    """His turn is over: only now is it said what both have read, a page of it where it is much."""
    said = [_both(sitting, prompt) for prompt in sitting.aside.both]
    leave(sitting)
    kind: Kind = "taken" if sitting.ask else "ended"
    if len(said) <= AT_ONCE:
        return Reply(kind, " ".join([*said, GOES_ON]))
    return Reply(kind, "\n".join(said), TITLE, below=GOES_ON)


def leave(sitting: Sitting) -> None:
    """No second reader any more; stand where the first did, or at what is open behind it."""
    aside = sitting.aside
    sitting.ask, aside.second, aside.back, sitting.pending = aside.back, (), None, None
    aside.both = ()
    if sitting.target is not None and not is_open(sitting.survey, sitting.target):
        sitting.go_on(sitting.target)


def read_line(sitting: Sitting, text: str) -> Reply:
    """One line of the second reader's."""
    if ";" in text:
        return Reply(
            "refused",
            "The second reader types one reading at a time. Nothing was taken: type the first one.",
        )
    asked, back, before = sitting.prompt, sitting.aside.back, sitting.target
    reply = sitting.enter(text)
    if reply.kind not in ("taken", "ended") or asked is None:
        return reply
    if (
        before is None or asked != before.prompt
    ):  # a caution, or the supports: his reading is still to come
        sitting.target = before
        return reply
    aside = sitting.aside
    aside.second, aside.both = aside.second[1:], (*aside.both, asked)
    if aside.second:
        _stand(sitting)
        return Reply("taken", f"{asked.ask}: {clean_line(text, 40)}. {WAITS_FOR_BOTH}")
    aside.back = back
    return _done(sitting)


def kept_in_step(sitting: Sitting) -> None:
    """Whoever walks away from the reading in front ends the second reader's turn."""
    aside = sitting.aside
    if aside.second and (sitting.target is None or sitting.target.prompt.id != aside.second[0]):
        aside.second, aside.back = (), None


def _stand(sitting: Sitting) -> None:
    asks = [
        a for p in sitting.pages() for a in asks_of(p) if a.prompt.id == sitting.aside.second[0]
    ]
    sitting.ask, sitting.pending = Ask(asks[0].prompt), None


def _is_read_on(page: Page | None) -> bool:
    """Whether anything is measured on a page."""
    return page is not None and any(p.kind.measures for p in page.prompts)


def _read_here(sitting: Sitting) -> list[Prompt]:
    """The prompts of the step in front that the first reader has read; else those of the step read
    last.
    """
    here = sitting.step.id if sitting.step else NO_STEP
    steps = [
        here,
        *(step_of(r.prompt) for r in reversed(sitting.survey.standing(Reading)[-1:])),
    ]
    return next((read for step in steps if (read := _read_at(sitting, step))), [])


def _read_at(sitting: Sitting, step: StepId) -> list[Prompt]:
    """The prompts of a step that the first reader has read."""
    page = next((p for p in sitting.pages() if p.step.id == step), None)
    if page is None:
        return []
    return [p for p in page.prompts if p.kind.measures and answered(sitting.survey, p)]


def _last(sitting: Sitting, read: list[Prompt]) -> Prompt:
    rows = [r.prompt for r in sitting.survey.standing(Reading)]
    return max(read, key=lambda p: max(n for n, id in enumerate(rows) if id == p.id))


def _both(sitting: Sitting, prompt: Prompt) -> str:
    """What both have read, now that both are in."""
    rows = sitting.survey.readings_of(prompt.id)
    first = " and ".join(clean_line(r.typed, 40) for r in rows if r.by != SECOND)
    other = " and ".join(clean_line(r.typed, 40) for r in rows if r.by == SECOND)
    return f"{prompt.ask}: the first reader read {first}, the second {other}."
