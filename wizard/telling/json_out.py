"""`tell --json`: every finding and the verdict as data, unrounded."""

from __future__ import annotations

import json
import math
from datetime import datetime
from typing import Any

from wizard.judgment.bands import Judged
from wizard.judgment.cause import Conclusion
from wizard.judgment.sight import verdict_of
from wizard.judgment.signs import Evidence
from wizard.judgment.verdict import Verdict
from wizard.library.shapes import Library
from wizard.survey.record import Survey
from wizard.telling.causes_words import untold, zone_words
from wizard.telling.left_out import left_out
from wizard.telling.verdict_words import headline, verdict_page

FORMAT = 1


def _left_out(survey: Survey, library: Library) -> list[dict[str, str]]:
    """Rows of the file that no sum can use."""
    return [{"id": found.row.id, "why": found.why} for found in left_out(survey, library)]


def _finding(judged: Judged) -> dict[str, Any]:
    f = judged.finding
    return {
        "id": f.id,
        "quantity": f.quantity,
        "where": f.where,
        "value": f.value,
        "u": f.number.u,
        "dof": f.number.dof if math.isfinite(f.number.dof) else None,
        "k": judged.k,
        "unit": f.unit,
        "limits": [
            {"band": e.band, "low": e.low, "high": e.high, "source": e.source} for e in judged.edges
        ],
        "bands": list(judged.bands),
        "chance_over": [e.chance for e in judged.edges],
        "readings": list(f.readings),
    }


def _cause(found: Conclusion) -> dict[str, Any]:
    return {
        "cause": found.cause,
        "strength": found.strength,
        "signs": [_sign(e, e.weight[found.cause]) for e in found.signs],
        "against": [_sign(e, e.sign.against[found.cause]) for e in found.against],
        "cannot_tell": untold(found) if found.cannot_tell else "",
    }


def _sign(found: Evidence, weight: str) -> dict[str, Any]:
    return {
        "id": found.sign.id,
        "words": found.sign.words,
        "weight": weight,
        "where": [zone_words(zone) for zone in found.zones],
        "also": found.sign.also,
        "seen": found.seen,
        "sources": list(found.sources),
    }


def _verdict(verdict: Verdict, survey: Survey, library: Library, today: datetime) -> dict[str, Any]:
    return {
        "action": verdict.action,
        "held": verdict.held,
        "numbers": verdict.numbers,
        "headline": headline(verdict),
        "reasons": [j.finding.id for j in verdict.reasons],
        "stops": [s.look.id for s in verdict.stops],
        "lacking": list(verdict.lacking),
        "corner": zone_words(verdict.causes.corner),
        "box": verdict.causes.box,
        "text": verdict_page(survey, library, today),
    }


def as_json(survey: Survey, library: Library, today: datetime) -> str:
    """The whole result."""
    verdict = verdict_of(survey, library, today)
    out = {
        "format": FORMAT,
        "survey": survey.id,
        "findings": [_finding(j) for j in verdict.judged],
        "causes": [_cause(c) for c in verdict.causes.conclusions.values()],
        "verdict": _verdict(verdict, survey, library, today),
        "open": [j.finding.id for j in verdict.open],
        "left_out": _left_out(survey, library),
        "not_seen": [{"what": g.what, "why": g.why, "step": g.step} for g in verdict.not_seen],
    }
    return json.dumps(out, ensure_ascii=False, indent=2, allow_nan=False)
