"""The owner's own sizes in place of a layout's round figures."""

from __future__ import annotations

from dataclasses import replace

from wizard.library.shapes import Layout
from wizard.readings.lengths import read_length
from wizard.readings.quantities import read_quantity
from wizard.readings.refused import Refused
from wizard.survey.record import Survey
from wizard.survey.rows import Size


def size_of(name: str, typed: str) -> float:
    """A size as typed: mm, or kg where the name ends so. Raises Refused."""
    if name.endswith("_kg"):
        return read_quantity(typed if not typed.replace(".", "").isdigit() else f"{typed} kg", "mass")
    return float(read_length(typed, "mm", ("rearward", "forward")))


def own_layout(layout: Layout, survey: Survey) -> Layout:
    """The layout with every size that the survey gives; what cannot be read leaves the round figure in place."""
    figures = dict(layout.figures)
    for row in survey.standing(Size):
        if row.name in figures:
            try:
                figures[row.name] = size_of(row.name, row.typed)
            except Refused:
                continue
    return layout if figures == layout.figures else replace(layout, figures=figures)
