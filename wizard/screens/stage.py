"""Everything that shows at one moment, as lines, for a width and a height. No terminal here."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from wizard.screens.desk import Desk
from wizard.screens.key_line import extra_line, key_lines
from wizard.screens.outcome import Panel, Said
from wizard.screens.paper import (
    BLANK,
    Line,
    as_text,
    cells,
    document_lines,
    drawn,
    fit,
    line,
    page_text,
    spread,
    wrap,
)
from wizard.screens.words import AFTER, CHANGE, ENDED, too_small
from wizard.telling.canvas import Charset, Drawing

if TYPE_CHECKING:
    from wizard.screens.step_page import Pictures
    from wizard.sitting.model_desk import ModelDesk
    from wizard.sitting.sitting import Sitting
    from wizard.telling.page import PageView

SMALLEST = (60, 20)
WIDE = (118, 30)
"""From here on the trail stands beside the page."""
SIDE = 36
"""Cells of the trail beside the page."""
MARKS = {
    "taken": ("+ ", "good"),
    "refused": ("! Not taken. ", "bad"),
    "doubted": ("? In doubt. ", "doubt"),
}
"""A mark and a word for each kind of message, so that color is never needed to tell them apart."""
NOTED = 2
"""Lines at most for what is recalled."""
CROWDED = 12
"""Lines of the screen that choices must leave to everything else."""
UNDRAWN = (
    "This page cannot be drawn. Type /go and the name of another page, or leave with /quit (F10)."
)
NOTHING = Drawing((), (), "")
MENTORED = 6
"""Rows of the drawing in the mentor's view: the parts below it matter more there."""


@dataclass(frozen=True, slots=True)
class Stage:
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
    """The whole screen. Tells the desk how much of a long page shows, so that it can scroll."""
    if width < SMALLEST[0] or height < SMALLEST[1]:
        file = desk.sitting.path.name if desk.sitting and desk.sitting.path else ""
        return Stage((), tuple(wrap(too_small(file), width - 2)), (), (), (), (), (), small=True)
    inner = width - 2
    if desk.model is not None:
        return _model(desk, desk.model, inner, height, charset)
    sitting = desk.sitting
    beside = sitting is not None and width >= WIDE[0] and height >= WIDE[1]
    span = width - 2 - SIDE - 3 if beside else inner
    shown = view_of(sitting) if sitting else None
    if sitting and shown and not desk.panel:
        sitting.saw(shown.caution.id if shown.caution else "")
    ask = _ask(desk, shown, inner, height)
    keys = key_lines(sitting is not None, inner)
    said = _said(desk, inner)
    room = height - 1 - 1 - len(ask) - 1 - len(said) - len(keys)
    page = _page(desk, shown, span, room, charset)
    full = not desk.panel and desk.length > room and said[-1] != BLANK
    if desk.panel or desk.length > room:
        said = _said(desk, inner) if desk.panel else _more(said, desk, inner)
    side = _side(sitting, room) if beside and sitting else []
    if sitting and said[-1] == BLANK and (extra := extra_line(inner)):
        said, keys = said[:-1], [*extra, *keys]
    return Stage(
        (_top(desk, shown, inner),),
        tuple(page),
        tuple(side),
        tuple(ask),
        _hint(desk, shown, inner, full),
        tuple(said),
        tuple(keys),
    )


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


def _hint(desk: Desk, shown: PageView | None, width: int, full: bool) -> tuple[Line, ...]:
    """Beside the entry line: what would do; and that the page goes on, where the message has no
    line left for it.
    """
    said = shown.hint if shown and not desk.panel else ""
    more = ("PgDn: more" if desk.top + desk.room < desk.length else "PgUp: back up") if full else ""
    room = max(width - 26, 10)
    if said and more:
        said, more = (
            fit(said, room - cells(more) - 3),
            f" - {more}",
        )  # that the page goes on is never cut
    return (line(said + more, "dim"),) if said or more else ()


def _side(sitting: Sitting, room: int) -> list[Line]:
    from wizard.screens.trail import trail_lines

    return trail_lines(sitting, SIDE, room)


def _model(desk: Desk, model: ModelDesk, width: int, height: int, charset: Charset) -> Stage:
    """The model over everything: its page, or a panel over that."""
    from wizard.screens.model_face import (
        model_ask,
        model_foot,
        model_hint,
        model_page_lines,
        model_top,
    )

    ask, keys, said = (
        model_ask(model, width, bool(desk.panel)),
        model_foot(width),
        _said(desk, width),
    )
    room = height - 1 - 1 - len(ask) - 1 - len(said) - len(keys)
    panel = desk.panel
    lines = _panel(panel, width, room) if panel else model_page_lines(model, width, room, charset)
    desk.room, desk.length = room, len(lines)
    top = min(panel.top if panel else desk.top, max(len(lines) - room, 0))
    if panel or desk.length > room:
        said = _said(desk, width) if panel else _more(said, desk, width)
    hint = () if panel else (model_hint(model),)
    shown = tuple(lines[top : top + room])
    return Stage((model_top(desk, width),), shown, (), tuple(ask), hint, tuple(said), tuple(keys))


def view_of(sitting: Sitting) -> PageView | None:
    """The page in front, None at the end."""
    if sitting.ask is None:
        return None
    from wizard.sitting.paging import page_of

    return page_of(sitting)


def _top(desk: Desk, shown: PageView | None, width: int) -> Line:
    sitting = desk.sitting
    if sitting is None:
        return spread(("Crosstape", "title"), (f"surveys in {desk.folder}", "dim"), width)
    saved = "saved" if sitting.kept else "not saved yet"
    saved = "open elsewhere, only read" if sitting.busy else saved
    if sitting.aside.mentor:
        saved += " - mentor's view"
    car = sitting.survey.car or "A new survey"
    return spread(
        (car, "strong"), (f"{shown.trail if shown else 'at the end'} - {saved}", "dim"), width
    )


def _ask(desk: Desk, shown: PageView | None, width: int, height: int) -> list[Line]:
    """The question and what it may be answered with."""
    if desk.sitting is None:
        return wrap(
            "Type what stands before a line, then Enter; or move with the arrows.", width, "strong"
        )
    if shown is None:
        return wrap(f"{ENDED} {CHANGE if desk.sitting.earlier else ''}{AFTER}", width, "strong")
    label = f"{shown.label} {shown.nth}".rstrip()
    if desk.panel:
        label = f"the caution “{label}”" if shown.caution else label
        return wrap(f"Asked next: {label}", width, "dim")
    noted = [part for note in _notes(desk) for part in wrap(note, width, "dim")][:NOTED]
    lines = noted + wrap(
        "When it is clear to you, type understood." if shown.caution else label, width, "strong"
    )
    return lines + choice_columns(shown.choices, width, height - CROWDED)


def _notes(desk: Desk) -> tuple[str, ...]:
    """What is recalled before the answer: last time's state, and the marks of the points."""
    if desk.sitting is None:
        return ()
    from wizard.sitting.paging import recalled

    return recalled(desk.sitting)


def choice_columns(choices: tuple[str, ...], width: int, most: int = 99) -> list[Line]:
    """The choices, in two columns when there are more than four and they fit, or more than `most`,
    fit or not.
    """
    head = [line(fit(c, width), "dim") for c in choices if c.startswith("how seen:")]
    rest = [c for c in choices if not c.startswith("how seen:")]
    half = -(-len(rest) // 2)
    column = max((cells(c) for c in rest[:half]), default=0) + 3
    wide = len(rest) > 4 and column + max(cells(c) for c in rest[half:]) + 4 > width
    if len(rest) > most:
        column = min(column, width // 2 - 2)
    elif len(rest) <= 4 or wide:
        return head + [_choice(c, width) for c in rest]
    pairs = [
        (left, rest[half + n] if half + n < len(rest) else "") for n, left in enumerate(rest[:half])
    ]
    return head + [
        (*_choice(a, column - 1, column + 2), *_choice(b, width - column - 4)) for a, b in pairs
    ]


def _choice(text: str, width: int, filled: int = 0) -> Line:
    """`k  words`, the letter in the role of a key."""
    letter, _, words = text.partition("  ")
    if not words:
        return ()
    words = fit(words, width - len(letter) - 2)
    gap = " " * max(filled - 4 - len(letter) - cells(words), 0)
    return (("  ", ""), (letter, "key"), ("  " + words + gap, ""))


def _said(desk: Desk, width: int) -> list[Line]:
    """The message, two lines at least, so that the entry line does not jump at every answer."""
    said = desk.said
    if desk.panel:
        more = " PgDn shows more." if desk.length - desk.room > desk.panel.top else ""
        said = Said("told", f"Enter closes this.{more}")
    mark, role = MARKS.get(said.kind, ("", ""))
    text = f"{mark}{said.text} {said.aside}".strip() if said.text or said.aside else ""
    lines = wrap(text, width, role) if text else []
    if len(lines) > 3:
        lines = [*lines[:2], line(fit(as_text(lines[2:3]) + " …", width), role)]
    return lines + [BLANK] * (2 - len(lines))


def _more(said: list[Line], desk: Desk, width: int) -> list[Line]:
    """The last line of the message tells that the page goes on, where no message needs it."""
    if said[-1] != BLANK:
        return said
    words = "PgDn shows more." if desk.top + desk.room < desk.length else "PgUp goes back up."
    return [*said[:-1], line(fit(words, width), "dim")]


def _page(
    desk: Desk, shown: PageView | None, width: int, room: int, charset: Charset
) -> list[Line]:
    lines = _whole_page(desk, shown, width, room, charset)
    desk.room, desk.length = room, len(lines)
    if desk.sitting is None and desk.panel is None:
        desk.keep_in_view(desk.opening.row())
    top = desk.panel.top if desk.panel else desk.top
    top = min(top, max(len(lines) - room, 0))
    return lines[top : top + room]


def _whole_page(
    desk: Desk, shown: PageView | None, width: int, room: int, charset: Charset
) -> list[Line]:
    sitting, panel = desk.sitting, desk.panel
    if panel and not panel.verdict:
        return _panel(panel, width, room)
    if sitting is None:
        return desk.opening.lines(width)
    from wizard.screens.step_page import caution_page, step_page

    if sitting.aside.mentor and not panel and shown and not shown.caution:
        return _mentor(desk, sitting, shown, width, charset)
    if panel or shown is None:
        return _verdict(desk, sitting, width, charset)
    if shown.caution:
        return caution_page(
            shown.caution, shown.title, width, "#" if charset == "ascii" else "\u2588"
        )
    return step_page(shown, pictures_of(sitting, charset), width, room)


def _panel(panel: Panel, width: int, room: int) -> list[Line]:
    lines = [line(panel.title, "title"), BLANK, *page_text(panel.text, width)]
    if panel.fresh:
        # A list that marks where one is opens there.
        here = next((n for n, part in enumerate(lines) if as_text([part]).startswith(">")), 0)
        panel.top, panel.fresh = max(here - room // 2, 0), False
        panel.top = min(panel.top, max(len(lines) - room, 0))
    return lines


def _mentor(
    desk: Desk, sitting: Sitting, shown: PageView, width: int, charset: Charset
) -> list[Line]:
    """The mentor's view of the step in front; the drawing first."""
    from wizard.sitting.mentor import SET, parts_of
    from wizard.telling.document import set_out

    key = (sitting.survey, sitting.ask, sitting.aside.second, tuple(sorted(sitting.aside.shown)))
    if desk.mentor_kept is None or desk.mentor_kept[0] != key:
        desk.mentor_kept = key, parts_of(sitting)
    first, *rest = desk.mentor_kept[1]
    return [
        line(f"{shown.title}: the mentor's view", "title"),
        *document_lines(first.blocks(), width, charset, SET),
        *drawn(pictures_of(sitting, charset).frame(width, MENTORED)),
        BLANK,
        *document_lines(set_out(rest), width, charset, SET),
    ]


def _verdict(desk: Desk, sitting: Sitting, width: int, charset: Charset) -> list[Line]:
    from wizard.judgment.verdict import verdict_of  # numpy only once there is something to compute
    from wizard.screens.verdict_page import verdict_lines
    from wizard.sitting.since import since_section

    survey, library = sitting.survey, sitting.library
    if desk.kept is None or desk.kept[0] is not survey or desk.kept[1] != width:
        verdict, since = verdict_of(survey, library, sitting.now()), since_section(sitting)
        lines = verdict_lines(verdict, survey, library, width, charset, since)
        desk.kept = (survey, width, lines)
    return desk.kept[2]


def pictures_of(sitting: Sitting, charset: Charset) -> Pictures:
    """The drawings of the step in front, as far as they may be seen."""
    from wizard.screens.step_page import Pictures

    ask, step = sitting.ask, sitting.step
    if ask is None or step is None:
        return Pictures(lambda w, h: NOTHING, lambda w, h: NOTHING)
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
    return (
        picture_of(results[0], sitting.library, sitting.survey.unit, width, charset)
        if results
        else NOTHING
    )
