"""One corner of a box that stands askew while all the other boxes are true.

Source: geometry. With one corner back by e the own sides differ by e and the box is out of square
by e / 2: the same thing seen by half, and no second fault.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import chain

from wizard.judgment.bands import Judged
from wizard.judgment.facts import SIDES, beyond, is_true
from wizard.judgment.shown_plan import SHORT_MM
from wizard.library.places import is_own
from wizard.library.shapes import Box, Layout

ENDS = {"front-box": "front", "rear-box": "rear"}
BARS = {"front-box": "front-box-bar"}


@dataclass(frozen=True, slots=True)
class Corner:
    """A corner that stands towards the middle of the frame, beside its twin."""

    side: str
    """left, right"""
    end: str
    """front: it stands back; rear: it stands forward."""
    box: str
    by: Judged
    """How much shorter its rail is, which is how far the corner is out."""
    shifts: tuple[Judged, ...]
    """The same corner seen by the diagonals of its box: half of it."""
    true: tuple[str, ...]
    """The other boxes, all square and with rails equally long."""
    sources: tuple[str, ...]


def corner_of(judged: Sequence[Judged], layout: Layout) -> Corner | None:
    """The corner that explains the plan; None where no rail is short, or another box is out or was
    not measured.
    """
    found = {j.finding.id: j for j in judged if not j.finding.disagrees}
    corners = (_corner_at(found, box, layout) for box in ENDS)
    return next((c for c in corners if c is not None), None)


def _corner_at(found: dict[str, Judged], box: str, layout: Layout) -> Corner | None:
    short, end = _short(found, box), ENDS[box]
    shifts = _known(found, shift_ids(box))
    if short is None or not shifts or not all(_is_half(s, short, end) for s in shifts):
        return None
    others = _others(layout, box)
    rest = [_true(found, other) for other in others]
    if not rest or not all(rest):
        return None
    sources = tuple(j.finding.id for j in (short, *shifts, *chain.from_iterable(rest)))
    return Corner(_side(short), end, box, short, shifts, others, sources)


def _others(layout: Layout, box: str) -> tuple[str, ...]:
    """The boxes between the rails beside this one."""
    gone = (box, "whole", "horns")
    return tuple(b.id for b in layout.boxes if b.id not in gone and _is_rails(b))


def _is_rails(box: Box) -> bool:
    return box.role != "nose" and not is_own(box.id)


def _short(found: dict[str, Judged], box: str) -> Judged | None:
    """The surer of the two ways to know that a rail of the box is short, where it is beyond doubt."""
    best = min(_known(found, _length_ids(box)), key=lambda j: j.half_width, default=None)
    return best if best is not None and beyond(best, SHORT_MM) else None


def _side(short: Judged) -> str:
    """own-sides is left minus right; mash is right minus left."""
    longer_left = (short.finding.value > 0) == (short.finding.quantity == "own-sides")
    return SIDES[longer_left]


def shift_ids(box: str) -> tuple[str, ...]:
    """Findings that say how far a box is out of square."""
    return tuple(f"rail-shift/{b}" for b in (box, BARS.get(box, "")) if b)


def _length_ids(box: str) -> tuple[str, ...]:
    """Findings that say how much longer one rail of a box is."""
    return f"mash/{box}", f"own-sides/{box}"


def _known(found: dict[str, Judged], ids: tuple[str, ...]) -> tuple[Judged, ...]:
    return tuple(found[i] for i in ids if i in found)


def _true(found: dict[str, Judged], box: str) -> tuple[Judged, ...]:
    """What shows that a box is square with equal rails; empty where it is not both, or not known."""
    shifts, lengths = _known(found, shift_ids(box)), _known(found, _length_ids(box))
    square = bool(shifts) and all(is_true(j) for j in shifts)
    equal = bool(lengths) and not any(_longer(j) for j in lengths)
    return (*shifts, *lengths) if square and equal else ()


def _longer(judged: Judged) -> bool:
    return not is_true(judged) if judged.bands else beyond(judged, SHORT_MM)


def _is_half(shift: Judged, short: Judged, end: str) -> bool:
    """Whether the diagonals see half of the short rail, on its side, within both doubts."""
    half = abs(short.finding.value) / 2
    right_back = (_side(short) == "right") == (end == "front")
    off = shift.finding.value - (half if right_back else -half)
    return abs(off) <= math.hypot(shift.half_width, short.half_width / 2) + SHORT_MM / 2
