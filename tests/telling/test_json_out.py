"""`tell --json`: the fields promised, no more and no fewer, and every number one that JSON knows."""

from __future__ import annotations

import json
import math
from dataclasses import replace

import pytest

from tests.checks.surveys import DAY, bent, findings, library, survey_of, with_limit, with_looks
from wizard.survey.record import Survey
from wizard.survey.rows import Look
from wizard.telling.json_out import as_json

FIELDS = {
    "id",
    "quantity",
    "where",
    "value",
    "u",
    "dof",
    "k",
    "unit",
    "limits",
    "bands",
    "chance_over",
    "readings",
}
TOP = {"format", "survey", "findings", "causes", "verdict", "open", "not_seen"}


def out(survey: Survey) -> dict:  # type: ignore[type-arg]
    def refuse(name: str) -> float:
        raise AssertionError(f"{name} is no JSON number")

    return json.loads(as_json(survey, library(), DAY), parse_constant=refuse)  # type: ignore[no-any-return]


@pytest.mark.parametrize(
    "survey", [survey_of({}), bent(), with_looks(bent())], ids=["empty", "bent", "bent and seen"]
)
def test_the_fields_are_just_those_promised(survey: Survey) -> None:
    told = out(survey)
    assert set(told) >= TOP
    assert told["format"] == 1
    for finding in told["findings"]:
        assert set(finding) == FIELDS
        assert all(set(limit) == {"band", "low", "high", "source"} for limit in finding["limits"])
        assert len(finding["limits"]) == len(finding["chance_over"])
        assert finding["unit"] in ("mm", "deg", "mm/m", "%")


def test_numbers_are_unrounded_and_agree_with_the_findings() -> None:
    told, found = out(bent()), findings(bent())
    assert {f["id"] for f in told["findings"]} == set(found)
    for finding in told["findings"]:
        number = found[finding["id"]].number
        if found[finding["id"]].is_unknown:
            assert (finding["value"], finding["u"]) == (None, None)
            continue
        assert finding["value"] == number.value
        assert finding["u"] == number.u
        assert finding["dof"] == (number.dof if math.isfinite(number.dof) else None)


def test_what_is_open_and_why_is_named_by_id() -> None:
    told = out(bent())
    ids = {f["id"] for f in told["findings"]}
    assert told["open"]
    assert set(told["open"]) | set(told["verdict"]["reasons"]) <= ids
    assert told["verdict"]["action"] == "specialist"
    assert " ".join(told["verdict"]["text"].split()).startswith(told["verdict"]["headline"])


def test_bands_are_tokens_and_limits_carry_the_owners_source() -> None:
    survey = with_limit(bent(), "rail-shift", "leave", "5 mm", "a sister car, taped twice")
    shift = next(f for f in out(survey)["findings"] if f["id"] == "rail-shift/whole")
    assert shift["bands"] == ["leave"]
    assert shift["limits"][0] == {
        "band": "leave",
        "low": -5.0,
        "high": 5.0,
        "source": "a sister car, taped twice",
    }


def test_a_stop_sign_is_named_by_the_look() -> None:
    survey = survey_of({}).with_row(
        Look(id="k7", prompt="rail-tops/left", seen="bare", answer="crack")
    )
    assert out(survey)["verdict"]["stops"] == ["k7"]


def test_an_empty_survey_is_not_enough() -> None:
    told = out(replace(survey_of({}), id="bramble-2026-04-11"))
    assert (told["survey"], told["findings"], told["verdict"]["action"]) == (
        "bramble-2026-04-11",
        [],
        "not-enough",
    )
    assert {"what", "why", "step"} == set(told["not_seen"][0])


def test_what_holds_a_verdict_open_stands_beside_what_the_numbers_alone_would_say() -> None:
    loose = with_looks(bent()).with_row(
        Look(id="k900", prompt="front-crossmember-rivets/left", seen="bare", answer="loose-rivets")
    )
    told = out(loose)["verdict"]
    assert (told["action"], told["held"]) == ("open", "joints")
    assert told["numbers"] in ("put-right", "specialist")
    free = out(with_looks(bent()))["verdict"]
    assert free["held"] == ""
    assert free["numbers"] == free["action"]
