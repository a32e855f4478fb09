"""Doubts at the prompt: a new reading against its repeats, the plan of the rest, the pieces of its
rail, its twin on the other side, the stations beside it, and the level's own error.

Readings a good program doubts at once are common practice, no published source. Against the plan a
difference is held against its own doubt, in which what both share (the tape, the rivets) has
canceled. Along one rail the pieces add up to the whole. Source: plane geometry. A bend that anybody
would see, 12 mm in 2 m, shortens the sum by a seventh of a millimeter.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, replace

from wizard.checks.axles import apart, to_axles
from wizard.checks.case import Case, Taken, case_of
from wizard.checks.gaps import POINT, SIZES, Gap, misfit_of, stranger_before
from wizard.checks.plan import Plan, flat, plan_of
from wizard.checks.thin_places import sound_beside
from wizard.checks.twist_supports import all_supports, footing
from wizard.library import marks
from wizard.library.kinds import bubble_of
from wizard.library.places import (
    NO_PLACE,
    SIDES,
    PlaceId,
    PointId,
    PromptId,
    asked_of,
    mirrored,
    point_of,
    prompt_id,
)
from wizard.library.shapes import Library
from wizard.math.network_doubt import derive, distance_between
from wizard.math.network_outliers import as_likely, threshold
from wizard.math.network_slips import recognize_slip
from wizard.math.student import t_quantile
from wizard.math.uncertain import Uncertain
from wizard.readings.plain import clean_line
from wizard.readings.refused import Refused
from wizard.readings.written import write_fraction_about
from wizard.survey.answer import Disagreement, Foretell
from wizard.survey.prompts import Prompt
from wizard.survey.record import Survey, Unit
from wizard.survey.rows import Reading

CHANCE = 0.0025
"""How often a sound repeat may be doubted: with forty of them one survey in ten (this project's own
figure).
"""
WRECK_MM = 60.0
"""Sides that differ by so much are a wreck or a slip (this project's own figure)."""
NAMED = 2
"""So many tapes are named; of more the number is said."""
TWICE_MM = 20.0
"""What is smaller nobody does wrong twice (this project's own figure)."""
TWIN = "its twin on the other side"
NEAR_MM = 2.0
"""How near a difference must come to a recognized slip."""
SLIPS = {
    "in": (
        (25.4, "1 in", "Did the tape start at its 1 in mark?"),
        (12.7, "1/2 in", "Did you read the half inch right?"),
        (254.0, "10 in", "Did the tape start at its end, or at its 10 in mark?"),
        (304.8, "1 ft", "Did you read the foot right?"),
    ),
    "mm": (
        (100.0, "100 mm", "Did the tape start at its end, or at its 100 mm mark?"),
        (10.0, "10 mm", "Did you read the centimeter right?"),
    ),
}
"""By the survey's unit: an inch scale cannot be misread by 10 mm, and real damage is often about
that.
"""


def foretelling(library: Library) -> Foretell:
    """A function that compares a typed reading with what the rest foretells; empty text where it
    fits.
    """

    def foretell(survey: Survey, prompt: Prompt, typed: str) -> str:
        if not prompt.kind.measures:
            return ""
        tool = survey.tool(prompt.tool)
        row = Reading(id="new", prompt=prompt.id, typed=typed, tool=tool.id if tool else "")
        doubt = _against_angle if prompt.kind.leans else _doubt
        return doubt(case_of(survey, library), prompt, row)

    return foretell


def _doubt(case: Case, prompt: Prompt, row: Reading) -> str:
    try:
        value = case.value(row)
    except Refused:
        return ""
    if prompt.kind.tilts:
        return _of_a_level(case, prompt, row, value)
    if value <= 0 and prompt.tool == "tape":
        return (
            "That leaves no length. The tape starts at its mark here, so type all that the tape"
            " says."
        )
    if prompt.point == POINT:
        return against_string(case, prompt, row, value)
    before = case.taken(prompt.id)
    if not before and (told := _far_from_any(case, prompt, value)):
        return told
    if before:
        return _against_before(case, before, prompt, row, value)
    if prompt.kind.offsets:
        return ""
    return _by_its_tool(case, prompt, row, value)


def _by_its_tool(case: Case, prompt: Prompt, row: Reading, value: float) -> str:
    """A first length against what its tool can read, against the metal beside it, or the rest."""
    if prompt.tool == "ruler":
        return _far_too_long(case, value) or _far_off_twin(case, prompt, value)
    if prompt.tool == "caliper":
        return _thicker_than_sound(case, prompt, value)
    return _against_rest(case, prompt, row, value)


LINES = 8
"""Lines to one side that no vial of a carpenter's level has (from memory: two to five are usual)."""
SO_MANY = (
    "Few levels have so many lines. Where the bubble lies at the end of its glass, bring it to the middle with"
    " cards under the level's low end and type how thick they are, such as 1.5 mm left."
)


def _of_a_level(case: Case, prompt: Prompt, row: Reading, value: float) -> str:
    return _more_than_a_vial_has(case, row) or against_level(case, prompt, value)


def _more_than_a_vial_has(case: Case, row: Reading) -> str:
    """A bubble that would lie beyond the end of its glass."""
    bubble = bubble_of(row.typed, case.survey.unit)
    return SO_MANY if bubble.kind == "divisions" and abs(bubble.value) > LINES else ""


THICKER_MM = 0.3
"""Rolled metal that is sound is unlike itself by no more (own figure)."""


def _thicker_than_sound(case: Case, prompt: Prompt, value: float) -> str:
    """More metal left in a thin place than the sound metal beside it has."""
    sound = sound_beside(case, prompt.id, str(prompt.item))
    if sound is None or value <= sound.number.value + THICKER_MM:
        return ""
    return (
        f"That is more than the sound metal beside it, {clean_line(sound.rows[-1].typed, 20)}. Is it"
        " what is left there, and is it in the same unit?"
    )


def _far_from_any(case: Case, prompt: Prompt, value: float) -> str:
    """A length far from any size of its kind, such as seven inches of hood gap."""
    if not prompt.sizes or prompt.sizes[0] <= value <= prompt.sizes[1]:
        return ""
    low, high = (write_fraction_about(size, case.survey.unit) for size in prompt.sizes)
    usual = f"between {low} and {high}" if prompt.sizes[0] > 0 else f"at most {high}"
    typed = write_fraction_about(value, case.survey.unit)
    return (
        f"That is {typed}, but on any car it is {usual} here. Did you leave out a digit, or is it in"
        " another unit?"
    )


def _against_angle(case: Case, prompt: Prompt, row: Reading) -> str:
    """An angle far from any of its kind, or another than it was read before."""
    try:
        value = case.value(row)
    except Refused:
        return ""
    before = case.taken(prompt.id)
    if before is None:
        low, high = prompt.sizes or (value, value)
        if low <= value <= high:
            return ""
        return (
            f"{clean_line(row.typed, 20)} is more than any car leans here: at most"
            f" {max(-low, high):g} degrees. Is it the right way, and degrees?"
        )
    off = abs(value - before.number.value)
    if off <= _by_hand(case, before):
        return ""
    then, now = (clean_line(r.typed, 30) for r in (before.rows[-1], row))
    apart = f"You read {then} before and {now} now, {off:.1f} degrees apart"
    if len(before.rows) < prompt.repeats:
        return f"{apart}, and either of the two may be wrong."
    return f"{apart}. To put it in the place of what is written here, type /strike first."


def _against_before(case: Case, before: Taken, prompt: Prompt, row: Reading, value: float) -> str:
    """A repeat against what stands there; with all repeats taken it can only replace one."""
    off = value - before.number.value
    if abs(off) <= _by_hand(case, before):
        return ""
    size = write_fraction_about(abs(off), case.survey.unit)
    if len(before.rows) < prompt.repeats:
        return _contradiction(off, size, row, before, case.survey.unit)
    return (
        f"That is {size} off what is written here already. To put it in the place of that one, type"
        " /strike first."
    )


def _by_hand(case: Case, before: Taken) -> float:
    """How far a repeat may be off the mean of those before by the hand alone, in their own unit.

    The scatter is the hand's as learned so far, with its degrees of freedom: a person who reads
    coarsely is not asked again and again.
    """
    s, dof = case.scatter(before.rows[0])
    return t_quantile(1.0 - CHANCE / 2.0, dof) * s * math.sqrt(1.0 + 1.0 / len(before.rows))


def _contradiction(off: float, size: str, row: Reading, before: Taken, unit: Unit) -> str:
    """Two readings of one thing that are too far apart: nothing says yet which of them is off."""
    slip, _, question = min(SLIPS[unit], key=lambda s: abs(abs(off) - s[0]))
    then, now = (clean_line(r.typed, 30) for r in (before.rows[-1], row))
    apart = f"You read {then} before and {now} now, {size} apart"
    if abs(abs(off) - slip) <= NEAR_MM:
        return f"{apart}. {question} Either of the two may be wrong."
    return f"{apart}, and either of the two may be wrong."


def _against_rest(case: Case, prompt: Prompt, row: Reading, value: float) -> str:
    """A length against the plan of all tapes; where there is none, against rail and twin."""
    if prompt.start and prompt.end and (told := _against_plan(case, prompt, row)) is not None:
        return told
    told = against_sum(case, prompt, value) or against_axles(case, prompt, value)
    return told or _against_twin(case, prompt, value)


PLUMBED_MM = 2.0
"""A wheel's middle, plumbed to the floor and carried square to a dot, is hit no better (own figure)."""


def against_axles(case: Case, prompt: Prompt, value: float) -> str:
    """A doubt where a wheelbase, its rail and its two axles do not add up; empty where they do, or
    where one of the four is missing.
    """
    page = case.library.page[marks.AXLES]
    side = next((s for s in SIDES if prompt.id in to_axles(page, s)), None)
    off = apart(case, side, {prompt.id: value}) if side else None
    base = case.taken(prompt_id(page, NO_PLACE, side)) if side else None
    if off is None or base is None:
        return ""
    s, dof = case.scatter(base.rows[0])
    limit = t_quantile(1.0 - TAPE_CHANCE / 2.0, dof) * s * math.sqrt(3.0) + PLUMBED_MM
    if abs(off) <= limit:
        return ""
    size, way = write_fraction_about(abs(off), case.survey.unit), "more" if off > 0 else "less"
    return Disagreement.with_others(
        f"The {side} wheelbase is {size} {way} than its rail and its two axles add up to, so one of"
        " the readings to the axles is wrong. Measure both once more.",
        to_axles(page, str(side)),
    )


def _against_twin(case: Case, prompt: Prompt, value: float) -> str:
    """A tape against the same one on the other side, where it is off by much or by a known slip.

    Where it is taped again, the second reading finds what was read wrong once; what is done wrong
    twice, as a tape begun at its 1 in mark, is larger than a half inch or a centimeter.
    """
    twin = case.taken(mirrored(prompt.id))
    if twin is None or prompt.tool != "tape" or mirrored(prompt.id) == prompt.id:
        return ""
    off = value - twin.number.value
    if prompt.repeats > 1 and abs(off) < TWICE_MM:
        return ""
    if abs(off) < WRECK_MM:
        return _slip(off, case.survey)
    return _slip(off, case.survey) or _off_twin(off, case)


def _far_off_twin(case: Case, prompt: Prompt, value: float) -> str:
    """A gap beside the front axle against the same one on the other side, where they are inches apart."""
    twin = case.taken(mirrored(prompt.id)) if prompt.reads in marks.AXLE_SET else None
    if twin is None or mirrored(prompt.id) == prompt.id:
        return ""
    off = value - twin.number.value
    return _off_twin(off, case) if abs(off) >= WRECK_MM else ""


def _off_twin(off: float, case: Case) -> str:
    size = write_fraction_about(abs(off), case.survey.unit)
    return f"That is {size} off {TWIN}. Measure it once more; if the other one was wrong, go back to it."


def _against_plan(case: Case, prompt: Prompt, row: Reading) -> str | None:
    """A doubt from the plan of all other tapes; empty where it fits, None where there is no plan to
    say so.
    """
    plan = foretelling_plan(case, prompt)
    if plan is None:
        return None
    found = against_plan(case, plan, prompt, row)
    if found is None:
        return ""
    size, way = (
        write_fraction_about(abs(found.error_mm), case.survey.unit),
        "long" if found.error_mm > 0 else "short",
    )
    if found.as_likely:
        return _one_of(found.as_likely, case, size)
    if found.slip:
        question = QUESTIONS.get(found.slip, "Did you read the figure right?")
        return f"By all the other measurements this is {size} too {way}. {question}"
    return f"By all the other measurements this is {size} too {way}. Measure it once more."


def _one_of(others: tuple[PromptId, ...], case: Case, size: str) -> str:
    """That one of several tapes is off; the others by name where they are few."""
    asks = [case.prompts[id].ask for id in others]
    named = " and ".join(asks) if len(asks) <= NAMED else f"{len(asks)} measurements before it"
    return Disagreement.with_others(
        f"This measurement and {named} disagree by {size}, so one of them is wrong. Which one is not"
        " known yet: measure each of them once more.",
        others,
    )


QUESTIONS = {
    "digits-swapped": "Did you swap two digits?",
    "sides-swapped": "Did you swap left and right?",
    **{name: question for rows in SLIPS.values() for _, name, question in rows},
}


def _slip(off: float, survey: Survey) -> str:
    """A known slip beside the twin; empty for a difference that is none."""
    slip, _, question = min(SLIPS[survey.unit], key=lambda s: abs(abs(off) - s[0]))
    if abs(abs(off) - slip) > NEAR_MM:
        return ""
    return f"That is {write_fraction_about(abs(off), survey.unit)} off {TWIN}. {question}"


def without(survey: Survey, row_id: str) -> Survey:
    """The survey as if one reading had not been taken, to ask what the rest foretells of it."""
    rows = {k: tuple(r for r in v if r.id != row_id) for k, v in survey.rows.items()}
    return replace(survey, rows=rows)


@dataclass(frozen=True, slots=True)
class Foretold:
    """A new distance beside what the rest foretells."""

    error_mm: float
    """How much too long it is."""
    u_mm: float
    """Standard uncertainty of that difference."""
    slip: str
    """Name of the slip it looks like, empty when none is recognized."""
    as_likely: tuple[PromptId, ...]
    """Prompts of tapes before it that may be off as well as it, and nothing says which."""


def foretelling_plan(case: Case, prompt: Prompt) -> Plan | None:
    """The plan of the other tapes, where it fixes both points of the prompt to one another and
    agrees in itself.
    """
    plan = plan_of(case)
    return plan if plan and plan.places(prompt.start, prompt.end) and plan.strain <= 1.0 else None


def against_plan(case: Case, plan: Plan, prompt: Prompt, row: Reading) -> Foretold | None:
    """The new reading against the plan of all the others; None where it fits.

    case: the survey without the new reading. row: the reading as it would stand.
    """
    joined = case.followed_by(case.survey.with_row(row))
    new = joined.taken(prompt.id)
    if new is None:
        return None
    foretold = derive(
        plan.adjustment,
        distance_between(plan.adjustment, str(prompt.start), str(prompt.end)),
        plan.observations,
    )
    off: Uncertain = flat(case, new) - foretold
    if off.u == 0 or abs(off.value) <= threshold(1, off.dof, TAPE_CHANCE) * off.u:
        return None
    slip = recognize_slip(off.value, off.u, new.number.value, case.survey.unit) or ""
    whole = plan_of(joined)
    alike = as_likely(whole.adjustment, str(prompt.id)) if whole else ()
    return Foretold(off.value, off.u, slip, tuple(map(PromptId, alike)))


TAPE_CHANCE = 0.0015
"""How often a sound tape may be doubted by the others: sixty of them, one survey in ten (this
project's own figure).
"""
SLACK_MM = 5.0
"""Three tapes by hand, each to a dot, miss one another by less (this project's own figure)."""
ROUND_SHARE = 0.5
"""How far the layout's own difference of pieces and whole may be off, as a share of it."""

Ends = frozenset[PointId]


def against_sum(case: Case, prompt: Prompt, value: float) -> str:
    """A doubt where the pieces of a rail do not add up to the whole; empty where they do or a piece
    is missing.

    value: what was typed, mm.
    """
    side = point_of(prompt.start).side
    if side is None or point_of(prompt.end).side is not side:
        return ""
    known = _along(case, side) | {frozenset((prompt.start, prompt.end)): value}
    mine = frozenset((prompt.start, prompt.end))
    for a, middle, c in _sums(known):
        whole, front, rear = (frozenset(ends) for ends in ((a, c), (a, middle), (middle, c)))
        if mine not in (whole, front, rear) or not _between(case, a, middle, c):
            continue
        made = _made(case, a, middle) + _made(case, middle, c) - _made(case, a, c)
        off = known[front] + known[rear] - known[whole] - made
        if abs(off) > SLACK_MM + ROUND_SHARE * abs(made):
            return _sum_words(off, case.survey.unit)
    return ""


def _sums(known: Mapping[Ends, float]) -> Iterator[tuple[PointId, PointId, PointId]]:
    """One end, middle and other end wherever a whole and both its pieces are taped."""
    for middle in {p for ends in known for p in ends}:
        for whole in known:
            if middle in whole or len(whole) != 2:
                continue
            a, c = whole
            if {frozenset((a, middle)), frozenset((middle, c))} <= known.keys():
                yield a, middle, c


def _sum_words(off: float, unit: Unit) -> str:
    size, way = write_fraction_about(abs(off), unit), "more" if off > 0 else "less"
    wrong = "so one of the three is wrong. If it is not this one, go back."
    return f"The pieces of this rail add up to {size} {way} than its whole length, {wrong}"


def _along(case: Case, side: str) -> dict[Ends, float]:
    """Every taped distance between two points of one side, mm."""
    found: dict[Ends, float] = {}
    for id, rows in case.by_prompt.items():
        prompt = case.prompts[id]
        if (
            prompt.tool == "tape"
            and point_of(prompt.start).side == side
            and point_of(prompt.end).side == side
        ):
            found[frozenset((prompt.start, prompt.end))] = sum(case.value(r) for r in rows) / len(
                rows
            )
    return found


def _place(case: Case, point: PointId) -> tuple[float, float, float] | None:
    at, place = (
        case.place_of(point),
        case.layout.place_by_point.get(point),
    )
    return (*at, place.z) if at and place else None


def _between(case: Case, a: PointId, middle: PointId, c: PointId) -> bool:
    xs = [_place(case, p) for p in (a, middle, c)]
    if any(x is None for x in xs):
        return False
    first, mid, last = (x[0] for x in xs if x)
    return min(first, last) < mid < max(first, last)


def _made(case: Case, a: PointId, b: PointId) -> float:
    one, other = _place(case, a), _place(case, b)
    assert one is not None
    assert other is not None
    return math.dist(one, other)


SLIP_WORDS = {
    "1 in": ", a whole inch",
    "1/2 in": ", half an inch",
    "10 mm": ", a whole centimeter",
    "100 mm": ", 100 mm",
}


def recognized(off_mm: float, u_mm: float, unit: str) -> str:
    """`, a whole inch` for a difference of about that, half a sentence; empty for none.

    u_mm: how well the difference is known.

    >>> recognized(25.0, 0.9, "in"), recognized(17.0, 0.9, "in")
    (', a whole inch', '')
    """
    near = min(SIZES[unit], key=lambda size: abs(abs(off_mm) - size[0]))
    return SLIP_WORDS[near[1]] if abs(abs(off_mm) - near[0]) <= 2 * min(u_mm, 1.5) else ""


FAR_RISE_MM = 12.0
"""A sound rail rises 0.4 to 4 mm when the engine's weight goes (beam formula); three times that is
doubted.
"""
FAR_OFF = 3.5
"""Standard uncertainties from which a gap under the string is doubted: with the worst hand one sound
gap in 2,000 is (tests/bench/string_alone.py).
"""


def _rise(case: Case, prompt: Prompt, value: float) -> str:
    """The change of a gap when the weight went, where that alone says that one is wrong: above the
    rail a rising rail closes it, below it opens it.
    """
    if prompt.reads != marks.STRING_UNLOADED:
        return ""
    loaded = case.taken(prompt_id(case.library.page[marks.STRING_LOADED], prompt.item, prompt.name))
    if loaded is None:
        return ""
    rise = loaded.number.value - value
    if case.meant(marks.STRING_SIDE) == marks.BELOW:
        rise = -rise
    size = write_fraction_about(abs(rise), case.survey.unit)
    if rise < 0:
        return (
            f"This would mean that the rail went down by {size} when the weight came off, and it"
            " should rise. Read it once more."
        )
    if rise > FAR_RISE_MM:
        return (
            f"This would mean that the rail rose by {size}, far more than a sound rail does. Read it"
            " once more."
        )
    return ""


def against_string(case: Case, prompt: Prompt, row: Reading, value: float) -> str:
    """A gap against the curve of its rail, its twin and the other state together."""
    place = case.ground.gaps.get(prompt.id)
    if place is None or case.line.block is None or not case.line.gaps:
        return _far_too_long(case, value)
    new = Gap(row.id, prompt.id, *place, value)
    off, u = misfit_of(case.line, new)
    if abs(off) <= FAR_OFF * u or stranger_before(case.line, new):
        return ""
    if value > TOO_LONG_MM:
        return _far_too_long(case, value)
    size, way = write_fraction_about(abs(off), case.survey.unit), "long" if off > 0 else "short"
    slip = recognized(off, u, case.survey.unit)
    if not slip and (told := _rise(case, prompt, value)):
        return told
    said = f"By the other gaps under the string this is about {size} too {way}{slip}"
    stand = case.by_prompt.get(prompt.id, ())
    if len(stand) < prompt.repeats:
        return f"{said}. Read it once more."
    return f"{said}. To put it in the place of the one written here, type /strike first."


TOO_LONG_MM = 300.0
"""No gap under a string is longer."""


def _far_too_long(case: Case, value: float) -> str:
    if value <= TOO_LONG_MM:
        return ""
    other = "mm" if case.survey.unit == "in" else "in"
    called = "mm" if other == "mm" else "inches"
    return f"That is long for a ruler. Is it in {called}? Then type {other} after it."


AS_SET, TURNED = "as-set", "turned"
LEVEL_FAR = 3.5
"""Standard uncertainties from which a reading is doubted: of four places one survey in 500 sees a
false alarm, and a whole line off is doubted from the second place on.
"""


SWAPPED = (
    "At the places before, the level was off the other way when you turned it around. Did you swap"
    " left and right?"
)
ANOTHER_ERROR = (
    "At the places before, the level had another error of its own. Is it the same level, and did it"
    " lie still?"
)
EITHER_WAY_ROUND = "Either of the two readings here may be wrong: read both once more."
EITHER_PLACE = "One of the two here, or of the two before, may be wrong: read them once more."


def against_level(case: Case, prompt: Prompt, value: float) -> str:
    """A turned reading against the one as set and the level's own error; empty where it fits or
    nothing is known.

    value: the slope just typed, a ratio, left high positive.
    """
    if prompt.name != TURNED:
        return ""
    if len(all_supports(case.survey, case.library.page[marks.SLOPES])) > 1:
        case = replace(case, supports=footing(case.survey.state()))
    as_set = case.taken(asked_of(prompt.id).named(AS_SET))
    errors = _errors_elsewhere(case, prompt.item)
    if as_set is None or not errors:
        return ""
    mean = sum(e for e, _ in errors.values()) / len(errors)
    u = max(as_set.number.u, _beforehand(case, as_set)) * math.sqrt(2 + 2 / len(errors))
    foretold = as_set.number.value - 2 * mean
    if abs(value - foretold) <= LEVEL_FAR * u:
        return ""
    swapped = abs(-value - foretold) <= LEVEL_FAR * u
    others = _may_be_wrong(prompt, errors)
    which = EITHER_WAY_ROUND if len(others) == 1 else EITHER_PLACE
    says = f"{SWAPPED if swapped else ANOTHER_ERROR} {which}"
    return Disagreement.with_others(says, others, then_others=True)


def _beforehand(case: Case, taken: Taken) -> float:
    """What a reading of a level is expected to scatter, as a ratio. Two or three places that happened
    to agree make nobody's hand steadier than that: at the prompt it would be doubted for nothing.
    """
    one = case.single(taken.rows[0])
    return case.prior(*one.group).s * one.scale


def _errors_elsewhere(case: Case, here: PlaceId) -> Mapping[PlaceId, tuple[float, float]]:
    """The level's own error at every other place, each with the doubt of one reading."""
    others = (place.id for place in case.layout.levels if place.id != here)
    return {place: e for place in others if (e := _own_error(case, place))}


def _may_be_wrong(prompt: Prompt, before: Collection[PlaceId]) -> tuple[PromptId, ...]:
    """What may be wrong where a turned reading is right: the one as set; where one place alone was
    read before, its two as well, for nothing says at which of the two places it is.
    """
    here = asked_of(prompt.id).named(AS_SET)
    if len(before) > 1:
        return (here,)
    there = (prompt_id(prompt.step, place, way) for place in before for way in (AS_SET, TURNED))
    return (here, *there)


def _own_error(case: Case, place: PlaceId) -> tuple[float, float] | None:
    level = case.library.page[marks.SLOPES]
    a, b = (case.taken(prompt_id(level, place, way)) for way in (AS_SET, TURNED))
    return ((a.number.value - b.number.value) / 2, a.number.u) if a and b else None
