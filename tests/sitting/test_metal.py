"""Springs, steering box and body mounts, dye and thin metal, from the first entry at the car to the
paper: walked by the keyboard, typed, told, reported, compared, taken again.
"""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.recipes.carried_out import answered, flat, piped, reports, said, sample
from tests.sitting.driving import READ, Driver
from wizard.library import load_library
from wizard.library.places import StepId
from wizard.sitting.foretold import foretell_with
from wizard.sitting.recheck import start
from wizard.survey.file import load
from wizard.survey.rows import Reading

THIN = ("3.0 mm", "2.2 mm", "80 mm", "30 mm", "700 mm", "i")
"""One thin place of the left rail: sound metal, metal left, length, width, how far back, face."""
DEEP = "left rail has lost 27 % of its thickness at the worst place"


@pytest.fixture
def file(tmp_path: Path) -> Path:
    """A whole survey."""
    return sample("bramble-2026-04-11", tmp_path / "surveys")


@pytest.fixture
def thin(file: Path) -> Path:
    """With one thin place inside the left rail's web, and none on the right."""
    answered(file, "/also thin-metal", "/go thin-metal", READ, "o", *THIN, "n", "n", "n")
    return file


def asked(file: Path) -> list[str]:
    driver = Driver(file.parent, path=file)
    found = [str(p.id) for page in driver.sitting.pages() for p in page.prompts]
    assert driver.sitting.kept
    driver.sitting.kept.release()
    return found


# The looks at a place ------------------------------------------------------------------------------


def test_a_hanger_that_is_loose_holds_the_figures_and_the_car(file: Path) -> None:
    answered(file, "/go left-front", READ, "b s", "b l")
    told = flat(said("tell", file, "--all"))
    assert "The left front spring hanger is loose. Until it is tight, these figures cannot" in told
    assert "Do not drive it" in told.split("What to do")[0]


def test_a_steering_box_that_is_loose_holds_the_car_and_no_figure(file: Path) -> None:
    answered(file, "/go left-front", READ, "b g", "b l")
    told = flat(said("tell", file, "--all"))
    assert "Do not drive it" in told.split("What to do")[0]
    assert "tighten and secure it" in told
    assert "these figures cannot be trusted" not in told


def test_the_sheet_has_them_at_their_places() -> None:
    told = flat(said("sheet", "--layout", "straight-ladder"))
    for what in ("front spring hangers, shackles", "steering box, how it is held"):
        assert what in told
    assert "body and cab mounts" in told
    for called in ("Dye for cracks", "How far the thin metal runs"):
        assert called not in told.partition("NOT ON THIS SHEET")[0]


# Dye -----------------------------------------------------------------------------------------------


def test_dye_is_used_where_somebody_was_not_sure_and_its_line_is_a_stop(file: Path) -> None:
    answered(file, "/go left-front", READ, "b g", "b u")
    assert "You are asked for it, because nobody was sure" in flat(piped(file, "/also"))
    driver = Driver(file.parent, path=file)
    driver.run("/go dye", READ)
    assert driver.at == "dye/by"
    driver.run("o")
    assert driver.at == "dye/left/steering-mount"
    driver.run("b l", "n")
    assert driver.at != "dye/left/elsewhere"
    assert driver.sitting.kept
    driver.sitting.kept.release()
    told = flat(said("tell", file))
    assert "Crack that dye drew where the steering box is held, left rail." in told
    data = json.loads(said("tell", file, "--json"))
    assert data["verdict"]["action"] == "stop"
    for kind, text in reports(file).items():
        if kind != "csv":
            assert "Where the steering box is held" in flat(text.replace("\\", "")), kind
    again = Driver(file.parent, path=start(file, load_library(), driver.clock(), file.parent))
    assert "dye/left/steering-mount" in [
        p.id for page in again.sitting.pages() for p in page.prompts
    ]


def test_its_can_is_read_before_it_is_used() -> None:
    library = load_library()
    against = [c for c in library.cautions.values() if "solvents" in c.against]
    assert [c.title for c in against] == ["Cleaner, dye and developer"]
    assert "solvents" in library.steps[StepId("dye")].exposes
    assert "The can's own sheet comes before this page" in flat(
        " ".join(map(str, against[0].lines))
    )


def test_the_sheet_has_dye_where_it_is_called_for() -> None:
    told = flat(said("sheet", "--layout", "straight-ladder", "--also", "dye"))
    assert "By the can's sheet: bare, clean, dye, wait, wipe with a rag" in told


# Thin metal ----------------------------------------------------------------------------------------


def test_nobody_is_asked_how_far_light_pits_run(file: Path) -> None:
    assert not [id for id in asked(file) if id.startswith(("thin-metal", "dye"))]


def test_deep_pits_call_for_it(file: Path) -> None:
    answered(file, "/go left-beside", READ, "b t", "b h")
    assert "thin-metal/left/count" in asked(file)
    assert "because of deep pits or rust in layers" in flat(piped(file, "/also"))


def test_a_page_that_hangs_on_a_look_is_asked_in_the_walk_too(file: Path) -> None:
    answered(file, "/go left-beside", READ, "b t", "b h")
    driver = Driver(file.parent, path=file)
    walked = {str(p.id) for page in driver.sitting.walk() for p in page.prompts}
    assert driver.sitting.kept
    driver.sitting.kept.release()
    assert {"pitting/left/clean", "pitting/left/pitted", "pitting/left/stretch"} <= walked


def test_one_deep_place_is_a_matter_for_an_eye_and_no_verdict_on_the_rail(thin: Path) -> None:
    told = flat(said("tell", thin, "--all"))
    assert f"{DEEP[:1].upper()}{DEEP[1:]}: have somebody who knows frames look" in told
    assert "One place is not the rail, but much of the metal is gone there." in told
    assert "Where it is weakest, the left rail has 98 % of its strength left" in told
    assert "From end to end, the left rail has 100 % of its stiffness left" in told
    assert "Take the frame to a specialist" not in told
    assert json.loads(said("tell", thin, "--json"))["verdict"]["action"] == "open"


@pytest.mark.parametrize(
    ("left", "letter", "where"),
    [
        ("2.2 mm", "h", "a spring hanger"),
        ("2.2 mm", "m", "a body mount"),
        ("2.2 mm", "s", "the steering box"),
        ("2.2 mm", "n", ""),
        ("2.9 mm", "h", ""),
    ],
)
def test_a_deep_place_near_a_mounting_is_told_so(
    file: Path, left: str, letter: str, where: str
) -> None:
    """A shallow one is not: nothing hangs on where it is."""
    thin = (THIN[0], left, *THIN[2:])
    answered(file, "/also thin-metal", "/go thin-metal", READ, "o", *thin, letter, "n", "n")
    said_so = f"It is within 300 mm, about 12 in, of {where}, where a rust hole would outrank"
    told = flat(said("tell", file, "--all"))
    if where:
        assert said_so in told
        assert all(said_so in flat(text) for kind, text in reports(file).items() if kind != "csv")
    else:
        assert "within 300 mm" not in told


def test_more_metal_left_than_sound_metal_is_doubted(file: Path) -> None:
    driver = Driver(file.parent, path=file, foretell=foretell_with(load_library()))
    driver.run("/also thin-metal", "/go thin-metal", READ, "o", "3.0 mm")
    reply = driver.say("3.6 mm")
    assert reply.kind == "doubted"
    assert "more than the sound metal beside it, 3.0 mm" in reply.says
    assert driver.say("2.2 mm").kind == "taken"
    assert driver.at == "thin-metal/left/long-1"
    assert driver.sitting.kept
    driver.sitting.kept.release()


def test_it_is_drawn_along_the_rail(thin: Path) -> None:
    told = said("tell", thin, "--all")
    assert "Strength left along the left rail. The front is at the left." in flat(told)
    bars = [line for line in told.splitlines() if " % |" in line]
    assert len(bars) == 5
    # The gap lies at 700 mm of the 2,650 from the horn tips, 450 ahead of the front points.
    gap = bars[0].index(" ", bars[0].index("|")) - bars[0].index("|") - 1
    assert gap == pytest.approx((450 + 700 - 40) / 2650 * 64, abs=1.5)
    for kind, text in reports(thin).items():
        if kind != "csv":
            assert "Along the thin rails" in text, kind
            assert "Strength left along the left rail" in flat(text), kind


def test_mentor_and_csv_have_the_figures_with_their_doubt(thin: Path) -> None:
    told = flat(said("tell", thin, "--mentor"))
    assert "square corners, round sizes" in told
    assert "thin-metal/left/metal-1" in reports(thin)["csv"]


def test_the_sheet_has_it_where_it_is_called_for(file: Path) -> None:
    called = flat(said("sheet", "--layout", "straight-ladder", "--also", "thin-metal"))
    assert "Each thin place: metal left, length, width, face, how far back" in called
    answered(file, "/also thin-metal")
    assert "Each thin place: metal left" in flat(said("sheet", file))


def test_it_is_measured_again_and_compared(thin: Path) -> None:
    clock = Driver(thin.parent / "clock").clock
    path = start(thin, load_library(), clock(), thin.parent)
    again = Driver(thin.parent, path=path)
    assert "thin-metal/left/metal-1" in [
        p.id for page in again.sitting.pages() for p in page.prompts
    ]
    assert again.sitting.kept
    again.sitting.kept.release()
    answered(path, "/go thin-metal", READ, "=", "3.0 mm", "1.4 mm", *THIN[2:5], "=", "=")
    assert "1.4 mm" in [r.typed for r in load(path).standing(Reading)]
    told = flat(said("compare", thin, path))
    assert "strength" in told
