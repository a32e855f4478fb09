"""Prints the report and the brief of every sample, of eight more surveys, of a frame set up by its owner
and of Marigold after the work, every layout's worksheet, and sheets of a part of it, through a
browser, on A4 and on Letter, and measures them.

    python -m tests.bench.printing FOLDER [NAME ...]

With names, or the beginnings of some, it prints those alone.

Needs `chromium`, `pdftotext` and `pdftoppm` on the path. For each paper it says how many pages
there are, and fails where a word stands outside the margins, where a heading is the last line of a
page, where a report's first page does not end on the first sheet, a sheet before the last is
half blank, its appendix begins late or a sheet has no number, or where a box of a worksheet is not printed. A report is printed with the earlier surveys of the same frame behind it. The pages
are left in FOLDER as pictures in gray, to be looked at.
"""

from __future__ import annotations

import re
import subprocess
import sys
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from datetime import datetime
from html import unescape
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import NamedTuple

from tests.bench import own_frames
from tests.bench.after_the_work import after
from tests.bench.answers import DROPPED
from tests.bench.frame_marigold import MARIGOLD
from tests.bench.frames import Bend
from tests.bench.recheck_samples import played
from tests.checks.surveys import with_looks
from tests.judgment.pairs import AGED, again, first
from tests.judgment.stories import stories, survey
from wizard.library import load_library
from wizard.library.paths import samples_dir
from wizard.sitting.papers import earlier_for
from wizard.survey.file import load
from wizard.survey.record import Survey
from wizard.survey.rows import Reading
from wizard.telling.papers import report_as, source_of
from wizard.telling.report import Source
from wizard.telling.report_trend import Earlier
from wizard.telling.sheet import sheet_of
from wizard.telling.sheet_html import form_html, sheet_html
from wizard.telling.shop_brief import shop_brief

DAY = datetime(2027, 6, 1)
PAPERS = ("A4", "letter")
MARGIN = 12 / 25.4 * 72
"""Points kept free at every edge by the page's own style."""
FOOT = 15 / 25.4 * 72
"""Points at the foot of a report's sheet, where survey, checksum and page stand."""
HALF_BLANK = 0.6
"""Share of a sheet's height that words must reach, but on the last."""
MOST = 6
"""Sheets of a report before its appendix."""
CHROMIUM = (
    *("chromium", "--headless", "--no-sandbox", "--disable-gpu", "--no-pdf-header-footer"),
    *("--disable-background-networking", "--disable-component-update", "--disable-sync"),
)
MARGINS = "@page { margin: 12mm; }"


class Printed(NamedTuple):
    """A survey beside the samples, with the one that it follows."""

    name: str
    survey: Survey
    before: Survey | None = None


def eight() -> Iterator[Printed]:
    """Straight, a knock, sway, an old repair, little seen, moved, not moved, two frames."""
    straight = first(replace(AGED, left=(Bend(1.0),), right=(Bend(1.0),), diamond=0.0), seed=3)
    yield Printed("straight", with_looks(straight))
    yield Printed("knock", with_looks(first(replace(AGED, diamond=9.0), seed=4)))
    yield Printed("sway", with_looks(first(replace(AGED, sway_front=9.0), seed=6)))
    yield Printed("old-repair", survey(stories()["hit-and-mended"]))
    yield Printed("little-seen", survey(stories()["nothing-seen"]))
    old = with_looks(first())
    yield Printed("moved", with_looks(again(old, first(DROPPED, seed=9))), old)
    yield Printed("not-moved", with_looks(again(old, first(seed=11))), old)
    other = replace(straight, id="another", layout="leaf-ladder-light")
    yield Printed("two-frames", replace(with_looks(straight), follows=other.id), other)


def papers(wanted: Sequence[str] = ()) -> Iterator[tuple[str, str]]:
    """Name and HTML of everything to be printed. wanted: how the names begin; none for all."""

    def is_wanted(name: str) -> bool:
        return not wanted or name.startswith(tuple(wanted))

    for path in sorted(samples_dir().glob("*.toml")):
        if is_wanted(path.stem) or is_wanted(f"brief-{path.stem}"):
            made = load(path)
            yield from both(path.stem, made, source_of(path), earlier_for(made, path.parent))
    for name, made, before in eight():
        if is_wanted(name) or is_wanted(f"brief-{name}"):
            earlier = Earlier((before,)) if before else Earlier()
            made = replace(made, id=made.id or name, car=made.car or "A frame")
            yield from both(name, made, Source(f"{name}.toml", "0" * 64), earlier)
    yield from sheets(is_wanted)
    yield from owned_and_after(is_wanted)


def sheets(is_wanted: Callable[[str], bool]) -> Iterator[tuple[str, str]]:
    """Each kind of frame's whole sheet; of one kind with all that is called for too; the rest of a
    survey that is going on, and the short list of a re-check.
    """
    library = load_library()
    for layout in filter(lambda id: is_wanted(f"sheet-{id}"), library.layouts):
        yield f"sheet-{layout}", sheet_html(sheet_of(library, layout))
    found = load(samples_dir() / "bramble-2026-04-11.toml")
    for name, make in {
        "sheet-also": lambda: sheet_of(library, found.layout, also=tuple(library.also)),
        "sheet-unfinished": lambda: sheet_of(library, found.layout, survey=half_read(found)),
        "sheet-again": lambda: sheet_of(library, found.layout, survey=found, again=True),
    }.items():
        if is_wanted(name):
            yield name, sheet_html(make())


def half_read(survey: Survey) -> Survey:
    """The survey as it stood when half of its readings were taken."""
    readings = survey.table(Reading)
    until = readings[len(readings) // 2].at
    rows = {
        name: tuple(row for row in some if row.at <= until) for name, some in survey.rows.items()
    }
    return replace(survey, rows=rows)


def owned_and_after(is_wanted: Callable[[str], bool]) -> Iterator[tuple[str, str]]:
    """A frame that its owner set up, and Marigold after the work."""
    if is_wanted("own-layout"):
        yield from both(
            "own-layout",
            own_frames.whole(1, 1).known.typed.survey,
            Source("own-layout.toml", "0" * 64),
            Earlier(),
        )
    if not is_wanted("after-the-work"):
        return
    with TemporaryDirectory() as folder:
        played(after(), MARIGOLD.id, load_library(), Path(folder))
        path = next(p for p in Path(folder).glob("*.toml") if p.stem == after().id)
        made = load(path)
        yield from both("after-the-work", made, source_of(path), earlier_for(made, path.parent))


def both(name: str, made: Survey, source: Source, earlier: Earlier) -> Iterator[tuple[str, str]]:
    """A survey's report and its brief."""
    library = load_library()
    yield name, report_as(made, library, DAY, source, ".html", earlier)
    before = earlier.surveys[-1] if earlier.surveys else None
    yield f"brief-{name}", form_html(shop_brief(made, library, DAY, before, source.checksum))


def printed(folder: Path, name: str, html: str, paper: str) -> Path:
    """The PDF on that paper; pictures of its pages beside it."""
    page, pdf = folder / f"{name}-{paper}.html", folder / f"{name}-{paper}.pdf"
    assert MARGINS in html
    page.write_text(html.replace(MARGINS, MARGINS[:-1] + f"size: {paper}; }}"), encoding="utf-8")
    with TemporaryDirectory() as profile:
        command = [*CHROMIUM, f"--user-data-dir={profile}", f"--print-to-pdf={pdf}", str(page)]
        subprocess.run(command, check=True, capture_output=True)
    subprocess.run(
        ["pdftoppm", "-r", "70", "-gray", "-png", str(pdf), str(pdf.with_suffix(""))], check=True
    )
    return pdf


def faults(name: str, html: str, pdf: Path) -> Iterator[str]:
    """What is wrong with the print."""
    boxes = subprocess.run(
        ["pdftotext", "-bbox", str(pdf), "-"], check=True, capture_output=True, text=True
    ).stdout
    pages = boxes.split("<page ")[1:]
    for n, page in enumerate(pages, start=1):
        width, height = (float(v) for v in re.findall(r'(?:width|height)="([\d.]+)"', page)[:2])
        for word in re.finditer(
            r'xMin="([\d.-]+)" yMin="([\d.-]+)" xMax="([\d.-]+)" yMax="([\d.-]+)">(.*?)<', page
        ):
            x0, y0, x1, y1 = (float(v) for v in word.groups()[:4])
            if y0 > height - FOOT:
                continue
            if min(x0, y0) < MARGIN - 1 or x1 > width - MARGIN + 1 or y1 > height - MARGIN + 1:
                yield f"{pdf.name} page {n}: “{word[5]}” stands outside the margins"
    yield from alone(html, pdf)
    if name.startswith("brief-") and len(pages) > 2:
        yield f"{pdf.name}: a brief is two pages at most"
    if name.startswith(("sheet-", "brief-")):
        wanted, found = (
            html.count('class="box '),
            sum(p.count(">___") for p in pages) + html.count(' set">'),
        )
        if found < wanted:
            yield f"{pdf.name}: {wanted} boxes and {found} printed"
    else:
        yield from _of_report(pdf, pages)
    print(f"{pdf.name}: {len(pages)} pages", flush=True)


def _of_report(pdf: Path, pages: list[str]) -> Iterator[str]:
    """What every report must be in print: one sheet first, few before the appendix, each known."""
    said = [" ".join(re.findall(r">([^<]*)</word>", page)) for page in pages]
    if not said[1].startswith("The frame drawn"):
        yield f"{pdf.name}: the first page does not end on the first sheet"
    for n, words in enumerate(said, start=1):
        if f"Page {n} of {len(said)}" not in words or words.count("checksum") < 1:
            yield f"{pdf.name} page {n}: its number or the checksum is not at its foot"
    for n, page in enumerate(pages[:-1], start=1):
        if (filled := _filled(page)) < HALF_BLANK:
            yield f"{pdf.name} page {n} is filled to {filled:.0%}"
    begins = next(n for n, words in enumerate(said, start=1) if "Appendix: every" in words)
    if begins > MOST + 1:
        yield f"{pdf.name}: the appendix begins on page {begins}"


def _filled(page: str) -> float:
    """Down to which share of its height words stand on a sheet, without those at its foot."""
    (height,) = (float(v) for v in re.findall(r'height="([\d.]+)"', page)[:1])
    ends = [float(v) for v in re.findall(r'yMax="([\d.]+)"', page)]
    return max((end for end in ends if end < height - FOOT), default=0.0) / (height - FOOT)


def alone(html: str, pdf: Path) -> Iterator[str]:
    """Headings with nothing under them at the foot of a page."""
    heads = (found[1] for found in re.findall(r"<(h[1-4]|caption)[^>]*>(.*?)</\1>", html))
    known = {" ".join(unescape(h).split()) for h in heads}
    text = subprocess.run(
        ["pdftotext", "-layout", str(pdf), "-"], check=True, capture_output=True, text=True
    ).stdout
    for n, page in enumerate(text.split("\f"), start=1):
        lines = [" ".join(line.split()) for line in page.strip().splitlines()]
        last = next((line for line in reversed(lines) if line and not _is_foot(line)), "")
        if last in known:
            yield f"{pdf.name} page {n}: the heading “{last}” stands alone at the foot"


def _is_foot(line: str) -> bool:
    """Whether it is what stands at the foot of every sheet."""
    return "checksum" in line or re.search(r"Page \d+ of \d+$", line) is not None


def main() -> int:
    """0 when nothing is cut."""
    folder = Path(sys.argv[1])
    folder.mkdir(parents=True, exist_ok=True)
    found = [
        fault
        for name, html in papers(sys.argv[2:])
        for paper in PAPERS
        for fault in faults(name, html, printed(folder, name, html, paper))
    ]
    print("\n".join(found) or "nothing cut")
    return 1 if found else 0


if __name__ == "__main__":
    raise SystemExit(main())
