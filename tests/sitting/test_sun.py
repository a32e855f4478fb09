"""Sun on one side of the car: said with how warm it is, warned of at once, told with what it does."""

import csv
import json
import re
from pathlib import Path

import pytest

from tests.checks.surveys import library
from tests.sitting.driving import BEGUN, READ, Driver
from wizard.command import main
from wizard.survey.answer import WARMTH
from wizard.survey.file import load

SUN = "52, sun on the left"
TOOLS = (
    *("/go Which string? (- for none)", "h"),
    *("/go Which ruler for short gaps?", "s"),
    *("/go Which tape?", "o", "m"),
)
STRING = ("/go string-set-up", READ, "2", "86!", "a", "n", "/go sag-loaded", READ)


def warm(driver: Driver, *lines: str) -> Driver:
    """At the question how warm it is, and the lines said there."""
    driver.run(*BEGUN)
    page = re.search(r"(\d+) \[.\] The car as it stands", driver.say("/trail").says)
    assert page
    driver.run(f"/go {page[1]}")
    while driver.sitting.prompt and driver.sitting.prompt.keep != WARMTH:
        driver.run(driver.sitting.prompt.choices[0].letter)
    return driver.run(*lines)


def test_what_was_typed_keeps_its_unit_wherever_it_is_told_back(driver: Driver) -> None:
    warm(driver, "52 F")
    assert driver.saved.state().temperature == "52 F"
    assert "garage: 52 F" in driver.say("/readings").says
    driver.run("/undo", "52")
    assert "garage: 52 F" in driver.say("/readings").says


def test_the_sun_is_warned_of_at_once_with_the_bow_of_this_rail(driver: Driver) -> None:
    reply = warm(driver).say(SUN)
    assert "Cover the car, or wait for shade" in reply.says
    assert "1/32 in if its top is 18 °F warmer" in reply.says
    assert driver.saved.state().temperature == "52 F, sun on the left"


def test_in_the_shade_nothing_is_warned_of(driver: Driver) -> None:
    assert "shade" not in warm(driver).say("52 F").says


def test_the_sun_without_a_side_is_asked_about(driver: Driver) -> None:
    reply = warm(driver).say("52 F, some sun")
    assert reply.kind == "refused"
    assert "which side stands in the sun" in reply.says


def test_one_entry_says_both(driver: Driver) -> None:
    """Nobody's survey is an entry longer for it."""
    warm(driver, SUN)
    assert driver.sitting.prompt
    assert driver.sitting.prompt.keep != WARMTH
    asked = [p for s in library().steps.values() for p in s.prompts if p.keep == WARMTH]
    assert len(asked) == 1


@pytest.fixture
def read_in_the_sun(driver: Driver) -> Path:
    """The string read on the left rail in the sun."""
    warm(driver, SUN).run(*TOOLS, *STRING, *["2 1/16"] * 8)
    assert driver.sitting.path
    return driver.sitting.path


def test_it_is_told_and_every_figure_has_its_part(
    read_in_the_sun: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = str(read_in_the_sun)
    assert main(["tell", file, "--mentor"]) == 0
    told = capsys.readouterr().out
    assert "What stood in the sun" in told
    assert "The left side stood in the sun for" in told
    assert "sun sag loaded (shared): a side stood in the sun" in told
    assert main(["report", file]) == 0
    assert "The left side stood in the sun for" in capsys.readouterr().out
    assert main(["tell", file, "--json"]) == 0
    sun = {f["id"]: f["u"] for f in json.loads(capsys.readouterr().out)["findings"]}
    read_in_the_sun.write_text(
        read_in_the_sun.read_text().replace("52 F, sun on the left", "52 F"), encoding="utf-8"
    )
    assert main(["tell", file, "--json"]) == 0
    shade = {f["id"]: f["u"] for f in json.loads(capsys.readouterr().out)["findings"]}
    left = [id for id in shade if id.startswith("sag-loaded/") and id.endswith("/left")]
    right = [id for id in shade if id.startswith("sag-loaded/") and id.endswith("/right")]
    assert len(left) > 1
    assert sum(sun[id] > shade[id] for id in left) >= len(left) - 1
    assert all(sun[id] == shade[id] for id in right)


def test_a_file_that_says_anything_of_the_sun_is_read_as_said(read_in_the_sun: Path) -> None:
    text = read_in_the_sun.read_text()
    for words in ("sun", "sun sun sun", "sun on the \\u202e left"):
        read_in_the_sun.write_text(text.replace("52 F, sun on the left", words), encoding="utf-8")
        assert main(["tell", str(read_in_the_sun)]) == 0
        assert load(read_in_the_sun).state().temperature


def test_every_form_of_the_report_says_which_readings_it_was(
    read_in_the_sun: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for kind in ("html", "md", "txt", "csv"):
        path = read_in_the_sun.with_name(f"report.{kind}")
        assert main(["report", str(read_in_the_sun), "-o", str(path)]) == 0
        text = path.read_text(encoding="utf-8-sig")
        assert "52 F, sun on the left" in text, kind
        assert kind == "csv" or "What stood in the sun" in text, kind
    (head, *rows) = csv.DictReader(text.splitlines()), *csv.DictReader(text.splitlines())
    assert head.fieldnames
    string = [r["warmth"] for r in rows if r["prompt"].startswith("sag-loaded/")]
    assert len(string) == 8
    assert set(string) == {"52 F, sun on the left"}


@pytest.mark.parametrize(
    ("now", "said"),
    [
        ("60 F", True),
        ("60 F, sun on the right", True),
        ("60 F, sun on the left", False),
        ("52 F, left side in the sun", False),
    ],
)
def test_the_sun_on_another_side_is_said_beside_what_changed(
    read_in_the_sun: Path, now: str, said: bool, capsys: pytest.CaptureFixture[str]
) -> None:
    """How warm it is alone moves nothing: steel tape on steel."""
    later = read_in_the_sun.with_name("later.toml")
    text = read_in_the_sun.read_text(encoding="utf-8").replace("52 F, sun on the left", now)
    later.write_text(text.replace("2026-04-11", "2026-10-10"), encoding="utf-8")
    assert main(["compare", str(read_in_the_sun), str(later)]) == 0
    told = " ".join(capsys.readouterr().out.split())
    assert (f"what stood in the sun: then “52 F, sun on the left”, now “{now}”" in told) is said
