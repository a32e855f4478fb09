"""What a set rail does to caster: the rear ball of the radius rod goes down with the rail.

Source: geometry, Δcaster = atan(h / R). The set counts, not the sag under the engine.
"""

from __future__ import annotations

import itertools

from wizard.checks.case import Case
from wizard.checks.finding import Finding
from wizard.checks.notes import ROUND_FIGURES
from wizard.checks.sizes import round_figure
from wizard.library import marks
from wizard.library.places import WhereId, where_id
from wizard.math.caster import caster_change
from wizard.math.uncertain import Uncertain, combine

RETURNS = (marks.CASTER,)
FROM = "findings"


def check(case: Case, findings: list[Finding]) -> list[Finding]:
    """Change of caster in degrees from the sag without the weight, both rails' mean at the ball;
    none without it.
    """
    figures = case.layout.figures
    if "ball_x" not in figures or "rod" not in figures:
        return []
    x = figures["ball_x"]
    known = [at for side in ("left", "right") if (at := _at(case, findings, side, x))]
    if not known:
        return []
    drop = combine(
        sum(n.value for n, _ in known) / len(known), [(1.0 / len(known), n) for n, _ in known]
    )
    number = caster_change(drop, round_figure("rod", figures["rod"]))
    ids = tuple(i for _, found in known for i in found)
    return [case.found(marks.CASTER, WhereId("ball"), number, ids, ROUND_FIGURES)]


def _at(
    case: Case, findings: list[Finding], side: str, x: float
) -> tuple[Uncertain, tuple[str, ...]] | None:
    """Sag between the two stations around x, along a straight line."""
    read = {f.where: f for f in findings if f.quantity == marks.SAG_UNLOADED}
    stations = [
        (s.x, read[here]) for s in case.layout.stations if (here := where_id(s.id, side)) in read
    ]
    for (x1, a), (x2, b) in itertools.pairwise(stations):
        if x1 <= x <= x2:
            share = (x - x1) / (x2 - x1)
            terms = [(1.0 - share, a.number), (share, b.number)]
            return combine(sum(w * n.value for w, n in terms), terms), (*a.readings, *b.readings)
    return None
