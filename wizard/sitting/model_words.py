"""The words of the model's page: one set for every face; a slash before them does no harm."""

from __future__ import annotations

from collections.abc import Callable

from wizard.judgment.game import SIZES, Game
from wizard.library.shapes_model import ModelFault
from wizard.model.bent import Bent
from wizard.model.sliders import SLIDERS
from wizard.readings.plain import clean_line
from wizard.readings.refused import Refused
from wizard.sitting.model_desk import ModelDesk, fault_like
from wizard.sitting.reply import Reply
from wizard.telling.drawing_model import views
from wizard.telling.game_words import (
    BEGIN,
    ask_list,
    asked_line,
    fault_list,
    named_words,
    possible_words,
)
from wizard.telling.model_page import readings_text, why_text


def handle(desk: ModelDesk, text: str) -> Reply:
    """One typed line: a word of the page, else what to bend."""
    line = clean_line(text, 300).lower().removeprefix("/").strip()
    word, _, rest = line.partition(" ")
    if not word:
        return Reply("refused", "Type what to bend, like diamond 6 mm; help lists the words.")
    return WORDS[word](desk, rest.strip()) if word in WORDS else desk.take(line)


def _reset(desk: ModelDesk, _: str) -> Reply:
    desk.bent, desk.game = Bent(), None
    return Reply("taken", "Straight again.")


def _fault(desk: ModelDesk, words: str) -> Reply:
    found = desk.find(words)
    if found is None:
        return Reply("refused", "There is no fault of that name; faults lists them.")
    desk.put(found)
    return Reply("taken", f"Bent: {found.words}.")


def _faults(desk: ModelDesk, _: str) -> Reply:
    return Reply("told", fault_list(desk.bench.faults), "Faults to bend, and to name in the game")


def _unit(desk: ModelDesk, words: str) -> Reply:
    if words not in ("in", "mm"):
        return Reply("refused", "Type unit in or unit mm.")
    desk.unit = "in" if words == "in" else "mm"
    return Reply("taken", f"A bare number is in {desk.unit} now.")


def _read(desk: ModelDesk, step: str) -> Reply:
    if desk.guessing:
        return Reply("refused", "A game is on: ask for one reading at a time.")
    text = readings_text(desk.bench, desk.bent, step, desk.unit)
    if not text:
        steps = dict.fromkeys(p.step for p in desk.bench.prompts.values() if p.kind.measures)
        return Reply("refused", f"Type read and a step: {', '.join(steps)}.")
    return Reply("told", text, desk.bench.library.steps[step].title)


def _why(desk: ModelDesk, words: str) -> Reply:
    """What each check says and why, or one of them by its name."""
    if desk.guessing:
        return Reply("refused", "A game is on: name the fault first.")
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
    return Reply("taken", BEGIN)


def _of_lines(desk: ModelDesk, words: str) -> tuple[str, Bent]:
    """The secret that a mentor bent line by line, and its fault. Raises Refused."""
    secret = desk.bench.bend(words.split(" and "), Bent(), desk.unit)
    fault = fault_like(desk.bench, secret)
    if fault not in {f.id for f in _guessed(desk)}:
        raise Refused("That is none of the faults that can be named; faults lists them")
    return fault, secret


def _of_list(desk: ModelDesk, words: str) -> tuple[str, Bent]:
    """A fault by its name or by chance, bent either way and by any amount. Raises Refused."""
    guessed = _guessed(desk)
    found = desk.find(words) if words else desk.rng.choice(guessed)
    if found is None or found not in guessed:
        raise Refused("There is no fault of that name in the game; faults lists them")
    lines = desk.rng.choice([way for way in (found.bend, found.mirror) if way])
    return found.id, desk.bench.bend(lines).scaled(desk.rng.choice(SIZES))


def _guessed(desk: ModelDesk) -> list[ModelFault]:
    """The faults that the game asks for."""
    return [f for f in desk.bench.faults.values() if not f.not_guessed]


def _ask(desk: ModelDesk, words: str) -> Reply:
    if desk.game is None:
        return Reply("refused", "There is no game on; guess begins one.")
    ask = desk.board.find(words)
    if ask is None:
        return Reply("refused", "There is no such reading; asks lists what can be asked for.")
    desk.game = desk.game.ask(ask.id)
    return Reply("taken", f"{asked_line(desk.game, ask, desk.unit)}. {possible_words(desk.game)}")


def _asks(desk: ModelDesk, _: str) -> Reply:
    if desk.game is None:
        return Reply("refused", "There is no game on; guess begins one.")
    return Reply("told", ask_list(desk.game), "What can be asked for, behind the word ask")


def _hint(desk: ModelDesk, _: str) -> Reply:
    if desk.game is None:
        return Reply("refused", "There is no game on; guess begins one.")
    hint = desk.game.hint()
    if not hint:
        return Reply("told", f"No reading would tell more. {possible_words(desk.game)}")
    return Reply("told", f"The reading that best splits what is left: ask {hint}")


def _name(desk: ModelDesk, words: str) -> Reply:
    if desk.game is None:
        return Reply("refused", "There is no game on; guess begins one.")
    found = desk.find(words)
    if found is None:
        return Reply("refused", "There is no fault of that name; faults lists them.")
    desk.game = desk.game.name(found.id)
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
        f"{HELP}\n\nWhat can be bent: {names}; crown for a sag upward.",
        "Words on this page",
    )


def _back(desk: ModelDesk, _: str) -> Reply:
    return Reply("left")


def _quit(desk: ModelDesk, _: str) -> Reply:
    return Reply("quit")


HELP = """diamond 6 mm      bends; 0 straightens it; a sign or a word (back, left, low) says which way
sag left 8 mm at engine-mount     a bow; kink for a sharp one, crown for an upward one
engine off        takes the engine's weight off; engine on puts it back
supports three    wheels, axles, four, or three for the bare frame
fault twist       bends one of the list; faults shows the list
reset             straight again
read long-diagonals     every reading of a step
why               what each check says, and why some are blind; why level for one
unit in           what a bare number means, in or mm
draw              the three views in typed marks
guess             a frame bent in secret; ask, hint, name; guess twist is for a mentor
up and down choose what to bend, left and right bend it
back              back to where you came from; quit leaves the program"""

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
