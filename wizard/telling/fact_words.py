"""One fact in plain words: what and where and how much in one phrase, what to do in another.

A phrase begins small and has no stop, so that several stand in one sentence.
"""

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from itertools import groupby
from typing import TYPE_CHECKING, NamedTuple

from wizard.checks.notes import Slip
from wizard.judgment.bands import Judged
from wizard.judgment.fact import Fact
from wizard.judgment.facts import is_out
from wizard.judgment.seen import Seen
from wizard.judgment.supports import is_stands_twist
from wizard.judgment.unseen import Unseen
from wizard.judgment.verdict import Verdict
from wizard.library import marks
from wizard.library.places import SIDES, WHOLE_BOX, PlaceId, side_of
from wizard.library.shapes import Layout, Library
from wizard.readings.plain import and_
from wizard.survey.guide import layout_of
from wizard.survey.record import Survey
from wizard.survey.standing import ROCKING
from wizard.telling.amounts import about, at, few
from wizard.telling.quantity_names import Spot, cap, holds, horn_way, wording
from wizard.telling.sentences import SLIPS, sentence
from wizard.telling.supports_words import twist_move

if TYPE_CHECKING:
    from wizard.judgment.next import Advice


class Tale(NamedTuple):
    """What words are found by: the survey whose facts they are."""

    verdict: Verdict
    survey: Survey
    library: Library

    @property
    def layout(self) -> Layout:
        """The kind of frame."""
        return layout_of(self.survey, self.library)

    @property
    def word(self) -> Callable[[str], str]:
        """What puts a text into the words for this kind of frame."""
        return wording(self.survey, self.library)

    def size(self, judged: Judged) -> str:
        """An amount without its sign, as everywhere."""
        return about(judged.finding.value, judged.finding.unit, self.survey.unit)

    def amount(self, fact: Fact) -> str:
        """How much a fact is."""
        assert fact.amount is not None
        return about(fact.amount.value, fact.unit, self.survey.unit)

    def at(self, place: PlaceId) -> str:
        """`at the rear engine mount`."""
        return at(self.layout.names.get(place, str(place)))


# What was seen ------------------------------------------------------------------------------------

PLAIN = ("a ", "an ", "the ", "any ")


def thing(seen: Seen) -> str:
    """What was seen, as a sentence about it begins: `kink`, `wrinkled lower flange`."""
    if seen.choice is None:
        return "doubt about a crack" if seen.cleared else "something that nobody was sure of"
    words = seen.choice.named or seen.choice.words.partition(":")[0]
    start = next((p for p in PLAIN if words.startswith(p)), "")
    return words.removeprefix(start)


def place_of(seen: Seen, third: str = "") -> str:
    """Where it was seen: `in the side of the left rail, front third`."""
    step, side = seen.step, seen.side
    corner = _corner_of(side, third)
    if not step.at:
        return f"({step.title}{f', {side}' if side else ''})"
    said = " ".join(step.at.format(side=side, corner=corner or "one").split())
    asked = any(p.asks == marks.THIRD for p in step.prompts)
    return f"{said}, {third} third" if third and asked and "{corner}" not in step.at else said


def _corner_of(side: str, third: str) -> str:
    """`left front`; in the middle of the frame the side alone."""
    return f"{side} {'' if third == marks.MIDDLE else third}".strip()


def _seen(fact: Fact, tale: Tale) -> str:
    seen = fact.seen[0]
    if fact.deed == "loose":
        return f"{seen.joint.removeprefix('the ')} loose"
    said = f"{thing(seen)} {place_of(seen, fact.third)}"
    return f"{said}, where dye showed no crack" if fact.way == marks.BY_DYE else said


def unseen_words(places: Iterable[Unseen]) -> str:
    """`the sides of the rails, left and right; ...`."""
    said = [f"{u.title}{_sides(u.sides)}" for u in places]
    more = [f"{len(said) - PLACES} more"] if len(said) > PLACES else []
    return and_([*(s[:1].lower() + s[1:] for s in said[:PLACES]), *more])


PLACES = 3
"""Places named in one sentence."""


def named_places(fact: Fact) -> list[Unseen]:
    """Those that the phrase names: of what must be bare and of the others so many each."""
    return [u for bare in (True, False) for u in [v for v in fact.steps if v.bare is bare][:PLACES]]


def _sides(sides: Iterable[str]) -> str:
    named = [s for s in dict.fromkeys(sides) if s]
    return f" ({' and '.join(named)})" if named else ""


# What was measured --------------------------------------------------------------------------------


def other(side: str) -> str:
    """The side across the car."""
    known = side_of(side)
    return str(known.other) if known else ""


def _hit(fact: Fact, tale: Tale) -> str:
    """Where it was hit, as surely as the signs of the collision say."""
    if not fact.struck:
        return ""
    sure = tale.verdict.causes["collision"].strength == "strong"
    return f", {'hit' if sure else 'probably hit'} at the {' '.join(fact.struck)}"


def _corner(fact: Fact, tale: Tale) -> str:
    return f"{fact.where.side} {fact.where.place} corner {tale.amount(fact)} {fact.way}{_hit(fact, tale)}"


def _moved_along(fact: Fact, tale: Tale, where: str = "") -> str:
    """One rail against the other: which of the two moved only the metal says."""
    if fact.struck:
        back = fact.struck[1] == "front"
        way = "back" if back else "forward"
        return f"{fact.struck[0]} rail {tale.amount(fact)} {way}{where}{_hit(fact, tale)}"
    return f"by {tale.amount(fact)}, {fact.way} rail back or {other(fact.way)} rail forward"


def _diamond(fact: Fact, tale: Tale) -> str:
    said = _moved_along(fact, tale)
    return said if fact.struck else f"frame out of square from end to end (a diamond) {said}"


def _box(fact: Fact, tale: Tale) -> str:
    name = Spot(fact.judged[0].finding, tale.layout).name
    if fact.struck:
        return _moved_along(fact, tale, f" in the {name}")
    return f"{_closed(name)} out of square {_moved_along(fact, tale)}"


def _square(fact: Fact, tale: Tale) -> str:
    whole = fact.where.place == WHOLE_BOX
    name = "frame" if whole else Spot(fact.judged[0].finding, tale.layout).name
    amount = tale.amount(fact)
    return f"{_closed(name)} out of square by {amount}, and these readings cannot say why"


def _closed(name: str) -> str:
    """A name in front of what is said of it: `front box, by the bar,`."""
    return f"{name}," if "," in name else name


def _short(fact: Fact, tale: Tale) -> str:
    name = Spot(fact.judged[0].finding, tale.layout).name
    return f"{fact.way} rail {tale.amount(fact)} shorter than the {other(fact.way)} ({name})"


def _bow(fact: Fact, tale: Tale) -> str:
    spot = Spot(fact.judged[0].finding, tale.layout)
    said = f"frame bowed {tale.amount(fact)} to the {fact.way} {spot['at']}, seen from above"
    square = [
        j.finding for j in fact.judged if j.finding.quantity == marks.RAIL_SHIFT and is_out(j)
    ]
    if not square:
        return said
    worst = max(square, key=lambda f: abs(f.value))
    name, much = Spot(worst, tale.layout).name, about(worst.value, worst.unit, tale.survey.unit)
    return f"{said}, which puts the {_closed(name)} out of square by {much}"


def _nose(fact: Fact, tale: Tale) -> str:
    return f"nose {tale.amount(fact)} to the {fact.way} of the middle line"


def _twist(fact: Fact, tale: Tale) -> str:
    name = Spot(fact.judged[0].finding, tale.layout).name
    high = f"{name} {tale.amount(fact)} higher on the {fact.way} than the front"
    if is_stands_twist(fact.judged[0].finding, tale.survey):
        return f"{high}, but that may come from what it stood on"
    return f"frame twisted, {high}"


def _axle(fact: Fact, tale: Tale) -> str:
    return f"{fact.way} wheelbase {tale.amount(fact)} shorter than the {other(fact.way)}"


def _thin(fact: Fact, tale: Tale) -> str:
    return (
        f"{fact.where.side} rail has lost {tale.amount(fact)} of its thickness at the worst place"
    )


def _added(fact: Fact, tale: Tale) -> str:
    """By the sentence that the quantity brought with it."""
    said = sentence(fact.judged[0], tale.layout, tale.survey.unit).rstrip(".")
    return said[:1].lower() + said[1:]


def _horn(fact: Fact, tale: Tale) -> str:
    """The bent horn by its name where only it was seen bent; else both, and neither is named."""
    bent = fact.where.side
    parts = [HORN_WAYS[j.finding.quantity](j, tale, str(bent or "")) for j in fact.judged]
    said = " and ".join(parts)
    if bent:
        return f"{bent} front horn bent {said}"
    tool = "level" if all(j.finding.quantity == marks.HORN_HEIGHT for j in fact.judged) else "tape"
    return f"the two horns differ {said}, and the {tool} {WHICH}"


def _apart(judged: Judged, tale: Tale, bent: str) -> str:
    if not bent:
        return f"by {tale.size(judged)} sideways"
    return f"{horn_way(judged.finding, bent)} {tale.size(judged)}"


def _height(judged: Judged, tale: Tale, bent: str) -> str:
    high = SIDES[0] if judged.finding.value > 0 else SIDES[1]
    if not bent:
        return f"in height by {tale.size(judged)}, the {high} one higher"
    return f"{horn_way(judged.finding, bent)} {tale.size(judged)}"


def _back(judged: Judged, tale: Tale, bent: str) -> str:
    if not bent:
        return f"by {tale.size(judged)} fore and aft"
    return f"{horn_way(judged.finding, bent)} {tale.size(judged)}"


WHICH = "cannot say which is bent"
HORN_WAYS: Mapping[object, Callable[[Judged, Tale, str], str]] = {
    marks.HORN_APART: _apart,
    marks.HORN_HEIGHT: _height,
    marks.HORN_BACK: _back,
    marks.HORN_OUT: _apart,
}


WITH_WEIGHT = " with the engine's weight on"


def _rails(fact: Fact, tale: Tale) -> str:
    """One rail by its side, or both by the lower one."""
    word = {"sag": "low", "crown": "high"}[fact.kind]
    spot = Spot(fact.judged[0].finding, tale.layout)
    loaded = fact.judged[0].finding.quantity == marks.SAG_LOADED
    at_place = f"{spot['at']}{WITH_WEIGHT if loaded else ''}"
    if fact.where.side:
        return f"{fact.where.side} rail {tale.amount(fact)} {word} {at_place}"
    return f"both rails up to {tale.amount(fact)} {word} {at_place}"


def _waits(fact: Fact, tale: Tale) -> str:
    who = f"{fact.where.side} rail stands" if fact.where.side else "both rails stand"
    return f"{who} up to {tale.amount(fact)} high without the engine's weight"


def _kink(fact: Fact, tale: Tale) -> str:
    return f"{fact.where.side} rail may be bent sharply near {tale.at(fact.where.place)[7:]}"


# Readings -----------------------------------------------------------------------------------------


def _slip(fact: Fact, tale: Tale) -> str:
    note = fact.judged[0].finding.note(Slip) or Slip(False, "", ())
    if not note.named:
        return f"{len(note.asks)} measurements cannot all be right: {few(note.asks)}"
    way = "long" if fact.judged[0].finding.value > 0 else "short"
    words = SLIPS.get(note.kind, note.kind)
    of = "a slip of " if words.startswith(("a ", "half ")) else ""
    like = f" ({of}{words})" if words else ""
    return f"“{note.asks[0]}” reads {tale.amount(fact)} too {way}{like}"


DISAGREE: Mapping[object, tuple[str, str]] = {
    marks.CLOSURE: (
        "the measurements of the {where} disagree by {amount}",
        "measure that box again",
    ),
    marks.LEVEL_CLOSING: (
        "back at its first place the level reads {amount} differently",
        "read the level again",
    ),
    marks.STRING_LEVEL: ("string and level disagree {at} by {amount}", "read both again"),
}
"""Readings that should agree, and what to do where they do not."""


def _disagree(fact: Fact, tale: Tale) -> str:
    finding = fact.judged[0].finding
    spot = Spot(finding, tale.layout)
    said, _ = DISAGREE[finding.quantity]
    return said.format(where=spot.name, at=spot["at"], amount=tale.amount(fact))


def _rocks(fact: Fact, tale: Tale) -> str:
    return ROCKING.partition(".")[0].lower()


LACKING = {
    "rail-shift": ("square", "tape the diagonals of the whole frame"),
    "sag": ("straight", "draw the string along both rails"),
    "twist": ("free of twist", "lay the level across the rails"),
    "looks": ("sound", "look at the places that nobody has seen"),
}
"""What of a frame is not known without each part of the whole picture, and what would tell it."""


def _lacks(fact: Fact, tale: Tale) -> str:
    return f"whether the frame is {LACKING[fact.way][0]}"


def _unseen(fact: Fact, tale: Tale) -> str:
    bare = [u for u in fact.steps if u.bare]
    said = [f"not seen bare yet: {unseen_words(bare)}"] if bare else []
    if rest := [
        u for u in fact.steps if not u.bare
    ]:  # what may be seen painted was not seen at all
        said.append(f"not seen yet: {unseen_words(rest)}")
    return "; ".join(said)


PHRASES: Mapping[str, Callable[[Fact, Tale], str]] = {
    "seen": _seen,
    "corner": _corner,
    "diamond": _diamond,
    "box": _box,
    "square": _square,
    "short": _short,
    "bow": _bow,
    marks.NOSE: _nose,
    "twist": _twist,
    "axle": _axle,
    "thin": _thin,
    "added": _added,
    "horn": _horn,
    "sag": _rails,
    "crown": _rails,
    "waits": _waits,
    "kink": _kink,
    "slip": _slip,
    "apart": _disagree,
    "rocks": _rocks,
    "unseen": _unseen,
    "lacking": _lacks,
}
"""Each kind of fact, in one phrase."""


def phrase(fact: Fact, tale: Tale) -> str:
    """What it is, where and how much: `left rail 3/16 in low at the rear engine mount`."""
    return PHRASES[fact.kind](fact, tale)


def phrases(facts: Sequence[Fact], tale: Tale) -> str:
    """Several in one sentence, both sides of one thing said once."""
    return "; ".join(dict.fromkeys(_paired(facts, tale)))


def _paired(facts: Sequence[Fact], tale: Tale) -> list[str]:
    loose = [phrase(f, tale).removesuffix(" loose") for f in facts if f.deed == "loose"]
    rest = _at_one_place([f for f in facts if f.deed != "loose"], tale)
    return [*rest, *([f"{and_(loose)} loose"] if loose else [])]


def _at_one_place(facts: Sequence[Fact], tale: Tale) -> list[str]:
    """A phrase for each, but one for all that was seen at one place: `kink and tear in the left rail`."""
    said = [(phrase(f, tale), _spot(f)) for f in facts]
    found = []
    for spot, some in groupby(said, lambda pair: pair[1]):
        words = [phrase for phrase, _ in some]
        if not spot:
            found += words
            continue
        things = list(dict.fromkeys(w.removesuffix(f" {spot}") for w in words))
        found.append(f"{and_(things)} {spot}")
    return found


def _spot(fact: Fact) -> str:
    """Where it was seen, which ends its phrase; empty of what was measured, or has more behind it."""
    if fact.kind != "seen" or fact.way == marks.BY_DYE:
        return ""
    return place_of(fact.seen[0], fact.third)


# What to do ---------------------------------------------------------------------------------------

DEEDS = {
    "stop": "have somebody who knows frames look at it first",
    "loose": "have somebody who knows such joints look at it, then measure again",
    "specialist": "take the frame to a specialist",
    "put-right": "have it put right before paint",
    "watch": "keep an eye on it",
    "leave": "leave it as it is",
    "stand": "set the supports again, push from each side, and do the push test again",
}
"""What to do about a fact, by its deed; what is not here needs more than one word."""
VOICES = {
    marks.DEEP: "have somebody who knows frames look at that place",
    "pits": "measure with a caliper how much metal is left",
    "rust": "scrape it and measure with a caliper how much metal is left",
    "welds": "have a licensed welder say whether that is sound",
    "heat": "have a specialist say whether that is sound",
    "wrinkle": "have somebody who knows frames look at it",
    marks.BENT_THERE: "have somebody who knows frames look at it",
    marks.RIPPLE: "have somebody who knows frames look at it",
    marks.BENT_HORN: "tape the horns, which tells how far it is bent",
    "rust-ring": "oil that rivet, tap it and look again",
    "held-by-wood": "read the string with the bolts slack and tight (/also body-mounts)",
    "rot": "have somebody who knows wooden frames say what it still holds",
    "slack": "have somebody who knows such joints tighten and secure it",
    "moves": "have somebody who knows frames look at it bare",
    "binds": "have it made free and looked at again, before the car moves",
}
"""What to do about each of the looks that content speaks for (wizard/library/marks.py)."""


def deed(fact: Fact, tale: Tale) -> str:
    """What to do about it: `have it put right before paint`."""
    by_kind = BY_KIND.get(fact.kind)
    said = by_kind(fact, tale) if by_kind else _by_deed(fact, tale)
    return of_many(said) if _is_many(fact) else said


def of_many(deed: str) -> str:
    """What to do about one thing, said of several."""
    return re.sub(r"\bit\b", "them", deed.replace("as it is", "as they are"))


def one_of(deed: str) -> str:
    """What to do about several things, said of one."""
    return re.sub(r"\bthem\b", "it", deed.replace("as they are", "as it is"))


def _is_many(fact: Fact) -> bool:
    """Whether both rails are spoken of."""
    return fact.kind in ("sag", "crown") and fact.where.side is None


def _by_deed(fact: Fact, tale: Tale) -> str:
    if fact.deed in ("see", "gauge", "moves"):
        return VOICES.get(fact.way, VOICES["wrinkle"])
    if fact.deed == "axle-first":
        return f"look at {holds(tale.layout)} first, then measure again"
    return DEEDS.get(fact.deed) or would_tell(fact, tale)


def _look_at_both(fact: Fact, tale: Tale) -> str:
    """Two horns, of which nobody knows which is bent."""
    if fact.where.side or not any(map(is_out, fact.judged)):
        return _by_deed(fact, tale)
    return BOTH.get(fact.deed, f"look at both; {_by_deed(fact, tale)}")


BOTH = {
    "put-right": "look at both, and have the bent one put right before paint",
    "specialist": "look at both, and take the frame to a specialist",
    "watch": "look at both, and keep an eye on them",
}
"""What to do about two horns of which one is bent."""


def _measure_again(fact: Fact, tale: Tale) -> str:
    note = fact.judged[0].finding.note(Slip)
    return "measure it again first" if note and note.named else "measure them again first"


def _see_kink(fact: Fact, tale: Tale) -> str:
    return "read the string there once more, then clean that place and look"


def _clean(fact: Fact, tale: Tale) -> str:
    bare = {u.bare for u in fact.steps}
    if len(bare) == 2:
        return "clean the ones that must be bare, and look at all of them"
    return "clean them to bare metal and look" if bare == {True} else "get to see them and be sure"


def _measure(fact: Fact, tale: Tale) -> str:
    return LACKING[fact.way][1]


BY_KIND: Mapping[str, Callable[[Fact, Tale], str]] = {
    "horn": _look_at_both,
    "slip": _measure_again,
    "apart": lambda fact, tale: DISAGREE[fact.judged[0].finding.quantity][1],
    "kink": _see_kink,
    "waits": lambda fact, tale: "read the string again with the engine in",
    "unseen": _clean,
    "lacking": _measure,
}


# What would tell ----------------------------------------------------------------------------------

COUNT = ("", "once", "twice", "three times", "four times", "five times", "six times")
BETWEEN = {
    "leave": "may stay as it is",
    "watch": "only wants watching",
    "put-right": "must be put right",
    "axle-first": "calls for a look at the axle first",
    "specialist": "is a matter for a specialist",
}


def would_tell(fact: Fact, tale: Tale) -> str:
    """The one thing that would tell what is open."""
    if fact.kind == "twist" and is_stands_twist(fact.judged[0].finding, tale.survey):
        said = twist_move(tale.survey.state()).rstrip(".")
        return said[:1].lower() + said[1:]
    if again := fact.judged[0].finding.of.says.get("again"):
        said = again.partition(":")[0].partition(". ")[0].rstrip(".")
        return said[:1].lower() + said[1:]
    ids = {j.finding.id for j in fact.judged}
    advice = next((a for a in tale.verdict.advice if a.finding in ids), None)
    return (
        ADVICE[advice.kind](advice)
        if advice
        else "read it again, with a finer tool if you have one"
    )


def told_apart_by(judged: Sequence[Judged], layout: Layout) -> str:
    """The tapes that tell a slipped rail, a corner and an end bent over apart."""
    found = [(j.finding.quantity, j.finding.where) for j in judged]
    lengths = {where for q, where in found if q in (marks.OWN_SIDES, marks.MASH)}
    if not lengths - {layout.horns}:
        return "Tape both rails, left and right, end to end and box by box: a corner shows there."
    if sum(q == marks.RAIL_SHIFT for q, _ in found) < 3:
        return "Tape each box crosswise: an end bent over shows in one box and not in the other."
    return "Tape the boxes crosswise and along both rails twice more."


def _repeat(advice: "Advice") -> str:
    times = COUNT[advice.times] if advice.times < len(COUNT) else f"{advice.times} times"
    helps = "" if advice.settles else ", which helps a little"
    return f"measure “{advice.label}” {times} more, and what it is compared with{helps}"


BY_A_SISTER = "read the string along a sister frame that is known to be sound (/sister compares)"
"""What tells a sag along an edge that the maker did not make straight."""
ADVICE: Mapping[str, "Callable[[Advice], str]"] = {
    "repeat": _repeat,
    "measure": lambda advice: f"tape “{advice.label}” too",
    "tool": lambda advice: f"use a finer tool: most of the doubt is {advice.label}",
    "points": lambda advice: (
        f"tape a second set of holes or rivets too: most of the doubt is {advice.label}"
    ),
    "at-limit": lambda advice: "",
    "shape": lambda advice: "see how the maker shaped that edge (/also calls for the page)",
    "sister": lambda advice: BY_A_SISTER,
}
"""How to go on, by the kind of advice."""


def find_out(fact: Fact, tale: Tale) -> str:
    """The same as a sentence of its own; or that hardly anything would."""
    said = would_tell(fact, tale)
    if said:
        return f"To find out, {said}."
    return "It lies right at the limit, so more readings hardly help."


def between(fact: Fact) -> str:
    """`whether this may stay as it is or must be put right`; empty where it is settled."""
    limited = [j for j in fact.judged if len(j.bands) > 1]
    if not limited:
        return ""
    *rest, last = (BETWEEN[band] for band in limited[0].bands)
    return f"whether this {', '.join(rest)} or {last}"


def sentence_of(facts: Sequence[Fact], tale: Tale) -> str:
    """Facts of which one thing is to be done, and what; what has no name has its own sentence."""
    what = deed(facts[0], tale)
    what = of_many(what) if len(facts) > 1 else what
    said = cap(phrases(facts, tale))
    if said.endswith(WHICH):
        return f"{said}. {cap(what)}."
    return f"{said}: {what}."
