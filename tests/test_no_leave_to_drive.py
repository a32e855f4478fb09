"""Nothing that can be told reads as leave to drive, or as how to pull, heat or weld."""

from __future__ import annotations

import html
import re
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path

import pytest

from tests.told import HOME, Told, literals, of_code, of_content, sentences
from wizard.library import load_library
from wizard.library.shapes import Library
from wizard.survey.file import load
from wizard.telling.papers import report_as, source_of
from wizard.telling.sheet import sheet_of
from wizard.telling.sheet_html import form_html, sheet_html
from wizard.telling.sheet_text import form_text, sheet_text
from wizard.telling.shop_brief import shop_brief
from wizard.telling.tell import tell_text

SAMPLES = sorted((HOME / "sample_sessions").glob("*.toml"))
FORMS = (".html", ".md", ".txt", ".csv")
DAY = datetime(2027, 6, 1)

LEAVE = (
    r"\bsafe\b",
    r"\broad ?-?worth",
    r"\bfit (to|for) (drive|be driven|use|the road)",
    r"\bsound enough\b",
    r"\bstrong enough\b",
    r"\b(may|can|could|might|should) (now |again |still )*be (driven|used)\b",
    r"\b(may|can|could) (now |again |still )*(drive|run)\b",
    r"\b(allows?|numbers allow) it to be\b",
    r"\bdrive (it |the car )?(with care|carefully|gently|slowly|home|on|again|as|for|until|\d)",
    r"\b(keep|go on|carry on) driving\b",
    r"\bdriv(e?able|ing it)\b",
    r"\b(a|the|each|every|any|your|first|next|short|test|gentle|trial) drives?\b(?! train)",
    r"\b(is|are) driven\b",
    r"\bas it is and\b",
    r"\buse (it|the (car|frame)) (as|again|freely)\b",
    r"\b(back|again) on the road\b",
    r"\bgood to go\b",
    r"\b(no danger|not dangerous|harmless|nothing to (fear|worry))\b",
    r"\blet it stand\b",
    r"\btake (it|the car) (out )?(for|on) (a|the)\b",
)
"""Words that give leave to drive, or suppose that there is."""

WORK = (
    r"(it|them|both|that|the"
    r" (rail|frame|horn|crossmember|flange|web|metal|steel|corner|kink|crack|twist|bend)s?)"
)
HOW = (
    rf"\b(heat|weld|braze|hammer|straighten|chain|peen|warm) {WORK}\b",
    rf"\bpull {WORK}( \w+){{0,2}} (back|straight|square|out|down|up|true)\b",
    (
        rf"\b(push|press|jack|bend|twist|force) {WORK}( \w+){{0,2}}"
        r" (back|straight|square|true|level)\b"
    ),
    r"\bheat (to|until|up|with|on)\b",
    r"(?<!the )(?<!a )(?<!each )(?<!hidden )\bweld (a|an|on|over|up|along|in|with)\b",
    r"\b(dull|cherry|red)[ -](red|hot)\b",
    r"\b(stop[ -]drill|drill (a hole )?at the end)\b",
    r"\b(set|turn) the (torch|welder|ram|come-along)\b",
)
"""Orders to pull, heat or weld."""
UNLESS = (
    r"\bnever says that (a|the) car may be driven\b",
    r"\bneither says whether a car may be driven\b",
    r"\bdo not (heat|pull|weld|force|bend)[^.;]*",
    r"\bdo not drive it\b",
)
"""What is said against it, taken out before anybody looks."""
FAULTS = tuple(re.compile(p, re.I) for p in (*LEAVE, *HOW))
SAID_AGAINST = re.compile("|".join(UNLESS), re.I)
ALLOWED: dict[Told, str] = {
    (
        "content/steps/heat-and-clamps.toml",
        "Bulk heat on frames is forbidden in TB 9-2320-335-13&P and TB 9-2510-242-40.",
    ): "it names who forbids it",
}
"""Sentences that are no leave and no order, each with its reason."""


def refused(told: Iterator[Told] | tuple[Told, ...]) -> list[Told]:
    """What gives leave to drive, or tells how to pull, heat or weld."""
    bad = (t for t in told if any(f.search(SAID_AGAINST.sub("", t[1])) for f in FAULTS))
    return [t for t in dict.fromkeys(bad) if t not in ALLOWED]


def plain(text: str, suffix: str) -> str:
    """A paper's words without its marks; every block of HTML ends a sentence."""
    if suffix == ".html":
        body = re.sub(r"<(style|svg)\b.*?</\1>", " ", text, flags=re.S)
        return html.unescape(
            re.sub(r"<[^>]*>", " ", re.sub(r"</(p|li|td|th|h\d|caption|figcaption)>", ". ", body))
        )
    return text.replace("\\", "") if suffix == ".md" else text


def test_no_string_of_content_and_none_of_the_program() -> None:
    assert refused((*of_content(), *of_code())) == []


@pytest.fixture(scope="module")
def library() -> Library:
    return load_library()


@pytest.mark.parametrize("path", SAMPLES, ids=lambda p: p.stem)
def test_no_sample_as_it_is_told_kept_or_reported(path: Path, library: Library) -> None:
    survey = load(path)
    texts = {"kept": path.read_text(encoding="utf-8").replace("\\n", " ")}
    texts |= {
        f"tell {mentor} {whole}": tell_text(survey, library, DAY, mentor=mentor, whole=whole)
        for mentor, whole in ((False, False), (False, True), (True, True))
    }
    for suffix in FORMS:
        texts[f"report{suffix}"] = plain(
            report_as(survey, library, DAY, source_of(path), suffix), suffix
        )
    assert refused(tuple((name, s) for name, text in texts.items() for s in sentences(text))) == []


@pytest.mark.parametrize("path", SAMPLES, ids=lambda p: p.stem)
def test_no_brief(library: Library, path: Path) -> None:
    """What is asked of a shop says nothing of how it is done."""
    form = shop_brief(load(path), library, DAY)
    texts = {"text": form_text(form), "html": plain(form_html(form), ".html")}
    told = tuple((name, s) for name, text in texts.items() for s in sentences(text))
    assert len(told) > 60
    assert refused(told) == []


def test_no_sheet(library: Library) -> None:
    for layout in library.layouts:
        sheet = sheet_of(library, layout, {})
        texts = {"text": sheet_text(sheet), "html": plain(sheet_html(sheet), ".html")}
        told = tuple(
            (f"{layout} {name}", s) for name, text in texts.items() for s in sentences(text)
        )
        assert len(told) > 100
        assert refused(told) == []


def test_no_page_for_whoever_opens_the_project_first() -> None:
    text = (HOME / "README.md").read_text(encoding="utf-8")
    assert refused(tuple(("README.md", s) for s in sentences(text))) == []


GIVES_LEAVE = (
    "It is safe to drive.",
    "It may be driven again after paint.",
    "Use the frame as it is, and keep an eye on it.",
    "After paint and the first drives: the joints near what was found.",
    "Wipe, mark the end of the line with a pencil, look after the next drive.",
    "Each painted joint seen clean, in low light, before and after a drive if you can.",
    "A car that moved, or is driven hard, is looked at sooner.",
    "The numbers allow it to be used; something is worth an eye.",
    "Is the frame straight and sound enough to go on with?",
    "Its lower rim is strong enough to lift on.",
    "Nothing was found, so you can drive on.",
    "Drive it carefully until the joint is seen.",
    "It is roadworthy.",
    "Good to go.",
    "Let it stand.",
    "Heat it to a dull red.",
    "Pull the rail back until the diagonals agree.",
    "Weld a plate over the crack.",
    "Straighten the horn before paint.",
    "Stop-drill its end.",
    "Jack the rail back level.",
)
"""Some of them stood here once."""
GIVES_NONE = (
    "A survey of this kind never says that a car may be driven, and it never finds every crack.",
    "Do not drive it; somebody who knows frames must look at it first.",
    "How far was it driven since?",
    "This program gives no instruction for pulling, heating or welding.",
    "Do not heat or burn paint off.",
    "Look along the weld, and most of all at its two ends.",
    "Pull straight across to the right dot.",
    "Leave it or keep an eye on it; nothing to put right.",
)


@pytest.mark.parametrize("words", GIVES_LEAVE)
def test_such_words_are_refused_wherever_they_are_put_in(words: str) -> None:
    code = f"def told(what: str) -> str:\n    return f'{{what}}: ' + {words!r}"
    for text in (words, *literals(code), plain(f"<p>{words}</p>", ".html")):
        if text.strip(": {}"):
            assert refused(tuple(("somewhere", s) for s in sentences(text))), text


@pytest.mark.parametrize("words", GIVES_NONE)
def test_what_forbids_or_remembers_a_drive_is_not_refused(words: str) -> None:
    assert refused(tuple(("somewhere", s) for s in sentences(words))) == []
