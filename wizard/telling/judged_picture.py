"""The picture of one judged finding: its value with its doubt against the bands of its limit."""

from __future__ import annotations

from math import inf

from wizard.judgment.bands import Judged
from wizard.library.shapes import Library
from wizard.survey.record import Unit
from wizard.telling.amounts import BANDS, about
from wizard.telling.canvas import Charset, Drawing
from wizard.telling.scene_value import Value, value_picture

NOTHING = Drawing((), (), "")


def picture_of(
    judged: Judged, library: Library, unit: Unit, width: int, charset: Charset
) -> Drawing:
    """The value on its axis; no lines where the quantity has no limit or the room is too small."""
    if judged.finding.limit not in library.limits or not judged.edges:
        return NOTHING
    return value_picture(value_of(judged, library, unit), width, charset)


def value_of(judged: Judged, library: Library, unit: Unit) -> Value:
    """The finding with its doubt and the bands of its limit, for either painter."""
    beyond = (inf, BANDS[library.limits[judged.finding.limit].beyond])
    above = [(e.high, BANDS[e.band]) for e in judged.edges if e.high is not None]
    below = [(-e.low, BANDS[e.band]) for e in judged.edges if e.low is not None]
    value, half = judged.finding.value, judged.told_half
    return Value(
        value,
        value - half,
        value + half,
        [*above, beyond],
        below=[*below, beyond] if below else (),
        ends=judged.finding.of.ends,
        meant=[BANDS[band] for band in judged.bands],
        say=lambda number: about(number, judged.finding.unit, unit),
    )
