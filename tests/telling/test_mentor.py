"""The pairs as typed, at the head of the mentor's text."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest

from tests.checks.surveys import DAY, bent, findings, library, survey_of
from tests.told import says
from wizard.judgment.bands import Judged
from wizard.judgment.sight import verdict_of
from wizard.library.places import SIDES
from wizard.math.uncertain import Part, Uncertain
from wizard.survey.file import load
from wizard.survey.record import Survey, Unit
from wizard.telling.amounts import BANDS, OUT, SOURCE_KINDS, bound, sides
from wizard.telling.mentor import HEADING, _provenance, doubt_items, pairs
from wizard.telling.papers import report_as
from wizard.telling.report import Source
from wizard.telling.tell import tell_text
from wizard.telling.text import lines_of

SAMPLE = Path(__file__).parents[2] / "sample_sessions" / "marigold-2026-05-02.toml"
CROSS = "long-diagonals/whole/front-left--rear-right", "long-diagonals/whole/front-right--rear-left"


def rows(survey: Survey) -> list[str]:
    return lines_of(pairs(verdict_of(survey, library(), DAY), survey, library()))


def row(survey: Survey, name: str) -> list[str]:
    """The cells of one row; they stand at the head's columns."""
    lines = rows(survey)
    starts = [0, 16, 30, 44, 51, 58, 80]
    line = next(text for text in lines if text.startswith(name)).ljust(80)
    return [line[a:b].strip() for a, b in pairwise(starts)]


def test_a_pair_as_typed_with_spread_difference_and_result() -> None:
    survey = survey_of({CROSS[0]: ["2438", "2440"], CROSS[1]: ["2430", "2430"]}, unit="mm")
    cells = row(survey, "whole diag.")
    assert cells[:5] == ["whole diag.", "2438; 2440", "2430 x2", "2", "9"]
    assert cells[5].startswith("right back 4.5 ± ")


def test_which_way_it_goes_turns_with_the_readings() -> None:
    survey = survey_of({CROSS[0]: ["2430"], CROSS[1]: ["2439"]}, unit="mm")
    assert row(survey, "whole diag.")[5].startswith("left back 4.5 ± ")
    base = {"wheelbase/left": ["2611"], "wheelbase/right": ["2620"]}
    assert row(survey_of(base, unit="mm"), "wheelbase")[5].startswith("left short 9 ± ")


def test_one_side_alone_is_no_pair_and_an_empty_survey_has_no_table() -> None:
    assert rows(survey_of({})) == []
    assert rows(survey_of({CROSS[0]: ["2430"]}, unit="mm")) == []


def test_it_is_short_and_narrow_and_comes_before_the_verdict() -> None:
    lines = rows(load(SAMPLE))
    assert 12 <= len([n for n in lines if n]) <= 18
    assert max(map(len, lines)) <= 80
    text = tell_text(bent(), library(), DAY, mentor=True)
    assert text.splitlines()[2] == HEADING
    assert text.index(HEADING) < text.index("What to do")
    assert HEADING not in tell_text(bent(), library(), DAY)


def test_each_kind_of_pair_has_its_row() -> None:
    names = "\n".join(rows(bent()))
    for name in (
        "front box diag.",
        "rear box sides",
        "horns crosswise",
        "wheelbase",
        "sag, engine off",
        "level, rear",
    ):
        assert name in names


def test_a_proven_slip_is_marked_and_counts_neither_here_nor_on_paper() -> None:
    sound = {CROSS[0]: ["2438", "2440"], CROSS[1]: ["2430", "2430"]}
    slipped = {CROSS[0]: ["2438", "2540", "2440"], CROSS[1]: ["2430", "2430"]}
    with_slip = survey_of(slipped, unit="mm")
    assert "(out); 2440" in " ".join(rows(with_slip))
    assert row(with_slip, "whole diag.")[5] == row(survey_of(sound, unit="mm"), "whole diag.")[5]
    paper = report_as(with_slip, library(), DAY, Source("a.toml", "0f" * 32), ".html")
    assert paper.count(OUT) == 1


def test_a_figure_out_of_print_is_called_published() -> None:
    limit = library().limits["thickness"]
    assert {b.mark for b in limit.above} == {"P"}
    assert all(_provenance(b, b, "").endswith(f" ({SOURCE_KINDS['P']}).") for b in limit.above)


def _table(number: Uncertain) -> list[str]:
    """The lines of a doubt's table, without what stands around it."""
    finding = next(iter(findings(bent()).values()))
    judged = Judged(replace(finding, number=number, readings=()), (), ())
    return [item.text for item in doubt_items(judged, bent(), library())][2:]


def test_what_is_under_a_twentieth_of_the_doubt_is_folded_into_one_line() -> None:
    great = Part("hand:widths/front/front-left--front-right", 3.0, source="two readings")
    small = (Part("a", 0.14, source="x"), Part("b", 0.05, source="y"), Part("c", 0.1, source="z"))
    told = _table(Uncertain(0.0, (small[0], great, *small[1:])))
    assert len(told) == 2
    assert says(told[0], "3.000 … widths … own … two readings")
    assert says(told[1], "0.179 … 3 more together … under a twentieth … a; c; b")


def test_a_single_small_part_and_one_of_just_a_twentieth_stand_by_themselves() -> None:
    one = _table(Uncertain(0.0, (Part("a", 3.0), Part("b", 0.01))))
    assert [says(line, words) for line, words in zip(one, ("3.000 a", "0.010 b"), strict=True)]
    twentieth = Part("b", 1.0, source="y")
    rest = (Part("a", 19.97, source="x"), Part("c", 0.1, source="z"), Part("d", 0.2, source="z"))
    assert len(_table(Uncertain(0.0, (twentieth, *rest)))) == 3


def test_parts_of_one_size_and_one_source_are_told_in_one_line() -> None:
    points = [Part(f"point:front-{side}:x", 0.15, shared=True, source="rivet") for side in SIDES]
    told = _table(Uncertain(0.0, (*points, Part("a", 0.15, shared=True, source="another"))))
    assert len(told) == 2
    assert says(told[0], "0.150 … left front, along … right front, along … each, shared … rivet")


@pytest.mark.parametrize("unit", ["mm", "in"])
def test_every_limit_is_said_from_both_sides_of_its_figures(unit: Unit) -> None:
    for limit in library().limits.values():
        told = sides(limit, unit)
        ends = [bound(b.upto_mm, limit.unit, unit) for b in limit.above]
        assert told.startswith(f"up to {ends[0]}: {BANDS[limit.above[0].band]}")
        assert told.endswith(f"beyond {ends[-1]}: {BANDS[limit.beyond]}")
        for low, band in zip(ends, limit.above[1:], strict=False):
            end = bound(band.upto_mm, limit.unit, unit)
            assert f"from {low} up to {end}: {BANDS[band.band]}" in told
