"""The model in hand, and the words of its page: takes one typed line at a time, for the full screen
and for the plain prompts alike. A slash before a word does no harm.

Nothing of it is saved: a model is no survey.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Mapping
from dataclasses import replace
from functools import cached_property

from wizard.judgment.blind import Bench, model_layout
from wizard.judgment.game import SIZES, Board, Game, are_in, share_in
from wizard.library.places import NO_STEP, StepId
from wizard.library.shapes import Layout, Library
from wizard.library.shapes_model import ModelFault
from wizard.model.bending import MOST, MOST_DEG, MOST_WARM, SAID, everyday, mount_x
from wizard.model.bent import Bent
from wizard.model.frame import Frame
from wizard.model.sliders import SLIDERS, Slider, bend_of, slider_of
from wizard.readings.plain import clean_line
from wizard.readings.refused import Refused
from wizard.readings.written import write_fraction_about
from wizard.sitting.reply import Reply
from wizard.survey.own_frame import knows
from wizard.survey.record import Survey, Unit
from wizard.telling.drawing_model import views
from wizard.telling.game_words import (
    ask_list,
    asked_line,
    begun,
    fault_list,
    hint_words,
    named_words,
    possible_words,
    several_faults,
    several_readings,
)
from wizard.telling.model_page import ModelPage, model_page, readings_text, why_text

ANY = "6 mm"
"""An amount, where it is all the same which."""
HALF = 0.5
"""Share of the words that must stand in the sentence of the fault that is meant."""
STEP_DEG = 0.5
STEP = {"mm": 1.0, "in": 25.4 / 16}
"""mm that one press of an arrow bends."""
STEP_WARM = 5.0
STEPS = {"deg": (STEP_DEG, MOST_DEG), "C": (STEP_WARM, MOST_WARM)}
"""What one press bends, and the most, of what is no length."""


class ModelDesk:
    """The bent frame, the slider chosen, and the game while one is on."""

    def __init__(
        self,
        library: Library,
        survey: Survey | None = None,
        step: StepId = NO_STEP,
        layout: Layout | None = None,
        rng: random.Random | None = None,
    ) -> None:
        """survey: whose sizes and unit are taken; step: on whose fault it opens; layout: of a model
        without survey.
        """
        own = layout or next(iter(library.layouts.values()))
        if survey is not None and knows(survey, library):
            own = model_layout(survey, library)
        self.bench = Bench(own, library)
        self.unit: Unit = survey.unit if survey else "mm"
        self.rng = rng or random.Random()
        self.bent = Bent()
        self.chosen = 0
        """Number of the slider that the arrows change."""
        self.game: Game | None = None
        self._page: tuple[tuple[Bent, Unit], ModelPage] | None = None
        fault = library.model.fault_of(step) if step else None
        if fault and fault.id in self.bench.faults:
            self.put(fault)

    @cached_property
    def board(self) -> Board:
        """The game's readings and faults; computed when a game begins."""
        return Board(self.bench)

    # What shows -----------------------------------------------------------------------------------
    # --------------

    @property
    def slider(self) -> Slider:
        """The slider that the arrows change."""
        return SLIDERS[self.chosen]

    @property
    def guessing(self) -> bool:
        """Whether its bends are a secret, in a game that is not won yet."""
        return self.game is not None and not self.game.won

    @property
    def fault(self) -> str:
        """Id of the authored fault that the frame has just now; empty where it is several or none."""
        return self.fault_like(self.bent)

    def frame(self) -> Frame:
        """What is drawn: the bent frame, or a straight one while its bends are a secret."""
        return self.bench.frame(Bent() if self.guessing else self.bent)

    def page(self) -> ModelPage:
        """What is said of the bent frame."""
        key = (self.bent, self.unit)
        if self._page is None or self._page[0] != key:
            self._page = key, model_page(self.bench, self.bent, self.unit, self.fault)
        return self._page[1]

    # Keys -----------------------------------------------------------------------------------------
    # --------------

    def choose(self, way: int) -> None:
        """Up and down: another slider, around the ends too."""
        self.chosen = (self.chosen + way) % len(SLIDERS)

    def nudge(self, way: int) -> Reply:
        """Left and right: the chosen slider by one step, in the survey's unit."""
        if self.guessing:
            return Reply("refused", "The frame is bent in secret. Type reset to end the game.")
        step, most = STEPS.get(self.slider.unit, (STEP[self.unit], MOST))
        least = 0.0 if self.slider.one_way else -most
        value = self.slider.get(self.bent) + way * step
        value = 0.0 if abs(value) < 0.01 else max(least, min(most, value))
        self.bent = self.slider.put(self.bent, value, self._place())
        return Reply("taken")

    def size_of(self, value: float) -> str:
        """The size of a bend by the slider that is chosen, in words."""
        if said := SAID.get(self.slider.unit):
            return said(abs(value))
        return write_fraction_about(abs(value), self.unit)

    def _place(self) -> float:
        if not self.slider.placed:
            return 0.0
        old = bend_of(self.bent, self.slider.id.split()[-1], self.slider.id.startswith("kink"))
        return old.x if old else mount_x(self.bench.layout)

    def take(self, line: str) -> Reply:
        """Bend it as a line says."""
        if self.guessing:
            return Reply(
                "refused", "A game is on: type ask, hint or name. Type reset to end the game."
            )
        try:
            self.bent = self.bench.bend([line], self.bent, self.unit)
        except Refused as refused:
            return Reply("refused", str(refused))
        self._choose_slider(line)
        return Reply("taken")

    def bends(self, line: str) -> bool:
        """Whether a line says what to bend and by how much."""
        try:
            self.bench.bend([line], Bent(), self.unit)
        except Refused:
            return False
        return True

    def _choose_slider(self, line: str) -> None:
        """The slider that a line names is the one that the arrows change from then on."""
        plain = everyday(line.split())
        found = slider_of((plain[0] if plain else line).replace("crown", "sag", 1).split())
        if found:
            self.chosen = SLIDERS.index(found[0])

    def put(self, fault: ModelFault) -> None:
        """Bend the frame to an authored fault and nothing else."""
        self.game = None
        self.bent = self.bench.bend(fault.bend)
        self._choose_slider(fault.bend[0])

    def find(self, words: str) -> ModelFault | None:
        """The one authored fault that some words mean."""
        found = self.like(words)
        return found[0] if len(found) == 1 else None

    def like(self, words: str) -> list[ModelFault]:
        """The authored faults that some words may mean: by number, id or name, else by any words
        that stand in their sentence.
        """
        faults = list(self.bench.faults.values())
        if words.isdecimal():
            return faults[int(words) - 1 : int(words)] if int(words) else []
        named = [f for f in faults if words in (f.id, f.name, f.words)]
        whole = named or [f for f in faults if are_in(words, f.name)]
        return whole or self._as_bent(words) or _likest(words, faults)

    def _as_bent(self, words: str) -> list[ModelFault]:
        """The fault that words for a bend come to: `left rail slipped back`."""
        lines = everyday(f"{words} {ANY}".split())
        if not lines:
            return []
        fault = self.fault_like(self.bench.bend(lines))
        return [self.bench.faults[fault]] if fault in self.bench.faults else []

    def fault_like(self, bent: Bent) -> str:
        """The authored fault that moves the same sliders the same way, whatever the amount; empty
        where there is none.
        """
        return self._fault_signs.get(_signs(bent), "")

    @cached_property
    def _fault_signs(self) -> Mapping[tuple[int, ...], str]:
        """What each authored fault moves, to its id; the one authored first where two move the
        same.
        """
        found: dict[tuple[int, ...], str] = {}
        for fault in self.bench.faults.values():
            for lines in filter(None, (fault.bend, fault.mirror)):
                found.setdefault(_signs(self.bench.bend(lines)), fault.id)
        return found


def _likest(words: str, faults: list[ModelFault]) -> list[ModelFault]:
    """The faults in whose sentence most of some words stand, half of them at least; of those the
    ones whose name has most.
    """
    shares = {f.id: share_in(words, f"{f.name} {f.words} {f.id}") for f in faults}
    most = max(shares.values(), default=0.0)
    best = [f for f in faults if shares[f.id] == most >= HALF]
    in_name = {f.id: share_in(words, f.name) for f in best}
    return [f for f in best if in_name[f.id] == max(in_name.values())]


def _signs(bent: Bent) -> tuple[int, ...]:
    values = (s.get(bent) for s in SLIDERS)
    return tuple((v > 0) - (v < 0) for v in values)


# The words of its page ----------------------------------------------------------------------------


def handle(desk: ModelDesk, text: str) -> Reply:
    """One typed line, taken and answered in the words for the kind of frame: where it has no rails,
    `left side back` bends what is called so there.
    """
    layout = desk.bench.layout
    reply = _handle(desk, layout.unworded(text))
    return replace(reply, says=layout.worded(reply.says), title=layout.worded(reply.title))


def _handle(desk: ModelDesk, text: str) -> Reply:
    """A word of the page, else what to bend."""
    line = clean_line(text, 300).lower().removeprefix("/").strip().rstrip(".")
    word, _, rest = line.partition(" ")
    if not word:
        return Reply("refused", "Type what to bend, like diamond 6 mm. Type help to see all words.")
    if word in WORDS:
        return WORDS[word](desk, rest.strip())
    return _played(desk, line) if desk.guessing else desk.take(line)


def _played(desk: ModelDesk, line: str) -> Reply:
    """In a game without its word: a reading by number or in words, or the fault that is guessed."""
    if desk.bends(line):
        return desk.take(line)
    readings, faults = desk.board.like(line), desk.like(line)
    if line.isdecimal() or len(readings) == 1:
        return _ask(desk, line)
    if len(faults) == 1 or (faults and not readings):
        return _name(desk, line)
    return _ask(desk, line) if readings else desk.take(line)


def _reset(desk: ModelDesk, _: str) -> Reply:
    desk.bent, desk.game = Bent(), None
    return Reply("taken", "The frame is straight again.")


def _fault(desk: ModelDesk, words: str) -> Reply:
    like = desk.like(words)
    if len(like) != 1:
        return Reply("refused", _which(desk, like))
    desk.put(like[0])
    return Reply("taken", f"Bent: {like[0].words}.")


def _which(desk: ModelDesk, like: list[ModelFault]) -> str:
    """What is said to words that mean several faults, or none."""
    if like:
        return several_faults(desk.bench.faults, like)
    return NO_FAULT


def _faults(desk: ModelDesk, _: str) -> Reply:
    return Reply(
        "told",
        fault_list(desk.bench.faults),
        "Faults to bend, and to name in the game",
    )


def _unit(desk: ModelDesk, words: str) -> Reply:
    unit = UNITS_SAID.get(words.rstrip("."))
    if unit is None:
        return Reply("refused", "Type unit in or unit mm.")
    desk.unit = unit
    called = "inches" if unit == "in" else "mm"
    return Reply("taken", f"A number without a unit is in {called} now.")


def _read(desk: ModelDesk, typed: str) -> Reply:
    step = StepId(typed)
    if desk.guessing:
        return Reply("refused", "A game is on: type ask and one reading at a time.")
    text = readings_text(desk.bench, desk.bent, step, desk.unit)
    if not text:
        steps = dict.fromkeys(p.step for p in desk.bench.prompts.values() if p.kind.measures)
        return Reply("refused", f"Type read and one of these: {', '.join(map(str, steps))}.")
    return Reply("told", text, desk.bench.library.steps[step].title)


def _why(desk: ModelDesk, words: str) -> Reply:
    """What each check says and why, or one of them by its name."""
    if desk.guessing:
        return Reply("refused", "A game is on: type name and the fault first.")
    page = desk.page()
    one = [f"{head}: {text}" for head, text in page.notes if words and words in head.lower()]
    return Reply("told", "\n\n".join(one) or why_text(page), "What each check says, and why")


def _guess(desk: ModelDesk, words: str) -> Reply:
    """A frame bent by chance, or by a mentor: `guess twist`, `guess with twist 6 mm`."""
    made = _of_lines if words.startswith("with ") else _of_list
    try:
        fault, secret = made(desk, words.removeprefix("with "))
    except Refused as refused:
        return Reply("refused", str(refused))
    desk.bent, desk.game = secret, Game(desk.board, fault, secret)
    return Reply("taken", begun(desk.game))


def _of_lines(desk: ModelDesk, words: str) -> tuple[str, Bent]:
    """The secret that a mentor bent line by line, and its fault. Raises Refused."""
    secret = desk.bench.bend(words.split(" and "), Bent(), desk.unit)
    fault = desk.fault_like(secret)
    if fault not in {f.id for f in _guessed(desk)}:
        raise Refused("That is no fault that can be named. Type faults to see them all")
    return fault, secret


def _of_list(desk: ModelDesk, words: str) -> tuple[str, Bent]:
    """A fault by its name or by chance, bent either way and by any amount. Raises Refused."""
    guessed = _guessed(desk)
    found = desk.find(words) if words else desk.rng.choice(guessed)
    if found is None or found not in guessed:
        raise Refused("The game has no fault of that name. Type faults to see them all")
    lines = desk.rng.choice([way for way in (found.bend, found.mirror) if way])
    return found.id, desk.bench.bend(lines).scaled(desk.rng.choice(SIZES))


def _guessed(desk: ModelDesk) -> list[ModelFault]:
    """The faults that the game asks for."""
    return [f for f in desk.bench.faults.values() if not f.not_guessed]


def _ask(desk: ModelDesk, words: str) -> Reply:
    if desk.game is None:
        return Reply("refused", NO_GAME)
    found = desk.board.like(words)
    if len(found) > 1:
        return Reply("refused", several_readings(desk.game, found))
    if not found:
        return Reply("refused", "There is no such reading. Type asks to see them all.")
    (ask,) = found
    desk.game = desk.game.ask(ask.id)
    return Reply("taken", f"{asked_line(desk.game, ask, desk.unit)}. {possible_words(desk.game)}")


def _asks(desk: ModelDesk, _: str) -> Reply:
    if desk.game is None:
        return Reply("refused", NO_GAME)
    return Reply("told", ask_list(desk.game), "What you can ask for, by number or in words")


def _hint(desk: ModelDesk, _: str) -> Reply:
    if desk.game is None:
        return Reply("refused", NO_GAME)
    hint = desk.game.hint()
    if not hint:
        return Reply("told", f"No other reading would tell you more. {possible_words(desk.game)}")
    return Reply("told", hint_words(desk.game, desk.board.ask(hint)))


def _name(desk: ModelDesk, words: str) -> Reply:
    if desk.game is None:
        return Reply("refused", NO_GAME)
    like = desk.like(words)
    if len(like) != 1:
        return Reply("refused", _which(desk, like))
    desk.game = desk.game.name(like[0].id)
    return Reply("taken" if desk.game.won else "told", named_words(desk.game))


def _draw(desk: ModelDesk, _: str) -> Reply:
    """The three views as typed marks, for who can see them on a plain terminal."""
    found = views(desk.frame(), 76, (9, 6, 6), "ascii")
    pictures = zip(found.captions, (found.plan, found.side, found.end), strict=True)
    text = "\n".join("\n".join((caption, *drawing.lines)) for caption, drawing in pictures)
    return Reply("drawn", text, "Front to the left")


def _help(desk: ModelDesk, _: str) -> Reply:
    names = ", ".join(s.id for s in SLIDERS)
    return Reply(
        "told",
        f"{HELP}\n\nYou can bend: {names}. A crown is a sag upward.",
        "What you can type here",
    )


def _back(desk: ModelDesk, _: str) -> Reply:
    return Reply("left")


def _quit(desk: ModelDesk, _: str) -> Reply:
    return Reply("quit")


NO_GAME = "No game is on. Type guess to begin one."
NO_FAULT = "There is no fault of that name. Type faults to see them all."
UNITS_SAID: Mapping[str, Unit] = {
    **dict.fromkeys(("in", "inch", "inches"), "in"),
    **dict.fromkeys(("mm", "millimeter", "millimeters", "millimetres", "metric"), "mm"),
}
"""What people type for the unit of a number that has none."""
HELP = """diamond 6 mm      bends the frame; 0 straightens it; -6 or a word (back, left, low) says which way
left rail back 6 mm     the same in everyday words: left front corner back, both rails down, left horn up
sag left 8 mm at engine-mount     bends a rail; type kink for a sharp bend, crown for an upward one
engine off        takes the engine's weight off; engine on puts it back
supports three    stands the frame on wheels, axles, four, or three (bare frame only)
fault twist       bends the frame to one of the list; faults shows the list
reset             makes the frame straight again
read long-diagonals     shows every reading of a page
why               says what each check sees and why some are blind; why level for one check
unit in           says what a number without a unit means, in or mm
draw              draws the three views with plain letters
guess             bends a frame in secret: a reading or a fault, by number or in words; hint
up, down, left, right     choose what to bend, and by how much
back              goes back to where you came from; quit leaves the program"""

WORDS: dict[str, Callable[[ModelDesk, str], Reply]] = {
    "reset": _reset,
    "fault": _fault,
    "faults": _faults,
    "unit": _unit,
    "read": _read,
    "why": _why,
    "guess": _guess,
    "ask": _ask,
    "asks": _asks,
    "hint": _hint,
    "name": _name,
    "draw": _draw,
    "help": _help,
    "back": _back,
    "quit": _quit,
    "q": _quit,
}
