"""A form as one HTML page that prints on A4 and on Letter: no part is broken, every box has its
frame.
"""

from __future__ import annotations

from wizard.telling.form import (
    Blank,
    Blanks,
    Codes,
    Columns,
    Field,
    Fields,
    Form,
    Move,
    Notice,
    Numbered,
    Ruled,
    Together,
)
from wizard.telling.html import Markup, feet, page, said, tag
from wizard.telling.sheet import Sheet
from wizard.telling.sheet_form import form_of

LONG = 10
"""Rows from which on a step may be parted by the end of a page."""
MORE = 2
"""Low lines in a box: they hold its room, and with the styles off they are the box."""
STYLE = """
h2 { font-size: 11.5pt; margin: 0 0 0.8mm; border-bottom: 0.5pt solid #000; }
.step { break-inside: avoid; margin: 0 0 3.2mm; }
.step p { margin: 0 0 0.6mm; font-size: 10pt; break-after: avoid; }
.step > p:last-child { break-after: auto; } .codes { font-size: 9.5pt; }
.boxes { display: grid; grid-template-columns: 1fr 1fr; gap: 1.2mm 5mm; list-style: none;
  padding: 0;
  margin: 0.6mm 0 0; }
.boxes li { display: grid; grid-template-columns: 1fr auto; align-items: center;
  align-content: start;
  gap: 0.4mm 2mm; break-inside: avoid; }
.boxes li.wide { grid-column: 1 / -1; grid-template-columns: minmax(0, 1fr) auto; }
li .codes { grid-column: 1 / -1; } .codes b { font-family: Helvetica, Arial, sans-serif; }
.box { font: 10.5pt/7mm 'Courier New', monospace; border: 0.9pt solid #000; color: transparent;
  min-height: 7mm;
  overflow: hidden; white-space: nowrap; text-align: center; }
.box.set { color: #000; }
.box.note { grid-column: 1 / -1; min-width: 0; height: 7.8mm; white-space: normal; }
.length, .gap, .bubble { width: 34mm; } .look { width: 22mm; } .choice, .ack { width: 13mm; }
.when { font-style: italic; }
.fields { display: grid; grid-template-columns: repeat(6, 1fr); gap: 1mm 4mm; list-style: none;
  padding: 0; }
.fields li { border-bottom: 0.9pt solid #000; min-height: 8.5mm; overflow: hidden;
  white-space: nowrap;
  color: transparent; }
.fields b { font-weight: normal; color: #000; }
.fields i { font-style: normal; color: #000; }
.long { break-inside: auto; } .long > h2, .caution h3, .columns h3 { break-after: avoid; }
.columns { display: grid; grid-template-columns: 1fr 1fr; column-gap: 5mm; }
.columns h3 { margin: 0.6mm 0 0; font-size: 10pt; } .columns .boxes { grid-template-columns: 1fr; }
.ruled { table-layout: fixed; font-size: 9pt; }
.ruled td { height: 6.5mm; }
.free { color: transparent; }
.of1 { grid-column: span 6; } .of2 { grid-column: span 3; } .of3 { grid-column: span 2; }
.points svg { width: 84%; margin: 0 auto; } .close .points svg { width: 100%; }
.close { font-size: 9.5pt; line-height: 1.2; }
.close h1 { font-size: 14pt; }
.close h2 { font-size: 11pt; }
.close .step { margin-bottom: 2mm; } .close .step p { font-size: 9.5pt; }
.close .step:has(> ul:last-child) { break-inside: auto; }
.close .boxes li.wide { grid-column: auto; } .close .fields li { min-height: 6.5mm; }
.close figure { margin: 1mm 0; display: grid; grid-template-columns: 60% 1fr; column-gap: 4mm;
  align-items: center; }
.close .box.note { height: 6.4mm; min-height: 6.4mm; }
.close figcaption, .close table { font-size: 8.5pt; } .close table { margin: 0.5mm 0 1mm; }
.caution { break-inside: avoid; break-after: avoid; border: 1.2pt solid #000; padding: 1mm 2mm;
  margin: 0 0 2mm; }
.caution:has(+ .caution) { break-after: auto; }
.caution h3 { margin: 0; }
.caution ul { columns: 2; column-gap: 6mm; font-size: 10pt; margin: 0.6mm 0 0 0;
  padding-left: 5mm; }
"""


def sheet_html(sheet: Sheet) -> str:
    """The whole worksheet."""
    return form_html(form_of(sheet))


def form_html(form: Form) -> str:
    """The whole form."""
    parts = [part.shown(FormMarkup()) for part in form.parts]
    inside = [tag("div", "\n".join(parts), class_="close")] if form.close else parts
    return page(form.title, STYLE + _paper(form), *inside)


def _paper(form: Form) -> str:
    """The paper that a form was made for, filled by its drawing; on any other each sheet says at its
    foot of which form it is.
    """
    if form.paper is None:
        return feet(" ".join(filter(None, (f"{form.title}.", form.of))))
    drawing = (
        f".points svg {{ width: 100%; max-height: {form.paper.tall}mm; }} figure {{ margin: 0; }}"
    )
    pages = "body { max-width: none; } .step { margin: 0; } .step + .step { break-before: page; }"
    return f"@page {{ size: {form.paper.size}; }} {drawing} {pages}"


class FormMarkup(Markup):
    """The face that writes a form in elements."""

    def fields(self, block: Fields) -> str:
        """A row is as wide as the page."""
        names = (_field(field, len(row)) for row in block.rows for field in row)
        return tag("ul", *names, class_="fields")

    def notice(self, block: Notice) -> str:
        """Framed, a line for each sentence."""
        lines = (tag("li", said(" ".join(sentence))) for sentence in block.sentences)
        title = tag("h3", said(f"Caution: {block.title}"))
        return tag("section", title, tag("ul", *lines), class_="caution")

    def move(self, block: Move) -> str:
        """When it is wanted stands apart from how it is done."""
        when = tag("span", said(block.when), " ", class_="when") if block.when else ""
        return tag("p", when, said(block.how))

    def codes(self, block: Codes) -> str:
        """In one line, the letters bold."""
        return tag("p", _letters(block), class_="codes")

    def blanks(self, block: Blanks) -> str:
        """A list in its order."""
        return tag("ol", *(_blank(blank) for blank in block.blanks), class_="boxes")

    def columns(self, block: Columns) -> str:
        """Side by side; one after the other where styles are off."""
        sides = zip(block.heads, (block.left, block.right), strict=True)
        both = (tag("section", tag("h3", said(head)), list.shown(self)) for head, list in sides)
        return tag("div", *both, class_="columns")

    def ruled(self, block: Ruled) -> str:
        """The free columns share what the printed ones leave."""
        rest = (100 - sum(block.widths)) // max(len(block.free), 1)
        widths = (*block.widths, *(rest for _ in block.free))
        columns = tag("colgroup", *(f'<col style="width: {width}%">' for width in widths))
        names = (*block.head, *block.free)
        head = tag("tr", *(tag("th", said(name), scope="col") for name in names))
        free = "".join(tag("td", "_" * 8, class_="free") for _ in block.free)
        rows = (tag("tr", *(tag("td", said(c)) for c in row), free) for row in block.rows)
        caption = (tag("caption", said(block.caption)),) if block.caption else ()
        body = tag("tbody", *rows)
        return tag("table", *caption, columns, tag("thead", head), body, class_="ruled")

    def numbered(self, block: Numbered) -> str:
        """In lines, with what it shows and the points with their numbers."""
        figure = block.picture.figure
        points = said("Points: " + "; ".join(block.points) + ".") if block.points else ""
        words = tag("figcaption", said(figure.words), " ", points)
        drawing = tag("figure", figure.svg, words)
        return tag("section", tag("h2", said(figure.title)), drawing, class_="step points")

    def together(self, block: Together) -> str:
        """One element where it has a heading."""
        inside = [inner.shown(self) for inner in block.blocks]
        if block.heading is None:
            return "\n".join(inside)
        size = " long" if _rows(block) > LONG else ""
        return tag("section", block.heading.shown(self), *inside, class_=f"step{size}")


def _rows(block: Together) -> int:
    """About how many rows it takes: of boxes, of letters under them, and of what is read before."""
    rows = 0
    for inner in block.blocks:
        if isinstance(inner, Blanks):
            rows += len(inner.blanks) + sum(bool(one.codes.letters) for one in inner.blanks)
        elif isinstance(inner, Columns):
            rows += len(inner.left.blanks) + len(inner.right.blanks)
        elif isinstance(inner, Notice):
            rows += len(inner.sentences)
    return rows


def _field(field: Field, beside: int) -> str:
    room = tag("i", said(field.value)) if field.value else "_" * 12
    return tag("li", tag("b", said(field.name)), " ", room, class_=f"of{beside}")


def _letters(codes: Codes) -> str:
    words = "; ".join(f"{tag('b', said(letter))} {said(words)}" for letter, words in codes.letters)
    return f"{said(codes.about)}: {words}" if codes.about else words


def _blank(blank: Blank) -> str:
    label = said(blank.label) + (f" ({said(blank.points)})" if blank.points else "")
    if blank.only_if:
        label += tag("span", f" [{said(blank.only_if)}]", class_="when")
    room = blank.kind.blank + MORE * blank.kind.measures
    inside = said(blank.preset) if blank.preset else "_" * room
    set_already = " set" if blank.preset else ""
    frame = tag("span", inside, class_=f"box {blank.kind.id}{set_already}")
    codes = tag("span", _letters(blank.codes), class_="codes") if blank.codes.letters else ""
    wide = {"class_": "wide"} if blank.kind.tells or blank.kind.gathers else {}
    return tag("li", tag("span", label, class_="label"), " ", frame, " ", codes, **wide)
