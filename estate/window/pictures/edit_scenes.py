"""Scenes of dialogs that change places, outlets, valves and lists by hand."""

from collections.abc import Callable

from PySide6.QtWidgets import QWidget

from estate.domain.browsing import PlaceNode
from estate.window.dialogs.edit_valve import FitValveDialog
from estate.window.pictures.place_scenes import due
from estate.window.pictures.stage import Scene, Stage, opened, over, run, settle


def _building(stage: Stage) -> PlaceNode:
    reading = stage.window.showing.reading
    if reading is None:
        raise LookupError("nothing was read")
    return reading.tree[0].children[0]


def _level(stage: Stage) -> PlaceNode:
    return _building(stage).children[0]


def _room(stage: Stage) -> PlaceNode:
    return _level(stage).children[0]


def _at(node: Callable[[Stage], PlaceNode], entry: str) -> Scene:
    """The dialog about a place that an entry of the table of actions opens."""

    def scene(stage: Stage) -> QWidget:
        chosen = node(stage)
        stage.window.panel.choose((chosen.kind, chosen.id))
        settle()
        run(stage, entry)
        return opened(stage)

    return scene


add_below, add_outlet = _at(_building, "add-below"), _at(_room, "add-below")
move, rename = _at(_room, "move-to"), _at(_room, "rename")
change_outlets, take_out = _at(_level, "change-outlets"), _at(_level, "take-outlets-out")


def fit_valve(stage: Stage) -> QWidget:
    """A valve at an outlet that has none."""
    return over(FitValveDialog("MM/G/G08/WHB2", stage.desk.today, stage.window))


def list_columns(stage: Stage) -> QWidget:
    """Which columns a list has, and in which order."""
    due(stage)
    stage.window.pages.due.listing.setFocus()
    run(stage, "list-columns")
    return opened(stage)
