"""The page in front of a sitting, in its modes: a step, a caution, the mentor's view, the verdict.

What they draw with is loaded when the first of them is drawn, so that the opening is up at once.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from wizard.frozen import Frozen
from wizard.library.places import Source
from wizard.screens.key_line import key_lines
from wizard.screens.mode import Panel, Space, View, message
from wizard.screens.paper import (
    APART,
    BLANK,
    SPACIOUS,
    TEXT,
    Line,
    beside,
    cells,
    document_lines,
    drawn,
    fit,
    line,
    pad,
    spread,
    wrap,
)
from wizard.screens.words import AFTER, CHANGE, ENDED, SHORTLY, SHORTLY_AGAIN, why_and_how
from wizard.sitting.modes import PageMode
from wizard.sitting.reply import Reply
from wizard.telling.big_letters import big
from wizard.telling.canvas import Charset, Drawing
from wizard.telling.document import Block, Item, Paragraph, Section, Sketch, set_out
from wizard.telling.text import Look

if TYPE_CHECKING:
    from wizard.judgment.bands import Judged
    from wizard.judgment.verdict import Verdict
    from wizard.library.shapes import Caution, Library
    from wizard.sitting.sitting import Sitting
    from wizard.survey.record import Survey
    from wizard.survey.walk import Page as WalkPage
    from wizard.telling.page import PageView, Row
    from wizard.telling.scene import Scene
    from wizard.telling.tell import Part

SIDE = 36
"""Cells of the trail beside the page."""
NOTED = 2
"""Lines at most for what is recalled."""
CROWDED = 12
"""Lines of the screen that choices must leave to everything else."""
MENTORED = 6
"""Rows of the drawing in the mentor's view: the parts below it matter more there."""
CRAMPED = 30
"""Lines of a screen under which the answer gets those of what is done next."""
LARGE = 24
"""Rows of a drawing that has the whole width of a large screen."""
BEFORE_CAUTION = 3
"""Lines at most of what is said above a caution."""
UNDRAWN = Drawing((), (), "")
MODEL = "To see this on a model frame that you can bend, press F12 or type /model."
LEFT = "not needed"
"""The short form of a row that was left out: nothing was done there yet."""
LEGEND = "x done / begun - skipped + enough"


class Page(PageMode, View):
    """A step; and what the other modes of a sitting have in common with it."""

    beside = True
    words = {  # noqa: RUF012
        "f1": "/why",
        "f2": "/spoils",
        "f3": "/words",
        "f5": "/back",
        "f6": "/trail",
        "f7": "/undo",
        "f8": "/verdict",
        "f10": "/quit",
        "f12": "/model",
        "ctrl+t": "/open",
        "ctrl+c": "/quit",
    }

    def __init__(self, sitting: Sitting, first: Page | None = None) -> None:
        """first: the page of the same sitting whose window it shares."""
        PageMode.__init__(self, sitting)
        View.__init__(self)
        self.window = first.window if first else self.window
        self.verdict: VerdictLines = first.verdict if first else VerdictLines(sitting)
        self.view: PageView | None = None
        """What is in front, as it was last looked at; None at the end."""
        self.footed = True
        """Whether the page, as it was last drawn, had a line at its foot for what is known next; those of
        other modes have none.
        """
        self.listed: list[Line] = []
        """The choices where they have no room beside the entry line: the page begins with them."""
        self._next: tuple[tuple[object, ...], str] | None = None
        """What is known next, and of which survey, walk and page: a window drawn anew asks again.
        """

    # Lines and keys
    # ---------------------------------------------------------------------------------------------

    def line(self, text: str) -> Reply:
        """What a line brought up is drawn before anything else is typed."""
        reply = self.word(text)
        self.is_next()
        return reply

    def word(self, text: str) -> Reply:
        """An answer or a word; a page that changed is shown from its first line."""
        before, survey = self.sitting.ask, self.sitting.survey
        reply = super().line(text)
        if self.sitting.ask != before or self.sitting.survey is not survey:
            self.window.top = 0
        if reply.shows == "mentor":  # it is the page itself
            self.window.top = 0
            return Reply("told", reply.below)
        return reply

    def is_next(self) -> None:
        """What is in front is going to be seen."""
        prompt = self.sitting.prompt
        self.sitting.saw(prompt.caution if prompt else "")

    def key(self, name: str) -> Reply:
        """A key that types nothing; F4 leaves its word in the line, because a reason must follow."""
        if name == "f4":
            return Reply("closed", entry="/skip ")
        if name == "f11":
            return self.word("/mentor off" if self.sitting.aside.mentor else "/mentor")
        return super().key(name)

    def panel(self, reply: Reply, key: str) -> View | None:
        """Why and the verdict are more than their text."""
        step = self.sitting.step
        if reply.shows == "verdict":
            return VerdictPanel(self, reply, key)
        if reply.shows == "why" and step:
            more = f"\n\n{MODEL}" if step.part == "measure" else ""
            how = self.view.how if self.view else ()
            text = why_and_how(step._replace(how=how or step.how)) + more
            return Panel(self, Reply("told", text, "Why this matters, and how to do it"), key)
        return super().panel(reply, key)

    # What shows -----------------------------------------------------------------------------------
    # --------------

    def stands(self) -> bool:
        """Whether this is the mode of what is in front."""
        return True

    def seen(self) -> None:
        """It was drawn."""
        caution = self.page.caution
        self.sitting.saw(caution.id if caution else "")

    @property
    def page(self) -> PageView:
        """What is in front."""
        assert self.view is not None
        return self.view

    def top(self, width: int) -> Line:
        """Whose survey it is, where one is in it, and whether it is saved."""
        sitting = self.sitting
        saved = "saved" if sitting.kept else "not saved yet"
        saved = "open elsewhere, not saved here" if sitting.busy else saved
        if sitting.aside.mentor:
            saved += " - mentor's view"
        car = sitting.survey.car or "A new survey"
        where = self.view.trail if self.view else "at the end"
        return spread((car, "strong"), (f"{where} - {saved}", "dim"), width)

    def ask(self, width: int, height: int) -> list[Line]:
        """What is recalled, the question, and the choices."""
        from wizard.sitting.paging import recalled

        noted = [part for note in recalled(self.sitting) for part in wrap(note, width, "dim")]
        asked = wrap(self.question(), width, "strong")
        choices = whole_choices(self.page.choices, width, height - CROWDED)
        # What has no room above the entry line begins the page, which is scrolled and says so.
        self.listed = [] if choices else one_below_another(self.page.choices, width)
        return [*noted[:NOTED], *asked, *choices]

    def asked_next(self, width: int, height: int) -> list[Line]:
        """The question alone."""
        return wrap(f"Next question: {self.label()}", width, "dim")

    def label(self) -> str:
        """What is asked, by its name."""
        return f"{self.page.label} {self.page.nth}".rstrip()

    def question(self) -> str:
        """What is asked, above the entry line."""
        return self.label()

    def hint(self) -> str:
        """What may be answered."""
        return self.page.hint

    def lines(self, space: Space) -> list[Line]:
        """The step."""
        pictures = pictures_of(self.sitting, space.charset)
        lines = [*self.listed, *step_page(self.page, pictures, space.width, space.room)]
        self.footed = len(lines) < space.room
        return with_foot(lines, self.evening(), space)

    def foot(self, said: list[Line], width: int) -> list[Line]:
        """Where the page has no line left for what is known next, a line that the message leaves."""
        said = super().foot(said, width)
        if said[-1:] != [BLANK] or self.footed:
            return said
        told = wrap(self.evening(), width, "dim")
        return [*said[:-1], *told] if len(told) == 1 else said

    def evening(self) -> str:
        """What is known next and how long that takes; nothing of it to a second reader."""
        from wizard.telling.evening_words import next_line

        sitting = self.sitting
        if sitting.aside.second:
            return ""
        now = sitting.survey, sitting.walk(), sitting.page()
        if self._next is None or any(a is not b for a, b in zip(self._next[0], now, strict=True)):
            survey, walk, here = now
            self._next = now, next_line(survey, sitting.library, walk, here)
        return self._next[1]

    def side(self, room: int) -> list[Line]:
        """The trail."""
        return trail_lines(self.sitting, SIDE, room)

    def keys(self, width: int) -> list[Line]:
        """Those of a step."""
        return key_lines(True, width)


class CautionPage(Page):
    """A caution, and nothing of the page behind it but its name."""

    @property
    def caution(self) -> Caution | None:
        """The one in front."""
        return self.view.caution if self.view else None

    def stands(self) -> bool:
        """While one is in front."""
        return self.caution is not None

    def label(self) -> str:
        """The caution's name."""
        return f"the caution “{super().label()}”"

    def message(self, said: Reply, lost: str, width: int) -> list[Line]:
        """In few lines: the caution must be read whole."""
        return message(said, lost, width, BEFORE_CAUTION)

    def question(self) -> str:
        """A caution is no question."""
        return "When it is clear to you, type understood."

    def lines(self, space: Space) -> list[Line]:
        """The caution."""
        assert self.caution is not None
        ink = "#" if space.charset == "ascii" else "\u2588"
        return caution_page(self.caution, self.page.title, space.width, ink)


class MentorPage(Page):
    """The mentor's view of a step: the drawing first."""

    def __init__(self, sitting: Sitting, first: Page) -> None:
        super().__init__(sitting, first)
        self._kept: tuple[object, tuple[Section, ...]] | None = None
        """The parts last told, with what they were told of."""

    def stands(self) -> bool:
        """While the mentor looks on."""
        return self.sitting.aside.mentor

    def lines(self, space: Space) -> list[Line]:
        """What to ask, the moves and what was read before all that stands behind it."""
        from wizard.sitting.mentor import SET, parts_of

        sitting, aside = self.sitting, self.sitting.aside
        key = (sitting.survey, sitting.ask, aside.second, tuple(sorted(aside.shown)))
        if self._kept is None or self._kept[0] != key:
            self._kept = key, parts_of(sitting)
        frame = pictures_of(sitting, space.charset).frame
        return [*self.listed, *mentor_page(self.page, self._kept[1], frame, space, SET)]


class VerdictPage(Page):
    """The end of a survey."""

    def stands(self) -> bool:
        """Once nothing is asked any more."""
        return self.view is None

    def seen(self) -> None:
        """No caution and no page is before the eyes."""

    def ask(self, width: int, height: int) -> list[Line]:
        """What there is to do yet."""
        from wizard.sitting.verdict import may_go_on
        from wizard.telling.tell import keys_text

        change = CHANGE if self.sitting.earlier else ""
        letters = keys_text(may_go_on(self.sitting), min(width, TEXT))
        keys = [line(part, "key") for part in letters]
        if height < CRAMPED:  # the answer needs the lines; beside the entry line stands the rest
            return keys
        return [*keys, *wrap(f"{ENDED} {change}{AFTER}", width, "strong")]

    def asked_next(self, width: int, height: int) -> list[Line]:
        """The same."""
        return self.ask(width, height)

    def hint(self) -> str:
        """Nothing is asked; a letter opens the rest."""
        return SHORTLY_AGAIN if self.sitting.earlier else SHORTLY

    def lines(self, space: Space) -> list[Line]:
        """The verdict."""
        return self.verdict.lines(space)


class VerdictPanel(Panel):
    """The answer over a page, drawn as it is at the end; or a part of what lies behind it."""

    def __init__(self, over: Page, reply: Reply, key: str) -> None:
        super().__init__(over, reply, key)
        self._verdict, self._part = over.verdict, reply.part

    def lines(self, space: Space) -> list[Line]:
        """The answer, or the part that was asked for."""
        return self._verdict.lines(space, self._part)


class VerdictLines:
    """The verdict as it was last drawn: scrolling need not compute it again."""

    def __init__(self, sitting: Sitting) -> None:
        self._sitting = sitting
        self._kept: tuple[Survey, tuple[int, bool, str], list[Line]] | None = None

    def lines(self, space: Space, part: str = "") -> list[Line]:
        """All of it; part: letter of what lies behind the answer."""
        survey, shape = self._sitting.survey, (space.width, self._sitting.aside.mentor, part)
        if self._kept is None or self._kept[0] is not survey or self._kept[1] != shape:
            self._kept = survey, shape, self._drawn(space, part)
        return self._kept[2]

    def _drawn(self, space: Space, letter: str) -> list[Line]:
        from wizard.telling.tell import part_of_letter  # numpy only once there is something to say

        sitting, part = self._sitting, part_of_letter(letter)
        return part_lines(sitting, part, space) if part else answer_lines(sitting, space)


class Pages:
    """The modes of one sitting."""

    def __init__(self, sitting: Sitting) -> None:
        self.sitting = sitting
        self.page = page = Page(sitting)
        """The mode of a step, before anything was looked at."""
        others = (VerdictPage(sitting, page), CautionPage(sitting, page), MentorPage(sitting, page))
        self._modes: tuple[Page, ...] = (*others, page)

    def front(self) -> Page:
        """The one whose turn it is: found anew each time, for a caution may be due by the clock."""
        view = view_of(self.sitting)
        for mode in self._modes:
            mode.view = view
        return next(mode for mode in self._modes if mode.stands())


def view_of(sitting: Sitting) -> PageView | None:
    """The page in front, None at the end."""
    if sitting.ask is None:
        return None
    from wizard.sitting.paging import page_of

    return page_of(sitting)


# Its parts ----------------------------------------------------------------------------------------
# ------------------


def choice_columns(choices: tuple[str, ...], width: int, most: int = 99) -> list[Line]:
    """The choices, in two columns when there are more than four and they fit, or more than `most`,
    fit or not.
    """
    head = [line(fit(c, width), "dim") for c in choices if c.startswith(HOW_SEEN)]
    rest = [c for c in choices if not c.startswith(HOW_SEEN)]
    column = _left_column(rest, width, most)
    if not column:
        return head + [_choice(c, width) for c in rest]
    half = -(-len(rest) // 2)
    right = [_choice(c, width - column - 4) for c in rest[half:]] + [BLANK]
    left = (_choice(c, column - 1, column + 2) for c in rest[:half])
    return head + [(*a, *b) for a, b in zip(left, right, strict=False)]


def whole_choices(choices: tuple[str, ...], width: int, most: int) -> list[Line]:
    """The choices, none of them cut: in columns, else one below another in at most `most` lines;
    nothing where there is no room for that.
    """
    columns = choice_columns(choices, width, most)
    if not any(CUT in text for pieces in columns for text, _ in pieces):
        return columns
    listed = one_below_another(choices, width)
    return listed if len(listed) <= most else []


HOW_SEEN = "how seen:"
"""Begins the line that says by which letters it is said how well a place was seen."""
CUT = "\u2026"
"""What stands at the end of a text that was cut."""


def one_below_another(choices: tuple[str, ...], width: int) -> list[Line]:
    """The choices, each in as many lines as it needs."""
    lines: list[Line] = []
    for choice in choices:
        letter, _, words = choice.partition("  ")
        if not words or choice.startswith(HOW_SEEN):
            lines += wrap(choice, width, "dim")
            continue
        first, *rest = wrap(words, width - len(letter) - 4)
        lines.append((("  ", ""), (letter, "key"), ("  ", ""), *first))
        lines += [((" " * (len(letter) + 4), ""), *pieces) for pieces in rest]
    return lines


def _left_column(choices: list[str], width: int, most: int) -> int:
    """Cells of the left one of two columns; 0 where all stand one under the other."""
    half = -(-len(choices) // 2)
    column = max(map(cells, choices[:half]), default=0) + 3
    if len(choices) > most:
        return min(column, width // 2 - 2)
    fits = len(choices) > 4 and column + max(map(cells, choices[half:])) + 4 <= width
    return column if fits else 0


def _choice(text: str, width: int, filled: int = 0) -> Line:
    """`k  words`, the letter in the role of a key."""
    letter, _, words = text.partition("  ")
    if not words:
        return ()
    words = fit(words, width - len(letter) - 2)
    gap = " " * max(filled - 4 - len(letter) - cells(words), 0)
    return (("  ", ""), (letter, "key"), ("  " + words + gap, ""))


def with_foot(lines: list[Line], words: str, space: Space) -> list[Line]:
    """The page with what stands at its foot, where there is room for all of it."""
    told = wrap(words, space.width, "dim") if words else []
    free = space.room - len(lines) - len(told)
    return [*lines, *[BLANK] * free, *told] if told and free >= 0 else lines


def pictures_of(sitting: Sitting, charset: Charset) -> Pictures:
    """The drawings of the step in front, as far as they may be seen."""
    ask, step = sitting.ask, sitting.step
    if ask is None or step is None:
        return Pictures(lambda w, h: UNDRAWN, lambda w, h: UNDRAWN)
    from wizard.sitting.paging import may_see
    from wizard.telling.step_drawing import drawing_for

    survey, library = may_see(sitting), sitting.library
    return Pictures(
        lambda w, h: drawing_for(survey, library, step, ask.prompt, w, h, charset),
        lambda w, h: _value(sitting, w, charset),
        small=step.drawing in ("look", "none"),
    )


def _value(sitting: Sitting, width: int, charset: Charset) -> Drawing:
    from wizard.sitting.paging import results_shown
    from wizard.telling.judged_picture import picture_of

    results = results_shown(sitting)
    if not results:
        return UNDRAWN
    return picture_of(results[0], sitting.library, sitting.survey.unit, width, charset)


def trail_lines(sitting: Sitting, width: int, height: int) -> list[Line]:
    """The trail in at most `height` lines: every step with its mark, the one in front among them."""
    from wizard.telling.evening_words import good_to_stop

    stop, walk = sitting.page(), sitting.walk()
    ends = good_to_stop(sitting.survey, sitting.library, walk)
    rows: list[WalkPage | None] = []
    here = 0
    for number, page in enumerate(walk):
        if not page.gone:
            here = len(rows) if page is stop or stop is None else here
            rows.append(page)
        if number in ends:
            rows.append(None)
    room = height - 2
    first = min(max(here - room // 2, 0), max(len(rows) - room, 0))
    lines = [line("The trail", "strong")]
    front = stop if sitting.step is not None else None
    lines += [_trail_row(sitting, row, front, width) for row in rows[first : first + room]]
    lines += [BLANK] * (height - 1 - len(lines))
    return [*lines, line(LEGEND, "dim")]


def _trail_row(sitting: Sitting, page: WalkPage | None, front: WalkPage | None, width: int) -> Line:
    """A page with its mark, which is dear: for the rows that are shown alone. None: a rest."""
    from wizard.telling.asking import MARKS, page_state

    if page is None:
        return line(fit(REST, width), "dim")
    state = page_state(sitting.survey, page)
    mark, role = (">", "here") if page is front else (" ", DIMMED.get(state, ""))
    return line(fit(f"{mark}[{MARKS[state]}] {page.title}", width), role)


REST = "   -- good to stop --"
"""Stands in the trail behind a page where it is."""
DIMMED = {"done": "dim", "skipped": "dim", "enough": "dim"}
"""Roles of steps that one need not look at again."""


# A step, fitted to the room: what matters most is granted its lines first -------------------------


Draw = Callable[[int, int], Drawing]
"""A drawing for a width and height in cells."""
LEAST = 7
"""Lines that must be left for a small drawing to be shown at all."""
WHOLE_FRAME, TALL_FRAME = 6, 12
"""Lines that it takes at least and at most where there is room for the frame as on the other pages."""
GAP = 3
"""Cells between two columns of readings."""
SPARE = 3
"""Blank lines between the blocks that come before the last of many readings."""


class Pictures(Frozen):
    """What can be drawn on the page, when there is room."""

    frame: Draw
    """The frame with the tape, string or level that is asked for."""
    value: Draw
    """The gravest result so far against its limits."""
    small: bool = False
    """A frame that shows where to look and no more: what there is to do comes before it."""


def caution_page(caution: Caution, before: str, width: int, ink: str = "#") -> list[Line]:
    """A caution alone on the page; one that holds everything begins with the largest words there
    are.

    before: title of the page that waits for it.
    """
    lines = [line(row, "bad") for row in big(caution.big, ink)] if caution.big else []
    lines += [BLANK] if lines else []
    title, waits = f"Caution: {caution.title}", f"before: {before}"
    if cells(title) + cells(waits) + 2 <= width:
        lines += [spread((title, "title"), (waits, "dim"), width)]
    else:
        lines += [line(title, "title"), line(waits, "dim")]
    for text in caution.lines:
        lines += wrap(text, width)
    for source in caution.sources:
        lines += wrap(source, width, "dim", first="Source: ")
    return lines


@dataclass(slots=True, eq=False, repr=False, match_args=False)
class Left:
    """Lines of a page that are left, granted to one block after another."""

    lines: int

    def take(self, lines: int) -> int:
        """So many, whether they are there or not."""
        self.lines -= lines
        return lines

    def whole(self, parts: Sequence[list[Line]], keep: int = 0) -> list[list[Line]]:
        """As many of the parts as fit whole; keep: lines that are left for others."""
        granted = list(parts[: _whole(parts, self.lines - keep)])
        self.take(_lines(granted))
        return granted

    def block(self, lines: list[Line], keep: int = 0) -> list[Line]:
        """All of it or nothing."""
        return _joined(self.whole([lines], keep))


def step_page(view: PageView, pictures: Pictures, width: int, height: int) -> list[Line]:
    """The page in front in at most `height` lines, or a little more where even the least does not
    fit.
    """
    if width >= SPACIOUS and (large := _large_page(view, pictures, width, height)):
        return large
    why = wrap(view.why, width)
    moves = [wrap(text, width, first=f"{n}. ") for n, text in enumerate(view.how, start=1)]
    rows = row_lines(view.rows, width)
    live = [wrap(text, width, "strong") for text in view.live]
    begun = any(row.values and row.brief != LEFT for row in view.rows)
    room = height - 1 - len(why)
    frame, lines = _frame(pictures, width, room, _lines(moves), first=not begun)
    left = Left(lines)

    # Before the first answer, what there is to do says more than the empty places of readings.
    least = min(len(rows), 3) if begun else 0
    said = left.whole(live[:1], keep=max(least, 1))
    rows_n = left.take(least)
    shown = _moves(moves, view.move - 1, left.lines)
    left.take(_lines(moves[shown]))
    all_told = shown == slice(0, len(moves))
    good = left.block(wrap(f"Done well: {view.good}", width, "dim")) if all_told else []
    spare = SPARE if left.lines >= SPARE else 0
    rows_n += left.take(min(len(rows) - rows_n, max(left.lines - spare, 0)))
    said += left.whole(live[len(said) :], keep=spare)
    value: list[Line] = []
    if said and left.lines >= 2 + spare:
        value = left.block(drawn(pictures.value(min(width, 76), left.lines)), keep=spare)
    title, told = _told(view, moves, shown, width)
    blocks = [why, told + good, frame, _window(rows, rows_n), _joined(said) + value]
    return [title, *_apart(blocks, left.lines)]


def _large_page(view: PageView, pictures: Pictures, width: int, height: int) -> list[Line]:
    """The page where there is room for two columns: what there is to do, beside it what was read
    and what that says, and below both the drawing over the whole width. Empty where even that is
    too long.
    """
    right = width - TEXT - APART
    if _widest(view.rows) > right:
        return []  # an answer that has no room beside the moves is whole below them
    moves = [wrap(text, TEXT, first=f"{n}. ") for n, text in enumerate(view.how, start=1)]
    good = wrap(f"Done well: {view.good}", TEXT, "dim")
    to_do = [*wrap(view.why, TEXT), BLANK, *_joined(moves), *good]
    rows = [pieces for _, pieces in row_lines(view.rows, right)]
    live = _joined([wrap(text, right, "strong") for text in view.live])
    value = drawn(pictures.value(min(right, 76), height)) if view.live else []
    read = _apart([rows, live, value], 2)
    lines = [line(view.title, "title"), *beside(to_do, read, TEXT), BLANK]
    rest = height - len(lines)
    return [*lines, *drawn(pictures.frame(width, min(rest, LARGE)))] if rest >= LEAST else []


def mentor_page(
    view: PageView, parts: Sequence[Section], draw: Draw, space: Space, look: Look
) -> list[Line]:
    """The mentor's parts of a step: in the first screen what to ask, the moves and what was read.

    draw: the step's drawing.
    """
    title, charset = line(f"{view.title}: the mentor's view", "title"), space.charset
    ask, read, rest = (
        set_out(part for part in parts if part.id in ids)
        for ids in (("ask",), ("readings",), {p.id for p in parts} - {"ask", "readings", "moves"})
    )
    if space.width >= SPACIOUS:
        moves = _mentored(view, TEXT, space.room)
        left = [*document_lines(ask, TEXT, charset, look), BLANK, *moves, BLANK]
        left += drawn(draw(TEXT, max(min(space.room - len(left) - 1, LARGE // 2), MENTORED)))
        right = document_lines((*read, *rest), space.width - TEXT - APART, charset, look)
        return [title, *beside(left, right, TEXT)]
    asked, typed, behind = (
        document_lines(blocks, space.width, charset, look) for blocks in (ask, read, rest)
    )
    room = space.room - len(asked) - len(typed) - 3
    picture = drawn(draw(space.width, MENTORED))
    blocks = [asked, _mentored(view, space.width, room), typed, picture, behind]
    return [title, *_apart([*blocks], len(blocks))]


def _mentored(view: PageView, width: int, room: int) -> list[Line]:
    """The moves under their heading, those about the one in front where not all have room."""
    moves = [wrap(text, width - 2, first=f"{n}. ") for n, text in enumerate(view.how, start=1)]
    shown = _moves(moves, view.move - 1, max(room, 3))
    head: Line = (("The moves", "title"),)
    if shown != slice(0, len(moves)):
        head = spread(head[0], (f"F1: all {len(moves)} moves", "strong"), width)
    return [head, *((("  ", ""), *pieces) for pieces in _joined(moves[shown]))]


def _joined(parts: Sequence[list[Line]]) -> list[Line]:
    return [piece for part in parts for piece in part]


def _lines(parts: Sequence[list[Line]]) -> int:
    return sum(len(part) for part in parts)


def _moves(moves: Sequence[list[Line]], wanted: int, left: int) -> slice:
    """Those that fit whole: from the first on where the wanted one is among them, else from that
    one on.
    """
    count = _whole(moves, left)
    if count > wanted:
        return slice(0, count)
    end = wanted + _whole(moves[wanted:], left)
    before = _whole(moves[:wanted][::-1], left - _lines(moves[wanted:end]))
    return slice(wanted - before, end)


def _told(
    view: PageView, moves: Sequence[list[Line]], shown: slice, width: int
) -> tuple[Line, list[Line]]:
    """Title and moves; where some have no room, the end of the last line, else of the title, says
    where they are.
    """
    title, lines = line(view.title, "title"), _joined(moves[shown])
    if shown == slice(0, len(moves)):
        return title, lines
    more = (f"F1: all {len(moves)} moves", "strong")
    last = "".join(text for text, _ in lines[-1]) if lines else ""
    if not lines or cells(last) + cells(more[0]) + 2 > width:
        return spread((view.title, "title"), more, width), lines
    return title, [*lines[:-1], spread((last, ""), more, width)]


def _frame(
    pictures: Pictures, width: int, left: int, moves: int, *, first: bool
) -> tuple[list[Line], int]:
    """The drawing, and the lines that are left; no drawing where it would crowd out what must be
    there.

    moves: lines of what there is to do; a small drawing that points to no place gives way to them, and
    any that is too large for them gives way before the first answer. first: nothing is answered yet.
    """
    small = pictures.small
    lines = _small(pictures, width, left, moves) if small else _full(pictures, width, left)
    if first and not small and left - len(lines) < moves <= left:
        return [], left
    return lines, left - len(lines)


def _small(pictures: Pictures, width: int, left: int, moves: int) -> list[Line]:
    """Two lines of the frame, or all of it where there is room to spare."""
    spare = left - moves - LEAST - SPARE
    small = pictures.frame(width, 2 if spare < WHOLE_FRAME else min(spare, TALL_FRAME))
    room = left >= (LEAST if small.lit else moves + LEAST - 1)
    return drawn(small) if room else []


def _full(pictures: Pictures, width: int, left: int) -> list[Line]:
    """The drawing in the height that so much room gives it; nothing where it would fill the page."""
    if left < 11:
        return []
    height = 7 if left < 18 else 8 if left < 32 else 10 if left < 45 else 16
    lines = drawn(pictures.frame(width, height))
    while lines and not lines[-1]:
        lines.pop()
    return lines


def _whole(parts: Sequence[list[Line]], left: int) -> int:
    """How many of the parts fit whole: half a sentence would be worse than none."""
    count = 0
    for part in parts:
        left -= len(part)
        if left < 0:
            break
        count += 1
    return count


def _window(rows: Sequence[tuple[bool, Line]], count: int) -> list[Line]:
    """So many of the lines, the one in front among them."""
    here = next((n for n, (is_here, _) in enumerate(rows) if is_here), 0)
    first = min(max(here - count // 2, 0), max(len(rows) - count, 0))
    return [pieces for _, pieces in rows[first : first + count]]


def _apart(blocks: Sequence[list[Line]], left: int) -> list[Line]:
    """The blocks one under the other, with a blank line between them as long as there are lines to
    spare.
    """
    lines: list[Line] = []
    for block in filter(None, blocks):
        if lines and left > 0:
            lines.append(BLANK)
            left -= 1
        lines += block
    return lines


# The readings -------------------------------------------------------------------------------------
# ------------------


def row_lines(rows: Sequence[Row], width: int) -> list[tuple[bool, Line]]:
    """Lines of readings, each with whether the one in front is on it; in columns when they fit."""
    if not rows:
        return []
    label = max(cells(r.label) for r in rows)
    values = max(6, *(cells(r.values) for r in rows))
    columns = _columns(len(rows), 2 + label + 2 + values, width)
    if columns == 1:
        return _one_column(rows, label, width)
    grid = [rows[first : first + columns] for first in range(0, len(rows), columns)]
    return [(any(r.here for r in across), _across(across, label, values)) for across in grid]


def _widest(rows: Sequence[Row]) -> int:
    """Cells that the readings take one under the other, each in its short form."""
    labels = max((cells(row.label) for row in rows), default=0)
    return 4 + labels + max((cells(row.brief or row.values) for row in rows), default=0)


def _columns(count: int, cell: int, width: int) -> int:
    """How many fit: left and right stand side by side, in the order of asking."""
    columns = max(1, min((width + GAP) // (cell + GAP), 3, count))
    return columns - columns % 2 if columns > 2 else columns


def _one_column(rows: Sequence[Row], label: int, width: int) -> list[tuple[bool, Line]]:
    """One under the other, what is too long in its short form."""
    least = max(6, *(cells(r.brief or r.values) for r in rows))
    label = min(label, max(width - 4 - min(least, width // 3), width // 2))
    room = width - label - 4
    short = [replace(r, values=r.brief) if r.brief and cells(r.values) > room else r for r in rows]
    return [(r.here, _cell(r, label, room)) for r in short]


def _across(rows: Sequence[Row], label: int, values: int) -> Line:
    pieces: list[tuple[str, str]] = []
    for row in rows:
        pieces += [
            *((" " * GAP, ""),) * bool(pieces),
            *_cell(row, label, values, filled=row is not rows[-1]),
        ]
    return tuple(pieces)


def _cell(row: Row, label: int, values: int, filled: bool = False) -> Line:
    mark, role = ("> ", "here") if row.here else ("  ", "")
    value = pad(row.values, values) if filled else fit(row.values, values)
    return ((mark, role), (pad(row.label, label), role), ("  ", ""), (value, role or "strong"))


# The answer, and what lies behind it with its pictures ---------------------------------------------


WHERE = 7
"""Rows of the drawing of where the signs gather."""


def answer_lines(sitting: Sitting, space: Space) -> list[Line]:
    """The answer, and by which letters the rest is opened; for a mentor the pairs as typed, and at
    a large screen its pictures beside it.
    """
    from wizard.sitting.verdict import verdict_told

    *said, keys = verdict_told(sitting)
    behind = [*_pairs(sitting), *([Paragraph(""), keys] if sitting.ask is not None else [])]
    if space.width < SPACIOUS:  # at the end the letters stand beside the entry line
        return document_lines([*said, *behind], space.width, space.charset)
    left = document_lines(said, TEXT, space.charset)
    both = beside(left, _pictures(sitting, space), TEXT)
    return [
        *both,
        *([BLANK] if behind else []),
        *document_lines(behind, space.width, space.charset),
    ]


def _pairs(sitting: Sitting) -> Sequence[Block]:
    """What the mentor wants to see beside an answer."""
    if not sitting.aside.mentor:
        return ()
    from wizard.judgment.sight import verdict_of
    from wizard.telling.mentor import pairs

    survey, library = sitting.survey, sitting.library
    return pairs(verdict_of(survey, library, sitting.now()), survey, library)


def _pictures(sitting: Sitting, space: Space) -> list[Line]:
    """The strongest reasons of an answer and where its signs gather, drawn one below the other."""
    from wizard.judgment.sight import verdict_of
    from wizard.survey.guide import layout_of
    from wizard.telling.cells import painted
    from wizard.telling.judged_picture import picture_of
    from wizard.telling.quantity_names import name_of
    from wizard.telling.scene_found import where_scene

    survey, library = sitting.survey, sitting.library
    verdict = verdict_of(survey, library, sitting.now())
    layout, width, charset = layout_of(survey, library), space.width - TEXT - APART, space.charset
    scene = where_scene(verdict.causes, layout)
    lines = [*drawn(painted(scene, width, WHERE, charset)), BLANK] if scene else []
    for judged in verdict.reasons:
        picture = drawn(picture_of(judged, library, survey.unit, width, charset))
        name = name_of(judged.finding, layout)
        title = line(fit(f"{name[:1].upper()}{name[1:]}", width), "strong")
        if picture and len(lines) + len(picture) + 1 <= space.room:
            lines += [title, *picture, BLANK]
    return lines


def part_lines(sitting: Sitting, part: Part, space: Space) -> list[Line]:
    """A part of what lies behind the answer, with its pictures."""
    from wizard.judgment.sight import verdict_of
    from wizard.telling.tell import part_sections

    survey, library = sitting.survey, sitting.library
    verdict = verdict_of(survey, library, sitting.now())
    blocks: list[Block] = []
    for one in part_sections(part, verdict, survey, library, sitting.earlier):
        blocks += _pictured(one, verdict, survey, library)
    return document_lines(blocks, space.width, space.charset)


def _pictured(
    part: Section, verdict: Verdict, survey: Survey, library: Library
) -> tuple[Block, ...]:
    """A part of the verdict with what a screen draws of it."""
    if part.id == "reasons":
        reasons: dict[Source, Judged] = {j.finding.id: j for j in verdict.reasons}
        items = tuple(_drawn(item, reasons, survey, library) for item in part.items)
        return part._replace(items=items).blocks()
    if part.id == "causes":
        from wizard.survey.guide import layout_of
        from wizard.telling.scene_found import where_scene

        layout = layout_of(survey, library)
        scene = where_scene(verdict.causes, layout)
        return *part.blocks(), *((_sketch(scene),) if scene else ())
    if part.id == "findings":
        return *part.blocks(), *_thin_rails(survey, library)
    return part.blocks()


def _thin_rails(survey: Survey, library: Library) -> tuple[Sketch, ...]:
    """The rails of which it is known how far they are thin, from end to end."""
    from wizard.telling.thin_picture import thin_sketches

    return tuple(Sketch(draw) for draw in thin_sketches(survey, library))


def _sketch(scene: Scene) -> Sketch:
    from wizard.telling.cells import painted

    return Sketch(lambda w, charset: painted(scene, w, WHERE, charset))


def _drawn(item: Item, reasons: dict[Source, Judged], survey: Survey, library: Library) -> Item:
    """A reason with its value against the limit."""
    from wizard.telling.judged_picture import picture_of

    judged = next((reasons[id] for id in item.sources if id in reasons), None)
    if judged is None:
        return item
    return item._replace(
        draw=lambda w, charset: picture_of(judged, library, survey.unit, w, charset)
    )
