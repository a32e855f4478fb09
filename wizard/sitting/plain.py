"""The same survey by plain prompts, line by line: for a screen reader, a dumb terminal, a pipe."""

from __future__ import annotations

import textwrap
from collections.abc import Callable, Iterable, Iterator

from wizard.library.shapes import Caution
from wizard.readings.plain import clean_line
from wizard.sitting.commands import handle
from wizard.sitting.drawing import frame_words
from wizard.sitting.ending import ending
from wizard.sitting.mishap import mishap
from wizard.sitting.paging import page_of, recalled
from wizard.sitting.reply import Reply
from wizard.sitting.sitting import Sitting
from wizard.sitting.words import first_words, taken_words
from wizard.telling.big_letters import big
from wizard.telling.page import PageView

WIDTH = 76
Say = Callable[[str], None]


def run(sitting: Sitting, lines: Iterable[str], say: Say, *, person: bool) -> int:
    """Ask until the end, `/quit` or the end of the lines. Gives the exit status.

    person: True at a keyboard, where a refusal asks again; a pipe stops at the first refusal or
    doubt with status 1, because what follows was written for another prompt.
    """
    shown = ""
    last, lines = Reply("taken"), iter(lines)
    for words in filter(None, (sitting.busy, first_words(sitting))):
        say("\n".join(textwrap.wrap(words, WIDTH)))
    shown = _show(sitting, say, shown)
    for line in lines:
        asked = sitting.prompt
        last = _answered(sitting, line.rstrip("\r\n"))
        _tell(last, say)
        if last.kind == "taken" and not last.says and not line.startswith("/"):
            _say(taken_words(line, asked), say)
        if last.kind == "model":
            end = _model(sitting, lines, say, person)
            if end in ("quit", "refused"):
                _end(sitting, say)
                return int(end == "refused")
            shown = ""
        if last.kind == "quit":
            return 0
        if last.stops_burst and not person:
            say("The lines that follow were set aside.")
            return 1
        if last.kind != "told":
            shown = _show(sitting, say, shown)
        else:
            _question(sitting, say)
    _end(sitting, say)
    sitting.shown = None
    return 0


def _model(sitting: Sitting, lines: Iterator[str], say: Say, person: bool) -> str:
    """The model takes the lines until it is left; nothing of it touches the survey."""
    from wizard.sitting.model_desk import ModelDesk
    from wizard.sitting.model_plain import run_model

    step = sitting.step.id if sitting.step else ""
    try:
        return run_model(
            ModelDesk(sitting.library, sitting.survey, step), lines, say, person=person
        )
    except OSError:  # nobody hears us any more
        raise
    except Exception as error:
        _say(_went_wrong(sitting, error), say)
        return "left" if person else "refused"


def _answered(sitting: Sitting, line: str) -> Reply:
    """What the sitting says to a line; a fault of the program is told as a refusal, and what was
    answered is kept.
    """
    try:
        return handle(sitting, line)
    except Exception as error:
        return Reply("refused", _went_wrong(sitting, error))


def _went_wrong(sitting: Sitting, error: Exception) -> str:
    return mishap(error, sitting.folder, sitting.path if sitting.kept else None)


def _end(sitting: Sitting, say: Say) -> None:
    """The lines are through: whether the survey is, and how its file stands."""
    end = ending(sitting)
    if sitting.ask is not None and end.saved and not end.trouble and sitting.path:
        say(f"Stopped before the end; everything is saved in {clean_line(sitting.path.name, 80)}.")
    elif sitting.ask is not None:
        _say(f"Stopped before the end. {end.says}", say)
    elif end.trouble:
        _say(end.says, say)


def _tell(reply: Reply, say: Say) -> None:
    if reply.title:
        say(f"\n{reply.title}")
    if reply.says:
        say(reply.says if reply.title else "\n".join(textwrap.wrap(reply.says, WIDTH)))


def _show(sitting: Sitting, say: Say, shown: str) -> str:
    """The prompt in front, or at least its question where the rest cannot be told.

    Gives the step shown.
    """
    try:
        return _shown(sitting, say, shown)
    except OSError:  # nobody hears us any more
        raise
    except Exception as error:
        _say(_went_wrong(sitting, error), say)
        _say(sitting.prompt.ask if sitting.prompt else "/quit ends.", say)
        return ""


def _shown(sitting: Sitting, say: Say, shown: str) -> str:
    """The prompt in front; the step's own text only when the step is new. Gives the step shown."""
    if sitting.ask is None:
        _tell(handle(sitting, "/verdict"), say)
        if sitting.earlier:
            _tell(handle(sitting, "/change"), say)
        return ""
    page = page_of(sitting)
    assert page is not None
    step = sitting.ask.prompt.step
    if page.caution:
        _caution(page.caution, page, say)
        step = ""  # its moves are still to be shown
    elif step != shown:
        _head(page, say)
        _written(page, say)
        if sitting.step and sitting.step.drawing not in ("look", "none") and frame_words(sitting):
            say("/drawing says in words what is drawn.")
    for line in page.live if any(row.values for row in page.rows) else ():
        _say(line, say)
    for line in recalled(sitting):
        _say(line, say)
    for line in page.choices:
        say(f"    {line}")
    say(_asked(page))
    sitting.saw(page.caution.id if page.caution else "")
    return step


def _asked(page: PageView) -> str:
    return f"{page.label} {page.nth}".rstrip() + f"  [{page.hint}]"


def _question(sitting: Sitting, say: Say) -> None:
    """The question once more, behind a text that was asked for: nobody should have to scroll back
    for it.
    """
    page = page_of(sitting)
    if page is None:
        return
    if (
        page.caution and page.caution.id != sitting.shown
    ):  # it came up while something else was read
        _show(sitting, say, "")
    else:
        say(_asked(page))


def _caution(caution: Caution, page: PageView, say: Say) -> None:
    """A caution and nothing of the page behind it but its name."""
    say(f"\nBefore the page: {page.title}  {page.trail}")
    if caution.big:
        say("\n".join(["", *(row.rstrip() for row in big(caution.big))]))
    say("\n".join([f"\nCaution: {caution.title}", *caution.lines]))
    for source in caution.sources:
        _say(f"Source: {source}", say)


def _say(text: str, say: Say) -> None:
    if text:
        say("\n".join(textwrap.wrap(text, WIDTH)))


def _written(page: PageView, say: Say) -> None:
    """What was read at this step before, when one comes back to it."""
    for row in page.rows:
        if row.values:
            _say(f"Written down: {row.label}: {row.values}", say)


def _head(page: PageView, say: Say) -> None:
    say(f"\n== {page.title} ==  {page.trail}")
    say("\n".join(textwrap.wrap(page.why, WIDTH)))
    for n, line in enumerate(page.how, start=1):
        say(
            "\n".join(
                textwrap.wrap(line, WIDTH, initial_indent=f"  {n}. ", subsequent_indent="     ")
            )
        )
    say("\n".join(textwrap.wrap(f"Good is: {page.good}", WIDTH)))
