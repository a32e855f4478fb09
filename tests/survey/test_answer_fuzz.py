"""Any text at any prompt gives a survey, a refusal or a doubt, and what is taken can be saved and
read back.
"""

import tomllib

from hypothesis import given, settings
from hypothesis import strategies as st

from tests.survey.asking import ALL, one_sentence, reply
from wizard.survey.answer import Doubted, Refusal
from wizard.survey.file import written
from wizard.survey.prompts import Prompt
from wizard.survey.record import Survey
from wizard.survey.toml import from_toml

NEAR = st.text(alphabet="0123456789 /.,-+!;'\"ftinmcbopdnulkrghsaw°½⅞\t\n\u202e\x1b", max_size=30)
FAR = st.text(max_size=700)


@given(prompt=st.sampled_from(ALL), text=NEAR | FAR)
@settings(max_examples=600, deadline=None)
def test_no_text_at_any_prompt_raises(prompt: Prompt, text: str) -> None:
    result = reply(Survey(), prompt, text, foretell=lambda *_: "Odd; measure once more.")
    if isinstance(result, Refusal):
        assert one_sentence(result.says), result.says
        return
    after = result.kept if isinstance(result, Doubted) else result
    assert after.last_number() > 0
    back = from_toml(tomllib.loads(written(after)))
    assert back.rows == after.rows
