"""The page in front as it may be shown: blind for a second reader, its result held back for a
guess.
"""

from __future__ import annotations

from dataclasses import replace

from wizard.judgment.bands import Judged
from wizard.sitting.aside import blind
from wizard.sitting.marks import of_prompt
from wizard.sitting.mentor import WAITING, waits
from wizard.sitting.since import since_line
from wizard.sitting.sitting import Sitting
from wizard.survey.follow import THEN
from wizard.survey.record import Survey
from wizard.survey.rows import PointNote
from wizard.telling.page import PageView, results_of_step, view
from wizard.telling.then_words import then_line

HIDDEN = "hidden until both are in"


def page_of(sitting: Sitting) -> PageView | None:
    """What every face shows of the page in front; None at the end."""
    if sitting.ask is None:
        return None
    page = view(may_see(sitting), sitting.library, sitting.pages(), sitting.ask, sitting.now())
    if sitting.aside.second:
        rows = tuple(
            replace(r, values=HIDDEN) if r.prompt in sitting.aside.second else r for r in page.rows
        )
        page = replace(page, rows=rows, nth="(second reader)")
    if page.live and (then := since_line(sitting, sitting.step)):
        page = replace(page, live=(page.live[0], then, *page.live[1:]))
    if page.live and waits(sitting, sitting.step):
        page = replace(page, live=(WAITING,))
    return page


def may_see(sitting: Sitting) -> Survey:
    """The survey as far as whoever reads just now may see it."""
    return blind(sitting.survey, sitting.aside)


def results_shown(sitting: Sitting) -> tuple[Judged, ...]:
    """The results of the step in front; none while they are held back."""
    step = sitting.step
    if step is None or waits(sitting, step):
        return ()
    return results_of_step(may_see(sitting), sitting.library, step)


def recalled(sitting: Sitting) -> tuple[str, ...]:
    """What is recalled before the answer: last time's state or look, and the marks of the points,
    never a reading.
    """
    if sitting.prompt is None or sitting.prompt.kind.acknowledges:
        return ()
    then = then_line(sitting.prompt, sitting.earlier)
    own = replace(sitting.survey, rows={"point": _own_marks(sitting)})
    return (*((then,) if then else ()), *of_prompt(own, sitting.prompt))


def _own_marks(sitting: Sitting) -> tuple[PointNote, ...]:
    """The marks set down today; those that were carried over are told with last time's."""
    notes = sitting.survey.standing(PointNote)
    return tuple(n for n in notes if sitting.earlier is None or THEN not in n.extra)
