"""HTML read back by a strict parser, and what a reader without pictures and styles is left with."""

from __future__ import annotations

import re
from html.parser import HTMLParser
from itertools import pairwise
from xml.etree import ElementTree

import html5lib

HIDDEN = ("style", "svg", "script", "head")
VOID = ("meta", "col", "br", "hr", "img", "link", "input", "wbr", "base")
SVG = "{http://www.w3.org/2000/svg}"


def strict(text: str) -> ElementTree.Element:
    """The document; html5lib raises at the first error that the HTML standard calls a parse error."""
    parsed = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(text)
    assert isinstance(parsed, ElementTree.Element)
    return parsed


def pictures(text: str) -> list[ElementTree.Element]:
    """Every inline picture, read as the XML that it must be too."""
    return [ElementTree.fromstring(svg) for svg in re.findall(r"<svg.*?</svg>", text, re.DOTALL)]


class _Words(HTMLParser):
    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.inside: list[str] = []
        self.words: list[str] = []
        self.tags: list[str] = []
        self.names: set[str] = set()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        self.names |= {name for name, _ in attrs}
        if tag in HIDDEN:
            self.inside.append(tag)

    def handle_endtag(self, tag: str) -> None:
        if self.inside and tag == self.inside[-1]:
            self.inside.pop()

    def handle_data(self, data: str) -> None:
        if not self.inside:
            self.words.append(data)


def words(text: str) -> str:
    """The text with pictures and styles off, white space folded."""
    parser = _Words()
    parser.feed(text)
    return " ".join(" ".join(parser.words).split())


def tags(text: str) -> list[str]:
    """Every element's name, in order."""
    parser = _Words()
    parser.feed(text)
    return parser.tags


def names(text: str) -> set[str]:
    """Every attribute's name."""
    parser = _Words()
    parser.feed(text)
    return parser.names


def check(text: str) -> None:
    """Everything that any page of ours must be: strict HTML5, self-contained, headings in order,
    pictures told.
    """
    document = strict(text)
    assert document.get("lang") == "en"
    found = tags(text)
    assert not {"script", "iframe", "object", "embed", "link", "img", "form", "base"} & set(found)
    assert not {"src", "srcset", "action", "background", "poster", "xlink:href", "href"} & names(
        text
    )
    assert not [name for name in names(text) if name.startswith("on")]
    style = "".join(re.findall(r"<style>(.*?)</style>", text, re.DOTALL))
    assert "url(" not in style
    assert "@import" not in style
    levels = [int(t[1]) for t in found if re.fullmatch(r"h[1-6]", t)]
    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(b - a <= 1 for a, b in pairwise(levels)), levels
    ids = re.findall(r'\bid="([^"]*)"', text)
    assert len(ids) == len(set(ids))
    for picture in pictures(text):
        title, told = picture.find(f"{SVG}title"), picture.find(f"{SVG}desc")
        assert title is not None
        assert told is not None
        assert title.text
        assert told.text
        assert picture.get("role") == "img"
        assert set(picture.get("aria-labelledby", "").split()) <= set(ids)
        assert " ".join(told.text.split()) in words(text), (
            "what a picture says must be there without it"
        )
