"""content/exposures.toml and cautions.toml: what work on the car exposes a person to, and what is
read before it.

Source: that a page declares its exposures and the cautions follow is this project's own way. What
the cautions say carries its source beside it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from wizard.library.fields import Fault, Table, nearest
from wizard.library.places import NO_PLACE, SIDES, PlaceId, PromptId, StepId, prompt_id, within
from wizard.library.shapes import Caution, Exposure, Library, PromptTemplate, Step

STANCES = ("wheels", "lifted", "bare")
"""How a car can stand: on its own wheels; on anything else with weight on it, or nobody has said; a
bare frame.
"""
HOLDS = (
    "rocks",
    "hangs",
    "nowhere",
    "three-points",
    "skipped",
    "metal",
    "unpushed",
    "stale",
    "changed",
)
"""Why nobody may be near the car: see wizard/survey/standing.py."""
FILE = "cautions.toml"
LAST = "Your local rules and a licensed professional come first."
"""The last line of every caution."""
BIG = 11
"""Letters of the largest words there are: they must fit 60 columns."""
_WORDS = re.compile(r"[^a-z0-9']+")


def read_exposures(t: Table) -> dict[str, Exposure]:
    """Exposures by id."""
    t.format()
    found: dict[str, Exposure] = {}
    for row in t.tables("exposure"):
        one = Exposure(
            id=row.text("id"),
            name=row.text("name"),
            near=row.flag("near"),
            stances=_stances(row, "stances"),
            told_by=row.texts("told_by"),
        )
        row.done()
        row.once(one.id, found)
        found[one.id] = one
    t.done()
    return found


def _stances(row: Table, key: str) -> tuple[str, ...]:
    """Stances that are named; all of them where none is."""
    named = row.texts(key)
    for stance in named:
        if stance not in STANCES:
            row.fault(key, f"'{stance}' is not known", nearest(stance, STANCES))
    return named or STANCES


def read_cautions(t: Table) -> dict[str, Caution]:
    """Cautions by id, in the order in which they are read."""
    t.format()
    found: dict[str, Caution] = {}
    for row in t.tables("caution"):
        one = _caution(row)
        row.done()
        row.once(one.id, found)
        found[one.id] = one
    t.done()
    return found


def _caution(row: Table) -> Caution:
    one = Caution(
        id=row.text("id"),
        title=row.text("title"),
        sentences=row.sentences("lines"),
        sources=row.texts("sources", needed=True),
        against=row.texts("against"),
        stances=_stances(row, "stances"),
        covers=row.texts("covers"),
        holds=row.word("holds", HOLDS, ""),
        big=row.text("big", ""),
    )
    if one.lines[-1:] != (LAST,):
        row.fault("lines", "do not end as every caution does", f'add the line "{LAST}"')
    if bool(one.against) == bool(one.holds):
        row.fault(
            "against",
            "or holds is missing, or both are there",
            "say what it stands against, or what it holds",
        )
    if bool(one.holds) != bool(one.big):
        row.fault("big", "goes with holds", 'write it in large letters, like big = "KEEP OUT"')
    if len(one.big) > BIG or not all("A" <= c <= "Z" or c == " " for c in one.big):
        row.fault(
            "big",
            f"is over {BIG} characters or holds more than A to Z and blanks",
            "say it shorter",
        )
    return one


def exposure_faults(library: Library) -> Iterator[Fault]:
    """Exposures without a caution, cautions against nothing, and pages that do not say what they
    expose to.
    """
    for caution in library.cautions.values():
        yield from _unknown_exposures(caution, library)
    for exposure in library.exposures.values():
        yield from _unguarded(exposure, library)
    yield from _hold_faults(library)
    for step in library.steps.values():
        yield from _untold(step, library)


def _unknown_exposures(caution: Caution, library: Library) -> Iterator[Fault]:
    for key, named in (("against", caution.against), ("covers", caution.covers)):
        for id in named:
            if id not in library.exposures:
                wrong = f"'{id}' is not known"
                yield Fault(FILE, f"{caution.id}.{key}", wrong, nearest(id, library.exposures))


def _unguarded(exposure: Exposure, library: Library) -> Iterator[Fault]:
    for stance in exposure.stances:
        if not _against(library, exposure.id, stance):
            wrong = f"nothing is read before '{exposure.id}' where the car stands as '{stance}'"
            remedy = "write a caution against it, or name the stances of the exposure"
            yield Fault(FILE, "caution", wrong, remedy)


def _hold_faults(library: Library) -> Iterator[Fault]:
    held = [c.holds for c in library.cautions.values() if c.holds]
    for reason in HOLDS:
        if held.count(reason) != 1:
            wrong = f"{held.count(reason)} say what holds where '{reason}'"
            yield Fault(FILE, "holds", wrong, "write exactly one")


def _against(library: Library, exposure: str, stance: str) -> bool:
    return any(exposure in c.against and stance in c.stances for c in library.cautions.values())


def pushes_of(steps: Mapping[StepId, Step]) -> dict[PromptId, dict[str, str]]:
    """Ids of the prompts that say how the car stands: each answer's token to what it says.

    What it rests on is among them, and says nothing by itself.
    """
    found = {}
    for step in steps.values():
        for prompt in step.prompts:
            said = {c.token: c.stands for c in prompt.choices if c.stands}
            rests = prompt.keep == "state.supports" and "lifting" in step.exposes
            if said or rests:
                found.update(dict.fromkeys(_ids(step, prompt), said))
    return found


def _ids(step: Step, prompt: PromptTemplate) -> tuple[PromptId, ...]:
    """As wizard/survey/prompts.py makes them: such a prompt stands alone or is asked of each side."""
    if prompt.each == "side":
        return tuple(prompt_id(step.id, PlaceId(side), prompt.last) for side in SIDES)
    return (prompt_id(step.id, NO_PLACE, prompt.last),)


def places_of(steps: Mapping[StepId, Step]) -> dict[PromptId, PromptId]:
    """Looks at the metal where jack and stands go, by id, and the prompt that asks for another
    place instead.
    """
    found = {}
    for step in steps.values():
        for prompt in step.prompts:
            looks = _lift_looks(step, prompt)
            for side in SIDES:
                for look in looks:
                    other = prompt_id(step.id, PlaceId(side), prompt.last)
                    found[PromptId(look.format(side=side))] = other
    return found


def _lift_looks(step: Step, prompt: PromptTemplate) -> list[str]:
    """Looks whose answers lead to a prompt for another place to lift the car, by template."""
    says = {c.stands for c in prompt.choices}
    if not prompt.kind.chooses or "sound" not in says:
        return []
    return [n.key for n in prompt.needs if within(n.prompt, step.id) and "{side}" in n.key]


def own_words(step: Step) -> str:
    """Everything that a page itself says, in small letters with a blank round each word."""
    said = [step.title, step.why, *step.how, *step.spoils, step.good, step.paper]
    said += [step.alone, step.mentor, step.instead, *(n.instead for n in step.needs)]
    for text in (text for one in step.worded for text in one.texts.values()):
        said += [text] if isinstance(text, str) else text
    said += [step.second.why, step.second.good, *step.second.moves.values()]
    for prompt in step.prompts:
        said += [prompt.ask, *(c.words for c in prompt.choices)]
    return plain_words(" . ".join(said))


def plain_words(text: str) -> str:
    """Small letters, figures and apostrophes, one blank between and round the words."""
    return f" {_WORDS.sub(' ', text.lower()).strip()} "


def _untold(step: Step, library: Library) -> Iterator[Fault]:
    """Words that give an exposure away which the page does not declare."""
    file, words = f"{step.id}.toml", own_words(step)
    for row in step.only_words:
        said = plain_words(row.words)
        if said not in words:
            yield Fault(file, "only_words", f"'{row.words}' is not on the page", "take it out")
        words = words.replace(said, " ")
    declared = {*step.exposes, *(e for p in step.prompts for e in p.exposes)}
    for exposure in library.exposures.values():
        told = next((w for w in exposure.told_by if f" {w}" in words), "")
        if told and exposure.id not in declared:
            wrong = f"'{told}' is on the page, but '{exposure.id}' is not declared"
            yield Fault(
                file, "exposes", wrong, "declare it, or say under [[only_words]] why it is none"
            )
