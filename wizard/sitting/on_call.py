"""`/also`: the pages that nobody is asked for until he, a sign or a state calls for them."""

from __future__ import annotations

from wizard.library.shapes import CALLED, Also
from wizard.sitting.reply import Reply
from wizard.sitting.sitting import Sitting
from wizard.survey.guide import called_for
from wizard.survey.rows import Answer
from wizard.telling.also_words import also_of, also_text


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
    if called_for(sitting.survey, meant.call):
        return Reply("refused", f"You are asked for {meant.name} already: /go and its page.")
    survey = sitting.survey
    id, prompt = survey.new_id(Answer), meant.call.prompt
    row = Answer(id=id, at=sitting.at, by=sitting.by, prompt=prompt, answer=CALLED)
    failed = sitting.change(survey.with_row(row))
    if failed:
        return failed
    if sitting.target is None:
        sitting.go_on(None)
    return Reply("taken", f"You will be asked for {meant.name} as its turn comes. /undo leaves it.")


def _meant(sitting: Sitting, said: str) -> Also | None:
    """What goes by that id or name, or the one that begins so."""
    there = {t: a for a in also_of(sitting.survey, sitting.library) for t in (a.id, a.name)}
    begun = {a.id: a for typed, a in there.items() if typed.lower().startswith(said)}
    found = [there[said]] if said in there else list(begun.values())
    return found[0] if len(found) == 1 else None
