"""What a verdict claims, as data: every sentence that a person acts on, before it has any words.

A claim is read off the same facts of which the telling makes its sentences: findings past `leave`,
the notes of checks, the corner, the causes, the action. Nothing reads prose.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from wizard.checks.notes import Bend, Lean, Rises, Slip
from wizard.judgment.bands import Judged
from wizard.judgment.corner import corner_of
from wizard.judgment.verdict import Verdict
from wizard.library.places import Side, Where, side_of, where_of
from wizard.library.shapes import Layout

OF_QUANTITY = {
    "rail-shift": "shift",
    "mash": "short",
    "sway": "off-line",
    "nose-off": "off-line",
    "twist": "twist",
    "horn-height": "horn-up",
    "horn-back": "horn-back",
    "wheelbase": "axle",
    "thickness": "thin",
}
"""Kind of claim that a figure past `leave` makes; sag and horn have a way of their own."""
DOUBTS = {"string-level": "string-level", "closure": "closure", "level-closing": "level-moved"}
"""Kind of claim that a figure makes which should be zero and is not."""
WAYS = {
    "shift": ("left-back", "right-back"),
    "short": ("right", "left"),
    "off-line": ("left", "right"),
    "twist": ("right-high", "left-high"),
    "horn-up": ("right-high", "left-high"),
    "horn-back": ("left", "right"),
    "axle": ("left-short", "right-short"),
}
"""Below zero, above zero."""
BOXES = {"whole": "diamond", "horns": "horns-alone"}
"""Kind of claim that `it lies in that box` makes, where it is not plainly the box."""
CAUSES = ("age", "collision", "repair")
"""Causes that a person acts on."""


NOWHERE = Where("")
"""Of the whole frame."""


@dataclass(frozen=True, slots=True)
class Claim:
    """One thing that a verdict says of the frame, of the readings, or of what to do."""

    kind: str
    """kink, crown, sag, corner, diamond, horn, twist, slip, action, ..."""
    where: Where = NOWHERE
    """A station, box, level place or end of the frame, and a side; empty where it has none."""
    way: str = ""
    """Which way: in, out, up, back, left-high; of an action, which one."""
    size: float | None = None
    """In the quantity's unit, with its sign; None where no size is said."""
    strength: str = ""
    """The band that is established, or how surely a cause is named."""
    sources: tuple[str, ...] = ()
    """Ids of the findings, readings and looks that it rests on."""


def claims_of(verdict: Verdict, layout: Layout) -> tuple[Claim, ...]:
    """Every claim of a verdict."""
    return (
        Claim("action", way=verdict.action, strength=verdict.held),
        *_numbers(verdict),
        *_crowns(verdict),
        *_doubts(verdict),
        *_shapes(verdict),
        *_corner(verdict, layout),
        *_where(verdict),
        *_causes(verdict),
        *_slips(verdict),
    )


def of_kind(claims: tuple[Claim, ...], *kinds: str) -> tuple[Claim, ...]:
    """Those of some kinds."""
    return tuple(c for c in claims if c.kind in kinds)


def _claim(kind: str, judged: Judged, way: str = "", side: Side | None = None) -> Claim:
    """A claim that rests on one finding, at its own place."""
    found, where = judged.finding, where_of(judged.finding.where)
    return Claim(
        kind,
        Where(where.place, side or where.side),
        way,
        found.value,
        judged.established,
        (found.id, *found.readings),
    )


# Figures past `leave` --------------------------------------------------------------------------


def _is_out(judged: Judged) -> bool:
    said = judged.established not in ("", "leave")
    return said and not judged.quiet and not judged.finding.disagrees


def _numbers(verdict: Verdict) -> Iterator[Claim]:
    """Every figure that is established beyond `leave it`."""
    corner = verdict.causes.corner
    hit = side_of(corner[0]) if corner else None
    for judged in filter(_is_out, verdict.judged):
        quantity, high = judged.finding.quantity, judged.finding.value > 0
        if quantity in ("sag-loaded", "sag-unloaded"):
            yield _claim("sag" if high else "crown", judged)
        elif quantity == "horn":
            side, way = horn_named(judged, hit)
            yield _claim("horn", judged, way, side)
        elif quantity in OF_QUANTITY:
            kind = OF_QUANTITY[quantity]
            yield _claim(kind, judged, WAYS.get(kind, ("", ""))[high])


def horn_named(judged: Judged, hit: Side | None) -> tuple[Side | None, str]:
    """Of two horns that differ, the one that is named as bent, and which way."""
    further_out = Side.LEFT if judged.finding.value > 0 else Side.RIGHT
    if hit is further_out.other:
        return hit, "in"
    return further_out, "out"


def _crowns(verdict: Verdict) -> Iterator[Claim]:
    """Rails that are said to stand high, by the sign that speaks of it."""
    signs = (e for c in verdict.causes.conclusions.values() for e in c.signs)
    high = next((e for e in signs if e.sign.finding == "crown"), None)
    if high is not None:
        zones = high.zones
        side = side_of(zones[0][0]) if len(zones) == 1 else None
        yield Claim("crown", Where("", side), sources=high.sources)


# What the readings do not fit ------------------------------------------------------------------


def _doubts(verdict: Verdict) -> Iterator[Claim]:
    """Readings that disagree, and rails that do not rise as sound ones do."""
    for judged in verdict.judged:
        kind = DOUBTS.get(judged.finding.quantity)
        if kind and judged.stands_out:
            yield _claim(kind, judged)
        rises = judged.finding.note(Rises)
        for way, side in rises.odd if rises else ():
            yield _claim("alarm", judged, way, side_of(side))
        if rises and rises.unequal:
            yield _claim("alarm", judged, "unequal")
    open_ = [j for j in verdict.judged if j.finding.disagrees]
    if open_:
        yield Claim("contradict", sources=tuple(j.finding.id for j in open_))


def _slips(verdict: Verdict) -> Iterator[Claim]:
    """The reading that is said to be wrong, or the set of which one is."""
    for judged in verdict.judged:
        slip = judged.finding.note(Slip)
        if slip is not None:
            kind = "slip" if slip.named else "slip-set"
            found = judged.finding
            yield Claim(kind, way=slip.kind, size=found.value, sources=found.readings)


# Shapes, corners, boxes ------------------------------------------------------------------------


def _shapes(verdict: Verdict) -> Iterator[Claim]:
    """Kinks under the string; a lean that changes at one joint."""
    for judged in verdict.judged:
        found = judged.finding
        bend, lean = found.note(Bend), found.note(Lean)
        if bend is not None and bend.kind == "kink":
            where = Where(bend.near, side_of(found.where))
            yield Claim("kink", where, size=found.value, sources=(found.id,))
        if lean is not None and lean.kind == "one-joint":
            where = Where(lean.between[0] if lean.between else "")
            yield Claim("twist-joint", where, size=found.value, sources=(found.id,))


def _corner(verdict: Verdict, layout: Layout) -> Iterator[Claim]:
    """One corner that explains the plan."""
    found = corner_of(verdict.judged, layout)
    if found is not None:
        way = "back" if found.end == "front" else "forward"
        size = abs(found.by.finding.value)
        where = Where(found.end, side_of(found.side))
        yield Claim("corner", where, way, size, sources=found.sources)


def _where(verdict: Verdict) -> Iterator[Claim]:
    """Where the signs are said to gather, and in which box it is said to lie."""
    corner, box = verdict.causes.corner, verdict.causes.box
    if corner is not None:
        yield Claim("gathered", Where(corner[1], side_of(corner[0])))
    if box:
        yield Claim(BOXES.get(box, "box"), Where(box))


def _causes(verdict: Verdict) -> Iterator[Claim]:
    """The causes that are named."""
    conclusions = verdict.causes.conclusions
    for cause in CAUSES:
        found = conclusions.get(cause)
        if found is not None and found.named:
            sources = tuple(dict.fromkeys(i for e in found.signs for i in e.sources))
            yield Claim(cause, strength=found.strength, sources=sources)
