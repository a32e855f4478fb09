"""The axle set in plain words: what was read of it, what the frame explains, what is left to the axle."""

from __future__ import annotations

from collections.abc import Iterator

from wizard.judgment.axle_set import FramePart, frame_parts
from wizard.judgment.bands import Judged
from wizard.judgment.facts import is_out
from wizard.judgment.verdict import Verdict
from wizard.library import marks
from wizard.library.places import SIDES
from wizard.library.shapes import Library
from wizard.survey.guide import layout_of
from wizard.survey.meant import meant
from wizard.survey.record import Survey, Unit
from wizard.telling.amounts import about
from wizard.telling.document import Item
from wizard.telling.sentences import sentence_and_band

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
        "On this kind of frame the springs hold the axle, so how much of it is the frame's cannot be"
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
    (marks.CASTER_APART, "not-known"): (
        "Whether the frame is square is not known yet. Only under a square frame is it the beam or a"
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
    (marks.PERCH_APART, "twist-not-known"): (
        "Whether a twist of the frame does it is not known yet. Springs and shackles come first."
    ),
}
"""What the frame has to do with a figure, by the figure and by how."""
NO_BOOK = (
    "You have no figures of the car's own book, so caster, camber and toe are only compared, left"
    " against right. Ask an owners' club for the page on the front axle."
)
PINS = {
    marks.PLAY: "At the {side} front wheel you felt play. Have the kingpin and the wheel bearing looked at.",
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


def _read(judged: Judged, survey: Survey, library: Library) -> Item:
    """One figure, what it asks for, and where its limit comes from."""
    text = sentence_and_band(judged, layout_of(survey, library), survey.unit)
    edge = next((e for e in judged.edges if not e.is_over), None)
    limit = f" (Limit: {edge.source}.)" if edge and judged.is_told else ""
    ids = (judged.finding.id, *((f"limit:{judged.finding.limit}",) if judged.edges else ()))
    return Item(f"{text}{limit}", ids)


def _frame(part: FramePart, unit: Unit) -> Item:
    """What the frame explains of a figure."""
    if part.kind == "ball":
        more = "more" if part.amount > 0 else "less"
        least = "at least " if part.at_least else "about "
        size = about(part.amount, "deg", unit)
        text = f"The frame explains {least}{size} {more} caster of it, on both sides alike."
        return Item(f"{text} What is left is springs, rods, perches or the beam.", part.sources)
    said = FRAME_SAID[part.of, part.kind]
    return Item(said.format(side=part.side, amount=about(part.amount, "mm", unit)), part.sources)


def _pins(survey: Survey, library: Library) -> Iterator[Item]:
    """What was felt at each kingpin."""
    for side in SIDES:
        asked = library.asking(marks.KINGPIN, side=side)
        said = meant(survey, library, marks.KINGPIN, side=side)
        if asked and said:
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
