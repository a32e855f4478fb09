"""Every reading that a step asks for, off the model and without noise, and a survey taken so.

mm; for an angle degrees, for a level the slope as a ratio, left high positive. What the model
cannot answer is None: a
bolt's name, the sag under a weight that is off, a thickness of a rail whose sizes nobody gave.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from dataclasses import replace
from datetime import datetime

from wizard.library import marks
from wizard.library.places import SIDES, PromptId, StepId, across, axle_end_of, point_id
from wizard.library.shapes import Library
from wizard.math.thread import dip
from wizard.model.frame import PIT, Frame
from wizard.model.kit import PERFECT, Kit, exact_text
from wizard.survey.prompts import Prompt, expand
from wizard.survey.record import Survey, Unit
from wizard.survey.rows import Answer, Reading, State

TURNED = ("turned", "again-turned")
"""Names of the level's readings the other way round."""
Reader = Callable[[Frame, Prompt, Kit], float | None]


def reading(frame: Frame, prompt: Prompt, kit: Kit = PERFECT) -> float | None:
    """What a perfect hand reads at a prompt; None where the model has no answer."""
    if not prompt.kind.measures:
        return None
    special = READERS.get(prompt.reads)
    if special is not None:
        return special(frame, prompt, kit)
    if prompt.kind.spans and prompt.start and prompt.end:
        return math.dist(frame.point(prompt.start), frame.point(prompt.end))
    return None


def readings(frame: Frame, prompts: Iterable[Prompt], kit: Kit = PERFECT) -> dict[PromptId, float]:
    """Every reading that the model can give, by prompt id."""
    found = ((p.id, reading(frame, p, kit)) for p in prompts)
    return {id: value for id, value in found if value is not None}


def typed_readings(
    frame: Frame, prompts: Mapping[PromptId, Prompt], kit: Kit = PERFECT
) -> dict[PromptId, str]:
    """The same as typed text with seven decimals, so that what is read back is the reading itself."""
    return {
        id: exact_text(v, prompts[id], kit)
        for id, v in readings(frame, prompts.values(), kit).items()
    }


# One kind of step each
# --------------------------------------------------------------------------------------------


def _sag(frame: Frame, prompt: Prompt, kit: Kit) -> float | None:
    loaded = prompt.reads == marks.STRING_LOADED
    station = frame.layout.station_by_id.get(prompt.item)
    side = prompt.name
    if station is None or side not in SIDES or (loaded and not frame.loaded):
        return None
    low = frame.sag(side, station.x, loaded=loaded)
    low += frame.deeper(station.x) if kit.string_below else 0.0
    return (
        kit.block - low + _hang(frame, kit, station.x)
        if kit.string_below
        else (kit.block + low - _hang(frame, kit, station.x))
    )


def _under_body(frame: Frame, prompt: Prompt, kit: Kit) -> float | None:
    """From a string below the rail, the body on its mounts with the bolts slack or tight; the
    model's shims fill each gap.
    """
    station = frame.layout.station_by_id.get(prompt.item)
    if station is None or prompt.name not in SIDES:
        return 0.0
    low = frame.sag(prompt.name, station.x, loaded=frame.loaded) + frame.deeper(station.x)
    lift = frame.lift(prompt.name, station.x) if prompt.reads == marks.BODY_TIGHT else 0.0
    return kit.block - low + lift + _hang(frame, kit, station.x)


def _hang(frame: Frame, kit: Kit, x: float) -> float:
    front, rear = frame.layout.string
    along = min(max(x - front, 0.0), rear - front)
    return dip(along, rear - front, kit.string_g_per_m, kit.string_newton)


def _string(frame: Frame, prompt: Prompt, kit: Kit) -> float | None:
    front, rear = frame.layout.string
    return {"block": kit.block, "span": rear - front}.get(prompt.name)


def _level(frame: Frame, prompt: Prompt, kit: Kit) -> float | None:
    level = frame.layout.level_by_id.get(prompt.item)
    if level is None:
        return None
    return frame.slope(level.place) + (-kit.level_own if prompt.name in TURNED else kit.level_own)


def _bar(frame: Frame, prompt: Prompt, kit: Kit) -> float | None:
    """The diagonal on which the bar was set, less the one to which it was carried."""
    if not prompt.start:
        return 0.0
    here = math.dist(frame.point(prompt.start), frame.point(prompt.end))
    return math.dist(frame.point(across(prompt.start)), frame.point(across(prompt.end))) - here


def _hint(frame: Frame, prompt: Prompt, kit: Kit) -> float | None:
    return engine_off(frame, "pulley" if prompt.name == "pulley" else "tail")


def engine_off(frame: Frame, end: str) -> float:
    """How far the engine's end stands to the right of the middle of its crossmember, mm.

    The engine is stiff and stands square to the line between its two rear mounts; where its mount
    is not known it stays in the middle. Its ends are read at the front pair and at the pair nearest
    the frame's middle.
    """
    innocent = frame.bent.pulley if end == "pulley" else frame.bent.tail
    mount = frame.layout.figures.get("engine_mount_x")
    if mount is None:
        return innocent
    left, right = (frame.rail(side, mount) for side in SIDES)
    sides = [frame.rail(side, frame.front if end == "pulley" else frame.knee) for side in SIDES]
    x, y = ((sides[0][n] + sides[1][n]) / 2 for n in (0, 1))
    lead = (right[0] - left[0]) / ((right[1] - left[1]) or 1.0)
    axis = (left[1] + right[1]) / 2 - lead * (x - (left[0] + right[0]) / 2)
    return axis - y + innocent


def _wheelbase(frame: Frame, prompt: Prompt, kit: Kit) -> float | None:
    what = prompt.name
    f = frame.layout.figures
    front, rear = f.get("front_axle_x", frame.front), f.get("rear_axle_x", frame.rear)
    track = f.get("track", 2 * frame.half_width(rear))
    axles = {"front": (front, frame.bent.axle_front), "rear": (rear, frame.bent.axle_rear)}
    if what in SIDES:
        ahead, behind = (_wheel(x, skew, track, what) for x, skew in axles.values())
        back = frame.bent.beam_left if what == "left" else frame.bent.beam_right
        return math.dist((ahead[0] + back, ahead[1]), behind)
    end = axle_end_of(what)
    if end is None:
        return None
    x, skew = axles[end.axle]
    pair = frame.pairs[0 if end.axle == "front" else -1]
    point = frame.point(point_id(pair.id, end.side))
    return abs(point[0] - (x - point[1] * math.tan(math.asin(skew / track))))


def _wheel(x: float, skew: float, track: float, side: str) -> tuple[float, float]:
    """Middle of a wheel on the floor; the axle turned so that its left end is `skew` further back
    than its right.
    """
    turn, sign = math.asin(skew / track), -1.0 if side == "left" else 1.0
    return x - sign * track / 2 * math.sin(turn), sign * track / 2 * math.cos(turn)


CALIPER = "caliper"
"""Kind of tool that reads metal; how far a pit runs is taped."""


def _pitting(frame: Frame, prompt: Prompt, kit: Kit) -> float | None:
    sound = frame.layout.figures.get("rail_thickness")
    if sound is None:
        return None
    if prompt.tool != CALIPER:
        return frame.thin_place(str(prompt.item))[0]
    gone = max(frame.bent.pit, frame.thin(str(prompt.item)))
    return sound - (gone if prompt.name == "pitted" else 0.0)


def _thin(frame: Frame, prompt: Prompt, kit: Kit) -> float | None:
    """The worst place is the thin stretch of the rail, where it has one; the others are all as deep as
    the model's one pit, and lie one behind the other.
    """
    sound = frame.layout.figures.get("rail_thickness")
    if sound is None:
        return None
    pit, _, nth = prompt.name.rpartition("-")
    long, wide, back = PIT
    _, across, middle = frame.thin_place(str(prompt.item))
    by_name = {
        "": sound,
        "metal": sound - frame.bent.pit,
        "long": long,
        "wide": wide,
        "from": back * int(nth) if nth.isdigit() else back,
        "pit": max(middle, 0.0) if nth == "from" else across,
    }
    return by_name.get(pit)


# The axle set of a straight car, from memory: round figures that nothing rests on but what is bent.
MARKS_APART = 1 / 1.7
"""How far the two marks on the front beam lie apart, as a part of its length between the blocks."""
PERCH_DOWN, SHACKLE_LONG, SHACKLE_AWAY = 180.0, 75.0, 25.0
"""mm from a rail down to its perch; mm from bolt to bolt of a shackle; degrees that it leans
away.
"""
CASTER_PLAIN, CAMBER_PLAIN, TOE_PLAIN, TREADS = 5.0, 1.0, 3.0, 1300.0
"""Degrees, degrees, mm, and mm from tread to tread in front."""


def _beam(frame: Frame, prompt: Prompt, kit: Kit) -> float | None:
    """The gap between a string over blocks on both ends and the straight middle of the beam."""
    ends = {"left": frame.bent.beam_left, "right": frame.bent.beam_right}
    if prompt.name not in ends:
        return kit.block
    here, other = ends[prompt.name], ends[SIDES[prompt.name == "left"]]
    chord = (here + other) / 2 + (here - other) / 2 * MARKS_APART
    return kit.block - chord


def _perches(frame: Frame, prompt: Prompt, kit: Kit) -> float | None:
    """A weak spring lets its rail down, and leans its shackle away by as much as it is long.

    A perch that is bent inward does the same to its shackle alone: the spring's end stays where it
    was. Whether the rail goes up or down with that hangs on whether the shackle stands or hangs,
    and is left out.
    """
    bent, left = frame.bent, "left" in prompt.name
    sign = 1.0 if left else -1.0
    down = bent.front_spring / 2 * sign
    if prompt.kind.spans:
        return PERCH_DOWN - down
    if prompt.name.startswith(REAR):
        return _leans(bent.weak_spring / 2 * sign) + bent.rear_shackle / 2 * sign
    return _leans(down + (bent.perch_left if left else bent.perch_right))


REAR = "rear"
"""Begins the names of the prompts at a rear spring."""


def _leans(along: float) -> float:
    """Degrees that a shackle leans away once its spring's end went so many mm further out."""
    sine = math.sin(math.radians(SHACKLE_AWAY)) + along / SHACKLE_LONG
    return math.degrees(math.asin(max(-1.0, min(1.0, sine))))


def ball_caster(frame: Frame) -> float:
    """Degrees of caster that the set of the rails makes by the ball of the axle's rod; 0 on a frame
    without one.
    """
    figures = frame.layout.figures
    if not {"ball_x", "rod"} <= figures.keys():
        return 0.0

    def low(x: float) -> float:
        return sum(frame.drop(side, x, loaded=False) for side in SIDES) / len(SIDES)

    drop = low(figures["ball_x"])
    if marks.BALL_ON_GEARBOX in frame.layout.traits:
        front, mount = figures["engine_front_x"], figures["engine_mount_x"]
        share = (figures["ball_x"] - front) / (mount - front)
        drop = low(front) + (low(mount) - low(front)) * share
    return math.degrees(math.atan(drop / figures["rod"]))


def _wheel_leans(frame: Frame, prompt: Prompt, kit: Kit) -> float | None:
    what, bent = prompt.name, frame.bent
    sign = 1.0 if what.endswith("left") else -1.0
    if what.startswith("caster"):
        return CASTER_PLAIN + ball_caster(frame) + sign * bent.beam_twist / 2
    if what.startswith("camber"):
        return CAMBER_PLAIN + (bent.camber_left if sign > 0 else bent.camber_right)
    return 0.0


def _toe(frame: Frame, prompt: Prompt, kit: Kit) -> float | None:
    return TREADS + (TOE_PLAIN + frame.bent.toe if prompt.name == "back" else 0.0)


SHIMS, PACKED = 10.0, 2
"""mm under every mount of the body, and the pair, counted from the front, at which shims may be
missing.
"""


def _shims(frame: Frame, prompt: Prompt, kit: Kit) -> float | None:
    missing = {"left": frame.bent.shims_left, "right": frame.bent.shims_right}
    there = prompt.name.endswith(f"-{PACKED}")
    return max(0.0, SHIMS - (missing.get(str(prompt.item), 0.0) if there else 0.0))


def _depth(frame: Frame, prompt: Prompt, kit: Kit) -> float | None:
    """Of the rail, web upright; it is as deep at both blocks."""
    depth, station = (
        frame.layout.figures.get("rail_depth"),
        frame.layout.station_by_id.get(prompt.item),
    )
    if depth is None or station is None:
        return depth
    return depth + frame.deeper(station.x)


READERS: dict[str, Reader] = {
    marks.STRING_LOADED: _sag,
    marks.STRING_UNLOADED: _sag,
    marks.STRING_BLOCKS: _string,
    marks.SLOPES: _level,
    marks.CARRIED_BAR: _bar,
    marks.ENGINE_ENDS: _hint,
    marks.AXLES: _wheelbase,
    marks.METAL: _pitting,
    marks.THIN_PLACES: _thin,
    marks.BEAM: _beam,
    marks.PERCHES: _perches,
    marks.WHEEL_LEANS: _wheel_leans,
    marks.TOE_TAPES: _toe,
    marks.BODY_SLACK: _under_body,
    marks.BODY_TIGHT: _under_body,
    marks.SHIMS: _shims,
    marks.RAIL_DEPTHS: _depth,
}
"""What is read where it is no distance between two points."""


# A survey taken on the model: every reading as typed text, so that the real checks can read it
# ------------------------------------------------------------------------------------------------


DAY = datetime(2000, 1, 1)
"""A model has no day."""


def prompts_of(frame: Frame, library: Library) -> dict[PromptId, Prompt]:
    """Every prompt that the steps for this kind of frame ask, by id."""
    id = frame.layout.id
    steps = (s for s in library.steps.values() if not s.layouts or id in s.layouts)
    return {p.id: p for step in steps for p in expand(step, frame.layout, library.tools)}


def library_for(frame: Frame, library: Library) -> Library:
    """The library with the frame's own sizes in the place of its layout's round figures."""
    return replace(library, layouts={**library.layouts, frame.layout.id: frame.layout})


def survey_on(
    frame: Frame,
    prompts: Mapping[PromptId, Prompt],
    steps: Collection[StepId] = (),
    unit: Unit = "mm",
    kit: Kit = PERFECT,
) -> Survey:
    """The readings of these steps (of all, for none named), each once, without noise."""
    wanted = {id: p for id, p in prompts.items() if not steps or p.step in steps}
    taken = typed_readings(frame, wanted, kit)
    rows = tuple(
        Reading(id=f"r{n}", at=DAY, prompt=id, typed=text, state="s1")
        for n, (id, text) in enumerate(taken.items(), start=10)
    )
    bent = frame.bent
    engine = "in" if bent.engine == "in" else "weight-off"
    return Survey(
        id="model",
        car="The model",
        started=DAY,
        layout=frame.layout.id,
        unit=unit,
        rows={
            "state": (State(id="s1", at=DAY, engine=engine, body="off", supports=bent.supports),),
            "answer": tuple(_answers(prompts.values(), kit)),
            "reading": rows,
        },
    )


def _answers(prompts: Iterable[Prompt], kit: Kit) -> Iterator[Answer]:
    """That the string runs as the kit says, and hangs steady; that what is thin is so on top."""
    below = marks.BELOW if kit.string_below else ""
    meant = {marks.STRING_SIDE: below, marks.STRING_STEADY: marks.STEADY}
    meant |= {marks.PIT_FACE: marks.TOP, marks.THIN_FACE: marks.TOP}
    asked = (prompt for prompt in prompts if prompt.asks in meant)
    for n, prompt in enumerate(asked, start=2):
        token = next(c.token for c in prompt.choices if c.says == meant[prompt.asks])
        yield Answer(id=f"a{n}", at=DAY, prompt=prompt.id, answer=token)
