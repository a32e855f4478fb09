"""The opening page beside opening: measure again, compare, print a sheet."""

from __future__ import annotations

import re
import shutil
from datetime import datetime
from pathlib import Path

import pytest

from tests.sitting.driving import READ, typed_to
from wizard.library import load_library
from wizard.library.paths import samples_dir
from wizard.screens.desk import Desk
from wizard.screens.mode import Space
from wizard.screens.opening import Opening
from wizard.screens.paper import as_text
from wizard.screens.stage import stage
from wizard.survey.file import load, make_folder, save
from wizard.survey.record import Survey
from wizard.survey.rows import Verdict

NOON = datetime(2026, 4, 11, 12, 0)


def _with_brief(survey: Survey) -> Survey:
    row = Verdict(id=survey.new_id(Verdict), at=NOON, text="Welds.", brief=BRIEF)
    return survey.with_row(row)


BEGUN = ("Bramble", "i", "s", "w", "o")
AT_TAPE = ("n", *typed_to(*BEGUN, "/go long-diagonals", READ), "91 1/8", "91", "91 1/16", "91")


LATER = datetime(2027, 6, 1, 12, 0)
BRIEF = "welds where rivets were, scale from heat and more"
LONG = _with_brief(load(samples_dir() / "old-post-2026-06-20.toml"))
"""A finished survey whose answer is longer than its column."""


def _desk() -> Desk:
    return Desk(load_library(), Path("Surveys"), lambda: NOON)


def _written(name: str = "Bramble") -> Desk:
    desk = _desk()
    for line in (AT_TAPE[0], name, *AT_TAPE[2:]):
        desk.line(line)
    assert desk.sitting
    assert desk.sitting.kept
    desk.sitting.kept.release()
    return _desk()


def _page(desk: Desk) -> str:
    shown = stage(desk, 80, 24, "blocks")
    return as_text([*shown.page, *shown.said])


def test_an_empty_folder_offers_no_comparison(tmp_path: Path) -> None:
    kinds = [i.kind for i in _desk().opening.items]
    assert kinds == ["new", "sheet", "model", "quit"]
    assert [i.kind for i in _written().opening.items] == [
        "survey",
        "new",
        "again",
        "sheet",
        "model",
        "quit",
    ]


def test_a_listed_survey_is_measured_again() -> None:
    desk = _written()
    assert not desk.line("r 1").stops_burst
    assert desk.sitting
    assert desk.sitting.survey.follows == "bramble-2026-04-11"
    assert "You will measure again" in _page(desk)
    desk.line("")
    assert desk.sitting.ask


def test_what_measures_a_car_again_stands_under_it_by_its_name() -> None:
    desk = _written()
    desk.line("r 1")
    desk.line("")
    assert desk.sitting
    assert desk.sitting.kept
    desk.sitting.kept.release()
    page = _page(_desk())
    assert re.search(r"2 +again: Bramble ", page), page
    assert "aga..." not in page


def _listed_again(width: int) -> tuple[Opening, str]:
    """A finished survey with a long answer, and what measures it again, open."""
    first = Path("Surveys") / f"{LONG.id}.toml"
    make_folder(first.parent)
    save(first, LONG)
    desk = Desk(load_library(), first.parent, lambda: LATER)
    desk.line("r 1")
    desk.line("")
    assert desk.sitting
    assert desk.sitting.kept
    desk.sitting.kept.release()
    opening = Desk(load_library(), first.parent, lambda: LATER).opening
    return opening, as_text(opening.lines(Space(width, 40, "blocks")))


@pytest.mark.parametrize("width", [58, 78, 118])
def test_an_open_recheck_stands_under_the_finished_survey_and_is_gone_on_with(width: int) -> None:
    opening, page = _listed_again(width)
    assert "Go on with a survey" not in page
    assert re.search(r"^Finished\n {2}1 .*\n(?: .*\n)*> 2 ", page, re.MULTILINE), page
    assert "go on: " in page
    assert opening.items[opening.marked].name == "2"


@pytest.mark.parametrize("width", [58, 78, 118])
def test_the_answer_of_each_survey_stands_whole_beside_its_name(width: int) -> None:
    opening, page = _listed_again(width)
    flat = " ".join(page.split())
    assert "…" not in page
    assert all(word in flat for word in (LONG.car.split()[0], *BRIEF.split()))
    assert max(map(len, page.splitlines())) <= width
    row = next(n for n, text in enumerate(page.splitlines()) if BRIEF.split()[-1] in text)
    assert opening.at_row(row) == "1", "its last line chooses it too"


def test_the_letter_alone_waits_for_the_number() -> None:
    desk = _written()
    assert desk.line("r").entry == "r "
    assert "like r 1" in desk.said.says
    desk.opening.marked = next(n for n, i in enumerate(desk.opening.items) if i.kind == "again")
    assert desk.line("").entry == "r "
    assert desk.sitting is None


def test_two_surveys_are_compared_and_the_list_comes_back() -> None:
    _written()
    desk = _written("Bramble two")
    assert not desk.line("v 1 2").stops_burst
    assert desk.panel
    assert desk.panel.title == "Compared"
    assert "against" in _page(desk) or "two frames" in _page(desk).lower()
    desk.key("down")
    assert desk.panel
    desk.line("")
    assert "Go on with a survey" in _page(desk)


@pytest.mark.parametrize("line", ["r 9", "r 1 1 2", "v 1", "v 1 1", "v 1 x", "s 99", "r [/"])
def test_what_is_not_in_the_list_is_refused_with_what_would_do(line: str) -> None:
    _written()
    desk = _written("Other")
    assert desk.line(line).stops_burst
    assert desk.said.kind == "refused"
    assert "like" in desk.said.says
    assert desk.sitting is None


def test_a_sheet_is_written_and_said_where() -> None:
    desk = _desk()
    assert desk.line("s").entry == "s "
    assert "X-braced" in _page(desk)
    desk.line("s 6")
    assert desk.said.says.startswith("The sheet is in Surveys/sheet-x-braced.html")
    assert Path("Surveys/sheet-x-braced.html").exists()


def test_a_survey_that_cannot_be_followed_is_told() -> None:
    first = _desk()
    for line in AT_TAPE[:6]:
        first.line(line)
    assert first.sitting
    assert first.sitting.kept
    first.sitting.kept.release()
    desk = _desk()
    assert desk.line("r 1").stops_burst
    assert "no readings" in desk.said.says


async def test_a_click_finds_the_second_of_two_on_a_line(build, screen_text) -> None:
    app = build()
    async with app.run_test() as pilot:
        lines = screen_text(app).splitlines()
        row = next(n for n, text in enumerate(lines) if "bend a model frame" in text)
        await pilot.click(offset=(lines[row].index("bend a model"), row))
        await pilot.pause()
        assert "A model to bend" in screen_text(app)


def test_the_report_is_written_from_a_survey() -> None:
    desk = _written()
    desk.line("1")
    desk.line("/report")
    assert desk.panel
    assert "bramble-2026-04-11.html" in desk.panel.text
    assert "<html" in Path("Surveys/bramble-2026-04-11.html").read_text(encoding="utf-8")
    assert load(Path("Surveys/bramble-2026-04-11.toml")).car == "Bramble"


SIZES = [(60, 20), (80, 24), (120, 36), (200, 60)]


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("count", [0, 1, 4, 12])
def test_what_there_is_to_do_always_shows_however_many_surveys_there_are(
    size: tuple[int, int], count: int, tmp_path: Path
) -> None:
    """The marked line too, wherever the arrows have gone."""
    _many(count, tmp_path)
    desk = _desk()
    actions = [i for i in desk.opening.items if i.path is None]
    for _ in desk.opening.items:
        page = as_text(stage(desk, *size, "blocks").page)
        for item in actions:
            assert f"{item.name}  " in page
            assert item.words in page
        marked = desk.opening.items[desk.opening.marked]
        assert re.search(rf"^.*> {marked.name}  ", page, re.MULTILINE)
        desk.key("down")


def test_a_list_that_is_longer_than_its_room_says_how_much_it_hides(tmp_path: Path) -> None:
    _many(12, tmp_path)
    desk = _desk()
    page = as_text(stage(desk, 60, 20, "blocks").page)
    listed = [i for i in desk.opening.items if i.path]
    shown = sum(re.search(rf"^[> ] {i.name}   ?\S", page, re.MULTILINE) is not None for i in listed)
    assert f"{len(listed) - shown} more below" in page
    for _ in listed:
        desk.key("down")
        page = as_text(stage(desk, 60, 20, "blocks").page)
    assert "more above" in page
    assert not re.search(r"^[> ] 1  ", page, re.MULTILINE)


def test_a_click_opens_the_line_that_is_seen_also_after_scrolling(tmp_path: Path) -> None:
    _many(12, tmp_path)
    desk = _desk()
    for _ in range(8):
        desk.key("down")
        page = stage(desk, 60, 20, "blocks").page
    assert "more above" in as_text(page)
    for row, line in enumerate(page):
        text = as_text([line])
        for name in re.findall(r"(?:^|\s)([0-9a-z])   ?\S", text):
            assert desk.opening.at_row(row, text.index(f"{name}  ")) == name


def _many(count: int, tmp_path: Path) -> None:
    """So many surveys in the folder, and some samples."""
    if not count:
        return
    _written()
    file = next(Path("Surveys").glob("*.toml"))
    for n in range(1, count):
        shutil.copy(file, file.with_name(f"car-{n}.toml"))
    for n in range(5):
        shutil.copy(file, tmp_path / "samples" / f"sample-{n}.toml")
