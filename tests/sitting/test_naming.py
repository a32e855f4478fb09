"""Names of surveys: safe as file names on any system, free in their folder."""

from datetime import datetime
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wizard.sitting.naming import free_id, slug, survey_folder

pytestmark = pytest.mark.quick

DAY = datetime(2026, 4, 11, 9, 0, 0)


@pytest.mark.parametrize(
    ("car", "name"),
    [
        ("Bramble", "bramble"),
        ("Bramble, two-seat tourer", "bramble"),
        ("Été  1934!", "ete-1934"),
        ("../../etc/passwd", "etc-passwd"),
        ("鋼", "car"),
        ("", "car"),
        ("-", "car"),
        ("a" * 80, "a" * 40),
        ("CON", "con"),
    ],
)
def test_a_file_name_from_a_cars_name(car: str, name: str) -> None:
    assert slug(car) == name


@given(st.text(max_size=80))
def test_no_name_leaves_the_folder_or_hides(car: str) -> None:
    name = slug(car)
    assert 0 < len(name) <= 40
    assert set(name) <= set("abcdefghijklmnopqrstuvwxyz0123456789-")
    assert name[0] != "-"
    assert name[-1] != "-"


def test_a_name_that_is_taken_gets_a_number(tmp_path: Path) -> None:
    assert free_id("Bramble", DAY, tmp_path) == "bramble-2026-04-11"
    (tmp_path / "bramble-2026-04-11.toml").write_text("")
    (tmp_path / "bramble-2026-04-11-2.toml").symlink_to("nowhere")
    assert free_id("Bramble", DAY, tmp_path) == "bramble-2026-04-11-3"


def test_the_folder_asked_for_comes_before_the_environment_and_that_before_home(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("CROSSTAPE_FOLDER", "/from/environment")
    assert survey_folder("/asked") == Path("/asked")
    assert survey_folder() == Path("/from/environment")
    monkeypatch.setenv("CROSSTAPE_FOLDER", "")
    assert survey_folder() == tmp_path / "Crosstape"
