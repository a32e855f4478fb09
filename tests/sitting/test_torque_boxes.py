"""The torque boxes: looked at with all that there is along a side rail, asked by themselves where there is
something to tell, told, reported, and called upon dye where nobody was sure.
"""

from pathlib import Path

import pytest

from tests.recipes.carried_out import flat, reports, said
from tests.sitting.driving import Driver, likely
from wizard.library import load_library
from wizard.model.bent import Bent
from wizard.model.frame import Frame
from wizard.model.readings import prompts_of, survey_on
from wizard.survey.file import save

LIBRARY = load_library()


def at_left_rail(folder: Path) -> Driver:
    driver = Driver(folder)
    while driver.sitting.prompt is not None and not driver.at.startswith("left-rail"):
        chooses = driver.sitting.prompt.keep == "survey.layout"
        driver.run("p" if chooses else likely(driver.sitting.prompt))
    return driver


def test_a_folded_box_is_asked_about_by_itself_and_told(tmp_path: Path) -> None:
    driver = at_left_rail(tmp_path)
    place = driver.sitting.prompt
    assert place
    assert ("t", "torque boxes") in [(part.letter, part.name) for part in place.parts]
    driver.run("b t")
    assert driver.at == "torque-boxes/left"
    driver.run("b l")
    assert driver.at == "torque-boxes/left/where"
    driver.run("f")
    assert driver.sitting.path
    assert driver.sitting.kept
    driver.sitting.kept.release()
    told = flat(said("tell", driver.sitting.path, "--all"))
    assert "at a torque box of the left rail" in told.lower()
    for kind, text in reports(driver.sitting.path).items():
        assert kind == "csv" or "torque box" in flat(text).lower(), kind


def test_whoever_is_not_sure_is_asked_for_dye(tmp_path: Path) -> None:
    driver = at_left_rail(tmp_path).run("b t", "b ?")
    asked = {p.id for page in driver.sitting.pages() for p in page.prompts}
    assert "dye/left/torque-boxes" in asked


@pytest.mark.parametrize(("layout", "right"), [("torque-boxes", 8.0), ("tube-ladder", 6.0)])
def test_a_slipped_rail_is_found_told_and_compared(
    layout: str, right: float, tmp_path: Path
) -> None:
    paths = []
    for name, bent in (("straight", Bent()), ("slipped", Bent(diamond=right))):
        frame = Frame(LIBRARY.layouts[layout], bent)
        paths.append(tmp_path / f"{layout}-{name}.toml")
        save(paths[-1], survey_on(frame, prompts_of(frame, LIBRARY)))
    told = flat(said("compare", *paths))
    assert (
        f"Whole frame: one rail along the other: then 0 mm, now {right:.0f} mm right rail back."
        in told
    )
    assert "whole frame" in flat(said("tell", paths[1], "--all"))
    assert "left front to right rear" in flat(reports(paths[1])["html"])
