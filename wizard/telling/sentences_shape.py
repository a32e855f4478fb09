"""Sentences for what the string, the level and the caliper say beyond a single amount."""

from __future__ import annotations

from wizard.checks.notes import ALL_ALIKE, Bend, Lean, Rises, Slip
from wizard.judgment.bands import Judged
from wizard.library.places import spoken
from wizard.library.shapes import Layout
from wizard.survey.record import Unit
from wizard.telling.amounts import about, at, doubt, few, is_zero


def _place(layout: Layout, id: str) -> str:
    rows = {s.id: s.name for s in layout.stations} | {v.id: v.name for v in layout.levels}
    return rows.get(id, spoken(id))


def hand(j: Judged, layout: Layout, unit: Unit) -> str:
    """The person's own scatter with the tape."""
    size = about(j.finding.value, "mm", unit)
    said = f"One reading of your tape scatters by about {size}; every result reckons with it."
    if j.finding.has(ALL_ALIKE):
        said += (
            " All were alike to the last mark: let go and read afresh each time, or the spread is"
            " not real."
        )
    return said


def bend(j: Judged, layout: Layout, unit: Unit) -> str:
    """Kink or bow of one rail."""
    note, side = j.finding.note(Bend), j.finding.where
    if note and note.kind == "kink":
        near = _place(layout, note.near)
        return (
            f"The {side} rail seems to bend sharply {at(near)} or close by (a kink): no smooth"
            " curve fits what was read. Read the stations there once more, then clean it and look."
        )
    if note and note.kind == "bow":
        hides = "" if note.hides is None else about(note.hides, "mm", unit)
        least = f" One of less than about {hides} could hide." if hides else ""
        return f"The {side} rail bends smoothly (a bow): no kink shows at these stations.{least}"
    return f"Whether the {side} rail bends smoothly or sharply cannot be told from these readings."


def elastic_foretold(j: Judged, layout: Layout, unit: Unit) -> str:
    """What a sound rail would give, and where this one does not behave so."""
    amount = f"rises {about(j.finding.value, 'mm', unit)}"
    amount = "hardly rises" if is_zero(j.finding.value, "mm", unit) else amount
    said = (
        f"A sound rail of about this size {amount} at the engine mount when the weight goes,"
        f" {doubt(j, unit)}."
    )
    note = j.finding.note(Rises)
    if note is None:
        return said
    odd = "".join(f" The {side} rail {ODD_RISE[way]}" for way, side in note.odd)
    return f"{said}{odd}{UNEQUAL_RISE if note.unequal else ''}"


ODD_RISE = {
    "down": "went down instead: the set-up moved, or the jack carried the frame. Read it again.",
    "far": "rose far more: look for loose joints or a crack, and check the string.",
}
UNEQUAL_RISE = " The two rails rose very unequally: check the jack, the mounts and the string."


def suspect(j: Judged, layout: Layout, unit: Unit) -> str:
    """The reading that does not agree, or the set of them."""
    note = j.finding.note(Slip) or Slip(False, "", ())
    slip, labels = note.kind, note.asks
    size = about(j.finding.value, "mm", unit)
    if note.named:
        way = "long" if j.finding.value > 0 else "short"
        like = f" It looks like a slip: {SLIPS.get(slip, slip)}." if slip else ""
        return (
            f"One tape does not agree with all the others: “{labels[0]}” is probably {size} too"
            f" {way}.{like} Measure it again: /go {labels[0]} stands before it, and /strike takes"
            " the old one out."
        )
    return (
        f"These {len(labels)} tapes disagree by about {size}: {few(labels)}. One is probably wrong"
        " and nothing here can say which: measure them again with the tape turned round, or add a"
        " third station."
    )


SLIPS = {
    "digits-swapped": "two digits changed over",
    "sides-swapped": "left and right changed over",
    "1 in": "a whole inch",
    "1/2 in": "half an inch",
    "1 ft": "a whole foot",
}


def sag_difference(j: Judged, layout: Layout, unit: Unit) -> str:
    """Right rail against left at one station."""
    place = _place(layout, j.finding.where)
    if is_zero(j.finding.value, "mm", unit):
        return f"{at(place).capitalize()} both rails lie equally low, {doubt(j, unit)}."
    side = "right" if j.finding.value > 0 else "left"
    return (
        f"{at(place).capitalize()} the {side} rail lies {about(j.finding.value, 'mm', unit)} lower,"
        f" {doubt(j, unit)}."
    )


def string_level(j: Judged, layout: Layout, unit: Unit) -> str:
    """String against level."""
    place = _place(layout, j.finding.where)
    if not j.stands_out:
        return f"String and level agree {at(place)}, {doubt(j, unit)}."
    return (
        f"String and level disagree {at(place)} by {about(j.finding.value, 'mm', unit)},"
        f" {doubt(j, unit)}: one of the two was read in another state of the car, or wrongly. Read"
        " both again."
    )


def twist_shape(j: Judged, layout: Layout, unit: Unit) -> str:
    """Steady twist, one joint, or none."""
    note = j.finding.note(Lean) or Lean("cannot-tell")
    if note.kind == "none":
        return f"From front to rear the level shows no change of lean, {doubt(j, unit)}."
    size = about(j.finding.value, "mm", unit)
    if note.kind == "steady":
        said = (
            f"The lean changes steadily from front to rear, {size} across the rails in all,"
            f" {doubt(j, unit)}"
        )
        return f"{said}, as a twist of the whole frame would."
    if note.kind == "one-joint":
        places = [_place(layout, place) for place in note.between]
        return (
            f"The lean changes at one place, between {' and '.join(places)}: look at the joints"
            " there."
        )
    said = f"The lean changes by {size} across the rails from front to rear, {doubt(j, unit)}"
    return f"{said}; whether steadily or at one joint cannot be told."


def thickness(j: Judged, layout: Layout, unit: Unit) -> str:
    """Thickness lost to a pit."""
    if is_zero(j.finding.value, "%", unit):
        return (
            f"The {j.finding.where} rail's worst pit has taken nothing of the thickness,"
            f" {doubt(j, unit)}."
        )
    return (
        f"The {j.finding.where} rail's worst pit has taken {j.finding.value:.0f} % of the"
        f" thickness, {doubt(j, unit)}."
    )


def section_left(j: Judged, layout: Layout, unit: Unit) -> str:
    """Stiffness or strength left."""
    what = j.finding.quantity.removesuffix("-left")
    return (
        f"If the whole face of the {j.finding.where} rail were as thin, {j.finding.value:.0f} % of"
        f" its {what} would be left, {doubt(j, unit)}. Square corners reckoned, which flatters a"
        " pressed rail a little."
    )


def from_nose(j: Judged, where: str, unit: Unit) -> str:
    """Rail shift of a box that ends in a nose: a rail that slipped, or a nose pushed aside, show
    alike.
    """
    if is_zero(j.finding.value, "mm", unit):
        return f"{where}: from the nose both corners lie equally far back, {doubt(j, unit)}."
    rail, other = ("right", "left") if j.finding.value > 0 else ("left", "right")
    return (
        f"{where}: from the nose the {rail} corner lies {about(j.finding.value, 'mm', unit)}"
        f" further back, {doubt(j, unit)}. The {rail} rail has moved, or the nose was pushed to the"
        f" {other}."
    )


def nose_off(j: Judged, layout: Layout, unit: Unit) -> str:
    """The nose against the middle line of all the other points."""
    if is_zero(j.finding.value, "mm", unit):
        return f"The nose lies on the middle line of the frame, {doubt(j, unit)}."
    side = "right" if j.finding.value > 0 else "left"
    size = about(j.finding.value, "mm", unit)
    return f"The nose lies {size} to the {side} of the middle line of the frame, {doubt(j, unit)}."


def plate_off(j: Judged, layout: Layout, unit: Unit) -> str:
    """The plate of an X-member against the middle line of its box."""
    where = {b.id: b.name for b in layout.boxes}.get(j.finding.where, j.finding.where)
    if is_zero(j.finding.value, "mm", unit):
        return f"The X-member's plate lies in the middle of the {where}, {doubt(j, unit)}."
    side = "right" if j.finding.value > 0 else "left"
    size = about(j.finding.value, "mm", unit)
    return (
        f"The X-member's plate lies {size} to the {side} of the middle of the {where},"
        f" {doubt(j, unit)}."
    )
