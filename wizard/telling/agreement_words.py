"""How far the readings can be trusted: what of them does not agree, and what was read in the sun."""

from __future__ import annotations

from wizard.checks.notes import Bend, Rises
from wizard.judgment.bands import Judged
from wizard.judgment.claims import of_finding
from wizard.judgment.verdict import Verdict
from wizard.library import marks
from wizard.library.shapes import Layout, Library
from wizard.survey.record import Survey
from wizard.telling.amounts import few
from wizard.telling.document import Item, Section, section
from wizard.telling.sentences import sentence
from wizard.telling.sun_words import sun_items


def trust_sections(
    verdict: Verdict, layout: Layout, survey: Survey, library: Library
) -> tuple[Section, ...]:
    """Both parts; with no line where there is nothing to say."""
    return (
        section("agreement", "Do the readings agree?", _agreement(verdict, layout, survey)),
        section("sun", "What stood in the sun", sun_items(survey, library)),
    )


def _agreement(verdict: Verdict, layout: Layout, survey: Survey) -> list[Item]:
    """Closures that are out: they cast doubt on the readings, not on the frame."""
    out = [
        j
        for j in verdict.judged
        if j.finding.quantity in (marks.CLOSURE, marks.LEVEL_CLOSING, marks.STRING_LEVEL)
    ]
    out = [j for j in out if j.stands_out] + [j for j in verdict.judged if _odd(j)]
    said = [
        Item(sentence(j, layout, survey.unit), (j.finding.id,), claims=of_finding(j)) for j in out
    ]
    if verdict.completing:
        text = (
            "There are too few measurements to check each other. These would do it: "
            + few(verdict.completing)
            + "."
        )
        said.append(Item(text, ("rule:plan",)))
    return said


def _odd(judged: Judged) -> bool:
    """Whether the rise under the engine is not what a sound rail gives, or a rail seems kinked."""
    bend = judged.finding.note(Bend)
    return judged.finding.note(Rises) is not None or (bend is not None and bend.kind == "kink")
