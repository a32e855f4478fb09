"""The drawing for the prompt in front, from the layout's points and the survey's own numbers."""

from __future__ import annotations

from wizard.library.shapes import Library, Step
from wizard.survey.guide import layout_of
from wizard.survey.prompts import Prompt
from wizard.survey.record import Survey
from wizard.survey.rows import Reading
from wizard.telling.canvas import Charset, Drawing
from wizard.telling.drawing_end import end_view
from wizard.telling.drawing_extras import extras_of
from wizard.telling.drawing_horns import horns_view
from wizard.telling.drawing_look import look_view
from wizard.telling.drawing_plan import TAPED, plan_view, spots
from wizard.telling.drawing_side import side_view

BAR = "front-box-bar"
BAR_KEY = "dots: the bar's other way"
MOST = 2
"""Tapes already taken that are drawn beside the one that is due."""
NOTHING = Drawing((), (), "")


def drawing_for(
    survey: Survey,
    library: Library,
    step: Step,
    prompt: Prompt,
    width: int,
    height: int,
    charset: Charset,
) -> Drawing:
    """What to show for a prompt, in a box of so many cells; no lines where there is no room."""
    layout = layout_of(survey, library)
    if prompt.kind == "ack":
        return NOTHING
    if step.drawing in ("plan", "horns"):
        lit = (
            (prompt.start, prompt.end)
            if {prompt.start, prompt.end} <= spots(layout).keys()
            else None
        )
        done = _done(survey, library, step) - ({lit} if lit else set())
        if lit and (step.id == BAR or len(done) > MOST):  # more of them hide the one that is due
            done = {_twin(lit)} & (done | ({_twin(lit)} if step.id == BAR else set()))
        if step.drawing == "horns":
            return horns_view(layout, lit, width, height, charset, done=done)
        key = BAR_KEY if step.id == BAR else TAPED
        return plan_view(
            layout,
            lit,
            width,
            height,
            charset,
            done=done,
            extras=extras_of(prompt, layout),
            key=key,
        )
    if step.drawing == "side":
        side = prompt.id.rsplit("/", 1)[-1]
        side = side if side in ("left", "right") else "left"
        lit_station = prompt.item if any(s.id == prompt.item for s in layout.stations) else None
        string = "below" if survey.answer_to("string-set-up/where") == "below" else "above"
        sags = _sags(survey, library, step, side)
        return side_view(layout, side, sags, lit_station, string, width, height, charset)
    if step.drawing == "end":
        place = next(
            (v for v in layout.levels if v.id == prompt.item),
            layout.levels[0] if layout.levels else None,
        )
        turned = prompt.id.endswith("turned")
        return end_view(
            place.name if place else "",
            _slope(survey, library, prompt),
            turned,
            width,
            height,
            charset,
        )
    side = next((s for s in ("left", "right") if prompt.id.split("/")[1:2] == [s]), "")
    return look_view(layout, step.id, side, library.signs.thirds.get(step.id, ""), width, charset)


def _twin(pair: tuple[str, str]) -> tuple[str, str]:
    """The same tape with left and right changed over."""
    return _over(pair[0]), _over(pair[1])


def _over(point: str) -> str:
    """The point across the car; one in the middle stays."""
    base, _, side = point.rpartition("-")
    return f"{base}-{'right' if side == 'left' else 'left'}" if side in ("left", "right") else point


def _done(survey: Survey, library: Library, step: Step) -> set[tuple[str, str]]:
    """Pairs of points of this step that have a reading already."""
    pairs = set()
    for row in survey.standing(Reading):
        head, _, last = row.prompt.rpartition("/")
        if head.split("/", 1)[0] == step.id and "--" in last:
            start, _, end = last.partition("--")
            pairs.add((start, end))
    return pairs


def _sags(survey: Survey, library: Library, step: Step, side: str) -> dict[str, float]:
    """Sag at each station read so far on this side, mm; of the step in front, else without the
    weight.
    """
    if not any(r.prompt.startswith("sag-") for r in survey.standing(Reading)):
        return {}
    from wizard.checks.run import findings_of  # numpy only once there is something to compute

    quantity = "sag-loaded" if step.id == "sag-loaded" else "sag-unloaded"
    found = [f for f in findings_of(survey, library) if f.quantity == quantity]
    return {s: f.value for f in found for s, _, at in [f.where.partition("/")] if at == side}


def _slope(survey: Survey, library: Library, prompt: Prompt) -> float | None:
    """The slope just read the other way round, to draw the bubble where it was."""
    if not survey.readings_of(prompt.id):
        return None
    from wizard.checks.case import case_of

    taken = case_of(survey, library).taken(prompt.id)
    return taken.number.value if taken else None
