"""Tape temperature and blade sag against worked examples of surveyors' taping."""

import pytest

from wizard.math.thread import blade_sag, reads_short_warm

FT = 304.8  # mm, exact
LBF = 4.4482216152605  # N, exact
TAPE_G_PER_M = 2.8 * 453.59237 / 30.48  # 2.8 lb over 100 ft


# "Taping Corrections", course slides; read: 368.50 ft at 22 °F, standard 68 °F, 6.5e-6 per °F gives
# -0.11 ft.
def test_cold_tape_reads_long() -> None:
    degrees_c = (22 - 68) / 1.8
    correction = reads_short_warm(368.50 * FT, degrees_c, expansion=6.5e-6 * 1.8) / FT
    assert correction == pytest.approx(-0.11, abs=0.005)


def test_degrees_of_the_wrong_kind_miss_it() -> None:
    assert abs(reads_short_warm(368.50 * FT, 22 - 68, expansion=6.5e-6 * 1.8) / FT - -0.11) > 0.05


# Same slides; read: 12 lb pull, (spans in ft, correction in ft).


def test_blade_sag_of_the_whole_length_at_once_is_far_more() -> None:
    assert blade_sag(348.75 * FT, TAPE_G_PER_M, 12 * LBF) / FT > 5


# Identity: 50 m, 4 kg, 5 kgf, supported each 10 m: 5 · (0.08 · 10)² · 10 / (24 · 5²) m.
