"""The words that begin with `/`: the same in every face; function keys are shortcuts to them."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, replace

from wizard.library.places import NO_PROMPT, PromptId, StepId
from wizard.library.shapes import Caution, Step
from wizard.readings.plain import clean_line
from wizard.sitting.drawing import drawing
from wizard.sitting.ending import ending
from wizard.sitting.marks import point
from wizard.sitting.mentor import finished, guess, mentor, opinion, show
from wizard.sitting.own import add, set_limit, set_size, set_tool
from wizard.sitting.paging import readings, same
from wizard.sitting.papers import report
from wizard.sitting.reply import Reply
from wizard.sitting.second import UNTIL, WAITS, kept_in_step, read_line, second
from wizard.sitting.sitting import Sitting
from wizard.sitting.taking_back import again, strike, struck, undo
from wizard.survey.guide import LENGTH_PROMPT, Page, stop_of, wanting
from wizard.survey.prompts import Prompt
from wizard.survey.record import Survey
from wizard.survey.rows import Answer, Reading, Remark, Skip
from wizard.telling.asking import (
    caution_spoils,
    caution_why,
    help_text,
    kinds_text,
    look_text,
    said_back,
    spoils_text,
    trail_text,
    why_text,
)
from wizard.telling.evening_words import TITLE, open_blocks, open_text, rest_lines, rest_words
from wizard.telling.glossary import words_text
from wizard.telling.tell import ON, verdict_page, with_verdict
from wizard.telling.text import wrap
from wizard.telling.then_words import left_out_words, then_and_now


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
    commanded = sitting.striking is not None or text.lstrip().startswith("/")
    reply = _handle(sitting, text)
    kept_in_step(sitting)
    answered = reply.kind in ("taken", "ended") and not commanded
    if answered:
        reply = _finished(sitting, asked, stop, _placed(sitting, asked, before, reply))
    if sitting.news:
        reply = replace(reply, says=f"{sitting.news} {reply.says}".strip())
        sitting.news = ""
    if answered and ";" not in text and not sitting.aside.second:
        reply = _beside(sitting, asked, reply)
    return (_seal(sitting) or reply) if reply.kind == "ended" else reply


def _placed(sitting: Sitting, asked: Prompt | None, before: Survey, reply: Reply) -> Reply:
    """The reply with what one entry for a place has written down."""
    if asked is None or not asked.kind.gathers or sitting.survey is before:
        return reply
    return replace(reply, says=said_back(asked, before, sitting.survey))


def _finished(sitting: Sitting, asked: Prompt | None, stop: Page | None, reply: Reply) -> Reply:
    """The reply with what a page came to, once another is in front, and whether it is good to stop."""
    if asked is None or stop is None or asked.kind.acknowledges:
        return reply
    step, here = sitting.library.steps[asked.step], sitting.page()
    gone = sitting.step is not step
    if gone and (again := _again(sitting, asked, step)):
        return _and(replace(reply, kind="taken"), again)
    came_to = finished(sitting, step) if gone else ""
    if here is not None and here.step is stop.step and here.prompts[:1] == stop.prompts[:1]:
        return _and(reply, came_to)
    walk = sitting.walk()
    left = stop_of(walk, asked) or stop
    rest = rest_words(sitting.survey, sitting.library, walk, left, here)
    return _and(reply, came_to, passed(sitting, asked), "" if sitting.aside.second else rest)


def _and(reply: Reply, *more: str) -> Reply:
    """The reply with more behind what it says."""
    return replace(reply, says=" ".join(part for part in (reply.says, *more) if part))


def _again(sitting: Sitting, asked: Prompt, step: Step) -> str:
    """What of a finished page is asked for again, since it does not read as last time."""
    if sitting.earlier is None or not asked.kind.measures:
        return ""
    from wizard.sitting.recheck import read_again  # few surveys follow another

    return read_again(sitting, step)


def _beside(sitting: Sitting, asked: Prompt | None, reply: Reply) -> Reply:
    """The reply with the reading of last time, now that today's is in."""
    if sitting.earlier is None or asked is None:
        return reply
    old = then_and_now(sitting.survey, sitting.earlier, asked)
    return replace(reply, says=f"{old} {reply.says}".strip()) if old else reply


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
    return sitting.enter(text) if part is None or part.kind == "refused" else part


def _may_go_on(sitting: Sitting) -> bool:
    from wizard.sitting.verdict import may_go_on  # most lines are no letter of an answer

    return may_go_on(sitting)


def _opened(sitting: Sitting, letter: str) -> Reply:
    from wizard.sitting.verdict import opened  # only once an answer is asked for

    return opened(sitting, letter)


# Back, on, to a step, past one --------------------------------------------------------------------


def passed(sitting: Sitting, asked: Prompt) -> str:
    """The stops between that are not for this car as it stands: a number left out looks like a page
    missed.
    """
    walk, here = sitting.walk(), sitting.page()
    left = stop_of(walk, asked)
    if here is None or left is None or sitting.came_back:
        return ""
    between = walk[walk.index(left) + 1 : walk.index(here)]
    names = "; ".join(p.title for p in between if p.gone or not p.prompts)
    if not names:
        return ""
    why = " /trail (F6) says why." if any(p.gone for p in between) else ""
    return f"Left out for this car as it stands: {names}.{why}"


def end() -> Reply:
    return Reply(
        "ended",
        "Every question is answered. /verdict shows the answer, /back goes back, /quit stops.",
    )


def skip(sitting: Sitting, why: str) -> Reply:
    """Pass over the prompt, or with `step` before the reason the rest of the step."""
    if sitting.ask is None:
        return end()
    if sitting.ask.prompt.kind.acknowledges:
        return Reply(
            "refused",
            "You cannot skip a caution. Type /next to leave its page out, or /go and another page.",
        )
    whole, why = _whole_and_why(why)
    if not why:
        return Reply(
            "refused",
            "Say why in a few words, like /skip tank in the way, or /skip page no level to hand.",
        )
    asked, page = sitting.ask, sitting.page()
    prompts = _left_on(page, sitting.survey) if whole and page else _of(sitting, asked.prompt)
    failed = sitting.change(_with_skips(sitting, prompts, why[:500]))
    if failed:
        return failed
    sitting.go_on(asked)
    more = not whole and _still_on(page, sitting)
    rest = " To skip the rest of this page, type /skip page and why." if more else ""
    return Reply("taken" if sitting.ask else "ended", f"Skipped: {why[:200].rstrip('.')}.{rest}")


def _whole_and_why(said: str) -> tuple[bool, str]:
    """Whether the rest of the step is passed over, and the reason."""
    first, _, rest = said.partition(" ")
    return (True, rest) if first.lower() in WHOLE_PAGE else (False, said)


def _left_on(page: Page, survey: Survey) -> list[Prompt]:
    """What is still to be read or answered on a page."""
    return [p for p in page.wanted if wanting(survey, p)]


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


BACK = "You went back. Press Enter to keep this answer, or type another."
BACK_AT_READING = (
    "You went back. Press Enter to keep what is here, type a figure to add it, or type /strike to"
    " take the last one out."
)


def back(sitting: Sitting, _: str) -> Reply:
    if sitting.back():
        measures = sitting.prompt is not None and sitting.prompt.kind.measures
        return Reply("taken", BACK_AT_READING if measures else BACK)
    return Reply("refused", "This is the first question.")


def on(sitting: Sitting, _: str) -> Reply:
    before = sitting.target
    sitting.forward()
    if before is not None and sitting.target == before:
        return Reply("refused", "This is the only question left. Answer it, or type /skip and why.")
    return Reply("taken") if sitting.ask else end()


def go(sitting: Sitting, typed: str) -> Reply:
    name = re.sub(r"^(?:page|step) (?=\d)", "", typed.strip().lower()).rstrip(".")
    if not name:
        return trail(sitting, "")
    walk = sitting.walk()
    if name.isdecimal() and 1 <= int(name) <= len(walk):
        return _go_to(sitting, walk[int(name) - 1])
    step = _step_named(sitting, name)
    if sitting.go(step):
        return Reply("taken")
    named = _prompt_named(sitting, str(step))
    if named:
        sitting.stand_before(named)
        return Reply("taken")
    gone = next((p.gone for p in sitting.pages() if p.step.id == step), "")
    return Reply("refused", gone or "There is no such page. Type /trail to see them all.")


def _go_to(sitting: Sitting, stop: Page) -> Reply:
    if sitting.go_to(stop):
        return Reply("taken")
    return Reply("refused", stop.gone or "Nothing is asked there just now; /trail lists the pages.")


def _step_named(sitting: Sitting, name: str) -> StepId:
    """The id of the step of that title, or of the one title that begins so; the name itself where there
    is none.
    """
    titles = {p.step.title.lower(): p.step.id for p in (*sitting.pages(), *sitting.walk())}
    begun = [id for title, id in titles.items() if title.removeprefix("the ").startswith(name)]
    alone = begun[0] if len(begun) == 1 else StepId(name)
    return titles.get(name, titles.get(f"the {name}", alone))


def _prompt_named(sitting: Sitting, name: str) -> PromptId | None:
    """The first prompt of the course that asks in those words, or that has a reading of that number."""
    asked = [p.id for page in sitting.pages() for p in page.prompts if p.ask.lower() == name]
    read = [r.prompt for r in sitting.survey.standing(Reading) if r.id == name]
    return next(iter([*asked, *read]), None)


def trail(sitting: Sitting, _: str) -> Reply:
    survey, today, walk = sitting.survey, sitting.now(), sitting.walk()
    left_out = left_out_words(survey, sitting.library, today)
    text = "\n".join(
        [
            trail_text(survey, walk, sitting.page(), rest_lines(survey, sitting.library, walk)),
            *(wrap(left_out) if left_out else ()),
        ]
    )
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
    return Reply("told", why_text(sitting.step), "Why this matters", shows="why")


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
    step = sitting.library.steps[part.look.step]
    return Reply("told", look_text(step), f"{step.title}: {part.name}")


def _caution(sitting: Sitting) -> Caution | None:
    """The caution that is in front; None at any other prompt."""
    return sitting.library.cautions.get(sitting.prompt.caution) if sitting.prompt else None


def _spoils(sitting: Sitting, _: str) -> Reply:
    if sitting.step and (caution := _caution(sitting)):
        return Reply("told", caution_spoils(caution, sitting.step), "What spoils it")
    return Reply("told", spoils_text(sitting.step), "What spoils it") if sitting.step else end()


def _words(sitting: Sitting, rest: str) -> Reply:
    page = (
        "" if sitting.step or rest else verdict_page(sitting.survey, sitting.library, sitting.now())
    )
    return Reply(
        "told", words_text(sitting.library, sitting.step, rest, page), "What the words mean"
    )


def _photo(sitting: Sitting, said: str) -> Reply:
    """`/photo 112` at a question, `/photo 112 left front corner` for one that every record needs;
    alone it lists those.
    """
    from wizard.telling.photos import asked_by, needed_text, plain

    if not said:
        text = needed_text(sitting.survey, sitting.library)
        return Reply("told", text, "The photos that every record needs")
    shows, number = asked_by(said, sitting.library)
    return _remark(sitting, "", number or (plain(said) if shows else said), shows)


def _remark(sitting: Sitting, text: str, photo: str = "", shows: str = "") -> Reply:
    if not text and not photo:
        return Reply("refused", "Type a few words too, like /remark left rivet is worn oval.")
    survey, prompt = sitting.survey, sitting.ask.prompt.id if sitting.ask else NO_PROMPT
    row = Remark(
        id=survey.new_id(Remark),
        at=sitting.at,
        by=sitting.by,
        prompt=prompt,
        text=text[:500],
        photo=photo[:60],
        shows=shows,
    )
    at = f" (at “{sitting.step.title}”)" if sitting.step else ""
    if shows:
        at = f" ({sitting.library.paper.photos[shows].name})"
    return sitting.change(survey.with_row(row)) or Reply(
        "told", f"Noted: {text[:200] or 'photo ' + photo[:60]}{at}"
    )


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


WHOLE_PAGE = ("page", "step")
"""What people type for all that a page asks."""
ALSO = {"?": "help", "exit": "quit", "stop": "quit", "q": "quit", "list": "trail"}
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
            Command("same", "keeps the rest of this page as it was last time", same),
            Command("back", "goes back to the question before", back),
            Command("next", "goes on to the next open question", on),
            Command("again", "asks once more for each measurement that is in doubt", again),
            Command("trail", "shows every page: done, skipped or still to do", trail),
            Command("open", "says what is known, what is open and what would settle it", is_open),
            Command("go", "goes to another page by its number or name, like /go level", go),
            Command("whole", "goes on from the short survey to the whole one", whole),
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
            Command("remark", "notes a few words, like /remark left rivet is worn oval", _remark),
            Command(
                "photo", "notes a photo's number: /photo 112; alone it lists what to take", _photo
            ),
            Command("point", "says how a point is marked: /point front-left punch dot", point),
        ),
    ),
    (
        "The answer",
        (
            Command(
                "verdict", "shows the answer; /verdict w says why, /verdict a shows all", _opened
            ),
            Command("change", "shows what has changed since the last survey", _change),
            Command(
                "report", "writes the report beside the survey; /report md, csv, brief", report
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
