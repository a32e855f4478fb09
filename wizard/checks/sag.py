"""Sag by a string: with the engine's weight, without it, what comes back between the two, and what
the body's bolts do to it, drawn tight.

Source: geometry of a string on two equal blocks, and its own dip w x (l - x) / 2T, which always
hides sag. The bolts: the gap to a rail's lower edge with them tight less that with them slack;
block, dip and the shape that the edge has from the maker stand in both and drop out (identity; the
way of reading: common practice, no published source).
"""

from __future__ import annotations

from wizard.checks.case import Case, Taken
from wizard.checks.edge import is_unknown, off_by_make, straight
from wizard.checks.finding import Finding, notes_of_many, one_of_many
from wizard.checks.gaps import STATION, UNEVEN_U
from wizard.checks.notes import BODY_GAVE, EDGE_NOT_KNOWN, FURTHER, STRAIGHTER, Mark, Slip
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
    step_of,
    where_id,
)
from wizard.math.student import coverage_factor
from wizard.math.thread import dip, elastic, sag_above, sag_below
from wizard.math.uncertain import GUESS, OWN, Part, Uncertain, combine
from wizard.readings.instruments import StringLine, instrument
from wizard.readings.refused import Refused
from wizard.survey.rows import Reading

RETURNS = (
    marks.SAG_LOADED,
    marks.SAG_UNLOADED,
    marks.ELASTIC,
    marks.GAP_SLIP,
    marks.BODY_PULL,
)

AGAIN_U = 0.3
"""mm: the string drawn again, and a ruler not quite where it stood (this project's own guess)."""
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
        source="the two blocks and their seats unlike",
        whose=GUESS,
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
    number = sag(gap.number, block, case.once(_dips)[x])
    if not case.once(straight):
        number = off_by_make(case, number, station, x)
    why = "the flange's unevenness and where the ruler stood"
    parts = [Part(f"{STATION}:{station}:{side}", UNEVEN_U, shared=True, source=why, whose=OWN)]
    if case.suns:
        parts += under_string(case.layout, case.suns_of(gap.ids), step, side, x)
    if slipped := _slipped(case, gap):
        parts.append(Part(f"slip:{gap.prompt.id}", slipped, source=SLIPPED))
    return number.with_parts(*parts), gap


def _slipped(case: Case, gap: Taken) -> float:
    """By how much a gap's mean may be off by a slip, mm; 0 where there is none."""
    if not case.gap_slips:
        return 0.0
    ids = set(gap.ids)
    return max(abs(s.mm) * len(ids & set(s.readings)) / len(ids) for s in case.gap_slips)


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
    """Sag at every station and side, loaded and unloaded, the elastic part where both were read,
    and how far each station rises when the body's bolts are drawn tight, up positive.
    """
    own = [f for side in SIDES for f in _rail(case, side)]
    return [*own, *_slips(case), *one_of_many(_pulled(case, own))]


def _pulled(case: Case, own: list[Finding]) -> list[Finding]:
    """What the bolts do; nothing where nobody called for their pages."""
    if case.library.page[marks.BODY_TIGHT] in case.uncalled:
        return []
    lies = _lies(case, own)
    return [f for side in SIDES for f in _pulls(case, side, lies)]


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
    edges = _edges(case, [row[2] for row in found])
    return [
        case.found(*row, *filter(None, more))
        for row, *more in zip(found, notes, edges, strict=True)
    ]


def _edges(case: Case, sags: list[Uncertain]) -> list[Mark | None]:
    """Of each sag whether it hangs on an edge whose shape nobody knows; of a straight one none does."""
    if case.once(straight):
        return [None] * len(sags)
    return [EDGE_NOT_KNOWN if is_unknown(sag) else None for sag in sags]


# The body's bolts --------------------------------------------------------------------------------


def _pulls(case: Case, side: str, lies: dict[WhereId, Uncertain]) -> list[Finding]:
    """Every station of a rail that was read both times; one that moves says whether that makes it
    straighter, and if none does, whether the body gave in its place.

    lies: how low the rails lie by themselves.
    """
    moved = (_pull(case, station.id, side, lies) for station in case.layout.stations)
    found = [finding for finding in moved if finding]
    if found and not any(sure(f.number) for f in found) and _body_gave(case, side, found):
        most = max(found, key=lambda f: abs(f.value))
        found = [f.noted(BODY_GAVE) if f is most else f for f in found]
    return found


def _pull(
    case: Case, station: PlaceId, side: str, lies: dict[WhereId, Uncertain]
) -> Finding | None:
    """How far one station of a rail rises; None where it was not read both times."""
    page = case.library.page
    slack = case.taken(prompt_id(page[marks.BODY_SLACK], station, side))
    tight = case.taken(prompt_id(page[marks.BODY_TIGHT], station, side))
    if slack is None or tight is None:
        return None
    why = "the string drawn again, a ruler not quite where it stood"
    part = Part(f"again:{station}:{side}", AGAIN_U, source=why, whose=GUESS)
    number = (tight.number - slack.number).with_parts(part)
    where = where_id(station, side)
    note = _way(number, lies.get(where))
    ids = (*slack.ids, *tight.ids)
    return case.found(marks.BODY_PULL, where, number, ids, *([note] if note else []))


def sure(number: Uncertain) -> int:
    """1 or -1 where a number surely lies on that side of zero, else 0."""
    half = coverage_factor(number.dof) * number.u
    return int(number.value > half) - int(number.value < -half)


def _lies(case: Case, own: list[Finding]) -> dict[WhereId, Uncertain]:
    """How low the rails lie under the same load with the body slack, by station and side; only
    where the string ran above them, so that no maker's shape of the lower edge misleads.
    """
    slack = case.library.page[marks.BODY_SLACK]
    read = next((r for r in case.survey.table(Reading) if step_of(r.prompt) == slack), None)
    if read is None or case.meant(marks.STRING_SIDE) == marks.BELOW:
        return {}
    same = _load(case, read)
    return {one.where: one.number for one in own if same in _loads(case, one)}


def _load(case: Case, read: Reading) -> tuple[str, str]:
    """How a reading found engine and body."""
    state = case.survey.state_of(read.state)
    return state.engine, state.body


def _loads(case: Case, one: Finding) -> set[tuple[str, str]]:
    """How the readings of a sag found them, where all found them alike; else nothing."""
    if one.quantity not in marks.SAGS:
        return set()
    loads = {_load(case, r) for r in case.survey.read_on(one.of.read_at, one.readings)}
    return loads if len(loads) == 1 else set()


def _way(pull: Uncertain, low: Uncertain | None) -> Mark | None:
    """Whether the bolts bring a rail nearer to straight or further from it; None where none can
    say.

    A rail that lies `low` and is lifted by `pull` lies |low - pull| off, which is less than |low|
    just where pull and 2 low - pull have one sign.
    """
    if low is None or not sure(pull):
        return None
    rest = combine(2 * low.value - pull.value, [(2.0, low), (-1.0, pull)])
    way = sure(pull) * sure(rest)
    return {1: STRAIGHTER, -1: FURTHER}.get(way)


def _body_gave(case: Case, side: str, found: list[Finding]) -> bool:
    """Whether the widest gap that the bolts closed is surely more than the rail can have moved."""
    gap = case.taken(prompt_id(case.library.page[marks.BODY_SLACK], PlaceId(side), "gap"))
    if gap is None:
        return False
    rests = (
        combine(gap.number.value - way * f.value, [(1.0, gap.number), (-way, f.number)])
        for f in found
        for way in (1.0, -1.0)
    )
    return all(sure(rest) > 0 for rest in rests)
