"""HTML pages made by hand: escaped text, no script, no outside address, one style sheet inside."""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Iterator
from html import escape

from wizard.readings.plain import clean, clean_line
from wizard.telling.document import (
    Block,
    Document,
    Heading,
    Items,
    Paragraph,
    Photo,
    Picture,
    Quote,
    Sketch,
    Table,
    Terms,
)

POLICY = "default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'"
"""A second lock: even if some text were taken for markup, a browser would load and run nothing."""
WITH_PHOTOS = f"{POLICY}; img-src data:"
"""The same for a page with photos, which stand in the page itself."""
BASE = """
@page { margin: 12mm; }
* { box-sizing: border-box; }
body { font: 10.5pt/1.35 Georgia, 'Times New Roman', serif; color: #000; background: #fff;
  max-width: 186mm; margin: 0 auto; overflow-wrap: anywhere; }
h1, h2, h3, h4, th, .sans { font-family: Helvetica, Arial, sans-serif; line-height: 1.2; }
h1 { font-size: 17pt; margin: 0 0 2mm; }
h2 { font-size: 13pt; margin: 5mm 0 1.5mm; border-bottom: 1pt solid #000; }
h3 { font-size: 11pt; margin: 3mm 0 1mm; } h4 { font-size: 10.5pt; margin: 2mm 0 1mm; }
p { margin: 0 0 1.5mm; } ul, ol { margin: 0 0 1.5mm; padding-left: 6mm; }
h1, h2, h3, h4 { break-after: avoid; }
tr, figure, li, p { break-inside: avoid; }
p { orphans: 3; widows: 3; }
table { border-collapse: collapse; width: 100%; margin: 1mm 0 3mm; font-size: 9.5pt; }
thead { display: table-header-group; }
th, td { border: 0.5pt solid #000; padding: 0.6mm 1.2mm; text-align: left; vertical-align: top; }
caption { text-align: left; font-weight: bold; padding: 1mm 0; }
figure { margin: 2mm 0 4mm; }
figcaption { font-size: 9.5pt; }
svg { display: block; width: 100%; height: auto; }
"""

REPORT = """
body { font: 9.5pt/1.3 Helvetica, Arial, sans-serif; }
.new { break-before: page; }
.strong { break-after: avoid; }
.short { break-inside: avoid; }
figure:has(+ table) { margin-bottom: 0; }
figure + table { break-before: avoid; margin-top: 0; }
figure + table :is(th, td) { padding: 0.2mm 1.2mm; }
.strong { font-weight: bold; font-size: 12pt; }
dl { display: grid; grid-template-columns: max-content 1fr; column-gap: 4mm; margin: 0 0 1.5mm; }
dt { font-weight: bold; } dd { margin: 0; }
table { font-size: 7.5pt; line-height: 1.2; table-layout: fixed; }
.kept { white-space: pre-wrap; font-family: monospace; font-size: 8pt; line-height: 1.2;
  break-inside: auto; }
.appendix .kept { columns: 2; column-gap: 4mm; font-size: 5.8pt; line-height: 1.15; }
.appendix { font-size: 8pt; line-height: 1.2; } .appendix .strong { font-size: 8.5pt; }
.appendix table { font-size: 6.8pt; line-height: 1.12; margin: 0.5mm 0 2mm; }
.appendix :is(th, td) { padding: 0.15mm 0.8mm; border-width: 0.3pt; }
.appendix h2 { font-size: 10.5pt; margin: 2.5mm 0 1mm; }
.appendix h3 { font-size: 9pt; margin: 1.5mm 0 0.5mm; }
p:has(+ table), p:has(+ .halves) { break-after: avoid; }
.appendix caption { padding: 0.3mm 0; } .appendix li { margin-bottom: 0.3mm; }
.halves { columns: 2; column-gap: 4mm; } .halves tbody tr:first-child { break-after: avoid; }
thead, caption { break-after: avoid; }
.beside { display: grid; grid-template-columns: var(--share) 1fr; column-gap: 4mm;
  align-items: center; }
.beside > svg { width: 100%; }
figure:not(.beside) > svg { width: var(--share, 100%); margin: 0 auto; }
h1 { font-size: 15pt; }
.first { font-size: 8.5pt; line-height: 1.25; }
.first h2 { font-size: 9.5pt; margin: 1.6mm 0 0.5mm; border-bottom-width: 0.5pt; }
.first li, .first p { margin-bottom: 0.3mm; }
.first ul { margin-bottom: 0.5mm; }
.first .strong { font-size: 10.5pt; }
.first dl { margin-bottom: 0.5mm; column-gap: 3mm; }
.first figure { margin: 1mm 0; }
.first figcaption { font-size: 8pt; }
.first table { font-size: 8pt; margin: 0; }
.first caption { font-weight: normal; padding: 0 0 0.5mm; }
.first :is(th, td) { padding: 0.2mm 1mm; }
h2 { margin-top: 4mm; } h3 { margin-top: 2mm; font-size: 10pt; } li, p { margin-bottom: 0.6mm; }
figcaption { font-size: 8pt; line-height: 1.25; } figure { margin: 1.5mm 0 2.5mm; }
.photo { display: inline-block; width: 48%; margin: 0 1.5% 3mm 0; vertical-align: top; }
.photo img { display: block; max-width: 100%; max-height: 60mm; width: auto; height: auto; }
@media screen { body { max-width: 60rem; padding: 1rem; } .wide { overflow-x: auto; } }
"""

SHORT = 6
"""Rows of a table that is not parted by the end of a page."""


def said(words: str, limit: int = 4000) -> str:
    """Text of any origin, made safe to stand in a page: no controls, no bidi marks, no markup."""
    return escape(clean_line(words, limit), quote=True)


def tag(name: str, *inside: str, **attributes: str) -> str:
    """An element; `inside` is markup already, attribute values are escaped, `class_` becomes
    `class`.
    """
    head = "".join(
        f' {key.rstrip("_").replace("_", "-")}="{said(value)}"' for key, value in attributes.items()
    )
    return f"<{name}{head}>{''.join(inside)}</{name}>"


def page(title: str, style: str, *body: str, policy: str = POLICY) -> str:
    """A whole document in UTF-8."""
    head = (
        '<meta charset="utf-8">'
        f'<meta http-equiv="Content-Security-Policy" content="{escape(policy, quote=True)}">'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        f"<title>{said(title)}</title><style>{BASE}{style}</style>"
    )
    inside = "\n".join(body)
    return (
        "<!DOCTYPE html>\n<html"
        f' lang="en">\n<head>{head}</head>\n<body>\n{inside}\n</body>\n</html>\n'
    )


def html_of(document: Document) -> str:
    """A document as a page of its own; what comes before its first new page is set as one sheet."""
    breaks = (n for n, b in enumerate(document.blocks) if isinstance(b, Heading) and b.new_page)
    second = next(breaks, len(document.blocks))
    small = next((n for n, b in enumerate(document.blocks) if _is_small(b)), len(document.blocks))
    blocks = [block.shown(Markup()) for block in document.blocks]
    photos = any(isinstance(block, Photo) for block in document.blocks)
    return page(
        document.title,
        REPORT + feet(document.foot),
        tag("h1", said(document.title)),
        tag("div", *blocks[:second], class_="first"),
        *blocks[second:small],
        *([tag("div", *blocks[small:], class_="appendix")] if blocks[small:] else []),
        policy=WITH_PHOTOS if photos else POLICY,
    )


def _bodies(block: Table) -> Iterator[str]:
    """The rows; of a narrow table those that share something are a body of their own, under it."""
    rows: list[str] = []
    for cells in block.rows:
        if block.narrow and not any(cells[1:]):
            if rows:
                yield tag("tbody", *rows)
            width = str(len(block.head))
            rows = [tag("tr", tag("th", said(cells[0]), scope="rowgroup", colspan=width))]
        else:
            rows.append(tag("tr", *(tag("td", said(cell)) for cell in cells)))
    yield tag("tbody", *rows)


def _is_small(block: Block) -> bool:
    """Whether small print begins with it."""
    return isinstance(block, Heading) and block.small


FEET = """
@page {{ margin: 12mm 12mm 15mm;
  @bottom-left {{ content: "{foot}"; font: 8pt Helvetica, Arial, sans-serif; }}
  @bottom-right {{ content: "Page " counter(page) " of " counter(pages);
    font: 8pt Helvetica, Arial, sans-serif; }} }}
"""


def feet(foot: str) -> str:
    """What stands at the foot of every printed sheet, for a browser that can set it there."""
    return FEET.format(foot=_quoted(foot)) if foot else ""


def _quoted(text: str) -> str:
    """Text inside a string of a style sheet: whatever is no letter, figure or blank by its number,
    so that nothing in it ends the string, the style or the page.
    """
    plain = clean_line(text, 200)
    safe = (c if c.isascii() and (c.isalnum() or c in " ,.") else f"\\{ord(c):06x} " for c in plain)
    return "".join(safe)


class Markup:
    """The face that writes a document in elements."""

    def heading(self, block: Heading) -> str:
        """By its level."""
        more = {"class_": "new"} if block.new_page else {}
        return tag(f"h{block.level}", said(block.text), **more)

    def paragraph(self, block: Paragraph) -> str:
        """A paragraph."""
        return tag("p", said(block.text), **({"class_": "strong"} if block.strong else {}))

    def items(self, block: Items) -> str:
        """A list."""
        return tag("ul", *(tag("li", said(item.text)) for item in block.items))

    def terms(self, block: Terms) -> str:
        """A list of terms."""
        rows = (tag("dt", said(label)) + tag("dd", said(item.text)) for label, item in block.rows)
        return tag("dl", *rows)

    def table(self, block: Table) -> str:
        """A table that repeats its head on every page."""
        head = tag("tr", *(tag("th", said(name), scope="col") for name in block.head))
        columns = tag("colgroup", *(f'<col style="width: {width}%">' for width in block.widths))
        short = {"class_": "short"} if len(block.rows) <= SHORT else {}
        table = tag(
            "table",
            tag("caption", said(block.caption)),
            columns,
            tag("thead", head),
            *_bodies(block),
            **short,
        )
        return tag("div", table, class_="halves") if block.narrow else table

    def picture(self, block: Picture) -> str:
        """The drawing in lines with its words."""
        title, words = said(block.figure.title + "."), said(block.figure.words)
        caption = tag("figcaption", tag("strong", title), " ", words)
        more = {"style": f"--share: {block.share}%"} if block.share < 100 else {}
        more |= {"class_": "beside"} if block.beside else {}
        return tag("figure", block.figure.svg, caption, **more)

    def photo(self, block: Photo) -> str:
        """In the page itself, whole on one sheet, with its caption."""
        words, place = said(block.shows or "photo"), f"data:{block.kind};base64,"
        size = f'width="{block.width}" height="{block.height}"'
        shown = f'<img alt="{words}" {size} src="{place}{b64encode(block.data).decode("ascii")}">'
        title = tag("strong", said(f"{block.title}."))
        return tag(
            "figure", shown, tag("figcaption", title, " ", said(block.caption)), class_="photo"
        )

    def sketch(self, block: Sketch) -> str:
        """Nothing: it is for a screen."""
        return ""

    def quote(self, block: Quote) -> str:
        """Lines as they stand."""
        return tag("p", "\n".join(escape(clean(one)) for one in block.lines), class_="kept")
