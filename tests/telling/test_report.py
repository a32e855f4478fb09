"""The report: one page first, then everything; every number in it is that of `tell`, of `--json`
and of the wizard.

The numbers of the other faces are worked out here anew from `tell --json` alone, so that no face
can round its own way.
"""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import datetime
from fractions import Fraction
from functools import cache
from itertools import pairwise
from pathlib import Path

import pytest

from tests.checks.surveys import DAY, bent, library, survey_of
from tests.telling.pages import words
from tests.telling.saying import tells
from wizard.checks.case import case_of
from wizard.judgment.sight import sight_of
from wizard.judgment.verdict import Verdict
from wizard.library import marks
from wizard.library.paths import samples_dir
from wizard.library.places import step_of
from wizard.survey.file import load
from wizard.survey.prompts import expand
from wizard.survey.record import Survey
from wizard.survey.rows import Answer, Doubt, Look, Opinion, Reading, Remark, Skip
from wizard.survey.rows import Verdict as Shown
from wizard.telling.amounts import BANDS, UNITS, about
from wizard.telling.answer_words import headline_of
from wizard.telling.document import (
    Block,
    Document,
    Heading,
    Item,
    Items,
    Paragraph,
    Picture,
    Table,
    Terms,
)
from wizard.telling.front_page import SHEET
from wizard.telling.json_out import as_json
from wizard.telling.judged_picture import value_of
from wizard.telling.page import ONCE_MORE, live
from wizard.telling.papers import report_as
from wizard.telling.print_height import height
from wizard.telling.report import Source, report_of
from wizard.telling.report_figures import figures
from wizard.telling.scene_value import value_picture
from wizard.telling.step_drawing import drawing_for
from wizard.telling.tell import tell_text, verdict_page
from wizard.telling.verdict_words import sections

SAMPLES = sorted(samples_dir().glob("*.toml"))
SOURCE = Source("bramble.toml", hashlib.sha256(b"bramble").hexdigest())
NOW = datetime(2026, 8, 1)
each_sample = pytest.mark.parametrize("path", SAMPLES, ids=lambda p: p.stem)


@cache
def sample(path: Path) -> Survey:
    return load(path)


@cache
def told(path: Path) -> dict:  # type: ignore[type-arg]
    return json.loads(as_json(sample(path), library(), NOW))  # type: ignore[no-any-return]


@cache
def paper(path: Path, suffix: str) -> str:
    return report_as(sample(path), library(), NOW, SOURCE, suffix)


def flat(text: str) -> str:
    return " ".join(text.split())


def unmarked(text: str) -> str:
    """Markdown as a reader sees it."""
    return (
        re.sub(r"\\(.)", r"\1", text)
        .replace("&lt;", "<")
        .replace("&gt;", ">")
        .replace("&amp;", "&")
    )


def spoken(finding: dict, unit: str) -> str:  # type: ignore[type-arg]
    """The amount of a finding as every sentence must say it, from the JSON's own unrounded value."""
    if finding["value"] is None:
        return ""
    size = abs(finding["value"])
    if finding["unit"] == "deg":
        return f"{size:.1f} degrees"
    if finding["unit"] == "%":
        return f"{size:.0f} %"
    if finding["unit"] == "mm/m" and unit == "mm":
        return f"{size:.1f} mm per meter"
    far = " per yard" if finding["unit"] == "mm/m" else ""
    size *= 0.9144 if far else 1.0
    step = Fraction(1, 32) if unit == "in" else Fraction(1, 2)
    count = int(Fraction(size) / (Fraction(127, 5) if unit == "in" else 1) / step + Fraction(1, 2))
    value = count * step
    if unit == "mm":
        return f"{float(value):g} mm"
    whole, rest = divmod(value, 1)
    return f"{f'{whole} ' if whole and rest else ''}{rest or whole} in{far}"


def exactly(finding: dict, unit: str) -> tuple[float, float]:  # type: ignore[type-arg]
    """Value and u in the unit that the mentor's figures are written in."""
    scale = 25.4 if unit == "in" and finding["unit"] == "mm" else 1.0
    return finding["value"] / scale, finding["u"] / scale


def rows_of(report: Document, caption: str) -> dict[str, tuple[str, ...]]:
    table = next(b for b in report.blocks if isinstance(b, Table) and b.caption == caption)
    return {row[0]: row for row in table.rows}


SEEN = re.compile(
    r"\(a difference of ([\d/ .]+) (?:in|mm|%|degrees)(?: per \w+)? would have been seen\)"
)


def _number(text: str) -> float:
    """`1 1/8` as a number."""
    return float(sum(Fraction(part) for part in text.split()))


def _said(finding: dict, unit: str) -> float:  # type: ignore[type-arg]
    """u in the unit in which it is said."""
    inch = unit == "in" and finding["unit"] in ("mm", "mm/m")
    yard = 0.9144 if inch and finding["unit"] == "mm/m" else 1.0
    return float(finding["u"]) * yard / (25.4 if inch else 1.0)


# The same numbers everywhere
# -------------------------------------------------------------------------------------


@each_sample
def test_report_tell_json_and_wizard_have_the_same_numbers(path: Path) -> None:
    survey, data = sample(path), told(path)
    report = report_of(survey, library(), NOW, SOURCE)
    rows = rows_of(report, "Findings")
    mentor = flat(tell_text(survey, library(), NOW, mentor=True))
    papers = [
        words(paper(path, ".html")),
        flat(unmarked(paper(path, ".md"))),
        flat(paper(path, ".txt")),
    ]
    assert list(rows) == [f["id"] for f in data["findings"]]
    assert len(rows) > 12
    halves = {str(j.finding.id): j.told_half for j in sight_of(survey, library()).judged}
    for finding in data["findings"]:
        _, sentence, both, k, chances, _, _ = rows[finding["id"]]
        if finding["value"] is None:
            assert (both, k, finding["u"]) == ("not known", "none", None)
            assert "cannot show" in sentence
            assert all(sentence in text for text in (mentor, *papers))
            continue
        # The table's figure is the JSON's, to the digits that it shows; its doubt is k times u.
        value, half_told = (float(v) for v in re.findall(r"-?\d+(?:\.\d+)?", both)[:2])
        shown = both.split()[0]
        half = 0.5 * 10.0 ** -len(shown.partition(".")[2]) * 1.0001
        wanted = exactly(finding, survey.unit)
        assert value == pytest.approx(wanted[0], abs=half), finding["id"]
        wanted_half = finding["k"] * wanted[1]
        assert half_told == pytest.approx(wanted_half, rel=0.06, abs=0.006), finding["id"]
        assert float(k.split(",")[0]) == pytest.approx(finding["k"], abs=0.0051)
        assert CHANCE.findall(chances) == list(told_chances(finding["chance_over"]))
        # Its sentence says that amount, and stands word for word in tell and on every paper.
        amount = spoken(finding, survey.unit)
        none = SEEN.search(sentence)
        assert (
            amount in sentence
            or amount.split()[0] in ("0", "0.0")
            or finding["quantity"] in SHAPES
            or none
        ), finding["id"]
        if none:  # inside its doubt, as both are said, it is no difference, and what would have been one is larger
            step = UNITS[finding["unit"]].least(survey.unit)
            assert abs(finding["value"]) <= halves[finding["id"]] + step / 2, finding["id"]
            assert _number(none[1]) >= (finding["k"] + 1.6) * _said(finding, survey.unit)
        assert sentence in mentor
        exactly_said = UNITS[finding["unit"]].exact(finding["value"], finding["u"], survey.unit)
        assert f"{exactly_said} (u)" in mentor
        assert all(sentence in text for text in papers)


@pytest.mark.parametrize("name", ["bramble-2026-10-10", "bramble-2027-05-08"])
def test_a_bend_that_cannot_be_told_has_no_figure_on_any_face(name: str) -> None:
    """`0 ± 77 in` stood in the table of a re-check, of a rail of which three stations were read."""
    path = samples_dir() / f"{name}.toml"
    bends = [f for f in told(path)["findings"] if f["quantity"] == marks.KINK_OR_BOW]
    assert bends
    mentor = flat(tell_text(sample(path), library(), NOW, mentor=True))
    for finding in bends:
        assert finding["value"] is None
        assert finding["u"] is None
    assert mentor.count("not known, from these readings:") == len(bends)
    for text in (mentor, *(paper(path, suffix) for suffix in (".html", ".md", ".txt"))):
        assert "77 in" not in text
        assert "1000.000" not in text
        assert "± 39" not in text


CHANCE = re.compile(r"[^;]+?: ((?:over |under )?[\d.]+) %")


def told_chances(chances: list[float]) -> Iterator[str]:
    """As they must be written: none is certain, and beyond a certain no there is no more to say."""
    for chance in chances:
        yield (
            "over 99.9"
            if chance > 0.999
            else "under 0.1"
            if chance < 0.001
            else f"{100 * chance:.1f}"
        )
        if chance < 0.001:
            return


TIMES = re.compile(r"drawn (\d+) times too large|(drawn as large as it is)")


def enlarged(text: str) -> set[str]:
    """How much too large a text says that something is drawn."""
    return {m.group() for m in TIMES.finditer(" ".join(text.split()))}


@each_sample
def test_a_sag_is_drawn_so_many_times_too_large_alike_on_paper_on_screen_and_in_words(
    path: Path,
) -> None:
    survey = sample(path)
    verdict = sight_of(survey, library()).verdict(NOW)
    pictures = [b for b in figures(verdict, survey, library()) if isinstance(b, Picture)]
    strings = [p for p in pictures if p.figure.key.startswith("string-")]
    on_paper = {said for p in strings for said in enlarged(p.figure.words)}
    assert len(on_paper) == (1 if strings else 0)
    typed = {said for p in strings for said in enlarged("\n".join(p.typed))}
    assert typed <= on_paper
    on_screen, in_words = set(), set()
    for step in library().steps.values():
        for prompt in expand(step, case_of(survey, library()).layout, library().tools):
            if step.reads in marks.STRING:
                for width, height in ((76, 7), (78, 9), (150, 16)):
                    box = (width, height, "braille")
                    drawing = drawing_for(survey, library(), step, prompt, *box)  # type: ignore[arg-type]
                    on_screen |= enlarged("\n".join(drawing.lines))
                    in_words |= enlarged(drawing.words)
    assert on_screen == in_words <= on_paper


@each_sample
def test_a_limit_has_one_figure_in_the_drawing_on_paper_in_typed_marks_and_on_screen(
    path: Path,
) -> None:
    survey = sample(path)
    verdict = sight_of(survey, library()).verdict(NOW)
    pictures = [b for b in figures(verdict, survey, library()) if isinstance(b, Picture)]
    drawn = {p.figure.key: p for p in pictures if p.figure.key.startswith("value-")}
    counted = 0
    for judged in verdict.judged:
        if not judged.edges:
            continue
        paper = drawn[f"value-{judged.finding.quantity}"]
        value = value_of(judged, library(), survey.unit)
        screen = value_picture(value, 76, "braille").lines
        for edge in judged.edges:
            for end in (edge.high, edge.low):
                if end is None:
                    continue
                figure = about(end, judged.finding.unit, survey.unit)
                wanted = f"{BANDS[edge.band]} up to {figure}"
                counted += 1
                assert wanted in paper.figure.svg
                assert wanted in " ".join(" ".join(paper.typed).split())
                if wanted in " ".join(said.words for said in value.legend()):
                    shown = " ".join(" ".join(screen).split())
                    assert wanted in shown
    assert counted > 4


SHAPES = (
    "bend",
    "suspect",
    "string-level",
    "level-closing",
    "closure",
    "elastic-foretold",
    "twist-shape",
)
"""Sentences of these say what is so, not how much."""


@each_sample
def test_the_wizards_pages_say_what_the_report_says(path: Path) -> None:
    survey, text = sample(path), words(paper(path, ".html"))
    steps = library().steps.values()
    spoken_live = {
        line for s in steps for line in live(survey, library(), s, most=99) if line != s.caveat
    }
    assert len(spoken_live) > 10
    # Why more must be seen at the worst of several is said beside the readings alone.
    lines = (re.sub(r" Of \d+ places one always [^.]*\.", "", line) for line in spoken_live)
    assert [line for line in lines if _at_the_end(line) not in text] == []


def _at_the_end(line: str) -> str:
    """A page's sentence without what only holds while the work is under way."""
    asked = library().quantities["horn"].says["again"]
    line = line.removesuffix(f" {asked}")
    for limit in library().limits.values():  # there the figure of which it is stands beside it
        said, _, rest = line.partition(f" {limit.name[:1].upper()}{limit.name[1:]}: ")
        line = f"{said} {rest[:1].upper()}{rest[1:]}" if rest else line
    said, _, rest = line.partition(" So far: ")
    words = rest.removesuffix(f" {ONCE_MORE}")
    return f"{said} {words[:1].upper()}{words[1:]}" if rest else line


@each_sample
def test_the_verdict_is_the_same_on_every_face(path: Path) -> None:
    from wizard.judgment.sight import verdict_of

    survey = sample(path)
    verdict = verdict_of(survey, library(), NOW)
    faces = [
        words(paper(path, ".html")),
        flat(unmarked(paper(path, ".md"))),
        flat(paper(path, ".txt")),
        flat(tell_text(survey, library(), NOW, whole=True)),
        flat(told(path)["verdict"]["text"]),
    ]
    for face in faces:
        assert headline_of(verdict, survey, library()) in face
        for part in sections(verdict, survey, library()):
            lost = [i for i in part.items if i.text not in face and not _open(i, verdict)]
            assert lost == [], part.heading


def _open(item: Item, verdict: Verdict) -> bool:
    """Whether it is told as open, with what would settle it, and the report says it there alone."""
    return bool({j.finding.id for j in verdict.open} & set(item.sources))


def test_another_reading_makes_other_numbers() -> None:
    """The twin that must fail: a report of one survey does not agree with the JSON of another."""
    path = SAMPLES[0]
    survey = sample(path)
    row = next(
        r for r in survey.standing(Reading) if r.prompt.startswith("sag-unloaded/engine-mount")
    )
    other = survey.with_replaced(replace(row, typed="2 1/4"))
    changed = json.loads(as_json(other, library(), NOW))
    before = {f["id"]: spoken(f, survey.unit) for f in told(path)["findings"]}
    after = {f["id"]: spoken(f, survey.unit) for f in changed["findings"]}
    assert before.keys() == after.keys()
    assert (
        before[f"sag-unloaded/{row.prompt.split('/', 1)[1]}"]
        != after[f"sag-unloaded/{row.prompt.split('/', 1)[1]}"]
    )


# The first page -----------------------------------------------------------------------------------
# ----------------


def first_page(report: Document) -> list[Block]:
    end = next(n for n, b in enumerate(report.blocks) if isinstance(b, Heading) and b.new_page)
    return list(report.blocks[:end])


@each_sample
def test_the_first_page_has_its_parts_in_order_and_none_is_empty(path: Path) -> None:
    page = first_page(report_of(sample(path), library(), NOW, SOURCE))
    ids = [b.id for b in page if isinstance(b, Heading)]
    wanted = ["answer", "decides", "measured", "changed", "unseen", "opinions", "signed"]
    assert ids == [id for id in wanted if id in ids]
    assert {"answer", "measured", "unseen", "signed"} <= set(ids)
    assert all(not isinstance(a, Heading) or not isinstance(b, Heading) for a, b in pairwise(page))


@each_sample
def test_the_first_page_is_short_enough_for_one_sheet(path: Path) -> None:
    page = first_page(report_of(sample(path), library(), NOW, SOURCE))
    assert height(page) <= SHEET


@each_sample
def test_every_place_that_was_not_seen_is_named_on_the_first_page(path: Path) -> None:
    """Also those that share their reason, which stand in one line of the verdict."""
    from wizard.judgment.sight import verdict_of

    survey = sample(path)
    text = " ".join(all_words(first_page(report_of(survey, library(), NOW, SOURCE))))
    gaps = verdict_of(survey, library(), NOW).not_seen
    assert [gap.what for gap in gaps if gap.what not in text] == []


def all_words(blocks: Sequence[Block]) -> Iterator[str]:
    """Everything that blocks say, drawings left out."""
    for block in blocks:
        if isinstance(block, Heading | Paragraph):
            yield block.text
        elif isinstance(block, Items):
            yield from (item.text for item in block.items)
        elif isinstance(block, Terms):
            yield from (f"{label} {item.text}" for label, item in block.rows)
        elif isinstance(block, Table):
            yield from (cell for row in block.rows for cell in row)


@each_sample
def test_nothing_behind_the_first_page_is_told_twice(path: Path) -> None:
    """Sentences in lists: a sentence stands in one of them."""
    blocks = report_of(sample(path), library(), NOW, SOURCE).blocks
    end = next(n for n, b in enumerate(blocks) if isinstance(b, Heading) and b.id == "appendix")
    told = [i.text for b in blocks[:end] if isinstance(b, Items) for i in b.items]
    assert sorted(told) == sorted(set(told))


@each_sample
def test_every_part_is_signed_with_the_survey_and_its_checksum_and_the_end_is_said(
    path: Path,
) -> None:
    foot = f"Survey {sample(path).id}, checksum {SOURCE.sha256[:16]}."
    for suffix in (".md", ".txt"):
        text = flat(unmarked(paper(path, suffix)))
        assert [f"{foot} Part {n} of 3." in text for n in (1, 2, 3)] == [True] * 3
        assert text.count("This is the end of the record.") == 1
        assert text.endswith(f"This is the end of the record. {foot} Part 3 of 3.")
    page = paper(path, ".html")
    style = page[page.index("<style>") : page.index("</style>")]
    assert 'counter(page) " of " counter(pages)' in style
    shown = re.sub(r"\\([0-9a-f]{6}) ", lambda m: chr(int(m[1], 16)), style)
    assert f'@bottom-left {{ content: "{foot}";' in shown


# Everything behind it
# -----------------------------------------------------------------------------------------------


@each_sample
def test_every_reading_stands_in_it_as_typed(path: Path) -> None:
    survey = sample(path)
    report = report_of(survey, library(), NOW, SOURCE)
    prompts = case_of(survey, library()).prompts
    found = readings_of(report)
    assert len(found) == len(survey.table(Reading)) > 20
    for row in survey.table(Reading):
        shared, what, said, _ = found[row.id]
        assert said == f"{row.typed} at {row.at:%H:%M}"
        page = library().steps[step_of(row.prompt)].title
        rest = (row.tool, row.state, row.by, f"{row.at:%Y-%m-%d}")
        assert shared == ", ".join(filter(None, (page, *rest)))
        assert what == prompts[row.prompt].ask


def readings_of(report: Document) -> dict[str, tuple[str, str, str, str]]:
    """Of each reading in the table: what it shares with others, what was read, what and when, the
    notes.
    """
    table = next(b for b in report.blocks if isinstance(b, Table) and b.caption == "Readings")
    found, shared = {}, ""
    for what, said in table.rows:
        shared = shared if said else what
        for one in re.split(r"; (?=r\d+ )", said) if said else []:
            id, typed, notes = re.fullmatch(r"(\S+) (.*?)(?: \((.*)\))?", one).groups("")  # type: ignore[union-attr]
            found[id] = (shared, what, typed, notes)
    return found


@each_sample
def test_every_look_stands_in_it(path: Path) -> None:
    survey = sample(path)
    report = report_of(survey, library(), NOW, SOURCE)
    table = next(b for b in report.blocks if isinstance(b, Table) and b.caption == "Looks")
    where = {one.split()[0]: row for row in table.rows for one in re.split(r"; (?=k\d)", row[-1])}
    looks = {k.id: k for k in survey.standing(Look)}
    assert where.keys() == looks.keys()
    who = {f"{look.by}, {look.at:%Y-%m-%d}" for look in looks.values()}
    said = [
        b.text
        for b in report.blocks
        if isinstance(b, Paragraph) and b.text.startswith("All of it: ")
    ]
    assert said == [f"All of it: {one}." for one in who if len(who) == 1]
    for id, look in looks.items():
        assert where[id][0] == look.seen.replace("-", " ")
        assert len(who) == 1 or f"{look.by}, {look.at:%Y-%m-%d}" == where[id][2]
        assert f" at {look.at:%H:%M}" in where[id][-1]


def test_who_looked_stands_in_each_row_where_two_did_and_once_where_one_did() -> None:
    survey = sample(SAMPLES[0])
    first = survey.standing(Look)[0]
    other = survey.with_replaced(replace(first, by="somebody else"))

    def head(seen: Survey) -> tuple[str, ...]:
        blocks = report_of(seen, library(), NOW, SOURCE).blocks
        return next(b for b in blocks if isinstance(b, Table) and b.caption == "Looks").head

    assert "By, on" not in head(survey)
    assert "By, on" in head(other)
    assert paper(SAMPLES[0], ".txt").count("All of it: ") == 1


@each_sample
def test_everything_that_was_skipped_stands_in_it_with_its_reason(path: Path) -> None:
    survey = sample(path)
    report = report_of(survey, library(), NOW, SOURCE)
    tables = [b for b in report.blocks if isinstance(b, Table) and b.caption == "Skipped"]
    said = {row[0]: row[1] for table in tables for row in table.rows}
    for skip in survey.standing(Skip):
        assert f"{skip.id} " in said[skip.why]


def test_what_was_struck_and_what_was_doubted_say_so() -> None:
    survey = bent()
    first, second = survey.standing(Reading)[:2]
    survey = survey.with_struck(first.id, "read from the wrong end")
    survey = survey.with_row(
        Doubt(id="d900", reading=second.id, text="that is 1 in off", kept="asked")
    )
    rows = readings_of(report_of(survey, library(), DAY, SOURCE))
    assert rows[first.id][-1] == "struck: read from the wrong end"
    assert rows[second.id][-1] == "kept although doubted (asked): that is 1 in off"


def test_of_the_verdict_as_it_was_shown_only_what_reads_otherwise_today_is_repeated() -> None:
    from wizard.survey.rows import Verdict as Shown

    survey = bent()
    now = verdict_page(survey, library(), DAY)
    first = next(line for line in now.splitlines() if line.startswith("  - "))

    def told(text: str) -> list[str]:
        kept = survey.with_row(Shown(id="v900", at=DAY, by="owner", text=text))
        blocks = report_of(kept, library(), DAY, SOURCE).blocks
        at = [n for n, b in enumerate(blocks) if isinstance(b, Heading) and b.id == "shown"]
        return [i.text for n in at for i in blocks[n + 2].items]  # type: ignore[union-attr]

    assert told(now) == []
    older = now.replace(first, "  - The frame was called\n    a little bent then.\n" + first)
    (differs,) = told(older)
    assert differs.endswith(": The frame was called a little bent then.")


def test_limits_stand_with_their_sources_and_the_owners_before_the_tables() -> None:
    from tests.checks.surveys import with_limit

    survey = with_limit(bent(), "twist", "watch", "9 mm", "works drawing 12")
    report = report_of(survey, library(), DAY, SOURCE)
    table = next(b for b in report.blocks if isinstance(b, Table) and b.caption == "Limits")
    (own,) = (row for row in table.rows if row[2].startswith("works drawing 12"))
    assert own[1].startswith("keep an eye on it up to 11/32 in (9 mm); beyond that")
    assert own[2] == "works drawing 12 (the owner's or mentor's own figure)"
    assert all(row[2] for row in table.rows)
    assert any(row[2] == "common practice, no published source" for row in table.rows)


def test_remarks_opinions_file_and_checksum() -> None:
    survey = bent().with_row(
        Remark(id="m900", by="owner", prompt="", text="left rivet worn oval", photo="112")
    )
    survey = survey.with_row(
        Opinion(id="o901", by="A. Mentor", at=DAY, text="I would not touch it.")
    )
    text = words(report_as(survey, library(), DAY, SOURCE, ".html"))
    assert "left rivet worn oval photo 112" in text
    assert "I would not touch it. signed A. Mentor" in text
    assert SOURCE.sha256 in text
    assert text.count(SOURCE.sha256[:16]) == 2


def test_a_verdict_shown_then_is_kept_beside_todays() -> None:
    survey = bent().with_row(
        Shown(id="v900", at=DAY, by="owner", text="All is well.\n\nWhat to do\n  - Nothing at all.")
    )
    text = words(report_as(survey, library(), DAY, SOURCE, ".html"))
    tells(text, "The file keeps the verdict", "shown on 2026-04-11", "today", "otherwise")
    assert "What to do: Nothing at all." in text
    typed = report_as(survey, library(), DAY, SOURCE, ".txt")
    tells(typed, "- All is well.\n", "- What to do: Nothing at all.\n")


def test_an_empty_survey_has_a_report_that_says_how_little_there_is() -> None:
    for suffix in (".html", ".md", ".txt"):
        text = flat(unmarked(report_as(survey_of({}), library(), DAY, SOURCE, suffix)))
        assert "First, tape the diagonals of the whole frame" in text
        assert "No string was read." in text


@each_sample
@pytest.mark.parametrize("suffix", [".html", ".md", ".txt"])
def test_it_never_says_safe_to_drive(path: Path, suffix: str) -> None:
    assert "safe to drive" not in paper(path, suffix).lower()


def test_of_an_answer_that_was_corrected_only_the_last_is_told() -> None:
    survey, lib = Survey(), library()
    step = next(iter(lib.marked(marks.PAST)))
    prompt = next(p for p in expand(step, lib.layouts[survey.layout], lib.tools) if p.choices)
    first, second = prompt.choices[:2]
    for choice in (first, second):
        survey = survey.with_row(
            Answer(id=survey.new_id(Answer), at=NOW, prompt=prompt.id, answer=choice.token)
        )
    blocks = report_of(survey, library(), NOW, SOURCE).blocks
    at = next(n for n, b in enumerate(blocks) if isinstance(b, Heading) and b.id == "past")
    (told_of,) = all_words(blocks[at + 1 : at + 2])
    assert told_of.count(prompt.ask) == 1
    assert second.words.lower() in told_of.lower()
    assert f"{prompt.ask} {first.words}".lower() not in told_of.lower()


def _texts(survey: Survey) -> list[str]:
    document = report_of(survey, library(), NOW, SOURCE)
    return [b.text for b in document.blocks if isinstance(b, Paragraph)]


def test_what_hung_on_a_withdrawn_answer_is_told_no_more() -> None:
    survey, lib = Survey(), library()
    step = next(iter(lib.marked(marks.PAST)))
    asked = {p.id: p for p in expand(step, lib.layouts[survey.layout], lib.tools)}
    hangs = next(p for p in asked.values() if p.needs)
    on = asked[hangs.needs[0].prompt]
    met = hangs.needs[0].any[0]
    other = next(c.token for c in on.choices if c.token not in hangs.needs[0].any)
    for prompt, token in ((on, met), (hangs, hangs.choices[0].token), (on, other)):
        assert (hangs.ask in " ".join(_texts(survey))) is (prompt is on and token == other)
        survey = survey.with_row(
            Answer(id=survey.new_id(Answer), at=NOW, prompt=prompt.id, answer=token)
        )
    assert on.ask in " ".join(_texts(survey))
    assert hangs.ask not in " ".join(_texts(survey))
