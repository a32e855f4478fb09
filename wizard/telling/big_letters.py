"""Words five lines high: the largest that a terminal has, for what nobody may read past."""

from __future__ import annotations

HIGH = 5
_LETTERS = {
    "A": " ##  #  # #### #  # #  #",
    "B": "###  #  # ###  #  # ### ",
    "C": " ### #    #    #     ###",
    "D": "###  #  # #  # #  # ### ",
    "E": "#### #    ###  #    ####",
    "F": "#### #    ###  #    #   ",
    "G": " ### #    # ## #  #  ###",
    "H": "#  # #  # #### #  # #  #",
    "I": "###. # . # . # .###",
    "J": "  ##    #    # #  #  ## ",
    "K": "#  # # #  ##   # #  #  #",
    "L": "#    #    #    #    ####",
    "M": "#   #.## ##.# # #.#   #.#   #",
    "N": "#   #.##  #.# # #.#  ##.#   #",
    "O": " ##  #  # #  # #  #  ## ",
    "P": "###  #  # ###  #    #   ",
    "Q": " ##  #  # #  # # ##  ###",
    "R": "###  #  # ###  # #  #  #",
    "S": " ### #     ##     # ### ",
    "T": "###. # . # . # . # ",
    "U": "#  # #  # #  # #  #  ## ",
    "V": "#   #.#   #. # # . # # .  #  ",
    "W": "#   #.#   #.# # #.## ##.#   #",
    "X": "#   #. # # .  #  . # # .#   #",
    "Y": "#   #. # # .  #  .  #  .  #  ",
    "Z": "####    #  ##  #    ####",
    " ": "  .  .  .  .  ",
}
"""Each letter line by line, a point or every fifth blank between; this project's own."""


def _rows(letter: str) -> list[str]:
    drawn = _LETTERS[letter]
    if "." in drawn:
        rows = drawn.split(".")
        width = max(len(row) for row in rows)
        return [row.ljust(width) for row in rows]
    return [drawn[start : start + 4].ljust(4) for start in range(0, 25, 5)]


def big(words: str, ink: str = "#") -> tuple[str, ...]:
    """The words (A to Z and blanks) in five lines.

    >>> for line in big("HI"): print(line.rstrip())
    #  #  ###
    #  #   #
    ####   #
    #  #   #
    #  #  ###
    """
    letters = [_rows(letter) for letter in words]
    return tuple("  ".join(rows[n] for rows in letters).replace("#", ink) for n in range(HIGH))
