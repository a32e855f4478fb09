"""The model in hand, driven by typed lines and by arrows, on a full screen or line by line."""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from tests.sitting.driving import BEGUN, READ, Driver
from tests.told import says
from wizard.judgment.game import Game
from wizard.library import load_library
from wizard.model.bent import Bent
from wizard.model.sliders import SLIDERS
from wizard.sitting.model_desk import STEP, STEP_DEG, STEP_WARM, ModelDesk, handle
from wizard.sitting.plain import WIDTH, run, run_model


@pytest.fixture
def desk() -> ModelDesk:
    return ModelDesk(load_library(), rng=random.Random(1))


def _type(desk: ModelDesk, *lines: str) -> str:
    for line in lines:
        reply = handle(desk, line)
    return reply.says


def test_it_begins_straight_and_a_line_bends_it(desk: ModelDesk) -> None:
    assert desk.bent == Bent()
    assert handle(desk, "diamond 6").kind == "taken"
    assert (desk.bent, desk.fault, desk.slider.id) == (Bent(diamond=6.0), "diamond", "diamond")
    assert handle(desk, "/reset").kind == "taken"
    assert desk.bent == Bent()


def test_a_refusal_bends_nothing(desk: ModelDesk) -> None:
    _type(desk, "twist 5")
    for line in (
        "",
        "banjo",
        "twist",
        "twist 500",
        "[/",
        "\x1b[31m",
        "9" * 5000,
        "fault banjo",
        "unit ft",
        "read x",
    ):
        assert handle(desk, line).kind == "refused", line
        assert desk.bent == Bent(twist=5.0)


def test_arrows_choose_a_slider_and_bend_it_by_one_step(desk: ModelDesk) -> None:
    desk.choose(-1)
    assert desk.slider == SLIDERS[-1]
    desk.choose(1)
    desk.nudge(1)
    desk.nudge(1)
    assert desk.bent == Bent(diamond=2.0)
    desk.nudge(-1)
    desk.nudge(-1)
    assert desk.bent == Bent()


def test_every_slider_can_be_nudged_both_ways_and_back(desk: ModelDesk) -> None:
    for _ in SLIDERS:
        step = {"mm": STEP["mm"], "deg": STEP_DEG, "C": STEP_WARM}[desk.slider.unit]
        desk.nudge(-1)
        assert desk.slider.get(desk.bent) == (0.0 if desk.slider.one_way else -step)
        desk.nudge(1)
        if desk.slider.one_way:
            assert desk.slider.get(desk.bent) == step
            desk.nudge(-1)
        assert desk.bent == Bent()
        desk.choose(1)


def test_arrows_stop_at_the_end_of_what_can_be_bent(desk: ModelDesk) -> None:
    _type(desk, "diamond 59.5")
    desk.nudge(1)
    desk.nudge(1)
    assert desk.bent.diamond == 60.0


def test_a_nudged_bend_stays_at_its_place(desk: ModelDesk) -> None:
    _type(desk, "sag left 5 at center")
    desk.nudge(1)
    assert (desk.bent.left[0].depth, desk.bent.left[0].x) == (6.0, 1000.0)


def test_in_inches_a_bare_number_and_an_arrow_are_inches(desk: ModelDesk) -> None:
    _type(desk, "unit in", "diamond 1/4")
    assert desk.bent.diamond == pytest.approx(6.35)
    desk.nudge(1)
    assert desk.bent.diamond == pytest.approx(6.35 + 25.4 / 16)


@pytest.mark.parametrize(
    "step", sorted(s for f in load_library().model.faults.values() for s in f.steps)
)
def test_it_opens_on_the_fault_of_every_step_that_has_one(step: str) -> None:
    desk = ModelDesk(load_library(), step=step)
    wanted = load_library().model.fault_of(step)
    assert wanted is not None
    assert desk.fault == wanted.id


def test_from_a_step_without_a_fault_it_opens_straight() -> None:
    assert ModelDesk(load_library(), step="history").bent == Bent()


def test_it_opens_with_the_surveys_own_sizes_and_unit(tmp_path: Path) -> None:
    driver = Driver(tmp_path)
    driver.run(*BEGUN, "/size engine_mount_x 700 mm", "/go widths", READ, "25", "29")
    desk = ModelDesk(load_library(), driver.survey, "level")
    assert desk.unit == driver.survey.unit == "in"
    assert desk.bench.layout.place("front").half_width == pytest.approx(25 * 25.4 / 2)
    assert desk.bench.layout.figures["engine_mount_x"] == 700.0


def test_words_tell_and_bend_nothing(desk: ModelDesk) -> None:
    _type(desk, "twist 6")
    for word in ("help", "faults", "why", "why level", "read level", "draw"):
        reply = handle(desk, word)
        assert reply.kind in ("told", "drawn"), word
        assert reply.title
        assert reply.says
    assert desk.bent == Bent(twist=6.0)
    assert "diagonals" not in _type(desk, "why level")


# The game -----------------------------------------------------------------------------------------
# ----------------


def test_a_game_is_played_to_its_end_by_hints(desk: ModelDesk) -> None:
    assert handle(desk, "guess").kind == "taken"
    assert desk.game is not None
    secret = desk.game.fault
    assert desk.frame().bent == Bent()
    while "ask " in (said := _type(desk, "hint")):
        _type(desk, said.partition("ask ")[0] and "ask " + said.partition("ask ")[2])
    assert desk.game.possible == (secret,)
    assert handle(desk, f"name {secret}").says.startswith("Right: ")
    assert desk.frame().bent == desk.bent != Bent()


def test_while_a_game_is_on_nothing_gives_it_away(desk: ModelDesk) -> None:
    _type(desk, "guess")
    for line in ("diamond 6", "why", "read level"):
        assert handle(desk, line).kind == "refused"
    assert desk.nudge(1).kind == "refused"
    _type(desk, "reset")
    assert desk.game is None


def test_a_mentor_sets_the_fault(desk: ModelDesk) -> None:
    _type(desk, "guess with twist 7 mm right")
    assert desk.game is not None
    assert (desk.game.fault, desk.bent) == ("twist", Bent(twist=-7.0))
    _type(desk, "guess horn-low")
    assert desk.game.fault == "horn-low"
    for line in (
        "guess banjo",
        "guess kink-left",
        "guess with banjo 5",
        "guess with diamond 5 and twist 5",
    ):
        assert handle(desk, line).kind == "refused", line


def test_words_of_the_game_without_a_game_say_how_to_begin(desk: ModelDesk) -> None:
    for line in ("ask level/rear/as-set", "hint", "name twist", "asks"):
        assert handle(desk, line).says == "No game is on. Type guess to begin one."


def test_the_same_seed_bends_the_same_secret() -> None:
    secrets = []
    for _ in range(2):
        desk = ModelDesk(load_library(), rng=random.Random(5))
        _type(desk, "guess")
        secrets.append(desk.bent)
    assert secrets[0] == secrets[1]


# Line by line -------------------------------------------------------------------------------------
# ----------------


def _told(desk: ModelDesk, *lines: str, person: bool = False) -> tuple[int, str]:
    said: list[str] = []
    status = run_model(desk, [f"{line}\n" for line in lines], said.append, person=person)
    return status, "\n".join(said)


def test_plain_prompts_say_what_sees_it(desk: ModelDesk) -> None:
    status, told = _told(desk, "diamond 6", "why horn", "faults", "back", "twist 5")
    assert status == 0
    assert "right rail back 6 mm (a diamond)" in told
    flat = " ".join(told.split())
    assert "see it: long diagonals (2327 and 2315, 12 mm apart: right back 6 mm)" in flat
    assert "The horns are straight" in " ".join(told.split())
    assert desk.bent.twist == 0.0
    assert max(map(len, told.splitlines())) <= WIDTH + 2


def test_a_pipe_stops_at_a_refusal_and_a_person_is_asked_again(desk: ModelDesk) -> None:
    status, told = _told(desk, "banjo 5", "twist 5")
    assert status == 1
    assert told.endswith("The lines after it were not taken.")
    assert desk.bent == Bent()
    assert _told(desk, "banjo 5", "twist 5", person=True)[0] == 0
    assert desk.bent == Bent(twist=5.0)


def test_a_game_line_by_line(desk: ModelDesk) -> None:
    _, told = _told(desk, "guess twist", "ask level/rear/as-set", "hint", "name twist")
    assert "1. rear crossmember, level as set" in told
    assert "Right: twist" in told


def test_from_the_plain_prompts_of_a_survey_and_back(tmp_path: Path) -> None:
    driver = Driver(tmp_path)
    driver.run(*BEGUN, "/go level", READ)
    said: list[str] = []
    rows = dict(driver.survey.rows)
    status = run(
        driver.sitting,
        ["/model\n", "diamond 1/4\n", "back\n", "/quit\n"],
        said.append,
        person=False,
    )
    told = "\n".join(said)
    assert status == 0
    assert "ends not parallel" in told
    assert told.index("A model to bend") < told.rindex("== Twist ==")
    assert dict(driver.survey.rows) == rows


@pytest.mark.parametrize(("last", "status"), [("quit\n", 0), ("banjo\n", 1)])
def test_leaving_from_within_the_model(tmp_path: Path, last: str, status: int) -> None:
    driver = Driver(tmp_path)
    driver.run(*BEGUN)
    assert (
        run(driver.sitting, ["/model\n", last, "/quit\n"], lambda _: None, person=False) == status
    )


@pytest.mark.parametrize(
    ("typed", "unit"), [("inches", "in"), ("in.", "in"), ("millimeters", "mm")]
)
def test_the_unit_is_said_in_words(desk: ModelDesk, typed: str, unit: str) -> None:
    assert handle(desk, f"unit {typed}").kind == "taken"
    assert desk.unit == unit


# In everyday words --------------------------------------------------------------------------------
# ----------------


def test_a_reading_is_asked_for_by_its_number_in_words_or_without_the_word_ask(
    desk: ModelDesk,
) -> None:
    _type(desk, "guess twist")
    assert desk.game is not None
    wanted = desk.board.find("left front to right rear")
    assert wanted is not None
    number = desk.board.number(wanted)
    assert f"{number}  left front to right rear" in _type(desk, "asks")
    for line in (
        f"ask {number}",
        str(number),
        "left front to right rear",
        "the long diagonals left front to right rear",
        "Ask the LEFT front to right rear.",
    ):
        desk.game = Game(desk.board, "twist", desk.bent)
        assert handle(desk, line).kind == "taken", line
        assert desk.game.asked == (wanted.id,), line


def test_a_fault_is_named_by_number_or_in_the_words_that_people_use(desk: ModelDesk) -> None:
    numbers = {id: n for n, id in enumerate(desk.bench.faults, start=1)}
    for line, fault in (
        ("twisted", "twist"),
        ("the frame is twisted", "twist"),
        ("a diamond", "diamond"),
        ("the left horn is bent", "horn-left"),
        ("left rail sags", "sag-left"),
        ("weak spring", "spring"),
        (f"name {numbers['horn-right']}", "horn-right"),
        ("name the right horn", "horn-right"),
    ):
        _type(desk, "guess diamond")
        handle(desk, line)
        assert desk.game is not None
        assert desk.game.named == fault, line
    listed = _type(desk, "faults")
    assert f"{numbers['twist']}  twist: " in listed.replace("\n ", "\n")


@pytest.mark.parametrize("said", ["left rail slipped back", "left rail back", "diamond"])
def test_a_fault_is_named_by_what_it_did_to_the_frame(desk: ModelDesk, said: str) -> None:
    handle(desk, "guess with left rail back 6 mm")
    assert desk.guessing
    assert handle(desk, said).kind == "taken"
    assert not desk.guessing


def test_words_that_may_mean_several_are_answered_with_those_and_their_numbers(
    desk: ModelDesk,
) -> None:
    _type(desk, "guess twist")
    reply = handle(desk, "name sagged")
    assert reply.kind == "refused"
    numbers = {f.name: n for n, f in enumerate(desk.bench.faults.values(), start=1)}
    for name in ("both rails sagged", "left rail sagged", "right rail sagged"):
        assert f"{numbers[name]} {name}" in reply.says
    several = handle(desk, "ask rear")
    assert several.kind == "refused"
    assert says(several.says, "Several readings … and … more. Type the number")
    assert desk.game is not None
    assert not desk.game.asked
    for line in ("ask 0", "ask 999", "name 0", "name 99", "banjo"):
        assert handle(desk, line).kind == "refused", line


def test_the_hint_names_a_reading_in_words_and_by_its_number(desk: ModelDesk) -> None:
    _type(desk, "guess twist")
    assert desk.game is not None
    hinted = desk.board.ask(desk.game.hint())
    assert says(_type(desk, "hint"), f"{desk.board.page(hinted)} … ask {desk.board.number(hinted)}")


def test_a_length_in_the_game_carries_its_unit(desk: ModelDesk) -> None:
    _type(desk, "guess diamond")
    assert says(_type(desk, "left front to right rear"), "rear: … mm … straight … mm")
