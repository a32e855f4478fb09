"""What the words mean: those of the page in front, or one that is asked for."""

from __future__ import annotations

import re

from wizard.library.shapes import Layout, Library, Step, Word


def words_text(
    library: Library, layout: Layout, step: Step | None, asked: str = "", page: str = ""
) -> str:
    """The meaning of one word, or of the words of the step in front, else of a page; of all words
    where neither is. In the words for the kind of frame, but for what tells kinds apart.

    page: the text in front where it is no step's, as the verdict is.
    """
    asked = asked.strip().lower()
    if asked:
        found = _asked_for(library, asked)
        if not found:
            return "That word is not in the list. Type /words alone to see the words of this page."
    else:
        found = words_of(library, layout, step) if step else _on(library, page.lower())
        found = found or list(library.words.values())
    told = (w.meaning if w.kinds else layout.worded(w.meaning) for w in found)
    return "\n\n".join(f"{w.word}: {meaning}" for w, meaning in zip(found, told, strict=True))


def _asked_for(library: Library, asked: str) -> list[Word]:
    """The very word, else the first six that hold it, else those explained by it (a bonnet)."""
    words = library.words.values()
    same = [w for w in words if asked == w.word.lower()]
    like = [w for w in words if asked in w.word.lower()]
    told = [w for w in words if re.search(rf"\b{re.escape(asked)}\b", w.meaning.lower())]
    return same or like[:6] or told[:6]


def words_of(library: Library, layout: Layout, step: Step) -> list[Word]:
    """The step's own words first, then every other on its page; everyday ones only where the author
    names them. Where a frame has no rails, what it has in their place is explained for them.
    """
    named = [library.words[w] for w in map(layout.worded, step.words) if w in library.words]
    return named + [w for w in _on(library, _text(step)) if w not in named]


def _on(library: Library, page: str) -> list[Word]:
    """The words that stand in a text in small letters, everyday ones left out."""
    words = (w for w in library.words.values() if not w.everyday)
    return [w for w in words if re.search(rf"\b{re.escape(w.word.lower())}(s|es)?\b", page)]


def _text(step: Step) -> str:
    """Everything that the page and its F1 and F2 say."""
    parts = [
        step.title,
        step.why,
        step.good,
        step.alone,
        step.instead,
        step.mentor,
        *step.how,
        *step.spoils,
    ]
    parts += [text for p in step.prompts for text in (p.ask, *(c.words for c in p.choices))]
    return " ".join(parts).lower()
