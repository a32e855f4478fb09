"""The picture of one judged finding: its value with its doubt against the bands of its limit."""

from __future__ import annotations

from math import inf

from wizard.judgment.bands import Judged
from wizard.library.shapes import Library
from wizard.survey.record import Unit
from wizard.telling.amounts import BANDS, about
from wizard.telling.canvas import Charset, Drawing
from wizard.telling.drawing_value import value_picture

NOTHING = Drawing((), (), "")


def picture_of(
    judged: Judged, library: Library, unit: Unit, width: int, charset: Charset
) -> Drawing:
    """The value on its axis; no lines where the quantity has no limit or the room is too small."""
    limit = library.limits.get(judged.finding.limit)
    if limit is None or not judged.edges:
        return NOTHING
    beyond = (inf, BANDS[limit.beyond])
    above = [(e.high, BANDS[e.band]) for e in judged.edges if e.high is not None]
    below = [(-e.low, BANDS[e.band]) for e in judged.edges if e.low is not None]
    value, half = judged.finding.value, judged.half_width
    return value_picture(
        value,
        value - half,
        value + half,
        [*above, beyond],
        width,
        charset,
        below=[*below, beyond] if below else (),
        ends=judged.finding.of.ends,
        meant=[BANDS[band] for band in judged.bands],
        say=lambda number: about(number, judged.finding.unit, unit),
    )
