"""What to do about the frame: what outranks what, and what may never be called fine."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.checks.surveys import DAY, add, found, library, survey_of, with_limit, with_looks
from wizard.checks.finding import Finding
from wizard.judgment.sight import verdict_of
from wizard.judgment.verdict import Verdict
from wizard.math.uncertain import Part, Uncertain
from wizard.survey.guide import LENGTH_PROMPT
from wizard.survey.record import Survey
from wizard.survey.rows import Answer, Look

ANSWERS = {"string-set-up/where": "above"}
SOUND = {
    "long-diagonals/whole/front-left--rear-right": ["91 3/8", "91 3/8"],
    "long-diagonals/whole/front-right--rear-left": ["91 3/8", "91 3/8"],
    "string-set-up/block": ["2"],
    "string-set-up/span": ["85 7/8"],
    "sag-unloaded/engine-mount/left": ["2"],
    "sag-unloaded/engine-mount/right": ["2"],
    "level/front-crossmember/as-set": ["0"],
    "level/front-crossmember/turned": ["0"],
    "level/rear/as-set": ["0"],
    "level/rear/turned": ["0"],
}
"""The least that makes a whole picture, and nothing wrong in it."""


def verdict(survey: Survey) -> Verdict:
    return verdict_of(survey, library(), DAY)


def sound(**other: list[str]) -> Survey:
    """The sound frame with some readings otherwise: keys as prompt ids with __ for / and _ for -."""
    changed = {
        k.replace("__", "/").replace("_", "-").replace("~", "--"): v for k, v in other.items()
    }
    return with_looks(survey_of(SOUND | changed, answers=ANSWERS))


def without(*begins: str) -> Survey:
    kept = {p: t for p, t in SOUND.items() if not p.startswith(begins)}
    return with_looks(survey_of(kept, answers=ANSWERS))


def test_a_sound_frame_seen_whole_is_left() -> None:
    result = verdict(sound())
    assert (result.action, result.lacking, result.open) == ("leave", (), ())


@pytest.mark.parametrize(
    ("begins", "lacks"),
    [
        (("long-diagonals",), "rail-shift"),
        (("long-diagonals/whole/front-left",), "rail-shift"),
        (("sag",), "sag"),
        (("sag-unloaded/engine-mount/right",), "sag"),
        (("string-set-up/block",), "sag"),
        (("level",), "twist"),
        (("level/rear",), "twist"),
    ],
)
def test_what_is_lacking_is_named_and_nothing_is_called_fine(
    begins: tuple[str, ...], lacks: str
) -> None:
    result = verdict(without(*begins))
    assert (result.action, result.lacking) == ("not-enough", (lacks,))


def test_the_front_box_alone_is_not_the_frame() -> None:
    survey = without("long-diagonals")
    bar = add(survey, "front-box-bar/front-right--center-left", "0", "0", "0")
    assert verdict(bar).lacking == ("rail-shift",)
    both = add(bar, "box-diagonals/rear-box/center-left--rear-right", "56 5/8", "56 5/8")
    both = add(both, "box-diagonals/rear-box/center-right--rear-left", "56 5/8", "56 5/8")
    assert verdict(both).lacking == ()


def test_the_rear_box_alone_is_not_the_frame_either() -> None:
    rear = without("long-diagonals")
    rear = add(rear, "box-diagonals/rear-box/center-left--rear-right", "56 5/8", "56 5/8")
    rear = add(rear, "box-diagonals/rear-box/center-right--rear-left", "56 5/8", "56 5/8")
    assert verdict(rear).lacking == ("rail-shift",)


@pytest.mark.parametrize(
    ("seen", "answer"), [("dirty", "nothing-found"), ("not-reached", ""), ("bare", "not-sure")]
)
def test_looks_that_saw_nothing_do_not_count(seen: str, answer: str) -> None:
    result = verdict(with_looks(survey_of(SOUND, answers=ANSWERS), seen, answer))
    assert (result.action, result.lacking) == ("not-enough", ("looks",))


@pytest.mark.parametrize(("share", "lacking"), [(0.45, ("looks",)), (0.55, ())])
def test_half_of_the_looks_are_needed(share: float, lacking: tuple[str, ...]) -> None:
    assert verdict(with_looks(survey_of(SOUND, answers=ANSWERS), share=share)).lacking == lacking


def test_the_metal_where_a_jack_goes_is_no_look_of_the_frame() -> None:
    """The car is set up on it; of the joints and the rails it says nothing."""
    survey = with_looks(survey_of(SOUND, answers=ANSWERS), share=0.45)
    for side in ("left", "right"):
        for end in ("front", "rear"):
            prompt = f"set-supports/{side}/{end}-metal"
            survey = survey.with_row(
                Look(id=survey.new_id(Look), prompt=prompt, seen="bare", answer="nothing-found")
            )
    assert verdict(survey).lacking == ("looks",)
    rows = [
        replace(k, answer="crack") if k.prompt == "set-supports/left/front-metal" else k
        for k in survey.table(Look)
    ]
    assert verdict(replace(survey, rows={**survey.rows, "look": tuple(rows)})).action == "stop"


def test_looks_alone_are_not_enough_and_numbers_alone_are_not_either() -> None:
    assert verdict(with_looks(survey_of({}))).lacking == ("rail-shift", "sag", "twist")
    assert verdict(survey_of(SOUND, answers=ANSWERS)).lacking == ("looks",)


def test_only_the_short_list_of_a_re_check_needs_no_looks_of_its_own() -> None:
    """Neither a whole survey that follows another, nor a list in a survey that follows none."""
    numbers = survey_of(SOUND, answers=ANSWERS)
    short = Answer(id=numbers.new_id(Answer), prompt=LENGTH_PROMPT, answer="recheck")
    assert verdict(replace(numbers, follows="first")).lacking == ("looks",)
    assert verdict(numbers.with_row(short)).lacking == ("looks",)
    assert verdict(replace(numbers.with_row(short), follows="first")).lacking == ()


def test_an_empty_survey_is_never_fine() -> None:
    result = verdict(survey_of({}))
    assert result.action == "not-enough"
    assert (result.judged, result.reasons) == ((), ())


def crack(survey: Survey) -> Survey:
    row = next(k for k in survey.standing(Look) if k.prompt == "rail-tops/right")
    return survey.with_replaced(replace(row, answer="crack"))


def test_a_stop_sign_outranks_every_number() -> None:
    assert verdict(crack(sound())).action == "stop"
    past = crack(sound(sag_unloaded__engine_mount__left=["3"]))
    assert verdict(past).action == "stop"
    # Without the crack the same survey goes to a specialist for its sag.
    assert verdict(sound(sag_unloaded__engine_mount__left=["3"])).action == "specialist"


def test_a_stop_sign_in_a_survey_of_one_look_stops() -> None:
    survey = survey_of({})
    survey = survey.with_row(
        Look(id="k1", prompt="horn-welds/left", seen="painted", answer="crack")
    )
    result = verdict(survey)
    assert (result.action, [s.look.id for s in result.stops]) == ("stop", ["k1"])


@pytest.mark.parametrize(
    ("gap", "action"),
    [
        ("2 1/8", "leave"),
        ("2 3/16", "open"),
        ("2 5/16", "put-right"),
        ("2 1/2", "specialist"),
    ],
)
def test_the_action_follows_what_is_established(gap: str, action: str) -> None:
    assert verdict(sound(sag_unloaded__engine_mount__left=[gap])).action == action


def test_what_is_established_is_said_even_when_the_rest_was_not_measured() -> None:
    survey = survey_of(SOUND | {"sag-unloaded/engine-mount/left": ["2 1/2"]}, answers=ANSWERS)
    result = verdict(survey)
    assert (result.action, result.lacking) == ("specialist", ("looks",))


def test_an_open_band_is_open_and_named() -> None:
    result = verdict(sound(sag_unloaded__engine_mount__left=["2 15/64"]))
    assert result.action == "open"
    assert [j.finding.id for j in result.open] == ["sag-unloaded/engine-mount/left"]
    assert result.open[0].bands == ("watch", "put-right")


def test_whatever_is_open_is_named_though_a_graver_station_is_settled(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """One station established as `watch` must not hide another of the same rail that is open up to
    `put right`.
    """
    settled, unsettled = _sag("engine-mount", 4.5, 0.1), _sag("center", 4.0, 1.6)
    monkeypatch.setattr("wizard.checks.run.findings_of", lambda *_: (settled, unsettled))
    result = verdict(survey_of({}))
    assert [j.finding.id for j in result.open] == ["sag-unloaded/center/left"]
    assert result.reasons[0].finding.id == "sag-unloaded/engine-mount/left"


def _sag(station: str, value: float, u: float) -> Finding:
    where = f"{station}/left"
    number = Uncertain(value, (Part("p", u),))
    return found("sag-unloaded", where, number, limit="sag-unloaded")


@settings(max_examples=30, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.lists(st.integers(120, 164), min_size=4, max_size=4))
def test_an_open_verdict_always_names_what_is_open(gaps: list[int]) -> None:
    prompts = [
        f"sag-unloaded/{s}/{side}" for s in ("engine-mount", "center") for side in ("left", "right")
    ]
    made = {p: [f"{g / 64:.6f}"] for p, g in zip(prompts, gaps, strict=True)}
    result = verdict(with_looks(survey_of(SOUND | made, answers=ANSWERS)))
    open_ids = {
        j.finding.id for j in result.judged if len(j.bands) > 1 and j.bands != ("leave", "watch")
    }
    assert bool(open_ids) == bool(result.open)
    assert {j.finding.id for j in result.open} <= open_ids
    assert result.action != "leave" or not any("put-right" in j.bands for j in result.judged)


def test_leave_or_watch_asks_for_nothing_and_is_not_open() -> None:
    result = verdict(sound(sag_unloaded__engine_mount__left=["2 1/8"]))
    assert (result.action, result.open) == ("leave", ())


def test_a_frame_to_put_right_comes_before_its_axle() -> None:
    """Only beside a true frame does an uneven wheelbase mean the axle."""
    axle = sound(wheelbase__left=["104", "104"], wheelbase__right=["103 1/2", "103 1/2"])
    assert verdict(axle).action == "axle-first"
    both = add(axle, "sag-unloaded/center/right", "2 5/16")
    assert verdict(both).action == "put-right"
    assert {j.established for j in verdict(both).reasons} >= {"put-right", "axle-first"}


def test_the_owners_limit_decides() -> None:
    survey = sound(sag_unloaded__engine_mount__left=["2 5/16"])
    assert verdict(survey).action == "put-right"
    generous = with_limit(survey, "sag-unloaded", "leave", "1/2", "the sister car")
    assert (verdict(generous).action, verdict(generous).reasons) == ("leave", ())
    near = with_limit(survey, "sag-unloaded", "leave", "5/16", "the sister car")
    assert verdict(near).reasons[0].edges[0].source == "the sister car"


def test_the_strongest_reasons_come_first_three_at_most_one_of_each() -> None:
    survey = sound(
        sag_unloaded__engine_mount__left=["2 5/16"], sag_unloaded__center__left=["2 1/4"]
    )
    survey = add(survey, "wheelbase/left", "103 1/8")
    survey = add(survey, "wheelbase/right", "103")
    for side, second in (("left--front-right", "40 1/16"), ("right--front-left", "40")):
        survey = add(survey, f"horns/horns/tip-{side}", second, second)
    survey = add(survey, "front-box-bar/front-right--center-left", "0", "0", "0")
    for side in ("left", "right"):
        survey = add(survey, f"own-sides/front-box/front-{side}--center-{side}", "39 1/2", "39 1/2")
    reasons = verdict(survey).reasons
    assert len(reasons) == 3
    assert all(j.bands != ("leave",) for j in reasons)
    assert reasons[0].finding.id == "sag-unloaded/engine-mount/left"
    assert "sag-unloaded/center/left" not in {j.finding.id for j in reasons}


def test_too_large_a_doubt_cannot_tell_and_never_calls_it_fine() -> None:
    """Limits far inside the doubt of the tapes: the tool, not the frame, is the answer."""
    survey = sound()
    worn = with_limit(survey, "rail-shift", "leave", "0.2 mm")
    worn = with_limit(worn, "rail-shift", "watch", "0.3 mm")
    worn = with_limit(worn, "rail-shift", "put-right", "0.4 mm")
    result = verdict(worn)
    assert result.action == "open"
    assert result.open[0].bands == ("leave", "watch", "put-right", "specialist")
