"""The axle set from end to end: called for by the owner or by a wobble, walked by keyboard, told, reported,
put on paper, compared and measured again; and the wobble, whose last cause is the frame.
"""

from __future__ import annotations

import json
import shutil
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from tests.recipes.carried_out import flat, said
from tests.sitting.driving import Driver, likely
from wizard.library import load_library
from wizard.library.paths import samples_dir
from wizard.sitting.recheck import start
from wizard.survey.file import load

SAMPLE = "bramble-2026-04-11.toml"
"""A frame with nothing to put right."""
PAGES = (
    "axle-book",
    "beam-string",
    "spring-perches",
    "caster-camber",
    "kingpin-play",
    "toe-tapes",
)
TYPED: dict[str, tuple[str, ...]] = {
    "axle-book/front": ("b",),
    "axle-book/caster": ("5",),
    "axle-book/camber": ("1",),
    "axle-book/toe": ("1/8",),
    "beam-string/block": ("2",),
    "beam-string/left": ("1 3/4", "1 3/4"),
    "beam-string/right": ("1 15/16", "1 15/16"),
    "spring-perches/left": ("7", "7"),
    "spring-perches/right": ("7", "7"),
    "spring-perches/shackle-left": ("25 away",),
    "spring-perches/shackle-right": ("26 away",),
    "caster-camber/caster-left": ("5.4 back", "5.6 back"),
    "caster-camber/caster-right": ("3.4 back", "3.6 back"),
    "caster-camber/camber-left": ("1 out", "1.1 out"),
    "caster-camber/camber-right": ("1 out", "0.9 out"),
    "caster-camber/floor": ("0.1 left", "0"),
    "kingpin-play/left": ("p",),
    "kingpin-play/right": ("s",),
    "kingpin-play/down": ("w",),
    "kingpin-play/push": ("s",),
    "toe-tapes/front": ("61 1/4", "61 1/4"),
    "toe-tapes/back": ("61 1/2", "61 1/2"),
    "toe-tapes/chocked": ("c",),
    "toe-tapes/push": ("s",),
    "tools/gauge": ("d",),
}


def walked(driver: Driver, typed: dict[str, tuple[str, ...]], pages: tuple[str, ...]) -> set[str]:
    """Every page of the set answered; what was asked."""
    left = {id: list(lines) for id, lines in typed.items()}
    asked: set[str] = set()
    for page in pages:
        driver.run(f"/go {page}")
        while (prompt := driver.sitting.prompt) is not None:
            target = driver.sitting.target
            if target is None or target.prompt.step not in (page, "tools"):
                break
            asked.add(prompt.id)
            lines = left.get(prompt.id, [])
            driver.run(lines.pop(0) if lines else likely(prompt))
    return asked


def fresh(folder: Path) -> Driver:
    folder.mkdir(parents=True, exist_ok=True)
    return Driver(folder, path=Path(shutil.copy(samples_dir() / SAMPLE, folder)))


def closed(driver: Driver) -> Path:
    assert driver.sitting.path is not None
    assert driver.sitting.kept is not None
    driver.sitting.kept.release()
    return driver.sitting.path


@pytest.fixture(scope="module")
def file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    driver = fresh(tmp_path_factory.mktemp("axles")).run("/also axle-set")
    asked = walked(driver, TYPED, PAGES)
    assert set(TYPED) <= asked
    return closed(driver)


def test_nobody_is_asked_and_no_answer_of_anybody_changes(tmp_path: Path) -> None:
    driver = fresh(tmp_path)
    assert not {p.step.id for p in driver.sitting.pages()} & {*PAGES, "wobble-felt"}
    told = said("tell", closed(driver), "--all")
    assert "axle set" not in told
    assert "gauge" not in {p.id for page in driver.sitting.pages() for p in page.prompts}


def test_no_page_is_met_before_its_gate(tmp_path: Path) -> None:
    driver = fresh(tmp_path).run("/also axle-set")
    for page in PAGES[1:]:
        driver.run(f"/go {page}")
        assert driver.sitting.prompt is not None
        assert driver.sitting.prompt.kind.acknowledges, page


def test_it_is_told_with_what_the_frame_explains(file: Path) -> None:
    told = flat(said("tell", file, "--all"))
    for words in (
        "Beside the frame The left end of the front beam lies 5/16 in behind the straight line",
        "The axle set, after the frame",
        "The left side has 2.0 degrees more caster than the right",
        "The frame does not explain it: one ball holds both ends of this beam",
        "Toe-in: the front tires stand 1/4 in closer in front than behind",
        "At the left front wheel you felt play. Have the kingpin and the wheel bearing looked at.",
        "The right kingpin is left to a shop.",
    ):
        assert words in told, words
    assert "no figures of the car's own book" not in told


@pytest.mark.parametrize("line", ["-", "/skip it is lent"])
def test_nobody_without_an_angle_gauge_is_asked_for_an_angle(tmp_path: Path, line: str) -> None:
    driver = fresh(tmp_path).run("/also axle-set")
    asked = walked(driver, {**TYPED, "tools/gauge": (line,)}, PAGES[:3])
    assert "tools/gauge" in asked
    assert {"spring-perches/left", "spring-perches/right"} <= asked
    assert not {"spring-perches/shackle-left", "spring-perches/shackle-right"} & asked
    gone = {p.step.id: p.gone for p in driver.sitting.pages()}
    assert gone["caster-camber"].startswith("Without an angle gauge: a wheel shop reads both")


def test_without_a_book_that_is_said(tmp_path: Path) -> None:
    driver = fresh(tmp_path).run("/also axle-set")
    none = {f"axle-book/{of}": ("-",) for of in ("caster", "camber", "toe")}
    walked(driver, {**TYPED, **none}, PAGES)
    told = flat(said("tell", closed(driver), "--all"))
    assert "You have no figures of the car's own book" in told
    assert "than the car's book gives" not in told


def test_every_figure_stands_in_the_json_and_the_reports_with_its_limit(
    file: Path, tmp_path: Path
) -> None:
    found = {f["id"]: f for f in json.loads(said("tell", file, "--json"))["findings"]}
    assert found["caster-apart/difference"]["bands"] == ["specialist"]
    assert found["caster-apart/difference"]["unit"] == "deg"
    assert "from memory" in found["caster-apart/difference"]["limits"][0]["source"]
    for form in ("html", "md", "txt"):
        out = tmp_path / f"r.{form}"
        said("report", file, "-o", out)
        text = flat(out.read_text(encoding="utf-8"))
        assert "more caster than the right" in text, form
    rows = tmp_path / "r.csv"
    said("report", file, "-o", rows)
    assert "5.4 back" in rows.read_text(encoding="utf-8")


def test_the_sheet_has_room_for_all_of_it_where_it_is_called_for() -> None:
    plain = said("sheet", "--layout", "straight-ladder")
    called = said("sheet", "--layout", "straight-ladder", "--also", "axle-set")
    titles = [load_library().steps[id].title for id in PAGES]  # type: ignore[index]
    assert not [t for t in titles if t.lower() in plain.lower()]
    assert [t for t in titles if t.lower() not in called.lower()] == []
    assert "caster, left" in called
    assert "Which angle gauge?" in called


def again(file: Path, folder: Path, typed: dict[str, tuple[str, ...]]) -> Path:
    """The same car measured again a season later."""
    at = datetime(2026, 10, 10, 9)
    driver = Driver(folder, path=start(file, load_library(), at, folder))
    driver.clock.at = at + timedelta(minutes=5)
    there = {p.step.id for p in driver.sitting.pages()}
    asked = walked(driver, typed, tuple(page for page in PAGES if page in there))
    assert {"caster-camber/caster-left", "beam-string/left"} <= asked
    return closed(driver)


def test_it_is_asked_again_and_compared(file: Path, tmp_path: Path) -> None:
    old = Path(shutil.copy(file, tmp_path))
    right = {"caster-camber/caster-right": ("5.4 back", "5.6 back")}
    new = again(old, tmp_path, {**TYPED, **right})
    assert load(new).answer_to("also/axle-set") == "called"  # type: ignore[arg-type]
    pairs = json.loads(said("compare", old, new, "--json"))["pairs"]
    changed = {
        p["quantity"]: p["says"] for p in pairs if p["quantity"].startswith(("caster-", "toe"))
    }
    assert any("chang" in says for says in changed.values())
    told = flat(said("compare", old, new))
    assert "Nothing of the frame" in told
    assert "Beside the frame these changed: " in told
    assert "Caster, left against right: then 2.0 degrees left further back, now 0.0" in told
    assert "none of them stands out" not in told
    assert "Nothing of the frame" in flat(said("tell", new))


# The wobble -----------------------------------------------------------------------------------------

FELT = {
    "wobble-felt/felt": ("s",),
    "wobble-felt/when": ("l",),
    "wobble-felt/since": ("g",),
}


def order_of(told: str) -> list[str]:
    """The lines of the list of causes."""
    _, _, rest = told.partition("The wobble: where to look, in order")
    return [line.strip(" -") for line in rest.split("\n\n")[0].splitlines() if "  - " in line]


def test_a_wobble_that_was_felt_calls_for_both_and_the_frame_comes_last(tmp_path: Path) -> None:
    sample = Path(shutil.copy(samples_dir() / SAMPLE, tmp_path))
    text = sample.read_text(encoding="utf-8")
    assert text.count('answer = "quiet"') == 1
    sample.write_text(text.replace('answer = "quiet"', 'answer = "wobble"'), encoding="utf-8")
    driver = Driver(tmp_path, path=sample)
    asked = {p.step.id for p in driver.sitting.pages()}
    assert {*PAGES, "wobble-felt"} <= asked
    walked(driver, FELT, ("wobble-felt",))
    told = said("tell", closed(driver), "--all")
    order = order_of(told)
    assert order[0].startswith("First, ")
    assert order[-1].startswith("Last, the frame.")
    assert (
        sum("the frame" in line for line in order[:-1]) <= 1
    )  # under which the axle is not square
    assert "A wobble alone never says that a frame is bent." in flat(told)
    assert "Not read yet." in flat(told)


def test_braking_that_shakes_forbids_to_drive(tmp_path: Path) -> None:
    driver = fresh(tmp_path).run("/also wobble")
    walked(driver, {**FELT, "wobble-felt/when": ("b",)}, ("wobble-felt",))
    told = flat(said("tell", closed(driver), "--all"))
    assert "Something is wrong with the brakes or near them. Do not drive it" in told


def test_no_page_asks_for_a_drive() -> None:
    library = load_library()
    for id in ("wobble-felt", *PAGES):
        page = library.steps[id]  # type: ignore[index]
        text = " ".join((page.why, *page.how, page.good, page.alone, page.paper, page.instead))
        assert "drive it" not in text.replace("Do not drive it", "").lower(), id
