"""Two frames side by side: what each would want, what nobody saw, and no word on which to take."""

from __future__ import annotations

from datetime import datetime

import pytest

from tests.checks.surveys import library, survey_of
from wizard.library.paths import samples_dir
from wizard.survey.file import load
from wizard.survey.record import Survey
from wizard.survey.rows import Look
from wizard.telling.two_frames import frame_of, frames_json, two_frames

DAY = datetime(2027, 1, 1)


@pytest.fixture(scope="module")
def sound() -> Survey:
    return load(samples_dir() / "bramble-2026-04-11.toml")


@pytest.fixture(scope="module")
def bent() -> Survey:
    return load(samples_dir() / "marigold-2026-05-02.toml")


def test_what_is_established_is_a_repair_and_what_is_open_is_not(
    sound: Survey, bent: Survey
) -> None:
    assert frame_of(sound, library(), DAY).wants == ()
    frame = frame_of(bent, library(), DAY)
    assert any("must be put right before paint" in w for w in frame.wants)
    assert not set(frame.open) & set(frame.wants)


def test_a_crack_comes_before_every_number(bent: Survey) -> None:
    cracked = bent.with_row(
        Look(id="k9999", prompt="front-crossmember-cracks/left", seen="bare", answer="crack")
    )
    wants = frame_of(cracked, library(), DAY).wants
    assert "specialist" in wants[0]
    assert "crack" in wants[0].lower()


def test_a_frame_of_which_little_was_seen_does_not_look_the_better(sound: Survey) -> None:
    bare = survey_of({})
    text = two_frames(sound, bare, library(), DAY)
    assert "It is not known yet" in text
    assert "whether the" in text
    assert "A frame may look better only because less of it was seen" in " ".join(text.split())
    assert len(frame_of(bare, library(), DAY).not_seen) > len(
        frame_of(sound, library(), DAY).not_seen
    )


def test_both_columns_are_as_wide_as_the_page(sound: Survey, bent: Survey) -> None:
    for pair in ((sound, bent), (bent, sound)):
        lines = two_frames(*pair, library(), DAY).splitlines()
        assert max(map(len, lines)) <= 76
        names = next(line for line in lines if "2026-0" in line)
        assert names.index(pair[0].car.split(",")[0]) == 0
        assert names.index(pair[1].car.split(",")[0]) == 39


@pytest.mark.parametrize("word", ["safe", "roadworthy", "pull", "heat", "weld it", "buy"])
def test_it_gives_no_advice_on_the_road_the_work_or_the_purchase(
    sound: Survey, bent: Survey, word: str
) -> None:
    text = " ".join(two_frames(sound, bent, library(), DAY).lower().split())
    assert word not in text


def test_as_data_every_judged_finding_is_there(sound: Survey, bent: Survey) -> None:
    one, other = frames_json((sound, bent), library())
    assert one["survey"] == sound.id
    assert other["wants"]
    assert all(f["bands"] and f["u"] > 0 for f in (*one["findings"], *other["findings"]))
