"""The page of the model: three views at the left, what each check says at the right, the reasons
below.
"""

from __future__ import annotations

from collections.abc import Sequence

from wizard.screens.key_line import model_keys
from wizard.screens.mode import Space, View
from wizard.screens.paper import (
    APART,
    BLANK,
    Line,
    as_text,
    beside,
    cells,
    drawn,
    fit,
    line,
    pad,
    spread,
    wrap,
)
from wizard.sitting.model_desk import ModelDesk
from wizard.sitting.modes import ModelMode
from wizard.sitting.reply import NOTHING, Reply
from wizard.telling.canvas import Charset
from wizard.telling.drawing_model import views
from wizard.telling.game_words import asked_lines, possible_words
from wizard.telling.model_page import HOW, ModelPage, VoiceRow

ROLES = {
    "sees": ("good", "strong"),
    "misled": ("doubt", ""),
    "faint": ("doubt", ""),
    "blind": ("dim", "dim"),
}
"""Roles of the mark and of what is said, so that without color what sees it still stands out."""
SECRET = (
    "From above, as it left the maker",
    "From the side",
    "From the end: its bends are a secret",
)
NARROW = 70
"""Cells of a page under which the views stand below the checks, not beside them."""
LEFT = ((150, 88), (100, 48), (0, 38))
"""Cells of the page, and from them on cells of the views at its left."""
TALL = ((44, (16, 8, 7)), (27, (11, 7, 6)), (0, (6, 4, 4)))
"""Lines of the page, and from them on lines of each view."""
LIKE = "like sag left 8 mm at engine-mount"
LIKE_GAME = "a reading or a fault, by number or in words; hint"
NUDGES = {"left": -1, "right": 1}
CHOICES = {"up": -1, "down": 1}


class Model(ModelMode, View):
    """The model over a page or the opening; none of its keys reaches the survey."""

    words = {  # noqa: RUF012
        "f1": "why",
        "f3": "help",
        "f5": "back",
        "f7": "reset",
        "f8": "guess",
        "f10": "quit",
        "ctrl+c": "quit",
    }

    def __init__(self, desk: ModelDesk, whose: str) -> None:
        """whose: what its sizes are taken from."""
        ModelMode.__init__(self, desk)
        View.__init__(self)
        self._whose = whose

    def line(self, text: str) -> Reply:
        """What to bend, or a word; what is bent anew is shown from its first line."""
        if not text.strip():
            return NOTHING
        return self._told(super().line(text))

    def key(self, name: str) -> Reply:
        """Up and down choose what to bend, left and right bend it."""
        if name in CHOICES:
            self.desk.choose(CHOICES[name])
            return NOTHING
        if name in NUDGES:
            return self._told(self.desk.nudge(NUDGES[name]))
        return super().key(name)

    def _told(self, reply: Reply) -> Reply:
        if reply.kind == "taken":
            self.window.top = 0
        return reply

    def top(self, width: int) -> Line:
        """Whose sizes it has, and that nothing is saved."""
        whose = f"{self._whose}; nothing here is saved"
        return spread(("A model to bend", "title"), (whose, "dim"), width)

    def ask(self, width: int, height: int) -> list[Line]:
        """What the arrows do just now."""
        return self._ask(width, "strong")

    def asked_next(self, width: int, height: int) -> list[Line]:
        """The same, less loud."""
        return self._ask(width, "dim")

    def _ask(self, width: int, role: str) -> list[Line]:
        desk = self.desk
        if desk.guessing:
            return wrap("Ask for a reading, or name what is bent:", width, role)
        value = desk.slider.get(desk.bent)
        size = desk.size_of(value)
        way = f" {desk.slider.signs[value < 0]}" if value else ""
        arrows = "up, down: choose; left, right: bend"
        return [spread((f"{desk.slider.id}: {size}{way}", role), (arrows, "dim"), width)]

    def hint(self) -> str:
        """An example."""
        return LIKE_GAME if self.desk.guessing else LIKE

    def keys(self, width: int) -> list[Line]:
        """Those of the model."""
        return model_keys(width)

    def lines(self, space: Space) -> list[Line]:
        """The whole page, longer than the room where the reasons do not fit."""
        desk, width = self.desk, space.width
        left = _left_column(width)
        pictures = _pictures(desk, left or width, space.room, space.charset)
        rest = width - left - APART if left else width
        page = None if desk.guessing else desk.page()
        said = _voices(page, rest) if page else _game(desk, rest)
        lines = beside(pictures, said, left) if left else [*said, *pictures]
        notes = page.notes if page and page.bent else ()
        return [*lines, *(part for note in notes for part in _note(*note, width))]


def _left_column(width: int) -> int:
    """Cells of the pictures beside the checks; 0 where they stand below them."""
    if width < NARROW:
        return 0
    return next(column for least, column in LEFT if width >= least)


def _pictures(desk: ModelDesk, width: int, room: int, charset: Charset) -> list[Line]:
    heights = next(tall for least, tall in TALL if room >= least)
    found = views(desk.frame(), width, heights, charset)
    captions = SECRET if desk.guessing else found.captions
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
            *wrap("Bend it and see which check would find the bend and which would not.", width),
        ]
    return [*lines, *_table(page.rows, width), line(fit(HOW, width), "dim")]


def _table(rows: Sequence[VoiceRow], width: int) -> list[Line]:
    """A line for each check with its lengths beside what they come to; where there is little room
    the lengths below it, and all that are blind together.
    """
    name, says, tapes = (
        max(map(cells, column)) + 2
        for column in zip(*((row.name, row.says, row.tapes) for row in rows), strict=True)
    )
    if name + says + tapes <= width:  # a mark of two cells before, no gap behind
        return [_voice(row, name, width, says) for row in rows]
    lines = []
    for row in (row for row in rows if row.kind != "blind"):
        lines += [_voice(row, name - 1, width)]
        lines += [line(fit(f"  {row.tapes}", width), "dim")] if row.tapes else []
    blind = "; ".join(row.name for row in rows if row.kind == "blind")
    return [*lines, *(wrap(f"blind: {blind}", width, "dim", first="- ") if blind else [])]


def _voice(row: VoiceRow, name: int, width: int, says: int = 0) -> Line:
    """says: cells of what is said, where the lengths follow on the same line."""
    mark, role = ROLES[row.kind]
    room = width - name - 2
    line: Line = ((f"{row.mark} ", mark), (pad(row.name, name), ""), (fit(row.says, room), role))
    if not says or not row.tapes:
        return line
    gap = " " * (says - cells(row.says))
    return (*line, (gap, ""), (fit(row.tapes, max(room - says, 1)), "dim"))


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
        lines += wrap(
            "You have asked for nothing yet. Type hint to see which reading helps most.", width
        )
    return [*lines, BLANK, *wrap(possible_words(desk.game), width, "strong")]
