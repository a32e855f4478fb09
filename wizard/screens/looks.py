"""The palettes, dark and light; crosstape.tcss says what each color is for."""

from __future__ import annotations

import os
import sys

from textual.color import TRANSPARENT
from textual.dom import DOMNode
from textual.style import Style
from textual.theme import Theme

from wizard.telling.canvas import Charset

DARK = Theme(
    name="crosstape-dark",
    primary="#c9a35a",
    foreground="#ddd8cb",
    background="#14191b",
    surface="#14191b",
    dark=True,
    variables={
        "ink": "#ddd8cb",
        "faint": "#8d979a",
        "brass": "#dcb465",
        "tape": "#7fc4c9",
        "well": "#93c08b",
        "ill": "#ec8a70",
        "doubtful": "#e3c34f",
        "rule": "#3a4649",
        "raised": "#263236",
    },
)
LIGHT = Theme(
    name="crosstape-light",
    primary="#7a5410",
    foreground="#26292a",
    background="#f5f1e6",
    surface="#f5f1e6",
    dark=False,
    variables={
        "ink": "#26292a",
        "faint": "#62686a",
        "brass": "#7a5410",
        "tape": "#0d5f68",
        "well": "#2c6427",
        "ill": "#9c2f16",
        "doubtful": "#6f5800",
        "rule": "#c6bfae",
        "raised": "#e6dfcd",
    },
)


def look_of(node: DOMNode, name: str) -> Style:
    """The looks that the style sheet gives a component of a widget or of the app.

    `Widget.get_visual_style` does nearly this, but loses an opaque background and reverse (seen in
    Textual 8.2.8).
    """
    rules = node.get_component_styles(name)
    text = rules.text_style
    return Style(
        background=rules.background if rules.has_rule("background") else TRANSPARENT,
        foreground=rules.color if rules.has_rule("color") else None,
        bold=text.bold,
        dim=text.dim,
        reverse=text.reverse,
    )


def first_theme() -> str:
    """Light where the terminal says that its background is light (COLORFGBG ends in 7 or 15), else
    dark.
    """
    return (
        LIGHT.name
        if os.environ.get("COLORFGBG", "").rsplit(";", 1)[-1] in ("7", "15")
        else DARK.name
    )


EIGHT_DOTS = (
    *("KITTY_WINDOW_ID", "WEZTERM_PANE", "GHOSTTY_RESOURCES_DIR", "ALACRITTY_WINDOW_ID"),
    *("VTE_VERSION", "KONSOLE_VERSION", "ITERM_SESSION_ID", "WT_SESSION"),
)
"""What terminals set that draw braille themselves or borrow it from another font. Elsewhere a font
without it would show a row of empty boxes.
"""
QUARTERS_LACK = ("linux",)
"""Values of TERM with neither braille nor quadrants, whatever they say of UTF-8: the Linux console."""


def charset() -> Charset:
    """What to draw with: CROSSTAPE_DRAW says braille, blocks or ascii, else the finest that the
    terminal is known to print.
    """
    asked = os.environ.get("CROSSTAPE_DRAW", "")
    if asked in ("blocks", "braille", "ascii"):
        return asked  # type: ignore[return-value]
    encoding = (getattr(sys.__stdout__, "encoding", "") or "utf-8").lower()
    term = os.environ.get("TERM", "")
    if not encoding.startswith("utf") or term in QUARTERS_LACK:
        return "ascii"
    known = term.startswith("foot") or any(os.environ.get(name) for name in EIGHT_DOTS)
    return "braille" if known else "blocks"
