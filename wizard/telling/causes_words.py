"""What it comes from, in plain words: age, a collision, an earlier repair, or made so; and the corner
that explains it.
"""

from __future__ import annotations

from collections.abc import Iterable

from wizard.judgment.cause import Causes, Conclusion
from wizard.judgment.claims import of_box, of_cause, of_corner, of_gathered
from wizard.judgment.corner import Corner, corner_of
from wizard.judgment.facts import Zone
from wizard.judgment.signs import Evidence
from wizard.judgment.verdict import Verdict
from wizard.library.places import FRONT_BOX, REAR_BOX, WHOLE_BOX, PlaceId, Source, spoken
from wizard.library.shapes import Layout, Library
from wizard.library.shapes_signs import CAUSES
from wizard.readings.plain import clean_line
from wizard.survey.guide import layout_of
from wizard.survey.record import Survey, Unit
from wizard.telling.amounts import about, doubt
from wizard.telling.document import Item

ANSWERS = {
    "strong": "yes, the signs are strong.",
    "likely": "probably.",
    "hint": "it is only a hint.",
    "none": "no sign of it.",
}
MADE_SO = {
    "strong": "yes, some of what looks odd is from the maker.",
    "likely": "probably, some of what looks odd is from the maker.",
}
"""How the fourth cause is answered: it clears single marks, and rules out none of the other three."""
RULED_OUT = {
    "age": "The string shows no sag of that kind, and the rail tops were seen bare.",
    "collision": "Rails, body and tape were all asked, and none tells of one.",
    "repair": "Rails and horns were seen bare, and show no trace of one.",
    "original": "There is no odd mark that asks for it.",
}
UNEQUAL = (
    "not known. No odd mark asks for it, but points that the maker set unequally measure like a diamond."
    " To find out, tape the diagonals of a second set of holes."
)
ONE_KIND = "One kind of sign is not enough to call it that."
ONE_BEND = (
    "The string and the metal show one and the same bend, which is not enough to call it that."
)
WHEN = {
    "old": "The metal inside the fold is brown with rust: it is old.",
    "recent": "The metal inside the fold is bright: it is recent.",
}
OLDER = "Hood and doors fit what is there now: it is older than that."
UNTOUCHED = "The maker's press lines run through: where they do, nobody has hammered or ground."
MOVING = "Fresh cracks in the paint: something moves there now. Have that joint seen first."
RUST = ("even-pitting", "pitting-one-side", "rust-away")
"""Signs of age that say nothing of a shape."""
MOST = 6
"""Signs said in one line; the mentor's table has them all."""


def zone_words(zone: Zone | None) -> str:
    """`left front`; for the middle `left middle`."""
    return " ".join(zone) if zone else ""


def cause_lines(
    verdict: Verdict, library: Library, survey: Survey | None = None, then: str = ""
) -> list[Item]:
    """The corner that is out, where the survey is given; the four causes, each in a line of its
    own; where and when.
    """
    causes = verdict.causes
    plain = corner_lines(verdict, layout_of(survey, library), survey.unit) if survey else []
    there = [causes[c] for c in CAUSES if c in causes.conclusions]
    short = survey is not None and bool(survey.follows)
    left = [c for c in there if short and _without_sign(c)]
    said = [_cause(c, causes, library) for c in there if c not in left]
    return [
        *plain,
        *said,
        *_not_again(left, survey, library, then),
        *_where(causes),
        *_time(causes),
    ]


def _without_sign(found: Conclusion) -> bool:
    """Whether it cannot be told, and no sign points to it."""
    return found.cannot_tell and not found.signs


def _not_again(
    left: list[Conclusion], survey: Survey | None, library: Library, then: str
) -> list[Item]:
    """Causes that a short list did not look at: one line that says when they were. then: the day of
    that survey; empty where only its name is known.
    """
    if not left or survey is None:
        return []
    names = "; ".join(library.signs.causes[c.cause].name for c in left)
    found = f"it was found on {then}" if then else f"{clean_line(survey.follows, 60)} tells it"
    rests = tuple(dict.fromkeys(i for c in left for i in _rests(c)))
    return [Item(f"Not looked at again, so as {found}: {names}.", rests)]


def _cause(found: Conclusion, causes: Causes, library: Library) -> Item:
    name = library.signs.causes[found.cause].name
    rests = _rests(found)
    if found.cannot_tell:
        text = f"{name}: not known yet. {untold(found)}"
        return Item(text, rests, claims=of_cause(found))
    if by_maker := _by_points(found, causes):
        return Item(f"{name}: {UNEQUAL}", (*rests, *_sources(by_maker)))
    answers = ANSWERS | (MADE_SO if found.cause == "original" else {})
    text = f"{name}: {answers[found.strength]} "
    if found.strength == "none":
        return Item(text + _against(found, RULED_OUT[found.cause]), rests)
    text += _list(found.signs, found)
    if all(e.sign.id in RUST for e in found.signs):
        text += " Rust tells of age; it explains no bend."
    if found.strength == "hint":
        text += f" It could also be {found.signs[0].sign.also}." if found.signs[0].sign.also else ""
        if found.one_kind:
            text += f" {ONE_BEND if found.one_bend else ONE_KIND}"
    return Item(text, rests, claims=of_cause(found))


def _by_points(found: Conclusion, causes: Causes) -> tuple[Evidence, ...]:
    """The signs that points set unequally by the maker would give too; none beside an odd mark."""
    return causes.unexplained if (found.cause, found.strength) == ("original", "none") else ()


def untold(found: Conclusion) -> str:
    """Why it cannot be told, and what would settle it."""
    because = _list(found.signs, found) + " " if found.signs else ""
    if found.signs and found.signs[0].sign.also:
        because += f"That could also be {found.signs[0].sign.also}. "
    return because + f"To find out, {found.unmet[0].settle}."


def _against(found: Conclusion, otherwise: str) -> str:
    if not found.against:
        return otherwise
    first = found.against[0].sign
    return (
        f"{'What is told speaks against it' if first.kind == 'history' else 'Against it'}:"
        f" {first.words}."
    )


def _list(signs: tuple[Evidence, ...], found: Conclusion) -> str:
    """The heaviest signs in one sentence, each with its corner."""
    places: dict[str, list[str]] = {}
    for e in signs:
        places.setdefault(e.sign.words, []).extend(
            zone_words(z) for z in e.zones if len(e.zones) == 1
        )
    words = [
        f"{said} ({', '.join(dict.fromkeys(at))})" if at else said for said, at in places.items()
    ]
    rest = f", and {len(words) - MOST} more" if len(words) > MOST else ""
    text = "; ".join(words[:MOST]) + rest + "."
    poor = any(e.seen in ("painted", "dirty") for e in signs[:MOST])
    return f"Why: {text}" + (" It was not seen bare, so it counts for less." if poor else "")


def _rests(found: Conclusion) -> tuple[Source, ...]:
    own = [i for e in (*found.signs, *found.against) for i in (f"sign:{e.sign.id}", *e.sources)]
    return tuple(
        dict.fromkeys([*own, *(f"step:{w.step}" for w in found.unmet), f"rule:{found.cause}"])
    )


def _where(causes: Causes) -> list[Item]:
    hurt = [e for c in ("collision", "repair") if c in causes.conclusions for e in causes[c].signs]
    lines = []
    if causes.corner:
        ids = _sources(e for e in hurt if causes.corner in e.zones)
        text = f"The signs gather at the {zone_words(causes.corner)}."
        lines.append(Item(text, ids, claims=of_gathered(causes)))
    if causes.box:
        ids = _sources(e for e in hurt if e.box)
        text = box_words(causes.box)
        lines.append(Item(text, ids, claims=of_box(causes)))
    return lines


def _sources(signs: Iterable[Evidence]) -> tuple[Source, ...]:
    """What the signs rest on, each source once."""
    return tuple(dict.fromkeys(i for e in signs for i in e.sources))


BOXES = {
    WHOLE_BOX: "The whole frame is out, from front to rear.",
    FRONT_BOX: "It is the front box that is out.",
    REAR_BOX: "It is the rear box that is out.",
}


def box_words(box: PlaceId) -> str:
    """Where it lies, of a box that is out: any but these is that of the horns."""
    return BOXES.get(box, f"It is local, at the {spoken(box)}: the box behind them is not out.")


def _time(causes: Causes) -> list[Item]:
    bad = any(causes[c].signs for c in ("age", "collision", "repair") if c in causes.conclusions)
    told = {OLDER: causes.older if bad else (), UNTOUCHED: causes.untouched, MOVING: causes.moving}
    dated = [
        Item(text, tuple(i for e in signs for i in e.sources))
        for text, signs in told.items()
        if signs
    ]
    return [*_fold(causes), *dated]


def _fold(causes: Causes) -> list[Item]:
    """The age of the metal inside a fold, where that was seen."""
    if not causes.when:
        return []
    folded = (e for c in causes.conclusions.values() for e in c.signs if e.fold)
    return [Item(WHEN[causes.when], _sources(folded))]


def corner_lines(verdict: Verdict, layout: Layout, unit: Unit) -> list[Item]:
    """Where one corner explains the plan; nothing where none does."""
    found = corner_of(verdict.judged, layout)
    if found is None:
        return []
    return [Item(_corner(found, layout, unit), found.sources, claims=(of_corner(found),))]


def _corner(found: Corner, layout: Layout, unit: Unit) -> str:
    other = "right" if found.side == "left" else "left"
    way, past, edge = (
        ("back", "ahead of", "rear") if found.end == "front" else ("forward", "behind", "front")
    )
    size = about(found.by.finding.value, "mm", unit)
    box = layout.box_by_id[found.box]
    place = place_name(box.rear if edge == "rear" else box.front, layout)
    return (
        f"The {found.side} {found.end} corner stands {size} {way} of the {other},"
        f" {doubt(found.by, unit)}. {_rest(found, layout)}The bend is {past} the {place}."
    )


def _rest(found: Corner, layout: Layout) -> str:
    """What is known of the other boxes; where they are not all settled, that is not said."""
    if not found.true:
        return ""
    names = {b.id: b.name for b in layout.boxes}
    true = names[found.true[0]] if len(found.true) == 1 else "rest"
    return f"The {true} is square and equal. "


def place_name(id: PlaceId, layout: Layout) -> str:
    """A place by the name of the crossmember at it, where it has one."""
    level = next((v.name for v in layout.levels if v.place == id), "")
    return level or layout.place(id).name
