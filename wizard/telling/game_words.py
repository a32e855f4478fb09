"""The guessing game in words."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import groupby

from wizard.judgment.game import Ask, Game
from wizard.library import marks
from wizard.library.shapes_model import ModelFault
from wizard.model.kit import scale_text
from wizard.survey.record import Unit

BEGIN = (
    "The frame is bent in secret: one fault. Ask for readings one by one, by number or in words, like"
    " {like}; asks lists them. hint names the one that tells most. When you know what is bent, say"
    " it; faults lists what it can be."
)


def begun(game: Game) -> str:
    """How the game goes, with one of this frame's readings."""
    return BEGIN.format(like=game.board.words(game.board.asks[0]))


def label(game: Game, ask: Ask) -> str:
    """What the reading is, as the step asks it."""
    prompt = game.board.bench.prompts[ask.prompt]
    after = " by the string" if prompt.reads == marks.STRING_UNLOADED else ""
    return f"{prompt.ask}{after}" + (" (bare, on three points)" if ask.three else "")


def asked_line(game: Game, ask: Ask, unit: Unit) -> str:
    """One reading that was asked for, with the straight frame's beside it."""
    prompt = game.board.bench.prompts[ask.prompt]
    now, then = (scale_text(v, prompt, unit) for v in game.board.read(game.secret, ask))
    says = {-1: "less", 0: "the same", 1: "more"}[game.board.says(game.secret, ask)]
    if not prompt.kind.spans:
        way = "as it should be" if says == "the same" else f"straight {then}"
        return f"{label(game, ask)}: {now}   ({way})"
    return f"{label(game, ask)}: {now} {unit}   ({says}; straight {then} {unit})"


def asked_lines(game: Game, unit: Unit) -> tuple[str, ...]:
    """Everything asked so far, in order."""
    return tuple(
        f"{n}. {asked_line(game, game.board.ask(id), unit)}"
        for n, id in enumerate(game.asked, start=1)
    )


def possible_words(game: Game) -> str:
    """How many faults still fit, and which, once they are few."""
    faults = game.board.bench.library.model.faults
    left = game.possible
    if not left:
        return "No fault in the list fits all of this."
    if len(left) == 1:
        return "Only one fault still fits all of this. Name it."
    names = ", ".join(faults[f].name for f in left)
    return f"{len(left)} faults still fit" + (f": {names}." if len(left) <= 4 else ".")


def named_words(game: Game) -> str:
    """What is said to a name."""
    faults = game.board.bench.library.model.faults
    named = faults[game.named]
    if not game.won:
        against = game.against(game.named)
        if not against:
            return (
                f"No, it is not “{named.name}”, though all you have read would fit it. Ask for"
                " more."
            )
        ask = game.board.ask(against)
        return f"No, it is not “{named.name}”: then “{label(game, ask)}” would be different."
    fewest, took = game.board.fewest(game.secret), len(game.asked)
    said = f"Right: {named.name}, {named.words}. You asked for {_count(took)}"
    others = len(game.possible) - 1
    if others > 0:
        luck = f"{others} other faults fit too" if others > 1 else "1 other fault fits too"
        return f"{said}, and {luck}: that was a lucky guess."
    return f"{said}. With the hint each time you would need {_count(fewest)}."


def _count(n: int) -> str:
    return "1 reading" if n == 1 else f"{n} readings"


def fault_list(faults: Mapping[str, ModelFault]) -> str:
    """The faults by number and name, each in a line."""
    return "\n".join(
        f"{n:>2}  {fault.name}: {fault.words}" for n, fault in enumerate(faults.values(), start=1)
    )


def ask_list(game: Game) -> str:
    """Every reading on offer under its page, by number."""
    lines = []
    for title, asks in groupby(game.board.asks, game.board.page):
        lines += [title, *(f"  {game.board.number(a):>2}  {label(game, a)}" for a in asks)]
    return "\n".join(lines)


def hint_words(game: Game, ask: Ask) -> str:
    """The reading that tells most, and how it is asked for."""
    page, number = game.board.page(ask), game.board.number(ask)
    return f"This would tell most now: {label(game, ask)} ({page}). Type ask {number}."


def several_readings(game: Game, asks: Sequence[Ask]) -> str:
    """The readings that some words may mean."""
    named = [f"{game.board.number(a)} {label(game, a)} ({game.board.page(a)})" for a in asks]
    return _several("readings", named)


def several_faults(faults: Mapping[str, ModelFault], found: Sequence[ModelFault]) -> str:
    """The faults that some words may mean."""
    numbers = {id: n for n, id in enumerate(faults, start=1)}
    return _several("faults", [f"{numbers[f.id]} {f.name}" for f in found])


MOST = 5
"""Of those that some words may mean so many are named."""


def _several(what: str, named: Sequence[str]) -> str:
    more = f"; and {len(named) - MOST} more" if len(named) > MOST else ""
    return f"Several {what} are like that: {'; '.join(named[:MOST])}{more}. Type the number."
