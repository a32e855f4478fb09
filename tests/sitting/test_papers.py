"""`/report` at the keyboard: the same in both faces, beside the survey, and a refusal in one sentence."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.sitting.driving import BEGUN, Driver


@pytest.fixture
def begun(driver: Driver) -> Driver:
    return driver.run("Bramble", "i")


def test_nothing_to_report_before_the_first_answer(driver: Driver) -> None:
    assert driver.say("/report").kind == "refused"


@pytest.mark.parametrize(("said", "suffix"), [("", ".html"), (" md", ".md"), (" .TXT", ".txt"), (" csv", ".csv")])
def test_it_is_written_beside_the_survey(begun: Driver, said: str, suffix: str) -> None:
    path = begun.sitting.path
    assert path is not None
    before = path.read_bytes()
    reply = begun.say(f"/report{said}")
    assert reply.kind == "told"
    assert path.with_suffix(suffix).name in reply.says
    assert path.with_suffix(suffix).read_bytes()
    assert path.read_bytes() == before


def test_a_name_of_its_own(begun: Driver, tmp_path: Path) -> None:
    begun.run("/report for-a-buyer.html")
    assert (tmp_path / "for-a-buyer.html").exists()


@pytest.mark.parametrize("name", ["bramble.toml", "gone/report.html", "report.pdf"])
def test_what_cannot_be_written_is_refused_and_the_prompt_stays(begun: Driver, name: str) -> None:
    at = begun.at
    reply = begun.say(f"/report {name}")
    assert reply.kind == "refused"
    assert reply.says.count("\n") == 0
    assert begun.at == at
    assert BEGUN[0] == begun.survey.car
