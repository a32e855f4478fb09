"""What a twist can tell that was not read on the bare frame, and what to do about it as the car
stands now.

Only a bare frame goes on three points: a car there can tip, and weight to one side twists it. All
that is said of it stands here, so that no two pages can say it otherwise.
"""

from __future__ import annotations

from wizard.judgment.supports import LOADED, THREE, is_bare
from wizard.survey.rows import State
from wizard.telling.document import Item

WHY = {
    "stands-under-frame": "Four stands can twist any frame",
    "stands-under-axles": "Springs can lean a frame or twist it",
    "wheels": "Springs and tires can lean a car or twist it",
    LOADED: "Only a bare frame on three points shows its own twist, and weight on it twists it there",
    "": "What it stood on is not known",
}
"""Why such a twist is not believed, by what the frame stood on while the level was read."""
TELLS = "so you know that it leans, and not whether the frame itself is twisted."
READ = "Make tires and springs the same on the left and the right, and read the level again."
CAN_TIP = (
    "Only a bare frame may go on three points, and what stands there now can tip: keep out from"
    " under it."
)
SHIMMED = "Set it on four stands and shim under the stands until nothing rocks."
ON_FOUR = f"Shim under the four stands until nothing rocks. {READ}"
STANDS = {
    "stands-under-frame": ON_FOUR,
    "stands-under-axles": ON_FOUR,
    THREE: f"{CAN_TIP} {SHIMMED} {READ}",
    "": f"{SHIMMED} {READ}",
}
"""What to do while there is weight on the frame, by what it rests on now; without a name, for
everything else.
"""
STAYS_OPEN = (
    "If it still leans then, only the bare frame on three points can show whether the frame is"
    " twisted or the supports and springs lean it."
)


def twist_move(now: State) -> str:
    """What to do about a twist that cannot be believed, as the car stands now."""
    if not is_bare(now):
        return STANDS.get(now.supports, STANDS[""])
    if now.supports == THREE:
        return "The bare frame is on three points now: read the level again."
    return "Set the bare frame on three points and read the level again."


def twist_doubt(read_on: str) -> str:
    """Why such a twist settles nothing.

    read_on: what the frame stood on while the level was read, as wizard.judgment.supports tells it.
    """
    return f"{WHY.get(read_on, WHY[''])}, {TELLS}"


def twist_left_open(read_on: str) -> str:
    """Why the level, though it was read, rules no twist out; read_on: as for `twist_doubt`."""
    return f"{WHY.get(read_on, WHY[''])}, so the level cannot rule a twist out."


def twist_advice(read_on: str, now: State) -> str:
    """The same, with what to do now, and what stays open for as long as there is weight on the
    frame.
    """
    said = f"{twist_doubt(read_on)} {twist_move(now)}"
    return said if is_bare(now) else f"{said} {STAYS_OPEN}"


def tip_lines(now: State) -> list[Item]:
    """What comes before all measuring where more than a bare frame stands on three points; else
    nothing.
    """
    if now.supports != THREE or is_bare(now):
        return []
    return [Item(f"{CAN_TIP} Set it on four stands before anything else.", ("rule:three-points",))]
