"""Plays the re-checks through the guide, line by line, and writes their answers files and sample
surveys.

Run from the project's folder, after frame_samples: python -m tests.bench.recheck_samples
"""

from __future__ import annotations

import shutil
import tempfile
from pathlib import Path

from tests.bench.frame_samples import SAMPLES, SCRIPTS, Clock, tools_of, wanted
from tests.bench.frame_story import Story
from tests.bench.recheck_stories import AGAIN
from wizard.checks.foretell import foretelling
from wizard.library import load_library
from wizard.library.shapes import Library
from wizard.sitting.commands import handle
from wizard.sitting.recheck import start
from wizard.sitting.sitting import Sitting


def begun(
    story: Story, follows: str, library: Library, folder: Path, samples: Path = SAMPLES
) -> tuple[Sitting, Clock]:
    """A sitting on a new survey in `folder` that follows the sample of that id."""
    earlier = folder / f"{follows}.toml"
    if not earlier.exists():
        shutil.copy(samples / earlier.name, earlier)
    clock = Clock(story)
    path = start(earlier, library, clock.now())
    return Sitting(library, path=path, now=clock.now, foretell=foretelling(library)), clock


def played(
    story: Story, follows: str, library: Library, folder: Path, samples: Path = SAMPLES
) -> list[str]:
    """Play the story in `folder`; gives the lines that were typed.

    Raises LookupError on a refusal.
    """
    sitting, clock = begun(story, follows, library, folder, samples)
    rng, tools = tools_of(story)
    lines: list[str] = []
    said: set[str] = set()
    while sitting.ask is not None:
        clock.line(sitting)  # first of all: on another day another thing may be in front
        for n, typed in enumerate(list(wanted(story, sitting, rng, tools, said))):
            if n:
                clock.line(sitting)
            where, line = sitting.prompt, typed
            reply = handle(sitting, line)
            if reply.kind == "doubted":
                line = f"{line}!"
                reply = handle(sitting, line)
            if reply.stops_burst:
                raise LookupError(
                    f"{story.id}, {where.id if where else 'the end'}, {line!r}: {reply.says}"
                )
            lines.append(line)
    return lines


def main() -> None:
    """Write both answers files and both samples anew."""
    library = load_library()
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        for follows, story in AGAIN:
            lines = played(story, follows, library, folder)
            (SCRIPTS / f"{story.script}.txt").write_text("\n".join(lines) + "\n", encoding="utf-8")
            shutil.copy(folder / f"{story.id}.toml", SAMPLES)
            print(f"{story.id}: {len(lines)} lines")


if __name__ == "__main__":
    main()
