"""A survey of format 1, read as format 2: the ids of content moved to one spelling, and the ruler
got its own name.

Only ids are translated. What a person typed, said or was shown stays as it was.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from wizard.readings.plain import pattern

FORMAT = 1
SPELLED = {"centre": "center", "tyres": "tires", "calliper": "caliper", "rule": "ruler"}
"""Old word of an id to the new one; an id is words with a hyphen, a slash, a point or a blank
between.
"""
IDS = ("prompt", "keeps", "point", "place", "kind")
"""Keys of a row that hold ids and nothing that a person typed."""
TOKENS = {"steel-rule": "steel-ruler", "plain-rule": "plain-ruler"}
"""Answers that were chosen, where the token itself moved."""
TYRES, TIRES = "tyres", "tires"
SHORT_LIST = "recheck/steps"
_WORD = "|".join(rf"(?<![a-z]){old}(?![a-z])" for old in SPELLED)


def respelled(id: str) -> str:
    """An id in the new spelling.

    >>> respelled("box-diagonals/front-box/front-left--centre-right"), respelled("state.tyres"), respelled("tools/rule")
    ('box-diagonals/front-box/front-left--center-right', 'state.tires', 'tools/ruler')
    >>> respelled("rule-of-thumb"), respelled("overrule")
    ('ruler-of-thumb', 'overrule')
    """
    return pattern(_WORD).sub(lambda match: SPELLED[match[0]], id)


def from_format_one(data: Mapping[str, Any]) -> dict[str, Any]:
    """The parsed file of format 1 as one of format 2; what is not as it should be is left for the
    reader to refuse.
    """
    return {
        key: [_row(row) for row in value] if isinstance(value, list) else value
        for key, value in data.items()
    }


def _row(row: Any) -> Any:
    if not isinstance(row, Mapping):
        return row
    moved = {TIRES if key == TYRES else key: value for key, value in row.items()}
    for key in IDS:
        if isinstance(moved.get(key), str):
            moved[key] = respelled(moved[key])
    answer = moved.get("answer")
    if isinstance(answer, str):
        moved["answer"] = (
            respelled(answer) if moved.get("prompt") == SHORT_LIST else TOKENS.get(answer, answer)
        )
    return moved
