"""The words that begin with `/`: the same in every face; function keys are shortcuts to them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import datetime

from wizard.readings.plain import clean_line
from wizard.sitting.copying import copy
from wizard.sitting.papers import report
from wizard.sitting.reply import Reply
from wizard.sitting.setting import set_limit, set_size, set_tool
from wizard.sitting.sitting import Sitting
from wizard.survey.answer import FIXED
from wizard.survey.guide import LENGTH_PROMPT, wanting
from wizard.survey.prompts import Prompt
from wizard.survey.record import Survey, number_of
from wizard.survey.rows import Answer, Look, OwnLimit, Reading, Remark, Row, Size, Skip
from wizard.survey.state import settle, without_tool
from wizard.telling.asking import help_text, spoils_text, trail_text, why_text, words_text
from wizard.telling.closing import verdict_page, with_verdict
from wizard.telling.then_words import then_and_now


@dataclass(frozen=True, slots=True)
class Command:
    """One word after the slash."""

    word: str
    does: str
    """What it does, for the list of commands."""
    run: Callable[[Sitting, str], Reply]


def handle(sitting: Sitting, text: str) -> Reply:
    """One line from a face: a command when it begins with `/`, else an answer."""
    asked = sitting.prompt
    reply = _handle(sitting, text)
    if sitting.news:
        reply = replace(reply, says=f"{sitting.news} {reply.says}".strip())
        sitting.news = ""
    if sitting.earlier and reply.kind in ("taken", "ended") and not text.startswith("/"):
        reply = _beside(sitting, asked, reply)
    return (_seal(sitting) or reply) if reply.kind == "ended" else reply


def _beside(sitting: Sitting, asked: Prompt | None, reply: Reply) -> Reply:
    """The reply with the reading of last time, now that today's is in."""
    old = then_and_now(sitting.survey, sitting.earlier, asked) if asked else ""
    return replace(reply, says=f"{old} {reply.says}".strip()) if old else reply


def _seal(sitting: Sitting) -> Reply | None:
    """Keep the verdict as it is shown now; a Reply only when it could not be saved."""
    if not sitting.survey.id:
        return None
    sealed = with_verdict(sitting.survey, sitting.library, _at(sitting), _by(sitting))
    return None if sealed is sitting.survey else sitting.change(sealed)


def _handle(sitting: Sitting, text: str) -> Reply:
    line = text.strip()
    if not line.startswith("/"):
        return sitting.enter(text)
    word, _, rest = line[1:].partition(" ")
    command = next((c for c in COMMANDS if c.word == word.lower()), None)
    if command is None:
        return Reply("refused", f"There is no /{clean_line(word, 20)[:20]}; /help lists the words that there are.")
    return command.run(sitting, clean_line(rest, 2000))


def _why(sitting: Sitting, _: str) -> Reply:
    return Reply("told", why_text(sitting.step), "Why this matters") if sitting.step else _end()


def _spoils(sitting: Sitting, _: str) -> Reply:
    return Reply("told", spoils_text(sitting.step), "What spoils it") if sitting.step else _end()


def _words(sitting: Sitting, rest: str) -> Reply:
    return Reply("told", words_text(sitting.library, sitting.step, rest), "What the words mean")


def _end() -> Reply:
    return Reply("ended", "Every question is answered. /verdict shows the result, /back goes back, /quit ends.")


def _skip(sitting: Sitting, why: str) -> Reply:
    """Pass over the prompt, or with `step` before the reason the rest of the step."""
    if sitting.ask is None:
        return _end()
    if sitting.ask.prompt.kind == "ack":
        return Reply("refused", "A caution is not skipped; /skip the step after it, or /go to another step.")
    first, _, rest = why.partition(" ")
    whole = first.lower() == "step"
    why = rest if whole else why
    if not why:
        return Reply("refused", "Say why in a few words, like /skip tank in the way, or /skip step no level to hand.")
    survey, page = sitting.survey, sitting.page()
    prompts = [sitting.ask.prompt]
    if whole and page:
        prompts = [p for p in page.prompts if p.kind != "ack" and wanting(survey, p)]
    for prompt in prompts:
        row = Skip(id=survey.new_id(Skip), at=_at(sitting), by=_by(sitting), prompt=prompt.id, why=why[:500])
        survey = survey.with_row(row)
    failed = sitting.change(survey)
    if failed:
        return failed
    sitting.forward()
    return Reply("taken" if sitting.ask else "ended", f"Skipped: {why[:200]}")


def _back(sitting: Sitting, _: str) -> Reply:
    if sitting.back():
        return Reply("taken", "Back. Type to add a reading here, /strike takes the last one out, /next goes on.")
    return Reply("refused", "This is the first question.")


def _next(sitting: Sitting, _: str) -> Reply:
    before = sitting.ask
    sitting.forward()
    if before is not None and sitting.ask == before:
        return Reply("refused", "This is the only question left; answer it or /skip it with a reason.")
    return Reply("taken") if sitting.ask else _end()


def _strike(sitting: Sitting, why: str) -> Reply:
    """Take out the last standing answer to the prompt in front, or of the one answered last."""
    rows = _rows_of(sitting.survey, sitting.ask.prompt.id) if sitting.ask else []
    if not rows:
        return _take_back(sitting, why or "struck", "Struck")
    return _take_out(sitting, rows[-1], why or "struck", "Struck")


def _rows_of(survey: Survey, prompt: str) -> list[Row]:
    kinds: tuple[type[Reading] | type[Look] | type[Answer] | type[Skip], ...] = (Reading, Look, Answer, Skip)
    rows = [r for kind in kinds for r in survey.standing(kind) if r.prompt == prompt]
    return sorted(rows, key=lambda r: number_of(r.id))


def _undo(sitting: Sitting, _: str) -> Reply:
    return _take_back(sitting, "undone", "Undone")


def _take_back(sitting: Sitting, why: str, says: str) -> Reply:
    survey = sitting.survey
    kinds: tuple[type[Row], ...] = (Reading, Look, Answer, Skip, Remark, Size, OwnLimit)
    rows = [r for kind in kinds for r in survey.standing(kind)]
    if not rows:
        return Reply("refused", "There is nothing to take out yet.")
    return _take_out(sitting, max(rows, key=lambda r: number_of(r.id)), why, says)


def _take_out(sitting: Sitting, row: Row, why: str, says: str) -> Reply:
    """Strike a row and what hangs on it, and stand before its prompt again."""
    survey = _without(sitting, row, why[:200])
    if any(survey.table(Reading) and f(survey) != f(sitting.survey) for f in FIXED.values()):
        return Reply("refused", "Readings are written down already, so this stays as it was answered.")
    failed = sitting.change(survey)
    if failed:
        return failed
    prompt = str(getattr(row, "prompt", ""))
    sitting.stand_before(prompt)
    what = getattr(row, "typed", "") or getattr(row, "answer", "") or getattr(row, "why", "") or row.id
    return Reply("taken", f"{says}: {what}. It stays in the file as struck out.")


def _without(sitting: Sitting, row: Row, why: str) -> Survey:
    """The survey with the row struck out, and with what the row had brought about taken back."""
    survey, at, by = sitting.survey.with_struck(row.id, why), _at(sitting), _by(sitting)
    if isinstance(row, Look):  # one line may have set down several things seen: they are taken back together
        for look in survey.looks_at(row.prompt):
            survey = survey.with_struck(look.id, why) if look.at == row.at else survey
    if isinstance(row, Answer) and row.keeps.startswith("tool."):
        return without_tool(survey, row, sitting.library.tools, why, at, by)
    if isinstance(row, Answer) and row.keeps:
        return settle(survey, row.keeps, at, by)
    return survey


def _photo(sitting: Sitting, number: str) -> Reply:
    return _remark(sitting, "", number) if number else Reply("refused", "Say the photo's number, like /photo 112.")


def _remark(sitting: Sitting, text: str, photo: str = "") -> Reply:
    if not text and not photo:
        return Reply("refused", "Say a few words, like /remark left rivet is worn oval.")
    survey, prompt = sitting.survey, sitting.ask.prompt.id if sitting.ask else ""
    row = Remark(
        id=survey.new_id(Remark), at=_at(sitting), by=_by(sitting), prompt=prompt, text=text[:500], photo=photo[:60]
    )
    return sitting.change(survey.with_row(row)) or Reply("told", f"Noted: {text[:200] or 'photo ' + photo[:60]}")


def _go(sitting: Sitting, step: str) -> Reply:
    step = step.strip().lower()
    if not step:
        return _trail(sitting, "")
    ids = [p.step.id for p in sitting.pages()]
    if step.isdecimal() and 1 <= int(step) <= len(ids):
        step = ids[int(step) - 1]
    if sitting.go(step):
        return Reply("taken")
    gone = next((p.gone for p in sitting.pages() if p.step.id == step), "")
    return Reply("refused", gone or "There is no such step; /trail lists them by number and name.")


def _trail(sitting: Sitting, _: str) -> Reply:
    return Reply("told", trail_text(sitting.survey, sitting.pages(), sitting.step, sitting.now()), "Where you are")


def _whole(sitting: Sitting, _: str) -> Reply:
    """From the short survey to the whole one."""
    survey = sitting.survey
    row = Answer(id=survey.new_id(Answer), at=_at(sitting), by=_by(sitting), prompt=LENGTH_PROMPT, answer="whole")
    failed = sitting.change(survey.with_row(row))
    if failed:
        return failed
    sitting.ask = None
    sitting.forward()
    return Reply("taken", "On with the whole survey; what you did already is kept.")


def _verdict(sitting: Sitting, _: str) -> Reply:
    return Reply("told", verdict_page(sitting.survey, sitting.library, sitting.now()), "The verdict")


def _change(sitting: Sitting, _: str) -> Reply:
    if sitting.earlier is None:
        name = clean_line(sitting.survey.follows, 60)
        why = f"{name}, which this survey follows, is not in this folder" if name else "This survey follows none"
        return Reply("refused", f"{why}, so there is nothing to compare with.")
    from wizard.judgement.change import compare
    from wizard.telling.change_words import compare_text

    found = compare(sitting.earlier, sitting.survey, sitting.library)
    return Reply("told", compare_text(found, sitting.library), "Since last time")


def _model(sitting: Sitting, _: str) -> Reply:
    """The face brings the model and takes its lines until it is left."""
    return Reply("model")


def _help(sitting: Sitting, _: str) -> Reply:
    return Reply("told", help_text([(c.word, c.does) for c in COMMANDS]), "Words you can type")


def _quit(sitting: Sitting, _: str) -> Reply:
    name = sitting.path.name if sitting.path else ""
    return Reply("quit", f"Saved in {name}." if name else "Nothing was written down yet.")


def _at(sitting: Sitting) -> datetime:
    return sitting.now().replace(microsecond=0)


def _by(sitting: Sitting) -> str:
    return sitting.survey.answer_to("about-the-car/by") or "owner"


COMMANDS = (
    Command("why", "why this matters", _why),
    Command("spoils", "what spoils the reading, and how to know it is good", _spoils),
    Command("words", "what the words mean; /words sag for one word", _words),
    Command("skip", "pass over, with a reason; /skip step REASON for the whole step", _skip),
    Command("back", "to the question before", _back),
    Command("next", "on to the next open question", _next),
    Command("strike", "take the last reading here out and ask again", _strike),
    Command("undo", "take back the last thing that was written down", _undo),
    Command("photo", "note a photo's number here, like /photo 112", _photo),
    Command("remark", "note a few words here", _remark),
    Command("tool", "a figure of your tool, like /tool tape class I", set_tool),
    Command("size", "a size of this frame, like /size rail_depth 4 in", set_size),
    Command("limit", "a limit of your own, like /limit twist watch 3 mm shop manual", set_limit),
    Command("trail", "where you are, what is done, skipped and to do", _trail),
    Command("go", "to another step by its number or name, like /go level", _go),
    Command("whole", "from the short survey to the whole one", _whole),
    Command("verdict", "the result as far as it can be told", _verdict),
    Command("change", "what has changed since the survey that this one follows", _change),
    Command("report", "write the report beside the survey; /report md, txt or csv for another kind", report),
    Command("model", "a model frame to bend, on this step's fault", _model),
    Command("copy", "go on in a new file; the one that was open stays as it is", copy),
    Command("help", "this list", _help),
    Command("quit", "stop; everything is saved and you go on another day", _quit),
)
