"""The stories of stories.toml made into surveys: looks and history as rows, findings as they stand
there.
"""

from __future__ import annotations

import tomllib
from datetime import datetime
from functools import cache
from pathlib import Path
from typing import Any

from tests.checks.surveys import BARE, found, library
from wizard.checks.finding import Finding
from wizard.checks.notes import Bend, Crown, Note
from wizard.checks.run import findings_of
from wizard.judgment.bands import Judged, judge
from wizard.judgment.cause import Causes, weigh
from wizard.judgment.facts import Shown, Told, told
from wizard.judgment.seen import Seen, looks_of
from wizard.judgment.shown import shown
from wizard.judgment.sight import Sight
from wizard.judgment.signs import evidence_of, unmet
from wizard.judgment.verdict import Verdict
from wizard.library.templates import fits
from wizard.math.uncertain import Part, Uncertain
from wizard.survey.prompts import expand
from wizard.survey.record import Survey
from wizard.survey.rows import Answer, Look, Reading, State

DAY = datetime(2026, 4, 11, 9, 0)
LIMITS = {"sway": "rail-bow", "mash": "rail-length", "horn-height": "horn"}
LEVEL = "r2"
"""Id of the one reading of the level, which names the state that it was taken in."""
LIMITED = ("rail-shift", "sag-loaded", "sag-unloaded", "twist", "horn", "wheelbase")
LIMITED += ("beam-bend", "caster-apart", "caster-book", "camber-apart", "camber-book")
LIMITED += ("perch-apart", "shackle-apart", "toe-book")
TRUE: dict[str, list[tuple[str, float, float]]] = {
    "rail-shift": [("whole", 0.2, 0.5), ("front-box", 0.1, 0.5), ("rear-box", 0.1, 0.5)],
    "sag-unloaded": [("engine-mount/left", 0.4, 0.3), ("engine-mount/right", 0.5, 0.3)],
    "twist": [("rear", 0.1, 0.4)],
    "own-sides": [("whole", 0.4, 0.6), ("front-box", 0.3, 0.6)],
    "sway": [("center", 0.2, 0.5)],
    "horn": [("difference", 0.3, 0.6)],
    "wheelbase": [("difference", 0.5, 0.8)],
}
"""What a true frame shows: place, mm, standard uncertainty."""


@cache
def stories() -> dict[str, dict[str, Any]]:
    """Every story by its id."""
    text = (Path(__file__).parent / "stories.toml").read_text(encoding="utf-8")
    return {s["id"]: s for s in tomllib.loads(text)["story"]}


def _note(quantity: str, *words: str) -> Note:
    """What a story adds to a bend (its kind, where) or to a crown (where, loaded, counts)."""
    return (
        Crown(words[0], *(w in words for w in ("loaded", "counts")))
        if quantity == "crown"
        else Bend(*words)
    )


def finding(quantity: str, where: str, value: float, u: float, *words: str) -> Finding:
    """A finding as a story tells it."""
    limit = LIMITS.get(quantity, quantity if quantity in LIMITED else "")
    number = Uncertain(value, (Part(f"story:{quantity}:{where}", u),))
    readings = (LEVEL,) if quantity == "twist" else ()
    return found(
        quantity,
        where,
        number,
        *([_note(quantity, *words)] if words else []),
        readings=readings,
        limit=limit,
    )


def findings(story: dict[str, Any]) -> tuple[Finding, ...]:
    """What was measured: the story's own, and a true frame for the rest where it says so."""
    own = [finding(*row) for row in story.get("findings", [])]
    told_of = {f.quantity for f in own}
    if any(q.startswith("sag-") for q in told_of):
        told_of.add("sag-unloaded")
    rest = TRUE if story.get("rest_findings") == "true" else {}
    typed = findings_of(survey(story), library()) if "readings" in story else ()
    return (
        *own,
        *(finding(q, *row) for q, rows in rest.items() if q not in told_of for row in rows),
        *typed,
    )


def survey(story: dict[str, Any]) -> Survey:
    """Looks, answers and the state of a story."""
    made = Survey(id=story["id"], car="Bramble", started=DAY, unit="in", layout=_layout_id(story))
    state = State(id=made.new_id(State), at=DAY, **{**BARE, **story.get("state", {})})
    read = Reading(id=LEVEL, at=DAY, prompt="level/rear/as-set", typed="0", state=state.id)
    made = made.with_row(state).with_row(read)
    named = set()
    for step, side, where, seen, answer, *fold in story.get("looks", []):
        prompt = f"{step}/{side}"
        named.add(prompt)
        made = made.with_row(
            Look(id=made.new_id(Look), at=DAY, prompt=prompt, seen=seen, answer=answer)
        )
        for last, word in (("where", where), ("fold", fold[0] if fold else "")):
            if word:
                made = _answered(made, f"{prompt}/{last}", word)
    for prompt, word in story.get("answers", {}).items():
        made = _answered(made, prompt, word)
    for prompt, typed in story.get("readings", []):
        made = made.with_row(Reading(id=made.new_id(Reading), at=DAY, prompt=prompt, typed=typed))
    if rest := story.get("rest_looks"):
        layout = library().layouts[_layout_id(story)]
        steps = [s for s in library().steps.values() if fits(s, layout) and not s.called]
        prompts = [p.id for s in steps for p in expand(s, layout) if p.kind.looks]
        for prompt in (p for p in prompts if p not in named):
            look = Look(
                id=made.new_id(Look), at=DAY, prompt=prompt, seen=rest, answer="nothing-found"
            )
            made = made.with_row(look)
    return made


def _layout_id(story: dict[str, Any]) -> str:
    return str(story.get("layout", "straight-ladder"))


def _answered(made: Survey, prompt: str, word: str) -> Survey:
    return made.with_row(Answer(id=made.new_id(Answer), at=DAY, prompt=prompt, answer=word))


def judged(story: dict[str, Any], made: Survey) -> tuple[Judged, ...]:
    """The findings against their limits."""
    return tuple(judge(f, made, library()) for f in findings(story))


def evidence_for(
    story: dict[str, Any], made: Survey | None = None
) -> tuple[tuple[Seen, ...], Told, tuple[Shown, ...]]:
    """What the rules are given."""
    made = made or survey(story)
    facts = told(judged(story, made), made, library())
    return looks_of(made, library()), facts, shown(facts)


def causes(story: dict[str, Any], made: Survey | None = None) -> Causes:
    """What the rules say of a story, or of the same story with another survey's looks."""
    seen, facts, conditions = evidence_for(story, made)
    book = library().signs
    return weigh(evidence_of(seen, facts, conditions, book), unmet(seen, facts, book))


def verdict(story: dict[str, Any]) -> Verdict:
    """The whole verdict over a story."""
    return Sight(survey(story), library(), findings(story)).verdict(DAY)
