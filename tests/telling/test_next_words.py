"""What would settle an open finding, in words."""

from __future__ import annotations

import pytest

from wizard.judgment.next import Advice
from wizard.telling.next_words import advice_words


def said(
    kind: str, times: int = 1, now: float = 1.0, then: float = 0.5, settles: bool = True
) -> str:
    return advice_words(
        Advice("f", kind, "p", "left front to right rear", times, now, then, settles), "mm", "in"
    )


READ = "Next, read left front to right rear and what it is compared with"


@pytest.mark.parametrize(
    ("text", "says"),
    [
        (said("at-limit"), "It lies right at the limit: more readings will hardly move it to one side."),
        (said("measure"), "Next, tape this one too: left front to right rear. "
         "The doubt would go from 3/32 in to 1/32 in, enough to tell."),
        (said("repeat", settles=False), f"{READ} once more. The doubt would go from 3/32 in to 1/32 in."),
        (said("repeat", 8, now=0.4, then=0.39), f"{READ} 8 times more. That would be enough to tell."),
        (said("repeat", 2, now=0.4, then=0.39, settles=False), f"{READ} twice more. That would help a little."),
        (said("tool"), "More repeats will not help: most of the doubt is left front to right rear. "
         "A finer tool or point would."),
    ],
)  # fmt: skip
def test_the_advice(text: str, says: str) -> None:
    assert text == says
