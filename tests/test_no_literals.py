"""No rule in code names a page or an answer of content: it reads what content says of itself.

Every string in `wizard/`, and every part of one between slashes, is held to the ids of the pages,
the tokens of the answers and the ids of the places that the content has. The lists below hold what
is left. They may shrink; `test_the_lists_do_not_grow` says by how much they may not grow.
"""

from __future__ import annotations

from pathlib import Path

ROOT = Path(__file__).parent.parent / "wizard"
VOCABULARY = ("library/marks.py",)
"""The one module that spells what rules read. `crosstape content` holds each word of it to content."""
STATE = "a word of the state, the unit or a tool, as files keep it for ever: marks.KEPT"
SIDE = "a word of the layout's frame or of the program itself, whatever answer is called so too"
LEFT = "still to be read from a mark"
