"""What was measured and is in order: a person who reads only what is out would think the rest was
never looked at.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from wizard.judgment.bands import Judged
from wizard.judgment.facts import is_true
from wizard.judgment.verdict import Verdict
from wizard.library.places import SIDES, where_of
from wizard.library.shapes import Layout
from wizard.telling.document import Item as Line

STRINGS = {
    "sag-unloaded": "the string without the engine's weight",
    "sag-loaded": "the string with the engine's weight",
}
"""Limits that are told rail by rail."""
WHOLE = {
    "twist": "the level (no twist)",
    "horn": "the horns",
    "rail-bow": "the frame seen from above (no bow)",
    "wheelbase": "the wheelbase",
    "thickness": "the thickness of the rails",
}
"""Limits that are told as one: all of their places must be in order."""
BOXES = {"rail-shift": "square", "rail-length": "rails equally long"}
"""Limits that are told box by box."""


TWINS = {"front-box": "front-box-bar", "front-box-bar": "front-box"}
"""The front box is read in two ways; where the one is out the other is no comfort."""

Named = tuple[str, tuple[str, ...]]
"""Words, and the ids of the findings behind them."""


def sound_lines(verdict: Verdict, layout: Layout) -> list[Line]:
    """One line that names everything within the limit of what may be left, doubt included; none
    where nothing is.
    """
    found = [*_boxes(verdict, layout), *_strings(verdict), *_wholes(verdict)]
    if not found:
        return []
    text = "; ".join(words for words, _ in found)
    lead = (
        "As far as these figures can be trusted, nothing"
        if verdict.held in ("joints", "rocks")
        else "Nothing"
    )
    return [
        Line(f"{lead} to do at: {text}.", tuple(dict.fromkeys(i for _, ids in found for i in ids)))
    ]


def _of(verdict: Verdict, limit: str) -> list[Judged]:
    return [j for j in verdict.judged if j.finding.limit == limit]


def _boxes(verdict: Verdict, layout: Layout) -> Iterator[Named]:
    names = {b.id: b.name for b in layout.boxes} | {"front-box-bar": "front box by the bar"}
    for limit, words in BOXES.items():
        here = {j.finding.where: j for j in _of(verdict, limit) if j.finding.where in names}
        out = {where for where, j in here.items() if not is_true(j)}
        true = [j for where, j in here.items() if where not in out and TWINS.get(where) not in out]
        if true:
            said = (
                "all boxes"
                if len(true) == len(here) > 1
                else ", ".join(names[j.finding.where] for j in true)
            )
            yield f"{said} ({words})", _ids(true)


def _strings(verdict: Verdict) -> Iterator[Named]:
    """The string, rail by rail: that one of them is straight is worth as much as that the other is
    not.
    """
    for limit, words in STRINGS.items():
        sides = {
            s: [j for j in _of(verdict, limit) if where_of(j.finding.where).side == s]
            for s in SIDES
        }
        true = [s for s in SIDES if sides[s] and all(map(is_true, sides[s]))]
        if true:
            which = "" if len(true) == 2 else f", {true[0]} rail"
            yield f"{words}{which}", _ids(j for s in true for j in sides[s])


def _wholes(verdict: Verdict) -> Iterator[Named]:
    for limit, words in WHOLE.items():
        here = _of(verdict, limit)
        if here and all(map(is_true, here)):
            yield words, _ids(here)


def _ids(judged: Iterable[Judged]) -> tuple[str, ...]:
    return tuple(j.finding.id for j in judged)
