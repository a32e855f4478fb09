"""The names of the parts of a doubt, and of prompts, as a mentor reads them aloud.

The ids stay the program's own.
"""

from __future__ import annotations

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
    kind, _, rest = name.partition(":")
    if kind == "hand" and "/" in rest:
        return f"hand, {prompt_words(rest)}"
    if kind == "point" and ":" in rest:
        point, _, way = rest.rpartition(":")
        return f"point {_point(point)}, {WAYS.get(way, way)}"
    return name.replace(":", " ").replace("_", " ").replace("-", " ")


def prompt_words(prompt: str) -> str:
    """A prompt's id in words.

    >>> prompt_words("level/rear/as-set"), prompt_words("widths/front/front-left--front-right")
    ('level rear as set', 'widths: left front to right front')
    """
    start, tape, end = prompt.rpartition("/")[2].partition("--")
    if tape:  # with its page: one distance may be taped on two of them
        return f"{prompt.partition('/')[0].replace('-', ' ')}: {_point(start)} to {_point(end)}"
    return prompt.replace("/", " ").replace("-", " ")


def _point(id: str) -> str:
    place, _, side = id.rpartition("-")
    return (
        f"{side} {place.replace('-', ' ')}"
        if place and side in ("left", "right")
        else id.replace("-", " ")
    )
