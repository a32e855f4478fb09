"""Marks and photos of points, shown wherever the point is taped."""

import pytest

from tests.sitting.driving import BEGUN, READ, Driver
from wizard.sitting.paging import recalled
from wizard.survey.rows import PointNote


@pytest.fixture
def taping(driver: Driver) -> Driver:
    return driver.run(*BEGUN, "/go long-diagonals", READ)


def test_a_mark_and_a_photo_show_on_the_pages_that_use_the_point(taping: Driver) -> None:
    assert (
        taping.say("/point front-left punch dot, photo 112").says
        == "Left front: punch dot, photo 112."
    )
    assert recalled(taping.sitting) == ("Left front: punch dot, photo 112.",)
    (row,) = taping.saved.table(PointNote)
    assert (row.point, row.mark, row.photo) == ("front-left", "punch dot", "112")
    taping.run("91 1/8")
    assert recalled(taping.sitting) == ()


@pytest.mark.parametrize(
    ("typed", "mark", "photo"),
    [
        ("punch dot", "punch dot", ""),
        ("photo 7", "", "7"),
        ("blue paint; Photo no. 9", "blue paint", "9"),
    ],
)
def test_either_may_be_left_out(taping: Driver, typed: str, mark: str, photo: str) -> None:
    taping.run(f"/point rear-right {typed}")
    (row,) = taping.saved.table(PointNote)
    assert (row.mark, row.photo) == (mark, photo)


def test_described_anew_the_old_words_are_struck_and_what_is_not_said_stays(taping: Driver) -> None:
    taping.run("/point front-left punch dot, photo 112", "/point front-left photo 113")
    (row,) = taping.saved.standing(PointNote)
    assert (row.mark, row.photo) == ("punch dot", "113")
    assert len(taping.saved.table(PointNote)) == 2


@pytest.mark.parametrize(
    "line", ["/point", "/point front-left", "/point nowhere dot", "/point [/ dot"]
)
def test_what_is_no_point_is_refused_with_those_of_the_page(taping: Driver, line: str) -> None:
    reply = taping.say(line)
    assert reply.kind == "refused"
    assert "front-left, rear-right" in reply.says
    assert taping.saved.table(PointNote) == ()


def test_a_mark_is_taken_back_like_anything_else(taping: Driver) -> None:
    taping.run("/point front-left dot", "/undo")
    assert taping.saved.standing(PointNote) == ()
