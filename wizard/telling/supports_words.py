"""What a twist can tell that was not read on the bare frame, and what to do about it as the car stands now.

Only a bare frame goes on three points: a car there can tip, and weight to one side twists it. All that is said of it
stands here, so that no two pages can say it otherwise.
"""

from __future__ import annotations

from wizard.judgement.supports import LOADED, THREE, is_bare
from wizard.survey.rows import State

WHY = {
    "stands-under-frame": "Four stands can twist any frame",
    "stands-under-axles": "Springs can lean a frame or twist it",
    "wheels": "Springs and tires can lean a car or twist it",
    LOADED: "Only a bare frame on three points shows its own twist: weight on it twists it there",
    "": "What it stood on is not known",
}
"""Why such a twist is not believed, by what the frame stood on while the level was read."""
TELLS = "so this shows that it leans, and not whether the frame itself is twisted."
READ = "Make tires and springs alike, left and right, and read the level again."
STANDS = {
    "stands-under-frame": f"Shim under the four stands until nothing rocks. {READ}",
    THREE: "Only a bare frame goes on three points, and what stands there now can tip: keep out from under it. "
    f"Set it on four stands, shimmed under the stands until nothing rocks. {READ}",
    "": f"Set it on four stands, shimmed under the stands until nothing rocks. {READ}",
}
"""What to do while there is weight on the frame, by what it rests on now; without a name, for everything else."""
STAYS_OPEN = (
    "What still leans then stays open: whether the frame is twisted, or the supports and springs lean it, can only be "
    "settled on the bare frame, on three points."
)


def twist_move(now: State) -> str:
    """What to do about a twist that cannot be believed, as the car stands now."""
    if not is_bare(now):
        return STANDS.get(now.supports, STANDS[""])
    if now.supports == THREE:
        return "The bare frame is on three points now: read the level again."
    return "Set the bare frame on three points and read the level again."


def twist_settled(now: State) -> str:
    """The same, with what stays open for as long as there is weight on the frame."""
    return twist_move(now) if is_bare(now) else f"{twist_move(now)} {STAYS_OPEN}"


def twist_advice(read_on: str, now: State) -> str:
    """Why such a twist settles nothing, what to do now, and what stays open.

    read_on: what the frame stood on while the level was read, as wizard.judgement.supports tells it.
    """
    return f"{WHY.get(read_on, WHY[''])}, {TELLS} {twist_settled(now)}"
