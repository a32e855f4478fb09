"""The pairs as typed, at the head of the mentor's text."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

from tests.checks.surveys import DAY, bent, library, survey_of
from wizard.judgment.sight import verdict_of
from wizard.survey.file import load
from wizard.survey.record import Survey
from wizard.telling.amounts import MARKS, OUT
from wizard.telling.mentor import HEADING, _provenance, pairs
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
    assert cells[5].startswith("right back 5 ± ")


def test_which_way_it_goes_turns_with_the_readings() -> None:
    survey = survey_of({CROSS[0]: ["2430"], CROSS[1]: ["2439"]}, unit="mm")
    assert row(survey, "whole diag.")[5].startswith("left back 5 ± ")
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
    assert all(_provenance(b, b, "").endswith(f" ({MARKS['P']}).") for b in limit.above)
