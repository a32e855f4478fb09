"""Each claim of a verdict against the truth: true, false, or nothing that this bench can say.

A kind of fault is false where it is absent. A size is false where the truth is under half of where
the claimed band begins, or on the other side of zero.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from tests.bench.sentences import limits
from tests.bench.sentences.frame import SIDES, Fault, Frame
from tests.bench.sentences.story import Story
from tests.bench.sentences.truth import Key
from tests.bench.sentences.walk import Typed
from wizard.judgment.claims import Claim

CROWN = 25.4 / 32
"""Half of the limit of a crown, mm."""
STRING, LEVEL = ("sag-loaded", "sag-unloaded", "string-set-up"), ("level",)


@dataclass(frozen=True)
class Known:
    """All that is known of one survey's truth."""

    frame: Frame
    story: Story
    values: Mapping[Key, float]
    typed: Typed
    slipped: frozenset[str]
    """Steps in which a reading stands that slipped."""
    on_three: bool = False
    """Whether the bare frame lay on three points: on anything else no twist is settled."""

    def faults(self, *kinds: str) -> tuple[Fault, ...]:
        """Those of some kinds."""
        return tuple(f for f in self.frame.faults if f.kind in kinds)

    def value(self, quantity: str, where: str) -> float | None:
        """A true value, of a twist that which is no sag; None where there is none to speak of."""
        if quantity == "twist":
            quantity = f"twist-alone-{self.first_level}"
        return self.values.get((quantity, where))

    @property
    def first_level(self) -> str:
        """The first place of the level that lies on the rails."""
        return next(v for v, p in self.frame.made.levels.items() if p != "tip")


def verdict_on(claim: Claim, known: Known) -> bool | None:
    """True, false; None where the truth does not decide."""
    judge = JUDGES.get(claim.kind)
    return judge(claim, known) if judge else None


def _quantity(claim: Claim) -> tuple[str, str]:
    """What was found, and where, by the finding that it rests on."""
    quantity, _, where = claim.sources[0].partition("/")
    return quantity, where


def _size(claim: Claim, known: Known) -> bool | None:
    """A figure past a band: whether the truth is half of that at least."""
    quantity, where = _quantity(claim)
    value = known.value(quantity, where)
    if value is None:
        return None
    return limits.is_half(quantity, value, claim.size or 0.0, claim.strength)


def _shape_slips(known: Known) -> bool:
    return bool(known.slipped & set(STRING))


def _kink(claim: Claim, known: Known) -> bool:
    """On the right rail, and no further than the next station."""
    kinks = known.faults("kink")
    return any(f.side == claim.where.side and _near(f, claim.where.place, known) for f in kinks)


def _near(kink: Fault, station: str, known: Known) -> bool:
    stations = known.frame.made.stations
    here = stations.get(station)
    if here is None:
        return False
    apart = min(abs(x - here) for s, x in stations.items() if s != station)
    wide = max(apart, max(abs(x - here) for x in _neighbors(stations, here)))
    return abs(kink.x - here) <= wide


def _neighbors(stations: Mapping[str, float], here: float) -> list[float]:
    before = [x for x in stations.values() if x < here]
    after = [x for x in stations.values() if x > here]
    return [*before[-1:], *after[:1]]


def _crown(claim: Claim, known: Known) -> bool:
    """A rail that does stand high, in the state in which it is said to."""
    named = {s.partition("/")[0] for s in claim.sources}
    # A crown that is told of a whole rail is one with the weight on.
    states = {"sag-loaded" if q == "crown" else q for q in named}
    sides = (claim.where.side,) if claim.where.side else SIDES
    heights = [
        v
        for (q, where), v in known.values.items()
        if q in states & set(STRING) and where.rpartition("/")[2] in sides
    ]
    return min(heights, default=0.0) <= -CROWN


def _alarm(claim: Claim, known: Known) -> bool | None:
    """No rail of this bench is cracked or loose: it is about a slip, or about nothing."""
    return None if _shape_slips(known) else False


def _string_level(claim: Claim, known: Known) -> bool | None:
    return None if known.slipped & {*STRING, *LEVEL} else False


def _closure(claim: Claim, known: Known) -> bool | None:
    return None if any(s not in (*STRING, *LEVEL) for s in known.slipped) else False


def _level_moved(claim: Claim, known: Known) -> bool | None:
    return None if known.slipped & set(LEVEL) else False


def corners(known: Known) -> set[tuple[str, str]]:
    """Corners that stand back at the front, or forward at the rear, each as side and end."""
    found = {(f.side, f.at) for f in known.faults("corner")}
    for fault in known.faults("box-out"):
        right = (fault.size > 0) == (fault.at == "front")
        found.add((SIDES[right], fault.at))
    for fault in known.faults("mash"):  # a rail that is short in an end box is its corner as well
        places = tuple(fault.at.split("--"))
        found |= {(fault.side, e) for e, p in known.frame.made.joint.items() if p == places}
    return found


def _corner(claim: Claim, known: Known) -> bool:
    return (str(claim.where.side), claim.where.place) in corners(known)


def _diamond(claim: Claim, known: Known) -> bool:
    return bool(known.faults("diamond"))


def _whole(claim: Claim, known: Known) -> bool:
    """Out from front to rear and no diamond: twisted by half of what may be left."""
    half = (limits.first("twist", 1.0) or 0.0) / 2
    values = (abs(v) for q, v in _figures(known) if q == "twist")
    return max(values, default=0.0) >= half


def _box(claim: Claim, known: Known) -> bool | None:
    """Something is out in that end of the frame, and it is not the whole of it. A rail that is short
    behind a box puts that box out of square too: of it this bench says nothing.
    """
    end = claim.where.place.removesuffix("-box")
    there = {at for _, at in corners(known)} | {f.at for f in known.faults("sway")}
    return end in there or (None if known.faults("mash") else False)


def _horns_alone(claim: Claim, known: Known) -> bool:
    """A horn is bent and no figure of the plan is beyond what may be left: a corner by half its
    limit is no frame that is out, and "the box behind them is not out" is true of it.
    """
    plan = ("rail-shift", "mash", "sway", "nose-off")
    out = (limits.band(q, v) != "leave" for q, v in _figures(known) if q in plan)
    return bool(known.faults("horn", "horn-up")) and not any(out)


def _gathered(claim: Claim, known: Known) -> bool:
    return (str(claim.where.side), claim.where.place) in known.story.zones


def _horn(claim: Claim, known: Known) -> bool:
    """The one that is named is bent, that way; where none is named, the two do differ."""
    if claim.where.side is None:
        value = abs(known.value("horn", "difference") or 0.0)
        return value >= (limits.first("horn", 1.0) or 0.0) / 2
    side = str(claim.where.side)
    return (side, claim.way) in bent_horns(known)


def bent_horns(known: Known) -> set[tuple[str, str]]:
    """Each horn that is bent sideways, and which way."""
    found = set()
    for fault in known.faults("horn"):
        for side in (fault.side,) if fault.side else SIDES:
            out = "out" if side == "right" else "in"
            found.add((side, out if fault.at == "aside" else fault.at))
    return found


def _cause(claim: Claim, known: Known) -> bool:
    return claim.kind in known.story.causes


def _twist_joint(claim: Claim, known: Known) -> bool:
    """A twist at one joint; or, between horns and rails, a horn that stands up."""
    if known.frame.made.levels.get(claim.where.place) == "tip" and known.faults("horn-up"):
        return True
    return any(f.at == "joint" for f in known.faults("twist"))


def _slip(claim: Claim, known: Known) -> bool:
    """One of the readings that are accused did slip."""
    return any(id in known.typed.slipped for id in claim.sources)


def worst_band(known: Known) -> str:
    """The gravest band of any true value."""
    order = ("leave", "watch", "axle-first", "put-right", "specialist")
    return max((limits.band(q, v) for q, v in _figures(known)), key=order.index)


def _action(claim: Claim, known: Known) -> bool | None:
    """Work that is sent for must be there by half; what is called fine must not want any."""
    if claim.way in ("leave", "watch"):
        return worst_band(known) not in limits.WORK
    if claim.way in limits.WORK:
        return any(_is_work(q, v, claim.way) for q, v in _figures(known))
    return None


def _is_work(quantity: str, value: float, action: str) -> bool:
    """Whether a true value is half of where that work begins, at least."""
    start = limits.bounds(quantity, value < 0).get(action)
    return start is not None and abs(value) >= start / 2


JUDGES: Mapping[str, Callable[[Claim, Known], bool | None]] = {
    "kink": _kink,
    "crown": _crown,
    "sag": _size,
    "alarm": _alarm,
    "string-level": _string_level,
    "closure": _closure,
    "level-moved": _level_moved,
    "contradict": lambda claim, known: bool(known.typed.slipped),
    "corner": _corner,
    "gathered": _gathered,
    "diamond": _diamond,
    "whole": _whole,
    "box": _box,
    "horns-alone": _horns_alone,
    "shift": _size,
    "short": _size,
    "off-line": _size,
    "horn": _horn,
    "horn-up": _size,
    "horn-back": _size,
    "twist": _size,
    "twist-joint": _twist_joint,
    "axle": _size,
    "age": _cause,
    "collision": _cause,
    "repair": _cause,
    "slip": _slip,
    "slip-set": _slip,
    "action": _action,
}
"""Who judges a claim, by its kind. One that is not here is counted as not judged."""


# What ought to be told ---------------------------------------------------------------------------

CLEAR = 2.0
"""So many times its limit a figure is clearly out."""


def due(known: Known) -> tuple[str, ...]:
    """Kinds of claim that the truth calls for, clearly."""
    return tuple(sorted({*_due_faults(known), *_due_figures(known), *_due_causes(known)}))


DUE_FAULTS = {
    "diamond": ("diamond", 6.0),
    "corner": ("corner", 8.0),
    "kink": ("kink", 12.0),
    "crown": ("crown", 3.2),
    "horn": ("horn", 6.4),
}
"""Fault: the claim that is due from a size on."""


def _due_faults(known: Known) -> set[str]:
    found = set()
    for fault in known.frame.faults:
        claim, least = DUE_FAULTS.get(fault.kind, ("", 1e9))
        found |= {claim} if abs(fault.size) >= least else set()
    if any(abs(f.size) >= 6.0 for f in known.faults("corner", "box-out", "sway")):
        found |= {"box"}
    if any(f.at == "joint" and abs(f.size) >= 4.0 for f in known.faults("twist")):
        found |= {"twist-joint"}
    return found


FIGURES = {
    "rail-shift": "shift",
    "mash": "short",
    "sway": "off-line",
    "nose-off": "off-line",
    "sag-loaded": "sag",
    "sag-unloaded": "sag",
    "twist": "twist",
    "horn-height": "horn-up",
    "horn-back": "horn-back",
    "wheelbase": "axle",
}
"""Quantity: the claim that a figure clearly out of it calls for."""


def _figures(known: Known) -> Iterator[tuple[str, float]]:
    """Every true figure that a limit judges, by its quantity."""
    first = known.first_level
    for (quantity, where), value in known.values.items():
        if quantity == f"twist-alone-{first}":
            if known.frame.made.levels[where] != "tip":
                yield "twist", value
        elif quantity in limits.LIMIT_OF:
            yield quantity, value


def _due_figures(known: Known) -> set[str]:
    found = set()
    for quantity, value in _figures(known):
        start = limits.first(quantity, value)
        if start is None or (quantity == "twist" and not known.on_three):
            continue
        if quantity in FIGURES and abs(value) >= CLEAR * start:
            crown = quantity.startswith("sag") and value < 0
            found.add("crown" if crown else FIGURES[quantity])
        if abs(value) >= CLEAR * limits.work_from(quantity, value):
            found.add("action")
    return found


def _due_causes(known: Known) -> set[str]:
    found = {"collision", "gathered"} if known.story.is_known else set()
    found |= {"age"} if any(f.size >= 6.4 for f in known.faults("sag")) else set()
    found |= {"repair"} if any(f.size >= 3.2 for f in known.faults("crown")) else set()
    hidden = set(known.typed.slipped) - known.typed.found
    return found | ({"slip"} if hidden else set())


# What is told of a fault that is there --------------------------------------------------------------


def is_told(fault: Fault, claims: tuple[Claim, ...], known: Known) -> bool:
    """Whether a fault is told for what it is, at its own place."""
    return any(_tells(c, fault, known) for c in claims)


def _tells(claim: Claim, fault: Fault, known: Known) -> bool:
    kinds, there = TOLD_BY[fault.kind]
    return claim.kind in kinds and there(claim, fault) and verdict_on(claim, known) is not False


def _anywhere(claim: Claim, fault: Fault) -> bool:
    return True


def _its_side(claim: Claim, fault: Fault) -> bool:
    return not fault.side or claim.where.side in (None, fault.side)


def _its_rail(claim: Claim, fault: Fault) -> bool:
    return claim.way == fault.side


def _its_corner(claim: Claim, fault: Fault) -> bool:
    at = claim.where.place.removesuffix("-box") == fault.at
    return at and (claim.kind == "box" or claim.where.side == fault.side)


def _its_end(claim: Claim, fault: Fault) -> bool:
    return claim.where.place.removesuffix("-box") == fault.at


def _its_horn(claim: Claim, fault: Fault) -> bool:
    """A bent horn is told where it is named itself, or where it is said that the two differ and that
    the tape cannot say which is bent: nothing is named that was not told apart.
    """
    return not fault.side or claim.where.side in (None, fault.side)


def is_named(fault: Fault, claims: tuple[Claim, ...], known: Known) -> bool:
    """Whether one bent horn is told by its side, as it can be where it was seen."""
    of_it = (c for c in claims if c.kind == fault.kind and c.where.side == fault.side)
    return any(verdict_on(c, known) is not False for c in of_it)


TOLD_BY: Mapping[str, tuple[tuple[str, ...], Callable[[Claim, Fault], bool]]] = {
    "diamond": (("diamond",), _anywhere),
    "corner": (("corner",), _its_corner),
    "box-out": (("corner", "box"), _its_end),
    "sway": (("off-line",), _anywhere),
    "bow": (("off-line",), _anywhere),
    "mash": (("short",), _its_rail),
    "kink": (("kink",), _its_side),
    "sag": (("sag",), _anywhere),
    "one-sag": (("sag",), _its_side),
    "crown": (("crown",), _its_side),
    "horn": (("horn",), _its_horn),
    "horn-up": (("horn-up",), _anywhere),
    "twist": (("twist",), _anywhere),
}
"""Kinds of claim that tell a fault, and whether one is at its place."""
