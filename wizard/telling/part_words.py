"""The names of the parts of a doubt, and of prompts, as a mentor reads them aloud.

The ids stay the program's own.
"""

from __future__ import annotations

from wizard.library.places import PointId, PromptId, asked_of, part_of, point_of, spoken

WAYS = {"x": "along", "y": "across"}


def part_words(name: str) -> str:
    """A part's name in words.

    >>> part_words("hand:long-diagonals/whole/front-right--rear-left")
    'hand, long diagonals: right front to left rear'
    >>> part_words("point:front-left:x")
    'point left front, along'
    >>> part_words("round:rail_depth")
    'round rail depth'
    """
    part = part_of(name)
    if part.kind == "hand" and asked_of(part.prompt).name:
        return f"hand, {prompt_words(part.prompt)}"
    if part.kind == "point" and part.point:
        return f"point {_point(part.point)}, {WAYS.get(part.axis, part.axis)}"
    return part.words


def prompt_words(prompt: PromptId) -> str:
    """A prompt's id in words.

    >>> prompt_words("level/rear/as-set"), prompt_words("widths/front/front-left--front-right")
    ('level rear as set', 'widths: left front to right front')
    """
    asked = asked_of(prompt)
    if asked.tape:  # with its page: one distance may be taped on two of them
        start, end = map(_point, asked.tape.ends)
        return f"{spoken(asked.step)}: {start} to {end}"
    return " ".join(spoken(w) for w in (asked.step, asked.item, asked.name) if w)


def _point(id: PointId) -> str:
    point = point_of(id)
    return f"{point.side} {spoken(point.place)}" if point.side else spoken(id)
