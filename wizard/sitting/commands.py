"""The words that begin with `/`: the same in every face; function keys are shortcuts to them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from wizard.library.shapes import Caution, Step
from wizard.readings.plain import clean_line
from wizard.sitting.drawing import drawing
from wizard.sitting.ending import ending
from wizard.sitting.going_on import also, back, end, go, is_open, on, skip, trail, whole
from wizard.sitting.marks import car, photo, point, remark
from wizard.sitting.mentor import guess, mentor, opinion, show
from wizard.sitting.outcome import came_to, placed, unclean, warned, with_more
from wizard.sitting.own import add, set_limit, set_size, set_tool
from wizard.sitting.paging import kept_then, readings, same, too_late
from wizard.sitting.papers import report
from wizard.sitting.reply import Reply
from wizard.sitting.second import UNTIL, WAITS, kept_in_step, read_line, second
from wizard.sitting.sitting import Sitting
from wizard.sitting.taking_back import again, full, more, strike, struck, undo
from wizard.survey.guide import layout_of
from wizard.telling.asking import (
    caution_spoils,
    caution_why,
    help_text,
    kinds_text,
    look_text,
    spoils_text,
    why_text,
)
from wizard.telling.glossary import words_text
from wizard.telling.tell import ON, verdict_page, with_verdict


@dataclass(frozen=True, slots=True)
class Command:
    """One word after the slash."""

    word: str
    does: str
    """What it does, for the list of commands."""
    run: Callable[[Sitting, str], Reply]


def handle(sitting: Sitting, text: str) -> Reply:
    """One line from a face: a command when it begins with `/`, else an answer."""
    asked, stop, before = sitting.prompt, sitting.page(), sitting.survey
    commanded = sitting.striking is not None or text.lstrip().startswith(("/", MORE))
    reply = _handle(sitting, text)
    kept_in_step(sitting)
    answered = reply.kind in ("taken", "ended") and not commanded
    if answered:
        reply = placed(sitting, asked, before, kept_then(sitting, asked, text, reply))
        reply = unclean(sitting, asked, before, warned(sitting, asked, reply))
        reply = came_to(sitting, asked, stop, reply)
    if sitting.news:
        reply = replace(reply, says=f"{sitting.news} {reply.says}".strip())
        sitting.news = ""
    if answered:
        reply = with_more(sitting, asked, reply, ";" in text)
    return (_seal(sitting) or reply) if reply.kind == "ended" else reply


def _seal(sitting: Sitting) -> Reply | None:
    """Keep the verdict as it is shown now; a Reply only when it could not be saved."""
    if not sitting.survey.id:
        return None
    sealed = with_verdict(sitting.survey, sitting.library, sitting.at, sitting.by, sitting.earlier)
    return None if sealed is sitting.survey else sitting.change(sealed)


def _handle(sitting: Sitting, text: str) -> Reply:
    line = text.strip()
    striking, sitting.striking = sitting.striking, None
    if striking and not line:
        return struck(sitting, *striking)
    if line == MORE:
        return _commanded(sitting, ALSO[MORE], "")
    if not line.startswith("/"):
        return _answered(sitting, text)
    word, _, rest = line[1:].partition(" ")
    return _commanded(sitting, word, rest)


def _answered(sitting: Sitting, text: str) -> Reply:
    """An answer; what is none, but a word that means something with a slash, is taken for that."""
    word, _, rest = text.strip().lower().partition(" ")
    word = ALSO.get(word, word)
    bare = word in WITHOUT_SLASH and (not rest or WITHOUT_SLASH[word])
    if bare and sitting.ask is None:
        return _commanded(sitting, word, rest)
    reply = _entered(sitting, text)
    return _commanded(sitting, word, rest) if bare and reply.kind == "refused" else reply


def _commanded(sitting: Sitting, word: str, rest: str) -> Reply:
    command = next((c for c in COMMANDS if c.word == word.lower()), None)
    if command is None:
        return Reply(
            "refused",
            f"There is no /{clean_line(word, 20)[:20]}. Type /help to see every word that there is.",
        )
    if (
        sitting.aside.second
        and command.word in WAITS
        and (command.word, rest.strip()) != ("mentor", "off")
    ):
        return Reply("refused", UNTIL)
    return command.run(sitting, clean_line(rest, 2000))


def _entered(sitting: Sitting, text: str) -> Reply:
    """An answer; at the end a letter opens a part of what lies behind the answer."""
    if sitting.aside.second:
        return read_line(sitting, text)
    if text.strip().lower() == ON[0] and _may_go_on(sitting):
        return whole(sitting, "")
    part = _opened(sitting, text) if sitting.ask is None and len(text.strip()) == 1 else None
    if part is not None and part.kind != "refused":
        return part
    return too_late(sitting, text) or sitting.enter(text)


def _may_go_on(sitting: Sitting) -> bool:
    from wizard.sitting.verdict import may_go_on  # most lines are no letter of an answer

    return may_go_on(sitting)


def _opened(sitting: Sitting, letter: str) -> Reply:
    from wizard.sitting.verdict import opened  # only once an answer is asked for

    return opened(sitting, letter)


# What is told, and what is noted ------------------------------------------------------------------


def _why(sitting: Sitting, rest: str) -> Reply:
    if sitting.step is None:
        return end()
    if rest:
        return _why_look(sitting, rest.strip().lower())
    if sitting.prompt and sitting.prompt.keep == "survey.layout":
        return Reply(
            "told", kinds_text(sitting.library), "The kinds of frame, from above, front to the left"
        )
    if caution := _caution(sitting):
        return Reply("told", caution_why(caution, sitting.step), "Why this caution")
    return Reply("told", why_text(_said(sitting, sitting.step)), "Why this matters", shows="why")


def _why_look(sitting: Sitting, letter: str) -> Reply:
    """All that the page of one look of a place says."""
    stop = sitting.page()
    place = stop.place if stop else None
    part = next((p for p in place.parts if p.letter == letter), None) if place else None
    if part is None:
        if place:
            return Reply(
                "refused", "That is not in the list. Type one of its letters, like /why s."
            )
        return Reply("refused", "This page has no list. Type /why alone to see why it matters.")
    step = sitting.steps[part.look.step]
    return Reply("told", look_text(step), f"{step.title}: {part.name}")


def _said(sitting: Sitting, step: Step) -> Step:
    """A page in the words for this kind of frame."""
    return step.on(layout_of(sitting.survey, sitting.library))


def _caution(sitting: Sitting) -> Caution | None:
    """The caution that is in front; None at any other prompt."""
    return sitting.library.cautions.get(sitting.prompt.caution) if sitting.prompt else None


def _spoils(sitting: Sitting, _: str) -> Reply:
    if sitting.step and (caution := _caution(sitting)):
        return Reply("told", caution_spoils(caution, sitting.step), "What spoils it")
    if sitting.step is None:
        return end()
    return Reply("told", spoils_text(_said(sitting, sitting.step)), "What spoils it")


def _words(sitting: Sitting, rest: str) -> Reply:
    page = (
        "" if sitting.step or rest else verdict_page(sitting.survey, sitting.library, sitting.now())
    )
    step = _said(sitting, sitting.step) if sitting.step else None
    layout = layout_of(sitting.survey, sitting.library)
    text = words_text(sitting.library, layout, step, rest, page)
    return Reply("told", text, "What the words mean")


def _change(sitting: Sitting, _: str) -> Reply:
    if sitting.earlier is None:
        name = clean_line(sitting.survey.follows, 60)
        why = (
            f"This survey follows {name}, which is not in this folder"
            if name
            else "This is the first survey of this car"
        )
        return Reply("refused", f"{why}, so there is nothing to compare it with.")
    from wizard.sitting.comparing import since_last  # numpy only once there is something to compute

    return since_last(sitting.earlier, sitting.survey, sitting.library)


def _sister(sitting: Sitting, rest: str) -> Reply:
    from wizard.sitting.comparing import sister  # numpy only once there is something to compute

    return sister(sitting, rest)


def _copy(sitting: Sitting, _: str) -> Reply:
    """Go on in a new file, beside the one that is open elsewhere or was changed; the old one stays
    as it is.
    """
    nothing = Reply("refused", "You wrote nothing down yet, so there is nothing to copy.")
    old = sitting.path
    failed = sitting.go_on_in_copy() if old else nothing
    if failed or old is None or sitting.path is None:
        return failed or nothing
    says = f"You go on in {sitting.path.name}. {clean_line(old.name, 80)} stays as it is."
    return Reply("taken", says)


def _model(sitting: Sitting, _: str) -> Reply:
    """The face brings the model and takes its lines until it is left."""
    return Reply("model")


def _help(sitting: Sitting, _: str) -> Reply:
    groups = [(title, [(c.word, c.does) for c in commands]) for title, commands in GROUPS]
    return Reply("told", help_text(groups), "What you can type")


def _quit(sitting: Sitting, _: str) -> Reply:
    end = ending(sitting)
    more = " Start Crosstape again to go on." if sitting.kept else ""
    return Reply("quit", f"{end.says}{more}")


MORE = "+"
"""Takes what was left out as not needed; it is no answer to anything."""
ALSO = {MORE: "more", "?": "help", "exit": "quit", "stop": "quit", "q": "quit", "list": "trail"}
"""Other words for a command, where it is typed without its slash."""
WITHOUT_SLASH = {
    **dict.fromkeys(("help", "why", "spoils", "words", "back", "next", "undo"), False),
    **dict.fromkeys(("readings", "trail", "verdict", "quit"), False),
    **dict.fromkeys(("skip", "go", "remark", "photo"), True),
}
"""Commands that are taken without a slash where they are no answer, and whether words follow."""

GROUPS = (
    (
        "At a question",
        (
            Command("why", "says why this page matters; at a place /why s for one look", _why),
            Command(
                "spoils", "says what spoils a reading and how to know that it is good", _spoils
            ),
            Command("words", "explains the words of this page; /words sag explains one", _words),
            Command("skip", "leaves a question out: type why; /skip page and why for all", skip),
            Command(
                "same", "keeps the rest of this page as last time; /same all b every look", same
            ),
            Command("back", "goes back to the question before", back),
            Command("next", "goes on to the next open question", on),
            Command("again", "asks once more for each measurement that is in doubt", again),
            Command("trail", "shows every page: done, skipped or still to do", trail),
            Command("open", "says what is known, what is open and what would settle it", is_open),
            Command("go", "goes to another page by its number or name, like /go level", go),
            Command("whole", "goes on from the short survey to the whole one", whole),
            Command("also", "lists what more can be asked; /also and a name asks for it", also),
            Command("more", "or + takes the readings that were left out as not needed", more),
            Command("all", "asks for every reading from here on, needed or not", full),
        ),
    ),
    (
        "What you wrote down",
        (
            Command(
                "readings", "shows all that you wrote down and marks what cannot be used", readings
            ),
            Command("strike", "takes out the last reading here: it says which and asks", strike),
            Command("undo", "takes back the last thing that you wrote down", undo),
            Command("remark", "notes a few words, like /remark left rivet is worn oval", remark),
            Command(
                "photo", "notes a photo's number: /photo 112; alone it lists what to take", photo
            ),
            Command("point", "says how a point is marked: /point front-left punch dot", point),
            Command("car", "notes the number on the frame, other marks, the place", car),
        ),
    ),
    (
        "The answer",
        (
            Command(
                "verdict", "shows the answer; /verdict w says why, /verdict a shows all", _opened
            ),
            Command("change", "shows what has changed since the last survey", _change),
            Command("sister", "compares with a sister frame: /sister larch-2026-03-02", _sister),
            Command(
                "report", "writes the report: /report, /report md, brief, photos FOLDER", report
            ),
            Command("drawing", "says in words what is drawn", drawing),
        ),
    ),
    (
        "Figures and places of your own",
        (
            Command("add", "adds a place: /add tape cowl bracket, hole, 31 1/2", add),
            Command("tool", "sets a figure of your tool, like /tool tape class I", set_tool),
            Command("size", "sets a size of this frame, like /size rail_depth 4 in", set_size),
            Command("limit", "sets a limit: /limit twist watch 3 mm shop manual", set_limit),
        ),
    ),
    (
        "For a mentor",
        (
            Command("mentor", "shows readings, doubts and limits; /mentor off stops that", mentor),
            Command("guess", "writes down what you expect, before the result shows", guess),
            Command("show", "shows the result without a guess", show),
            Command("second", "lets a second reader read this blind; /second page: all", second),
            Command("opinion", "signs your opinion, like /opinion A. Mentor: leave it", opinion),
            Command("model", "opens a model frame that you can bend", _model),
        ),
    ),
    (
        "The program",
        (
            Command("copy", "goes on in a new file and leaves the old one as it is", _copy),
            Command("help", "shows this list", _help),
            Command("quit", "stops; all is saved, and you go on another day", _quit),
        ),
    ),
)
"""Every command, in the order of the list that `/help` shows."""
COMMANDS = tuple(command for _, commands in GROUPS for command in commands)
