"""The report over several surveys of one frame: the numbers of `compare`, strict HTML, and whole
without what is lost.

What every number must be is worked out from `compare --json` alone, so that the report can round no
way of its own.
"""

from __future__ import annotations

import json
import math
import re
from dataclasses import replace
from datetime import datetime, timedelta
from functools import cache
from typing import Any
from xml.etree import ElementTree

import pytest
from scipy.stats import t as student

from tests.bench.frames import Bend
from tests.checks.surveys import library
from tests.judgment.pairs import AGED, again, first, only
from tests.telling.pages import SVG, check, pictures, words
from tests.telling.saying import tells
from tests.telling.test_report import SOURCE, flat, spoken, unmarked
from tests.telling.test_report_html import page
from wizard.library.paths import samples_dir
from wizard.sitting.comparing import compare_files
from wizard.survey.file import load
from wizard.survey.record import Survey
from wizard.survey.rows import Trip
from wizard.telling.document import (
    Block,
    Document,
    Heading,
    Items,
    Paragraph,
    Picture,
    Table,
)
from wizard.telling.papers import report_as
from wizard.telling.report import report_of
from wizard.telling.report_trend import MOST, TITLE, Earlier, trend_part

NOW = datetime(2027, 6, 1)
PATHS = tuple(
    samples_dir() / f"bramble-{day}.toml" for day in ("2026-04-11", "2026-10-10", "2027-05-08")
)
each_number = pytest.mark.parametrize("count", [2, 3])


@cache
def row(count: int) -> tuple[Survey, ...]:
    return tuple(load(p) for p in PATHS[:count])


@cache
def report(count: int) -> Document:
    *before, last = row(count)
    return report_of(last, library(), NOW, SOURCE, Earlier(tuple(before)))


@cache
def paper(count: int, suffix: str) -> str:
    *before, last = row(count)
    return report_as(last, library(), NOW, SOURCE, suffix, Earlier(tuple(before)))


def faces(count: int) -> list[str]:
    return [
        words(paper(count, ".html")),
        flat(unmarked(paper(count, ".md"))),
        flat(paper(count, ".txt")),
    ]


@cache
def compared(count: int, as_json: bool) -> str:
    return compare_files(PATHS[:count], library(), NOW, as_json=as_json).text


def data(count: int) -> dict[str, Any]:
    return json.loads(compared(count, True))  # type: ignore[no-any-return]


def part(blocks: tuple[Block, ...]) -> list[Block]:
    """The section, from its heading to the next of its level."""
    start = next(n for n, b in enumerate(blocks) if isinstance(b, Heading) and b.id == "trend")
    rest = list(blocks[start + 1 :])
    end = next(
        (n for n, b in enumerate(rest) if isinstance(b, Heading) and b.level == 2), len(rest)
    )
    return rest[:end]


def tables(found: list[Block]) -> list[Table]:
    return [b for b in found if isinstance(b, Table)]


def kinds(text: str) -> list[str]:
    """Keys of the trend's pictures."""
    return re.findall(r'id="(trend-\d+)-title"', text)


def amount(value: float, unit: str = "mm") -> str:
    return spoken({"value": value, "unit": unit}, "in")


STEP = 25.4 / 32
"""What a length in inches is said to, mm."""


def size(value: float) -> str:
    """A size that is never said as zero."""
    return amount(max(abs(value), 25.4 / 32))


# The numbers of compare
# -----------------------------------------------------------------------------------------


@each_number
def test_every_row_of_the_table_is_what_compare_says(count: int) -> None:
    pairs = {p["id"]: p for p in data(count)["pairs"]}
    table = tables(part(report(count).blocks))[0]
    told = [p for p in pairs.values() if p["says"] != "not changed" or p["quantity"] != "length"]
    assert len(table.rows) == len(told) + (len(told) < len(pairs))
    text = flat(compared(count, False))
    for name, then, now, difference, half, says in table.rows[: len(told)]:
        assert f"{name}: then {then}, now {now}" in text
        if says == "changed":
            assert (
                f"{name}: then {then}, now {now}. It moved by {difference}, give or take {half}."
                in text
            )
        elif says.startswith("not changed"):
            seen = says.removeprefix("not changed; ").removesuffix(
                " in this figure alone would have shown"
            )
            assert (
                f"{name}: then {then}, now {now}; a change of {seen} in this figure alone would have shown."
                in text
            )
        else:
            assert says.startswith("cannot tell")


@each_number
def test_the_tables_figures_are_those_of_compares_json(count: int) -> None:
    order = {"changed": 0, "cannot tell": 1, "not changed": 2}
    pairs = sorted(data(count)["pairs"], key=lambda p: order[p["says"]])
    pairs = [p for p in pairs if (p["says"], p["quantity"]) != ("not changed", "length")]
    rows = tables(part(report(count).blocks))[0].rows
    assert len(pairs) >= 5
    for pair, (name, then, now, difference, half, says) in zip(pairs, rows, strict=False):
        assert then.startswith(amount(pair["old"])), name
        assert now.startswith(amount(pair["new"])), name
        assert difference == (size if says == "changed" else amount)(pair["change"]), name
        told = float(student.ppf(0.975, pair["dof"] or 1e9)) * pair["u"]
        assert half == size(math.ceil(told * 0.95 / STEP - 1e-6) * STEP), "rounded up"
        assert says.split(";")[0].split(":")[0] == pair["says"]


def test_since_the_first_time_is_what_compare_says() -> None:
    text = flat(compared(3, False))
    since = tables(part(report(3).blocks))[1]
    assert (
        len(since.rows) == sum(p["says"] == "changed" for p in data(3)["since_first"]["pairs"]) >= 3
    )
    for name, then, now, difference, _, _ in since.rows:
        assert f"{name}: then {then}, now {now}, moved by {difference}." in text


def test_the_trends_sentences_stand_word_for_word_on_every_paper_and_each_once() -> None:
    """In the list or under the chart of its figure, and never in both."""
    text = compared(3, False)
    lines = re.findall(r"  - (.*(?:\n    .*)*)", text[text.index("The trend over 3 surveys") :])
    courses = [flat(c) for line in lines for c in re.findall(r": (\d.*)", line, re.DOTALL)]
    still = [flat(line) for line in lines if "no steady movement" in line]
    assert len(courses) >= 3
    assert len(still) == 1
    jumped = next(flat(line) for line in lines if "not steadily" in line)
    names = jumped.partition(": ")[2].rstrip(".").split("; ")
    for face in faces(3):
        course = face[face.index("The trend over 3 surveys, 2026-04-11 to 2027-05-08") :]
        assert {c: course.count(c) for c in courses} == dict.fromkeys(courses, 1)
        assert course.count(still[0]) == 1
        assert [n for n in names if n.lower() not in course.lower()] == []
    lists = [b for b in part(report(3).blocks) if isinstance(b, Items)]
    group = [i.text for b in lists for i in b.items if "not steadily" in i.text]
    drawn = [t.caption for t in tables(part(report(3).blocks)) if t.head[:2] == ("Date", "Value")]
    assert len(group) == 1
    assert len(drawn) >= 3
    assert [n for n in drawn if n.lower() in group[0].lower()] == []


def test_the_typed_plots_of_compare_are_those_of_the_papers_without_pictures() -> None:
    text = compared(3, False)
    plots = re.findall(r"(?m)^[^\n]*:  [^\n]*\(@\)[^\n]*$", text)
    assert len(plots) > 5
    for suffix in (".md", ".txt"):
        lines = [line.rstrip() for line in paper(3, suffix).splitlines()]
        assert [p for p in plots if p.rstrip() not in lines] == []


def test_the_values_under_each_figure_are_those_of_the_trend() -> None:
    found = data(3)
    days = {t["id"]: t for t in found["trend"]}
    shapes = [t for t in days.values() if t["quantity"] != "length" and t["says"] != "not moving"]
    values = [t for t in tables(part(report(3).blocks)) if t.head[0] == "Date"]
    assert 3 <= len(shapes) <= len(values) == len(kinds(paper(3, ".html"))) <= MOST
    told = [[row[-2] for row in t.rows] for t in values]
    for trend in shapes:
        wanted = [amount(y) for y in trend["y"]]
        assert any(
            all(v.startswith(w) for v, w in zip(row, wanted, strict=True)) for row in told
        ), trend["id"]
    assert all(
        [row[0] for row in t.rows] == ["2026-04-11", "2026-10-10", "2027-05-08"] for t in values
    )


def test_another_survey_makes_other_numbers() -> None:
    """The twin that must fail: the second survey's table is not the third's."""
    assert tables(part(report(2).blocks))[0].rows != tables(part(report(3).blocks))[0].rows
    assert data(3)["headline"] in faces(3)[0]
    assert data(3)["headline"] not in faces(2)[0]


# Two, and one -------------------------------------------------------------------------------------
# --------------


def test_two_surveys_are_a_table_and_no_trend() -> None:
    found = part(report(2).blocks)
    assert [b.text for b in found if isinstance(b, Heading) and b.level == 3] == ["Since last time"]
    assert len(tables(found)) == 1
    assert tables(found)[0].head == (
        "Figure",
        "Then",
        "Now",
        "Difference",
        "Give or take",
        "What it says",
    )
    still = [p for p in data(2)["pairs"] if (p["says"], p["quantity"]) == ("not changed", "length")]
    assert tables(found)[0].rows[-1][0] == f"{len(still)} taped distances"
    assert kinds(paper(2, ".html")) == []
    assert re.search(r"\d+ taped distances: not read this time\.", faces(2)[0])


def test_a_first_survey_has_no_such_section() -> None:
    assert trend_part(row(1)[0], library(), Earlier()) == []
    assert TITLE not in page(row(1)[0])


def test_it_stands_before_the_findings_and_the_raw_readings() -> None:
    titles = [b.text for b in report(3).blocks if isinstance(b, Heading) and b.level == 2]
    at = titles.index(TITLE)
    assert titles[at - 1 : at + 2] == [
        "Appendix: every reading and every doubt",
        TITLE,
        "Every finding and its doubt",
    ]


# The figures --------------------------------------------------------------------------------------
# --------------


@each_number
def test_the_page_is_strict_and_every_picture_is_told(count: int) -> None:
    check(paper(count, ".html"))


def test_the_page_is_whole_without_pictures() -> None:
    text = words(re.sub(r"<svg.*?</svg>", "", paper(3, ".html"), flags=re.DOTALL))
    for table in tables(part(report(3).blocks)):
        assert [cell for line in table.rows for cell in line if cell not in text] == []
    tells(text, "Limits in view", "leave it", "3/16 in", "an eye on it", "5/16 in")


def test_black_white_and_one_gray_are_the_only_colors() -> None:
    shown = [
        p for p in pictures(paper(3, ".html")) if p.get("aria-labelledby", "").startswith("trend-")
    ]
    shown += [picture_of(p.figure.svg) for p in drawn(STEADY)]
    used = {e.get(k) for p in shown for e in p.iter() for k in ("fill", "stroke")} - {None}
    assert used == {"#000", "#ddd", "none"}


def picture_of(svg: str) -> ElementTree.Element:
    return ElementTree.fromstring(svg)


def bands(svg: str) -> int:
    """Gray fields: the band, and its key."""
    return len(list(picture_of(svg).iter(f"{SVG}polygon")))


@cache
def driven(sags: tuple[float, ...], km: tuple[int, ...], both: bool = False) -> tuple[Survey, ...]:
    """A survey each half year: mm that the left rail, or both, has gone down by then, and km driven
    by then.
    """
    steps = ("string-set-up", "sag-loaded", "long-diagonals")
    found = [only(first(), *steps)]
    for n in range(1, len(sags)):
        bent = replace(AGED, left=(Bend(3.0 + sags[n]),), right=(Bend(3.2 + both * sags[n]),))
        new = replace(again(found[-1], only(first(bent, seed=n), *steps)), id=f"m{n}")
        trip = Trip(id=new.new_id(Trip), distance=f"{km[n] - km[n - 1]} km")
        found.append(
            replace(new.with_row(trip), started=found[0].started + timedelta(days=182 * n))
        )
    return tuple(found)


STEADY = driven((0.0, 2.0, 4.0, 6.0, 8.0), (0, 1000, 2000, 3000, 4000))
BY_ROAD = driven((0.0, 0.2, 6.0, 6.2, 12.0), (0, 100, 3000, 3100, 6000))


def drawn(surveys: tuple[Survey, ...], *left_out: int) -> list[Picture]:
    """The pictures of the last of the surveys, the others before it."""
    before = tuple(s for n, s in enumerate(surveys[:-1]) if n not in left_out)
    return [
        b for b in trend_part(surveys[-1], library(), Earlier(before)) if isinstance(b, Picture)
    ]


def test_a_rail_that_goes_down_steadily_is_drawn_first_over_the_date_with_its_line_and_band() -> (
    None
):
    figure = drawn(STEADY)[0].figure
    assert re.match(r"\d+/\d+ in in a year, toward “low”, 19 times in 20 between", figure.words)
    assert figure.title.startswith("Left rail at the ")
    assert "Drawn over the date, days to scale" in figure.words
    assert bands(figure.svg) == 2


def test_what_goes_by_the_road_and_not_by_the_calendar_is_drawn_over_the_distance() -> None:
    found = drawn(BY_ROAD)
    road = [p.figure for p in found if p.figure.words.startswith("By the distance driven: ")]
    assert road
    assert all(bands(f.svg) == 2 and "Drawn over the distance driven" in f.words for f in road)
    assert all("3728 miles" in "".join(picture_of(f.svg).itertext()) for f in road)  # 6000 km
    values = [
        t
        for t in tables(trend_part(BY_ROAD[-1], library(), Earlier(BY_ROAD[:-1])))
        if "Driven" in t.head[1]
    ]
    assert [r[1] for r in values[0].rows] == [
        "0 miles",
        "62 miles",
        "1864 miles",
        "1926 miles",
        "3728 miles",
    ]


def test_without_one_of_the_row_no_distance_is_made_up() -> None:
    assert not [p for p in drawn(BY_ROAD, 1) if "distance driven" in p.figure.words]


def test_what_jumped_has_no_line_and_no_band() -> None:
    jumped = [p for p in drawn(row(3)) if p.figure.words.startswith("It moved, but not steadily")]
    assert jumped
    assert [bands(p.figure.svg) for p in jumped] == [0] * len(jumped)


def test_no_more_figures_than_are_soon_read_and_the_others_are_named() -> None:
    *before, newest = driven((0.0, 2.0, 4.0, 6.0, 8.0), (0, 1000, 2000, 3000, 4000), both=True)
    found = trend_part(newest, library(), Earlier(tuple(before)))
    sinking = [b.figure.title for b in found if isinstance(b, Picture)]
    assert len(sinking) == MOST
    last = found[-1]
    assert isinstance(last, Paragraph)
    assert last.text.startswith("Not drawn, to keep this short: ")
    assert not any(title.lower() in last.text.lower() for title in sinking)


def test_nothing_in_it_says_safe_to_drive() -> None:
    assert not any("safe to drive" in face.lower() for face in faces(3))
    assert all(b.items for b in part(report(3).blocks) if isinstance(b, Items))
