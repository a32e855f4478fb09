"""A re-check typed line by line with last time's own answers and readings, through the guide, to
its end.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from unittest import mock

from tests.checks.surveys import library
from tests.judgment.remeasured import DAY
from tests.places import entry
from wizard.library.shapes import SEEN
from wizard.sitting.commands import handle
from wizard.sitting.recheck import start
from wizard.sitting.sitting import Sitting
from wizard.survey.file import save
from wizard.survey.prompts import Prompt
from wizard.survey.record import Survey

SAID = {
    "since-last-time/tools": "s",
    "since-last-time/marks": "a",
    "since-last-time/corrected": "n",
}


def begun(old: Survey, folder: Path) -> Sitting:
    """A sitting before the first prompt of a re-check of `old`."""
    save(folder / f"{old.id}.toml", old)
    return Sitting(
        library(), path=start(folder / f"{old.id}.toml", library(), DAY), now=lambda: DAY
    )


def typed(old: Survey, prompt: Prompt, nth: int) -> str:
    """What was answered last time, as it would be typed now."""
    if prompt.kind.acknowledges:
        return "understood"
    if prompt.kind.looks:
        return _looked(old, prompt)
    if prompt.kind.measures:
        rows = old.readings_of(prompt.id)
        return f"{rows[min(nth, len(rows)) - 1].typed}!" if rows else "/skip not then either"
    if prompt.id in SAID:
        return SAID[prompt.id]
    kept = str(getattr(old.state(), prompt.keep.removeprefix("state."), ""))
    said = kept or {"survey.unit": old.unit}.get(prompt.keep, "") or old.answer_to(prompt.id)
    if prompt.kind.tells:
        return said or ("-" if prompt.optional else "a few words")
    return next((c.letter for c in prompt.choices if c.token == said), prompt.choices[0].letter)


def _looked(old: Survey, prompt: Prompt) -> str:
    looks = old.looks_at(prompt.id)
    letter = {word: letter for letter, word in SEEN.items()}[looks[0].seen if looks else "bare"]
    answer = looks[0].answer if looks else "nothing-found"
    return f"{letter} {next((c.letter for c in prompt.choices if c.token == answer), '')}".strip()


def _place(sitting: Sitting, moved: Mapping[str, str]) -> str:
    """The entry for the place in front; empty where none is."""
    prompt, old = sitting.prompt, sitting.earlier
    if prompt is None or old is None or not prompt.kind.gathers:
        return ""
    looks = {str(part.look.id): part.look for part in prompt.parts}
    said = {id: moved.get(id) or _looked(old, look) for id, look in looks.items()}
    return entry(sitting.survey, prompt, said.__getitem__)


def line_of(sitting: Sitting, moved: Mapping[str, str]) -> str:
    """The line for the prompt in front: what moved there, or what was answered last time."""
    ask, old = sitting.ask, sitting.earlier
    assert ask is not None
    assert old is not None
    own = moved.get(ask.prompt.id) or _place(sitting, moved)
    return own or typed(old, ask.prompt, ask.nth)


def walked(sitting: Sitting, moved: Mapping[str, str] | None = None) -> list[str]:
    """Answers to the end, `moved` at the prompts it names; gives the ids of the prompts met, once
    each.
    """
    met: dict[str, None] = {}
    while sitting.ask is not None:
        prompt = sitting.ask.prompt
        met[prompt.id] = None
        with mock.patch("os.fsync"):
            reply = handle(sitting, line_of(sitting, moved or {}))
        assert reply.kind in ("taken", "ended"), (prompt.id, reply)
    return list(met)
