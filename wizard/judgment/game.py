"""Guess what I bent: a frame bent in secret, readings asked for one by one, and what they leave
possible.

A reading says one of three things beside the straight frame's own: less, the same, more; "the same"
is whatever an ordinary tool would not show. A hint is the reading whose answer is expected to take
most from the entropy of the faults still possible (Shannon's measure, in bits; every fault alike
likely at first).
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cached_property

from wizard.judgment.blind import Bench
from wizard.library import marks
from wizard.library.places import PromptId, StepId, ends_in
from wizard.model.bent import Bent, Supports
from wizard.model.readings import reading
from wizard.survey.prompts import Prompt

NOTICED = {"tape": 1.5, "ruler": 0.75, "bar": 0.75, "level": 0.0015, "gauge": 0.3}
"""From which change a reading is seen to be another: mm, for a gauge degrees, and for a level a
slope
(a quarter of a division).
"""
SIZES = (0.75, 1.0, 1.5)
"""Times the content's own size at which a fault may be met."""
THREE: Supports = "three-points"


@dataclass(frozen=True, slots=True)
class Ask:
    """A reading that can be asked for."""

    id: str
    """What is typed: the prompt's id, with ` bare on three points` behind it where the frame is set
    so first.
    """
    prompt: PromptId
    three: bool
    """Whether the bare frame is set on three points first."""
    noticed: float
    """Change that is seen, in the reading's unit."""


@dataclass(frozen=True, slots=True)
class Met:
    """One way a fault may be met."""

    fault: str
    bent: Bent


@dataclass(frozen=True, eq=False)
class Board:
    """Every fault and every reading of the game, with what each reading would say of each."""

    bench: Bench

    @cached_property
    def asks(self) -> tuple[Ask, ...]:
        """The readings on offer, in the order of the survey."""
        found = []
        for p in self.bench.prompts.values():
            if not self._is_on_offer(p):
                continue
            found.append(Ask(str(p.id), p.id, False, NOTICED[p.tool]))
            if p.reads == marks.SLOPES:
                found.append(Ask(f"{p.id} bare on three points", p.id, True, NOTICED[p.tool]))
        return tuple(found)

    @cached_property
    def _passed_over(self) -> tuple[StepId, ...]:
        """Steps with nothing to tell the faults apart, or the same as another's."""
        return self.bench.library.in_turn(marks.TELLS_NO_FAULT)

    def _is_on_offer(self, p: Prompt) -> bool:
        """Whether a prompt's reading can tell one fault from another, once and on this frame."""
        if not p.kind.measures or p.step in self._passed_over or p.tool not in NOTICED:
            return False
        if p.reads == marks.SLOPES and p.name != "as-set":
            return False
        if p.reads == marks.CARRIED_BAR and not p.start:
            return False
        return "again" not in p.name and reading(self.bench.frame(Bent()), p) is not None

    @cached_property
    def cases(self) -> tuple[Met, ...]:
        """Every fault that fits this frame, both ways round where it has two, in three sizes."""
        found = []
        for fault in (f for f in self.bench.faults.values() if not f.not_guessed):
            for lines in (fault.bend, fault.mirror):
                bent = self.bench.bend(lines) if lines else Bent()
                found += [Met(fault.id, bent.scaled(size)) for size in SIZES if lines]
        return tuple(found)

    @cached_property
    def _straight(self) -> Mapping[str, float]:
        return {a.id: self._read(Bent(), a) for a in self.asks}

    def _read(self, bent: Bent, ask: Ask) -> float:
        bare = replace(bent, supports=THREE, engine="weight-off")
        frame = self.bench.frame(bare if ask.three else bent)
        value = reading(frame, self.bench.prompts[ask.prompt])
        assert value is not None
        return value

    def read(self, bent: Bent, ask: Ask) -> tuple[float, float]:
        """The reading on a bent frame, and the straight frame's."""
        return self._read(bent, ask), self._straight[ask.id]

    def says(self, bent: Bent, ask: Ask) -> int:
        """-1, 0 or 1: less than on the straight frame, the same as far as the tool shows, more."""
        now, then = self.read(bent, ask)
        return 0 if abs(now - then) < ask.noticed else 1 if now > then else -1

    @cached_property
    def table(self) -> Mapping[str, tuple[int, ...]]:
        """What each reading says of each case."""
        return {a.id: tuple(self.says(c.bent, a) for c in self.cases) for a in self.asks}

    @cached_property
    def weights(self) -> tuple[float, ...]:
        """Chance of each case at the start: every fault alike likely."""
        faults = [c.fault for c in self.cases]
        return tuple(1.0 / len(set(faults)) / faults.count(f) for f in faults)

    def after(self, left: frozenset[int], ask: str, answer: int) -> frozenset[int]:
        """The cases, by number, that one answer leaves of some."""
        row = self.table[ask]
        return frozenset(n for n in left if row[n] == answer)

    def faults(self, left: Iterable[int]) -> tuple[str, ...]:
        """The faults among some cases, in the content's order."""
        return tuple(dict.fromkeys(self.cases[n].fault for n in sorted(left)))

    def entropy(self, left: Iterable[int]) -> float:
        """Bits that are open about the fault."""
        sums: dict[str, float] = {}
        for n in left:
            sums[self.cases[n].fault] = sums.get(self.cases[n].fault, 0.0) + self.weights[n]
        whole = sum(sums.values())
        return -sum(s / whole * math.log2(s / whole) for s in sums.values()) if whole else 0.0

    def fall(self, left: frozenset[int], ask: str) -> float:
        """Bits by which a reading is expected to lower what is open."""
        parts: dict[int, list[int]] = {}
        for n in left:
            parts.setdefault(self.table[ask][n], []).append(n)
        whole = sum(self.weights[n] for n in left)
        rest = sum(
            sum(self.weights[n] for n in p) / whole * self.entropy(p) for p in parts.values()
        )
        return self.entropy(left) - rest

    def hint(self, left: frozenset[int], asked: Iterable[str] = ()) -> str:
        """The reading with the largest expected fall in entropy, the earliest in the survey among
        equals.

        Empty where none that was not asked yet can tell the rest apart.
        """
        gone = set(asked)
        falls = [
            (self.fall(left, a.id), -n, a.id) for n, a in enumerate(self.asks) if a.id not in gone
        ]
        best = max(((round(f, 9), n, id) for f, n, id in falls), default=(0.0, 0, ""))
        return best[2] if best[0] > 0 else ""

    def fewest(self, secret: Bent) -> int:
        """How many readings the hints would have taken until one fault is left, or no reading
        helps.
        """
        left: frozenset[int] = frozenset(range(len(self.cases)))
        asked: list[str] = []
        while len(self.faults(left)) > 1:
            ask = self.hint(left, asked)
            if not ask:
                break
            asked.append(ask)
            left = self.after(left, ask, self.says(secret, self.ask(ask)))
        return len(asked)

    def ask(self, id: str) -> Ask:
        """The reading of that id; StopIteration when there is none."""
        return next(a for a in self.asks if a.id == id)

    def number(self, ask: Ask) -> int:
        """Its number in the list, from 1, by which it can be asked for too."""
        return self.asks.index(ask) + 1

    def words(self, ask: Ask) -> str:
        """What the page asks for, small; with how the frame stands where that is not as ever."""
        bare = " bare on three points" if ask.three else ""
        return self.bench.prompts[ask.prompt].ask.lower() + bare

    def page(self, ask: Ask) -> str:
        """The title of its page."""
        return self.bench.library.steps[self.bench.prompts[ask.prompt].step].title

    def like(self, typed: str) -> tuple[Ask, ...]:
        """The readings that some words may mean: by number, by id, by the words of the page, else by
        any words that stand in them.
        """
        line = " ".join(typed.lower().split())
        if line.isdecimal():
            return self.asks[int(line) - 1 : int(line)] if int(line) else ()
        return self._named(line) or self._worded(line)

    def _named(self, line: str) -> tuple[Ask, ...]:
        """The one of that id or of just those words, else the one whose id ends so."""
        exact = [a for a in self.asks if line in (a.id, self.words(a))]
        tails = [a for a in self.asks if line and ends_in(a.id, line)]
        return tuple(exact[:1] or (tails if len(tails) == 1 else ()))

    def _worded(self, line: str) -> tuple[Ask, ...]:
        """Those in whose words the line stands, or whose words stand in the line, else those that
        have each of its words.
        """
        run = [a for a in self.asks if line and line in self.words(a)]
        fits = [a for a in self.asks if are_in(line, f"{self.words(a)} {self.page(a)} {a.id}")]
        inside = [a for a in fits if self.words(a) in line]
        return tuple(run or inside or fits)

    def find(self, words: str) -> Ask | None:
        """The one reading that some words mean."""
        found = self.like(words)
        return found[0] if len(found) == 1 else None


SMALL = frozenset(["a", "an", "at", "in", "is", "it", "of", "on", "the"])
"""Words that say nothing of what is meant."""
STEM = 3, 4
"""Letters by which two words are taken for one, at the least and at the most: sag and sagged, twist
and twisted.
"""


def are_in(typed: str, text: str) -> bool:
    """Whether every word that was typed stands in a text, in any order and with any ending.

    >>> are_in("the left horns", "left horn bent")
    True
    >>> are_in("left horn", "right horn bent")
    False
    """
    return share_in(typed, text) == 1.0


def share_in(typed: str, text: str) -> float:
    """Which share of the words that were typed stands in a text; 0 where none says anything.

    >>> share_in("the frame is twisted", "twist: the ends not parallel")
    0.5
    """
    there = _words(text)
    words = [word for word in _words(typed) if word not in SMALL]
    found = sum(any(_alike(word, other) for other in there) for word in words)
    return found / len(words) if words else 0.0


def _words(text: str) -> list[str]:
    return "".join(c if c.isalnum() else " " for c in text.lower()).split()


def _alike(one: str, other: str) -> bool:
    least, most = STEM
    stem = min(len(one), len(other), most)
    return one == other or (stem >= least and one[:stem] == other[:stem])


@dataclass(frozen=True)
class Game:
    """One game: the secret, what was asked, what is left.

    Immutable; every move gives the next one.
    """

    board: Board
    fault: str
    """Id of the secret fault."""
    secret: Bent
    asked: tuple[str, ...] = ()
    named: str = ""
    """Id of the fault that was named last."""

    @property
    def left(self) -> frozenset[int]:
        """Cases that agree with everything read."""
        left = frozenset(range(len(self.board.cases)))
        for id in self.asked:
            left = self.board.after(left, id, self.answer(id))
        return left

    def answer(self, id: str) -> int:
        """What a reading said: -1, 0 or 1."""
        return self.board.says(self.secret, self.board.ask(id))

    @property
    def possible(self) -> tuple[str, ...]:
        """Faults that still fit."""
        return self.board.faults(self.left)

    def ask(self, id: str) -> Game:
        """The game with one reading more."""
        return self if id in self.asked else replace(self, asked=(*self.asked, id))

    def hint(self) -> str:
        """The reading that best splits what is left; empty where none does."""
        return self.board.hint(self.left, self.asked)

    def name(self, fault: str) -> Game:
        """The game with a fault named."""
        return replace(self, named=fault)

    @property
    def won(self) -> bool:
        """Whether the right fault was named."""
        return self.named == self.fault

    def against(self, fault: str) -> str:
        """The first reading asked that a fault cannot have given; empty where it still fits."""
        left = frozenset(n for n, c in enumerate(self.board.cases) if c.fault == fault)
        for id in self.asked:
            left = self.board.after(left, id, self.answer(id))
            if not left:
                return id
        return ""
