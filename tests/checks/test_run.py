"""All checks together: what must flip when the car is turned round, and what must never change."""

from __future__ import annotations

import math
import re
from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.checks.surveys import LADDER, add, findings, library, moved, survey_of, taped
from wizard.checks.case import Case
from wizard.judgment.bands import judge
from wizard.survey.record import Survey
from wizard.survey.rows import Reading

FLIPS = {
    "rail-shift",
    "twist",
    "horn-height",
    "horn",
    "wheelbase",
    "own-sides",
    "hint",
    "sway",
    "mash",
    "horn-back",
}
FLIPS |= {"axle"}
FLIPS |= {"sag-difference", "level-closing", "level-error", "string-level", "twist-shape"}
STAYS = {
    "sag-loaded",
    "sag-unloaded",
    "elastic",
    "closure",
    "caster",
    "bend",
    "horn-out",
    "hand",
    "crown",
}
STRUNG = ("sag-loaded", "sag-unloaded", "elastic", "sag-difference", "string-level", "crown")
STRUNG += ("caster", "twist", "twist-shape", "horn-height", "level-error", "level-closing")
"""Quantities whose scatter is learned from how far the gaps miss a smooth curve, or from how alike the
level's own error is at every place.
"""
FEW = settings(max_examples=8, deadline=None, suppress_health_check=[HealthCheck.too_slow])
LEVELS = ("horns", "front-crossmember", "center", "rear")
STATIONS = ("front-crossmember", "mid-engine", "engine-mount", "center", "behind")

near = st.integers(-5, 5).map(float)
gaps = st.integers(28, 36)
strung = st.integers(31, 33)
"""Sixteenths from the string to the metal: near enough to one another that none is a slip."""


@st.composite
def readings(draw: st.DrawFn) -> dict[str, list[str]]:
    """A frame bent at will and taped, leveled and strung in part; lengths to the sixteenth of an
    inch.
    """
    frame = moved(LADDER, **{p.replace("-", "_"): (draw(near), draw(near)) for p in LADDER})
    steps = draw(
        st.sets(
            st.sampled_from(("widths", "own-sides", "long-diagonals", "box-diagonals", "horns"))
        )
    )
    found = (
        {p: [sixteenths(float(t[0][:-3]))] for p, t in taped(frame, sorted(steps)).items()}
        if steps
        else {}
    )
    for level in draw(st.sets(st.sampled_from(LEVELS))):
        for way in ("as-set", "turned"):
            found[f"level/{level}/{way}"] = [bubble(draw(st.integers(-4, 4)))]
    found |= {"string-set-up/block": ["2"], "string-set-up/span": ["85.875"]}
    for station in draw(st.sets(st.sampled_from(STATIONS))):
        for side in ("left", "right"):
            for step in ("sag-loaded", "sag-unloaded"):
                found[f"{step}/{station}/{side}"] = [f"{draw(strung) / 16:.4f}"]
    found["wheelbase/left"], found["wheelbase/right"] = (
        [f"{draw(gaps) + 70}"],
        [f"{draw(gaps) + 70}"],
    )
    for side in ("left", "right"):
        found[f"wheelbase/rear-axle-{side}"] = [f"{draw(gaps) / 2:.4f}"]
    found["pulley-hint/pulley"] = [
        f"{draw(gaps) / 32:.5f} {draw(st.sampled_from(('left', 'right')))}"
    ]
    found["front-box-bar/front-right--center-left"] = [
        f"{draw(gaps) / 32:.5f} {draw(st.sampled_from(('past', 'short')))}"
    ]
    return found


def sixteenths(mm: float) -> str:
    return f"{round(mm / 25.4 * 16) / 16:.4f}"


def bubble(quarters: int) -> str:
    return f"{abs(quarters) / 4:.2f} {'left' if quarters > 0 else 'right'}" if quarters else "0"


def swapped(text: str, words: tuple[str, str] = ("left", "right")) -> str:
    other = dict(zip(words, reversed(words), strict=True))
    return re.sub("|".join(words), lambda m: other[m[0]], text)


def turned_round(survey: Survey) -> Survey:
    """What the mirror image of the car would have read: left for right in every prompt and in every
    reading.
    """
    known = Case(survey, library()).prompts
    rows = []
    for row in survey.standing(Reading):
        prompt = swapped(row.prompt)
        typed = swapped(row.typed)
        if known[row.prompt].tool == "bar":
            typed = swapped(typed, ("past", "short"))
        rows.append(replace(row, prompt=prompt if prompt in known else row.prompt, typed=typed))
    return replace(survey, rows={**survey.rows, "reading": tuple(rows)})


@FEW
@given(readings())
def test_turning_the_car_round_flips_just_the_signs_it_should_and_no_band(
    made: dict[str, list[str]],
) -> None:
    survey = survey_of(made)
    turned = turned_round(survey)
    here, there = findings(survey), findings(turned)
    assert {swapped(id) for id in there if not id.startswith("suspect")} == {
        id for id in here if not id.startswith("suspect")
    }
    for id, finding in here.items():
        if finding.quantity not in FLIPS | STAYS:
            assert finding.quantity in ("suspect", "elastic-foretold"), finding.quantity
            continue
        twin = there[swapped(id)]
        sign = -1.0 if finding.quantity in FLIPS else 1.0
        assert twin.value == pytest.approx(sign * finding.value, abs=1e-4), id
        assert twin.number.u == pytest.approx(finding.number.u, rel=1e-4, abs=1e-6), id
        assert judge(twin, turned, library()).bands == judge(finding, survey, library()).bands, id


def test_the_turning_can_fail() -> None:
    """A bubble whose side is not changed over with the prompts is found out."""
    made = {"level/front-crossmember/as-set": ["0"], "level/rear/as-set": ["1/2 left"]}
    survey = survey_of(made)
    assert findings(survey)["twist/rear"].value > 1
    assert findings(turned_round(survey))["twist/rear"].value < -1


def in_mm(typed: str) -> str:
    return re.sub(r"^[0-9.]+", lambda m: f"{float(m[0]) * 25.4:.6f} mm", typed)


@FEW
@given(readings())
def test_the_unit_of_entry_changes_no_finding(made: dict[str, list[str]]) -> None:
    kinds = {p.id: p.kind for p in Case(survey_of({}), library()).prompts.values()}
    metric = {p: [t if kinds[p].tilts else in_mm(t) for t in typed] for p, typed in made.items()}
    inches, mixed, all_mm = survey_of(made), survey_of(metric), survey_of(metric, unit="mm")
    here, same, other = findings(inches), findings(mixed), findings(all_mm)
    assert here.keys() == same.keys() == other.keys()
    for id, finding in here.items():
        if finding.quantity == "suspect":
            continue
        assert same[id].value == pytest.approx(finding.value, abs=2e-4), id
        assert same[id].number.u == pytest.approx(finding.number.u, rel=1e-4), id
        # A metric scale has other divisions, so only the doubt may differ, and what is weighted by
        # it.
        if finding.quantity != "bend":
            # What a sag explains of a twist is the less the coarser the rule that read it.
            leans = finding.quantity in ("twist", "horn-height")
            near = finding.number.u / 2 if leans else 0.02
            assert other[id].value == pytest.approx(finding.value, abs=near), id
            assert other[id].number.u == pytest.approx(finding.number.u, rel=0.4), id


@FEW
@given(readings(), st.data())
def test_a_repeat_that_agrees_never_raises_a_doubt(
    made: dict[str, list[str]], data: st.DataObject
) -> None:
    prompt = data.draw(st.sampled_from(sorted(p for p in made if not p.startswith("pulley"))))
    survey = survey_of(made)
    before, after = findings(survey), findings(add(survey, prompt, made[prompt][0]))
    assert before.keys() <= after.keys() | {i for i in before if i.startswith("suspect")}
    for id, finding in before.items():
        if finding.quantity in ("suspect", "bend", *STRUNG):
            continue  # A gap that counts twice shows better how far it misses the curve.
        # The plan weighs by the unshared parts alone: the weight that a repeat gives to one tape
        # may raise the share of
        # the rivets by a hair, a thousandth at most.
        assert after[id].number.u <= finding.number.u * (1 + 1e-3), id


def test_a_repeat_that_scatters_may_raise_it() -> None:
    survey = survey_of({"wheelbase/left": ["103"], "wheelbase/right": ["103"]})
    wild = add(survey, "wheelbase/left", "102", "104")
    assert (
        findings(wild)["wheelbase/difference"].number.u
        > findings(survey)["wheelbase/difference"].number.u
    )


# A person, or a file, may hold anything
# ---------------------------------------------------------------------------

anything = st.sampled_from(
    (
        "0",
        "0.001 mm",
        "1/64",
        "1",
        "10",
        "10 1/16",
        "80",
        "91.4",
        "2032",
        "99 m",
        "3937",
        "1/2 left",
        "20 right",
        "0 past",
    )
)


@FEW
@given(
    st.dictionaries(
        st.sampled_from(
            sorted(p.id for p in Case(survey_of({}), library()).prompts.values() if p.kind.measures)
        ),
        st.lists(anything, min_size=1, max_size=3),
        min_size=8,
        max_size=60,
    ),
    st.sampled_from(("mark", "taken-off", "hook")),
)
def test_whatever_is_typed_the_checks_give_finite_numbers(
    made: dict[str, list[str]], start: str
) -> None:
    survey = survey_of({})
    tape = survey.tool("tape")
    assert tape is not None
    survey = survey.with_replaced(replace(tape, extra={**tape.extra, "start": start}))
    for prompt, typed in made.items():
        survey = add(survey, prompt, *typed)
    rows = {r.id for r in survey.standing(Reading)}
    for finding in findings(survey).values():
        assert math.isfinite(finding.value), finding.id
        assert math.isfinite(finding.number.u), finding.id
        assert finding.number.dof >= 1, finding.id
        assert set(finding.readings) <= rows


@FEW
@given(readings())
def test_every_finding_has_an_id_of_its_own_and_names_its_readings(
    made: dict[str, list[str]],
) -> None:
    from wizard.checks.run import findings_of

    survey = survey_of(made)
    found = findings_of(survey, library())
    assert len({f.id for f in found}) == len(found)
    for f in found:
        assert f.readings
        assert f.number.u > 0
        assert f.limit == "" or f.limit in library().limits


def test_nothing_read_nothing_found() -> None:
    assert findings(survey_of({})) == {}


def test_the_frame_moved_on_purpose_comes_out_of_the_whole_run() -> None:
    """All tapes of a frame whose right rail slipped 6 mm back: the plan says so, box by box."""
    slipped = moved(
        LADDER, **{f"{p}_right": (6.0, 0.0) for p in ("tip", "front", "center", "rear")}
    )
    found = findings(survey_of(taped(slipped), unit="mm"))
    for box in ("whole", "front-box", "rear-box"):
        assert found[f"rail-shift/{box}"].value == pytest.approx(6.0, abs=0.05)
        assert found[f"own-sides/{box}"].value == pytest.approx(0.0, abs=0.01)
        assert found[f"closure/{box}"].value == pytest.approx(0.0, abs=0.01)
    assert found["horn/difference"].value == pytest.approx(0.0, abs=0.6)
    assert found["sway/center"].value == pytest.approx(0.0, abs=0.3)


def test_a_middle_pushed_to_the_right_is_sway_and_no_shift() -> None:
    pushed = moved(LADDER, center_left=(0, 8), center_right=(0, 8))
    found = findings(survey_of(taped(pushed), unit="mm"))
    assert found["sway/center"].value == pytest.approx(8.0, abs=0.1)
    assert found["rail-shift/whole"].value == pytest.approx(0.0, abs=0.05)


def test_a_rail_made_longer_is_told_by_its_sign() -> None:
    longer = moved(LADDER, rear_right=(6, 0))
    found = findings(survey_of(taped(longer), unit="mm"))
    assert found["mash/whole"].value == pytest.approx(6.0, abs=0.2)
    assert found["own-sides/whole"].value == pytest.approx(-6.0, abs=0.01)
    # A rail longer by m at one end shows as half of it ahead (identity).
    assert found["rail-shift/whole"].value == pytest.approx(3.0, abs=0.2)


def test_a_left_horn_bent_out_comes_out_of_the_whole_run() -> None:
    found = findings(survey_of(taped(moved(LADDER, tip_left=(0, -8))), unit="mm"))
    assert found["horn/difference"].value == pytest.approx(8.0, abs=0.1)
    assert found["horn-out/left"].value - found["horn-out/right"].value == pytest.approx(
        8.0, abs=0.1
    )
    assert found["rail-shift/whole"].value == pytest.approx(0.0, abs=0.02)
