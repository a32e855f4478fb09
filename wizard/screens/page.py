"""The page in front of a sitting, in its modes: a step, a caution, the mentor's view, the verdict.

What they draw with is loaded when the first of them is drawn, so that the opening is up at once.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from wizard.screens.key_line import extra_line, key_lines
from wizard.screens.mode import Panel, Space, View
from wizard.screens.paper import BLANK, Line, cells, document_lines, drawn, fit, line, spread, wrap
from wizard.screens.words import AFTER, CHANGE, ENDED, why_and_how
from wizard.sitting.modes import PageMode
from wizard.sitting.reply import Reply
from wizard.telling.canvas import Charset, Drawing

if TYPE_CHECKING:
    from wizard.library.shapes import Caution
    from wizard.screens.step_page import Pictures
    from wizard.sitting.sitting import Sitting
    from wizard.survey.record import Survey
    from wizard.telling.document import Section
    from wizard.telling.page import PageView

SIDE = 36
"""Cells of the trail beside the page."""
NOTED = 2
"""Lines at most for what is recalled."""
CROWDED = 12
"""Lines of the screen that choices must leave to everything else."""
MENTORED = 6
"""Rows of the drawing in the mentor's view: the parts below it matter more there."""
UNDRAWN = Drawing((), (), "")
MODEL = "To see it on a model frame that can be bent: F12, or type /model."
LEGEND = "x done  / begun  - skipped"


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
            return Reply("told", reply.says.split("\n", 1)[0])
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
            text = why_and_how(reply.says, step) + more
            return Panel(self, Reply("told", text, "Why, and how it is done"), key)
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
        saved = "open elsewhere, only read" if sitting.busy else saved
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
        choices = choice_columns(self.page.choices, width, height - CROWDED)
        return [*noted[:NOTED], *asked, *choices]

    def asked_next(self, width: int, height: int) -> list[Line]:
        """The question alone."""
        return wrap(f"Asked next: {self.label()}", width, "dim")

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
        from wizard.screens.step_page import step_page

        pictures = pictures_of(self.sitting, space.charset)
        return step_page(self.page, pictures, space.width, space.room)

    def side(self, room: int) -> list[Line]:
        """The trail."""
        return trail_lines(self.sitting, SIDE, room)

    def keys(self, width: int) -> list[Line]:
        """Those of a step."""
        return key_lines(True, width)

    def more_keys(self, width: int) -> list[Line]:
        """Those for which that line has no room."""
        return extra_line(width)


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

    def question(self) -> str:
        """A caution is no question."""
        return "When it is clear to you, type understood."

    def lines(self, space: Space) -> list[Line]:
        """The caution."""
        from wizard.screens.step_page import caution_page

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
        """Its parts."""
        from wizard.sitting.mentor import SET, parts_of
        from wizard.telling.document import set_out

        sitting, aside = self.sitting, self.sitting.aside
        key = (sitting.survey, sitting.ask, aside.second, tuple(sorted(aside.shown)))
        if self._kept is None or self._kept[0] != key:
            self._kept = key, parts_of(sitting)
        first, *rest = self._kept[1]
        width, charset = space.width, space.charset
        return [
            line(f"{self.page.title}: the mentor's view", "title"),
            *document_lines(first.blocks(), width, charset, SET),
            *drawn(pictures_of(sitting, charset).frame(width, MENTORED)),
            BLANK,
            *document_lines(set_out(rest), width, charset, SET),
        ]


class VerdictPage(Page):
    """The end of a survey."""

    def stands(self) -> bool:
        """Once nothing is asked any more."""
        return self.view is None

    def seen(self) -> None:
        """No caution and no page is before the eyes."""

    def ask(self, width: int, height: int) -> list[Line]:
        """What there is to do yet."""
        change = CHANGE if self.sitting.earlier else ""
        return wrap(f"{ENDED} {change}{AFTER}", width, "strong")

    def asked_next(self, width: int, height: int) -> list[Line]:
        """The same."""
        return self.ask(width, height)

    def hint(self) -> str:
        """Nothing is asked."""
        return ""

    def lines(self, space: Space) -> list[Line]:
        """The verdict."""
        return self.verdict.lines(space)


class VerdictPanel(Panel):
    """The verdict over a page, drawn as it is at the end."""

    def __init__(self, over: Page, reply: Reply, key: str) -> None:
        super().__init__(over, reply, key)
        self._verdict = over.verdict

    def lines(self, space: Space) -> list[Line]:
        """The verdict."""
        return self._verdict.lines(space)


class VerdictLines:
    """The verdict as it was last drawn: scrolling need not compute it again."""

    def __init__(self, sitting: Sitting) -> None:
        self._sitting = sitting
        self._kept: tuple[Survey, int, list[Line]] | None = None

    def lines(self, space: Space) -> list[Line]:
        """All of it."""
        survey = self._sitting.survey
        if self._kept is None or self._kept[0] is not survey or self._kept[1] != space.width:
            self._kept = survey, space.width, self._drawn(space)
        return self._kept[2]

    def _drawn(self, space: Space) -> list[Line]:
        from wizard.judgment.sight import verdict_of  # numpy only once there is something to say
        from wizard.screens.verdict_page import verdict_lines
        from wizard.sitting.since import since_section

        survey, library, now = self._sitting.survey, self._sitting.library, self._sitting.now()
        verdict, since = verdict_of(survey, library, now), since_section(self._sitting)
        return verdict_lines(verdict, survey, library, space.width, space.charset, since)


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
    head = [line(fit(c, width), "dim") for c in choices if c.startswith("how seen:")]
    rest = [c for c in choices if not c.startswith("how seen:")]
    column = _left_column(rest, width, most)
    if not column:
        return head + [_choice(c, width) for c in rest]
    half = -(-len(rest) // 2)
    right = [_choice(c, width - column - 4) for c in rest[half:]] + [BLANK]
    left = (_choice(c, column - 1, column + 2) for c in rest[:half])
    return head + [(*a, *b) for a, b in zip(left, right, strict=False)]


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


def pictures_of(sitting: Sitting, charset: Charset) -> Pictures:
    """The drawings of the step in front, as far as they may be seen."""
    from wizard.screens.step_page import Pictures

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
    from wizard.telling.asking import MARKS, page_state

    step = sitting.step
    pages = [p for p in sitting.pages() if not p.gone]
    here = next((n for n, p in enumerate(pages) if step and p.step.id == step.id), len(pages) - 1)
    room = height - 2
    first = min(max(here - room // 2, 0), max(len(pages) - room, 0))
    lines = [line("The trail", "strong")]
    for page in pages[first : first + room]:
        state = page_state(sitting.survey, page, sitting.now())
        in_front = page is pages[here] and step is not None
        mark, role = (">", "here") if in_front else (" ", DIMMED.get(state, ""))
        lines.append(line(fit(f"{mark}[{MARKS[state]}] {page.step.title}", width), role))
    lines += [BLANK] * (height - 1 - len(lines))
    return [*lines, line(LEGEND, "dim")]


DIMMED = {"done": "dim", "skipped": "dim"}
"""Roles of steps that one need not look at again."""
