"""Text made safe before it is kept or shown."""

import pytest

from wizard.readings.plain import clean, clean_line

pytestmark = pytest.mark.quick


@pytest.mark.parametrize(
    ("text", "safe"),
    [
        ("left horn", "left horn"),
        ("\x1b]0;title\x07rust", "]0;titlerust"),
        ("a\x00b\x7fc", "abc"),
        ("a\x9bb", "ab"),
        ("left\nhorn\tbent", "left horn bent"),
        ("left\r\nhorn", "left horn"),
        ("left\u2028horn\u2029bent\x85rust", "left horn bent rust"),
        ("\u202egnol\u202c", "gnol"),
        ("\u061ca\u200eb\u200fc\u2066d\u2069", "abcd"),
        ("a\u200bb\u200cc\u200dd\u2060e\ufefff", "abcdef"),
        ("caf\udce9", "caf"),
        ("été 25⅞″ ±0.5° Ω [/bold]", "été 25⅞″ ±0.5° Ω [/bold]"),
    ],
)
def test_what_drives_a_terminal_goes_and_words_stay(text: str, safe: str) -> None:
    assert clean(text) == safe


@pytest.mark.parametrize(
    "code", [*range(0x20), *range(0x7F, 0xA0), *range(0x202A, 0x202F), *range(0x2066, 0x206A)]
)
def test_no_control_is_left(code: int) -> None:
    assert chr(code) not in clean(f"a{chr(code)}b")
    assert chr(code) not in clean_line(f"a{chr(code)}b")


@pytest.mark.parametrize(
    ("text", "limit", "line"),
    [
        ("  left \n\n horn  ", 500, "left horn"),
        ("left\u00a0horn\u2003bent", 500, "left horn bent"),
        ("12345", 5, "12345"),
        ("123456", 5, "1234…"),
        ("\x1b\x1b", 5, ""),
    ],
)
def test_one_line_is_folded_and_cut_with_a_mark(text: str, limit: int, line: str) -> None:
    assert clean_line(text, limit) == line


def test_a_cut_line_keeps_its_limit() -> None:
    assert len(clean_line("x" * 9999)) == 500
