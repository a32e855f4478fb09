"""What a deviation would have moved elsewhere: predictions that can be checked on the car.

Source of the caster: geometry, atan(h / R). The rest: common practice, no published source. A
prediction that comes true makes a reading more credible; one that does not sends the person back to
the reading, never to the frame.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from wizard.checks.notes import EITHER_SIDE
from wizard.judgment.bands import Judged
from wizard.judgment.cause import Causes
from wizard.judgment.corner import carried, explained
from wizard.judgment.facts import SIDES, Told, beyond, is_out, is_true
from wizard.library import marks
from wizard.library.places import NO_PROMPT, FindingId, PromptId, Source, WhereId
from wizard.survey.record import Survey

WOBBLE_DEG = 1.0
"""Caster from which a wobble at low speed may begin (common practice, no published source)."""

SEEN_MM = 3.0
"""How far a fan must be off before an eye sees it behind the radiator (this project's own guess)."""


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
    """sag, crown, one-rail, shift, corner, twist: what it follows from; of the fan, where it sits."""
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
        yield _asked(facts, made)
        yield Prediction("brake-rods", ids, kind="one-rail")


def _caster(facts: Told) -> Iterator[Prediction]:
    """A wobble agrees only with enough caster; with less it speaks for joints, toe and tires."""
    caster = next(iter(facts.of(marks.CASTER).values()), None)
    if caster is None or not beyond(caster, 0.0):
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
