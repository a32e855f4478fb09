"""What stands at a prompt as one number: starting marks, means, and every part of its doubt."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from pathlib import Path

import pytest

from tests.checks.surveys import TOOLS, add, case_of, library, survey_of
from wizard.checks import diagonals, wheelbase
from wizard.checks.case import Case, Taken
from wizard.checks.run import findings_of
from wizard.math.uncertain import Part
from wizard.survey.file import load
from wizard.survey.state import with_tool

SAMPLES = sorted((Path(__file__).parents[2] / "sample_sessions").glob("*.toml"))

pytestmark = pytest.mark.quick

D1, D2 = (
    "long-diagonals/whole/front-left--rear-right",
    "long-diagonals/whole/front-right--rear-left",
)


def taken(readings: dict[str, list[str]], prompt: str, **more: object) -> Taken:
    found = case_of(readings, **more).taken(prompt)
    assert found is not None
    return found


def parts(found: Taken, begins: str) -> list[Part]:
    return [p for p in found.number.parts if p.name.startswith(begins)]


def started_at(start: str, unit: str, typed: str, prompt: str = D1) -> float:
    survey = survey_of({}, unit=unit)  # type: ignore[arg-type]
    tape = survey.tool("tape")
    assert tape is not None
    survey = survey.with_replaced(replace(tape, extra={**tape.extra, "start": start}))
    found = Case(add(survey, prompt, typed), library()).taken(prompt)
    assert found is not None
    return found.number.value


@pytest.mark.parametrize(
    ("start", "unit", "typed", "mm"),
    [
        ("mark", "in", "90", 80 * 25.4),
        ("mark", "mm", "2132", 2032.0),
        ("taken-off", "in", "80", 80 * 25.4),
        ("hook", "in", "80", 80 * 25.4),
        ("mark", "in", "2286 mm", 2032.0),
    ],
)
def test_a_tape_started_at_its_mark_gives_ten_inches_or_a_hundred_millimeters_back(
    start: str, unit: str, typed: str, mm: float
) -> None:
    assert started_at(start, unit, typed) == pytest.approx(mm)


def test_the_mark_is_the_tapes_and_never_the_rules() -> None:
    assert started_at("mark", "in", "2", "string-set-up/block") == pytest.approx(50.8)


def test_a_figure_that_is_not_past_the_mark_leaves_no_length_and_is_left_out() -> None:
    survey = survey_of({})
    tape = survey.tool("tape")
    assert tape is not None
    survey = survey.with_replaced(replace(tape, extra={**tape.extra, "start": "mark"}))
    assert Case(add(survey, D1, "10", "9"), library()).taken(D1) is None
    assert Case(add(survey, D1, "10 1/16"), library()).taken(D1) is not None


def test_a_gap_of_nothing_by_the_rule_is_a_reading() -> None:
    assert taken({"sag-loaded/center/left": ["0"]}, "sag-loaded/center/left").number.value == 0.0


def test_repeats_are_averaged_and_struck_rows_are_not() -> None:
    survey = survey_of({D1: ["80", "80 1/8", "99"]})
    bad = survey.readings_of(D1)[-1]
    found = Case(survey.with_struck(bad.id, "misread"), library()).taken(D1)
    assert found is not None
    assert found.number.value == pytest.approx(80.0625 * 25.4)
    assert bad.id not in found.ids


@pytest.mark.parametrize(
    "row", [{"typed": "eighty"}, {"typed": "-80"}, {"prompt": "no-such/prompt"}, {"typed": "1e3"}]
)
def test_a_row_that_no_prompt_would_have_taken_is_left_out(row: dict[str, str]) -> None:
    survey = survey_of({D1: ["80"]})
    good = survey.readings_of(D1)[0]
    case = Case(survey.with_row(replace(good, id="r99", **row)), library())  # type: ignore[arg-type]
    assert [r.id for rows in case.by_prompt.values() for r in rows] == [good.id]


def test_a_bubble_read_with_something_that_is_no_level_is_left_out() -> None:
    survey = survey_of({})
    tape = survey.tool("tape")
    assert tape is not None
    survey = add(survey, "level/rear/as-set", "1 left", tool=tape.id)
    assert Case(survey, library()).taken("level/rear/as-set") is None


def test_a_reading_without_a_tool_or_with_a_broken_one_is_an_ordinary_tapes() -> None:
    plain = Case(add(survey_of({}, tools=()), D1, "80"), library()).taken(D1)
    assert plain is not None
    assert [p.name for p in plain.number.parts if p.name.startswith("tape")] == [
        "tape:unnamed-tape"
    ]
    survey = survey_of({D1: ["80"]})
    tape = survey.tool("tape")
    assert tape is not None
    broken = Case(survey.with_replaced(replace(tape, extra={"class": "IX"})), library()).taken(D1)
    assert broken is not None
    assert broken.number.value == pytest.approx(2032)


def test_a_layout_that_the_content_lacks_falls_back_to_the_first() -> None:
    assert (
        Case(replace(survey_of({}), layout="of-another-program"), library()).layout.id
        in library().layouts
    )


# The parts of the doubt
# -------------------------------------------------------------------------------------------


def test_the_tapes_class_is_one_shared_part_of_mpe_over_root_three() -> None:
    """Class II, 2032 mm: 0.3 + 0.2 × 3 m = 0.9 mm (Directive 2014/32/EU MI-008, read)."""
    (tape,) = parts(taken({D1: ["80"]}, D1), "tape:")
    assert tape.size == pytest.approx(0.9 / math.sqrt(3))
    assert (tape.shared, tape.dof) == (True, math.inf)


def test_from_the_hook_the_hooks_own_error_comes_on_top() -> None:
    """1.1 mm from the hook instead of 0.9 (the same directive)."""
    survey = survey_of({D1: ["80"]})
    tape = survey.tool("tape")
    assert tape is not None
    hooked = Case(
        survey.with_replaced(replace(tape, extra={**tape.extra, "end": "hook"})), library()
    ).taken(D1)
    assert hooked is not None
    assert parts(hooked, "tape:")[0].size == pytest.approx(1.1 / math.sqrt(3))


def test_one_tape_cancels_in_a_difference_and_two_do_not() -> None:
    survey = survey_of({"wheelbase/left": ["103"]})
    same = wheelbase.check(Case(add(survey, "wheelbase/right", "103"), library()))[0].number
    other = add(
        with_tool(survey, library().tools["fine-tape"], survey.started, "owner"),
        "wheelbase/right",
        "103",
    )
    two = wheelbase.check(Case(other, library()))[0].number
    assert not [p for p in same.parts if p.name.startswith("tape:")]
    # Class II and class I over 2616 mm: 0.9 and 0.4 mm, each over root three.
    sizes = [abs(p.size) for p in two.parts if p.name.startswith("tape:")]
    assert sorted(sizes) == pytest.approx([0.4 / math.sqrt(3), 0.9 / math.sqrt(3)])
    assert two.u > same.u


def test_half_the_repeats_with_another_tape_share_half_of_each_error() -> None:
    survey = with_tool(
        survey_of({D1: ["80"]}), library().tools["fine-tape"], survey_of({}).started, "owner"
    )
    found = Case(add(survey, D1, "80"), library()).taken(D1)
    assert found is not None
    sizes = sorted(p.size for p in parts(found, "tape:"))
    assert sizes == pytest.approx([0.4 / math.sqrt(3) / 2, 0.9 / math.sqrt(3) / 2])


def test_the_points_definition_does_not_shrink_with_repeats_and_the_hand_does() -> None:
    once, four = taken({D1: ["80"]}, D1), taken({D1: ["80"] * 4}, D1)
    points = [[p.size for p in parts(t, "point:")] for t in (once, four)]
    assert points[0] == points[1]
    # Two rivets of 0.3 mm, each along the tape.
    assert math.hypot(*points[0]) == pytest.approx(0.3 * math.sqrt(2))
    assert parts(four, "hand:")[0].size < 0.6 * parts(once, "hand:")[0].size


def test_a_point_shared_by_both_ends_of_a_sum_cancels() -> None:
    """Front to center and center to rear along one rail share the center rivet: its spot drops out
    of the sum.
    """
    a, b = (
        "own-sides/front-box/front-left--center-left",
        "own-sides/rear-box/center-left--rear-left",
    )
    case = case_of({a: ["1001.5"], b: ["1201.8"]}, unit="mm")
    first, second = case.taken(a), case.taken(b)
    assert first is not None
    assert second is not None
    total = first.number + second.number
    along = {p.name: abs(p.size) for p in total.parts if p.name.endswith(":x")}
    assert along["point:front-left:x"] == pytest.approx(0.3, abs=0.001)
    assert along.get("point:center-left:x", 0.0) < 0.001


def test_the_prior_alone_is_worth_eight_degrees_of_freedom() -> None:
    """A relative doubt of 25 % (JCGM 100:2008 G.4.2, second hand)."""
    (hand,) = parts(taken({D1: ["80"]}, D1), "hand:")
    assert (hand.size, hand.dof) == (pytest.approx(1.0), 8)
    assert "own figure" in hand.whose


def test_repeats_are_pooled_with_the_prior() -> None:
    """s² = (8 × 1.0² + Σ(d - mean)²) / (8 + 1), then u = s/√2: by hand for two readings 2 mm apart."""
    (hand,) = parts(taken({D1: ["2031 mm", "2033 mm"]}, D1), "hand:")
    s = math.sqrt((8 * 1.0**2 + 2.0) / 9)
    assert hand.size == pytest.approx(s / math.sqrt(2))
    assert hand.dof == 9
    assert hand.source == "hand and scale, 2 readings"


def test_scatter_is_pooled_over_prompts_of_the_same_tool_and_point() -> None:
    (hand,) = parts(taken({D1: ["2031 mm"], D2: ["2031 mm", "2037 mm"]}, D1), "hand:")
    assert hand.size == pytest.approx(math.sqrt((8 * 1.0**2 + 18.0) / 9))
    # A hole's repeats say nothing of rivets, nor does another tool's gap.
    tips = "horns/horns/tip-left--tip-right"
    (apart,) = parts(taken({D1: ["2031 mm"], tips: ["580 mm", "590 mm"]}, D1), "hand:")
    assert apart.size == pytest.approx(1.0)


def test_readings_of_two_tapes_at_one_prompt_are_no_repeats_of_one_another() -> None:
    survey = with_tool(
        survey_of({D1: ["2031 mm"]}), library().tools["fine-tape"], survey_of({}).started, "owner"
    )
    found = Case(add(survey, D1, "2037 mm"), library()).taken(D1)
    assert found is not None
    assert parts(found, "hand:")[0].dof == 8


def test_effective_degrees_of_freedom_by_welch_and_satterthwaite() -> None:
    """ν = u⁴ / Σ uᵢ⁴/νᵢ with ν infinite for class limits and points: by hand for one reading."""
    found = taken({D1: ["80"]}, D1).number
    u = math.sqrt(1.0**2 + (0.9 / math.sqrt(3)) ** 2 + 2 * 0.3**2)
    # The blade's hang adds a few hundredths of a millimeter.
    assert found.u == pytest.approx(u, rel=0.002)
    assert found.dof == pytest.approx(u**4 / (1.0**4 / 8), rel=0.005)


@pytest.mark.parametrize(
    ("tool", "typed", "hand"),
    [
        ("carpenters-level", "1/2 left", 0.1 * 0.006),
        ("machinists-level", "1/2 left", 0.1 * 0.0005),
        ("angle-gauge", "0.3° left", math.radians(0.05)),
        ("level-with-shims", "1.5 mm left", 0.15 / 600),
    ],
)
def test_a_levels_hand_scatter_is_in_its_own_divisions(tool: str, typed: str, hand: float) -> None:
    tools = (*(t for t in TOOLS if t != "carpenters-level"), tool)
    found = taken({"level/rear/as-set": [typed]}, "level/rear/as-set", tools=tools)
    assert parts(found, "hand:")[0].size == pytest.approx(hand)
    assert parts(found, "level:")[0].size == pytest.approx(0.1 * found.number.value)


def test_a_rules_error_cancels_between_gap_and_block() -> None:
    case = case_of({"string-set-up/block": ["2"], "sag-loaded/center/left": ["2"]})
    block, gap = case.taken("string-set-up/block"), case.taken("sag-loaded/center/left")
    assert block is not None
    assert gap is not None
    assert parts(block, "ruler:")[0].size == pytest.approx(0.5 / math.sqrt(3))
    assert not [p for p in (gap.number - block.number).parts if p.name.startswith("ruler:")]


def test_what_is_no_point_of_the_layout_has_no_place() -> None:
    case = case_of({})
    assert case.place_of("front-left") == (0.0, -310.0)
    assert case.place_of("front-right") == (0.0, 310.0)
    assert case.place_of("front") is None
    assert case.point_parts("front-left", "moon") == ()


def test_a_kind_of_tool_without_a_prior_is_guessed_cautiously() -> None:
    assert case_of({}).prior("laser", "").s == 1.0


def test_the_whole_shift_by_hand() -> None:
    """rail shift of 1/4 in, its u from the parts, written out afresh; the length by the diagonals
    over a round width of (620 + 860) / 2 mm, known to 0.08 of each end's.
    """
    (finding,) = diagonals.check(case_of({D1: ["91 1/2"] * 2, D2: ["91 1/4"] * 2}))
    d1, d2, wide = 91.5 * 25.4, 91.25 * 25.4, 740.0
    length = math.sqrt((d1**2 + d2**2) / 2 - wide**2)
    assert finding.value == pytest.approx((d1**2 - d2**2) / (4 * length))
    # Four readings that agreed in pairs: s² = 8 × 1.0² / 10. The tape's own error is one and the
    # same in both.
    hand = math.sqrt(8 * 1.0 / 10) / math.sqrt(2)
    tape = 0.9 / math.sqrt(3) * (d1 - d2)
    square = (
        (hand * d1) ** 2 + (hand * d2) ** 2 + tape**2 + 2 * (0.3 * d1) ** 2 + 2 * (0.3 * d2) ** 2
    )
    round_length = finding.value * wide / length**2 * 0.08 * math.hypot(620, 860) / 2
    assert finding.number.u == pytest.approx(
        math.sqrt(square / (2 * length) ** 2 + round_length**2), rel=0.002
    )


# Whose figure ---------------------------------------------------------------------------------------

WHOSE = re.compile(r"\b(?:figures?|guess|Directive|memory)\b")
OF_THE_FRAME = "the figure for one division of the level"


@pytest.mark.parametrize("path", SAMPLES, ids=lambda p: p.stem)
def test_what_a_doubt_is_goes_on_in_a_sentence_and_whose_figure_it_is_stands_apart(
    path: Path,
) -> None:
    """`Most of the doubt is …` is said in the answer: nobody asked it where a figure comes from."""
    found = findings_of(load(path), library())
    parts = {(p.source, p.whose) for f in found for p in f.number.parts}
    assert len(parts) > 10
    for source, _ in parts:
        assert "(" not in source, source
        assert not WHOSE.search(source.removeprefix(OF_THE_FRAME).replace("round figure", "")), (
            source
        )
    assert any("own figure" in whose for _, whose in parts)
    assert any("Directive" in whose for _, whose in parts)
