"""The front end close up: horn tips, front crossmember and the next station behind it."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace

from wizard.library.shapes import Layout
from wizard.telling.canvas import Charset, Drawing
from wizard.telling.drawing_plan import Pair, plan_view, spots

BEYOND = 0.08
"""Part of the window left behind the last point, so that the rails are seen to go on."""


def horns_view(
    layout: Layout,
    lit: Pair | None,
    width: int,
    height: int,
    charset: Charset,
    done: Collection[Pair] = (),
) -> Drawing:
    """The plan cut off behind the second station, or behind the lit points where they lie further
    back.
    """
    whole = plan_view(layout, lit, width, height, charset, done, _window(layout, lit))
    return replace(whole, words=whole.words.replace("The frame", "The front of the frame", 1))


def _window(layout: Layout, lit: Pair | None) -> tuple[float, float] | None:
    first = min((p.x for p in layout.places), default=0.0)
    behind = [p.x for p in layout.places if p.x > max(first, 0.0)]
    if not behind:
        return None
    known = spots(layout)
    last = max([min(behind), *(known[id].x for id in lit or () if id in known)])
    return first, last + BEYOND * (last - first)
