"""The wobble in plain words: where to look, in order, with what was read of it; the frame last."""

from __future__ import annotations

from collections.abc import Mapping

from wizard.judgment import axle_set
from wizard.judgment.axle_set import where_to_look
from wizard.judgment.facts import is_out, is_true
from wizard.judgment.verdict import Verdict
from wizard.library import marks
from wizard.library.places import SIDES, QuantityId, Source
from wizard.library.shapes import Library
from wizard.survey.guide import layout_of
from wizard.survey.meant import meant
from wizard.survey.record import Survey
from wizard.telling.amounts import and_
from wizard.telling.document import Item
from wizard.telling.not_driven import NOT_DRIVEN
from wizard.telling.sentences import sentence

LOOK_AT = {
    axle_set.TIRES: "Tires and wheels: equal pressure, balance, a bent rim, every nut tight.",
    axle_set.JOINTS: "Steering joints, steering box and wheel bearings: play in any of them.",
    axle_set.PINS: "The kingpins.",
    axle_set.TOE: "The toe.",
    axle_set.CASTER: "The caster: too much shakes, too little wanders, unequal pulls to one side.",
    axle_set.BRAKES: "The brakes: one that drags, a drum out of round, rods set unequally.",
    axle_set.SPRINGS: "Springs, shackles and dampers: loose bolts, a broken leaf, a dead damper.",
    axle_set.AXLE: "The axle: a bent beam, or one that is not square under the frame.",
    axle_set.FRAME: "The frame.",
}
FIRST, NEXT, LAST = "First", "Then", "Last"
NEVER = "A wobble alone never says that a frame is bent."
FRAME = {
    "out": "Something of it is out of place; have that put right for its own sake.",
    "straight": "What was measured of it is in order.",
    "open": "Not all of it is known yet.",
}
NOT_READ = "Not read yet."
PINS = {
    marks.PLAY: "you felt play on the {side}",
    marks.TIGHT_PIN: "you felt none on the {side}",
    marks.TO_A_SHOP: "the {side} is left to a shop",
}
BRAKED = f"Something is wrong with the brakes or near them. {NOT_DRIVEN}"


def wobble_lines(verdict: Verdict, survey: Survey, library: Library) -> list[Item]:
    """The causes in order; nothing where nobody was asked what was felt."""
    asked = library.asking(marks.FELT)
    if asked is None or not survey.answer_to(asked.prompt):
        return []
    felt, when, since = (
        meant(survey, library, q) for q in (marks.FELT, marks.FELT_WHEN, marks.FELT_SINCE)
    )
    order = where_to_look(felt, when, since)
    ids: tuple[Source, ...] = (f"answer:{asked.prompt}",)
    lines = [Item(BRAKED, ids)] if when == marks.BRAKING else []
    for n, cause in enumerate(order):
        head = FIRST if not n else LAST if cause == axle_set.FRAME else NEXT
        said, sources = _known(cause, verdict, survey, library)
        words = " ".join(filter(None, (LOOK_AT[cause], said)))
        lines.append(Item(f"{head}, {words[:1].lower()}{words[1:]}", (*ids, *sources)))
    return lines


def _known(
    cause: str, verdict: Verdict, survey: Survey, library: Library
) -> tuple[str, tuple[Source, ...]]:
    """What this survey knows of a cause, and what says so."""
    if cause == axle_set.PINS:
        return _pins(survey, library)
    if cause == axle_set.FRAME:
        return f"{FRAME[_frame(verdict)]} {NEVER}", ()
    quantities = READ_BY.get(cause)
    if quantities is None:
        return "", ()
    found = [j for q in quantities for j in verdict.judged if j.finding.quantity == q]
    if not found:
        return NOT_READ, ()
    layout = layout_of(survey, library)
    return (
        " ".join(sentence(j, layout, survey.unit) for j in found),
        tuple(j.finding.id for j in found),
    )


READ_BY: Mapping[str, tuple[QuantityId, ...]] = {
    axle_set.TOE: (marks.TOE,),
    axle_set.CASTER: (marks.CASTER_APART,),
    axle_set.AXLE: (marks.BEAM_BEND, marks.WHEELBASE),
}
"""What was read of a cause, where something reads it."""


def _pins(survey: Survey, library: Library) -> tuple[str, tuple[Source, ...]]:
    said, ids = [], []
    for side in SIDES:
        asked = library.asking(marks.KINGPIN, side=side)
        felt = meant(survey, library, marks.KINGPIN, side=side)
        if asked and felt:
            said.append(PINS[felt].format(side=side))
            ids.append(f"answer:{asked.prompt}")
    words = f"{and_(said)}." if said else NOT_READ
    return words[:1].upper() + words[1:], tuple(ids)


def _frame(verdict: Verdict) -> str:
    """How much is known of the frame."""
    limited = [j for j in verdict.of_frame if j.bands]
    if any(map(is_out, limited)) or verdict.stops or verdict.loose:
        return "out"
    whole = limited and not verdict.lacking and all(map(is_true, limited))
    return "straight" if whole else "open"
