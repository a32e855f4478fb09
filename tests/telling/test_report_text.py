"""The report as Markdown and as plain text: nothing in the survey is taken for a mark, and no line
is too long.
"""

from __future__ import annotations

from itertools import pairwise

import pytest

from tests.checks.surveys import DAY, bent, library
from tests.telling.test_report_html import BAD, hostile
from wizard.survey.rows import Remark
from wizard.telling.markdown import marked
from wizard.telling.papers import report_as
from wizard.telling.report import Source

SOURCE = Source("a.toml", "0f" * 32)


@pytest.mark.parametrize(
    ("typed", "shown"),
    [
        ("# big", r"\# big"),
        ("[a](http://b)", r"\[a\]\(http\://b\)"),
        ("**x** _y_ `z`", r"\*\*x\*\* \_y\_ \`z\`"),
        ("a | b", r"a \| b"),
        ("- item 1. one", r"\- item 1\. one"),
        ("<b>&", "&lt;b&gt;&amp;"),
        ("left horn 25 7/8", "left horn 25 7/8"),
    ],
)
def test_marks_are_text(typed: str, shown: str) -> None:
    assert marked(typed) == shown


def test_hostile_fields_bring_no_marks_of_their_own() -> None:
    survey = bent().with_row(
        Remark(id="m900", text="| a | b |\n# c\n```\n<script>x</script>", by="owner")
    )
    text = report_as(survey, library(), DAY, SOURCE, ".md")
    assert "<script" not in text
    assert r"\| a \| b \| \# c \`\`\` &lt;script&gt;" in text
    fences = [line for line in text.splitlines() if line.startswith("```")]
    assert len(fences) % 2 == 0
    assert set(fences) == {"```text", "```"}
    grid = [line for line in text.splitlines() if line.startswith("|")]
    widths = {line.replace(r"\|", "").count("|") for line in grid}
    assert widths <= {3, 4, 5, 6, 7, 8}


def test_no_line_of_the_text_is_longer_than_a_page_is_wide() -> None:
    text = report_as(bent(), library(), DAY, SOURCE, ".txt")
    assert max(map(len, text.splitlines())) <= 78


def test_controls_never_reach_a_printer() -> None:
    for suffix in (".txt", ".md"):
        text = report_as(hostile(bent()), library(), DAY, SOURCE, suffix)
        assert "\x1b" not in text
        assert "\u202e" not in text
    assert "script>alert" in report_as(hostile(bent()), library(), DAY, SOURCE, ".txt")
    assert BAD not in text


def test_headings_of_markdown_go_down_one_at_a_time() -> None:
    text = report_as(bent(), library(), DAY, SOURCE, ".md")
    levels = [len(line.split(" ")[0]) for line in text.splitlines() if line.startswith("#")]
    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(b - a <= 1 for a, b in pairwise(levels))
