"""The axles: which one stands askew, what holds it on this kind of frame, what to look at beside a
bent corner; the axle set, and where to look for a wobble.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING

from wizard.judgment import consequences
from wizard.judgment.bands import Judged
from wizard.judgment.claims import of_finding, of_part
from wizard.judgment.consequences import FramePart, frame_parts
from wizard.judgment.fact import gravest
from wizard.judgment.facts import beyond, is_out, is_true
from wizard.library import marks
from wizard.library.places import SIDES, QuantityId, Source
from wizard.library.shapes import Also, Layout, Library
from wizard.readings.plain import and_
from wizard.survey.guide import layout_of
from wizard.survey.meant import meant
from wizard.survey.record import Survey, Unit
from wizard.telling.amounts import about
from wizard.telling.document import Item
from wizard.telling.not_driven import NOT_DRIVEN
from wizard.telling.quantity_names import ACROSS, holds
from wizard.telling.sentences import sentence, sentence_and_band

if TYPE_CHECKING:  # it would bring the math before there is something to compute
    from wizard.judgment.verdict import Verdict

LEAST_MM = 3.0
"""An axle that is less askew is not named (the wheelbase's own limit of what is left)."""


def askew(verdict: Verdict) -> list[Judged]:
    """The axles that stand askew beyond doubt."""
    axles = [j for j in verdict.judged if j.finding.quantity == marks.AXLE]
    return [j for j in axles if beyond(j, 0.0) and abs(j.finding.value) >= LEAST_MM]


def axle_advice(verdict: Verdict, layout: Layout) -> str:
    """What to do where the wheelbases differ under a true frame."""
    found = askew(verdict)
    which = f"the {found[0].finding.where} axle" if len(found) == 1 else "an axle"
    return f"The frame may be straight and {which} out of square. Look at {holds(layout)}, then measure again."


def beside(corner: tuple[str, str], layout: Layout | None) -> str:
    """The parts of a corner that a blow may have bent too; empty for the middle of the frame."""
    rods = "springs" if layout is None or ACROSS not in layout.traits else "radius rods"
    if corner[1] == "front":
        return f"axle, spindles, {rods} and steering arms of the {' '.join(corner)} corner"
    if corner[1] == "rear":
        return f"axle, {rods} and shackles of the {' '.join(corner)} corner"
    return ""


# The axle set, after the frame ------------------------------------------------------------------


FRAME_SAID = {
    (marks.BEAM_BEND, "short-wheelbase"): (
        "The {side} wheelbase is short too. A bent beam does that under a straight frame: have the"
        " beam looked at first."
    ),
    (marks.CASTER_BOOK, "ball-still"): (
        "The frame explains none of it: by the string the axle's ball has not gone up or down."
    ),
    (marks.CASTER_BOOK, "ball-unread"): (
        "How much of it is the frame's is not known: the string was not read without the engine's"
        " weight."
    ),
    (marks.CASTER_BOOK, "no-ball"): (
        "On this kind of frame the springs hold the axle, so how"
        " much of it is the frame's cannot be"
        " computed. Look at springs, shackles and wedges."
    ),
    (marks.CASTER_APART, "one-ball"): (
        "The frame does not explain it: one ball holds both ends of this beam, and does the same to"
        " both. Look for a twisted beam, a bent rod or a perch."
    ),
    (marks.CASTER_APART, "square"): (
        "The frame is square and not twisted as far as it was read, so look for a twisted beam or a"
        " spring perch."
    ),
    (marks.CASTER_APART, "out"): (
        "The frame itself is out of place. Have that put right first, then read the caster again."
    ),
    (marks.CASTER_APART, "open"): (
        "Whether the frame is square is not known yet. Only under a"
        " square frame is it the beam or a"
        " perch."
    ),
    (marks.PERCH_APART, "twist"): (
        "The twist in the frame can make up to {amount} of it. The rest is springs, shackles or a"
        " perch."
    ),
    (marks.PERCH_APART, "no-twist"): (
        "The level found no twist that would explain it. Look at springs and shackles, then at the"
        " perch."
    ),
    (marks.PERCH_APART, "twist-open"): (
        "Whether a twist of the frame does it is not known yet. Springs and shackles come first."
    ),
}
"""What the frame has to do with a figure, by the figure and by how."""
BALL = {
    "ball": "That is part of it; what is left is springs, rods, perches or the beam.",
    "ball-other-way": "That explains none of it: look at springs, rods, perches and the beam.",
}
"""What a ball that moved has to do with caster that is another than the book's."""
NO_BOOK = (
    "You have no figures of the car's own book, so caster, camber and toe are only compared, left"
    " against right. Ask an owners' club for the page on the front axle."
)
PINS = {
    marks.PLAY: (
        "At the {side} front wheel you felt play. Have the kingpin and the wheel bearing looked at."
    ),
    marks.TIGHT_PIN: "At the {side} front wheel you felt no play, by hand.",
    marks.TO_A_SHOP: "The {side} kingpin is left to a shop.",
}
TOE_LAST = "Toe is set last, once frame, axle and joints stand still."


def axle_set_lines(verdict: Verdict, survey: Survey, library: Library) -> list[Item]:
    """Everything that was read of the axle set, each with what the frame has to do with it; nothing
    where nobody read any of it.
    """
    layout = layout_of(survey, library)
    parts = frame_parts(verdict.judged, layout)
    lines = []
    for quantity in marks.OF_AXLE_SET:
        found = [j for j in verdict.beside if j.finding.quantity == quantity]
        lines += [_read(j, survey, library) for j in found]
        lines += [_frame(p, survey.unit) for p in parts if p.of == quantity]
    lines += list(_pins(survey, library))
    return [*lines, *_ends(lines, verdict, survey, library)]


def beside_words(verdict: Verdict, survey: Survey, library: Library) -> str:
    """The gravest thing that was found beside the frame, for the answer; empty where nothing
    was.
    """
    out = sorted((j for j in verdict.beside if is_out(j)), key=gravest, reverse=True)
    felt = [item.text for item in _pins(survey, library, marks.PLAY)]
    layout = layout_of(survey, library)
    said = [*(sentence_and_band(j, layout, survey.unit) for j in out), *felt]
    more = f" And {len(said) - 1} more beside the frame." if len(said) > 1 else ""
    return f"{said[0]}{more}" if said else ""


def called_lines(
    also: Also, verdict: Verdict, survey: Survey, library: Library
) -> tuple[Item, ...]:
    """Every figure of something that was called for; none of the axle set, which has words of its
    own.
    """
    found = (j for j in verdict.beside if j.finding.of.also == also.id)
    own = (j for j in found if j.finding.quantity not in marks.OF_AXLE_SET)
    return tuple(_read(j, survey, library) for j in own)


def _read(judged: Judged, survey: Survey, library: Library) -> Item:
    """One figure, what it asks for, and where its limit comes from."""
    text = sentence_and_band(judged, layout_of(survey, library), survey.unit)
    edge = next((e for e in judged.edges if not e.is_over), None)
    limit = f" (Limit: {edge.source}.)" if edge and judged.is_told else ""
    ids = (judged.finding.id, *((f"limit:{judged.finding.limit}",) if judged.edges else ()))
    return Item(f"{text}{limit}", ids, claims=of_finding(judged))


def _frame(part: FramePart, unit: Unit) -> Item:
    """What the frame explains of a figure."""
    if part.kind in BALL:
        more = "more" if part.amount > 0 else "less"
        least = "at least " if part.at_least else "about "
        text = (
            f"The frame gives {least}{about(part.amount, 'deg', unit)} {more} caster on both sides."
        )
        return Item(f"{text} {BALL[part.kind]}", part.sources, claims=of_part(part))
    said = FRAME_SAID[part.of, part.kind]
    said = said.format(side=part.side, amount=about(part.amount, "mm", unit))
    return Item(said, part.sources, claims=of_part(part))


def _pins(survey: Survey, library: Library, only: str = "") -> Iterator[Item]:
    """What was felt at each kingpin; only: of those at which just this was felt."""
    for side in SIDES:
        asked = library.asking(marks.KINGPIN, side=side)
        said = meant(survey, library, marks.KINGPIN, side=side)
        if asked and said and only in ("", said):
            yield Item(PINS[said].format(side=side), (f"answer:{asked.prompt}",))


def _ends(lines: list[Item], verdict: Verdict, survey: Survey, library: Library) -> Iterator[Item]:
    """That there is no book, where something was read that one would tell; that toe comes last."""
    read = {j.finding.quantity: j for j in verdict.beside}
    leans = {marks.CASTER_SIDE, marks.CAMBER_SIDE, marks.TOE} & read.keys()
    books = {marks.CASTER_BOOK, marks.CAMBER_BOOK, marks.TOE_BOOK} & read.keys()
    asked = library.asking(marks.BOOK_CASTER)
    if leans and not books and asked and survey.answer_to(asked.prompt):
        yield Item(NO_BOOK, (f"answer:{asked.prompt}",))
    toe = read.get(marks.TOE_BOOK)
    if toe is not None and is_out(toe):
        yield Item(TOE_LAST, (toe.finding.id,))


# The wobble: the causes in order, the frame last -----------------------------------------------


LOOK_AT = {
    consequences.TIRES: "Tires and wheels: equal pressure, balance, a bent rim, every nut tight.",
    consequences.JOINTS: "Steering joints, steering box and wheel bearings: play in any of them.",
    consequences.PINS: "The kingpins.",
    consequences.TOE: "The toe.",
    consequences.CASTER: (
        "The caster: too much shakes, too little wanders, unequal pulls to one side."
    ),
    consequences.BRAKES: "The brakes: one that drags, a drum out of round, rods set unequally.",
    consequences.SPRINGS: (
        "Springs, shackles and dampers: loose bolts, a broken leaf, a dead damper."
    ),
    consequences.AXLE_ITSELF: "The axle: a bent beam, or one that is not square under the frame.",
    consequences.FRAME: "The frame.",
}
FIRST, NEXT, LAST = "First", "Then", "Last"
NEVER = "A wobble alone never says that a frame is bent."
OF_FRAME = {
    "out": "Something of it is out of place; have that put right for its own sake.",
    "straight": "What was measured of it is in order.",
    "open": "Not all of it is known yet.",
}
NOT_READ = "Not read yet."
FELT_AT = {
    marks.PLAY: "you felt play on the {side}",
    marks.TIGHT_PIN: "you felt none on the {side}",
    marks.TO_A_SHOP: "the {side} is left to a shop",
}
BRAKED = f"Something is wrong with the brakes or near them. {NOT_DRIVEN}"


def _order(survey: Survey, library: Library) -> tuple[str, ...]:
    """The causes in the order of looking; empty where nobody was asked what was felt."""
    asked = library.asking(marks.FELT)
    if asked is None or not survey.answer_to(asked.prompt):
        return ()
    felt, when, since = (
        meant(survey, library, q) for q in (marks.FELT, marks.FELT_WHEN, marks.FELT_SINCE)
    )
    return consequences.where_to_look(felt, when, since)


def wobble_brief(survey: Survey, library: Library) -> str:
    """The same in a line: `Look first at the toe, then at the caster; at the frame last.`"""
    names = [LOOK_AT[cause].rstrip(".").partition(":")[0] for cause in _order(survey, library)]
    if not names:
        return ""
    first, then = (name[:1].lower() + name[1:] for name in names[:2])
    return f"Look first at {first}, then at {then}; at the frame last."


def wobble_lines(verdict: Verdict, survey: Survey, library: Library) -> list[Item]:
    """The causes in order; nothing where nobody was asked what was felt."""
    asked, order = library.asking(marks.FELT), _order(survey, library)
    if asked is None or not order:
        return []
    ids: tuple[Source, ...] = (f"answer:{asked.prompt}",)
    braking = meant(survey, library, marks.FELT_WHEN) == marks.BRAKING
    lines = [Item(BRAKED, ids)] if braking else []
    for n, cause in enumerate(order):
        head = FIRST if not n else LAST if cause == consequences.FRAME else NEXT
        said, sources = _known(cause, verdict, survey, library)
        words = " ".join(filter(None, (LOOK_AT[cause], said)))
        lines.append(Item(f"{head}, {words[:1].lower()}{words[1:]}", (*ids, *sources)))
    return lines


def _known(
    cause: str, verdict: Verdict, survey: Survey, library: Library
) -> tuple[str, tuple[Source, ...]]:
    """What this survey knows of a cause, and what says so."""
    if cause == consequences.PINS:
        return _felt_at(survey, library)
    if cause == consequences.FRAME:
        return f"{OF_FRAME[_of_frame(verdict)]} {NEVER}", ()
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
    consequences.TOE: (marks.TOE,),
    consequences.CASTER: (marks.CASTER_APART,),
    consequences.AXLE_ITSELF: (marks.BEAM_BEND, marks.WHEELBASE),
}
"""What was read of a cause, where something reads it."""


def _felt_at(survey: Survey, library: Library) -> tuple[str, tuple[Source, ...]]:
    said, ids = [], []
    for side in SIDES:
        asked = library.asking(marks.KINGPIN, side=side)
        felt = meant(survey, library, marks.KINGPIN, side=side)
        if asked and felt:
            said.append(FELT_AT[felt].format(side=side))
            ids.append(f"answer:{asked.prompt}")
    words = f"{and_(said)}." if said else NOT_READ
    return words[:1].upper() + words[1:], tuple(ids)


def _of_frame(verdict: Verdict) -> str:
    """How much is known of the frame."""
    limited = [j for j in verdict.of_frame if j.bands]
    if any(map(is_out, limited)) or verdict.stops or verdict.loose:
        return "out"
    whole = limited and not verdict.lacking and all(map(is_true, limited))
    return "straight" if whole else "open"
