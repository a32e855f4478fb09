"""`/copy`: the survey in hand goes on in a new file, beside the one that is open or was changed
elsewhere.
"""

from __future__ import annotations

from wizard.readings.plain import clean_line
from wizard.sitting.reply import Reply
from wizard.sitting.sitting import Sitting


def copy(sitting: Sitting, _: str) -> Reply:
    """Go on in a new file; the old one stays as it is."""
    old = sitting.path
    if old is None:
        return Reply("refused", "Nothing was written down yet, so there is nothing to copy.")
    failed = sitting.go_on_in_copy()
    if failed or sitting.path is None:
        return failed or Reply(
            "refused", "Nothing was written down yet, so there is nothing to copy."
        )
    return Reply(
        "taken", f"You go on in {sitting.path.name}; {clean_line(old.name, 80)} is left as it is."
    )
