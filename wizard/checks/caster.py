"""What set rails do to what hangs on the engine: the rear ball of the radius rod, and so the
caster;
the fan.

Source: geometry, Δcaster = atan(h / R). The set counts, not the sag under the engine. Where the
ball
hangs on the gearbox it goes down with the engine, which is one stiff piece on its front support and
its rear mount; else with the rails beside it.
"""

import itertools
from collections.abc import Iterable
from operator import attrgetter, itemgetter
from typing import NamedTuple

from wizard.checks.case import Case
from wizard.checks.edge import is_unknown
from wizard.checks.finding import Finding
from wizard.checks.notes import AT_LEAST, ROUND_FIGURES
from wizard.checks.sizes import round_figure
from wizard.library import marks
from wizard.library.places import SIDES, WhereId, where_id
from wizard.library.shapes import Layout
from wizard.math.caster import caster_change, drop_on_engine
from wizard.math.number import uncertain
from wizard.math.uncertain import GUESS, Part, Uncertain, combine

RETURNS = (marks.CASTER, marks.FAN_DROP)
FROM = "findings"
ON_CROSSMEMBER_MM = 60.0
"""A front support nearer than this to the front points stands on that crossmember, which holds the
radiator too: a sag behind it hardly moves the fan (common practice, no published source).
"""
FAN_U = 100.0
"""How well it is known that the fan turns over the front points, mm (this project's own guess)."""


class Low(NamedTuple):
    """How far a rail, or both, went down at one place, and the readings that say so."""

    number: Uncertain
    ids: tuple[str, ...]


def check(case: Case, findings: list[Finding]) -> list[Finding]:
    """Change of caster in degrees, and how far the fan went down, mm, from the sag without the
    weight, the mean of the rails that were read; none without it, and none along an edge of which
    nobody knows the maker's shape: that would say no more than that it is not known.
    """
    sags = (f for f in findings if f.quantity == marks.SAG_UNLOADED)
    if any(is_unknown(sag.number) for sag in sags):
        return []
    return [*_caster(case, findings), *_fan(case, findings)]


def _caster(case: Case, findings: list[Finding]) -> list[Finding]:
    figures = case.layout.figures
    if "ball_x" not in figures or "rod" not in figures:
        return []
    x = round_figure("ball_x", figures["ball_x"])
    on_gearbox = marks.BALL_ON_GEARBOX in case.layout.traits
    low = _engine(case, findings, x) if on_gearbox else _low(case, findings, x.value)
    if low is None:
        return []
    number = caster_change(low.number, round_figure("rod", figures["rod"]))
    notes = (ROUND_FIGURES, *((AT_LEAST,) if falls_short(case.layout) else ()))
    return [case.found(marks.CASTER, WhereId("ball"), number, low.ids, *notes)]


def falls_short(layout: Layout) -> bool:
    """Whether the string ends before the springs: what the rails hang low is then read off a line
    that hangs with them, and is more in truth.
    """
    front, rear = layout.string
    return front > layout.figures["front_axle_x"] or rear < layout.figures["rear_axle_x"]


def _fan(case: Case, findings: list[Finding]) -> list[Finding]:
    """Nothing where the engine's front support stands on the front crossmember, or nobody knows
    where.
    """
    front = min(p.x for p in case.layout.places if not p.horns and len(p.points) == 2)
    support = case.layout.figures.get("engine_front_x")
    if support is None or support - front < ON_CROSSMEMBER_MM:
        return []
    why = "the fan taken to turn over the front points"
    low = _engine(
        case, findings, Uncertain(front, (Part("round:fan", FAN_U, source=why, whose=GUESS),))
    )
    if low is None:
        return []
    return [case.found(marks.FAN_DROP, WhereId("fan"), low.number, low.ids, ROUND_FIGURES)]


def _engine(case: Case, findings: list[Finding], x: Uncertain) -> Low | None:
    """How far a point of the engine went down; None where the rail was not read at both
    supports.
    """
    figures = case.layout.figures
    places = [figures.get(name) for name in ("engine_front_x", "engine_mount_x")]
    if None in places:
        return None
    front, mount = (_low(case, findings, at) for at in places if at is not None)
    if front is None or mount is None:
        return None
    held = [
        (round_figure(name, figures[name]), low.number)
        for name, low in (("engine_front_x", front), ("engine_mount_x", mount))
    ]
    return Low(drop_on_engine(held[0], held[1], x), _once(front.ids, mount.ids))


def _low(case: Case, findings: list[Finding], x: float) -> Low | None:
    """How far the rails went down at x: the mean of those that were read there."""
    known = [low for side in SIDES if (low := _at(case, findings, side, x))]
    if not known:
        return None
    terms = [(1.0 / len(known), low.number) for low in known]
    value = sum(low.number.value for low in known) / len(known)
    return Low(combine(value, terms), _once(*(low.ids for low in known)))


def _at(case: Case, findings: list[Finding], side: str, x: float) -> Low | None:
    """Sag of one rail at x, along a straight line between the two places around it."""
    for (x1, a), (x2, b) in itertools.pairwise(_along(case, findings, side)):
        if x1 <= x <= x2:
            share = (x - x1) / (x2 - x1)
            terms = [(1.0 - share, a.number), (share, b.number)]
            value = sum(w * n.value for w, n in terms)
            ids = [low.ids for low, weight in ((a, 1.0 - share), (b, share)) if weight]
            return Low(combine(value, terms), _once(*ids))
    return None


def _along(case: Case, findings: list[Finding], side: str) -> list[tuple[float, Low]]:
    """Where a rail was read and how low it lies there, front to rear. At the string's blocks it
    lies
    on the line; they count beside an outermost station that was read.
    """
    read = {f.where: f for f in findings if f.quantity == marks.SAG_UNLOADED}
    stations = sorted(case.layout.stations, key=attrgetter("x"))
    found = {
        s.x: Low(read[here].number, read[here].readings)
        for s in stations
        if (here := where_id(s.id, side)) in read
    }
    ends = zip(case.layout.string, (stations[0], stations[-1]), strict=True)
    blocks = {x: Low(uncertain(0.0), ()) for x, nearest in ends if nearest.x in found}
    return sorted({**blocks, **found}.items(), key=itemgetter(0))


def _once(*ids: Iterable[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(itertools.chain.from_iterable(ids)))
