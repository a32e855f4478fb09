"""What the words mean: those of the page in front, or one that is asked for."""

from __future__ import annotations

import re

from wizard.library.shapes import Library, Step, Word


def words_text(library: Library, step: Step | None, asked: str = "") -> str:
    """The meaning of one word, or of the words of the step in front; of all words where no step is."""
    asked = asked.strip().lower()
    if asked:
        found = [w for w in library.words.values() if asked == w.word.lower()]
        found = found or [w for w in library.words.values() if asked in w.word.lower()][:6]
        if not found:
            return "That word is not in the list. /words alone gives the words of this step."
    else:
        found = words_of(library, step) or list(library.words.values())
    return "\n\n".join(f"{w.word}: {w.meaning}" for w in found)


def words_of(library: Library, step: Step | None) -> list[Word]:
    """The step's own words first, then every other on its page; everyday ones only where the author names them."""
    if step is None:
        return []
    named = [library.words[w] for w in step.words if w in library.words]
    page = _text(step)
    others = (w for w in library.words.values() if w not in named and not w.everyday)
    return named + [w for w in others if re.search(rf"\b{re.escape(w.word.lower())}(s|es)?\b", page)]


def _text(step: Step) -> str:
    """Everything that the page and its F1 and F2 say."""
    parts = [step.title, step.why, step.good, step.alone, step.instead, step.mentor, *step.how, *step.spoils]
    parts += [text for p in step.prompts for text in (p.ask, *(c.words for c in p.choices))]
    return " ".join(parts).lower()
