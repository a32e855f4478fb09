"""What a deviation would have moved elsewhere: predictions that can be checked on the car.

Source of the caster: geometry, atan(h / R). The rest: common practice, no published source. A
prediction that comes true makes a reading more credible; one that does not sends the person back to
the reading, never to the frame. Nothing of an axle set judges the frame, and a wobble never does.
"""

from collections.abc import Collection, Iterator
from typing import NamedTuple

from wizard.checks.notes import AT_LEAST, EITHER_SIDE
from wizard.judgment.bands import Judged
from wizard.judgment.cause import Causes
from wizard.judgment.corner import carried, explained
from wizard.judgment.facts import SIDES, Told, beyond, is_out, is_true
from wizard.library import marks
from wizard.library.places import NO_PROMPT, FindingId, PromptId, QuantityId, Source, WhereId
from wizard.library.shapes import Layout
from wizard.survey.record import Survey

WOBBLE_DEG = 1.0
"""Caster from which a wobble at low speed may begin (common practice, no published source)."""

LEAST_DEG = 0.1
"""Caster beyond its doubt that the frame is said to make: nobody steers less, and of rails that never set
one survey in twenty reads something (this project's own figure).
"""

SEEN_MM = 3.0
"""How far a fan must be off before an eye sees it behind the radiator (this project's own
guess).
"""


class Prediction(NamedTuple):
    """One thing to look at because of one finding."""

    id: str
    """hood-gap, fan, caster, brake-rods, doors, wheelbase, front-axle"""
    sources: tuple[Source, ...]
    """Ids of the findings it follows from."""
    asks: str = ""
    """Question whose answer checks it, of wizard/library/marks.py; empty where none asks."""
    expects: tuple[str, ...] = ()
    """Answers that agree."""
    unlike: tuple[str, ...] = ()
    """Answers that speak against it."""
    prompt: PromptId = NO_PROMPT
    """Prompt that asks it."""
    said: str = ""
    """What was answered, by its meaning; empty when it was not looked at.

    A wheelbase: measured, or explained by the corner.
    """
    amount: float = 0.0
    """Degrees of caster, mm of wheelbase; 0 where there is no amount."""
    outcome: str = "open"
    """agrees, contradicts, open; of a wheelbase also `stayed`: the axle did not go with its corner"""
    kind: str = ""
    """sag, crown, one-rail, shift, corner, twist: what it follows from; of the fan, where it
    sits.
    """
    side: str = ""
    """left, right: the wheelbase that must be the shorter one."""
    end: str = ""
    """front, rear: the axle that goes with the frame."""


def predictions(facts: Told, causes: Causes) -> tuple[Prediction, ...]:
    """Everything to look at, in the order of a walk round the car."""
    found = [*_sag(facts, causes), *_crown(facts, causes), *_one_rail(facts, causes)]
    found += [*_fan(facts), *_caster(facts), *_shift(facts), *_twist(facts)]
    return tuple({p.id: p for p in reversed(found)}.values())[::-1]


def _signs(causes: Causes, *ids: str) -> tuple[Source, ...]:
    for conclusion in causes.conclusions.values():
        for e in conclusion.signs:
            if e.sign.finding in ids:
                return e.sources
    return ()


def hood_read(facts: Told) -> tuple[str, tuple[FindingId, ...]]:
    """What the rule says of the hood's gap, in the eye's words, and the findings; empty where it
    cannot tell.
    """
    sides = facts.of(marks.HOOD_TAPER)
    if set(map(str, sides)) != set(SIDES):
        return "", ()
    ways = {
        str(side): (j.finding.value > 0) - (j.finding.value < 0) if beyond(j, 0.0) else 0
        for side, j in sides.items()
    }
    words = {0: marks.EVEN, 1: marks.TIGHT, -1: marks.WIDE}
    said = words[ways["left"]] if ways["left"] == ways["right"] else marks.UNLIKE
    return said, tuple(j.finding.id for j in sides.values())


def _off(survey: Survey, what: str) -> str:
    """`off` for what cannot be looked at as the car stands, and so was not asked."""
    part = {"hood-gap": survey.state().panels, "doors": survey.state().body}.get(what, "")
    return marks.OFF if part == marks.OFF else ""


def _asked(facts: Told, made: Prediction) -> Prediction:
    asked = facts.library.asking(made.asks)
    answered = asked is not None and bool(facts.survey.answer_to(asked.prompt))
    said = facts.meant(made.asks) or marks.SOMETHING if answered else _off(facts.survey, made.id)
    if made.id == "hood-gap" and (read := hood_read(facts))[0]:
        said, made = (
            read[0],
            made._replace(sources=(*made.sources, *read[1])),
        )  # a rule sees more than an eye
    outcome = "agrees" if said in made.expects else "contradicts" if said in made.unlike else "open"
    prompt = asked.prompt if asked else NO_PROMPT
    return made._replace(prompt=prompt, said=said, outcome=outcome)


def _sag(facts: Told, causes: Causes) -> Iterator[Prediction]:
    ids = _signs(causes, "equal-sag", "equal-sag-untold", "equal-sag-loaded", "equal-sag-bent")
    if not ids or not any(j.finding.id in ids and j.worst != "leave" for j in facts.judged):
        return  # So little shows nowhere.
    fitted = bool(causes.older)
    hood = (marks.EVEN,) if fitted else (marks.TIGHT,)
    unlike = (marks.TIGHT, marks.WIDE, marks.UNLIKE) if fitted else (marks.WIDE,)
    yield _asked(facts, Prediction("hood-gap", ids, marks.HOOD_GAP, hood, unlike, kind="sag"))
    yield Prediction("brake-rods", ids, kind="sag")


def _fan(facts: Told) -> Iterator[Prediction]:
    """Only where the engine's own supports let it move, and by enough for an eye."""
    fan = next(iter(facts.of(marks.FAN_DROP).values()), None)
    if fan is None or not beyond(fan, 0.0) or abs(fan.finding.value) < SEEN_MM:
        return
    ways = [(marks.LOW,), (marks.HIGH,)]
    expects, unlike = ways if fan.finding.value > 0 else reversed(ways)
    ids, kind = (fan.finding.id,), str(*expects)
    yield _asked(facts, Prediction("fan", ids, marks.FAN, expects, unlike, kind=kind))


def _crown(facts: Told, causes: Causes) -> Iterator[Prediction]:
    ids = _signs(causes, "crown", "crown-as-told")
    if ids:
        made = Prediction(
            "hood-gap",
            ids,
            marks.HOOD_GAP,
            (marks.WIDE,),
            (marks.TIGHT,),
            kind="crown",
        )
        if not causes.older:
            yield _asked(facts, made)
        yield Prediction("brake-rods", ids, kind="crown")


def _one_rail(facts: Told, causes: Causes) -> Iterator[Prediction]:
    ids = _signs(causes, "one-rail-sag", "string-kink")
    jacked = [
        e for c in causes.conclusions.values() for e in c.against if e.sign.id == "low-by-a-jack"
    ]
    ids = ids or tuple(dict.fromkeys(i for e in jacked for i in e.sources))
    if ids:
        made = Prediction(
            "hood-gap", ids, marks.HOOD_GAP, (marks.UNLIKE,), (marks.EVEN,), kind="one-rail"
        )
        if not causes.older:  # a hood that was fitted to it shows nothing of it
            yield _asked(facts, made)
        yield Prediction("brake-rods", ids, kind="one-rail")


def _caster(facts: Told) -> Iterator[Prediction]:
    """A wobble agrees only with enough caster; with less it speaks for joints, toe and tires."""
    caster = next(iter(facts.of(marks.CASTER).values()), None)
    if caster is None or not beyond(caster, LEAST_DEG):
        return
    much = abs(caster.finding.value) >= WOBBLE_DEG
    amount = caster.finding.value
    felt = (marks.WOBBLE,) if amount > 0 else (marks.WANDER,)
    expects, unlike = (felt, ()) if much else ((marks.QUIET,), felt)
    made = Prediction(
        "caster", (caster.finding.id,), marks.STEERING, expects, unlike, amount=amount
    )
    yield _asked(facts, made)


def _shift(facts: Told) -> Iterator[Prediction]:
    """A box out of square, or one corner of it, may carry its axle with it: the wheelbases then
    differ.
    """
    by = carried(facts.judged, facts.layout)
    if by is None or (by.end == "rear" and not by.corner):
        return
    base = next(iter(facts.of(marks.WHEELBASE).values()), None)
    kind = "corner" if by.corner else "shift"
    amount = by.most if by.corner else by.most / 2
    made = Prediction(
        marks.BASE, by.sources, "", amount=amount, kind=kind, side=by.side, end=by.end
    )
    yield made if base is None else _compared(made, facts, base)


def _compared(made: Prediction, facts: Told, base: Judged) -> Prediction:
    """Agrees where the wheelbase on that side is the shorter; a rear axle need not go with its
    corner.
    """
    same = ("right" if base.finding.value > 0 else "left") == made.side and beyond(base, 0.0)
    known = "agrees" if same else "contradicts" if is_true(base) else "open"
    if known == "contradicts" and (axle := _stayed(made, facts)) is not None:
        known, made = "stayed", made._replace(sources=(*made.sources, axle.finding.id))
    said = "explained" if explained(facts.judged, facts.layout) is not None else "measured"
    return made._replace(sources=(*made.sources, base.finding.id), said=said, outcome=known)


def _stayed(made: Prediction, facts: Told) -> Judged | None:
    """The axle, where its own two tapes say that the corner went back from it, by about as much as
    it is out.
    """
    axle = facts.of(marks.AXLE).get(WhereId(made.end))
    if (
        axle is None
        or made.end != "front"
        or axle.finding.has(EITHER_SIDE)
        or not beyond(axle, 0.0)
    ):
        return None
    near = abs(abs(axle.finding.value) - made.amount) <= axle.half_width + made.amount / 2
    return axle if near and (axle.finding.value > 0) == (made.side == "right") else None


def _twist(facts: Told) -> Iterator[Prediction]:
    out = [j.finding.id for j in facts.of(marks.TWIST).values() if is_out(j)]
    if out:
        made = Prediction(
            "doors",
            tuple(out),
            marks.DOOR_GAPS,
            (marks.UNLIKE,),
            (marks.EVEN,),
            kind="twist",
        )
        yield _asked(facts, made)


# The axle set: what the frame explains of it, and what it leaves to the axle ---------------------


class FramePart(NamedTuple):
    """What the frame has to do with one figure of the axle set."""

    of: QuantityId
    """The figure: caster-book, caster-apart, perch-apart, beam-bend."""
    kind: str
    """ball, ball-other-way, ball-still, ball-unread, no-ball; one-ball, square, out, open; twist,
    no-twist,
    twist-open; short-wheelbase.
    """
    amount: float = 0.0
    """In the figure's unit, with its sign; 0 where the frame explains no amount."""
    at_least: bool = False
    side: str = ""
    sources: tuple[FindingId, ...] = ()


def frame_parts(judged: Collection[Judged], layout: Layout) -> tuple[FramePart, ...]:
    """What the frame explains of each figure that stands out of its doubt, in the order of
    telling.
    """
    by: dict[QuantityId, list[Judged]] = {}
    for one in judged:
        by.setdefault(one.finding.quantity, []).append(one)
    givers = (_beam, _caster_off, _caster_apart, _perches)
    return tuple(part for give in givers for part in give(by, layout))


ByQuantity = dict[QuantityId, list[Judged]]


def _told(by: ByQuantity, quantity: QuantityId) -> list[Judged]:
    """Those that stand out of their doubt, and are not known to be small enough to leave."""
    return [j for j in by.get(quantity, []) if j.is_told and not is_true(j)]


def _ids(found: Collection[Judged]) -> tuple[FindingId, ...]:
    return tuple(j.finding.id for j in found)


def _beam(by: ByQuantity, layout: Layout) -> Iterator[FramePart]:
    """An end of the beam that lies back, and the wheelbase of that side, which is short."""
    base = next(iter(by.get(marks.WHEELBASE, [])), None)
    if base is None or not beyond(base, 0.0):
        return
    short = WhereId("right" if base.finding.value > 0 else "left")
    for end in _told(by, marks.BEAM_BEND):
        if end.finding.where == short and end.finding.value > 0 and beyond(end, 0.0):
            ids = (end.finding.id, base.finding.id)
            yield FramePart(marks.BEAM_BEND, "short-wheelbase", side=str(short), sources=ids)


def _caster_off(by: ByQuantity, layout: Layout) -> Iterator[FramePart]:
    """Caster that is another than the book's: what the ball does to it on both sides alike."""
    off = _told(by, marks.CASTER_BOOK)
    if not off:
        return
    if not {"ball_x", "rod"} <= layout.figures.keys():
        yield FramePart(marks.CASTER_BOOK, "no-ball", sources=_ids(off))
        return
    ball = next(iter(by.get(marks.CASTER, [])), None)
    if ball is None:
        yield FramePart(marks.CASTER_BOOK, "ball-unread", sources=_ids(off))
        return
    yield FramePart(
        marks.CASTER_BOOK,
        _of_ball(ball, off),
        ball.finding.value,
        at_least=ball.finding.has(AT_LEAST),
        sources=(*_ids(off), ball.finding.id),
    )


def _of_ball(ball: Judged, off: Collection[Judged]) -> str:
    """Whether the ball moved, and took the caster the way in which it is off."""
    if not beyond(ball, LEAST_DEG):
        return "ball-still"
    ways = {j.finding.value > 0 for j in off}
    return "ball" if ways == {ball.finding.value > 0} else "ball-other-way"


SQUARE = (marks.RAIL_SHIFT, marks.TWIST)
"""What must be in order before unequal caster is laid to the beam."""


def _caster_apart(by: ByQuantity, layout: Layout) -> Iterator[FramePart]:
    """Unequal caster: one ball holds both ends alike; with two springs the frame must be square
    first.
    """
    apart = _told(by, marks.CASTER_APART)
    if not apart:
        return
    if "ball_x" in layout.figures:
        yield FramePart(marks.CASTER_APART, "one-ball", sources=_ids(apart))
        return
    out = [j for q in SQUARE for j in by.get(q, []) if is_out(j)]
    # One box that is square says nothing of another that is not known yet.
    known = all(by.get(q) and all(map(is_true, by[q])) for q in SQUARE)
    kind = "out" if out else "square" if known else "open"
    yield FramePart(marks.CASTER_APART, kind, sources=(*_ids(apart), *_ids(out)))


def _perches(by: ByQuantity, layout: Layout) -> Iterator[FramePart]:
    """Rails unequally high over their perches: a twist of the frame leans its front end too."""
    apart, twists = _told(by, marks.PERCH_APART), by.get(marks.TWIST, [])
    if not apart:
        return
    out = [j for j in twists if is_out(j)]
    worst = max(out, key=lambda j: abs(j.finding.value), default=None)
    kind = "twist" if out else "no-twist" if twists and all(map(is_true, twists)) else ""
    amount = abs(worst.finding.value) if worst else 0.0
    ids = (*_ids(apart), *_ids(out))
    yield FramePart(marks.PERCH_APART, kind or "twist-open", amount, sources=ids)


# The wobble ---------------------------------------------------------------------------------------

TIRES, JOINTS, PINS, TOE, CASTER, BRAKES, SPRINGS, AXLE_ITSELF, FRAME = (
    *("tires", "joints", "kingpins", "toe", "caster"),
    *("brakes", "springs", "axle", "frame"),
)
IN_ORDER: dict[str, tuple[str, ...]] = {
    marks.SHAKE: (TIRES, JOINTS, PINS, TOE, CASTER, SPRINGS, AXLE_ITSELF),
    marks.HOP: (TIRES, JOINTS, SPRINGS, PINS, AXLE_ITSELF),
    marks.WANDER: (JOINTS, TIRES, TOE, CASTER, PINS, SPRINGS, AXLE_ITSELF),
    marks.PULL: (TIRES, BRAKES, CASTER, AXLE_ITSELF, SPRINGS, JOINTS),
    "": (TIRES, JOINTS, PINS, TOE, CASTER, BRAKES, SPRINGS, AXLE_ITSELF),
}
"""Where to look first for what was felt; the frame is behind all of them. Too much caster, worn
joints,
toe and tires for a wobble, too little caster for a wander: TM 5-3805-254-14P-2; the order: common
practice, no published source.
"""
FIRST: dict[str, tuple[str, ...]] = {
    marks.BRAKING: (BRAKES,),
    marks.FAST: (TIRES,),
    marks.NEW_TIRES: (TIRES,),
    marks.AXLE_WORK: (TOE, CASTER, SPRINGS),
    marks.A_HIT: (AXLE_ITSELF, TOE, CASTER),
    marks.SLOW: (),
    marks.ALWAYS: (),
    marks.BY_AND_BY: (JOINTS, PINS),
}
"""What comes before the rest because of when it was felt, or since when."""


def where_to_look(felt: str, when: str, since: str) -> tuple[str, ...]:
    """The causes in the order of looking; the frame is always the last.

    felt, when, since: what was answered, by its meaning; empty where nobody knew.

    >>> where_to_look("shake", "braking", "")[0], where_to_look("pull", "", "a-hit")[-1]
    ('brakes', 'frame')
    """
    first = (*FIRST.get(when, ()), *FIRST.get(since, ()))
    return tuple(dict.fromkeys((*first, *IN_ORDER.get(felt, IN_ORDER[""]), FRAME)))
