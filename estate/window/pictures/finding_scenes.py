"""Scenes of the box that finds anything, of lists as people lay them out, and of a window on the past."""

from datetime import UTC, datetime

from PySide6.QtWidgets import QApplication, QWidget

from estate.window.dialogs.past_moment import PastMomentDialog
from estate.window.past_window import PastWindow
from estate.window.pictures.place_scenes import due
from estate.window.pictures.stage import Stage, opened, run, settle
from estate.window.widgets.find_box import FindBox

_GONE, _LATE = "//registers/estates/marlpit.db", ("//registers/estates/withy-end.db", "withy-end-2025.db")


def _box(stage: Stage) -> FindBox:
    found = stage.window.findChild(FindBox)
    if not isinstance(found, FindBox):
        raise LookupError("the window has no box that finds anything")
    return found


def _sought(stage: Stage, letters: str) -> QWidget:
    due(stage)
    stage.window.activateWindow()
    run(stage, "find-any")
    _box(stage).setText(letters)
    settle()
    return stage.window


def found(stage: Stage) -> QWidget:
    """What a few letters find."""
    return _sought(stage, "g08 sh")


def nothing_found(stage: Stage) -> QWidget:
    """Letters that find nothing."""
    return _sought(stage, "boiler 99")


def shown_of_late(stage: Stage) -> QWidget:
    """The box before anything is typed: what was shown of late."""
    return _sought(stage, "")


def box_left(stage: Stage) -> QWidget:
    """The box is left."""
    _box(stage).leave()
    return stage.window


def grouped(stage: Stage) -> QWidget:
    """The due list gathered by state, one of its groups folded."""
    due(stage)
    listing = stage.window.pages.due.listing
    listing.liked.group_by(0)
    listing.ordered.fold(0, True)
    listing.selectRow(2)
    listing.setFocus()
    settle()
    return stage.window


def grouped_no_more(stage: Stage) -> QWidget:
    """The due list line by line again."""
    stage.window.pages.due.listing.liked.group_by(None)
    return stage.window


def on_paper(stage: Stage) -> QWidget:
    """The due list as pages, before they are printed."""
    due(stage)
    stage.window.pages.due.listing.setFocus()
    run(stage, "list-print")
    return opened(stage)


def gone(stage: Stage) -> QWidget:
    """The register that was open last is not there any more."""
    stage.window.seat(None)
    settle()
    stage.window.pages.start.tell_gone(_GONE, _LATE)
    return stage.window


def _past() -> list[PastWindow]:
    return [each for each in QApplication.topLevelWidgets() if isinstance(each, PastWindow)]


def past(stage: Stage) -> QWidget:
    """A window on the register as it was known at a moment."""
    run(stage, "as-known")
    dialog = opened(stage)
    if isinstance(dialog, PastMomentDialog):
        seconds = dialog.moment.dateTime().toSecsSinceEpoch()
        dialog.accept()
        dialog.given.emit(datetime.fromtimestamp(seconds, UTC))
    settle()
    shown = _past()[-1]
    shown.resize(stage.window.size())
    settle()
    return shown


def past_no_more(stage: Stage) -> QWidget:
    """The window on the past is closed."""
    for each in _past():
        each.close()
    settle()
    return stage.window
