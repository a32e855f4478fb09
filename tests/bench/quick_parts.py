"""The single measurements of `quick`, each run in a process of its own: python quick_parts.py NAME
ARGUMENTS.
"""

from __future__ import annotations

import time

BEGIN = time.perf_counter()
"""Before anything is imported: what an app costs to import is part of its first frame."""

import asyncio  # noqa: E402
import os  # noqa: E402
import resource  # noqa: E402
import statistics  # noqa: E402
import subprocess  # noqa: E402
import sys  # noqa: E402
import tempfile  # noqa: E402
from collections.abc import Callable  # noqa: E402
from pathlib import Path  # noqa: E402
from typing import Any  # noqa: E402

SIZE = (80, 24)


def _ms(start: float) -> float:
    return 1000 * (time.perf_counter() - start)


def _cpu_ms(start: float) -> float:
    """For what only computes: processor time, which others on the machine do not lengthen."""
    return 1000 * (time.process_time() - start)


def _blank() -> Any:
    from textual.app import App

    return App[None]()


def _frame(make: Callable[[], Any]) -> None:
    """From the first line of the program to a whole frame that lies ready to be written."""

    async def run() -> None:
        app = make()
        async with app.run_test(size=SIZE, notifications=True, tooltips=True):
            app.screen._compositor.render_strips()
            print(_ms(BEGIN), *[name for name in ("numpy", "pint") if name in sys.modules])

    asyncio.run(run())


def first_frame(folder: str) -> None:
    """The opening page of a folder."""

    def make() -> Any:
        from wizard.screens.app import CrosstapeApp

        return CrosstapeApp(folder=folder)

    _frame(make)


def blank_frame(folder: str) -> None:
    """The floor: an app with nothing in it."""
    _frame(_blank)


def _keys(app: Any, typed: Callable[[], int], before: tuple[str, ...] = ()) -> None:
    """Median time from a key in the queue to the screen with its effect in it. typed: characters in
    the line.
    """
    from textual import events

    async def run() -> None:
        async with app.run_test(size=SIZE) as pilot:
            for line in before:
                app.desk.line(line)
            if before:
                app.draw()
            await pilot.pause()
            taken = []
            for n in range(200):
                if n % 30 == 29:
                    await pilot.pause()
                count, start = typed(), time.perf_counter()
                app.post_message(events.Key("x", "x"))
                while typed() == count:
                    await asyncio.sleep(0)
                app.screen._compositor.render_strips()
                taken.append(_ms(start))
            print(statistics.median(taken[20:]))

    asyncio.run(run())


def key() -> None:
    """A letter typed at the first question."""
    from wizard.screens.app import CrosstapeApp

    app = CrosstapeApp(folder=tempfile.mkdtemp())
    _keys(app, lambda: len(app.entry.content.text), ("n",))


def key_floor() -> None:
    """A letter typed into the only widget of an app."""
    from textual.app import App, ComposeResult
    from textual.widgets import Input

    class One(App[None]):
        def compose(self) -> ComposeResult:
            yield Input()

    app = One()
    _keys(app, lambda: len(app.query_one(Input).value))


def _answered(folder: Path) -> Any:
    """A wizard in the middle of a survey, on a screen of its own."""
    from wizard.screens.app import CrosstapeApp

    app = CrosstapeApp(folder=folder)
    for line in ("n", "Bramble", "i", "s", "w", "o", "/go widths"):
        app.desk.line(line)
    return app


def _likely(prompt: Any, n: int) -> str:
    """An answer that the prompt takes."""
    if prompt.kind.chooses:
        return str(prompt.choices[0].letter)
    if prompt.kind.gathers:
        return "b"
    if prompt.kind.looks:
        return f"b {prompt.choices[0].letter}"
    return {
        "ack": "understood",
        "length": f"{20 + n} 1/16!",
        "gap": "0!",
        "bubble": "1/2 left!",
    }.get(prompt.kind.id, "x")


def answer() -> None:
    """From Enter to the reading in the file and the next prompt drawn; beside it the fsync of the
    same bytes.
    """
    folder = Path(tempfile.mkdtemp(dir="."))

    async def run() -> None:
        app, ours, floors = _answered(folder), [], []
        async with app.run_test(size=SIZE):
            app.draw()
            for n in range(40):
                path = app.desk.sitting.path
                before = app.desk.sitting.ask
                start = time.perf_counter()
                app.desk.line(_likely(before.prompt, n))
                app.draw()
                app.screen._compositor.render_strips()
                ours.append(_ms(start))
                assert app.desk.sitting.ask != before, app.desk.said
                floors.append(_bare(path.read_bytes(), folder))
        print(statistics.median(ours), statistics.median(floors), max(ours))

    asyncio.run(run())
    _clear(folder)


def _bare(data: bytes, folder: Path) -> float:
    start = time.perf_counter()
    with (folder / "bare").open("wb") as out:
        out.write(data)
        out.flush()
        os.fsync(out.fileno())
    return _ms(start)


def _clear(folder: Path) -> None:
    for path in folder.iterdir():
        path.unlink()
    folder.rmdir()


def steps() -> None:
    """From one step to the next, drawn, over all steps of the whole survey; median and worst."""
    folder = Path(tempfile.mkdtemp())

    async def run() -> None:
        app, taken = _answered(folder), []
        async with app.run_test(size=(120, 36)):
            ids = [page.step.id for page in app.desk.sitting.pages() if not page.gone]
            for id in [ids[0], *ids]:
                start = time.process_time()
                app.desk.line(f"/go {id}")
                app.draw()
                app.screen._compositor.render_strips()
                taken.append(_cpu_ms(start))
        print(statistics.median(taken[1:]), max(taken[1:]))

    asyncio.run(run())


def shelf(sample: str) -> None:
    """What the opening page lists of a folder of ten thousand files, nine of which it reads."""
    import shutil
    from datetime import datetime

    from wizard.library import load_library
    from wizard.sitting.shelf import shelf_of

    library, taken = load_library(), []
    with tempfile.TemporaryDirectory() as name:
        for n in range(10_000):
            (Path(name) / f"s{n:05}.toml").touch()
        for n in range(9):
            shutil.copyfile(sample, Path(name) / f"z{n}.toml")
        for _ in range(5):
            start = time.process_time()
            found = shelf_of(Path(name), library, datetime(2026, 5, 1))
            taken.append(_cpu_ms(start))
    assert found.more == 10_000
    print(statistics.median(taken))


def result(sample: str) -> None:
    """The verdict of a full survey, once everything is loaded: the first time, and again."""
    from datetime import datetime

    from wizard.judgment.sight import verdict_of
    from wizard.library import load_library
    from wizard.survey.file import load

    library, survey, taken = load_library(), load(Path(sample)), []
    from dataclasses import replace

    verdict_of(
        load(Path(sample)), library, datetime(2026, 5, 1)
    )  # the libraries are loaded by the first
    for n in range(15):
        one = replace(survey, program=str(n))  # nothing kept from the time before can help
        start = time.process_time()
        verdict_of(one, library, datetime(2026, 5, 1))
        taken.append(_cpu_ms(start))
    print(statistics.median(taken), f"{min(taken):.1f}")


def result_floor(_: str) -> None:
    """Its floor: numpy and what reads a file, in processor time, one thread as the wizard has."""
    os.environ["OPENBLAS_NUM_THREADS"] = "1"
    start = time.process_time()
    import tomllib

    import numpy

    assert numpy
    assert tomllib
    print(_cpu_ms(start))


TELL_FLOOR = ("-c", "import numpy, tomllib")
"""What any program with such figures and files would have to load."""


TELL = ("-c", "import sys; from wizard.command import main; sys.exit(main())", "tell")
"""What the installed `crosstape tell` runs; `python -m wizard` has runpy to load besides."""


def tell(sample: str) -> None:
    """The whole command, by the clock."""
    print(_command(*TELL, sample)[0])


def tell_floor(sample: str) -> None:
    """Its floor."""
    print(_command(*TELL_FLOOR)[0])


def tell_work(sample: str) -> None:
    """The whole command, in processor time, threads that only wait for work included."""
    print(_command(*TELL, sample)[1])


def tell_work_floor(sample: str) -> None:
    """Its floor."""
    print(_command(*TELL_FLOOR)[1])


def _command(*args: str) -> tuple[float, float]:
    """How long a process took, ms: by the clock, and of the processors."""
    start = time.perf_counter()
    subprocess.run([sys.executable, *args], check=True, stdout=subprocess.DEVNULL)
    clock, used = _ms(start), resource.getrusage(resource.RUSAGE_CHILDREN)
    return clock, 1000 * (used.ru_utime + used.ru_stime)


def _resident() -> float:
    size = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    return size / 1024 if sys.platform != "darwin" else size / 1024**2


def memory(sample: str) -> None:
    """A wizard that stands at the verdict of a full survey."""
    from wizard.screens.app import CrosstapeApp

    async def run() -> None:
        app = CrosstapeApp(file=sample, folder=tempfile.mkdtemp())
        async with app.run_test(size=SIZE):
            app.desk.line("/verdict")
            app.draw()
            print(_resident())

    asyncio.run(run())


def memory_floor(sample: str) -> None:
    """A blank app beside numpy."""
    import numpy

    assert numpy

    async def run() -> None:
        async with _blank().run_test(size=SIZE):
            print(_resident())

    asyncio.run(run())


if __name__ == "__main__":
    globals()[sys.argv[1]](*sys.argv[2:])
