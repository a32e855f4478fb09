"""The drawing for the prompt in front, from the layout's points and the survey's own numbers."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from wizard.library import marks
from wizard.library.places import PlaceId, PointId, QuantityId, across, asked_of, point_id, spoken
from wizard.library.set_up import lengths_in
from wizard.library.shapes import Layout, Library, Step
from wizard.model.readings import TURNED
from wizard.survey.built_frame import sketch
from wizard.survey.guide import layout_of
from wizard.survey.meant import meant
from wizard.survey.own_frame import said_of
from wizard.survey.prompts import Prompt
from wizard.survey.record import Survey
from wizard.survey.standing import SUPPORTS
from wizard.telling.canvas import Charset, Drawing
from wizard.telling.cells import painted
from wizard.telling.drawing_end import ONE_BOX, end_view
from wizard.telling.scene_axle import axle_scene
from wizard.telling.scene_frame import (
    NONE,
    SIDES,
    TAPED,
    Extras,
    Pair,
    Spot,
    horns_scene,
    plan_scene,
    spots,
)
from wizard.telling.scene_look import corner_of, look_of, look_view, supports_scene
from wizard.telling.scene_set_up import set_up_scene
from wizard.telling.scene_string import Rail, Sags, sags_of, side_view, times_of

BAR_KEY = "dots: the bar's other way"
MOST = 2
"""Tapes already taken that are drawn beside the one that is due."""
ENDS = ("front", "rear")
UNDER = PointId("under")
"""The spot of an axle that lies under the rail."""
NOTHING = Drawing((), (), "")


@dataclass(frozen=True, slots=True)
class Box:
    """The room for a drawing, in cells."""

    width: int
    height: int
    charset: Charset


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
    if prompt.kind.acknowledges:
        return NOTHING
    draw = PAINTERS.get(step.drawing, _look)
    drawn = draw(survey, library, step, prompt, Box(width, height, charset))
    word = layout_of(survey, library).worded
    return drawn._replace(lines=tuple(map(word, drawn.lines)), words=word(drawn.words))


def _plan(survey: Survey, library: Library, step: Step, prompt: Prompt, box: Box) -> Drawing:
    """The frame from above, or its front end, with the tape asked for and those taken already."""
    layout = layout_of(survey, library)
    asked = (prompt.start, prompt.end)
    lit = asked if set(asked) <= spots(layout).keys() else None
    done = _shown(_done(survey, library, step), lit, step)
    if step.drawing == "horns":
        scene = horns_scene(layout, lit, done)
    else:
        key = BAR_KEY if step.reads == marks.CARRIED_BAR else TAPED
        scene = plan_scene(layout, lit, done, extras=extras_of(prompt, layout), key=key)
    return painted(scene, box.width, box.height, box.charset)


def _shown(done: set[Pair], lit: Pair | None, step: Step) -> set[Pair]:
    """Of the tapes taken those that are drawn: many of them would hide the one that is due."""
    if lit is None:
        return done
    if step.reads == marks.CARRIED_BAR:
        return {_twin(lit)}
    others = done - {lit}
    return others & {_twin(lit)} if len(others) > MOST else others


def _side(survey: Survey, library: Library, step: Step, prompt: Prompt, box: Box) -> Drawing:
    """The rail under its string, bent as far as it is read."""
    layout = layout_of(survey, library)
    last = prompt.name
    side = last if last in SIDES else "left"
    station = prompt.item if any(s.id == prompt.item for s in layout.stations) else None
    under_body = step.reads in (marks.BODY_SLACK, marks.BODY_TIGHT)
    above = not under_body and meant(survey, library, marks.STRING_SIDE) != marks.BELOW
    found = _sags(survey, library)
    quantity = marks.SAG_LOADED if step.reads == marks.STRING_LOADED else marks.SAG_UNLOADED
    sags = found.get(quantity, {}).get(side, {})
    rail = Rail(layout, side, sags, station, above, times_of(found, layout))
    return side_view(rail, box.width, box.height, box.charset)


def _end(survey: Survey, library: Library, _: Step, prompt: Prompt, box: Box) -> Drawing:
    """The level across the rails at the place asked for."""
    layout = layout_of(survey, library)
    at = layout.level_by_id.get(prompt.item) or next(iter(layout.levels), None)
    section = ONE_BOX if at and at.one_box else layout.section
    slope, turned = _slope(survey, library, prompt), prompt.name in TURNED
    return end_view(
        at.name if at else "", slope, turned, box.width, box.height, box.charset, section
    )


def _look(survey: Survey, library: Library, step: Step, prompt: Prompt, box: Box) -> Drawing:
    """The part of the rails that is looked at."""
    side, third = asked_of(prompt.id).first_side, library.signs.thirds.get(step.id, "")
    if prompt.kind.gathers and step.lit:
        side, third = (*step.lit, "")[:2]
    look = look_of(layout_of(survey, library), step, side, third, prompt.over)
    return look_view(look, box.width, box.height, box.charset)


def _supports(survey: Survey, library: Library, step: Step, prompt: Prompt, box: Box) -> Drawing:
    """What the car stands on, the corner lit that is asked about."""
    layout, state = layout_of(survey, library), survey.state()
    corner = corner_of(layout, asked_of(prompt.id).first_side, prompt.over)
    choices = prompt.choices if prompt.keep == SUPPORTS else ()
    scene = supports_scene(layout, state.supports, choices, corner)
    return painted(scene, box.width, box.height, box.charset)


def _set_up(survey: Survey, library: Library, _: Step, prompt: Prompt, box: Box) -> Drawing:
    """The frame as far as its owner has said what it is like."""
    template = library.own
    if template is None:
        return NOTHING
    said = said_of(survey)
    known = sketch(template, said, survey.unit)
    if (
        not known.places
    ):  # Before the first width there is nothing to draw, and the moves need room.
        return NOTHING
    scene = set_up_scene(known, lengths_in(said), template)
    return painted(scene, box.width, box.height, box.charset)


def _axle_set(_: Survey, __: Library, ___: Step, prompt: Prompt, box: Box) -> Drawing:
    """The front axle with string, gauge or tape where the prompt reads."""
    here = (str(prompt.item), prompt.name.rpartition("-")[2])
    side = next((word for word in here if word in SIDES), "")
    scene = axle_scene(prompt.reads, prompt.point, side, prompt.name)
    return painted(scene, box.width, box.height, box.charset)


PAINTERS = {
    **{"plan": _plan, "horns": _plan, "side": _side, "end": _end},
    **{"supports": _supports, "set-up": _set_up, "axle": _axle_set},
}
"""By what a page says it draws; every other page shows where to look."""


# Beside the frame
# --------------------------------------------------------------------------------------


def extras_of(prompt: Prompt, layout: Layout) -> Extras:
    """The extras of a prompt; none for most."""
    draw = {marks.AXLES: _axles, marks.ENGINE_ENDS: _engine}.get(prompt.reads)
    return draw(prompt, layout) if draw else NONE


def _axles(prompt: Prompt, layout: Layout) -> Extras:
    """Both axles; the tape runs between their ends, or along the rail from the axle under it."""
    figures, name = layout.figures, prompt.name
    if not {"front_axle_x", "rear_axle_x", "track"} <= figures.keys():
        return NONE
    half = figures["track"] / 2.0
    beside = {
        PointId(f"axle-{end}-{side}"): _axle(
            f"{side} end of the {end} axle", end, sign * half, layout
        )
        for end in ENDS
        for side, sign in SIDES.items()
    }
    lines = tuple((PointId(f"axle-{end}-left"), PointId(f"axle-{end}-right")) for end in ENDS)
    if name in SIDES:
        return Extras(beside, lines, (PointId(f"axle-front-{name}"), PointId(f"axle-rear-{name}")))
    under = {f"{end}-axle-{side}": (end, side) for end in ENDS for side in SIDES}
    if name not in under:
        return Extras(beside, lines)
    end, side = under[name]
    beside[UNDER] = _under(end, side, half, layout)
    return Extras(beside, lines, (UNDER, point_id(PlaceId(end), side)))


def _under(end: str, side: str, across: float, layout: Layout) -> Spot:
    """The spot of an axle that lies under the rail."""
    place = layout.place_by_id.get(PlaceId(end))
    rail = place.half_width if place else across
    return _axle(f"{end} axle under the {side} rail", end, SIDES[side] * rail, layout)


def _axle(name: str, end: str, y: float, layout: Layout) -> Spot:
    return Spot(name, layout.figures[f"{end}_axle_x"], y, beside=True)


def _engine(prompt: Prompt, layout: Layout) -> Extras:
    """One end of the engine over the crossmember to which it is read."""
    mark, over = PointId(prompt.name), layout.place_by_id.get(prompt.over)
    spot = Spot(spoken(prompt.name), over.x, 0.0, beside=True) if over else None
    return Extras({mark: spot}, mark=mark) if spot else NONE


# From the survey
# --------------------------------------------------------------------------------------


def _twin(pair: Pair) -> Pair:
    """The same tape with left and right changed over."""
    return across(pair[0]), across(pair[1])


def _done(survey: Survey, library: Library, step: Step) -> set[Pair]:
    """Pairs of points of this step that have a reading already."""
    read = map(asked_of, survey.read())
    return {a.tape.ends for a in read if a.step == step.id and a.tape}


def _sags(survey: Survey, library: Library) -> Mapping[QuantityId, Mapping[str, Sags]]:
    """Each sag read so far with its doubt, by what is read and by side."""
    pages = {asked_of(prompt).step for prompt in survey.read()}
    if not any(library.steps[id].reads in marks.STRING for id in pages & library.steps.keys()):
        return {}
    from wizard.judgment.sight import sight_of  # numpy only once there is something to compute

    return sags_of(sight_of(survey, library).judged)


def _slope(survey: Survey, library: Library, prompt: Prompt) -> float | None:
    """The slope just read the other way round, to draw the bubble where it was."""
    if not survey.readings_of(prompt.id):
        return None
    from wizard.checks.case import case_of

    taken = case_of(survey, library).taken(prompt.id)
    return taken.number.value if taken else None
