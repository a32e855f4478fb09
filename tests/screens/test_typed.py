"""The entry line's text, and what belongs to one burst."""

from __future__ import annotations

import pytest

from wizard.screens.typed import BURST_GAP_S, Burst, Typed

pytestmark = pytest.mark.quick


@pytest.mark.parametrize(
    ("keys", "text", "at"),
    [
        (["left", "backspace"], "25 78", 4),
        (["home", "delete"], "5 7/8", 0),
        (["home", "backspace"], "25 7/8", 0),
        (["ctrl+w"], "25 ", 3),
        (["left", "left", "ctrl+u"], "/8", 0),
        (["home", "right", "ctrl+k"], "2", 1),
        (["end", "right", "f3"], "25 7/8", 6),
    ],
)
def test_editing_keys(keys: list[str], text: str, at: int) -> None:
    line = Typed().insert("25 7/8")
    for key in keys:
        line = line.press(key)
    assert (line.text, line.at) == (text, at)


def test_what_is_put_in_is_cleaned() -> None:
    assert Typed().insert("25\t7/8\x1b[31m\u202e").text == "25 7/8[31m"


@pytest.mark.parametrize("text", ["", "short", "x" * 10_000, "車" * 30, "🚗 e\u0301 [/]"])
def test_the_cursor_is_always_in_the_window(text: str) -> None:
    from rich.cells import cell_len

    before, under, _ = Typed().insert(text).window(20)
    assert cell_len(before) + cell_len(under) <= 20
    assert text.endswith(before)


def test_a_burst_is_swallowed_until_it_pauses() -> None:
    burst = Burst()
    assert not burst.swallows(1.0)
    burst.stop(1.0)
    gap = BURST_GAP_S * 0.9
    assert [burst.swallows(1.0 + gap * n) for n in (1, 2, 3)] == [True] * 3
    assert burst.count == 3
    assert not burst.swallows(1.0 + gap * 3 + BURST_GAP_S * 1.1)
    assert not burst.swallows(1.0 + gap * 3 + BURST_GAP_S * 1.2)
