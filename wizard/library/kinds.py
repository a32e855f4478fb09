"""The kinds of prompt: what each asks for, how it reads an answer, what would do as one.

A kind is an object and never a word to compare: whoever wants to know something about a prompt asks
its kind. The word that a file of content uses is its `id`, and `KINDS` alone turns that into a kind.
"""

import re
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from fractions import Fraction
from functools import lru_cache
from typing import Literal, NamedTuple

from wizard.library.places import tool_kind
from wizard.library.shapes import SEEN, UNSURE, Choice, PromptTemplate
from wizard.readings.figures import (
    Bubble,
    Signs,
    read_angle,
    read_bubble,
    read_length,
    read_quantity,
)
from wizard.readings.plain import clean_line, pattern
from wizard.readings.refused import Refused

Unit = Literal["in", "mm"]
ACK_WORD = "understood"
NOTE_LIMIT = 500
NOTHING = ("n", "no", "none", "nothing", "nothing to say")
"""What people type where a few words are asked and there are none."""
NOT_SURE = Choice(
    "u", UNSURE, "not sure", also=("not known", "unsure", "can't tell", "cannot tell")
)
"""Always offered by the program on a look, so never an author's letter there."""
NONE_OF_THEM = Choice("-", "-", "none of these", also=("no", "none", "neither", "nothing"))
"""Where a question may be passed over: beside it stands NOT_SURE, but for a tool, which one knows."""
SIZES = {"tape": ("657", "25 7/8"), "ruler": ("54", "2 1/8"), "caliper": ("2.9", "0.115")}
"""What a length may look like that is read by each tool: mm, in."""
LONGEST_CHOICES = 140
"""Characters of the answers to choose from in one sentence; beyond that only their letters."""


class Kind:
    """What a prompt asks for. Every question has an answer here, that of most kinds."""

    id = ""
    """The word for it in a file of content."""
    measures = False
    """Read with a tool, and perhaps more than once."""
    counts = False
    """Tells of the frame: it is measured or looked at."""
    spans = False
    """A distance from one point to another."""
    offsets = False
    """How far off, with a word for the way."""
    leans = False
    """An angle with a word for the way, off a gauge."""
    tilts = False
    """A bubble: how far it is off, and the high side."""
    looks = False
    """Two letters: how well a place was seen and what was seen there."""
    chooses = False
    """One letter out of several."""
    tells = False
    """A few words."""
    acknowledges = False
    """A caution that was read."""
    gathers = False
    """How well all of a place was seen, and at which of its looks there is something to tell."""
    guesses = False
    """A rough length, with words for the way where it may be either."""
    line = True
    """Whether several of its answers may stand on one line, with semicolons."""
    least_choices = 0
    """How many answers an author must give it to choose from."""
    passes = True
    """Whether `-` passes it over where it may be passed over; else `-` is an answer."""
    unit = "mm"
    """What a computed value of it is in."""
    minutes = 1 / 4
    """Of a letter or a few words. Common practice, no published source."""
    blank = 12
    """Characters of the blank for it on a worksheet."""

    def __repr__(self) -> str:
        return f"<{self.id}>"

    def example(self, asked: PromptTemplate, unit: Unit) -> str:
        """What would do here, as half a sentence."""
        raise NotImplementedError

    def hint(self, asked: PromptTemplate, unit: Unit, *, degrees: bool) -> str:
        """A short example beside the entry line. degrees: whether the level in hand shows them."""
        raise NotImplementedError

    def faults(self, asked: PromptTemplate) -> tuple[tuple[str, str, str], ...]:
        """What an author got wrong: key, fault and remedy."""
        return ()

    def said(self, asked: PromptTemplate, answers: Sequence[str], seen: str = "") -> str:
        """What stands there, in words. answers: as the survey holds them; seen: how well."""
        words = {c.token: c.words for c in asked.choices}
        return ", ".join(words.get(token, token) for token in answers)


# Measured
# ------------------------------------------------------------------------------------------------


class Measured(Kind):
    """Read with a tool, and perhaps more than once."""

    measures = counts = True
    minutes = 1 / 2
    """At a point that is marked: one tape, the level one way round. A pair of tapes is a minute, so
    is a level turned round. Common practice, no published source.
    """

    def check(self, asked: PromptTemplate, typed: str, unit: Unit) -> None:
        """Raises Refused for what is no reading of it."""
        raise NotImplementedError

    def said(self, asked: PromptTemplate, answers: Sequence[str], seen: str = "") -> str:
        """As it was typed."""
        return "   ".join(answers)


class LengthKind(Measured):
    """A distance, in mm."""

    id = "length"
    spans = True

    def example(self, asked: PromptTemplate, unit: Unit) -> str:
        """In the survey's unit, or with its own."""
        like = {"in": "25 7/8 or 657 mm", "mm": "657 or 25 7/8 in"}
        return f"type a length like {like[unit]}"

    def hint(self, asked: PromptTemplate, unit: Unit, *, degrees: bool) -> str:
        """A size as the tool shows it."""
        mm, inches = SIZES.get(asked.tool, SIZES["tape"])
        return {"in": f"like {inches} or {mm} mm", "mm": f"like {mm} or {inches} in"}[unit]

    def check(self, asked: PromptTemplate, typed: str, unit: Unit) -> None:
        """Any length will do."""
        length_of(asked, typed, unit)


class GapKind(Measured):
    """A distance with a way, in mm, plus for the first of its two words."""

    id = "gap"
    offsets = True
    _SMALL: Mapping[Unit, str] = {"in": "1/8", "mm": "3"}

    def example(self, asked: PromptTemplate, unit: Unit) -> str:
        """Both ways, and none."""
        number, (plus, minus) = self._SMALL[unit], asked.signs
        return f"type how much and which way, like {number} {plus} or {number} {minus}, or 0"

    def hint(self, asked: PromptTemplate, unit: Unit, *, degrees: bool) -> str:
        """Both ways, and none."""
        number, (plus, minus) = self._SMALL[unit], asked.signs
        return f"like {number} {plus}, {number} {minus}, or 0"

    def check(self, asked: PromptTemplate, typed: str, unit: Unit) -> None:
        """One that says no way would be taken for one of the two."""
        if not length_of(asked, typed, unit):
            return
        try:
            read_length(typed, unit)
        except Refused:
            return
        plus, minus = asked.signs
        raise Refused(f"Say which way it is: type {typed} {plus} or {typed} {minus}")


class BubbleKind(Measured):
    """A bubble: lines, degrees or shims, and the high side."""

    id = "bubble"
    tilts = True
    unit = "slope"

    def example(self, asked: PromptTemplate, unit: Unit) -> str:
        """In lines of the vial."""
        return (
            "type how many lines the bubble is off and which side is high, like 1/2 left or 2"
            " right, or 0"
        )

    def hint(self, asked: PromptTemplate, unit: Unit, *, degrees: bool) -> str:
        """In what the level in hand counts."""
        if degrees:
            return "degrees and the high side: 0.3° left, or 0"
        return "lines off and the high side: 1/2 left, 2 right, or 0"

    def check(self, asked: PromptTemplate, typed: str, unit: Unit) -> None:
        """Any bubble will do."""
        bubble_of(typed, unit)


class AngleKind(Measured):
    """An angle with a way, in degrees, plus for the first of its two words."""

    id = "angle"
    leans = True
    unit = "deg"

    def example(self, asked: PromptTemplate, unit: Unit) -> str:
        """Both ways, and none."""
        plus, minus = asked.signs
        return f"type how many degrees and which way, like 1.5 {plus} or 1.5 {minus}, or 0"

    def hint(self, asked: PromptTemplate, unit: Unit, *, degrees: bool) -> str:
        """Both ways, and none."""
        plus, minus = asked.signs
        return f"degrees: like 1.5 {plus}, 1.5 {minus}, or 0"

    def check(self, asked: PromptTemplate, typed: str, unit: Unit) -> None:
        """One that says no way would be taken for one of the two."""
        angle_of(asked, typed)


def angle_of(asked: PromptTemplate, typed: str) -> Fraction:
    """The exact angle behind a typed one, in degrees. Raises Refused."""
    return _angle(typed, (asked.signs[0], asked.signs[1]))


def length_of(asked: PromptTemplate, typed: str, unit: Unit) -> Fraction:
    """The exact number behind a typed length or gap, in mm. Raises Refused."""
    return _length(typed, unit, (asked.signs[0], asked.signs[1]) if asked.signs else ())


def length_mm(asked: PromptTemplate, typed: str, unit: Unit) -> float:
    """The same as nearly as a float has it."""
    return _millimeters(typed, unit, (asked.signs[0], asked.signs[1]) if asked.signs else ())


def bubble_of(typed: str, unit: Unit) -> Bubble:
    """The bubble behind a typed one. Raises Refused."""
    return _bubble(typed, unit)


_length = lru_cache(maxsize=8192)(read_length)
"""One survey after another holds the same few thousand figures."""


@lru_cache(maxsize=8192)
def _millimeters(typed: str, unit: Unit, signs: Signs) -> float:
    return float(_length(typed, unit, signs))


_bubble = lru_cache(maxsize=1024)(read_bubble)
_angle = lru_cache(maxsize=1024)(read_angle)


# Looked at, chosen, told, read
# ------------------------------------------------------------------------------------------------


SAID_FOR = {
    **dict.fromkeys(("y", "yep", "yeah", "yup"), "yes"),
    **dict.fromkeys(("n", "nope", "nah"), "no"),
    **dict.fromkeys(("?", "don't know", "do not know", "dunno", "no idea"), "not known"),
    **dict.fromkeys(("i don't know", "i do not know", "unknown"), "not known"),
}
"""What people type for yes, for no and for what they do not know."""
_LEADING = r"^(?:(?:it is|it's|they are|they're|the|its|an?|some) )+"
_HEAD = re.compile(r"[^,:(]*")
_DENIES = frozenset(["no", "not", "nothing", "none", "nobody", "never", "without", "off", "out"])
_EMPTY = _DENIES | frozenset(
    [
        "a",
        "about",
        "again",
        "all",
        "an",
        "and",
        "any",
        "are",
        "as",
        "at",
        "be",
        "both",
        "by",
        "from",
        "half",
        "here",
        "in",
        "is",
        "it",
        "its",
        "just",
        "of",
        "on",
        "once",
        "one",
        "only",
        "or",
        "other",
        "same",
        "so",
        "still",
        "that",
        "the",
        "them",
        "then",
        "there",
        "they",
        "this",
        "to",
        "two",
        "up",
        "was",
        "where",
        "who",
        "with",
        "yes",
    ]
)


def named(choices: Sequence[Choice], said: str, *, loosely: bool) -> tuple[Choice, ...]:
    """The choices that what was typed may mean: one where it is clear, none where it is strange.

    A letter, a token, all its words or others for it name one; so does the beginning of its words
    up to the first comma or colon. loosely: some of those words do it too where they stand in no
    other answer, but never for an answer on which the verdict hangs.
    """
    said = said.lower().strip()
    if found := tuple(c for c in choices if _is_named(c, said)):
        return found
    said = said.strip(".!\"'")
    said = SAID_FOR.get(said, said)
    ways = (_is_named, _begins_so, *((_is_in_it,) if loosely else ()))
    for means in ways:
        if found := tuple(c for c in choices if means(c, said)):
            return found
    return ()


def _plain(words: str) -> str:
    """Words without what people leave out."""
    return pattern(_LEADING).sub("", " ".join(words.lower().replace("-", " ").split()))


def _head(choice: Choice) -> str:
    match = _HEAD.match(choice.words.lower())
    return _plain(match.group() if match else "")


def _is_named(choice: Choice, said: str) -> bool:
    return said in (choice.letter, choice.token, choice.words.lower(), *choice.also)


def _begins_so(choice: Choice, said: str) -> bool:
    alike = {_plain(w) for w in (choice.token, choice.words, *choice.also)}
    begun = re.sub(r"[,:;]", "", _plain(choice.words)).split()
    words = re.sub(r"[,:;]", "", _plain(said)).split()
    whole = len(words) >= WHOLE and begun[: len(words)] == words
    return whole or _plain(said) in alike | {_head(choice)}


WHOLE = 3
"""So many of an answer's first words, typed as they stand, are meant as that answer."""


def _is_in_it(choice: Choice, said: str) -> bool:
    """Some of its first words, in their order, and none left out that says the opposite."""
    words, head = _plain(said).split(), _head(choice).split()
    weighs = choice.stop or choice.loose or choice.speaks or choice.marks or choice.stands
    if weighs or not set(words) - _EMPTY or _DENIES & set(head) - set(words):
        return False
    return any(head[at : at + len(words)] == words for at in range(len(head)))


def pick(choices: Sequence[Choice], said: str, *, loosely: bool = False) -> Choice | None:
    """The one choice that was meant; None for none. Raises Refused where it may be several."""
    found = named(choices, said, loosely=loosely)
    if len(found) > 1:
        either = _either(f"{c.letter} “{c.words}”" for c in found[:3])
        raise Refused(f"That can mean more than one answer: type {either}")
    return found[0] if found else None


class LookKind(Kind):
    """How well a place was seen and what was seen there."""

    id = "look"
    counts = looks = True
    least_choices = 2
    minutes = 1.0
    """One place wiped and looked at. Common practice, no published source."""
    blank = 8

    def example(self, asked: PromptTemplate, unit: Unit) -> str:
        """One thing seen bare."""
        return f"type how well you saw it and what you saw, like b {asked.choices[0].letter}"

    def hint(self, asked: PromptTemplate, unit: Unit, *, degrees: bool) -> str:
        """One thing, two, none reached."""
        first, *more = (c.letter for c in asked.choices)
        two = f"b {' '.join(more[:2])} for two" if len(more) > 1 else f"b {more[0]}"
        return f"like b {first}, or {two}; n alone: not reached"

    def read(self, asked: PromptTemplate, line: str) -> tuple[str, tuple[Choice, ...]]:
        """How well it was seen, and what was seen: letters or words in any order, together or
        apart; `n` stands alone. Raises Refused.
        """
        seen, picked = self._sorted_out(asked, line)
        if not seen:
            raise Refused(
                "Say how well you saw it too: b bare, p painted, d dirty; type it like b"
                f" {picked[0].letter}"
            )
        if seen == SEEN["n"]:
            self._not_reached(picked)
        elif not picked:
            letter = next(key for key, value in SEEN.items() if value == seen)
            raise Refused(f"Say what you saw too: type it like {letter} {asked.choices[0].letter}")
        elif len(picked) > 1:
            self._each_beside_another(picked)
        return seen, picked

    def _sorted_out(self, asked: PromptTemplate, line: str) -> tuple[str, tuple[Choice, ...]]:
        """Every word is the one or the other, and nothing is said twice."""
        seen: list[str] = []
        picked: list[Choice] = []
        for said in self._parts(asked, line.lower()):
            if isinstance(said, Choice):
                picked.append(said)
            else:
                seen.append(said)
        if len(seen) > 1 or len({c.token for c in picked}) != len(picked):
            raise Refused(f"You said one thing twice: {self._or_not_reached(asked)}")
        return "".join(seen), tuple(picked)

    def _or_not_reached(self, asked: PromptTemplate) -> str:
        return f"{self.example(asked, 'in')}, or n when you cannot reach it"

    def _parts(self, asked: PromptTemplate, line: str) -> Iterator[Choice | str]:
        """What was said, thing by thing: how well it was seen as a word, what was seen as an answer.

        The longest run of words that means something goes together; letters written together come
        apart, unless they are a word.
        """
        offered = (*asked.choices, NOT_SURE)
        words = _apart(line)
        if not set(words) - {AND}:
            raise self._strange(asked, line)
        while words:
            most = next((n for n in range(len(words), 0, -1) if _part(offered, words[:n])), 0)
            if most:
                yield from _part(offered, words[:most])
                words = words[most:]
            elif words[0] == AND:
                words = words[1:]
            elif together := self._letters(offered, words[0]):
                words = [*together, *words[1:]]
            else:
                raise self._strange(asked, words[0])

    def _strange(self, asked: PromptTemplate, word: str) -> Refused:
        return Refused(
            f"“{clean_line(word, 20)}” is not an answer here: {self._or_not_reached(asked)}"
        )

    def _letters(self, offered: Sequence[Choice], word: str) -> str:
        """Letters written together; empty where it is none of that, as a word that says twice how
        well it was seen, such as `bent`.
        """
        letters = {*SEEN, *(c.letter for c in offered)}
        seen = sum(map(word.count, SEEN))
        return word if len(word) > 1 >= seen and letters.issuperset(word) else ""

    def _not_reached(self, picked: Sequence[Choice]) -> None:
        if picked:
            raise Refused(
                "You cannot see something at a place that you did not reach: type n alone, or how"
                " well you saw it"
            )

    def _each_beside_another(self, picked: Sequence[Choice]) -> None:
        if any(c.nothing or c is NOT_SURE for c in picked):
            raise Refused(
                "“Nothing found” or “not sure” goes with no other answer: type the one or the other"
            )

    def said(self, asked: PromptTemplate, answers: Sequence[str], seen: str = "") -> str:
        """What was seen, and how well."""
        words = {c.token: c.words for c in (*asked.choices, NOT_SURE)}
        what = ", ".join(words.get(token, token) for token in answers)
        return f"{what} ({seen})" if what else seen

    def faults(self, asked: PromptTemplate) -> tuple[tuple[str, str, str], ...]:
        """A letter that already says something else."""
        taken = [c.letter for c in asked.choices if c.letter in (*SEEN, NOT_SURE.letter)]
        says = "already says how well a place was seen"
        return tuple(("choice", f"letter '{letter}' {says}", "use another") for letter in taken)


SEEN_SAID = {
    **dict.fromkeys(("bare metal", "clean metal", "metal"), "b"),
    **dict.fromkeys(("paint", "under paint"), "p"),
    **dict.fromkeys(("dirt", "under dirt", "mud", "greasy"), "d"),
    **dict.fromkeys(("not reached", "can't reach", "cannot reach", "couldn't reach"), "n"),
    **dict.fromkeys(("can't see", "cannot see", "couldn't see", "out of reach"), "n"),
    **dict.fromkeys(("can't reach it", "can't see it", "not seen", "unreachable"), "n"),
}
"""What people type for how well a place was seen, beside its letter and its word."""
NOTHING_SAID = ("nothing", "none", "ok", "okay", "fine", "all fine", "all good", "good", "sound")
"""What people type for a place where nothing was found."""
NOT_REACHED = "n"
"""The letter for a place that was not reached."""
AND = "and"
"""Between two things seen it says nothing; within the words of one it belongs to them."""
_MARKS = re.compile(r"[,:&+/()]")


def _apart(line: str) -> list[str]:
    """The words of a line without the marks between them."""
    return _MARKS.sub(" ", line).split()


def not_reached(said: str) -> bool:
    """Whether the words say that somebody did not get there."""
    said = said.lower().strip(" .!")
    return said in (NOT_REACHED, SEEN[NOT_REACHED]) or SEEN_SAID.get(said) == NOT_REACHED


@lru_cache(maxsize=256)
def _part_of(offered: tuple[Choice, ...], said: str) -> tuple[Choice | str, ...]:
    """How well a place was seen, or what was seen there; nothing where it is neither."""
    if said in SEEN or said in SEEN.values():
        return (SEEN.get(said, said),)
    if said in SEEN_SAID:
        return (SEEN[SEEN_SAID[said]],)
    if said in NOTHING_SAID:
        return tuple(c for c in offered if c.nothing)
    if own := tuple(c for c in offered if _apart(c.words.lower()) == said.split()):
        return own[:1]
    found = pick(offered, said)
    return (found,) if found else ()


def _part(offered: tuple[Choice, ...], words: Sequence[str]) -> tuple[Choice | str, ...]:
    return _part_of(offered, " ".join(words))


def _either(words: Iterable[str]) -> str:
    """The words with an `or` before the last."""
    *most, last = words
    return f"{', '.join(most)} or {last}" if most else last


class ChoiceKind(Kind):
    """One letter out of several; where it may be passed over, also none of them, or not sure."""

    id = "choice"
    chooses = True
    passes = False
    least_choices = 1
    blank = 5

    def example(self, asked: PromptTemplate, unit: Unit) -> str:
        """All that there is to choose from, with its words where there is room for them."""
        whole = f"type {_either(f'{c.letter} “{c.words}”' for c in asked.choices)}"
        letters = f"type one letter: {_either(c.letter for c in asked.choices)}"
        return whole if len(whole) <= LONGEST_CHOICES else letters

    def hint(self, asked: PromptTemplate, unit: Unit, *, degrees: bool) -> str:
        """The answers stand beside it."""
        return "; ".join(["one letter", *(f"{c.letter} {c.words}" for c in beside(asked))])

    def read(self, asked: PromptTemplate, line: str) -> Choice | None:
        """The choice made; None for none of them. Raises Refused where it may be several."""
        return pick(asked.choices, line, loosely=True) or pick(beside(asked), line)

    def said(self, asked: PromptTemplate, answers: Sequence[str], seen: str = "") -> str:
        """In words, also what is none of the answers on offer."""
        words = {c.token: c.words for c in (*asked.choices, *beside(asked))}
        return ", ".join(words.get(token, token) for token in answers)


def beside(asked: PromptTemplate) -> tuple[Choice, ...]:
    """What may be answered beside the choices on offer: none of these, and not sure, which is
    another answer.
    """
    if not asked.optional:
        return ()
    return (NONE_OF_THEM,) if tool_kind(asked.keep) else (NOT_SURE, NONE_OF_THEM)


class NoteKind(Kind):
    """A few words."""

    id = "note"
    tells = True
    line = False
    passes = False
    blank = 60

    def example(self, asked: PromptTemplate, unit: Unit) -> str:
        """Words, or none."""
        return "type a few words" + (", or - for nothing to say" if asked.optional else "")

    def hint(self, asked: PromptTemplate, unit: Unit, *, degrees: bool) -> str:
        """Words, or none; where they are a figure, one such."""
        if asked.keep in LIKE:
            return f"{LIKE[asked.keep]}, or - for none"
        return "a few words" + (", or - for nothing" if asked.optional else "")

    def read(self, asked: PromptTemplate, line: str) -> str:
        """The words as they are kept; `-` for nothing to say. Raises Refused."""
        if len(line) > NOTE_LIMIT:
            raise Refused(
                f"That is {len(line)} characters, and only {NOTE_LIMIT} fit: say it shorter"
            )
        said = self._perhaps_nothing(line) if asked.optional else line
        if asked.keep in NOTED:
            NOTED[asked.keep](said)
        return said

    def _perhaps_nothing(self, line: str) -> str:
        if line.lower().rstrip(".") in NOTHING:
            return "-"
        if len(line) == 1 and line.isalpha():
            raise Refused("One letter says too little: type a few words, or - for nothing to say")
        return line


def _car(line: str) -> None:
    if not any(c.isalnum() for c in line):
        raise Refused("The car needs a name with a letter or a number in it: type one like Bramble")


def _distance(line: str) -> None:
    if line != "-":
        read_quantity(line, "distance")


TOE_WAYS = ("toe-in", "toe-out")
"""The words for plus and minus of a toe out of a book; a bare figure there is toe-in."""


def book_angle(line: str) -> Fraction:
    """An angle as a car's book gives it, in degrees: a bare one is plus. Raises Refused.

    >>> book_angle("7 1/2"), book_angle("-0.5°"), book_angle("1 negative")
    (Fraction(15, 2), Fraction(-1, 2), Fraction(-1, 1))
    """
    bare = line.strip().lower().replace("\u2212", "-")
    if bare[:1] in "+-" and bare:
        size = read_angle(bare[1:], ())
        return -size if bare[0] == "-" else size
    return read_angle(bare, ("positive", "negative")) if "tive" in bare else read_angle(bare, ())


def book_length(line: str, unit: Unit = "mm") -> Fraction:
    """A toe as a car's book gives it, in mm; a bare one is toe-in. Raises Refused."""
    return read_length(line, unit, TOE_WAYS)


def _of_book(read: Callable[[str], object]) -> Callable[[str], None]:
    """Takes what `read` takes, and `-` for none."""

    def check(line: str) -> None:
        if line != "-":
            read(line)

    return check


NOTED: Mapping[str, Callable[[str], None]] = {
    "survey.car": _car,
    "trip.distance": _distance,
    "book.caster": _of_book(book_angle),
    "book.camber": _of_book(book_angle),
    "book.toe": _of_book(lambda line: book_length(line, "in")),
}
"""What the words must be where they are kept as more than words; each raises Refused."""
LIKE: Mapping[str, str] = {
    "book.caster": "like 5 or 7 1/2",
    "book.camber": "like 1 or -1/2",
    "book.toe": "like 1/8 in or 3 mm",
}
"""An example of each figure out of a book."""


class RoughKind(NoteKind):
    """A length within a hand's width, of a frame whose points are set up: no reading."""

    id = "rough-length"
    guesses = line = True
    tells = False
    blank = 12
    _LIKE: Mapping[Unit, str] = {"in": "31", "mm": "800"}

    def example(self, asked: PromptTemplate, unit: Unit) -> str:
        """In the survey's unit, with the way where there are two."""
        return f"type a rough length, {self.hint(asked, unit, degrees=False)}"

    def hint(self, asked: PromptTemplate, unit: Unit, *, degrees: bool) -> str:
        """One for each way, or in either unit."""
        number = self._LIKE[unit]
        if asked.signs:
            said = f"like {number} {asked.signs[0]}, {number} {asked.signs[1]}, or 0"
        else:
            said = {"in": f"like {number} or 800 mm", "mm": f"like {number} or 31 in"}[unit]
        return said + (", or - for none" if asked.optional else "")


class NamedKind(NoteKind):
    """What a pair of points is, and which of four kinds its points are."""

    id = "named"
    line = True
    blank = 30

    def example(self, asked: PromptTemplate, unit: Unit) -> str:
        """A name with its kind."""
        return "type a name and what its points are, like cowl bracket, hole"

    def hint(self, asked: PromptTemplate, unit: Unit, *, degrees: bool) -> str:
        """All four kinds."""
        return "name and rivet, hole, bolt or edge: cowl bracket, hole"


class AckKind(Kind):
    """A caution, read."""

    id = "ack"
    acknowledges = True
    line = False
    blank = 5

    def example(self, asked: PromptTemplate, unit: Unit) -> str:
        """The one word."""
        return f"read it, then type {ACK_WORD}"

    def hint(self, asked: PromptTemplate, unit: Unit, *, degrees: bool) -> str:
        """The one word."""
        return f"read it, then type {ACK_WORD}"

    def read(self, asked: PromptTemplate, line: str) -> None:
        """Nothing but the word will do. Raises Refused."""
        if line.lower().rstrip(".!") != ACK_WORD:
            raise Refused(f"Read the caution first; when it is clear to you, type {ACK_WORD}")


class Seen(NamedTuple):
    """One entry for all the looks of a place."""

    how: str
    """How well each was seen of which nothing else is said; empty where that is said of each."""
    but: Mapping[str, str]
    """Letters of those that were seen otherwise, and how well."""
    tell: tuple[str, ...]
    """Letters of those at which there is something to tell."""


NO_CHOICES: Mapping[str, Sequence[Choice]] = {}


class PlaceKind(Kind):
    """How well all of a place was seen, then the letters of what there is something to tell about.

    `b` alone, or `b o`: all of it bare and nothing found. `b s j`: bare and nothing found, but
    something to tell about s and j. `b o; s d`: the same, but s only under dirt.
    """

    id = "place"
    gathers = True
    line = passes = False
    blank = 20

    def example(self, asked: PromptTemplate, unit: Unit) -> str:
        """All bare and nothing found."""
        return "type how well you saw it all, then letters of the list, like b, or b s for one"

    def hint(self, asked: PromptTemplate, unit: Unit, *, degrees: bool) -> str:
        """Nothing found, and something."""
        return "b alone: nothing found"

    def seen(
        self,
        letters: Mapping[str, str],
        line: str,
        choices: Mapping[str, Sequence[Choice]] = NO_CHOICES,
        side: str = "",
    ) -> Seen:
        """What a line says, in letters or in words whose meaning is one. Raises Refused.

        letters: those of the list, each with its name; choices: what may be found at each, by the
        same letters; side: of the place, empty for none.
        """
        parts = _List(letters, choices, side).parts(line)
        (how, tell), *others = [self._said(letters, part) for part in parts]
        if not how:
            raise Refused(f"Say first how well you saw it: {HOW_SEEN}, like b")
        if how == "n" and tell:
            raise Refused(
                "Not reached and something to tell cannot both be; type n alone, or say how well"
                " you saw the rest"
            )
        if not all(other and named for other, named in others):
            raise Refused("Behind a ; goes a letter of the list and how well you saw it: s d")
        _once([*tell, *(x for _, named in others for x in named)])
        but = {x: SEEN[other] for other, named in others for x in named}
        return Seen(SEEN[how], but, tell)

    def _said(self, letters: Mapping[str, str], part: str) -> tuple[str, tuple[str, ...]]:
        """How well, and the letters of the list, of one part of the line. Raises Refused."""
        said = self._letters({*SEEN, NOTHING_LETTER, *letters}, part)
        strange = next((x for x in said if x not in {*SEEN, NOTHING_LETTER, *letters}), "")
        if strange:
            raise Refused(_strange(strange, letters))
        how = [x for x in said if x in SEEN]
        if len(how) > 1:
            raise Refused(f"How well you saw it is one letter: {HOW_SEEN}")
        return "".join(how), tuple(x for x in said if x in letters)

    def _letters(self, known: Collection[str], part: str) -> list[str]:
        """The letters of a part, apart or written together; what is none stays a word. The longest
        run of words that means something goes together, as at a look.
        """
        words, letters = _apart(part), list[str]()
        while words:
            most = next((n for n in range(len(words), 0, -1) if _place_letter(words[:n])), 0)
            if most:
                letters.append(_place_letter(words[:most]))
            elif words[0] != AND:
                letters += words[0] if set(known).issuperset(words[0]) else [words[0]]
            words = words[max(most, 1) :]
        return letters

    def said(self, asked: PromptTemplate, answers: Sequence[str], seen: str = "") -> str:
        """Its looks stand for themselves."""
        return ""


class _List(NamedTuple):
    """The list of a place."""

    letters: Mapping[str, str]
    choices: Mapping[str, Sequence[Choice]]
    side: str

    def parts(self, line: str) -> list[str]:
        """What a line says, part by part, in letters."""
        return [self._lettered(part) for part in line.lower().split(";")]

    def _lettered(self, line: str) -> str:
        """The line with letters in the place of words that mean one thing of the list: `bare, left
        horn bent` is `bare h`. What was found there is asked then, as behind the letter.
        """
        words = [w for w in _apart(line) if w not in (*_LEFT_OUT, self.side)]
        said: list[str] = []
        rest: list[str] = []
        last = ""
        while words:
            count, here = self._longest(words)
            if count:
                rest = [] if self._may_be(rest, last) or self._may_be(rest, here) else rest
                said, last = [*said, *rest, *([here] if here else words[:count])], here
                rest = []
            else:
                rest.append(words[0])
            words = words[max(count, 1) :]
        return " ".join([*said, *([] if self._may_be(rest, last) else rest)])

    def _longest(self, words: Sequence[str]) -> tuple[int, str]:
        """How many of the first words mean one thing, and its letter; no letter where they say how
        well it was seen, or are letters already.
        """
        single = {*SEEN, NOTHING_LETTER, *self.letters}
        for count in range(len(words), 0, -1):
            if _place_letter(words[:count]) or (count == 1 and words[0] in single):
                return count, ""
            if len(meant := _meant(words[:count], self.letters)) == 1:
                return count, meant[0]
        return 0, ""

    def _may_be(self, words: Sequence[str], letter: str) -> bool:
        """Whether all of the words are of what may be found there."""
        offered = (c for c in self.choices.get(letter, ()) if not c.nothing)
        known = {w for c in offered for said in (c.words, *c.also) for w in _apart(said.lower())}
        return known.issuperset(w for w in words if w != AND)


_LEFT_OUT = ("the", "an", "its", "is", "are")
"""Words that say nothing of a place."""


def _meant(words: Sequence[str], letters: Mapping[str, str]) -> list[str]:
    """Letters whose names hold all of these words."""
    if min(len(words[0]), len(words[-1])) < 3 or AND in (words[0], words[-1]):
        return []
    return [x for x, name in letters.items() if {*words} <= {*_apart(name.lower())}]


NOTHING_LETTER = "o"
"""Says that nothing was found: at every look, and in the one entry for a place."""
_AT_PLACE = {
    **{said: letter for letter, said in SEEN.items()},
    **SEEN_SAID,
    **dict.fromkeys((*NOTHING_SAID, "nothing found", "found nothing"), NOTHING_LETTER),
}
"""Words for how well it was seen, or for nothing found, by their letter."""


def _place_letter(words: Sequence[str]) -> str:
    """The letter that the words stand for; empty for none."""
    return _AT_PLACE.get(" ".join(words).rstrip(".!"), "")


HOW_SEEN = "b bare, p painted, d dirty, n not reached"


def _once(named: Sequence[str]) -> None:
    """Raises Refused where a letter stands there twice."""
    if len(set(named)) != len(named):
        raise Refused("A letter of the list stands there twice; say each of them once")


def _strange(word: str, letters: Mapping[str, str]) -> str:
    if word == NOT_SURE.letter:
        return "Not sure about one of them? Type its letter; it is asked by itself, and u says so"
    meant = _meant([word], letters)
    if len(meant) > 1:
        either = _either(f"{x} “{letters[x]}”" for x in meant[:3])
        return f"“{word[:20]}” can mean more than one of the list: type {either}"
    said = ", ".join(letters)
    return f"'{word[:12]}' is no letter of the list here; there are {said}, and {HOW_SEEN}"


LENGTH, GAP, BUBBLE, ANGLE = LengthKind(), GapKind(), BubbleKind(), AngleKind()
LOOK, CHOICE, NOTE, ACK = LookKind(), ChoiceKind(), NoteKind(), AckKind()
ROUGH, NAMED = RoughKind(), NamedKind()
PLACE = PlaceKind()
AUTHORED: Mapping[str, Kind] = {
    k.id: k for k in (LENGTH, GAP, BUBBLE, ANGLE, CHOICE, LOOK, NOTE, ROUGH, NAMED)
}
"""The kinds that content may ask for, by their word; a caution is asked by the program alone, and a place by what it gathers."""
