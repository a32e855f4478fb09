"""Rules in code read what content says of itself, and name no page, answer or place of it.

Every string in `wizard/`, and every part of one between slashes, is held to the ids of the pages,
the tokens of the answers and the ids of the places that content has. A word that means something else
there too is listed with that; the list may only shrink. No page is named even so.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from functools import cache
from pathlib import Path

from wizard.library import load_library

ROOT = Path(__file__).parent.parent / "wizard"
VOCABULARY = "library/marks.py"
"""The one module that spells what rules read: `crosstape content` holds each word of it to content."""

FILE = (
    "a word that files keep for ever: the linter holds content to it (marks.KEPT, tools, layouts)"
)
ORDINARY = {
    "above": "on the other side of a bound",
    "angle-gauge": FILE,
    "behind": "where a bend lies, in a sentence",
    "below": "on the other side of a bound",
    "bolted": FILE,
    "bottom": "a face of the channel, a place on the screen",
    "center": "typed by people, and how format 1 is spelled anew",
    "closed-rails": "a trait of a layout",
    "even": "how a comparison came out",
    "finish": "a part of the survey: Step.part",
    "front": "an end of the frame, a third of the rails",
    "front-box": "a box of every kind of frame: layouts.BOXES",
    "high": "a bound",
    "history": "a kind of witness: shapes_signs.KINDS",
    "hook": FILE,
    "horns": "a flag of a layout's place, a drawing",
    "in": FILE,
    "joints": "what holds a verdict",
    "kink": "a shape of the string: wizard/math/shape.py",
    "level": "a kind of tool, a table of a layout, what a prompt is asked of",
    "lifted": "a stance of the car",
    "low": "a bound",
    "mark": FILE,
    "mentor": FILE,
    "middle": "a third of the rails, a point on the center line",
    "mm": FILE,
    "moved": "a comparison",
    "never": "a date",
    "no": "typed by people",
    "nothing": "typed by people",
    "off": FILE,
    "on": FILE,
    "out": FILE,
    "owner": FILE,
    "plain-ruler": FILE,
    "rear": "an end of the frame, a third of the rails",
    "rear-box": "a box of every kind of frame: layouts.BOXES",
    "rocks": "how a car stands: Choice.stands",
    "rust-ring": "what an answer speaks for: marks.VOICES",
    "same": "a comparison of files",
    "second": "the second reader, the next box",
    "short": FILE,
    "side": "what a prompt is asked of, a drawing",
    "stands-under-axles": FILE,
    "stands-under-frame": FILE,
    "state": "a table of the file",
    "steady": "how a string or a level was",
    "steel-ruler": FILE,
    "still": "how a car stands: Choice.stands",
    "straight-ladder": FILE,
    "three-points": FILE,
    "top": "a face of the channel: wizard/math/channel.py, a place on the screen",
    "unequal": "a sentence of a quantity",
    "web": "a face of the channel",
    "weight-off": FILE,
    "welded": "a trait of a layout",
    "wheels": FILE,
    "whole": FILE,
    "wrinkle": "what an answer speaks for: marks.VOICES",
    "yes": "typed by people",
}
"""Words of the survey's own frame that content also uses, and why they stand there."""


@cache
def words() -> frozenset[str]:
    """Ids of pages, tokens of answers, ids of places and points."""
    library = load_library()
    prompts = [p for step in library.steps.values() for p in step.prompts]
    found = {*library.steps, *(c.token for p in prompts for c in p.choices)}
    for layout in library.layouts.values():
        rows = (*layout.places, *layout.stations, *layout.boxes, *layout.levels)
        found |= {row.id for row in rows} | {q for place in layout.places for q in place.points}
    return frozenset(found)


def strings(source: str) -> Iterator[str]:
    """Every string of a module that is no docstring."""
    tree = ast.parse(source)
    alone = {id(e.value) for e in ast.walk(tree) if isinstance(e, ast.Expr)}
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in alone:
            yield node.value


def named(source: str) -> set[str]:
    """The words of content in a module."""
    return {part for s in strings(source) for part in (s, *s.split("/"))} & words()


@cache
def sources() -> tuple[tuple[Path, str], ...]:
    """Every module of `wizard/` but the vocabulary, with its text."""
    paths = (p for p in ROOT.rglob("*.py") if p.relative_to(ROOT).as_posix() != VOCABULARY)
    return tuple((path, path.read_text("utf-8")) for path in paths)


@cache
def standing() -> frozenset[str]:
    """The words of content in all of `wizard/` but the vocabulary."""
    return frozenset(word for _, text in sources() for word in named(text))


def pages(source: str) -> set[str]:
    """Pages that a module names: as the id of one, or at the head of the id of what one asks."""
    calls = (node for node in ast.walk(ast.parse(source)) if isinstance(node, ast.Call))
    made = [a for call in calls if ast.unparse(call.func) == "StepId" for a in call.args]
    ids = {a.value for a in made if isinstance(a, ast.Constant)}
    heads = {s.partition("/")[0] for s in strings(source) if "/" in s}
    return (ids | heads) & set(map(str, load_library().steps))


def test_no_word_of_content_stands_in_code_but_those_listed() -> None:
    more = sorted(standing() - set(ORDINARY))
    assert more == [], "give it a mark in content (wizard/library/marks.py) and read that"


def test_no_page_is_named() -> None:
    assert {path.name: found for path, text in sources() if (found := pages(text))} == {}


def test_the_list_does_not_grow() -> None:
    assert len(ORDINARY) <= 60
    assert sorted(set(ORDINARY) - standing()) == []


def test_a_word_of_content_is_found_wherever_it_stands() -> None:
    source = '''"""rail-tops"""\nA = "rail-tops"\ndef f(x): return x == f"rail-tops/{x}/crack"\n'''
    assert named(source) == {"rail-tops", "crack"}
    assert pages(source) == {"rail-tops"}
    assert pages('A = StepId("level")\nB = StepId(typed)\nC = "horns"\n') == {"level"}
