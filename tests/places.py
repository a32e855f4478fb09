"""What is typed at a place, from what would be typed at each of its looks by itself."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable

from wizard.survey.prompts import Prompt, left_at
from wizard.survey.record import Survey


def entry(survey: Survey, place: Prompt, said: Callable[[str], str]) -> str:
    """`b s; k n` for looks of which most are `b o`. said: the line for a look by its id, like `b o`;
    what is neither that nor `n` alone has something to tell, and is asked by itself.
    """
    lines = {part.letter: said(str(part.look.id)).split() for part in left_at(survey, place)}
    plain = {x: line[0] for x, line in lines.items() if line in ([line[0], "o"], ["n"])}
    seen = Counter(plain.values()).most_common()
    how = seen[0][0] if seen else "b"
    tell = [x for x in lines if x not in plain]
    if how == "n" and tell:  # how the rest was seen stands first, and that was not at all
        return "; ".join([" ".join(["b", *tell]), *(f"{x} {own}" for x, own in plain.items())])
    first = " ".join([how, *tell])
    return "; ".join([first, *(f"{x} {own}" for x, own in plain.items() if own != how)])
