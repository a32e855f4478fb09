"""What a verdict claims, as data: every sentence that a person acts on, before it has any words.

A claim is read off the same facts of which the telling makes its sentences: findings past `leave`,
the notes of checks, the corner, the causes, the action. Each item of a verdict carries the claims
that it makes. Nothing reads prose.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING, NamedTuple

from wizard.checks.finding import horn_named
from wizard.checks.notes import (
    BODY_GAVE,
    DEEP_THERE,
    DEEPER_THERE,
    FURTHER,
    STRAIGHTER,
    Bend,
    Crown,
    Lean,
    Mark,
    Note,
    Rises,
    Slip,
)
from wizard.judgment.bands import Judged
from wizard.judgment.corner import Corner, corner_of
from wizard.library import marks
from wizard.library.places import (
    FRONT_BOX,
    NO_PLACE,
    REAR_BOX,
    WHOLE_BOX,
    PlaceId,
    Side,
    Source,
    Where,
    side_of,
    where_of,
)
from wizard.library.shapes import Layout

if TYPE_CHECKING:  # what is read here is given, and nothing of it is made
    from wizard.judgment.cause import Causes, Conclusion
    from wizard.judgment.change import Change
    from wizard.judgment.choices import Choice
    from wizard.judgment.consequences import FramePart, Prediction
    from wizard.judgment.signs import Evidence
    from wizard.judgment.verdict import Verdict

OF_QUANTITY = {
    marks.RAIL_SHIFT: "shift",
    marks.MASH: "short",
    marks.SWAY: "off-line",
    marks.NOSE_OFF: "off-line",
    marks.TWIST: "twist",
    marks.HORN_HEIGHT: "horn-up",
    marks.HORN_BACK: "horn-back",
    marks.WHEELBASE: "axle",
    marks.THICKNESS: "thin",
    marks.BEAM_BEND: "bent-beam",
    marks.CASTER_APART: "caster-apart",
    marks.CASTER_BOOK: "caster-book",
    marks.CAMBER_APART: "camber-apart",
    marks.CAMBER_BOOK: "camber-book",
    marks.TOE_BOOK: "toe",
    marks.PERCH_APART: "perch",
    marks.SHACKLE_APART: "shackle",
    marks.REAR_SHACKLE_APART: "rear-shackle",
    marks.BODY_PULL: "body-pull",
}
"""Kind of claim that a figure past `leave` makes; sag and horn have a way of their own."""
NOTED = {
    DEEP_THERE: ("thin-place", ""),
    DEEPER_THERE: ("thin-place", ""),
    STRAIGHTER: ("body-helps", "straighter"),
    FURTHER: ("body-helps", "further"),
    BODY_GAVE: ("body-gave", ""),
}
"""Kind and way of the claim that a mark of a check makes."""
EXPLAINS = {
    "short-wheelbase": "beam-first",
    "ball": "ball",
    "ball-other-way": "ball",
    "ball-still": "ball-still",
    "square": "frame-square",
    "twist": "frame-twist",
    "no-twist": "no-frame-twist",
}
"""Kind of claim that is made by what the frame has to do with a figure of the axle set; of what it
is by its kind, and of what is open, nothing is claimed.
"""
FORETOLD = {"caster": "ball", "fan": "fan"}
"""Kind of claim that a thing to look at makes by itself, beside the finding it follows from."""
DOUBTS = {
    marks.STRING_LEVEL: "string-level",
    marks.CLOSURE: "closure",
    marks.LEVEL_CLOSING: "level-moved",
}
"""Kind of claim that a figure makes which should be zero and is not."""
WAYS = {
    "shift": ("left-back", "right-back"),
    "short": ("right", "left"),
    "off-line": ("left", "right"),
    "twist": ("right-high", "left-high"),
    "horn-up": ("right-high", "left-high"),
    "horn-back": ("left", "right"),
    "axle": ("left-short", "right-short"),
}
"""Below zero, above zero."""
BOXES = {WHOLE_BOX: "whole", FRONT_BOX: "box", REAR_BOX: "box"}
"""Kind of claim that `it lies in that box` makes; of any other, the one ahead of the frame, that it
is the horns alone.
"""
CAUSES = ("age", "collision", "repair")
"""Causes that a person acts on."""


NOWHERE = Where(NO_PLACE)
"""Of the whole frame."""


class Claim(NamedTuple):
    """One thing that a verdict says of the frame, of the readings, or of what to do."""

    kind: str
    """kink, crown, sag, corner, diamond, horn, twist, slip, action, ..."""
    where: Where = NOWHERE
    """A station, box, level place or end of the frame, and a side; empty where it has none."""
    way: str = ""
    """Which way: in, out, up, back, left-high; of an action, which one."""
    size: float | None = None
    """In the quantity's unit, with its sign; None where no size is said."""
    strength: str = ""
    """The band that is established, or how surely a cause is named."""
    sources: tuple[Source, ...] = ()
    """Ids of the findings, readings and looks that it rests on."""


def claims_of(verdict: Verdict, layout: Layout) -> tuple[Claim, ...]:
    """Every claim of a verdict; what can be done about it, and a sister, claim beside it."""
    from wizard.judgment.consequences import frame_parts  # a line of it carries its own claims

    bent = side_of(verdict.bent)
    corner = corner_of(verdict.judged, layout)
    return (
        of_action(verdict),
        *(claim for judged in verdict.judged for claim in of_finding(judged, bent)),
        *([of_corner(corner)] if corner else []),
        *of_gathered(verdict.causes),
        *of_box(verdict.causes),
        *of_causes(verdict.causes),
        *(claim for part in frame_parts(verdict.judged, layout) for claim in of_part(part)),
        *(claim for made in verdict.foretold for claim in of_foretold(made)),
    )


def of_kind(claims: tuple[Claim, ...], *kinds: str) -> tuple[Claim, ...]:
    """Those of some kinds."""
    return tuple(c for c in claims if c.kind in kinds)


def of_action(verdict: Verdict) -> Claim:
    """What to do about the frame."""
    return Claim("action", way=verdict.action, strength=verdict.held)


# One finding -----------------------------------------------------------------------------------


def of_finding(judged: Judged, bent: Side | None = None) -> tuple[Claim, ...]:
    """What one finding claims; bent is the side whose horn alone was seen bent."""
    found = judged.finding
    if found.disagrees:
        return (Claim("contradict", sources=(found.id,)),)
    notes = (claim for note in found.notes for claim in _of_note(judged, note))
    return *_of_figure(judged, bent), *_of_doubt(judged), *notes, *_of_marks(judged)


def _claim(kind: str, judged: Judged, way: str = "", where: Where | None = None) -> Claim:
    """A claim that rests on one finding, at its own place where no other is given."""
    found = judged.finding
    where = where or where_of(found.where)
    size, band = found.value, judged.established
    return Claim(kind, where, way, size, band, (found.id, *found.readings))


def _of_figure(judged: Judged, bent: Side | None) -> Iterator[Claim]:
    """A figure that is established beyond `leave it`."""
    if judged.established in ("", "leave") or judged.quiet:
        return
    quantity, high = judged.finding.quantity, judged.finding.value > 0
    if quantity in marks.SAGS:
        yield _claim("sag" if high else "crown", judged)
    elif quantity == marks.HORN_APART:
        side, way = horn_named(judged.finding, bent)
        yield _claim("horn", judged, way, Where(PlaceId(str(judged.finding.where)), side))
    elif quantity in OF_QUANTITY:
        kind = OF_QUANTITY[quantity]
        yield _claim(kind, judged, WAYS.get(kind, ("", ""))[high])


def _of_doubt(judged: Judged) -> Iterator[Claim]:
    """Readings that should agree and do not."""
    kind = DOUBTS.get(judged.finding.quantity)
    if kind and judged.stands_out:
        yield _claim(kind, judged)


def _of_marks(judged: Judged) -> Iterator[Claim]:
    """What a check notes by a mark alone."""
    for note in judged.finding.notes:
        if isinstance(note, Mark) and note in NOTED:
            kind, way = NOTED[note]
            yield _claim(kind, judged, way)


def _of_note(judged: Judged, note: Note) -> Iterator[Claim]:
    """What a check has to say beside the number."""
    match note:
        case Bend(kind="kink"):
            side = side_of(judged.finding.where)
            yield _claim("kink", judged, where=Where(note.near, side))
        case Lean(kind="one-joint"):
            yield _claim("twist-joint", judged, where=Where(next(iter(note.between), NO_PLACE)))
        case Rises():
            for way, rail in note.odd:
                yield _claim("alarm", judged, way, Where(NO_PLACE, side_of(rail)))
            if note.unequal:
                yield _claim("alarm", judged, "unequal")
        case Slip():
            found = judged.finding
            kind = "slip" if note.named else "slip-set"
            yield Claim(kind, way=note.kind, size=found.value, sources=found.readings)


# The whole -------------------------------------------------------------------------------------


def of_corner(found: Corner) -> Claim:
    """One corner that explains the plan."""
    way = "back" if found.end == "front" else "forward"
    where = Where(PlaceId(found.end), side_of(found.side))
    return Claim("corner", where, way, abs(found.by.finding.value), sources=found.sources)


def of_gathered(causes: Causes) -> tuple[Claim, ...]:
    """The corner at which the signs gather."""
    if causes.corner is None:
        return ()
    side, third = causes.corner
    return (Claim("gathered", Where(PlaceId(third), side_of(side))),)


def of_box(causes: Causes) -> tuple[Claim, ...]:
    """The box that is out; the whole frame is out as a diamond, or because it is twisted."""
    signs = (e.sign.finding for found in causes.conclusions.values() for e in found.signs)
    kind = "diamond" if "whole-diamond" in signs else BOXES.get(causes.box, "horns-alone")
    return (Claim(kind, Where(causes.box)),) if causes.box else ()


def of_causes(causes: Causes) -> tuple[Claim, ...]:
    """What the four causes claim, each thing once."""
    said = (claim for found in causes.conclusions.values() for claim in of_cause(found))
    return tuple(dict.fromkeys(said))


CROWNS = ("crown", "crown-as-told")
"""Conditions in which rails are said to stand high."""


def of_cause(found: Conclusion) -> tuple[Claim, ...]:
    """One cause: itself where it is named and a person acts on it, and a crown among its signs."""
    high = tuple(_crown(e) for e in found.signs if e.sign.finding in CROWNS)
    if not found.named or found.cause not in CAUSES:
        return high
    sources = tuple(dict.fromkeys(i for e in found.signs for i in e.sources))
    return Claim(found.cause, strength=found.strength, sources=sources), *high


def of_crown(judged: Iterable[Judged]) -> tuple[Claim, ...]:
    """What rails that stand high as a whole claim, where that is told as no sign of anything."""
    high = [j for j in judged if j.finding.note(Crown)]
    sides = [side_of(j.finding.where) for j in high]
    ids = tuple(j.finding.id for j in high)
    return (Claim("crown", Where(NO_PLACE, sides[0] if len(sides) == 1 else None), sources=ids),)


def _crown(high: Evidence) -> Claim:
    """Rails that are said to stand high."""
    side = side_of(high.zones[0][0]) if len(high.zones) == 1 else None
    return Claim("crown", Where(NO_PLACE, side), sources=high.sources)


# Beside the frame --------------------------------------------------------------------------------


def of_part(part: FramePart) -> tuple[Claim, ...]:
    """What the frame is said to have to do with one figure of the axle set."""
    kind = EXPLAINS.get(part.kind)
    side = side_of(part.side) if part.side else None
    size = part.amount if kind in ("ball", "frame-twist") else None
    where = Where(NO_PLACE, side)
    return (Claim(kind, where, part.kind, size, sources=part.sources),) if kind else ()


def of_foretold(made: Prediction) -> tuple[Claim, ...]:
    """What one thing to look at claims of the frame, where it names one."""
    kind = FORETOLD.get(made.id)
    if kind is None:
        return ()
    size = made.amount if kind == "ball" else None
    return (Claim(kind, way=made.kind, size=size, sources=made.sources),)


OFFERED = "choice"
"""Kind of the claim that something can be done."""


def of_choice(choice: Choice) -> Claim:
    """That something can be done about a thing that was found."""
    fact = choice.fact
    size = fact.amount.value if fact.amount else None
    return Claim(OFFERED, fact.where, fact.deed, size, fact.worst, fact.sources)


def of_sister(change: Change) -> Claim:
    """That a figure of this frame differs from its sister's."""
    where = where_of(change.new.where)
    way = "more" if change.number.value > 0 else "less"
    return Claim("sister", where, way, change.number.value, sources=(change.new.id,))
