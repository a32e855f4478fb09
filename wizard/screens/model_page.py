"""The page of the model: three views at the left, what each check says at the right, the reasons
below.
"""

from __future__ import annotations

from itertools import zip_longest

from wizard.screens.paper import BLANK, Line, as_text, cells, drawn, fit, line, wrap
from wizard.sitting.model_desk import ModelDesk
from wizard.telling.canvas import Charset
from wizard.telling.drawing_model import views
from wizard.telling.game_words import asked_lines, possible_words
from wizard.telling.model_page import HOW, ModelPage, VoiceRow

ROLES = {"sees": ("good", "strong"), "faint": ("doubt", ""), "blind": ("dim", "dim")}
"""Roles of the mark and of what is said, so that without color what sees it still stands out."""
SECRET = ("From above: as it was made", "From the side", "End-on: its bends are a secret")
ROOMY = 27
"""Lines of the page from which the views are drawn taller."""
NARROW = 70
"""Cells of a page under which the views stand below the checks, not beside them."""
NAME = 20
"""Cells of a check's name."""


def model_lines(desk: ModelDesk, width: int, room: int, charset: Charset) -> list[Line]:
    """The whole page, longer than the room where the reasons do not fit."""
    left = width if width < NARROW else 38 if width < 100 else 60
    pictures = _pictures(desk, left, room, charset)
    rest = width - left - 2 if left < width else width
    if desk.game and not desk.game.won:
        return (
            _beside(pictures, _game(desk, rest), left)
            if left < width
            else [*_game(desk, rest), *pictures]
        )
    page = desk.page()
    voices = _voices(page, rest)
    top = _beside(pictures, voices, left) if left < width else [*voices, *pictures]
    return [*top, *(part for note in page.notes if page.bent for part in _note(*note, width))]


def _pictures(desk: ModelDesk, width: int, room: int, charset: Charset) -> list[Line]:
    heights = (6, 4, 4) if room < ROOMY else (11, 7, 6)
    found = views(desk.frame(), width, heights, charset)
    captions = SECRET if desk.game and not desk.game.won else found.captions
    lines: list[Line] = []
    for caption, drawing, height in zip(
        captions, (found.plan, found.side, found.end), heights, strict=True
    ):
        rows = drawn(drawing)
        lines += [line(fit(caption, width), "dim"), *rows, *[BLANK] * (height - len(rows))]
    return lines


def _voices(page: ModelPage, width: int) -> list[Line]:
    """What is bent, and a line for each check."""
    lines = wrap(page.title, width, "title")[:2]
    lines += [line(fit(page.stands, width), "dim")]
    lines += [line(fit(part, width), "strong") for part in page.bent[:2]]
    if len(page.bent) > 2:
        lines[-1] = line(fit(f"{page.bent[1]} and {len(page.bent) - 2} more", width), "strong")
    if not page.bent:
        return [
            *lines,
            BLANK,
            *wrap("Bend it, and see which check would find it and which would not.", width),
        ]
    return [*lines, *(_voice(row, width) for row in page.rows), line(fit(HOW, width), "dim")]


def _voice(row: VoiceRow, width: int) -> Line:
    name = row.name + " " * max(NAME - cells(row.name), 1)
    mark, says = ROLES[row.kind]
    return ((f"{row.mark} ", mark), (name, ""), (fit(row.says, width - NAME - 2), says))


def _note(heading: str, text: str, width: int) -> list[Line]:
    """A paragraph whose heading stands out, whatever the line breaks do."""
    first, *rest = wrap(text, width, first=f"{heading}: ", rest="  ")
    whole = as_text([first])
    return [((f"{heading}:", "strong"), (whole[len(heading) + 1 :], "")), *rest]


def _game(desk: ModelDesk, width: int) -> list[Line]:
    """What was asked, and how much is still open."""
    assert desk.game is not None
    lines = [line("Guess what is bent", "title"), BLANK]
    for text in asked_lines(desk.game, desk.unit):
        lines += wrap(text, width, rest="   ")
    if not desk.game.asked:
        lines += wrap("Nothing is read yet. hint names the reading that would tell most.", width)
    return [*lines, BLANK, *wrap(possible_words(desk.game), width, "strong")]


def _beside(left: list[Line], right: list[Line], width: int) -> list[Line]:
    """Two columns, the left one filled up to its width."""
    rows = []
    for a, b in zip_longest(left, right, fillvalue=BLANK):
        gap = " " * (width + 2 - cells(as_text([a])))
        rows.append((*a, (gap, ""), *b) if b else a)
    return rows
