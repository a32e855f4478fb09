"""The brief for a shop: what it asks for, and what of it was met once the frame came back."""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime
from functools import cache
from html import unescape
from pathlib import Path

import html5lib
import pytest

from tests.bench.after_the_work import STRAIGHT, after
from tests.bench.frame_marigold import MARIGOLD
from tests.bench.frames import Truth
from tests.bench.recheck_samples import played
from tests.told import HOME, says
from wizard.command import main
from wizard.judgment.change import compare
from wizard.judgment.correction import met, unasked, wishes
from wizard.judgment.since import since_of
from wizard.library import load_library
from wizard.library.paths import samples_dir
from wizard.library.places import PromptId
from wizard.library.shapes import Library
from wizard.survey.file import load
from wizard.survey.record import Survey
from wizard.survey.rows import SECOND, Opinion, OwnLimit, Reading, Remark
from wizard.telling.change_words import asked_section
from wizard.telling.document import Heading, Paragraph
from wizard.telling.moved_words import figures_of
from wizard.telling.papers import report_as
from wizard.telling.quantity_names import amount
from wizard.telling.report import Source, report_of
from wizard.telling.report_trend import Earlier
from wizard.telling.sheet_html import form_html
from wizard.telling.sheet_text import form_text
from wizard.telling.shop_brief import pairs, shop_brief
from wizard.telling.tell import tell_text

DAY = datetime(2026, 8, 1)
SAMPLES = sorted((HOME / "sample_sessions").glob("*.toml"))
CAR = HOME / "sample_sessions" / f"{MARIGOLD.id}.toml"


@cache
def library() -> Library:
    return load_library()


@cache
def hers() -> Survey:
    return load(CAR)


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Her survey, and the one after the work."""
    folder = tmp_path_factory.mktemp("after")
    played(after(), MARIGOLD.id, library(), folder)
    return folder


@pytest.fixture(scope="module")
def later(folder: Path) -> Survey:
    return load(folder / f"{after().id}.toml")


def again(truth: Truth, folder: Path, **answers: str) -> Survey:
    """A survey of her frame after some other work."""
    story = after(truth, **answers)
    played(story, MARIGOLD.id, library(), folder)
    return load(folder / f"{story.id}.toml")


def found(then: Survey, now: Survey) -> dict[str, str]:
    return {str(m.wish.found.finding.id): m.says for m in met(then, now, library())}


# What it asks for ---------------------------------------------------------------------------------


def test_what_is_surely_out_is_asked_for_first_and_what_is_open_is_asked_to_be_measured() -> None:
    asked = [(str(w.found.finding.id), w.sure, w.within) for w in wishes(hers(), library())]
    assert asked[0] == ("rail-shift/whole", True, 3.0)
    assert ("horn/difference", False, 3.175) in asked
    assert [sure for _, sure, _ in asked] == sorted((sure for _, sure, _ in asked), reverse=True)
    text = form_text(shop_brief(hers(), library(), DAY))
    assert says(text, "whether anything has to be done at lines 3 to 5: please measure there first")


def test_every_sheet_says_of_which_survey_it_is_and_by_which_checksum(tmp_path: Path) -> None:
    """As the report's do, so that nobody takes one for another."""
    name, out = "marigold-2026-05-02", tmp_path / "brief.html"
    path = samples_dir() / f"{name}.toml"
    checksum = hashlib.sha256(path.read_bytes()).hexdigest()[:16]
    assert main(["report", str(path), "--brief", "--output", str(out)]) == 0
    foot = out.read_text(encoding="utf-8").partition("@bottom")[2].partition("}")[0]
    assert f"Survey {name}, checksum {checksum}." in re.sub(r"\\00002d ?", "-", foot)
    assert says(
        form_text(shop_brief(hers(), library(), DAY, None, checksum)), f"checksum {checksum}"
    )
    assert "checksum" not in form_text(shop_brief(hers(), library(), DAY))


def test_each_figure_is_the_one_of_the_survey_with_its_give_or_take_and_its_limit() -> None:
    text = " ".join(form_text(shop_brief(hers(), library(), DAY)).split())
    line = "Found 7.5 mm left rail back; Give or take 1.5 mm; Wanted 0 mm; To within 3 mm"
    assert f"1; Whole frame: one rail along the other (3, 4, 7, 8); {line}" in text
    assert "3 to 8: left front to right rear; Found 2318.5 mm; And 4 to 7; Found 2333.0 mm" in text


def test_the_number_stamped_on_the_frame_is_there_as_it_was_typed() -> None:
    row = Remark(id="m900", prompt=PromptId("about-the-car/car"), text="stamped 4711 on the left")
    text = form_text(shop_brief(hers().with_row(row), library(), DAY))
    assert says(text, "Noted as typed: stamped 4711 on the left.")


def test_an_owner_s_own_limit_is_the_one_that_is_asked_for() -> None:
    row = OwnLimit(id="l900", limit="rail-shift", band="leave", upto="2 mm")
    asked = wishes(hers().with_row(row), library())
    assert {w.within for w in asked if w.found.finding.limit == "rail-shift"} == {2.0}


def test_a_signed_opinion_goes_to_the_shop_too() -> None:
    row = Opinion(id="o900", by="Karl", text="tape a second set of holes first")
    text = form_text(shop_brief(hers().with_row(row), library(), DAY))
    assert says(text, "SIGNED BESIDE THAT … second set of holes first (signed by Karl")


def test_who_read_nothing_that_stands_is_not_named_as_having_measured() -> None:
    of = hers().standing(Reading)[0].prompt
    row = Reading(id="r900", by=SECOND, prompt=of, typed="2000", struck="struck")
    assert not says(form_text(shop_brief(hers().with_row(row), library(), DAY)), SECOND)
    again = hers().with_row(replace(row, struck=""))
    assert says(form_text(shop_brief(again, library(), DAY)), SECOND)


def test_what_stands_beside_two_distances_is_what_they_differ_by_as_shown() -> None:
    text = " ".join(form_text(shop_brief(hers(), library(), DAY)).split())
    rows = re.findall(
        r"Found ([\d.]+) mm; And [^;]*; Found ([\d.]+) mm; Apart by ([\d.]+) mm", text
    )
    assert len(rows) > 3
    assert all(abs(abs(float(a) - float(b)) - float(c)) < 0.01 for a, b, c in rows)


def test_taped_distances_stand_beside_their_twins_those_that_differ_most_first() -> None:
    every = pairs(hers(), library())
    tapes = [t for p in every for t in (p.tape, p.tape.other)]
    assert len(tapes) == len(set(tapes)) == 2 * len(every) > 8
    assert [p.apart for p in every] == sorted((p.apart for p in every), reverse=True)


def test_it_names_what_was_seen_and_what_can_be_asked_for_it() -> None:
    text = form_text(shop_brief(hers(), library(), DAY))
    assert says(text, "Do not drive it")
    assert says(text, "Renew a joint. … Here: front crossmember loose; a bracket on the left rail")
    assert says(text, "Straighten on a bench. … Here: lines 1 to 5.")
    assert says(text, "Replace a piece. … Here: wrinkled lower flange in the left rail")
    assert says(text, "This survey never says that a car may be driven")
    for work in library().paper.brief.works:
        assert says(text, f"{work.name}. {work.words}") is not work.ours


def test_the_owner_s_own_question_is_put_to_the_shop_as_a_question() -> None:
    """He typed neither a capital nor a mark, and the report puts it in the same words."""
    assert says(form_text(shop_brief(hers(), library(), DAY)), OWN)
    page = report_as(hers(), library(), DAY, Source("a.toml", "0" * 64), ".txt")
    assert says(page, f"What to ask a specialist … {OWN}")


OWN = "Can the left rail come forward with the box in place?"


def test_a_frame_of_which_nothing_is_asked_says_so() -> None:
    path = next(p for p in SAMPLES if "2026-10-10" in p.name)
    text = form_text(shop_brief(load(path), library(), DAY))
    assert says(text, "Nothing that was measured is out so far that it is asked to be put right.")
    assert "FROM POINT TO POINT" not in text
    assert "stands above" not in text
    assert "Points: " not in text


@pytest.mark.parametrize("path", SAMPLES, ids=lambda p: p.stem)
def test_the_page_is_valid_and_says_all_that_the_text_says(path: Path) -> None:
    form = shop_brief(load(path), library(), DAY)
    page = form_html(form)
    html5lib.HTMLParser(strict=True).parse(page)
    plain = unescape(re.sub(r"<[^>]+>", " ", page)).split()
    figures = re.findall(r"\d[\d./ ]* (?:mm|in)\b", form_text(form))
    assert [f for f in figures if f not in " ".join(plain)] == []


def test_a_name_with_markup_stays_text() -> None:
    survey = replace(hers(), car="<script>alert(1)</script> & Sons")
    assert "<script>" not in form_html(shop_brief(survey, library(), DAY))


# What was met -------------------------------------------------------------------------------------


def test_after_the_work_it_is_told_what_was_met_and_what_was_not(later: Survey) -> None:
    says_of = found(hers(), later)
    assert says_of["rail-shift/whole"] == says_of["rail-shift/rear-box"] == "met"
    assert says_of["horn/difference"] == "not met"  # the horn was left as it was
    text = tell_text(later, library(), DAY, earlier=hers())
    assert says(
        text,
        "Of 5 figures asked for: 3 met; 1 not met (horns, sideways); of 1 it cannot be told (front box",
    )


def test_what_came_only_half_of_the_way_is_not_met(tmp_path: Path) -> None:
    half = again(replace(STRAIGHT, diamond=-6.4), tmp_path)
    assert found(hers(), half)["rail-shift/whole"] == "not met"
    section = asked_section(compare(hers(), half, library()), library())
    assert any(says(line, "Whole frame … Not met.") for line in section.lines)


def test_it_is_judged_by_the_limit_that_was_asked_for(later: Survey) -> None:
    row = OwnLimit(id="l900", limit="rail-shift", band="leave", upto="0.2 mm")
    assert found(hers().with_row(row), later)["rail-shift/whole"] != "met"


def test_what_was_not_measured_again_is_not_called_met(later: Survey) -> None:
    rows = tuple(r for r in later.rows["reading"] if "diagonals" not in str(r.prompt))
    without = replace(later, rows={**later.rows, "reading": rows})
    assert found(hers(), without)["rail-shift/rear-box"] == "not measured"


def test_it_is_told_with_the_doubt_of_both(later: Survey) -> None:
    section = asked_section(compare(hers(), later, library()), library())
    line = next(one for one in section.lines if one.startswith("Whole frame"))
    assert line.count("give or take") == 2


def test_what_nobody_asked_to_move_is_told_where_it_moved(tmp_path: Path) -> None:
    bowed = again(replace(STRAIGHT, sway_rear=16.0), tmp_path)
    others = unasked(compare(hers(), bowed, library()), wishes(hers(), library()))
    assert "sway/center" in {str(c.old.id) for c in others.moved}
    section = asked_section(compare(hers(), bowed, library()), library())
    assert any(says(line, "Moved, though nobody asked for it: center") for line in section.lines)


def test_a_frame_on_which_nobody_worked_is_asked_nothing(tmp_path: Path) -> None:
    same = again(MARIGOLD.truth, tmp_path, **{"since-last-time/corrected": "n"})
    assert asked_section(compare(hers(), same, library()), library()).lines == ()


# On the command line and in the wizard ------------------------------------------------------------


@pytest.fixture
def written(folder: Path) -> Iterator[Path]:
    out = folder / "brief.html"
    yield out
    out.unlink(missing_ok=True)


def test_the_command_writes_it_and_prints_it(
    folder: Path, written: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = str(folder / CAR.name)
    assert main(["report", file, "--brief", "-o", str(written)]) == 0
    assert "Brief for the shop: Marigold" in written.read_text(encoding="utf-8")
    assert main(["report", file, "--brief"]) == 0
    assert "WHAT IS WANTED" in capsys.readouterr().out
    assert main(["report", file, "--brief", "-o", str(folder / "brief.csv")]) == 1
    assert capsys.readouterr().err.count("\n") == 1


def test_page_one_of_the_report_counts_what_was_met(later: Survey) -> None:
    report = report_of(later, library(), DAY, Source("a.toml", "0" * 64), Earlier((hers(),)))
    ids = [b.id if isinstance(b, Heading) else "" for b in report.blocks]
    first = report.blocks[: ids.index("drawn")]
    assert any(isinstance(b, Paragraph) and b.text.startswith("Of 5 figures asked") for b in first)


def test_compare_and_the_report_tell_what_was_met(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    old, new = str(folder / CAR.name), str(folder / f"{after().id}.toml")
    assert main(["compare", old, new]) == 0
    assert "What was asked for, and what was met" in capsys.readouterr().out
    assert main(["report", new]) == 0
    assert "What was asked for, and what was met" in capsys.readouterr().out
    assert main(["compare", old, new, "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    pair = told if "asked" in told else next(p for p in told["comparisons"] if "asked" in p)
    assert {a["says"] for a in pair["asked"]} >= {"met"}


def test_what_moved_since_last_time_stands_first_with_both_figures_and_the_alarm() -> None:
    then, now = (
        load(samples_dir() / f"bramble-{day}.toml") for day in ("2026-10-10", "2027-05-08")
    )
    text = form_text(shop_brief(now, library(), DAY, then))
    assert says(
        text, "WHAT WAS FOUND … moved … since 2026-10-10 … Do not drive it … WHAT IS WANTED"
    )
    assert says(
        text,
        "WHAT MOVED SINCE 2026-10-10: THIS COMES FIRST … M1; … ; Then … ; Now … ; Moved by … You, before"
        " … Before anything else, look at … bare",
    )
    moved = since_of(then, now, library())
    assert moved is not None
    for change in figures_of(moved):
        assert says(
            text, f"; Then {amount(change.old, now.unit)}; Now {amount(change.new, now.unit)};"
        )
    alone = form_text(shop_brief(now, library(), DAY))
    assert "WHAT MOVED" not in alone
    leave = r"\[ *\] Leave it\.[^\[]*Here: line"
    assert re.search(leave, alone), "the twin"
    assert not re.search(leave, text), "nothing is left before it is known why it moved"


def test_what_was_seen_otherwise_stands_once_in_a_report(later: Survey) -> None:
    said = report_as(
        later, library(), DAY, Source("after.toml", "0" * 64), ".txt", Earlier((hers(),))
    )
    assert said.lower().count("what was seen otherwise than last time") == 1
