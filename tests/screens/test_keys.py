"""Keys, pastes and clicks on the running app."""

from __future__ import annotations

from pathlib import Path

import pytest
from textual import events

from tests.sitting.driving import READ, typed_to
from wizard.screens.app import CrosstapeApp
from wizard.survey.file import load

AT_TAPE = ("n", *typed_to("Bramble", "i", "s", "w", "o", "/go long-diagonals", READ))
FILE = Path("Surveys/bramble-2026-04-11.toml")


def _typed(file: Path = FILE) -> list[tuple[str, str]]:
    return [(r.prompt.rpartition("/")[2], r.typed) for r in load(file).rows.get("reading", ())]  # type: ignore[attr-defined]


async def _paste(app: CrosstapeApp, pilot, text: str) -> None:
    app.post_message(events.Paste(text))
    await pilot.pause(0.06)


async def test_lines_of_a_paste_are_answers_in_order(build) -> None:
    app = build(*AT_TAPE)
    async with app.run_test() as pilot:
        await _paste(app, pilot, "91 1/8\r\n91\n\n91 1/16\n91 1/16")
    assert _typed() == [
        ("front-left--rear-right", "91 1/8"),
        ("front-right--rear-left", "91"),
        ("front-left--rear-right", "91 1/16"),
        ("front-right--rear-left", "91 1/16"),
    ]


async def test_a_refused_line_of_a_paste_sets_the_rest_aside(build, screen_text) -> None:
    app = build(*AT_TAPE)
    async with app.run_test() as pilot:
        await _paste(app, pilot, "91 1/8\n25 9/8\n91\n91\n")
        assert "The 2 lines after it were not taken." in " ".join(screen_text(app).split())
        assert app.entry.content.text == ""
    assert _typed() == [("front-left--rear-right", "91 1/8")]


async def test_a_paste_of_part_of_a_line_waits_for_enter(build, type_in) -> None:
    app = build(*AT_TAPE)
    async with app.run_test() as pilot:
        await _paste(app, pilot, "91 1")
        assert app.entry.content.text == "91 1"
        await type_in(pilot, "/8")
    assert _typed() == [("front-left--rear-right", "91 1/8")]


async def test_keys_struck_in_one_burst_after_a_refusal_are_set_aside(
    build, screen_text, type_in
) -> None:
    app = build(*AT_TAPE)
    async with app.run_test() as pilot:
        for key in [*"nan", "enter", *"91", "enter"]:
            app.post_message(events.Key(key, key if len(key) == 1 else "\r"))
        await pilot.pause(0.06)
        assert "The 3 characters after it were not taken." in " ".join(screen_text(app).split())
        await type_in(pilot, "91 1/8")
    assert _typed() == [("front-left--rear-right", "91 1/8")]


async def test_a_doubt_in_a_burst_is_not_kept_by_the_line_ends_behind_it(build) -> None:
    app = build(*AT_TAPE, "91 1/8", "91")
    async with app.run_test() as pilot:
        for key in [*"92", "enter", "enter", "enter"]:
            app.post_message(events.Key(key, key if len(key) == 1 else "\r"))
        await pilot.pause(0.06)
        assert app.desk.said.kind == "doubted"
    assert len(_typed()) == 2


async def test_carriage_return_and_line_feed_are_one_line_end(build) -> None:
    app = build(*AT_TAPE)
    async with app.run_test() as pilot:
        for key in [*"91", "enter", "ctrl+j", *"91", "enter", "ctrl+j"]:
            app.post_message(events.Key(key, key if len(key) == 1 else None))
        await pilot.pause(0.06)
    assert [typed for _, typed in _typed()] == ["91", "91"]


async def test_keys_behind_f10_are_for_nobody(build) -> None:
    app = build(*AT_TAPE)
    async with app.run_test() as pilot:
        for key in [*"91", "enter", "f10", *"90", "enter"]:
            app.post_message(events.Key(key, key if len(key) == 1 else None))
        await pilot.pause(0.06)
    assert [typed for _, typed in _typed()] == ["91"]
    assert app.return_code == 0


async def test_text_typed_over_a_panel_goes_to_the_question(build, screen_text, type_in) -> None:
    app = build(*AT_TAPE)
    async with app.run_test() as pilot:
        await pilot.press("f2")
        await pilot.pause()
        assert "What spoils it" in screen_text(app)
        await type_in(pilot, "91 1/8")
        assert "What spoils it" not in screen_text(app)
    assert _typed() == [("front-left--rear-right", "91 1/8")]


async def test_f4_waits_for_the_reason(build, type_in) -> None:
    app = build(*AT_TAPE)
    async with app.run_test() as pilot:
        await pilot.press("f4")
        await type_in(pilot, "tank in the way")
    (skip,) = load(FILE).rows["skip"]
    assert skip.why == "tank in the way"  # type: ignore[attr-defined]


async def test_tab_and_arrows_never_lose_the_entry_line(build, type_in) -> None:
    app = build(*AT_TAPE)
    async with app.run_test() as pilot:
        await pilot.press("tab", "backspace", "shift+tab", "up", "down", "escape")
        assert app.entry.has_focus
        await type_in(pilot, "91 1/8")
    assert _typed() == [("front-left--rear-right", "91 1/8")]


async def test_a_click_chooses_on_the_opening_page(build, screen_text) -> None:
    app = build()
    async with app.run_test() as pilot:
        rows = enumerate(screen_text(app).splitlines())
        row = next(n for n, text in rows if text.startswith(" > n  start a new survey"))
        await pilot.click(offset=(6, row))
        await pilot.pause()
        assert "What do you call this car?" in screen_text(app)
        assert app.entry.has_focus


async def test_a_click_on_the_key_line_is_the_key(build, screen_text) -> None:
    app = build(*AT_TAPE)
    async with app.run_test() as pilot:
        keys = screen_text(app).splitlines()[22]
        await pilot.click(offset=(keys.index("spoils"), 22))
        await pilot.pause()
        assert "What spoils it" in screen_text(app)


async def test_f9_turns_dark_to_light(build) -> None:
    app = build()
    async with app.run_test() as pilot:
        before = app.screen.styles.background
        await pilot.press("f9")
        await pilot.pause()
        assert app.screen.styles.background != before


HOSTILE = "[/red] \x1b]0;owned\x07\x9b31m \u202eelbmarB\u2066 [bold 🚗"


async def test_a_hostile_name_shows_harmlessly(build, screen_text, tmp_path: Path) -> None:
    build(*AT_TAPE)
    text = FILE.read_text(encoding="utf-8")
    hostile = text.replace(
        '"Bramble"', '"' + HOSTILE.encode("unicode_escape").decode().replace("\\x", "\\u00") + '"'
    )
    assert hostile != text
    FILE.write_text(hostile, encoding="utf-8")
    for app in (build(), build(file=FILE)):
        async with app.run_test(size=(120, 36), notifications=True, tooltips=True) as pilot:
            await pilot.press("f6")
            await pilot.pause()
            shown = screen_text(app)
        assert "[/red]" in shown
        assert "[bold" in shown
        assert not any(
            c != "\n" and (ord(c) < 32 or 0x7F <= ord(c) < 0xA0 or c in "\u202e\u2066")
            for c in shown
        )


async def test_hostile_words_as_answers_show_harmlessly(build, screen_text) -> None:
    app = build(*AT_TAPE)
    async with app.run_test() as pilot:
        await _paste(app, pilot, HOSTILE + "\n")
        await _paste(app, pilot, f"/skip {HOSTILE}\n")
        shown = screen_text(app)
        assert "[/red]" in shown


async def test_no_color_needs_no_color(build, screen_text, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    app = build(*AT_TAPE, "91 1/8", "25 9/8")
    async with app.run_test() as pilot:
        await pilot.pause()
        assert app.native_ansi_color
        shown = screen_text(app)
        assert "! Not taken." in shown
        assert "> right front to left rear" in shown


async def test_ctrl_t_lays_what_is_open_over_the_page_and_takes_it_off(build, screen_text) -> None:
    app = build(*AT_TAPE)
    async with app.run_test() as pilot:
        assert "Known next: " in screen_text(app)
        await pilot.press("ctrl+t")
        await pilot.pause()
        text = screen_text(app)
        assert "What the next half hour would tell" in text
        assert "What would settle it" in text
        await pilot.press("ctrl+t")
        await pilot.pause()
        assert "What would settle it" not in screen_text(app)
        app.entry.press("ctrl+t")
        assert app.entry.content.text == ""


async def test_a_wide_trail_shows_where_it_is_good_to_stop(build, screen_text) -> None:
    app = build(*AT_TAPE)
    async with app.run_test(size=(120, 36)) as pilot:
        await pilot.pause()
        assert "-- good to stop --" in screen_text(app)
