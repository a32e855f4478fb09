"""The model by plain prompts, line by line: for a screen reader, a dumb terminal, a pipe."""

from __future__ import annotations

import textwrap
from collections.abc import Callable, Iterable

from wizard.sitting.model_desk import ModelDesk
from wizard.sitting.model_words import LEFT
from wizard.sitting.reply import Reply
from wizard.telling.game_words import asked_lines, possible_words
from wizard.telling.model_page import heard_text

WIDTH = 76
Say = Callable[[str], None]


def run_model(desk: ModelDesk, lines: Iterable[str], say: Say, *, person: bool) -> str:
    """Take lines until `back`, `quit` or their end. Gives left, quit, refused or ended.

    person: True at a keyboard, where a refusal asks again; a pipe stops at the first refusal.
    """
    say("\n== A model to bend ==  Type help for the words, back to go back.")
    _show(desk, say)
    for line in lines:
        reply = desk.handle(line.rstrip("\r\n"))
        if reply.kind in (LEFT, "quit"):
            return reply.kind
        _tell(reply, say)
        if reply.kind == "refused" and not person:
            say("The lines that follow were set aside.")
            return "refused"
        if reply.kind == "taken":
            _show(desk, say)
    return "ended"


def _tell(reply: Reply, say: Say) -> None:
    if reply.title:
        say(f"\n{reply.title}")
    for part in reply.says.splitlines():
        if reply.kind == "drawn":
            say(part)
            continue
        say("\n".join(textwrap.wrap(part, WIDTH)) if part else "")


def _show(desk: ModelDesk, say: Say) -> None:
    """What is bent, how far it would be drawn, and who sees it; in a game what was read instead."""
    if desk.game and not desk.game.won:
        for part in (*asked_lines(desk.game, desk.unit), possible_words(desk.game)):
            say("\n".join(textwrap.wrap(part, WIDTH)))
        return
    page = desk.page()
    say("\n".join(textwrap.wrap(f"{page.title}; {page.stands}.", WIDTH)))
    for part in page.bent:
        say(f"    {part}")
    if page.bent:
        for part in heard_text(page).splitlines():
            say("\n".join(textwrap.wrap(part, WIDTH)))
