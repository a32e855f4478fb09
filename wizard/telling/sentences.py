"""One finding in one plain sentence."""

from __future__ import annotations

from collections.abc import Callable

from wizard.checks.notes import OWN_SIDES_OPEN, Against, ReadOn, SagTakenOut
from wizard.judgment.bands import Judged
from wizard.judgment.supports import LOADED, THREE
from wizard.library.places import spoken, where_of
from wizard.library.shapes import Layout
from wizard.survey.record import Unit
from wizard.telling import sentences_shape as shape
from wizard.telling.amounts import about, at, bands_words, doubt, is_zero
from wizard.telling.axle_words import axle_sentence

Sayer = Callable[[Judged, Layout, Unit], str]


def _names(layout: Layout) -> dict[str, str]:
    names = {b.id: b.name for b in layout.boxes} | {p.id: p.name for p in layout.places}
    names |= {s.id: s.name for s in layout.stations} | {v.id: v.name for v in layout.levels}
    return names | {"front-box-bar": "front box, by the bar"}


def _zero(judged: Judged, unit: Unit) -> bool:
    """Whether the value would be said as zero."""
    return is_zero(judged.finding.value, judged.finding.unit, unit)


def _amount(judged: Judged, unit: Unit) -> str:
    return about(judged.finding.value, judged.finding.unit, unit)


def _rail_shift(j: Judged, layout: Layout, unit: Unit) -> str:
    where = _names(layout).get(j.finding.where, j.finding.where)
    if any(b.id == j.finding.where and b.role == "nose" for b in layout.boxes):
        return shape.from_nose(j, _cap(where), unit)
    if _zero(j, unit):
        return f"{_cap(where)}: neither rail has moved along the other, {doubt(j, unit)}."
    rail = "right" if j.finding.value > 0 else "left"
    return f"{_cap(where)}: the {rail} rail sits {_amount(j, unit)} further back, {doubt(j, unit)}."


def _sag(j: Judged, layout: Layout, unit: Unit) -> str:
    where = where_of(j.finding.where)
    station, side = where.place, where.side
    weight = (
        "with the engine's weight" if j.finding.quantity == "sag-loaded" else "without the weight"
    )
    place = _names(layout).get(station, station)
    if _zero(j, unit):
        return f"The {side} rail is straight {at(place)} {weight}, {doubt(j, unit)}."
    way = "hangs {} low" if j.finding.value > 0 else "stands {} high"
    return f"The {side} rail {way.format(_amount(j, unit))} {at(place)} {weight}, {doubt(j, unit)}."


def _elastic(j: Judged, layout: Layout, unit: Unit) -> str:
    where = where_of(j.finding.where)
    station, side = where.place, where.side
    place = _names(layout).get(station, station)
    if _zero(j, unit):
        return (
            f"The {side} rail stays where it is {at(place)} when the weight goes, {doubt(j, unit)}."
        )
    way = "rises" if j.finding.value > 0 else "drops"
    return (
        f"The {side} rail {way} {_amount(j, unit)} {at(place)} when the weight goes,"
        f" {doubt(j, unit)}."
    )


SUPPORTS = {
    "stands-under-frame": ("four stands", "the stands"),
    "stands-under-axles": ("stands under the axles", "the springs"),
    "wheels": ("its wheels", "springs or tires"),
    THREE: ("three points, bare,", "what it stood on"),
    LOADED: ("three points, with the frame not bare,", "what it stood on and what it carried"),
}
"""What a frame stood on, and what twists it there that is not the frame."""


def _twist(j: Judged, layout: Layout, unit: Unit) -> str:
    taken, stood = j.finding.note(SagTakenOut), j.finding.note(ReadOn)
    said = _lean(j, layout, unit)
    if taken:
        return _low_there(j, layout, unit, taken, said)
    return f"{said} {_stood(j, unit, stood)}" if stood else said


def _low_there(j: Judged, layout: Layout, unit: Unit, taken: SagTakenOut, rest: str) -> str:
    """A rail that hangs low leans the level: that much is no twist."""
    if is_zero(taken.mm, "mm", unit):
        return rest
    place = at(_names(layout).get(j.finding.where, j.finding.where))
    low = f"{_cap(place)} the {taken.side} rail hangs {about(taken.mm, 'mm', unit)} low"
    return (
        f"{low}, and that much of the lean is no twist. With it taken out:"
        f" {rest[:1].lower()}{rest[1:]}"
    )


def _stood(j: Judged, unit: Unit, stood: ReadOn) -> str:
    """What the same place read on other supports."""
    unnamed = spoken(stood.supports), "what it stood on"
    name, what = SUPPORTS.get(stood.supports, unnamed)
    if is_zero(stood.mm, "mm", unit):
        return f"On {name} it did not lean at all."
    said = f"On {name} it read {about(stood.mm, 'mm', unit)}"
    return f"{said}: that was {what}." if j.bands == ("leave",) else f"{said}."


def _lean(j: Judged, layout: Layout, unit: Unit) -> str:
    place = _names(layout).get(j.finding.where, j.finding.where)
    against = j.finding.note(Against)
    other = _names(layout).get(against.place if against else "", "first place read")
    horns = j.finding.quantity == "horn-height"
    if _zero(j, unit):
        verb = "lean" if horns else "leans"
        return f"The {place} {verb} no more to one side than the {other}, {doubt(j, unit)}."
    side = "left" if j.finding.value > 0 else "right"
    verb = "stand" if horns else "stands"
    return (
        f"Held against the {other}, the {place} {verb} {_amount(j, unit)} higher on the {side},"
        f" {doubt(j, unit)}."
    )


def _horn(j: Judged, layout: Layout, unit: Unit) -> str:
    return horn_sentence(j, unit)


def horn_sentence(j: Judged, unit: Unit, hit: str = "") -> str:
    """The two horns against each other, told of the one on the side that was hit where that is
    known.
    """
    if _zero(j, unit):
        said = f"Both horns stand equally far out, {doubt(j, unit)}."
        return f"{said} Equal does not say unbent: hold bumper irons and shell to them."
    side, other, way = ("left", "right", "out") if j.finding.value > 0 else ("right", "left", "out")
    if hit == other:
        side, other, way = other, side, "in"
    said = (
        f"The {side} horn stands {_amount(j, unit)} further {way} than the {other} one,"
        f" {doubt(j, unit)}."
    )
    if j.finding.has(OWN_SIDES_OPEN):
        said += " Or it reaches further forward: each tip to its own rail would tell."
    return said


def _own_sides(j: Judged, layout: Layout, unit: Unit) -> str:
    where = _names(layout).get(j.finding.where, j.finding.where)
    if _zero(j, unit):
        what = "horns" if j.finding.where == "horns" else "rails"
        return f"{_cap(where)}: both {what} are equally long, {doubt(j, unit)}."
    # A blow shortens: the shorter one is the one to look at.
    side = "right" if j.finding.value > 0 else "left"
    if j.finding.where == "horns":
        return f"The {side} horn is {_amount(j, unit)} shorter than its twin, {doubt(j, unit)}."
    return (
        f"{_cap(where)}: the {side} rail is {_amount(j, unit)} shorter than its twin,"
        f" {doubt(j, unit)}."
    )


def _closure(j: Judged, layout: Layout, unit: Unit) -> str:
    where = _names(layout).get(j.finding.where, j.finding.where)
    if not j.stands_out:
        return f"{_cap(where)}: all six tapes agree with one another, {doubt(j, unit)}."
    return (
        f"{_cap(where)}: the six tapes disagree by {_amount(j, unit)}, {doubt(j, unit)}; one of"
        " them is probably wrong. Measure this box again."
    )


def _wheelbase(j: Judged, layout: Layout, unit: Unit) -> str:
    if _zero(j, unit):
        return f"The wheelbase is the same on both sides, {doubt(j, unit)}."
    side = "right" if j.finding.value > 0 else "left"
    return f"The {side} wheelbase is {_amount(j, unit)} shorter than the other, {doubt(j, unit)}."


def _hint(j: Judged, layout: Layout, unit: Unit) -> str:
    what = j.finding.where.replace("gearbox-tail", "gearbox's tail").replace("-", " ")
    if _zero(j, unit):
        return f"The {what} stands in the middle, {doubt(j, unit)}. A hint only."
    side = "right" if j.finding.value > 0 else "left"
    return (
        f"The {what} stands {_amount(j, unit)} to the {side} of the middle, {doubt(j, unit)}. A"
        " hint only."
    )


def _hood_taper(j: Judged, layout: Layout, unit: Unit) -> str:
    side = f"On the {j.finding.where} the hood's gap is"
    if _zero(j, unit):
        return f"{side} as wide at the top as low down, {doubt(j, unit)}."
    way = "tighter" if j.finding.value > 0 else "wider"
    return (
        f"{side} {_amount(j, unit)} {way} at the top than low down, {doubt(j, unit)}. A hint only."
    )


def _level_closing(j: Judged, layout: Layout, unit: Unit) -> str:
    if not j.stands_out:
        return (
            f"Back at the first place the level read the same, {doubt(j, unit)}: the frame stayed"
            " where it was."
        )
    said = (
        f"Back at the first place the level read {_amount(j, unit)} differently, {doubt(j, unit)}"
    )
    return f"{said}: the frame moved. Read again."


def _level_error(j: Judged, layout: Layout, unit: Unit) -> str:
    if _zero(j, unit):
        return f"The level itself is true, {doubt(j, unit)}."
    return (
        f"The level itself is out by {_amount(j, unit)}, {doubt(j, unit)}; turning it round took"
        " that out."
    )


def _caster(j: Judged, layout: Layout, unit: Unit) -> str:
    if _zero(j, unit):
        return (
            "The shape of the rails alone leaves the caster of the front axle as it was,"
            f" {doubt(j, unit)}."
        )
    way = "more" if j.finding.value >= 0 else "less"
    return (
        f"By the shape of the rails alone the front axle has about {_amount(j, unit)} {way} caster,"
        f" {doubt(j, unit)}."
    )


def _mash(j: Judged, layout: Layout, unit: Unit) -> str:
    where = _names(layout).get(j.finding.where, j.finding.where)
    if _zero(j, unit):
        return (
            f"{_cap(where)}: by all the tapes together both rails are equally long,"
            f" {doubt(j, unit)}."
        )
    side = "left" if j.finding.value > 0 else "right"
    said = f"by all the tapes together the {side} rail is {_amount(j, unit)} shorter than its twin"
    return f"{_cap(where)}: {said}, {doubt(j, unit)}."


def _sway(j: Judged, layout: Layout, unit: Unit) -> str:
    place = _names(layout).get(j.finding.where, j.finding.where)
    if _zero(j, unit):
        return f"Seen from above the frame runs straight past the {place}, {doubt(j, unit)}."
    side = "right" if j.finding.value > 0 else "left"
    return (
        f"Seen from above the {place} lies {_amount(j, unit)} to the {side} of the middle line,"
        f" {doubt(j, unit)}."
    )


def _horn_out(j: Judged, layout: Layout, unit: Unit) -> str:
    if _zero(j, unit):
        return (
            f"The {j.finding.where} horn's tip lies in line with its own rail carried straight on,"
            f" {doubt(j, unit)}."
        )
    way = "outside" if j.finding.value > 0 else "inside"
    return (
        f"The {j.finding.where} horn's tip lies {_amount(j, unit)} {way} its own rail carried"
        f" straight on, {doubt(j, unit)}. It may be made so; compare the other."
    )


def _horn_back(j: Judged, layout: Layout, unit: Unit) -> str:
    if _zero(j, unit):
        return (
            f"Each from its own corner, both horn tips reach equally far forward, {doubt(j, unit)}."
        )
    side = "right" if j.finding.value > 0 else "left"
    return (
        f"Each from its own corner, the {side} horn's tip sits {_amount(j, unit)} further back than"
        f" the other, {doubt(j, unit)}."
    )


SAYERS: dict[str, Sayer] = {
    "rail-shift": _rail_shift,
    "sag-loaded": _sag,
    "sag-unloaded": _sag,
    "elastic": _elastic,
    "twist": _twist,
    "horn-height": _twist,
    "horn": _horn,
    "own-sides": _own_sides,
    "mash": _mash,
    "sway": _sway,
    "horn-out": _horn_out,
    "horn-back": _horn_back,
    "nose-off": shape.nose_off,
    "plate-off": shape.plate_off,
    "closure": _closure,
    "wheelbase": _wheelbase,
    "axle": axle_sentence,
    "hint": _hint,
    "hood-taper": _hood_taper,
    "level-closing": _level_closing,
    "level-error": _level_error,
    "caster": _caster,
    "hand": shape.hand,
    "bend": shape.bend,
    "suspect": shape.suspect,
    "elastic-foretold": shape.elastic_foretold,
    "sag-difference": shape.sag_difference,
    "string-level": shape.string_level,
    "twist-shape": shape.twist_shape,
    "thickness": shape.thickness,
    "stiffness-left": shape.section_left,
    "strength-left": shape.section_left,
}
"""Quantity to the words for it. A quantity without words is a mistake that a test finds."""


def sentence(judged: Judged, layout: Layout, unit: Unit) -> str:
    """What was found, in one plain sentence, without what to do about it."""
    if judged.finding.disagrees:
        return (
            f"{_subject(judged, layout)}: the tapes contradict one another, so this cannot be told"
            " yet."
        )
    return SAYERS[judged.finding.quantity](judged, layout, unit)


def _subject(judged: Judged, layout: Layout) -> str:
    """What a finding is about, where its value is not worth saying."""
    f = judged.finding
    place = _names(layout).get(f.where, "")
    what = {"rail-shift": "Rails", "mash": "Length of the rails", "sway": "Sideways bend"}.get(
        f.quantity, "The horns"
    )
    return f"{what}, {place}" if place else what


def sentence_and_band(judged: Judged, layout: Layout, unit: Unit) -> str:
    """The finding and what it asks for."""
    words = "" if judged.finding.disagrees else bands_words(judged)
    return sentence(judged, layout, unit) + (f" {_cap(words)}." if words else "")


def _cap(text: str) -> str:
    return text[:1].upper() + text[1:]
