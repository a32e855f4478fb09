"""Twist by level: the same bubble all along means no twist; the frame itself need not be level.

The level is turned end for end at each place, so its own error drops out (reversal).
Source: geometry, height across the rails = W tan(change of slope).
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace

from wizard.checks.case import Case
from wizard.checks.finding import Finding
from wizard.checks.notes import MOVED, Against, ReadOn
from wizard.checks.sizes import width
from wizard.checks.twist_supports import LEVEL, all_supports, supports_under
from wizard.library.places import step_of
from wizard.library.shapes import LevelPlace
from wizard.math.level import height_across, own_error, slope
from wizard.math.uncertain import Part, Uncertain

RETURNS = (
    "twist",
    "horn-height",
    "level-closing",
    "level-error",
)

ONE_WAY_U = 0.002
"""Slope, a ratio: what a level may itself be out by where it was not turned round (this project's
own guess).
"""
HORNS = "tip"
"""Place whose height belongs to the horns, not to the twist of the rails."""


def slope_at(
    case: Case, place: LevelPlace, again: str = ""
) -> tuple[Uncertain, tuple[str, ...]] | None:
    """Slope at a place, from both ways round; from one way alone with the level's own error as a
    doubt.
    """
    first = case.taken(f"level/{place.id}/{again}as-set")
    turned = case.taken(f"level/{place.id}/{again}turned")
    if first and turned:
        return slope(first.number, turned.number), (*first.ids, *turned.ids)
    one = first or turned
    if one is None:
        return None
    sign = 1.0 if first else -1.0
    part = Part(
        "level:own-error", sign * ONE_WAY_U, shared=True, source="the level was not turned round"
    )
    return Uncertain(one.number.value, (*one.number.parts, part)), one.ids


def check(case: Case) -> list[Finding]:
    """Change of slope from the front crossmember to every other place, as height across the rails.

    Where the level was read on other supports too, a note says what it read there."""
    return [_with_others(case, f) for f in _on_these(case)]


ALIKE_MM = 0.5
"""Two supports that read nearer to one another say the same thing."""


def _with_others(case: Case, found: Finding) -> Finding:
    known = all_supports(case.survey) if found.quantity == "twist" else ()
    if len(known) < 2:
        return found
    these = _supports_of(case, found)
    others = (_on_other(case, found, s) for s in known if s not in these)
    return replace(found, notes=(*found.notes, *(note for note in others if note)))


def _supports_of(case: Case, found: Finding) -> set[str]:
    """What the frame rested on when the level was read for a finding."""
    level = (r for prompt, rows in case.by_prompt.items() if step_of(prompt) == LEVEL for r in rows)
    return {supports_under(r, case.survey) for r in level if r.id in found.readings}


def _on_other(case: Case, found: Finding, supports: str) -> ReadOn | None:
    """What the place read on those supports; None where it read the same."""
    there = {f.id: f.value for f in _on_these(replace(case, supports=supports))}
    apart = abs(there.get(found.id, found.value) - found.value)
    unlike = apart > 2.0 * found.number.u + ALIKE_MM
    return ReadOn(supports, there[found.id]) if unlike else None


def _on_these(case: Case) -> list[Finding]:
    slopes = {p.id: s for p in case.layout.levels if (s := slope_at(case, p))}
    closing = _closing(case)
    rest = closing + _level_error(case)
    reference = _reference(case, slopes)
    if reference is None:
        return rest
    there = slopes[reference.id]
    moved = (MOVED,) if _moved(closing) else ()
    findings = []
    for place in case.layout.levels:
        here = slopes.get(place.id)
        if here is None or place is reference:
            continue
        across, width_ids = width(case, place.place)
        number = _unless_it_moved(height_across(across, here[0] - there[0]), closing)
        quantity = "horn-height" if place.place == HORNS else "twist"
        ids = (*here[1], *there[1], *width_ids)
        against = Against(reference.id)
        findings.append(case.found(quantity, place.id, number, ids, against, *moved))
    return findings + rest


def _reference(case: Case, read: Collection[str]) -> LevelPlace | None:
    """The first place on the rails where the level was read: all others are held against it."""
    return next((p for p in case.layout.levels if p.place != HORNS and p.id in read), None)


def _moved(closing: list[Finding]) -> bool:
    """Whether the level, back at its first place, read another slope than its doubt allows."""
    return any(abs(f.value) > 3 * f.number.u for f in closing)


def _unless_it_moved(number: Uncertain, closing: list[Finding]) -> Uncertain:
    """Where the frame moved under the level, all of that may be in any one reading (rectangular,
    one-sided).
    """
    if not _moved(closing):
        return number
    size = max(abs(f.value) for f in closing) / 3**0.5
    part = Part(
        "level:moved", size, shared=True, source="the frame moved while the level went along it"
    )
    return Uncertain(number.value, (*number.parts, part))


def _closing(case: Case) -> list[Finding]:
    """Back at the first place: what the slope changed by while the level went along the frame."""
    for place in case.layout.levels:
        before, after = slope_at(case, place), slope_at(case, place, "again-")
        if before and after:
            number = height_across(width(case, place.place)[0], after[0] - before[0])
            ids = (*before[1], *after[1])
            return [case.found("level-closing", place.id, number, ids)]
    return []


def _level_error(case: Case) -> list[Finding]:
    """The level's own error, the mean over all places where it was turned round, in mm per meter."""
    pairs = [
        (a, b)
        for p in case.layout.levels
        if (a := case.taken(f"level/{p.id}/as-set")) and (b := case.taken(f"level/{p.id}/turned"))
    ]
    if not pairs:
        return []
    total = Uncertain(0.0)
    for a, b in pairs:
        total = total + own_error(a.number, b.number)
    number = total.scaled(1000.0 / len(pairs))
    ids = tuple(i for a, b in pairs for i in (*a.ids, *b.ids))
    return [case.found("level-error", "level", number, ids)]
