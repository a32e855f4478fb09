"""`/mentor`, `/guess`, `/show`, `/opinion`: the mentor looks on, the newcomer says what he expects."""

from __future__ import annotations

from dataclasses import replace

from wizard.library.places import NO_PROMPT, NO_STEP, step_of
from wizard.library.shapes import Step
from wizard.sitting.aside import MENTOR, MENTOR_ON, blind, keep_view
from wizard.sitting.paging import since_line, waits
from wizard.sitting.reply import Reply
from wizard.sitting.sitting import Sitting
from wizard.survey.rows import Guess, Opinion, Reading
from wizard.telling.document import Paragraph, Section, section, set_out
from wizard.telling.page import live, results_of_step
from wizard.telling.text import Look, lines_of

TITLE = "Mentor's view"
OFF = "The mentor's view is off."
SET = Look("  ", margin=2, hang=4)
"""How its parts are set in plain text."""
NEWCOMER = "newcomer"
"""Who signs an opinion, and who guesses where the mentor holds the tape: a guess is never his."""
LONGEST = 500
SIGNED = 60
"""Letters of a name at most."""


def mentor(sitting: Sitting, rest: str) -> Reply:
    """`/mentor` tells the page of the step in front and stays on, in later sittings too; `/mentor
    off` ends it.
    """
    sitting.aside.mentor = sitting.aside.mentor_signs = rest.strip().lower() != "off"
    keep_view(sitting.path, sitting.aside.mentor)
    if not sitting.aside.mentor:
        return Reply("told", OFF)
    text = f"{MENTOR_ON}\n\n{mentor_text(sitting)}"
    return Reply("told", text, TITLE, shows="mentor", below=MENTOR_ON)


def mentor_text(sitting: Sitting) -> str:
    """The mentor's page of the step in front as plain text."""
    return "\n".join(lines_of(set_out(parts_of(sitting)), SET))


def parts_of(sitting: Sitting, of: Step | None = None) -> tuple[Section, ...]:
    """The mentor's page, part by part; of the step in front for None, at the end of the whole
    survey.
    """
    from wizard.judgment.sight import verdict_of
    from wizard.telling.mentor import mentor_parts

    step = of or sitting.step or last_step(sitting)
    if step is None:
        return (section("ask", "To ask the newcomer", ["Nothing was measured yet."]),)
    if sitting.aside.second:
        return _to_second(sitting, step)
    survey, hidden = sitting.survey, waits(sitting, step)
    results = results_of_step(survey, sitting.library, step)
    verdict = None if hidden else verdict_of(survey, sitting.library, sitting.now())
    return mentor_parts(survey, sitting.library, step, results, verdict, hidden)


def _to_second(sitting: Sitting, step: Step) -> tuple[Section, ...]:
    """The page as the second reader may see it: no result, no guess, no remark, for any of them may
    say what the first has read.
    """
    from wizard.telling.mentor import CAME_TO, mentor_parts

    survey = blind(sitting.survey, sitting.aside)
    survey = replace(survey, rows={**survey.rows, "guess": (), "remark": (), "opinion": ()})
    parts = mentor_parts(survey, sitting.library, step, (), None, hidden=False)
    return tuple(part for part in parts if part.id not in CAME_TO)


def last_step(sitting: Sitting) -> Step | None:
    """The step that was read last, for the end of a survey; None where nothing was read."""
    rows = sitting.survey.standing(Reading)
    return sitting.steps.get(step_of(rows[-1].prompt)) if rows else None


def finished(sitting: Sitting, step: Step) -> str:
    """What a step came to, now that its last answer is in; where a guess is wanted first, the
    question for it.
    """
    said = live(blind(sitting.survey, sitting.aside), sitting.library, step, 1)
    if not said:
        return ""
    if waits(sitting, step):
        sitting.aside.held = step.id
        return f"{step.title}: what do you expect? Type /guess and a few words, or /show."
    where = (
        ", the worst place" if step.check == "sag" else ""
    )  # both rails are on that page, whichever was read last
    title = "" if _begins_alike(step.title, said[0]) else f"{step.title}{where}: "
    return f"{title}{said[0]} {since_line(sitting, step)}".rstrip()


def _begins_alike(title: str, said: str) -> bool:
    """Whether a sentence names its page by itself: `Front box, by the bar`."""
    first = [text.lower().removeprefix("the ").split(",")[0] for text in (title, said)]
    return first[0] == first[1]


def _asked_of(sitting: Sitting) -> Step | None:
    """The step that a guess is for: the one just finished while its result waits, else the one in
    front.
    """
    held = sitting.steps.get(sitting.aside.held)
    return held if held and waits(sitting, held) else sitting.step or last_step(sitting)


def guess(sitting: Sitting, text: str) -> Reply:
    """`/guess left rail back 1/8`: what the newcomer expects, before the result is shown."""
    if not text:
        return Reply("refused", "Type what you expect too, like /guess left rail back 1/8.")
    survey, step = sitting.survey, _asked_of(sitting)
    here = (
        sitting.prompt.id
        if sitting.prompt and sitting.step is step
        else step.id
        if step
        else NO_PROMPT
    )
    by = NEWCOMER if sitting.by == MENTOR else sitting.by
    row = Guess(id=survey.new_id(Guess), at=sitting.at, by=by, prompt=here, text=text[:LONGEST])
    failed = sitting.change(survey.with_row(row))
    return failed or _told(sitting, step, f"Your guess: {text[:200].rstrip('.')}.")


def show(sitting: Sitting, _: str) -> Reply:
    """`/show`: the result without a guess."""
    step = _asked_of(sitting)
    if step is None or not waits(sitting, step):
        return Reply("refused", "No result waits here. It shows once enough is measured.")
    sitting.aside.shown.add(step.id)
    return _told(sitting, step, "Shown without a guess.")


def _told(sitting: Sitting, step: Step | None, first: str) -> Reply:
    """What the step came to; of a page that is no longer in front, with its doubts and limits over
    the next page.
    """
    said = f"{first} {_then(sitting, step)}".strip()
    if step is None or not sitting.aside.mentor or sitting.step is step:
        return Reply("told", said)
    from wizard.telling.mentor import CAME_TO

    parts = (part for part in parts_of(sitting, step) if part.id in CAME_TO)
    lines = lines_of([Paragraph(said), *set_out(parts)], SET)
    return Reply("told", "\n".join(lines), f"{step.title}: what it came to")


def _then(sitting: Sitting, step: Step | None) -> str:
    """What the step came to."""
    told = step if not sitting.aside.second else None  # he must not see what the rest comes to
    said = live(sitting.survey, sitting.library, told, 1) if told else ()
    sitting.aside.held = NO_STEP
    return f"{said[0]}" if said else ""


def opinion(sitting: Sitting, rest: str) -> Reply:
    """`/opinion A.

    Mentor: I would ...`: signed with what stands before the colon, else as whoever holds the
    survey.
    """
    name, colon, text = rest.partition(":")
    by, text = (
        (name.strip(), text.strip()) if colon and _is_name(name.strip()) else ("", rest.strip())
    )
    if not text:
        return Reply(
            "refused",
            "Type your opinion with your name, like /opinion A. Mentor: leave the sag, the doors"
            " fit it.",
        )
    survey = sitting.survey
    row = Opinion(
        id=survey.new_id(Opinion), at=sitting.at, by=by or sitting.signs, text=text[:LONGEST]
    )
    says = f"Signed {row.by}: {text[:200].rstrip('.')}. It stands beside the program's answer."
    return sitting.change(survey.with_row(row)) or Reply("told", says)


def _is_name(text: str) -> bool:
    """A capital and four words at most: else the colon belongs to the opinion."""
    return text[:1].isupper() and len(text) <= SIGNED and len(text.split()) <= 4
