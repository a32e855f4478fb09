"""Everything that shows at one moment, as lines, for a width and a height. No terminal here."""

from __future__ import annotations

from wizard.frozen import Frozen
from wizard.screens.desk import Desk
from wizard.screens.key_line import key_lines
from wizard.screens.mode import Space, View
from wizard.screens.page import SIDE
from wizard.screens.paper import BLANK, Line, cells, fit, line, wrap
from wizard.screens.words import too_small
from wizard.telling.canvas import Charset

SMALLEST = (60, 20)
WIDE = (118, 30)
"""From here on the trail stands beside the page."""
UNDRAWN = (
    "This page cannot be shown. Type /go and the number of another page, or leave with /quit (F10)."
)


class Stage(Frozen):
    """What each part of the screen shows."""

    top: tuple[Line, ...]
    page: tuple[Line, ...]
    side: tuple[Line, ...]
    ask: tuple[Line, ...]
    hint: tuple[Line, ...]
    said: tuple[Line, ...]
    keys: tuple[Line, ...]
    small: bool = False
    """True when nothing but one sentence fits."""


def stage(desk: Desk, width: int, height: int, charset: Charset) -> Stage:
    """The whole screen. Tells the mode in front how much of a long page shows, so that it can
    scroll.
    """
    if width < SMALLEST[0] or height < SMALLEST[1]:
        return _small(desk, width)
    view, inner = desk.look(), width - 2
    view.seen()
    ask, keys = view.ask(inner, height), view.keys(inner)
    least = 2 if len(keys) == 1 or height >= WIDE[1] else 1
    said = _at_least(view.message(desk.said, desk.lost, inner), least)
    room = height - 1 - 1 - len(ask) - 1 - len(said) - len(keys)
    beside = view.beside and width >= WIDE[0] and height >= WIDE[1]
    space = Space(inner - SIDE - 3 if beside else inner, room, charset)
    page = view.window.show(view.lines(space), room)
    hint = _hint(view, inner, full=said[-1] != BLANK)
    said = _at_least(view.foot(said, inner), least)
    return Stage(
        (view.top(inner),),
        page,
        tuple(view.side(room)) if beside else (),
        tuple(ask),
        hint,
        tuple(said),
        tuple(keys),
    )


def _at_least(said: list[Line], least: int) -> list[Line]:
    """The message in so many lines at least: the entry line must not jump at every answer."""
    return [*said, *[BLANK] * (least - len(said))]


def _small(desk: Desk, width: int) -> Stage:
    """Nothing but how to go on."""
    file = desk.sitting.path.name if desk.sitting and desk.sitting.path else ""
    return Stage((), tuple(wrap(too_small(file), width - 2)), (), (), (), (), (), small=True)


def bare_stage(said: str, width: int) -> Stage:
    """The page where the real one cannot be drawn: what happened, and how to go on."""
    inner = max(width - 2, 10)
    lines = [*wrap(said, inner, "bad"), BLANK, *wrap(UNDRAWN, inner)]
    return Stage(
        (line(""),),
        tuple(lines),
        (),
        (line(""),),
        (),
        (BLANK, BLANK),
        tuple(key_lines(True, inner)),
    )


def _hint(view: View, width: int, full: bool) -> tuple[Line, ...]:
    """Beside the entry line: what would do; and that the page goes on, where the message is full
    and has no line left for it.
    """
    said, more = view.hint(), view.window.further() if full else ""
    if said and more:  # that the page goes on is never cut
        return (line(f"{fit(said, max(width - 26, 10) - cells(more) - 3)} - {more}", "dim"),)
    return (line(said or more, "dim"),) if said or more else ()
