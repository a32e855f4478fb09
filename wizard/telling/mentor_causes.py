"""The causes as a table: each sign for and against, with its weight as it was seen."""

from __future__ import annotations

from collections.abc import Iterator

from wizard.judgment.signs import POINTS, Evidence
from wizard.judgment.verdict import Verdict
from wizard.library.shapes import Library
from wizard.library.shapes_signs import CAUSES
from wizard.telling.causes_words import zone_words

NO_SIGN = "no sign of it"
NAMES = {points: name for name, points in POINTS.items()}


def cause_rows(verdict: Verdict, library: Library) -> Iterator[str]:
    """A line for each cause, and under it one for each sign."""
    for cause in CAUSES:
        found = verdict.causes.conclusions.get(cause)
        if found is None:
            continue
        answer = NO_SIGN if found.answer == "none" else found.answer.replace("-", " ")
        yield f"{library.signs.causes[cause].name}: {answer}"
        yield from (f"    for, {_row(e, e.points.get(cause, 0))}" for e in found.signs)
        yield from (f"    against, {_row(e, e.against.get(cause, 0))}" for e in found.against)
        if found.unmet:
            still = ", ".join(dict.fromkeys(w.step for w in found.unmet))
            yield f"    still open (not seen bare on both sides, or not measured): {still}"


def _row(e: Evidence, points: int) -> str:
    where = ", ".join(zone_words(z) for z in e.zones)
    seen = f", seen {e.seen.replace('-', ' ')}" if e.seen else ""
    return (
        f"{NAMES.get(points, 'weak')}: {e.sign.words}{f' ({where})' if where else ''}{seen}"
        f" [{', '.join(e.sources)}]"
    )
