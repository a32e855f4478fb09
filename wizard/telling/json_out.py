"""`tell --json` and `compare --json`: findings and the verdict, pairs and the trend, as data; unrounded."""

from __future__ import annotations

import json
import math
from collections.abc import Sequence
from datetime import datetime
from typing import Any

from wizard.judgment.answer import Answer, answer_of
from wizard.judgment.bands import Judged
from wizard.judgment.cause import Conclusion
from wizard.judgment.change import Apart, Change, Comparison
from wizard.judgment.choices import choices_of
from wizard.judgment.correction import WishMet, met, outcomes, was_corrected
from wizard.judgment.fact import Fact
from wizard.judgment.series import Series
from wizard.judgment.signs import Evidence
from wizard.judgment.since import Moved
from wizard.judgment.sister import Beside, beside
from wizard.judgment.trend import Trend
from wizard.judgment.verdict import Verdict
from wizard.library.shapes import Library, Work
from wizard.survey.guide import layout_of
from wizard.survey.record import Survey
from wizard.survey.rows import Fold
from wizard.telling.answer_words import brief, headline, lines, opinion_lines, told_of
from wizard.telling.causes_words import untold, zone_words
from wizard.telling.change_words import WHY, change_headline, unlike_line
from wizard.telling.fact_words import Tale, phrase
from wizard.telling.left_out import left_out
from wizard.telling.of_car import of_car
from wizard.telling.quantity_names import cap
from wizard.telling.sister_words import Telling, sister_section, sister_then_and_now
from wizard.telling.tell import verdict_page
from wizard.telling.two_frames import frames_json

FORMAT = 1


def _left_out(survey: Survey, library: Library) -> list[dict[str, str]]:
    """Rows of the file that no sum can use."""
    return [{"id": found.row.id, "why": found.why} for found in left_out(survey, library)]


def _car(survey: Survey, library: Library) -> dict[str, Any]:
    """The car and what was noted of it, as typed."""
    noted = [
        {"about": one.id, "name": one.name, "text": one.text} for one in of_car(survey, library)
    ]
    return {"name": survey.car, "noted": noted}


def _needless(fold: Fold) -> dict[str, Any]:
    return {
        "id": fold.id,
        "prompts": fold.prompts.split(),
        "why": fold.why,
        "settled": fold.settled.split(),
        "readings": fold.readings.split(),
    }


def _finding(judged: Judged) -> dict[str, Any]:
    f = judged.finding
    known = not f.is_unknown
    return {
        "id": f.id,
        "quantity": f.quantity,
        "where": f.where,
        "value": f.value if known else None,
        "u": f.number.u if known else None,
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


def _answer(answer: Answer, survey: Survey, library: Library) -> dict[str, Any]:
    """The answer as it is told, and the facts that it is made of."""
    told = told_of(answer, survey, library)
    return {
        "kind": answer.kind,
        "headline": headline(told),
        "brief": brief(told),
        "lines": [
            {"label": label, "text": item.text, "sources": list(item.sources)}
            for label, item in lines(told)
        ],
        "opinions": list(opinion_lines(survey)),
        "facts": [_fact(f) for f in answer.facts],
        "moved": [_moved(m) for m in answer.since.moved] if answer.since else None,
    }


def _fact(fact: Fact) -> dict[str, Any]:
    return {
        "kind": fact.kind,
        "deed": fact.deed,
        "where": fact.where.place,
        "side": fact.where.side,
        "amount": fact.amount.value if fact.amount else None,
        "u": fact.amount.u if fact.amount else None,
        "unit": fact.unit,
        "way": fact.way,
        "sources": list(fact.sources),
    }


def _moved(moved: Moved) -> dict[str, Any]:
    return {
        "kind": moved.kind,
        "id": moved.finding.id,
        "sides": list(moved.sides),
        "by": moved.number.value,
        "u": moved.number.u,
        "unit": moved.finding.unit,
        "outcome": moved.outcome,
    }


def _verdict(
    answer: Answer, survey: Survey, library: Library, today: datetime, earlier: Survey | None
) -> dict[str, Any]:
    verdict = answer.verdict
    return {
        "action": verdict.action,
        "held": verdict.held,
        "numbers": verdict.numbers,
        "headline": headline(told_of(answer, survey, library)),
        "reasons": [j.finding.id for j in verdict.reasons],
        "stops": [s.look.id for s in verdict.stops],
        "lacking": list(verdict.lacking),
        "corner": zone_words(verdict.causes.corner),
        "box": verdict.causes.box,
        "text": verdict_page(survey, library, today, earlier),
    }


def as_json(
    survey: Survey, library: Library, today: datetime, earlier: Survey | None = None
) -> str:
    """The whole result; earlier: the survey that this one follows."""
    answer = answer_of(survey, library, today, earlier)
    verdict = answer.verdict
    out = {
        "format": FORMAT,
        "survey": survey.id,
        "car": _car(survey, library),
        "answer": _answer(answer, survey, library),
        "findings": [_finding(j) for j in verdict.judged],
        "causes": [_cause(c) for c in verdict.causes.conclusions.values()],
        "choices": _choices(verdict, survey, library),
        "verdict": _verdict(answer, survey, library, today, earlier),
        "open": [j.finding.id for j in verdict.open],
        "left_out": _left_out(survey, library),
        "not_seen": [{"what": g.what, "why": g.why, "step": g.step} for g in verdict.not_seen],
        "not_needed": [_needless(fold) for fold in survey.folds()],
        "sister": _sister(beside(survey, library), survey, library),
    }
    return json.dumps(out, ensure_ascii=False, indent=2, allow_nan=False)


def _sister(found: Beside | None, survey: Survey, library: Library) -> dict[str, Any] | None:
    """The sister frame that is kept, and each figure beside hers; none where no sister is kept."""
    if found is None:
        return None
    told = Telling(layout_of(survey, library), survey.unit, library)
    return {
        "survey": found.sister.name,
        "car": found.sister.car,
        "day": found.sister.day,
        "its_answer": found.sister.answer,
        "pairs": [{**_pair(c), "sister_out": c.new.id in found.itself} for c in found.changes],
        "not_compared": [
            {"id": a.finding.id, "reason": a.why, "why": told.why(a)} for a in found.apart
        ],
        "unread": found.unread,
        "says": [item.text for item in sister_section(survey, library).items],
    }


def _choices(verdict: Verdict, survey: Survey, library: Library) -> list[dict[str, Any]]:
    """The same as data: each thing that asks for something, with its choices in the order of
    doing.
    """
    tale = Tale(verdict, survey, library)
    return [
        {
            "what": cap(phrase(choice.fact, tale)),
            "kind": choice.fact.kind,
            "deed": choice.fact.deed,
            "sources": list(choice.fact.sources),
            "choices": [_work(work) for work in choice.works],
            "again": list(choice.pages),
        }
        for choice in choices_of(verdict, survey, library)
    ]


def _work(work: Work) -> dict[str, Any]:
    return {
        "id": work.id,
        "name": work.name,
        "turn": work.turn or None,
        "who": work.who,
        "leaves": work.leaves,
        "again": work.again,
    }


COMPARED = 1


def series_json(found: Series, library: Library, unread: Sequence[tuple[str, str]] = ()) -> str:
    """The row of surveys as data; unread: (file, why) of those that could not be read."""
    first, *rest = found.comparisons
    ids = [s.id for s in found.surveys]
    out = {
        "format": COMPARED,
        "kind": "change" if len(found.row) == 2 else "trend",
        "surveys": ids,
        **_comparison(first, library),
        "since_first": _comparison(rest[0], library) if rest else None,
        "trend": [_trend(t, "days", ids[found.start :]) for t in found.by_days],
        "trend_by_distance": [_trend(t, "km", ids[found.start :]) for t in found.by_km],
        "sprung_back": [
            {"id": a.old.id, "moved": a.number.value, "back": b.number.value}
            for a, b in found.sprung
        ],
        "sister": list(sister_then_and_now(first, library)),
        "not_read": [{"file": name, "why": why} for name, why in unread],
    }
    return _dumps(out)


def two_json(a: Survey, b: Survey, library: Library, unread: Sequence[tuple[str, str]] = ()) -> str:
    """Two different frames as data: nothing is a pair, everything is side by side."""
    why = "these are two frames: they are shown side by side"
    out = {
        "format": COMPARED,
        "kind": "two-frames",
        "surveys": [a.id, b.id],
        "pairs": [],
        "not_compared": [
            {"id": "*", "quantity": "*", "where": "", "why": why, "reason": "two-frames"}
        ],
        "frames": frames_json((a, b), library),
        "not_read": [{"file": name, "why": said} for name, said in unread],
    }
    return _dumps(out)


def _dumps(out: dict[str, Any]) -> str:
    return json.dumps(out, ensure_ascii=False, indent=2, allow_nan=False)


def _comparison(comparison: Comparison, library: Library) -> dict[str, Any]:
    then, now = comparison.then.survey, comparison.now.survey
    worked = was_corrected(now, library)
    corrected = outcomes(comparison) if worked else ()
    return {
        "old": comparison.then.survey.id,
        "new": comparison.now.survey.id,
        "headline": change_headline(comparison, library),
        "pairs": [_pair(c) for c in comparison.changes],
        "not_compared": [_apart(a, library) for a in comparison.apart],
        "unlike": [{"what": u.field, "then": u.then, "now": u.now} for u in comparison.said],
        "correction": [{"id": o.change.old.id, "outcome": o.kind} for o in corrected],
        "asked": [_wish(one) for one in met(then, now, library)] if worked else [],
    }


def _wish(one: WishMet) -> dict[str, Any]:
    """What was asked for, found before and after in the finding's unit, each with its give or take."""
    finding, after = one.wish.found.finding, one.after
    return {
        "id": finding.id,
        "unit": finding.unit,
        "wanted": 0.0,
        "to_within": one.wish.within,
        "found_before": finding.value,
        "found_before_give_or_take": one.wish.found.told_half,
        "found_after": after.finding.value if after else None,
        "found_after_give_or_take": after.told_half if after else None,
        "says": one.says,
    }


def _pair(change: Change) -> dict[str, Any]:
    f = change.new
    return {
        "id": f.id,
        "quantity": f.quantity,
        "where": f.where,
        "unit": f.unit,
        "old": change.old.value,
        "new": f.value,
        "change": change.number.value,
        "u": change.number.u,
        "dof": _finite(change.number.dof),
        "says": change.says,
        "why": change.why,
        "smallest_visible": change.visible,
        "smallest_visible_alone": change.visible_alone,
    }


def _apart(apart: Apart, library: Library) -> dict[str, Any]:
    f = apart.finding
    why = "; ".join(unlike_line(u, library) for u in apart.unlike) or WHY[apart.why]
    return {"id": f.id, "quantity": f.quantity, "where": f.where, "why": why, "reason": apart.why}


def _trend(trend: Trend, by: str, ids: Sequence[str]) -> dict[str, Any]:
    f, slope, met = trend.findings[-1], trend.slope, trend.meets
    half = slope.half_width
    return {
        "id": f.id,
        "quantity": f.quantity,
        "where": f.where,
        "unit": f"{f.unit}/{'day' if by == 'days' else 'km'}",
        "surveys": [ids[n] for n in trend.at],
        "x": list(trend.xs),
        "y": [g.value for g in trend.findings],
        "slope": slope.number.value,
        "u": slope.number.u,
        "dof": _finite(slope.number.dof),
        "low": slope.number.value - half,
        "high": slope.number.value + half,
        "says": trend.says,
        "meets": None
        if met is None
        else {
            "band": met.band,
            "bound": met.bound,
            "x": met.x,
            "earliest": met.earliest,
            "latest": _finite(met.latest),
        },
    }


def _finite(value: float) -> float | None:
    return value if math.isfinite(value) else None
