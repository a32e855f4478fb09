"""The verdict as a page: its headline first and large, then the reasons with their pictures."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from wizard.judgment.bands import Judged
from wizard.judgment.verdict import Verdict
from wizard.library.shapes import Library
from wizard.screens.paper import Line, document_lines
from wizard.survey.guide import layout_of
from wizard.survey.record import Survey
from wizard.telling.canvas import Charset
from wizard.telling.cells import painted
from wizard.telling.document import Block, Item, Paragraph, Section, Sketch, set_out
from wizard.telling.headline import headline
from wizard.telling.judged_picture import picture_of
from wizard.telling.scene import Scene
from wizard.telling.scene_found import where_scene
from wizard.telling.verdict_words import sections
from wizard.telling.written_down import opinions

WHERE = 7
"""Rows of the drawing of where the signs gather."""


def verdict_lines(
    verdict: Verdict,
    survey: Survey,
    library: Library,
    width: int,
    charset: Charset,
    since: Sequence[Section] = (),
) -> list[Line]:
    """The whole verdict, wrapped to the width; since: whether anything moved, under the headline."""
    blocks: list[Block] = [Paragraph(headline(verdict), strong=True), *set_out(since)]
    for part in sections(verdict, survey, library):
        blocks += _pictured(part, verdict, survey, library)
    return document_lines([*blocks, *set_out([opinions(survey)])], width, charset)


def _pictured(
    part: Section, verdict: Verdict, survey: Survey, library: Library
) -> tuple[Block, ...]:
    """A part of the verdict with what a screen draws of it."""
    if part.id == "reasons":
        reasons = {j.finding.id: j for j in verdict.reasons}
        items = tuple(_drawn(item, reasons, survey, library) for item in part.items)
        return replace(part, items=items).blocks()
    if part.id == "causes":
        layout = layout_of(survey, library)
        scene = where_scene(verdict.causes, layout)
        return *part.blocks(), *((_sketch(scene),) if scene else ())
    return part.blocks()


def _sketch(scene: Scene) -> Sketch:
    return Sketch(lambda w, charset: painted(scene, w, WHERE, charset))


def _drawn(item: Item, reasons: dict[str, Judged], survey: Survey, library: Library) -> Item:
    """A reason with its value against the limit."""
    judged = next((reasons[id] for id in item.sources if id in reasons), None)
    if judged is None:
        return item
    return replace(
        item, draw=lambda w, charset: picture_of(judged, library, survey.unit, w, charset)
    )
