"""The model over the page of a step or the opening: its lines, its keys, and how it is shown."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wizard.screens.key_line import model_keys
from wizard.screens.outcome import Outcome, Panel, Said
from wizard.screens.paper import Line, line, spread, wrap
from wizard.survey.record import Survey
from wizard.telling.canvas import Charset

if TYPE_CHECKING:
    from wizard.screens.desk import Desk
    from wizard.sitting.model_desk import ModelDesk
    from wizard.sitting.reply import Reply

KEYS = {"f1": "why", "f3": "help", "f5": "back", "f7": "reset", "f8": "guess"}
"""Function keys that are a word at once."""
LIKE = "like sag left 8 mm at engine-mount"
LIKE_GAME = "ask READING, hint, name FAULT"


def open_model(desk: Desk) -> Outcome:
    """Bring the model: on the fault of the step in front with the survey's sizes, or straight from
    the opening.
    """
    from wizard.sitting.model_desk import ModelDesk

    sitting = desk.sitting
    survey: Survey | None = sitting.survey if sitting else None
    desk.model = ModelDesk(
        desk.library, survey, sitting.step.id if sitting and sitting.step else ""
    )
    desk.panel, desk.said, desk.top = None, Said(), 0
    return Outcome()


def model_line(desk: Desk, model: ModelDesk, text: str) -> Outcome:
    """One ended line on the model's page."""
    if not text.strip():
        desk.panel = None
        return Outcome()
    return _told(desk, model.handle(text), "")


def model_key(desk: Desk, model: ModelDesk, name: str) -> Outcome:
    """A key that types nothing, on the model's page; none of them reaches the survey."""
    if name in ("left", "right"):
        desk.panel = None
        return _told(desk, model.nudge(1 if name == "right" else -1), "")
    if name in ("up", "down") and not desk.panel:
        model.choose(1 if name == "down" else -1)
        return Outcome()
    if name in ("f10", "ctrl+c"):
        return _told(desk, model.handle("quit"), name)
    if desk.panel and desk.panel.key == name:
        desk.panel = None
        return Outcome()
    if name in KEYS:
        return _told(desk, model.handle(KEYS[name]), name)
    return Outcome()


def _told(desk: Desk, reply: Reply, key: str) -> Outcome:
    if reply.kind == "quit":
        desk.leave()
        return Outcome(quit=True)
    desk.panel = Panel(key, reply.title, reply.says) if reply.title else None
    if reply.kind == "left":
        desk.model, desk.said, desk.top = None, Said(), 0
        return Outcome()
    if reply.kind == "taken":
        desk.top = 0
    desk.said = Said() if desk.panel else Said(reply.kind, reply.says)
    return Outcome(stop=reply.stops_burst)


# What shows ---------------------------------------------------------------------------------------
# ------------------


def model_top(desk: Desk, width: int) -> Line:
    """The first line of the screen."""
    sitting = desk.sitting
    whose = f"sizes of {sitting.survey.car or 'this survey'}" if sitting else "round figures"
    return spread(("A model to bend", "title"), (f"{whose}; nothing here is saved", "dim"), width)


def model_ask(model: ModelDesk, width: int, panel: bool) -> list[Line]:
    """What the arrows do just now."""
    from wizard.readings.written import write_fraction_about

    if model.game and not model.game.won:
        return wrap("What do you read, or what is bent?", width, "dim" if panel else "strong")
    value = model.slider.get(model.bent)
    size = write_fraction_about(abs(value), model.unit)
    way = f" {model.slider.signs[value < 0]}" if value else ""
    left = spread(
        (f"{model.slider.id}: {size}{way}", "dim" if panel else "strong"),
        ("arrows: up, down choose; left, right bend", "dim"),
        width,
    )
    return [left]


def model_hint(model: ModelDesk) -> Line:
    """An example beside the entry line."""
    return line(LIKE_GAME if model.game and not model.game.won else LIKE, "dim")


def model_page_lines(model: ModelDesk, width: int, room: int, charset: Charset) -> list[Line]:
    """The page itself."""
    from wizard.screens.model_page import model_lines

    return model_lines(model, width, room, charset)


def model_foot(width: int) -> list[Line]:
    """The keys."""
    return model_keys(width)
