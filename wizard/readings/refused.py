"""The one way this room says no: a sentence in the user's words, with an example of what would do."""

from __future__ import annotations


class Refused(ValueError):
    """What was typed cannot be used.

    `str()` of it is one sentence, ready to be shown as it stands; it never holds more than a few
    words of the refused text, and those already cleaned.

    >>> str(Refused("Nothing was typed: give a length", "25 7/8 in"))
    'Nothing was typed: give a length, for example 25 7/8 in.'
    >>> str(Refused("That tool is not known"))
    'That tool is not known.'
    """

    def __init__(self, said: str, like: str = "") -> None:
        self.said = said
        self.like = like
        super().__init__(f"{said}, for example {like}." if like else f"{said}.")
