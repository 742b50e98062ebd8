"""Scenes of a contractor's sheet being brought in."""

from PySide6.QtWidgets import QWidget

from estate.window.dialogs.bring_in import BringInDialog
from estate.window.pictures.place_scenes import batches
from estate.window.pictures.stage import Stage, opened, run


def bring_in(stage: Stage) -> QWidget:
    """Where a sheet is dropped."""
    run(stage, "bring-in")
    return opened(stage)


def preview(stage: Stage) -> QWidget:
    """A contractor's sheet before it is taken."""
    dialog = bring_in(stage)
    if isinstance(dialog, BringInDialog):
        dialog.bring(stage.sheet)
    return dialog


def columns(stage: Stage) -> QWidget:
    """What each column of a sheet is taken for."""
    dialog = preview(stage)
    if isinstance(dialog, BringInDialog):
        dialog.preview.tabs.setCurrentWidget(dialog.preview.columns)
    return dialog


def questions(stage: Stage) -> QWidget:
    """A question about a sheet being answered."""
    dialog = preview(stage)
    if isinstance(dialog, BringInDialog):
        shown = dialog.preview.questions
        asked = [each.code for each in shown.ordered.shown()]
        shown.selectRow(asked.index("unknown-outlet") if "unknown-outlet" in asked else 0)
        offered = dialog.preview.panel.group.buttons()
        if offered:
            offered[0].click()
    return dialog


def undo_batch(stage: Stage) -> QWidget:
    """Why a batch is undone."""
    batches(stage)
    page = stage.window.pages.batches
    page.listing.selectRow(0)
    page.undo.click()
    return opened(stage)
