"""A line of the verdict opened: the findings, looks, answers and limits that it rests on, each in
words.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from wizard.judgment.bands import Judged, own_bounds
from wizard.judgment.seen import Seen, bent_horn
from wizard.judgment.verdict import Verdict
from wizard.library.places import PromptId, Source, StepId, name_of_prompt, part_of, step_of
from wizard.library.shapes import Library
from wizard.survey.guide import layout_of
from wizard.survey.record import Survey
from wizard.survey.rows import Answer
from wizard.telling.amounts import BANDS, bound
from wizard.telling.sentences import sentence_and_band

RULES = {
    "scope": "This holds for every survey.",
    "foretold": (
        "What else a bent rail moves is common practice, no published source. The caster is computed."
    ),
    "plan": "How many measurements a plan needs is computed: a wrong one must show among them.",
    "age": "It takes one strong sign, or two of medium weight, to say that age did it.",
    "collision": (
        "It takes two kinds of sign at one corner to say that a collision did it: the metal, the"
        " measurements or the body. If somebody knows of a hit, that counts for one of them, and"
        " then it is only probable."
    ),
    "repair": (
        "It takes one strong sign, or two of medium weight, to say that it was repaired. What"
        " somebody says alone makes it probable."
    ),
    "original": (
        "It takes marks with a twin on the other side, or a part of the car that they serve, to say"
        " that it is from the maker."
    ),
    "lacking-rail-shift": (
        "Without diagonals over the whole frame nobody can say whether it is square."
    ),
    "lacking-sag": "Without a string along both rails nobody can say whether they are straight.",
    "lacking-twist": "Without a level across the rails nobody can say whether it is twisted.",
    "lacking-looks": (
        "You must have seen half of the places before a frame is left as it is (this project's own"
        " figure)."
    ),
    "edge": (
        "A sag is read against the edge along which the string runs; what its maker shaped is no"
        " sag"
        " (common practice, no published source)."
    ),
    "layout": "This is said of every frame of that kind (common practice, no published source).",
    "sun": (
        "A rail that is warmer on top than below bows by what is computed; ten degrees more are"
        " this"
        " project's own figure."
    ),
    "sister": (
        "Each figure of one frame is compared with the same one of the other. The doubts of both"
        " surveys count, and of all the figures together at most one in 20 times is told as unlike"
        " by chance."
    ),
    "three-points": (
        "Weight to one side can tip a car off three stands (common practice, no published source)."
    ),
    "stop": "A crack, a kink, a torn weld or a hole near a mounting counts more than any number.",
    "specialist": "By the numbers it must go to a specialist, even at the mildest reading of them.",
    "put-right": "By the numbers it must be put right, even at the mildest reading of them.",
    "axle-first": "The frame is within its limits, but the wheelbase is not.",
    "watch": "Nothing must be put right, but keep an eye on something.",
    "leave": "No number is surely beyond what may be left as it is.",
    "open": "The numbers allow more than one answer, or they rest on joints or supports that move.",
    "not-enough": "You have measured or seen too little for any answer.",
}
"""Rules of this program that a line may rest on."""


def opened(
    sources: Iterable[Source], verdict: Verdict, survey: Survey, library: Library
) -> tuple[str, ...]:
    """What each id stands for, in the order given; an id that stands for nothing gives nothing."""
    words = (_opened(id, verdict, survey, library) for id in dict.fromkeys(sources))
    return tuple(w for w in words if w)


def _opened(id: Source, verdict: Verdict, survey: Survey, library: Library) -> str:
    source = part_of(str(id))
    kind, rest = source.kind, source.of
    if not rest:
        return _row(id, verdict, survey, library)
    if kind == "rule":
        return f"Rule: {RULES[rest]}" if rest in RULES else ""
    if kind == "sign":
        return _sign(rest, verdict, library)
    if kind == "limit":
        return _limit(rest, survey, library)
    if kind == "step":
        return _step(rest, verdict, library)
    return _answer(PromptId(rest), survey, library) if kind == "answer" else ""


def _row(id: Source, verdict: Verdict, survey: Survey, library: Library) -> str:
    judged = next((j for j in verdict.judged if j.finding.id == id), None)
    if judged is not None:
        return _finding(judged, survey, library, bent_horn(verdict.seen))
    seen = next((s for s in verdict.seen if s.look.id == id), None)
    if seen is not None:
        return _look(seen)
    row = next((a for a in survey.standing(Answer) if a.id == id), None)
    return _answer(row.prompt if row else PromptId(str(id)), survey, library)


def _look(seen: Seen) -> str:
    side = f", {seen.side}" if seen.side else ""
    what = seen.choice.words if seen.choice else "not sure"
    how = seen.look.seen.replace("-", " ")
    return f"Look: {seen.title}{side}: {what} ({how})."


def _finding(judged: Judged, survey: Survey, library: Library, bent: str) -> str:
    layout = layout_of(survey, library)
    count = len(judged.finding.readings)
    readings = f" By {count} reading{'s' if count > 1 else ''}." if count else ""
    said = sentence_and_band(judged, layout, survey.unit, bent)
    return f"Finding: {said}{readings}"


def _answer(prompt: PromptId, survey: Survey, library: Library) -> str:
    step, last = step_of(prompt), name_of_prompt(prompt)
    found = (
        next((p for p in library.steps[step].prompts if p.last == last), None)
        if step in library.steps
        else None
    )
    said = survey.answer_to(prompt)
    if found is None:
        return ""
    words = next((c.words for c in found.choices if c.token == said), said)
    return f"Answer: {found.ask} {words or 'not said'}."


def _sign(id: str, verdict: Verdict, library: Library) -> str:
    sign = library.signs.signs.get(id)
    if sign is None:
        return ""
    found = next(
        (e for c in verdict.causes.conclusions.values() for e in c.signs if e.sign.id == id), None
    )
    leans = _weighed("leans to", found.weight if found else sign.leans)
    against = _weighed("speaks against", sign.against)
    said = "; ".join([*leans, *against])
    also = f" It could also be {sign.also}." if sign.also else ""
    return f"Sign: {sign.words}; {said or 'says when it was'}.{also} Source: {sign.source}."


def _weighed(how: str, weights: Mapping[str, str]) -> list[str]:
    """`leans to age medium, collision weak`; nothing where there is no weight."""
    said = ", ".join(f"{cause} {weight}" for cause, weight in weights.items())
    return [f"{how} {said}"] if said else []


def _limit(id: str, survey: Survey, library: Library) -> str:
    limit = library.limits.get(id)
    if limit is None:
        return ""
    own = own_bounds(survey, limit)
    ends = (
        f"{BANDS[b.band]} up to {bound(b.upto_mm, limit.unit, survey.unit)} ({b.source})"
        for b in own.above
    )
    return f"Limit on {limit.name}: {'; '.join(ends)}; beyond that {BANDS[own.beyond]}."


def _step(named: str, verdict: Verdict, library: Library) -> str:
    id = StepId(named)
    if id not in library.steps:
        return ""
    gap = next((g for g in verdict.not_seen if g.step == id), None)
    why = gap.why.rstrip(".") if gap else "not seen bare on both sides"
    return f"Not seen or measured: {library.steps[id].title}: {why}."
