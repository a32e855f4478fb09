"""The worksheet as one HTML page that prints on A4 and on Letter: no step is broken, every box has
its frame.
"""

from __future__ import annotations

from wizard.library.shapes import Caution
from wizard.telling.html import page, said, tag
from wizard.telling.sheet import Box, Sheet, SheetStep
from wizard.telling.sheet_drawing import point_lines, sheet_figure
from wizard.telling.sheet_words import ENTER_LINES, FILL_LINES, HEAD_FIELDS, Codes, title_of

MORE = 2
"""Low lines in a box: they hold its room, and with the styles off they are the box."""
STYLE = """
h2 { font-size: 11.5pt; margin: 0 0 0.8mm; border-bottom: 0.5pt solid #000; }
.step { break-inside: avoid; margin: 0 0 3.2mm; }
.step p { margin: 0 0 0.6mm; font-size: 10pt; } .codes { font-size: 9.5pt; }
.boxes { display: grid; grid-template-columns: 1fr 1fr; gap: 1.2mm 5mm; list-style: none; padding: 0;
  margin: 0.6mm 0 0; }
.boxes li { display: grid; grid-template-columns: 1fr auto; align-items: center; align-content: start;
  gap: 0.4mm 2mm; break-inside: avoid; }
.boxes li.wide { grid-column: 1 / -1; }
li .codes { grid-column: 1 / -1; } .codes b { font-family: Helvetica, Arial, sans-serif; }
.box { font: 10.5pt/7mm 'Courier New', monospace; border: 0.9pt solid #000; color: transparent; min-height: 7mm;
  overflow: hidden; white-space: nowrap; text-align: center; }
.box.set { color: #000; } .box.note { grid-column: 1 / -1; }
.length, .gap, .bubble { width: 34mm; } .look { width: 22mm; } .choice, .ack { width: 13mm; }
.when { font-style: italic; }
.fields { display: grid; grid-template-columns: repeat(6, 1fr); gap: 1mm 4mm; list-style: none; padding: 0; }
.fields li { border-bottom: 0.9pt solid #000; min-height: 8.5mm; overflow: hidden; white-space: nowrap;
  color: transparent; }
.fields b { font-weight: normal; color: #000; }
.of1 { grid-column: span 6; } .of2 { grid-column: span 3; } .of3 { grid-column: span 2; }
.caution { break-inside: avoid; break-after: avoid; border: 1.2pt solid #000; padding: 1mm 2mm; margin: 0 0 2mm; }
.caution h3 { margin: 0; } .caution ul { columns: 2; column-gap: 6mm; font-size: 10pt; margin: 0.6mm 0 0 0;
  padding-left: 5mm; }
"""


def sheet_html(sheet: Sheet) -> str:
    """The whole sheet."""
    title = title_of(sheet.layout, sheet.state)
    return page(
        f"Crosstape worksheet: {sheet.layout.name}",
        STYLE,
        tag("h1", said(title)),
        _fields(),
        tag("ul", *(tag("li", said(words)) for words in (*FILL_LINES, *ENTER_LINES))),
        _drawing(sheet),
        *(_step(step) for step in sheet.steps),
        *(tag("p", said(f"Left out: {n}. {name}. {why}")) for n, name, why in sheet.left_out),
        tag("ul", _field("Signed", "of2"), _field("Date", "of2"), class_="fields"),
    )


def _fields() -> str:
    return tag(
        "ul",
        *(_field(name, f"of{len(row)}") for row in HEAD_FIELDS for name in row),
        class_="fields",
    )


def _field(name: str, class_: str) -> str:
    return tag("li", tag("b", said(name)), " " + "_" * 12, class_=class_)


def _caution(caution: Caution) -> str:
    lines = (tag("li", said(line)) for line in map(" ".join, caution.sentences))
    return tag(
        "section", tag("h3", "Caution: " + said(caution.title)), tag("ul", *lines), class_="caution"
    )


def _drawing(sheet: Sheet) -> str:
    figure = sheet_figure(sheet)
    words = tag(
        "figcaption",
        said(figure.words),
        " ",
        said("Points: " + "; ".join(point_lines(sheet)) + "."),
    )
    return tag(
        "section", tag("h2", said(figure.title)), tag("figure", figure.svg, words), class_="step"
    )


def _step(step: SheetStep) -> str:
    when = tag("span", said(step.only_when), " ", class_="when") if step.only_when else ""
    read = [box for box in step.boxes if box.kind.acknowledges]
    return tag(
        "section",
        tag("h2", said(f"{step.number}. {step.title}")),
        *(_caution(c) for c in step.cautions),
        *((tag("ol", *(_box(box) for box in read), class_="boxes"),) if read else ()),
        tag("p", when, said(step.how)),
        *(tag("p", _codes(codes), class_="codes") for codes in step.codes),
        tag("ol", *(_box(box) for box in step.boxes if box not in read), class_="boxes"),
        class_="step",
    )


def _codes(codes: Codes) -> str:
    words = "; ".join(f"{tag('b', said(letter))} {said(words)}" for letter, words in codes.letters)
    return f"{said(codes.about)}: {words}" if codes.about else words


def _box(box: Box) -> str:
    label = said(box.label) + (f" ({said(box.points)})" if box.points else "")
    if box.only_if:
        label += tag("span", f" [{said(box.only_if)}]", class_="when")
    blank = said(box.preset) if box.preset else "_" * (box.kind.blank + MORE * box.kind.measures)
    frame = tag("span", blank, class_=f"box {box.kind.id}{' set' if box.preset else ''}")
    codes = tag("span", _codes(box.codes), class_="codes") if box.codes.letters else ""
    wide = {"class_": "wide"} if not box.kind.line else {}
    return tag("li", tag("span", label, class_="label"), " ", frame, " ", codes, **wide)
