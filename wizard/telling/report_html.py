"""The report as one HTML file: nothing outside it is needed, no script runs, it prints on A4 and
Letter.
"""

from __future__ import annotations

from wizard.telling.blocks import Block, Heading, Items, Para, Picture, Report, Table
from wizard.telling.html import page, said, tag

STYLE = """
.new { break-before: page; }
.strong { break-after: avoid; } .short { break-inside: avoid; } figure:has(+ table) { margin-bottom: 0; }
figure + table { break-before: avoid; margin-top: 0; } figure + table :is(th, td) { padding: 0.2mm 1.2mm; }
.strong { font-weight: bold; font-size: 12pt; }
table { font-size: 8.5pt; table-layout: fixed; }
.first { font-size: 9.5pt; line-height: 1.3; } .first h2 { font-size: 11.5pt; margin: 2.5mm 0 0.8mm; }
.first li, .first p { margin-bottom: 0.5mm; }
@media screen { body { max-width: 60rem; padding: 1rem; } .wide { overflow-x: auto; } }
"""

SHORT = 12
"""Rows of a table that is not parted by the end of a page."""


def report_html(report: Report) -> str:
    """The whole report."""
    second = next(
        (n for n, b in enumerate(report.blocks) if isinstance(b, Heading) and b.new_page), None
    )
    first, rest = (
        report.blocks[:second],
        report.blocks[len(report.blocks) if second is None else second :],
    )
    return page(
        report.title,
        STYLE,
        tag("h1", said(report.title)),
        tag("div", *(_block(b) for b in first), class_="first"),
        *(_block(b) for b in rest),
    )


def _block(block: Block) -> str:
    if isinstance(block, Heading):
        more = {"class_": "new"} if block.new_page else {}
        return tag(f"h{block.level}", said(block.text), **more)
    if isinstance(block, Para):
        return tag("p", said(block.text), **({"class_": "strong"} if block.strong else {}))
    if isinstance(block, Items):
        return tag("ul", *(tag("li", said(line)) for line in block.lines))
    if isinstance(block, Table):
        return _table(block)
    return _picture(block)


def _table(table: Table) -> str:
    head = tag("tr", *(tag("th", said(name), scope="col") for name in table.head))
    rows = (tag("tr", *(tag("td", said(cell)) for cell in row)) for row in table.rows)
    columns = tag("colgroup", *(f'<col style="width: {width}%">' for width in table.widths))
    short = {"class_": "short"} if len(table.rows) <= SHORT else {}
    return tag(
        "table",
        tag("caption", said(table.caption)),
        columns,
        tag("thead", head),
        tag("tbody", *rows),
        **short,
    )


def _picture(picture: Picture) -> str:
    title = tag("strong", said(picture.figure.title + "."))
    return tag(
        "figure", picture.figure.svg, tag("figcaption", title, " ", said(picture.figure.words))
    )
