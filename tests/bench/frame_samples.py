"""Plays a story through the guide, one line at a time, and writes the answers file and the sample
survey.

Run from the project's folder: python -m tests.bench.frame_samples
"""

from __future__ import annotations

import random
import tempfile
from collections.abc import Iterable
from datetime import datetime, timedelta
from pathlib import Path

from tests.bench.frame_stories import STORIES
from tests.bench.frame_story import STANDS, Story
from tests.bench.frame_tools import Tools, drawn
from tests.bench.frames import reading
from tests.places import entry
from wizard.checks.foretell import foretelling
from wizard.library import load_library
from wizard.library.shapes import Library
from wizard.sitting.commands import handle
from wizard.sitting.sitting import Sitting
from wizard.survey.prompts import Prompt

HOME = Path(__file__).parents[2]
SAMPLES = HOME / "sample_sessions"
SCRIPTS = HOME / "tests" / "samples"
PACE = {"look": 70, "length": 45, "gap": 50, "bubble": 60, "choice": 15, "note": 25, "ack": 40}
"""Seconds from one answer to the next, by what is asked."""


class Clock:
    """A clock that only a typed line moves: some seconds on, or to the day on which the person went
    on.
    """

    def __init__(self, story: Story) -> None:
        self.at = story.started
        self.returns = dict(story.returns)

    def now(self) -> datetime:
        """The time."""
        return self.at

    def line(self, sitting: Sitting) -> bool:
        """Move on for one line at the prompt in front; whether it is another day now."""
        prompt = sitting.prompt
        back = self.returns.pop(prompt.step, None) if prompt else None
        self.at = back or self.at + timedelta(
            seconds=PACE.get(prompt.kind.id, 20) if prompt else 20
        )
        return back is not None


def seated(story: Story, library: Library, path: Path) -> tuple[Sitting, Clock]:
    """A sitting before the first question, under the story's clock."""
    clock = Clock(story)
    return Sitting(library, path=path, now=clock.now, foretell=foretelling(library)), clock


def tools_of(story: Story) -> tuple[random.Random, Tools]:
    """The hand and the tools of a story: the same every time."""
    rng = random.Random(story.seed)
    return rng, drawn(rng, **story.tools)


def _asides(story: Story, prompt: Prompt, said: set[str]) -> Iterable[str]:
    """What is typed before a prompt, or before the looks of a place, are answered for the first time."""
    if prompt.kind.acknowledges:
        return
    looks = (part.look.id for part in prompt.parts)
    for id in (prompt.id, *(look for look in looks if _look(story, look) in PLAIN)):
        if id not in said:
            said.add(id)
            yield from story.asides.get(id, ())


PLAIN = ("b o", "p o", "d o", "n")
"""Lines for looks that are written down with the entry for their place."""


def _look(story: Story, id: str) -> str:
    """The line for a look of a place; one that is passed over is asked by itself."""
    if id in story.skips or id.split("/")[0] in story.skips:
        return "skip"
    return story.answers.get(id, "b o")


def wanted(
    story: Story, sitting: Sitting, rng: random.Random, tools: Tools, said: set[str]
) -> Iterable[str]:
    """The lines for the prompt in front; `said` holds the prompts whose asides were typed."""
    prompt = sitting.prompt
    if prompt is None:
        return
    yield from _asides(story, prompt, said)
    if prompt.kind.acknowledges:
        yield "understood"
    elif prompt.id in story.skips:
        yield f"/skip {story.skips[prompt.id]}"
    elif prompt.step in story.skips:
        yield f"/skip step {story.skips[prompt.step]}"
    elif prompt.id in story.answers:
        yield story.answers[prompt.id]
    elif prompt.id in STANDS:
        yield STANDS[prompt.id]
    elif prompt.kind.gathers:
        yield entry(sitting.survey, prompt, lambda id: _look(story, id))
    elif prompt.kind.looks:
        yield "b o"
    elif prompt.kind.measures:
        yield reading(story.truth, prompt.id, rng, tools)
    else:
        raise LookupError(f"{story.id} has no answer to {prompt.id}: {prompt.ask}")


def written(story: Story, library: Library, path: Path) -> list[str]:
    """Play the story into a survey at `path`; gives the lines that were typed.

    Raises LookupError on a refusal.
    """
    sitting, clock = seated(story, library, path)
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
                # The person has looked twice and says so; a pipe has nobody to ask.
                line = f"{line}!"
                reply = handle(sitting, line)
            if reply.stops_burst:
                raise LookupError(
                    f"{story.id}, {where.id if where else 'the end'}, {line!r}: {reply.says}"
                )
            lines.append(line)
    return lines


def main() -> None:
    """Write every answers file and every sample anew."""
    library = load_library()
    with tempfile.TemporaryDirectory() as folder:
        for story in STORIES:
            path = Path(folder) / f"{story.id}.toml"
            lines = written(story, library, path)
            (SCRIPTS / f"{story.script}.txt").write_text("\n".join(lines) + "\n", encoding="utf-8")
            (SAMPLES / path.name).write_bytes(path.read_bytes())
            print(f"{story.id}: {len(lines)} lines")


if __name__ == "__main__":
    main()
