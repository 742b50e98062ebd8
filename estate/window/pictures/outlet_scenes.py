"""Scenes of an outlet's page and a place's that are not seen at first."""

from PySide6.QtWidgets import QWidget

from estate.window.pictures.place_scenes import outlet, place
from estate.window.pictures.stage import Stage, opened, settle


def why(stage: Stage) -> QWidget:
    """Why a limit and a date are what they are."""
    outlet(stage)
    page = stage.window.pages.outlet
    page.band.why.click()
    for button in list(page.cards.limits.why.values())[:1]:
        button.click()
    return stage.window


def expanded(stage: Stage) -> QWidget:
    """The findings of an entry under its row."""
    outlet(stage)
    history = stage.window.pages.outlet.history
    history.selectRow(0)
    history.opened.emit(history.current_key() or 0)
    return stage.window


def to_do(stage: Stage) -> QWidget:
    """The actions of an outlet."""
    outlet(stage)
    page = stage.window.pages.outlet
    page.tabs.setCurrentWidget(page.to_do)
    return stage.window


def record(stage: Stage) -> QWidget:
    """The service record of an outlet."""
    outlet(stage)
    page = stage.window.pages.outlet
    page.tabs.setCurrentWidget(page.record)
    return stage.window


def floors(stage: Stage) -> QWidget:
    """The floors of a site as a table, with one state chosen."""
    reading = stage.window.showing.reading
    if reading is not None:
        stage.window.panel.choose((reading.tree[0].kind, reading.tree[0].id))
        settle()
    page = stage.window.pages.place
    page.as_table.setChecked(True)
    next(iter(page.states.buttons.values())).click()
    return stage.window


def floors_no_more(stage: Stage) -> QWidget:
    """The floors as a chart again."""
    stage.window.pages.place.as_table.setChecked(False)
    stage.window.pages.place.states.clear()
    return stage.window


def papers(stage: Stage) -> QWidget:
    """The documents of a building."""
    place(stage)
    page = stage.window.pages.place
    page.tabs.setCurrentWidget(page.documents)
    return stage.window


def sheet(stage: Stage) -> QWidget:
    """The sheet that an entry came from."""
    outlet(stage)
    history = stage.window.pages.outlet.past
    rows = history.listing.table.rows
    history.listing.choose(next(line.visit.id for line in rows if line.visit.batch_id is not None))
    history.sheet_button.click()
    return opened(stage)
