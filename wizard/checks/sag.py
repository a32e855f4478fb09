"""Sag by a string: with the engine's weight, without it, and what comes back between the two.

Source: geometry of a string on two equal blocks, and its own dip w x (l - x) / 2T, which always
hides sag.
"""

from __future__ import annotations

from wizard.checks.case import Case, Taken
from wizard.checks.edge import is_unknown, off_by_make
from wizard.checks.finding import Finding, notes_of_many
from wizard.checks.gaps import STATION, UNEVEN_U
from wizard.checks.notes import EDGE_NOT_KNOWN, Mark, Slip
from wizard.checks.sizes import round_figure
from wizard.checks.sunny import under_string
from wizard.library import marks
from wizard.library.places import (
    NO_PLACE,
    SIDES,
    PlaceId,
    PromptId,
    QuantityId,
    StepId,
    WhereId,
    asked_of,
    prompt_id,
    where_id,
)
from wizard.math.thread import dip, elastic, sag_above, sag_below
from wizard.math.uncertain import Part, Uncertain
from wizard.readings.instruments import StringLine, instrument
from wizard.readings.refused import Refused

RETURNS = (
    marks.SAG_LOADED,
    marks.SAG_UNLOADED,
    marks.ELASTIC,
    marks.GAP_SLIP,
)

DEFAULT_PULL_U = 0.3
"""Relative standard uncertainty of a pull that was judged by hand: this project's own guess."""
SLIPPED = "it looks like a slip: read it once more"
PLAIN_STRING = StringLine(0.0005, 30.0, False)


def _string(case: Case) -> StringLine:
    """The survey's string by its figures; an ordinary one where they cannot be read."""
    tool = case.survey.tool("string")
    if tool is None:
        return PLAIN_STRING
    try:
        found = instrument({**{k: str(v) for k, v in tool.extra.items()}, "kind": "string"})
    except Refused:
        return PLAIN_STRING
    return found if isinstance(found, StringLine) and found.mass and found.pull else PLAIN_STRING


def _is_steady(case: Case) -> bool:
    return case.meant(marks.STRING_STEADY) == marks.STEADY


def string_dip(case: Case, x: float) -> Uncertain:
    """How far the string hangs at x, mm, with the doubt of its pull."""
    taken = case.taken(prompt_id(case.library.page[marks.STRING_BLOCKS], NO_PLACE, "span"))
    front, rear = case.layout.string
    span = taken.number.value if taken and taken.number.value > 0 else rear - front
    along = min(max(x - front, 0.0), span)
    line = case.once(_string)
    value = dip(along, span, (line.mass or 0.0) * 1000.0, line.pull or 1.0)
    if case.once(_is_steady):
        # Doubling the pull halves the dip: had it been more than could be seen, it would have been
        # seen.
        value = min(value, 0.5)
    part = Part(
        "string:dip",
        value * DEFAULT_PULL_U,
        shared=True,
        source="the string's own dip, pull judged by hand",
    )
    return Uncertain(value, (part,) if value else ())


def _dips(case: Case) -> dict[float, Uncertain]:
    """How far the string hangs at each station, by its x."""
    return {station.x: string_dip(case, station.x) for station in case.layout.stations}


def _runs_below(case: Case) -> bool:
    return case.meant(marks.STRING_SIDE) == marks.BELOW


def _block(case: Case) -> tuple[Uncertain, tuple[str, ...]]:
    taken = case.taken(prompt_id(case.library.page[marks.STRING_BLOCKS], NO_PLACE, "block"))
    if taken is None:
        return round_figure("block", 0.0), ()
    unlike = Part(
        "blocks",
        0.15,
        shared=True,
        source="the two blocks and their seats unlike (this project's own guess)",
    )
    doubted = (abs(slip.mm) for slip in case.gap_slips if not slip.readings)
    slips = [Part("slip:blocks", mm, shared=True, source=SLIPPED) for mm in doubted]
    return taken.number.with_parts(unlike, *slips), taken.ids


def _sag(
    case: Case, step: StepId, station: PlaceId, x: float, side: str
) -> tuple[Uncertain, Taken] | None:
    gap = case.taken(prompt_id(step, station, side))
    block, ids = case.once(_block)
    if gap is None or not ids:
        return None
    sag = sag_below if case.once(_runs_below) else sag_above
    number = off_by_make(case, sag(gap.number, block, case.once(_dips)[x]), station, x)
    why = "the flange's unevenness and where the ruler stood (this project's own figure)"
    parts = [Part(f"{STATION}:{station}:{side}", UNEVEN_U, shared=True, source=why)]
    parts += under_string(case.layout, case.suns_of(gap.ids), step, side, x)
    if slipped := _slipped(case, gap):
        parts.append(Part(f"slip:{gap.prompt.id}", slipped, source=SLIPPED))
    return number.with_parts(*parts), gap


def _slipped(case: Case, gap: Taken) -> float:
    """By how much a gap's mean may be off by a slip, mm; 0 where there is none."""
    sizes = (
        abs(slip.mm) * len(set(slip.readings) & set(gap.ids)) / len(gap.ids)
        for slip in case.gap_slips
    )
    return max(sizes, default=0.0)


BLOCKS = "height of the blocks"


def _where(prompt: PromptId) -> WhereId:
    """Station and side of a gap."""
    asked = asked_of(prompt)
    return where_id(asked.item, asked.name)


def _slips(case: Case) -> list[Finding]:
    """The gaps that do not fit, each named with what it looks like."""
    found: dict[WhereId, Finding] = {}
    for slip in case.gap_slips:
        asks = tuple(case.prompts[p].ask for p in slip.prompts) or (BLOCKS,)
        where = _where(slip.prompts[0]) if slip.prompts else WhereId("string")
        why = "how well the other gaps foretell this one"
        number = Uncertain(slip.mm, (Part("gap-slip", slip.u, source=why),))
        note = Slip(len(asks) == 1, slip.kind, asks)
        finding = case.found(marks.GAP_SLIP, where, number, slip.readings, note)
        found.setdefault(where, finding)
    return list(found.values())


def check(case: Case) -> list[Finding]:
    """Sag at every station and side, loaded and unloaded, and the elastic part where both were
    read.
    """
    return [*(f for side in SIDES for f in _rail(case, side)), *_slips(case)]


def _rail(case: Case, side: str) -> list[Finding]:
    found: list[tuple[QuantityId, WhereId, Uncertain, tuple[str, ...]]] = []
    block_ids, page = case.once(_block)[1], case.library.page
    for station in case.layout.stations:
        where = where_id(station.id, side)
        loaded = _sag(case, page[marks.STRING_LOADED], station.id, station.x, side)
        unloaded = _sag(case, page[marks.STRING_UNLOADED], station.id, station.x, side)
        for name, sag in ((marks.SAG_LOADED, loaded), (marks.SAG_UNLOADED, unloaded)):
            if sag:
                found.append((name, where, sag[0], (*sag[1].ids, *block_ids)))
        if loaded and unloaded:
            ids = (*loaded[1].ids, *unloaded[1].ids)
            found.append((marks.ELASTIC, where, elastic(loaded[0], unloaded[0]), ids))
    notes = notes_of_many([str(row[0]) for row in found], [row[2].value for row in found])
    return [
        case.found(*row, *filter(None, (note, _unknown(row[2]))))
        for row, note in zip(found, notes, strict=True)
    ]


def _unknown(sag: Uncertain) -> Mark | None:
    return EDGE_NOT_KNOWN if is_unknown(sag) else None
