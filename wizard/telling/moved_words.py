"""What moved between two surveys, in words: what, how far, which way; and how much would have been
seen.
"""

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, NamedTuple

from wizard.judgment import least
from wizard.judgment.seen import Seen, seen_otherwise
from wizard.library import marks
from wizard.library.places import WHOLE_BOX, QuantityId, spoken
from wizard.library.shapes import Layout, Library
from wizard.readings.plain import and_
from wizard.survey.record import Unit
from wizard.telling.amounts import at_most, listed, size
from wizard.telling.not_driven import STILL_MOVING
from wizard.telling.quantity_names import Spot, amount, cap, name_of

if TYPE_CHECKING:  # what moved is given, and nothing is compared here
    from wizard.judgment.change import Change
    from wizard.judgment.least import Least
    from wizard.judgment.since import Moved, Since


class Way(NamedTuple):
    """How a movement of one quantity is told."""

    plus: str
    minus: str
    bare: str
    """What is looked at bare."""


LOW = Way(
    "{rail} dropped {amount} {at}{beside}", "{rail} rose {amount} {at}{beside}", "the rail there"
)
APART = "the two horns moved {amount} against each other"
MOVES: Mapping[QuantityId, Way] = {
    marks.SAG_UNLOADED: LOW,
    marks.SAG_LOADED: LOW,
    marks.RAIL_SHIFT: Way(
        "one rail moved {amount} along the other{box} (right back or left forward)",
        "one rail moved {amount} along the other{box} (left back or right forward)",
        "the crossmember joints",
    ),
    marks.OWN_SIDES: Way(
        "right rail grew {amount} shorter against the left{box}",
        "left rail grew {amount} shorter against the right{box}",
        "the side of that rail",
    ),
    marks.SWAY: Way(
        "frame moved {amount} to the right {at}, seen from above",
        "frame moved {amount} to the left {at}, seen from above",
        "the sides of both rails",
    ),
    marks.NOSE_OFF: Way(
        "nose moved {amount} to the right",
        "nose moved {amount} to the left",
        "the rails behind it",
    ),
    marks.LENGTH: Way(
        "{tape} grew by {amount}",
        "{tape} grew {amount} shorter",
        "both its ends",
    ),
    marks.HORN_OUT: Way(
        "{side} horn moved out {amount}",
        "{side} horn moved in {amount}",
        "that horn",
    ),
    marks.HORN_APART: Way(APART, APART, "both horns"),
    marks.HORN_BACK: Way(
        "the right horn came {amount} back against the left, or the left one forward",
        "the left horn came {amount} back against the right, or the right one forward",
        "both horns",
    ),
    marks.HORN_HEIGHT: Way(
        "the left horn rose {amount} against the right, or the right one dropped",
        "the right horn rose {amount} against the left, or the left one dropped",
        "both horns",
    ),
    marks.TWIST: Way(
        "{where} rose {amount} on the left against the front",
        "{where} rose {amount} on the right against the front",
        "the joints there",
    ),
    marks.WHEELBASE: Way(
        "right wheelbase grew {amount} shorter against the left",
        "left wheelbase grew {amount} shorter against the right",
        "the axle and what holds it",
    ),
    marks.THICKNESS: Way(
        "{side} rail lost another {amount} of its thickness",
        "{side} rail measures {amount} thicker than before",
        "that place",
    ),
}
HEADED, SHOWN = 2, 3
"""Movements that a headline names, and kinds of which it says how much would have been seen."""
OUTCOMES = {
    "came-back": "came back, and nothing of it stands out any more",
    "part-left": "came back in part",
    "too-far": "went past straight",
    "worse": "is further out than before the work",
    "new": "was straight before the work and is out now",
}
"""What became of a part of the frame that was worked on."""


class Told(Spot):
    """A movement, ready to fill the braces of its words."""

    def __init__(self, moved: "Moved", layout: Layout, unit: Unit) -> None:
        super().__init__(moved.finding, layout)
        self.moved, self.unit = moved, unit

    def __getitem__(self, field: str) -> str:
        """The amount, the rail or rails, or a word of the place."""
        if field == "amount":
            return size(self.moved.number.value, self.finding.unit, self.unit)
        if field == "beside":
            return " and beside it" if self.moved.spreads else ""
        if field == "box":
            return "" if self.id == WHOLE_BOX else f" in the {self.name}"
        if field == "rail":
            return "both rails" if len(self.moved.sides) > 1 else f"{self.side} rail"
        return super().__getitem__(field)


def moved_words(moved: "Moved", layout: Layout, unit: Unit) -> str:
    """`left rail dropped 1/4 in at the rear engine mount`."""
    way = MOVES[moved.finding.quantity]
    form = way.plus if moved.number.value > 0 else way.minus
    return form.format_map(Told(moved, layout, unit))


def outcome_words(moved: "Moved") -> str:
    """What became of it, where the frame was worked on: `: it came back in part`; else nothing."""
    done = OUTCOMES.get(moved.outcome)
    return f": it {done}" if done else ""


def look_bare(moved: "Moved") -> str:
    """What is looked at bare after such a movement."""
    return MOVES[moved.finding.quantity].bare


def what_now(moved: "Moved") -> str:
    """What is done first about such a movement."""
    if moved.is_wanted:
        return "Measure the same points again in half a year: a frame may spring back."
    if moved.is_read_again:
        return (
            f"A second reading says the same: clean {look_bare(moved)} to bare metal now and look."
        )
    return f"Read that place once more now, then clean {look_bare(moved)} to bare metal and look."


def until_then(since: "Since") -> str:
    """How the car is treated meanwhile; nothing where nothing moved that was not meant to."""
    return STILL_MOVING if since.alarming else ""


def figures_of(since: "Since") -> list["Change"]:
    """Every figure of what moved and was not meant to, those of one part together."""
    return [change for moved in since.alarming for change in (*moved.changes, *moved.along)]


def then_and_now(change: "Change", layout: Layout, unit: Unit) -> str:
    """`then 0 in, now 1/4 in low; it moved by 1/4 in, give or take 3/32 in`."""
    of = change.new.unit
    moved = f"it moved by {size(change.number.value, of, unit)}"
    doubt = f"give or take {size(change.half_width, of, unit)}"
    return f"then {amount(change.old, unit)}, now {amount(change.new, unit)}; {moved}, {doubt}"


def day_of(since: "Since") -> str:
    """`since 2026-04-11`; for a survey without a day, `since last time`."""
    return f"since {since.then:%Y-%m-%d}" if since.then.year > 1 else "since last time"


LEAST: Mapping[str, str] = {
    least.RAIL: "a rail moved forward or back by {size}",
    least.CORNER: "a corner pushed in by {size}",
    least.BOWED: "rails bent sideways by {size}",
    least.NOSE_ASIDE: "a nose pushed sideways by {size}",
    least.HORN_ASIDE: "a horn bent by {size}",
    least.HORN_BACK: "a horn pushed back by {size}",
    least.HORN_UP: "a horn bent up or down by {size}",
    least.DOWN: "a rail down by {size}",
    least.TWISTED: "a twist of {size}",
    least.AXLE: "a wheelbase short by {size}",
}
"""Each kind of damage, in words: of a size that would be told as more than may be left."""
LEAST_MOVED: Mapping[str, str] = {
    least.RAIL: "a rail shifted {size} forward or back",
    least.BOWED: "rails bowed {size} further",
    least.NOSE_ASIDE: "a nose shifted {size} sideways",
    least.HORN_UP: "a horn bent {size} further up or down",
    least.DOWN: "a rail dropped {size} anywhere along the string",
    least.TWISTED: "{size} more twist",
    least.AXLE: "a wheelbase {size} shorter",
}
"""Each kind of movement since last time, in words: none of these is how far out anything stands. Of a
corner and of a horn sideways or back no size is said: what is reckoned is seen in 68 to 82 of 100
alone (`python -m tests.bench.least --frames 1000 --moved`).
"""
PLAINEST = (
    *(least.RAIL, least.DOWN, least.HORN_ASIDE, least.TWISTED, least.CORNER),
    *(least.HORN_UP, least.AXLE),
)
"""The kinds that are told where there is room for few."""


def least_words(found: "Sequence[Least]", unit: Unit) -> str:
    """What would have been told as out, 19 times in 20: `a rail moved forward or back by 1/8 in or a
    twist of 1/16 in`.
    """
    return _sizes(found, LEAST, unit, 5)


def least_moved_words(found: "Sequence[Least]", unit: Unit) -> str:
    """What would have been told to have moved, 19 times in 20: `a rail shifted 1/8 in forward or back or
    1/16 in more twist`.
    """
    return _sizes(found, LEAST_MOVED, unit, SHOWN)


def _sizes(found: "Sequence[Least]", words: Mapping[str, str], unit: Unit, most: int) -> str:
    by_kind = {one.kind: one.mm for one in found}
    sizes = ((words[kind], by_kind.get(kind)) for kind in PLAINEST if kind in words)
    told = [said.format(size=at_most(mm, "mm", unit)) for said, mm in sizes if mm]
    return listed(told[:most], "or")


def blind_words(found: "Sequence[Least]") -> str:
    """What no reading covered: `a twist, a horn bent`."""
    missing = (LEAST[one.kind] for one in found if one.mm is None)
    return ", ".join(words.partition(" by {")[0].partition(" of {")[0] for words in missing)


def change_sentence(since: "Since", layout: Layout, unit: Unit) -> str:
    """What moved, how far, since when; or that nothing has, with how much would have been seen. What
    changed beside the frame is named behind it.
    """
    said = f"{_of_frame(since, layout, unit)}{apart_words(since)}"
    names = and_([name_of(c.new, layout) for c in since.beside[:NAMED_BESIDE]])
    more = len(since.beside) - NAMED_BESIDE
    also = f", and {more} more" if more > 0 else ""
    return f"{said} Beside the frame these changed: {names}{also}." if names else said


NAMED_BESIDE = 3
"""Figures beside the frame that are named in one sentence."""


def _of_frame(since: "Since", layout: Layout, unit: Unit) -> str:
    when = day_of(since)
    if not since.compared:
        what = "Nothing of the frame" if since.comparison.changes else "Nothing"
        return f"{what} could be compared {when}: no figure was read in the same state both times."
    if since.moved:
        first, *more = since.moved[:HEADED]
        said = f"{cap(moved_words(first, layout, unit))} {when}{outcome_words(first)}."
        also = (f" Also, {moved_words(m, layout, unit)}{outcome_words(m)}." for m in more)
        return said + "".join(also)
    seen = least_moved_words(since.least, unit)
    shown = f" ({seen} would have been seen)" if seen else ""
    if since.apart:
        return f"Of what can be compared nothing is shown to have moved {when}{shown}."
    if since.beside:
        return f"Nothing of the frame has moved {when} that these readings can show{shown}."
    if since.untold:
        return f"Nothing is shown to have moved {when}{shown}."
    return f"Nothing has moved {when} that these readings can show{shown}."


def apart_words(since: "Since") -> str:
    """That some figures were not compared though both surveys have them; empty where all were."""
    names = list(dict.fromkeys(a.finding.of.together for a in since.apart))
    if not names or not since.compared:
        return ""
    return f" Not compared with last time: {and_(names)}."


# What was seen otherwise
# --------------------------------------------------------------------------------------

OTHERWISE = "What was seen otherwise than last time"


def otherwise_lines(since: "Since | None", library: Library) -> Iterator[str]:
    """A line for each look that says something else than it said then, with what it said."""
    if since is None:
        return
    then, now = since.comparison.then.survey, since.comparison.now.survey
    for old, new in seen_otherwise(then, now, library):
        how = spoken(new[0].look.seen)
        yield f"{new[0].name}: then {_words(old)}; now {_words(new)} (the place was {how})."


def _words(seen: Sequence[Seen]) -> str:
    return and_(list(dict.fromkeys(s.choice.words for s in seen if s.choice)))
