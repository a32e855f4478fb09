"""A hanging blade, and a cold one, against worked examples of surveyors' taping; and against the pull
of a standard.
"""

import pytest

from tests.checks.surveys import library, survey_of
from wizard.checks.case import BLADE_G_PER_M, Case
from wizard.library.places import part_of
from wizard.math.thread import GRAVITY, STEEL, blade_sag, expansion

FT = 304.8  # mm, exact
LBF = 4.4482216152605  # N, exact
TAPE_G_PER_M = 2.8 * 453.59237 / 30.48  # 2.8 lb over 100 ft


# "Taping Corrections", course slides; read: 12 lb pull, (spans in ft, correction in ft).
@pytest.mark.parametrize(
    ("spans", "correction"), [([100] * 3 + [48.75], -0.71), ([50] * 6 + [48.75], -0.20)]
)
def test_blade_sag_over_several_spans(spans: list[float], correction: float) -> None:
    long_by = sum(blade_sag(span * FT, TAPE_G_PER_M, 12 * LBF) for span in spans) / FT
    assert -long_by == pytest.approx(correction, abs=0.005)


def test_blade_sag_of_the_whole_length_at_once_is_far_more() -> None:
    assert blade_sag(348.75 * FT, TAPE_G_PER_M, 12 * LBF) / FT > 5


# Identity: 50 m, 4 kg, 5 kgf, supported each 10 m: 5 · (0.08 · 10)² · 10 / (24 · 5²) m.
def test_blade_sag_of_a_50_m_tape_on_six_supports() -> None:
    assert 5 * blade_sag(10_000, 80, 5 * GRAVITY) == pytest.approx(53.33, abs=0.005)


PULL_N = 10.0
"""GOST 7502-98, "Measuring metal tapes. Specifications", 4.2, read in translation: tapes of 1 to 5 m
are tested under (10 ± 1) N.
"""


def test_a_tape_hangs_as_under_an_easy_pull() -> None:
    """Nobody pulls a short tape less than it is tested with, and an easy pull is not twice that."""
    id, mm = "own-sides/whole/front-left--rear-left", 2200.0
    taken = Case(survey_of({id: [f"{mm:g}"]}, unit="mm"), library()).taken(id)
    assert taken is not None
    (hangs,) = (p.size for p in taken.number.parts if part_of(p.name).kind == "hang")
    assert blade_sag(mm, BLADE_G_PER_M, 2 * PULL_N) < hangs < blade_sag(mm, BLADE_G_PER_M, PULL_N)


# "Taping Corrections", course slides; read: 368.50 ft taped at 22 °F with a tape that is right at 68 °F,
# 6.5e-6 a degree F.
def test_a_cold_tape_reads_long() -> None:
    colder = (22.0 - 68.0) / 1.8
    assert expansion(368.50, colder, 6.5e-6 * 1.8) == pytest.approx(-0.11, abs=0.005)
    assert expansion(368.50, colder) == pytest.approx(-0.11, abs=0.005)


# Handbooks of surveying have 6.45e-6 to 6.5e-6 a degree F for steel; memory.
def test_steel_grows_as_surveyors_reckon() -> None:
    assert 6.4e-6 * 1.8 < STEEL < 6.51e-6 * 1.8
