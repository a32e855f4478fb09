"""How far the readings can be trusted: what of them does not agree, what was read in the sun, and
how they compare with those of a sister frame.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable

from wizard.checks.edge import depths_read, is_straight
from wizard.checks.notes import Bend, Rises
from wizard.checks.sunny import WARMER, bow_of
from wizard.judgment.bands import Judged
from wizard.judgment.claims import of_finding
from wizard.judgment.verdict import Verdict
from wizard.library import marks
from wizard.library.shapes import Layout, Library
from wizard.readings.warmth import BOTH
from wizard.survey.answer import WARMTH
from wizard.survey.guide import layout_of
from wizard.survey.meant import meant
from wizard.survey.record import Survey, Unit
from wizard.survey.rows import Answer, Sister, State
from wizard.survey.sizes import own_layout
from wizard.telling.amounts import at_most, few, size
from wizard.telling.document import Item, Section, section
from wizard.telling.sentences import sentence


def trust_sections(
    verdict: Verdict, layout: Layout, survey: Survey, library: Library
) -> tuple[Section, ...]:
    """All parts; with no line where there is nothing to say."""
    return (
        section("agreement", "Do the readings agree?", _agreement(verdict, layout, survey)),
        section("edge", "What the string was compared with", _edge_items(survey, library)),
        section("sun", "What stood in the sun", sun_items(survey, library)),
        kind_section(layout),
        *_sister(survey, library),
    )


def kind_section(layout: Layout) -> Section:
    """What no reading tells of this kind of frame; with no line where all is told."""
    items = [Item(said, ("rule:layout",)) for said in layout.cannot]
    return section("kind", "What nothing here tells of this kind of frame", items)


def _sister(survey: Survey, library: Library) -> tuple[Section, ...]:
    if not survey.standing(Sister):
        return ()
    from wizard.telling.sister_words import sister_section  # few surveys keep a sister frame

    return (sister_section(survey, library),)


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


# The edge under the string ------------------------------------------------------------------------

LOWER, UPPER = "lower edge", "top"
SUPPOSED = (
    "The string ran under the rails, and nobody was asked whether the maker made their lower edge"
    " straight. What is told of sag supposes that it was: /also calls for that page."
)
STRAIGHT = "The string ran along the {edge} of the rails, which the maker made straight{by}."
DEEPER = (
    "The top of the rails was straight from the maker{by}, and they are deeper in places. What"
    " their"
    " measured depths add to the sag was taken out of it."
)
UNSHAPED = (
    "The string ran along the {edge} of the rails, and nobody knows whether the maker made that"
    " straight. So it tells no sag and no kink: only left against right, what springs back and what"
    " changes."
)
NOT_STRAIGHT = (
    "The string ran along the {edge} of the rails, which the maker did not make straight{by}. So it"
    " tells no sag and no kink: only left against right, what springs back and what changes."
)


def _edge_items(survey: Survey, library: Library) -> list[Item]:
    """What is known of the edge along which the string ran; nothing where that was the top and
    nobody was asked, or where no string was read.
    """
    below = meant(survey, library, marks.STRING_SIDE) == marks.BELOW
    edges = meant(survey, library, marks.EDGES)
    if not (below or edges):
        return []
    from wizard.checks.case import case_of  # numpy only where there is something to say

    case = case_of(survey, library)
    if not any(id in case.counted for id in case.ground.gaps):
        return []
    asked = (library.asking(q) for q in (marks.STRING_SIDE, marks.EDGES))
    said = tuple(f"answer:{a.prompt}" for a in asked if a and survey.answer_to(a.prompt))
    words = _edge_words(edges, is_straight(edges, below), depths_read(case))
    filled = words.format(edge=LOWER if below else UPPER, by=_known_by(survey, library))
    return [Item(filled, ("rule:edge", *said))]


def _edge_words(edges: str, fine: bool, measured: bool) -> str:
    """The sentence that fits."""
    if not edges:
        return SUPPOSED
    if fine:
        return STRAIGHT
    if measured:
        return DEEPER
    return NOT_STRAIGHT if edges in (marks.NEITHER, marks.TOP_STRAIGHT) else UNSHAPED


def _known_by(survey: Survey, library: Library) -> str:
    """` (known from a drawing)`; empty where nobody said."""
    asked = library.asking(marks.EDGES_KNOWN_BY)
    said = survey.answer_to(asked.prompt) if asked else ""
    if asked is None or not said:
        return ""
    prompt = next(p for p in library.steps[asked.step].prompts if p.asks == marks.EDGES_KNOWN_BY)
    return f" (known from {prompt.kind.said(prompt, [said])})"


# The sun ------------------------------------------------------------------------------------------

SHADE = (
    "Cover the car, or wait for shade, until both sides feel equally warm; then come back here"
    " and say so."
    " A rail that the sun warms on top bows: this one by up to {bow} if its top is {warmer} warmer."
    " What you read in the sun gets more doubt."
)
TOLD = (
    "{what} in the sun for {count}. A rail that is {warmer} warmer on top than below bows by {bow}"
    " here, and is longer than a cool tape says. Nobody knows how much of that there was, so it"
    " adds to the doubt of the figures. To be rid of that, read them again in the shade."
)
WHAT = {"left": "The left side stood", "right": "The right side stood", BOTH: "Both sides stood"}


def _warmer(survey: Survey) -> str:
    """How much warmer, in the scale that goes with the survey's unit."""
    return f"{WARMER * 1.8:.0f} °F" if survey.unit == "in" else f"{WARMER:.0f} °C"


def _bow(survey: Survey, library: Library, said: Callable[[float, str, Unit], str]) -> str:
    return said(bow_of(own_layout(layout_of(survey, library), survey)), "mm", survey.unit)


def shade_it(survey: Survey, library: Library) -> str:
    """What to do about it, as soon as it is said."""
    return SHADE.format(bow=_bow(survey, library, at_most), warmer=_warmer(survey))


def sun_items(survey: Survey, library: Library) -> list[Item]:
    """A line for each side that was in the sun while something was read; none in the shade."""
    if not any(s.temperature for s in survey.table(State)):
        return []
    from wizard.checks.case import case_of  # numpy only where somebody said how warm it was

    case = case_of(survey, library)
    by_side = Counter(case.suns.get(r.id, "") for rows in case.counted.values() for r in rows)
    del by_side[""]
    said = tuple(a.id for a in survey.standing(Answer) if a.keeps == WARMTH)
    told = {side: _told(side, count, survey, library) for side, count in by_side.items()}
    return [Item(words, ("rule:sun", *said)) for words in told.values()]


def _told(side: str, times: int, survey: Survey, library: Library) -> str:
    count = "one reading" if times == 1 else f"{times} readings"
    how = {"what": WHAT[side], "count": count, "warmer": _warmer(survey)}
    return TOLD.format(bow=_bow(survey, library, size), **how)
