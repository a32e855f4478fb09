"""Amounts, doubts and bands as a person says them."""

from __future__ import annotations

import pytest

from tests.checks.surveys import found
from tests.telling.saying import tells
from wizard.judgment.bands import ORDER, Judged
from wizard.math.uncertain import Part, Uncertain
from wizard.telling.amounts import BANDS, about, at, bands_words, doubt, exact

pytestmark = pytest.mark.quick


def judged(value: float, u: float, unit: str = "mm", bands: tuple[str, ...] = ()) -> Judged:
    return Judged(found("q", "w", Uncertain(value, (Part("p", u),)), unit=unit), (), bands)


@pytest.mark.parametrize(
    ("value", "kind", "unit", "says"),
    [
        (-3.175, "mm", "in", "1/8 in"),
        (3.2, "mm", "mm", "3 mm"),
        (0.3, "mm", "in", "0 in"),
        (-0.44, "deg", "in", "0.4 degrees"),
        (1.26, "mm/m", "mm", "1.3 mm per meter"),
        # 3.5 mm in 1000 is 0.126 in in 36: an inch is 25.4 mm, a yard 36 in (identity).
        (3.5, "mm/m", "in", "1/8 in per yard"),
        (-12.4, "%", "in", "12 %"),
    ],
)
def test_a_size_is_said_without_its_sign(value: float, kind: str, unit: str, says: str) -> None:
    assert about(value, kind, unit) == says  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("u", "kind", "unit", "says"),
    [
        (0.81, "mm", "in", "give or take 1/16 in"),
        (0.1, "mm", "in", "give or take less than 1/32 in"),
        (0.1, "mm", "mm", "give or take less than 0.5 mm"),
        (0.02, "deg", "in", "give or take less than 0.1 degrees"),
        (0.02, "mm/m", "in", "give or take less than 1/32 in per yard"),
        (0.02, "mm/m", "mm", "give or take less than 0.1 mm per meter"),
        (0.2, "%", "in", "give or take less than 1 %"),
    ],
)
def test_a_doubt_is_half_the_interval_and_never_zero(
    u: float, kind: str, unit: str, says: str
) -> None:
    assert doubt(judged(0.0, u, kind), unit) == says  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("kind", "unit", "says"),
    [
        ("mm", "mm", "3.18 ± 0.25 mm"),
        ("mm", "in", "0.1252 ± 0.0098 in"),
        ("deg", "in", "3.18 ± 0.25 deg"),
    ],
)
def test_the_mentor_sees_the_value_as_fine_as_it_deserves(kind: str, unit: str, says: str) -> None:
    assert exact(judged(3.18, 0.25, kind), unit) == says  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("bands", "parts"),
    [
        (("leave",), ("leave it",)),
        (("leave", "watch"), ("leave it or keep an eye on it", "nothing to put right")),
        (("watch", "put-right"), ("not known yet", "keep an eye on it or", "to put it right")),
        (
            ("leave", "watch", "put-right"),
            ("not known yet", "to leave it", "to keep an eye on it", "or to put it right"),
        ),
        (("watch", "axle-first"), ("not known yet", "an eye on it or", "look at the axle first")),
    ],
)
def test_bands_in_our_words(bands: tuple[str, ...], parts: tuple[str, ...]) -> None:
    words = bands_words(judged(1.0, 1.0, bands=bands))
    tells(words, *parts)
    assert ("not known" in words) == (parts[0] == "not known yet")


def test_without_a_band_there_are_no_words() -> None:
    assert bands_words(judged(1.0, 1.0, bands=())) == ""


def test_every_band_has_words() -> None:
    assert set(BANDS) == set(ORDER)


def test_where_in_a_sentence() -> None:
    assert (at("rear engine mount"), at("behind the center")) == (
        "at the rear engine mount",
        "behind the center",
    )
