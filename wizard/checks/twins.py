"""A prompt and its twin on the other side of the car."""

from __future__ import annotations


def mirrored(prompt_id: str) -> str:
    """The prompt's twin with left and right changed over.

    >>> mirrored("own-sides/whole/front-left--rear-left")
    'own-sides/whole/front-right--rear-right'
    """
    swap = {"left": "right", "right": "left"}
    head, _, last = prompt_id.rpartition("/")
    points = [p.rsplit("-", 1) for p in last.split("--")]
    turned = ["-".join([*p[:-1], swap.get(p[-1], p[-1])]) for p in points]
    return f"{head}/{'--'.join(turned)}"
